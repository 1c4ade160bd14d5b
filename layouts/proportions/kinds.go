package proportions

import (
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts/standards"
)

// kind is what the package knows of one kind of part: the edges it has, and the
// numbers that follow from them once they are found.
type kind struct {
	trace   func(t tracing)
	measure func(m *matched, p standards.Part) []dimension
	drawn   bool // by the outline that the part has
}

// kinds has a row for each kind of part that can be measured. A new kind of part
// is a new row: trace puts its edges with t.circle, t.edge, t.box or t.polygon,
// measure turns them into dimensions with m.circleOf, m.placeOf, m.lineOf
// and m.corner.
var kinds = map[standards.PartKind]kind{
	standards.Disc:    {trace: traceDisc, measure: measureDisc},
	standards.Ring:    {trace: traceRing, measure: measureRing},
	standards.Star:    {trace: traceStar, measure: measureStar},
	standards.Bars:    {trace: traceBars, measure: measureBars},
	standards.Stripe:  {trace: traceStripe, measure: measureStripe},
	standards.Border:  {trace: traceBorder, measure: measureBorder},
	standards.Chevron: {trace: traceChevron, measure: measureChevron},
	standards.Box:     {trace: traceBox, measure: measureBox},
	standards.Cross:   {trace: traceCross, measure: measureCross},
	standards.Sector:  {trace: traceSector, measure: measureSector},
	standards.Ngon:    {trace: traceNgon, measure: measureNgon},
}

// Orders: features of one order are matched across, in their order.
const (
	alone     = 0
	inChevron = 1
	inBand    = 2 // bars, stripe and border
	inBoxes   = 3
	inCross   = 4
)

// dimension is one number of a rule as found. Unit frame, radians for degrees.
type dimension struct {
	part, name string
	what       string
	raw        func(v values) float64 // what was found, as the rule's numbers have it
	base       float64                // subtracted for the report: a length is counted from a datum
	found      float64                // raw
	err        float64                // standard error
	over       float64                // size that the tolerance is a part of
	rms        float64
	arm        float64 // radius at which an angle is looked at; 0 for lengths
	line       [2]geometry.Point
	exact      bool // expected 0: regularity, which no number of the rule gives
	absent     bool // not in the drawing, though others of its number are
}

// one returns the dimension that is just one number of the rule.
func one(p standards.Part, name, what string) dimension {
	key := p.ID + "." + name
	return dimension{part: p.ID, name: name, what: what, raw: func(v values) float64 { return v[key] }}
}

// circleOf returns the radius of a circle found and its standard error. The
// centre is common to all, so it costs nothing more.
func (m *matched) circleOf(name string) (l level, err float64, ok bool) {
	i, known := m.byName[name]
	l, ok = m.circles[i]
	return l, math.Max(l.rms, m.scatter) / math.Sqrt(math.Max(1, l.own)), known && ok
}

func (m *matched) lineOf(name string) (lineFit, bool) {
	i, known := m.byName[name]
	f, ok := m.lines[i]
	return f, known && ok
}

// noise is the scatter to take for a fit: its own, and never less than the
// drawing's, for a line through two nodes shows none.
func (m *matched) noise(f lineFit) float64 { return math.Max(f.rms, m.scatter) }

// placeOf returns how far from the centre an edge lies towards a direction that it
// stands across.
func (m *matched) placeOf(name string, towards geometry.Vec) (off, err, rms float64, ok bool) {
	f, ok := m.lineOf(name)
	if !ok {
		return 0, 0, 0, false
	}
	foot := f.foot(geometry.Point{})
	off = math.Copysign(f.offset(geometry.Point{}), foot.Sub(geometry.Point{}).Dot(towards))
	return off, same.Hypot(f.errorAt(foot, m.noise(f)), m.centreError()), f.rms, true
}

// centreError returns the standard error of the centre, in the direction told
// least.
func (m *matched) centreError() float64 {
	if m.placed <= 0 {
		return 0
	}
	return m.scatter / math.Sqrt(m.placed)
}

// Directions in the unit frame.
var (
	up    = geometry.Vec{Y: 1}
	down  = geometry.Vec{Y: -1}
	ahead = geometry.Vec{X: -1}
	aft   = geometry.Vec{X: 1}
)

// corner returns where two edges meet, and the standard error of the place.
func (m *matched) corner(a, b string) (q geometry.Point, err, rms float64, ok bool) {
	f, ok1 := m.lineOf(a)
	g, ok2 := m.lineOf(b)
	if !ok1 || !ok2 {
		return geometry.Point{}, 0, 0, false
	}
	if q, ok = crossing(f, g); !ok {
		return geometry.Point{}, 0, 0, false
	}
	return q, crossingError(f, g, q, math.Max(m.noise(f), m.noise(g))), math.Max(f.rms, g.rms), true
}

func at(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }

func polar(radius, angle float64) geometry.Point {
	sin, cos := same.Sincos(angle)
	return at(radius*cos, radius*sin)
}

// mean returns the mean of several findings of one number, weighted by their
// standard errors: noise that hides a wrong width on each side shows it in the
// mean. None for fewer than two.
func mean(list []dimension, what string) []dimension {
	if len(list) < 2 {
		return nil
	}
	d := list[0]
	d.what, d.found = what, 0
	weights := 0.0
	for _, e := range list {
		w := 1 / (float64(e.err*e.err) + meanFloor*meanFloor)
		d.found, weights = d.found+float64(w*e.found), weights+w
		d.rms = math.Max(d.rms, e.rms)
	}
	d.found, d.err = d.found/weights, 1/math.Sqrt(weights)
	return []dimension{d}
}

// meanFloor keeps a side that happens to fit exactly from outvoting the others:
// what a good drawing misses anyway, in governing radii.
const meanFloor = 1e-4
