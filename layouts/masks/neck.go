package masks

import (
	"math"

	g "maskloft/geometry"
)

// side is one chord of an outline, the region on its left; next and last are the
// chords after and before it.
type side struct {
	a, b       g.Point
	unit       g.Vec
	next, last int
	turn       float64 // sine of the turn at b, left positive; 1 beyond a right angle
}

// sidesOf cuts the outlines of a region into chords.
func sidesOf(p g.Path) []side {
	var out []side
	for _, c := range p {
		pts, first := c.Flattened(featureChords), len(out)
		n := len(pts)
		for i, a := range pts {
			b := pts[(i+1)%n]
			out = append(out, side{a: a, b: b, unit: b.Sub(a).Unit(), next: first + (i+1)%n, last: first + (i+n-1)%n})
		}
	}
	for i := range out {
		u, v := out[i].unit, out[out[i].next].unit
		out[i].turn = u.Cross(v)
		if u.Dot(v) < 0 {
			out[i].turn = math.Copysign(1, out[i].turn)
		}
	}
	return out
}

// alikeWidths is by how much, in, a neck or piece must be narrower than one found before it: of
// necks that are alike but for rounding the first is told on every processor.
const alikeWidths = 1e-7

// narrowestNeck returns the narrowest place between two sides of a region that
// face one another; nil where there is none.
func narrowestNeck(p g.Path) *Feature {
	sides := sidesOf(p)
	best := math.Inf(1)
	var out *Feature
	for i, e := range sides {
		for j := i + 1; j < len(sides); j++ {
			f := sides[j]
			if boxGap(e, f) >= best-alikeWidths || e.next == j || f.next == i {
				continue
			}
			a, b := nearest(e, f)
			width := a.Dist(b)
			if width >= best-alikeWidths || width < g.SnapTolerance {
				continue
			}
			across := b.Sub(a).Unit()
			if faces(sides, i, a, across) && faces(sides, j, b, across.Scale(-1)) && opensAcross(sides, e.within(a), f.within(b)) {
				best, out = width, &Feature{Width: g.Length(width), At: a.Lerp(b, 0.5), From: a, To: b}
			}
		}
	}
	return out
}

// boxGap returns a lower bound of the distance of two sides.
func boxGap(e, f side) float64 {
	gap := func(a0, a1, b0, b1 float64) float64 {
		return max(0, max(min(b0, b1)-max(a0, a1), min(a0, a1)-max(b0, b1)))
	}
	return max(gap(e.a.X, e.b.X, f.a.X, f.b.X), gap(e.a.Y, e.b.Y, f.a.Y, f.b.Y))
}

// nearest returns the nearest points of two sides that do not cross; of parallel
// sides the middle of the stretch over which they face one another.
func nearest(e, f side) (a, b g.Point) {
	best := math.Inf(1)
	try := func(p, q g.Point) {
		if d := p.Dist(q); d < best-alikeWidths {
			best, a, b = d, p, q
		}
	}
	on := func(s side, q g.Point) g.Point {
		t := q.Sub(s.a).Dot(s.unit)
		return s.a.Add(s.unit.Scale(max(0, min(s.a.Dist(s.b), t))))
	}
	if math.Abs(e.unit.Cross(f.unit)) < 1e-9 {
		length := e.a.Dist(e.b)
		t0, t1 := f.a.Sub(e.a).Dot(e.unit), f.b.Sub(e.a).Dot(e.unit)
		lo, hi := max(0, min(t0, t1)), min(length, max(t0, t1))
		if lo < hi {
			p := e.a.Add(e.unit.Scale((lo + hi) / 2))
			return p, on(f, p)
		}
	}
	try(e.a, on(f, e.a))
	try(e.b, on(f, e.b))
	try(on(e, f.a), f.a)
	try(on(e, f.b), f.b)
	return a, b
}

// faces tells whether the chord that leaves side i at p in the direction across is
// a shortest way over the region there: it leads into the region, and the outline
// does not draw nearer on either hand. A side that ends in a sharp corner outwards
// is over there; it must run along the other side, or what ends is a blunt point.
func faces(sides []side, i int, p g.Point, across g.Vec) bool {
	s := sides[i]
	atA, atB := p.Dist(s.a) < g.SnapTolerance, p.Dist(s.b) < g.SnapTolerance
	normal := s.unit.Perp().Dot(across)
	if !atA && !atB {
		return normal > facing
	}
	turn, beyond := s.turn, sides[s.next].unit
	own := s.unit.Scale(-1) // away from p along the side itself
	if atA {
		turn, beyond, own = sides[s.last].turn, sides[s.last].unit.Scale(-1), s.unit
	}
	if own.Dot(across) > shrinking {
		return false
	}
	if turn >= sharpTurn {
		return normal > sameWay
	}
	if beyond.Dot(across) > shrinking {
		return false
	}
	return normal > facing || turn <= 0
}

// within returns p, or where p is an end of the side a point next to it on the
// side: a chord from there does not run along the side beyond.
func (s side) within(p g.Point) g.Point {
	const little = 1e-4
	l := s.a.Dist(s.b)
	t := min(l-min(little, l/2), max(min(little, l/2), p.Sub(s.a).Dot(s.unit)))
	return s.a.Add(s.unit.Scale(t))
}

// opensAcross tells whether the chord from a to b lies in the region: its middle does,
// and no side crosses it.
func opensAcross(sides []side, a, b g.Point) bool {
	way := b.Sub(a)
	n := way.Norm()
	in := false
	m := a.Lerp(b, 0.5)
	for _, s := range sides {
		if g.RayCrosses(m, s.a, s.b) {
			in = !in
		}
		c, d := way.Cross(s.a.Sub(a))/n, way.Cross(s.b.Sub(a))/n
		if (c > 0) == (d > 0) {
			continue
		}
		t := s.a.Lerp(s.b, c/(c-d)).Sub(a).Dot(way) / n
		if t > g.SnapTolerance && t < n-g.SnapTolerance {
			return false
		}
	}
	return in
}
