package proportions

import (
	"fmt"
	"math"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// kind is what the package knows of one kind of part: the edges it has, and the
// numbers that follow from them once they are found.
type kind struct {
	trace   func(t tracing)
	measure func(m *matched, p standards.Part) []dimension
}

// kinds has a row for each kind of part that can be measured. A new kind of part
// is a new row: trace puts its edges with t.circle, t.edge, t.box or t.polygon,
// measure turns them into dimensions with m.circleOf, m.placeOf, m.lineOf
// and m.corner.
var kinds = map[standards.PartKind]kind{
	standards.Disc:    {traceDisc, measureDisc},
	standards.Ring:    {traceRing, measureRing},
	standards.Star:    {traceStar, measureStar},
	standards.Bars:    {traceBars, measureBars},
	standards.Stripe:  {traceStripe, measureStripe},
	standards.Border:  {traceBorder, measureBorder},
	standards.Chevron: {traceChevron, measureChevron},
}

// Orders: features of one order are matched across, in their order.
const (
	alone     = 0
	inBand    = 1 // bars, stripe and border
	inChevron = 2
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
	return off, math.Hypot(f.errorAt(foot, m.noise(f)), m.centreError()), f.rms, true
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
	sin, cos := math.Sincos(angle)
	return at(radius*cos, radius*sin)
}

func traceDisc(t tracing) { t.circle("edge", t.radiusOf(t.Part)) }

func measureDisc(m *matched, p standards.Part) []dimension {
	return m.radius(p, circleName(p), "radius", "edge")
}

// radius measures one circle.
func (m *matched) radius(p standards.Part, name, what, edge string) []dimension {
	l, err, ok := m.circleOf(p.ID + "." + edge)
	if !ok {
		return nil
	}
	d := one(p, name, what)
	d.found, d.err, d.rms = l.radius, err, l.rms
	d.line = [2]geometry.Point{{}, polar(l.radius, math.Pi/4)}
	return []dimension{d}
}

func traceRing(t tracing) {
	t.circle("outer", t.get("outer"))
	t.circle("inner", t.get("inner"))
}

func measureRing(m *matched, p standards.Part) []dimension {
	return append(m.radius(p, "outer", "outer radius", "outer"), m.radius(p, "inner", "inner radius", "inner")...)
}

// barsEdges returns the rectangle of a pair of bars, joined behind the disc.
func (t *template) barsEdges(p string) geometry.Rect {
	end, top := t.values[p+".start"]+t.values[p+".length"], t.values[p+".top"]
	return geometry.Rect{Min: at(-end, top-t.values[p+".width"]), Max: at(end, top)}
}

func traceBars(t tracing) { t.box("", t.barsEdges(t.ID), inBand) }

func measureBars(m *matched, p standards.Part) []dimension {
	var out []dimension
	top, topErr, topRMS, okTop := m.placeOf(p.ID+".top", up)
	bottom, bottomErr, bottomRMS, okBottom := m.placeOf(p.ID+".bottom", up)
	side := 0.0 // where a dimension line stands
	length := one(p, "length", "length of the bars")
	length.base = m.values[p.ID+".start"]
	length.raw = func(v values) float64 { return v[p.ID+".start"] + v[p.ID+".length"] }
	left, leftErr, leftRMS, okLeft := m.placeOf(p.ID+".left", ahead)
	right, rightErr, rightRMS, okRight := m.placeOf(p.ID+".right", aft)
	switch {
	case okLeft && okRight:
		length.found, length.err, length.rms = (left+right)/2, math.Hypot(leftErr, rightErr)/2, math.Max(leftRMS, rightRMS)
		side = right
	case okLeft:
		length.found, length.err, length.rms, side = left, leftErr, leftRMS, left
	case okRight:
		length.found, length.err, length.rms, side = right, rightErr, rightRMS, right
	}
	if okLeft || okRight {
		length.line = [2]geometry.Point{at(length.base, top), at(side, top)}
		out = append(out, length)
	}
	if okLeft && okRight { // each by itself where they are not alike
		for _, e := range []struct {
			what       string
			x, err, to float64
		}{{"length of the left bar", left, leftErr, -1}, {"length of the right bar", right, rightErr, 1}} {
			if d := length; math.Abs(left-right) > defaultTolerance*2*math.Abs(d.found)+trusted*math.Hypot(leftErr, rightErr) {
				d.what, d.found, d.err = e.what, e.x, e.err
				d.line = [2]geometry.Point{at(e.to*d.base, top), at(e.to*e.x, top)}
				out = append(out, d)
			}
		}
	}
	if okTop && okBottom {
		d := one(p, "width", "width of the bars")
		d.found, d.err, d.rms = top-bottom, math.Hypot(topErr, bottomErr), math.Max(topRMS, bottomRMS)
		x := (side + 1) / 2
		d.line = [2]geometry.Point{at(x, bottom), at(x, top)}
		out = append(out, d)
	}
	if okTop {
		d := one(p, "top", "upper edge of the bars above the centre")
		d.found, d.err, d.rms = top, topErr, topRMS
		d.line = [2]geometry.Point{at(side, 0), at(side, top)}
		out = append(out, d)
	}
	return out
}

func traceStripe(t tracing) {
	for _, id := range t.Of {
		r := t.barsEdges(id)
		middle, half := (r.Min.Y+r.Max.Y)/2+t.get("centre"), t.get("width")/2
		t.edge(id+".top", at(r.Min.X, middle+half), at(r.Max.X, middle+half), inBand)
		t.edge(id+".bottom", at(r.Min.X, middle-half), at(r.Max.X, middle-half), inBand)
	}
}

func measureStripe(m *matched, p standards.Part) []dimension {
	var out []dimension
	for _, id := range p.Of {
		top, e1, r1, ok1 := m.placeOf(p.ID+"."+id+".top", up)
		bottom, e2, r2, ok2 := m.placeOf(p.ID+"."+id+".bottom", up)
		if !ok1 || !ok2 {
			continue
		}
		d := one(p, "width", "width of the stripe")
		d.found, d.err, d.rms = top-bottom, math.Hypot(e1, e2), math.Max(r1, r2)
		x := m.barsEdges(id).Max.X * 0.75
		d.line = [2]geometry.Point{at(x, bottom), at(x, top)}
		out = append(out, d)
		upper, e3, _, ok3 := m.placeOf(id+".top", up)
		lower, e4, _, ok4 := m.placeOf(id+".bottom", up)
		if !ok3 || !ok4 {
			continue
		}
		c := one(p, "centre", "middle of the stripe above the middle of the bar")
		c.found = (top+bottom)/2 - (upper+lower)/2
		c.err, c.rms = math.Hypot(math.Hypot(e1, e2), math.Hypot(e3, e4))/2, d.rms
		c.over = m.values[id+".width"] // the number itself may be 0
		c.line = [2]geometry.Point{at(x, (upper+lower)/2), at(x, (top+bottom)/2)}
		out = append(out, c)
	}
	return out
}

func traceBorder(t tracing) {
	w := t.get("width")
	for _, id := range t.Of {
		switch q, _ := t.rule.Part(id); q.Kind {
		case standards.Disc:
			t.circle(id, t.radiusOf(q)+w)
		case standards.Bars:
			t.box(id+".", t.barsEdges(id).Grown(w), inBand)
		}
	}
}

func measureBorder(m *matched, p standards.Part) []dimension {
	var sides []dimension
	put := func(what string, found, err, rms float64, line [2]geometry.Point) {
		d := one(p, "width", what)
		d.found, d.err, d.rms, d.line = found, err, rms, line
		sides = append(sides, d)
	}
	for _, id := range p.Of {
		q, _ := m.rule.Part(id)
		if q.Kind == standards.Disc {
			outer, e1, ok1 := m.circleOf(p.ID + "." + id)
			inner, e2, ok2 := m.circleOf(id + ".edge")
			if ok1 && ok2 {
				put("width of the border round the disc", outer.radius-inner.radius, math.Hypot(e1, e2), math.Max(outer.rms, inner.rms),
					[2]geometry.Point{at(0, inner.radius), at(0, outer.radius)})
			}
			continue
		}
		r := m.barsEdges(id)
		x, y := (1+r.Max.X)/2, r.Centre().Y
		for _, e := range []struct {
			edge, what string
			out        geometry.Vec
			from       geometry.Point
		}{
			{"top", "width of the border above the bars", up, at(x, r.Max.Y)},
			{"bottom", "width of the border below the bars", down, at(x, r.Min.Y)},
			{"left", "width of the border at the end of the left bar", ahead, at(r.Min.X, y)},
			{"right", "width of the border at the end of the right bar", aft, at(r.Max.X, y)},
		} {
			outer, e1, r1, ok1 := m.placeOf(p.ID+"."+id+"."+e.edge, e.out)
			inner, e2, r2, ok2 := m.placeOf(id+"."+e.edge, e.out)
			if ok1 && ok2 {
				put(e.what, outer-inner, math.Hypot(e1, e2), math.Max(r1, r2), [2]geometry.Point{e.from, e.from.Add(e.out.Scale(outer - inner))})
			}
		}
	}
	return append(mean(sides, "width of the border, mean of its sides"), sides...)
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
		w := 1 / (e.err*e.err + meanFloor*meanFloor)
		d.found, weights = d.found+w*e.found, weights+w
		d.rms = math.Max(d.rms, e.rms)
	}
	d.found, d.err = d.found/weights, 1/math.Sqrt(weights)
	return []dimension{d}
}

// meanFloor keeps a side that happens to fit exactly from outvoting the others:
// what a good drawing misses anyway, in governing radii.
const meanFloor = 1e-4

// starCorners returns the corners of a star, tip 0 first, tips at even places.
func (t *template) starCorners(id string) []geometry.Point {
	n := int(t.values[id+".points"])
	step, first := math.Pi/float64(n), t.values[id+".first"]*math.Pi/180
	out := make([]geometry.Point, 0, 2*n)
	for i := range 2 * n {
		r := t.values[id+".outer"]
		if i%2 == 1 {
			r = t.values[id+".inner"]
		}
		out = append(out, polar(r, first+float64(i)*step))
	}
	return out
}

func traceStar(t tracing) { t.polygon("edge", t.starCorners(t.ID), alone) }

func measureStar(m *matched, p standards.Part) []dimension {
	want := m.starCorners(p.ID)
	n := len(want)
	edge := func(i int) string { return fmt.Sprintf("%s.edge%d", p.ID, (i+n)%n) }
	outer, inner := one(p, "outer", "radius of the points"), one(p, "inner", "radius of the inner corners")
	var counts [2]int
	corners := map[int]geometry.Point{}
	worstErr := 0.0
	for i := range n {
		q, err, rms, ok := m.corner(edge(i-1), edge(i))
		if !ok {
			continue
		}
		corners[i] = q
		d := &outer
		if i%2 == 1 {
			d = &inner
		}
		r := q.Dist(geometry.Point{})
		counts[i%2]++
		d.found += r
		d.err = math.Hypot(d.err, err)
		d.rms, worstErr = math.Max(d.rms, rms), math.Max(worstErr, err)
		if counts[i%2] == 1 {
			d.line = [2]geometry.Point{{}, q}
		}
	}
	if counts[0] == 0 || counts[1] == 0 {
		return nil
	}
	for k, d := range []*dimension{&outer, &inner} {
		d.found, d.err = d.found/float64(counts[k]), d.err/float64(counts[k])
	}
	return append([]dimension{outer, inner}, regularity(p, want, corners, [2]float64{outer.found, inner.found}, worstErr)...)
}

// regularity measures how far the corner that is farthest from its place is from
// it, the places being those of a regular star of the radii found, turned to fit.
func regularity(p standards.Part, want []geometry.Point, corners map[int]geometry.Point, radii [2]float64, err float64) []dimension {
	turn := 0.0
	for i := range want {
		if q, ok := corners[i]; ok {
			w, v := want[i].Sub(geometry.Point{}), q.Sub(geometry.Point{})
			turn += math.Atan2(w.Cross(v), w.Dot(v)) / float64(len(corners))
		}
	}
	d := dimension{part: p.ID, name: "points", what: "regularity: the corner farthest from its place", exact: true, over: 1, err: err, raw: func(values) float64 { return 0 }}
	for i, w := range want {
		q, ok := corners[i]
		if !ok {
			continue
		}
		place := polar(radii[i%2], math.Atan2(w.Y, w.X)+turn)
		if off := q.Dist(place); off > d.found {
			d.found, d.line = off, [2]geometry.Point{place, q}
		}
	}
	return []dimension{d}
}
