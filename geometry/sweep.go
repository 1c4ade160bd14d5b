package geometry

import (
	"math"
	"sort"
)

// Sweep returns the region that p covers while it moves in a straight line by v: p,
// p moved, and all between. The input is a region under the even-odd rule, as in
// [Union]; the edges of the result are parts of p's, moved or not, and straight
// lines along v.
//
// Errors: those of [Union].
func Sweep(p Path, v Vec) (Path, error) {
	p, err := Settle(p)
	if err != nil || v == (Vec{}) {
		return p, err
	}
	pieces := append(append(Path{}, p...), p.Moved(v)...)
	for _, c := range p {
		for i := range c.Segments {
			pieces = append(pieces, c.swept(i, v)...)
		}
	}
	return Filled(pieces)
}

// swept returns what segment i covers while it moves by v, cut where the segment runs
// along v, so that no piece crosses itself. Pieces run counter-clockwise.
func (c Contour) swept(i int, v Vec) Path {
	s, a := c.Segments[i], c.From(i)
	cuts := []float64{0}
	if s.Kind == Cubic { // where the velocity, a quadratic, stands along v
		d0, d1, d2 := s.C1.Sub(a).Cross(v), s.C2.Sub(s.C1).Cross(v), s.End.Sub(s.C2).Cross(v)
		ts, n := twoRoots(d0-2*d1+d2, 2*(d1-d0), d0)
		for _, t := range ts[:n] {
			if t > 1e-9 && t < 1-1e-9 {
				cuts = append(cuts, t)
			}
		}
		sort.Float64s(cuts)
	}
	cuts = append(cuts, 1)
	var out Path
	for k := 1; k < len(cuts); k++ {
		part := c.partOf(i, cuts[k-1], cuts[k])
		b := &Builder{part}
		b.LineTo(part.End().Add(v))
		b.Follow(part.Map(func(q Point) Point { return q.Add(v) }).Reversed().Segments)
		q := b.Close()
		switch area := q.Area(); {
		case math.Abs(area) < 1e-12: // a line along v covers nothing
		case area < 0:
			out = append(out, q.Reversed())
		default:
			out = append(out, q)
		}
	}
	return out
}

// partOf returns segment i of c from parameter t0 to t1, open.
func (c Contour) partOf(i int, t0, t1 float64) Contour {
	s, a := c.Segments[i], c.From(i)
	from, to := c.At(i, t0), c.At(i, t1)
	if t0 == 0 {
		from = a
	}
	if t1 == 1 {
		to = s.End
	}
	if s.Kind == Line {
		return Polyline(from, to)
	}
	k := (t1 - t0) / 3
	return MoveTo(from).CubicTo(from.Add(c.Velocity(i, t0).Scale(k)), to.Add(c.Velocity(i, t1).Scale(-k)), to).Open()
}
