package geometry

// AtLeastZero returns the region of a rectangle in which values given on a grid are zero
// or more, as closed contours: values stand at nx by ny nodes, the first and last on the
// rectangle's edges, and run straight along the lines of the grid between them. Where a
// cell has two opposite corners in the region, their mean tells whether they hang together
// (marching squares; Lorensen and Cline 1987 in the plane). Contours have the region at
// their left, and begin in the order of the grid.
func AtLeastZero(box Rect, nx, ny int, value func(i, j int) float64) Path {
	wide, high := nx+2, ny+2 // a rim of nodes outside, at the places of the outermost
	f := make([]float64, wide*high)
	for j := range high {
		for i := range wide {
			f[j*wide+i] = -1
			if i > 0 && i <= nx && j > 0 && j <= ny {
				f[j*wide+i] = value(i-1, j-1)
			}
		}
	}
	place := func(i, j int) Point {
		i, j = min(max(i-1, 0), nx-1), min(max(j-1, 0), ny-1)
		return Point{X: box.Min.X + float64(box.Width()*float64(i)/float64(nx-1)), Y: box.Min.Y + float64(box.Height()*float64(j)/float64(ny-1))}
	}
	// an edge runs from its node to the right (2n) or up (2n+1); next is the edge at which
	// the contour that enters a cell at one leaves it
	next := make([]int, 2*wide*high)
	for k := range next {
		next[k] = -1
	}
	for j := range high - 1 {
		for i := range wide - 1 {
			n := j*wide + i
			corner := [4]float64{f[n], f[n+1], f[n+wide+1], f[n+wide]}
			edge := [4]int{2 * n, 2*(n+1) + 1, 2 * (n + wide), 2*n + 1} // below, right, above, left
			var out, in []int                                           // where a walk round the cell to the left leaves the region and comes back
			for k := range corner {
				switch a, b := corner[k] >= 0, corner[(k+1)%4] >= 0; {
				case a && !b:
					out = append(out, k)
				case b && !a:
					in = append(in, k)
				}
			}
			for m, k := range out {
				to := in[m]
				if len(out) == 2 {
					joined := corner[0]+corner[1]+corner[2]+corner[3] >= 0
					to = in[0]
					if after := (k + 1) % 4; (in[1] == after) == joined {
						to = in[1]
					}
				}
				next[edge[k]] = edge[to]
			}
		}
	}
	cross := func(e int) Point {
		n, m := e/2, e/2+1
		if e%2 == 1 {
			m = n + wide
		}
		a, b := place(n%wide, n/wide), place(m%wide, m/wide)
		t := f[n] / (f[n] - f[m])
		return Point{X: a.X + float64(t*(b.X-a.X)), Y: a.Y + float64(t*(b.Y-a.Y))}
	}
	var out Path
	for start := range next {
		var pts []Point
		for e := start; next[e] >= 0; {
			if p := cross(e); len(pts) == 0 || p != pts[len(pts)-1] {
				pts = append(pts, p)
			}
			e, next[e] = next[e], -1
		}
		for len(pts) > 1 && pts[0] == pts[len(pts)-1] {
			pts = pts[:len(pts)-1]
		}
		if len(pts) > 2 {
			out = append(out, Polygon(pts...))
		}
	}
	return out
}
