package skin

import (
	"sort"

	g "maskloft/geometry"
)

// crossings visits every pair of edges of a polyline, or of a closed polygon,
// that cross; neighbours, which share an end, are left out. It stops when visit returns false.
//
// The edges are swept along the longer side of their bounds: n log n, and the
// pairs whose ranges there overlap.
func crossings(pts []g.Point, closed bool, visit func(i, j int, at g.Point) bool) {
	n := len(pts) - 1
	if closed {
		n++
	}
	b := g.BoundsOf(pts...)
	key := func(p g.Point) float64 { return p.X }
	if b.Height() > b.Width() {
		key = func(p g.Point) float64 { return p.Y }
	}
	end := func(i int) g.Point { return pts[(i+1)%len(pts)] }
	order := make([]int, n)
	low := make([]float64, n)
	for i := range order {
		order[i], low[i] = i, min(key(pts[i]), key(end(i)))
	}
	sort.SliceStable(order, func(a, b int) bool { return low[order[a]] < low[order[b]] })
	for a, i := range order {
		high := max(key(pts[i]), key(end(i)))
		for _, j := range order[a+1:] {
			if low[j] > high {
				break
			}
			if d := max(i, j) - min(i, j); d == 1 || closed && d == n-1 {
				continue
			}
			if at, ok := crossingOf(pts[i], end(i), pts[j], end(j)); ok && !visit(min(i, j), max(i, j), at) {
				return
			}
		}
	}
}

// crossingOf returns where two segments cross. A point on the other's line counts
// as to the left of it, so that a polyline crossed in a node is crossed once.
func crossingOf(a, b, c, d g.Point) (g.Point, bool) {
	ab, cd := b.Sub(a), d.Sub(c)
	c0, d0 := ab.Cross(c.Sub(a)), ab.Cross(d.Sub(a))
	a0, b0 := cd.Cross(a.Sub(c)), cd.Cross(b.Sub(c))
	if (c0 < 0) == (d0 < 0) || (a0 < 0) == (b0 < 0) {
		return g.Point{}, false
	}
	return a.Add(ab.Scale(a0 / (a0 - b0))), true
}

// windings returns how many times a closed polygon runs round p,
// counter-clockwise positive.
func windings(poly []g.Point, p g.Point) int {
	n := 0
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		left := b.Sub(a).Cross(p.Sub(a))
		switch {
		case a.Y <= p.Y && b.Y > p.Y && left > 0:
			n++
		case a.Y > p.Y && b.Y <= p.Y && left < 0:
			n--
		}
	}
	return n
}
