package geometry

import "math"

// weldDistance is the distance within which two points of a plane are one, in inches: a
// tenth of SnapTolerance.
const weldDistance = 1e-7

// vertices are the points at which outlines meet, no two within weldDistance.
// Those of one cell are a list: the last of them in cells, each earlier one in before.
type vertices struct {
	at     []Point
	before []int // -1: none
	cells  map[[2]int64]int
}

func newVertices() *vertices { return &vertices{cells: map[[2]int64]int{}} }

func cellOf(p Point) [2]int64 {
	return [2]int64{int64(math.Floor(p.X / (2 * weldDistance))), int64(math.Floor(p.Y / (2 * weldDistance)))}
}

// find returns the vertex nearest to p within weldDistance, or -1.
func (v *vertices) find(p Point) int { return v.nearest(p, weldDistance) }

func (v *vertices) nearest(p Point, within float64) int {
	best, id := within, -1
	lo := cellOf(Point{p.X - within, p.Y - within})
	hi := cellOf(Point{p.X + within, p.Y + within})
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			i, ok := v.cells[[2]int64{x, y}]
			if !ok {
				continue
			}
			for here := -1; i >= 0; i = v.before[i] {
				// of two as near in one cell, the earlier
				if d := v.at[i].Dist(p); d < best || d == best && here >= 0 {
					best, id, here = d, i, i
				}
			}
		}
	}
	return id
}

// add returns the vertex at p, new if there was none.
func (v *vertices) add(p Point) int {
	if i := v.find(p); i >= 0 {
		return i
	}
	c := cellOf(p)
	last, ok := v.cells[c]
	if !ok {
		last = -1
	}
	v.at, v.before = append(v.at, p), append(v.before, last)
	v.cells[c] = len(v.at) - 1
	return len(v.at) - 1
}
