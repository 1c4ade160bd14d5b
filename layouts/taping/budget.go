package taping

import (
	"math"
	"sort"

	"maskloft/geometry/same"
	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Limits of what a careful hand does, in inches (common practice, no source).
// A limit is taken as the half width of a uniform distribution: its standard
// deviation is limit / sqrt 3 (JCGM 100:2008, 4.3.7; from memory).
const (
	pressLimit = 1.0 / 64 // a pressed tape: its thickness in a turn, and straying from the shortest way
	airLimit   = 1.0 / 32 // a straight tape: sag, pull and the eye's place over it
	markLimit  = 1.0 / 32 // a fine line drawn at a reading, each way
	filmLimit  = 1.0 / 16 // film laid to a line, each way
)

// TapeLimit returns by how much a tape of a class may be out over a length.
//
//	us:   1/32 in to 6 ft, 1/16 in to 30 ft, 1/8 in to 55 ft (NIST Handbook 44
//	      section 5.52); beyond, 3/16 in to 80 ft and 1/4 in (from memory)
//	eu-1: 0.4 mm at 3 m and 1.1 mm at 10 m, a straight line through both
//	eu-2: 0.9 mm at 3 m and 2.3 mm at 10 m, likewise (makers' pages on the
//	      European classes)
func TapeLimit(class layouts.TapeClass, length g.Length) g.Length {
	metres := math.Abs(float64(length / g.Metre))
	switch class {
	case layouts.TapeEU1:
		return g.Length(0.1+float64(0.1*metres)) * g.Millimetre
	case layouts.TapeEU2:
		return g.Length(0.3+float64(0.2*metres)) * g.Millimetre
	}
	for _, step := range []struct{ to, limit g.Length }{
		{6 * g.Foot, g.Inch / 32}, {30 * g.Foot, g.Inch / 16}, {55 * g.Foot, g.Inch / 8}, {80 * g.Foot, 3 * g.Inch / 16},
	} {
		if length <= step.to {
			return step.limit
		}
	}
	return g.Inch / 4
}

// tapeCommon splits the error that a class allows into what is common to a whole job
// done with one tape: how far its beginning is out, in inches, and by what part its
// length is. For us it is 1/32 in, and what the limit at 30 ft leaves over that; the
// steps of the class say no more (derived).
func tapeCommon(class layouts.TapeClass) (zero, scale float64) {
	switch class {
	case layouts.TapeEU1:
		return 0.1 / 25.4, 1e-4
	case layouts.TapeEU2:
		return 0.3 / 25.4, 2e-4
	}
	return 1.0 / 32, 1.0 / 32 / 360
}

// tapeTerms are the limits of one tape's errors, in inches: its class, half a
// graduation, and how it is held.
func tapeTerms(t layouts.TapeSpec, kind TapeKind, length g.Length) (class, reading, held float64) {
	held = airLimit
	if kind == OnSkin {
		held = pressLimit
	}
	return TapeLimit(t.Class, length).Inches(), t.Reading.Inches() / 2, held
}

// ownSigma returns the standard deviation of a length as laid and read by a tape that
// is right: what one reading errs by itself, apart from the others.
func ownSigma(t layouts.TapeSpec, kind TapeKind) g.Length {
	_, b, c := tapeTerms(t, kind, 0)
	return g.Length(math.Sqrt(float64(b*b)+float64(c*c)) / math.Sqrt(3))
}

// tapeSigma returns the standard deviation of a length as laid and read, that of the
// tape itself within its class in it.
func tapeSigma(t layouts.TapeSpec, kind TapeKind, length g.Length) g.Length {
	a, b, c := tapeTerms(t, kind, length)
	return g.Length(math.Sqrt(float64(a*a)+float64(b*b)+float64(c*c)) / math.Sqrt(3))
}

// ErrorTerm is one cause of error: the root mean square distance by which it alone
// moves the point.
type ErrorTerm struct {
	Name  string
	Sigma g.Length
	Help  string // what makes it less
}

// PointError is the expected error of a point as placed and marked.
type PointError struct {
	Ellipse  Ellipse
	Dilution float64     // by how much the crossing enlarges the error, 1 where it is square
	Terms    []ErrorTerm // the largest first
	cov      covariance

	own covariance // of what errs point by point: all but the tape's class
	// zero and scale are how the point moves by one standard deviation of what the tape
	// is out by, at its beginning and by its length: one movement for the whole job.
	zero, scale g.Vec
}

// pointError returns the error of a point placed by two tapes.
func pointError(tape layouts.TapeSpec, a, b Taping) PointError {
	pa, pb, ok := shares(a, b)
	if !ok {
		return PointError{}
	}
	var e PointError
	square := 0.0
	near, finer := "6 ft", "1/32 in"
	if tape.Units.Metric() {
		near, finer = "2 m", "0.5 mm"
	}
	term := func(name, help string, c covariance) {
		e.cov = e.cov.plus(c)
		e.Terms = append(e.Terms, ErrorTerm{Name: name, Sigma: g.Length(math.Sqrt(c.trace())), Help: help})
	}
	var apart, reading, held, hard covariance // apart: of two tapes of that class
	for _, x := range []struct {
		t Taping
		p g.Vec
	}{{a, pa}, {b, pb}} {
		c, r, k := tapeTerms(tape, x.t.Kind, x.t.Length)
		apart = apart.plus(outer(x.p, c*c/3))
		reading, held = reading.plus(outer(x.p, r*r/3)), held.plus(outer(x.p, k*k/3))
		hard = hard.plus(outer(x.p, same.Pow(x.t.From.Sigma.Inches(), 2)))
		square += x.t.variance()
	}
	zero, scale := tapeCommon(tape.Class)
	e.zero = pa.Add(pb).Scale(zero / math.Sqrt(3))
	e.scale = pa.Scale(a.Length.Inches()).Add(pb.Scale(b.Length.Inches())).Scale(scale / math.Sqrt(3))
	class := outer(e.zero, 1).plus(outer(e.scale, 1))
	e.Dilution = math.Sqrt((apart.trace() + reading.trace() + held.trace() + hard.trace()) / square)
	help := "measure the hardpoints more finely (sigma: in the layout file)"
	if !a.From.Measured || !b.From.Measured {
		help = "measure the hardpoints on this aircraft (measured: in the layout file)"
	}
	term("hardpoints", help, hard)
	term("tape class", "use a better tape (tape: class: eu-1 in the layout file), or hardpoints nearer than "+near, class)
	term("reading", "read to a finer graduation (tape: reading: "+finer+", in the layout file)", reading)
	term("holding the tape", "press the tape in the skin, or pull it straight with two people", held)
	term("marking", "mark with a finer line", round(markLimit*markLimit/3))
	sort.SliceStable(e.Terms, func(i, j int) bool { return e.Terms[i].Sigma > e.Terms[j].Sigma+1e-12 })
	e.Ellipse = e.cov.ellipse()
	e.own = hard.plus(reading).plus(held).plus(round(markLimit * markLimit / 3))
	return e
}

// MaskBudget is the expected error of a marking's film, laid with its centre and
// level line on the points marked.
type MaskBudget struct {
	Marking  string
	Position Ellipse  // of the drawing's held point, film laid
	From, To string   // ids of the two points that hold its direction
	Distance g.Length // between them, in the flat
	Rotation float64  // one standard deviation, degrees
	AtEnds   g.Length // how far that moves the far end of the paint, one standard deviation
	Terms    []ErrorTerm
	// Seen and Named are the smallest error in one reading that is found in 80 of 100
	// cases, and for which that reading is named in 99, where all tapes of the list are
	// read on the film as laid: of the reading that is checked worst. +Inf where none is.
	Seen, Named g.Length
	Sections    *SectionDoubt // nil where the skin is no faired one
}

// Rotation95 returns the turn, in degrees either way, that 95 of 100 films stay
// within: 1.96 standard deviations of a normal distribution.
func (b MaskBudget) Rotation95() float64 { return 1.96 * b.Rotation }

// Budgets returns the budget of each marking that has a centre and two further
// points placed by tapes, in the order of the points. A hardpoint's error is one
// for all points taped from it: it turns the film less than it moves it.
func Budgets(l *layouts.Layout, tilings []masks.Tiling, points []Checkpoint, tolerance float64) []MaskBudget {
	var out []MaskBudget
	for i := range tilings {
		id := tilings[i].Laid.ID()
		var placed []Checkpoint
		var centre *Checkpoint
		for k := range points {
			c := &points[k]
			if c.Marking == id && len(c.Tapes) == 2 {
				placed = append(placed, *c)
				if c.Role == masks.Centre {
					centre = c
				}
			}
		}
		a, b, ok := ends(placed)
		if centre == nil || !ok {
			continue
		}
		film := round(filmLimit * filmLimit / 3)
		m := MaskBudget{
			Marking: id, From: a.ID, To: b.ID, Sections: sectionDoubt(l, &tilings[i].Laid, *centre, tolerance),
			Distance: g.Length(a.Mark.Film.Dist(b.Mark.Film)),
			Terms:    append(append([]ErrorTerm(nil), centre.Error.Terms...), ErrorTerm{Name: "laying the film", Sigma: g.Length(math.Sqrt(film.trace())), Help: "lay it wet, and line up both level ticks before it grips"}),
		}
		whole := centre.Error.cov.plus(film)
		if d := m.Sections; d != nil && d.cov.trace() > 0 {
			whole = whole.plus(d.cov)
			m.Terms = append(m.Terms, ErrorTerm{Name: "skin between frames", Sigma: g.Length(math.Sqrt(d.cov.trace())), Help: d.advice(l.Spec.Sheets.Units)})
		}
		m.Position = whole.ellipse()
		sort.SliceStable(m.Terms, func(i, j int) bool { return m.Terms[i].Sigma > m.Terms[j].Sigma+1e-12 })
		across := b.Mark.Film.Sub(a.Mark.Film).Unit().Perp()
		variance := differenceAlong(a, b, across) + 2*filmLimit*filmLimit/3
		turn := math.Sqrt(variance) / m.Distance.Inches()
		m.Rotation = turn * 180 / math.Pi
		box := tilings[i].Laid.Painted.Bounds()
		reach := 0.0
		for _, x := range []float64{box.Min.X, box.Max.X} {
			for _, y := range []float64{box.Min.Y, box.Max.Y} {
				reach = math.Max(reach, same.Hypot(x, y))
			}
		}
		m.AtEnds = g.Length(turn * reach)
		m.Seen, m.Named = catches(l.Spec.Tape, points, id)
		out = append(out, m)
	}
	return out
}

// ends returns the two points that hold the direction of a film: its level ticks,
// else those farthest apart.
func ends(placed []Checkpoint) (a, b Checkpoint, ok bool) {
	var ticks []Checkpoint
	for _, c := range placed {
		if c.Role == masks.LevelTick {
			ticks = append(ticks, c)
		}
	}
	if len(ticks) == 2 {
		return ticks[0], ticks[1], true
	}
	far := 0.0
	for i := range placed {
		for j := range placed[:i] {
			if d := placed[i].Mark.Film.Dist(placed[j].Mark.Film); d > far {
				a, b, far, ok = placed[j], placed[i], d, true
			}
		}
	}
	return a, b, ok
}

// differenceAlong returns the variance of the difference of two points along a
// direction of the flat, each placed by two tapes. Readings and marks err by
// themselves; a hardpoint that serves both points moves both, and so does the tape.
func differenceAlong(a, b Checkpoint, d g.Vec) float64 {
	zero, scale := a.Error.zero.Sub(b.Error.zero).Dot(d), a.Error.scale.Sub(b.Error.scale).Dot(d)
	variance := 2*markLimit*markLimit/3 + float64(zero*zero) + float64(scale*scale)
	type pull struct {
		sigma float64
		by    g.Vec3 // movement along d for each inch of the hardpoint
	}
	pulls := map[string]pull{}
	var order []string
	for k, c := range []Checkpoint{a, b} {
		sign := 1.0 - 2*float64(k)
		pa, pb, _ := shares(c.Tapes[0], c.Tapes[1])
		for i, p := range []g.Vec{pa, pb} {
			t := c.Tapes[i]
			share := sign * p.Dot(d)
			variance += float64(share * share * float64(t.own*t.own))
			// a hardpoint moved away lengthens the tape: the point errs as for a tape
			// too short
			x, seen := pulls[t.From.ID]
			if !seen {
				order = append(order, t.From.ID)
			}
			x.sigma, x.by = t.From.Sigma.Inches(), x.by.Sub(t.away.Scale(share))
			pulls[t.From.ID] = x
		}
	}
	for _, id := range order {
		x := pulls[id]
		variance += float64(x.sigma * x.sigma * x.by.Dot(x.by))
	}
	return variance
}
