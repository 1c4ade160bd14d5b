package skin

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// checkFlat refuses a flat that is not one to one over the rectangle need:
// a pole of the body inside it, a triangle laid the wrong way round (the skin
// folds in the flat, as beyond a conjugate point), or two places of the skin on
// one place of the film. Cost: linear in the nodes, and n log n in those of the
// border.
func (m *FlatMap) checkFlat(need g.Rect) error {
	if err := m.poleInside(need); err != nil {
		return err
	}
	if err := m.folded(need); err != nil {
		return err
	}
	return m.overlapping(need)
}

// folded refuses triangles within need that lie the other way round than the
// flat as a whole.
func (m *FlatMap) folded(need g.Rect) error {
	area := func(t triangle) float64 {
		a := m.flat[t.n[0]]
		return m.flat[t.n[1]].Sub(a).Cross(m.flat[t.n[2]].Sub(a))
	}
	whole := 0.0
	for _, t := range m.net.triangles() {
		whole += area(t)
	}
	for _, t := range m.net.triangles() {
		if area(t)*whole > 0 || !need.Touches(g.BoundsOf(m.flat[t.n[0]], m.flat[t.n[1]], m.flat[t.n[2]]), 0) {
			continue
		}
		return g.Errorf("%v: the flat folds over itself there: the skin is too strongly curved to lie flat over %v: make the marking smaller, or paint it in pieces",
			g.PositionOf(PointAt(m.net.s, m.net.nodeUV(t.n[0]))), need.Extent(2))
	}
	return nil
}

// overlapping refuses a flat that covers a place of need twice.
//
// Where every triangle keeps its orientation the map is locally one to one, and
// then it is one to one if its border does not cross itself: Lipman, "Bijective
// mappings of meshes with boundary and the degree in mesh processing" (2014),
// first set of conditions. Where the border crosses itself, how often a place is
// covered is how often the border runs round it; beside a crossing there is
// always a place covered once more than those on either side of it.
func (m *FlatMap) overlapping(need g.Rect) error {
	border := m.border()
	crossed, at, found := false, g.Point{}, false
	crossings(border, true, func(_, _ int, p g.Point) bool {
		crossed = true
		if need.Contains(p) {
			at, found = p, true
		}
		return !found
	})
	if !crossed {
		return nil
	}
	const n = 32
	for i := 0; i <= n && !found; i++ {
		for j := 0; j <= n && !found; j++ {
			at = g.Point{X: need.Min.X + need.Width()*float64(i)/n, Y: need.Min.Y + need.Height()*float64(j)/n}
			w := windings(border, at)
			found = w > 1 || w < -1
		}
	}
	if !found {
		return nil
	}
	places := m.placesNear(at)
	return g.Errorf("%v and %v: the flat overlaps itself: both lie on one place of the film, %v from the anchor: make the marking smaller, or paint it in pieces",
		places[0], places[1], g.Length(same.Hypot(at.X, at.Y)).Rounded(2))
}

// border returns the nodes once round the edge of the net, in the flat.
func (m *FlatMap) border() []g.Point {
	nu, nv := m.net.nu(), m.net.nv()
	var out []g.Point
	for i := 0; i < nu-1; i++ {
		out = append(out, m.flat[m.net.node(i, 0)])
	}
	for j := 0; j < nv-1; j++ {
		out = append(out, m.flat[m.net.node(nu-1, j)])
	}
	for i := nu - 1; i > 0; i-- {
		out = append(out, m.flat[m.net.node(i, nv-1)])
	}
	for j := nv - 1; j > 0; j-- {
		out = append(out, m.flat[m.net.node(0, j)])
	}
	return out
}

// placesNear returns two places of the skin that lie on p: of the nodes, the
// nearest to p, and the nearest of those that are nearer in the flat than half
// their way along the net.
func (m *FlatMap) placesNear(p g.Point) [2]g.Position {
	first := m.nearestNode(p)
	second, best := first, math.Inf(1)
	from := m.net.nodeUV(first)
	for k, q := range m.flat {
		uv := m.net.nodeUV(k)
		way := lengthOnce(m.net.s, from, UV{uv.U, from.V}) + lengthOnce(m.net.s, from, UV{from.U, uv.V})
		if d := q.Dist(p); d < best && d < way/4 {
			second, best = k, d
		}
	}
	return [2]g.Position{g.PositionOf(PointAt(m.net.s, m.net.nodeUV(first))), g.PositionOf(PointAt(m.net.s, m.net.nodeUV(second)))}
}

// lengthOnce returns about the length of a grid line from a to b.
func lengthOnce(s Surface, a, b UV) float64 {
	const n = 8
	sum, last := 0.0, PointAt(s, a)
	for i := 1; i <= n; i++ {
		t := float64(i) / n
		p := PointAt(s, UV{a.U + float64(t*(b.U-a.U)), a.V + float64(t*(b.V-a.V))})
		sum, last = sum+p.Sub(last).Norm(), p
	}
	return sum
}
