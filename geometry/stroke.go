package geometry

import (
	"math"

	"maskloft/geometry/same"
)

// Cap says how a stroked line ends.
type Cap int

// Caps, as SVG 1.1 clause 11.4 names them.
const (
	ButtCap Cap = iota
	RoundCap
	SquareCap
)

// Pen is what a line is drawn with.
type Pen struct {
	Width float64 // inches
	Cap   Cap
	Join  Join    // MiterJoin, RoundJoin, or BevelJoin
	Miter float64 // longest mitre over the width; sharper corners are cut off straight
}

// Stroke returns the region that a line covers when it is drawn with a pen: every
// point within half the width of a segment, measured square to it, corners joined
// and ends capped. A closed contour has no ends. Curves are fitted to the tolerance.
//
// Errors: those of [FitCurve] and [Filled].
func Stroke(lines Path, pen Pen, tolerance float64) (Path, error) {
	var pieces Path
	for _, c := range lines {
		one, err := c.stroked(pen, tolerance)
		if err != nil {
			return nil, err
		}
		pieces = append(pieces, one...)
	}
	if len(pieces) == 0 {
		return nil, nil
	}
	return Filled(pieces)
}

// stroked returns overlapping pieces that a pen covers, each counter-clockwise.
func (c Contour) stroked(pen Pen, tolerance float64) (Path, error) {
	h := pen.Width / 2
	var out Path
	add := func(q Contour) {
		if a := q.Area(); a < 0 {
			out = append(out, q.Reversed())
		} else if a > 0 {
			out = append(out, q)
		}
	}
	var kept []int // segments that are not points
	for i := range c.Segments {
		if !c.isPoint(i) {
			kept = append(kept, i)
		}
	}
	if len(kept) == 0 {
		if pen.Cap == RoundCap && len(c.Segments) > 0 {
			add(Circle(c.Start, h))
		}
		return out, nil
	}
	for _, i := range kept {
		pieces, err := c.band(i, h, tolerance)
		if err != nil {
			return nil, err
		}
		for _, p := range pieces {
			add(p)
		}
	}
	for k, i := range kept {
		if k == 0 && !c.Closed() {
			continue
		}
		before := kept[(k+len(kept)-1)%len(kept)]
		if j, ok := joint(c.From(i), c.EndTangent(before).Unit(), c.StartTangent(i).Unit(), h, pen); ok {
			add(j)
		}
	}
	if c.Closed() || pen.Cap == ButtCap {
		return out, nil
	}
	last := kept[len(kept)-1]
	for _, e := range []struct {
		at  Point
		way Vec
	}{{c.Start, c.StartTangent(kept[0]).Unit().Scale(-1)}, {c.End(), c.EndTangent(last).Unit()}} {
		if pen.Cap == RoundCap {
			add(Circle(e.at, h))
			continue
		}
		n := e.way.Perp().Scale(h)
		add(Polygon(e.at.Add(n), e.at.Add(n.Scale(-1)), e.at.Add(n.Scale(-1)).Add(e.way.Scale(h)), e.at.Add(n).Add(e.way.Scale(h))))
	}
	return out, nil
}

func (c Contour) isPoint(i int) bool {
	s, a := c.Segments[i], c.From(i)
	far := a.Dist(s.End)
	if s.Kind == Cubic {
		far = max(far, max(a.Dist(s.C1), a.Dist(s.C2)))
	}
	return far < SnapTolerance
}

// band returns the pieces within h of segment i, square to it. Where a curve turns
// more sharply than the pen it is cut into chords, within a two-hundredth of h.
func (c Contour) band(i int, h, tolerance float64) (Path, error) {
	s, a := c.Segments[i], c.From(i)
	if s.Kind == Line {
		n := s.End.Sub(a).Unit().Perp().Scale(h)
		return Path{Polygon(a.Add(n), a.Add(n.Scale(-1)), s.End.Add(n.Scale(-1)), s.End.Add(n))}, nil
	}
	if c.tightest(i) < 1.1*h {
		one := Contour{Start: a, Segments: []Segment{s}}
		chords := Polyline(append(one.Flattened(max(tolerance, h/200)), s.End)...)
		return chords.stroked(Pen{Width: 2 * h, Join: MiterJoin, Miter: 2}, tolerance)
	}
	side := func(d float64) func(float64) Point {
		return func(t float64) Point { return c.At(i, t).Add(c.tangentAt(i, t).Perp().Scale(d)) }
	}
	left, _, err := FitCurve(side(h), 0, 1, tolerance)
	if err != nil {
		return nil, err
	}
	right, _, err := FitCurve(side(-h), 1, 0, tolerance)
	if err != nil {
		return nil, err
	}
	left.Segments = append(append(left.Segments, Segment{Kind: Line, End: right.Start}), right.Segments...)
	left.Segments = append(left.Segments, Segment{Kind: Line, End: left.Start})
	return Path{left}, nil
}

// tangentAt returns the direction of segment i at t, also where a control point
// stands on an end.
func (c Contour) tangentAt(i int, t float64) Vec {
	switch v := c.Velocity(i, t); {
	case v.Norm() > 1e-12:
		return v.Unit()
	case t < 0.5:
		return c.StartTangent(i).Unit()
	}
	return c.EndTangent(i).Unit()
}

// tightest returns the least radius of curvature of a cubic, at 33 points of it.
func (c Contour) tightest(i int) float64 {
	least := math.Inf(1)
	const n, e = 32, 1e-3
	for k := 0; k <= n; k++ {
		t := max(e, min(1-e, float64(k)/n))
		v := c.Velocity(i, t)
		a := c.Velocity(i, t+e/2).Sub(c.Velocity(i, t-e/2)).Scale(1 / e)
		if k := math.Abs(v.Cross(a)); k > 0 {
			least = min(least, same.Pow(v.Norm(), 3)/k)
		} else if v.Norm() < 1e-12 {
			return 0
		}
	}
	return least
}

// joint returns what a pen covers beyond its two bands where a line turns from one
// direction to another.
func joint(p Point, in, out Vec, h float64, pen Pen) (Contour, bool) {
	turn := in.Cross(out)
	if math.Abs(turn) < 1e-9 && in.Dot(out) > 0 {
		return Contour{}, false
	}
	if pen.Join == RoundJoin {
		return Circle(p, h), true
	}
	side := -math.Copysign(h, turn) // the outer side of a turn to the left is the right
	a, b := p.Add(in.Perp().Scale(side)), p.Add(out.Perp().Scale(side))
	half := math.Sqrt(max(0, (1+in.Dot(out))/2)) // cosine of half the turn
	if pen.Join == MiterJoin && half > 0 && 1/half <= pen.Miter {
		tip := p.Add(in.Perp().Add(out.Perp()).Scale(side / (2 * half * half)))
		return Polygon(p, a, tip, b), true
	}
	return Polygon(p, a, b), true
}
