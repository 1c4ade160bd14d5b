package skin

import (
	"math"

	g "maskloft/geometry"
)

// Bounds of a way round a body, before any net is made of it.
const (
	aroundLines = 8 // lines of constant V that a path is followed over
	aroundParts = 2 // pieces of each bay that a line is taken as straight in
	aroundSlack = 2 // times what a piece is seen to bulge in its middle it may do so anywhere
)

// atLeast returns a length that no path from a to b falls below, most or less. A path that
// is shorter than most goes beyond the stations of its ends by no more than half of what
// most leaves. It crosses all lines of constant V between a and b, and moves at least as
// far across the aircraft from each to the next as the two are apart in the view from
// ahead, and as far along it as the ends are; both at once, at best on one slope (derived).
func (y way) atLeast(s Surface, most float64) float64 {
	lo, hi := min(y.a.U, y.b.U), max(y.a.U, y.b.U)
	if hi-lo >= most {
		return most
	}
	first, end := Extent(s)
	beyond := (most - (hi - lo)) / 2
	us, _, _ := s.Breaks()
	us = linesBetween(us, 0, max(first, lo-beyond), min(end, hi+beyond))
	var before, line []g.Point
	across, bulgeBefore := 0.0, 0.0
	for k := 0; k <= aroundLines; k++ {
		v := y.a.V + (y.b.V-y.a.V)*float64(k)/aroundLines
		line = line[:0]
		bulge := 0.0
		at := LineOf(s, v, v)
		ahead := func(u, in float64) g.Point {
			p, _ := at(u, in)
			return g.Point{X: p.Y, Y: p.Z}
		}
		for i := 0; i+1 < len(us); i++ {
			mid := (us[i] + us[i+1]) / 2
			if i == 0 {
				line = append(line, ahead(us[0], mid))
			}
			for n := range aroundParts {
				from, to := us[i]+(us[i+1]-us[i])*float64(n)/aroundParts, us[i]+(us[i+1]-us[i])*float64(n+1)/aroundParts
				p, q := line[len(line)-1], ahead(to, mid)
				bulge = max(bulge, aroundSlack*g.SegmentDistance(ahead((from+to)/2, mid), p, q))
				line = append(line, q)
			}
		}
		if k > 0 {
			across += max(0, apart(before, line)-bulge-bulgeBefore)
		}
		before, line, bulgeBefore = line, before, bulge
	}
	return min(most, math.Hypot(hi-lo, across))
}

// apart returns the distance of two polylines of two points or more; 0 where they cross.
func apart(a, b []g.Point) float64 {
	best := math.Inf(1)
	for i := 1; i < len(a); i++ {
		for j := 1; j < len(b); j++ {
			if _, crossed := crossingOf(a[i-1], a[i], b[j-1], b[j]); crossed {
				return 0
			}
			best = min(best, g.SegmentDistance(a[i-1], b[j-1], b[j]), g.SegmentDistance(a[i], b[j-1], b[j]),
				g.SegmentDistance(b[j-1], a[i-1], a[i]), g.SegmentDistance(b[j], a[i-1], a[i]))
		}
	}
	return best
}
