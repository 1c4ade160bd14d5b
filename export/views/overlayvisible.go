package views

import (
	"math"

	g "maskloft/geometry"
)

// visibleCells is how many cells a marking is cut into along its longer side to find
// what of it is seen; the border between is then found along the cells' edges.
const visibleCells = 48

// visiblePart returns the part of a rectangle that is seen, as closed contours, or
// that all of it is. A part narrower than a cell may be missed.
//
// The corners of a grid are looked at; between one that is seen and one that is not
// the border is found by halving; the borders of all cells are strung together.
func visiblePart(box g.Rect, sees func(g.Point) bool) (part g.Path, all bool) {
	h := math.Max(box.Width(), box.Height()) / visibleCells
	if !(h > 0) {
		return nil, sees(box.Min)
	}
	nx, ny := int(math.Ceil(box.Width()/h)), int(math.Ceil(box.Height()/h))
	// one row of nodes more all round, which nobody sees, closes every contour
	node := func(i, j int) g.Point {
		return g.Point{X: box.Min.X + float64(float64(i-1)*h), Y: box.Min.Y + float64(float64(j-1)*h)}
	}
	grid := make([][]bool, nx+3)
	all = true
	for i := range grid {
		grid[i] = make([]bool, ny+3)
		for j := range grid[i] {
			if i > 0 && j > 0 && i < nx+2 && j < ny+2 {
				grid[i][j] = sees(node(i, j))
				all = all && grid[i][j]
			}
		}
	}
	if all {
		return nil, true
	}
	// an edge is the node it starts from, and whether it runs up
	type edge struct {
		i, j int
		up   bool
	}
	next := map[edge]edge{}
	var order []edge
	for i := range nx + 2 {
		for j := range ny + 2 {
			corners := [4][2]int{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}}
			edges := [4]edge{{i, j, false}, {i + 1, j, true}, {i, j + 1, false}, {i, j, true}}
			var into, out []edge // counter-clockwise round the cell, starting after a corner that is not seen
			start := 0
			for start < 4 && grid[corners[start][0]][corners[start][1]] {
				start++
			}
			if start == 4 {
				continue
			}
			for n := range 4 {
				k := (start + n) % 4
				a, b := corners[k], corners[(k+1)%4]
				switch was, is := grid[a[0]][a[1]], grid[b[0]][b[1]]; {
				case !was && is:
					into = append(into, edges[k])
				case was && !is:
					out = append(out, edges[k])
				}
			}
			for n := range out { // the border goes back from where the cell's rim leaves what is seen
				next[out[n]] = into[n]
				order = append(order, out[n])
			}
		}
	}
	crossing := func(e edge) g.Point {
		a, b := node(e.i, e.j), node(e.i+1, e.j)
		seen := grid[e.i][e.j]
		if e.up {
			b = node(e.i, e.j+1)
		}
		if !seen {
			a, b = b, a
		}
		for range 20 { // a is seen, b is not
			if m := a.Lerp(b, 0.5); box.Grown(1e-9).Contains(m) && sees(m) {
				a = m
			} else {
				b = m
			}
		}
		return a.Lerp(b, 0.5)
	}
	done := map[edge]bool{}
	for _, first := range order {
		var pts []g.Point
		for e := first; !done[e]; e = next[e] {
			done[e] = true
			if p := crossing(e); len(pts) == 0 || pts[len(pts)-1].Dist(p) > g.SnapTolerance {
				pts = append(pts, p)
			}
		}
		if len(pts) > 2 {
			part = append(part, g.Polygon(pts...))
		}
	}
	return part, false
}
