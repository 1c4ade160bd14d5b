package geometry

import (
	"cmp"
	"math"
	"slices"
)

// mostMeet bounds the ends that are looked at where lines meet: a hub of thousands is no
// corner of an outline.
const mostMeet = 64

// Chained joins open contours whose ends lie within meets of each other, in either
// direction, until each is closed or nothing meets its ends; a drawing whose outlines
// were taken apart into lines and arcs is whole again. Where more than two ends meet, the
// contour nearest in order goes on, one that does not run straight back before one that
// does. Closed contours are returned as they are, in their order; a joined contour stands
// where its first piece stood. Ends that meet become one point, that of the piece before.
func Chained(p Path, meets float64) Path {
	ends := map[[2]int][]int{} // of contour i: 2i its start, 2i+1 its end
	cell := func(q Point) [2]int { return [2]int{int(math.Floor(q.X / meets)), int(math.Floor(q.Y / meets))} }
	at := func(e int) Point {
		if e%2 == 0 {
			return p[e/2].Start
		}
		return p[e/2].End()
	}
	used := make([]bool, len(p))
	for i, c := range p {
		if used[i] = c.Closed() || len(c.Segments) == 0; used[i] {
			continue
		}
		for e := 2 * i; e < 2*i+2; e++ {
			ends[cell(at(e))] = append(ends[cell(at(e))], e)
		}
	}
	// next returns the end that goes on from q, after contour last; -1 for none.
	next := func(q, from Point, last int) int {
		var found []int
		k := cell(q)
		for x := k[0] - 1; x <= k[0]+1; x++ {
			for y := k[1] - 1; y <= k[1]+1; y++ {
				near := ends[[2]int{x, y}]
				if len(near) > mostMeet {
					continue
				}
				for _, e := range near {
					if !used[e/2] && at(e).Dist(q) <= meets {
						found = append(found, e)
					}
				}
			}
		}
		if len(found) == 0 {
			return -1
		}
		back := func(e int) int {
			if at(e^1).Dist(from) <= meets {
				return 1
			}
			return 0
		}
		return slices.MinFunc(found, func(a, b int) int {
			for _, d := range []int{back(a) - back(b), max(a/2-last, last-a/2) - max(b/2-last, last-b/2)} {
				if d != 0 {
					return d
				}
			}
			return cmp.Compare(a, b)
		})
	}
	whole := func(c Contour, pieces int) bool { return pieces > 1 && c.End().Dist(c.Start) <= meets }
	var out Path
	for i, c := range p {
		if c.Closed() || len(c.Segments) == 0 {
			out = append(out, c)
			continue
		}
		if used[i] {
			continue
		}
		used[i] = true
		c.Segments = slices.Clone(c.Segments)
		pieces := 1
		for way := range 2 {
			from, last := c.Start, i
			for !whole(c, pieces) {
				e := next(c.End(), from, last)
				if e < 0 {
					break
				}
				piece := p[e/2]
				if e%2 == 1 {
					piece = piece.Reversed()
				}
				used[e/2], last, from, pieces = true, e/2, piece.Start, pieces+1
				c.Segments = append(c.Segments, piece.Segments...)
			}
			if whole(c, pieces) || way == 1 && pieces == 1 {
				break
			}
			c = c.Reversed()
		}
		if whole(c, pieces) {
			c.Segments[len(c.Segments)-1].End = c.Start
		}
		out = append(out, c)
	}
	return out
}
