package geometry

// SplineThrough returns the natural cubic spline through points by chord length: each
// stretch a cubic, slope and bend continuous from one to the next, no bend at the ends
// (de Boor, A Practical Guide to Splines, chapter IV; from memory, checked by test). Two
// points give a line. Neighbours that coincide are one point.
func SplineThrough(points []Point) Contour {
	var p []Point
	for _, q := range points {
		if len(p) == 0 || q.Dist(p[len(p)-1]) > SnapTolerance {
			p = append(p, q)
		}
	}
	n := len(p) - 1
	if n < 2 {
		return Polyline(p...)
	}
	h := make([]float64, n)
	for i := range h {
		h[i] = p[i].Dist(p[i+1])
	}
	// slopes by chord length: h[i] d[i-1] + 2 (h[i-1] + h[i]) d[i] + h[i-1] d[i+1] = 3 (...)
	diag, low, up, rhs := make([]float64, n+1), make([]float64, n+1), make([]float64, n+1), make([]Vec, n+1)
	secant := func(i int) Vec { return p[i+1].Sub(p[i]).Scale(1 / h[i]) }
	diag[0], up[0], rhs[0] = 2, 1, secant(0).Scale(3)
	diag[n], low[n], rhs[n] = 2, 1, secant(n-1).Scale(3)
	for i := 1; i < n; i++ {
		low[i], diag[i], up[i] = h[i], 2*(h[i-1]+h[i]), h[i-1]
		rhs[i] = secant(i - 1).Scale(3 * h[i]).Add(secant(i).Scale(3 * h[i-1]))
	}
	for i := 1; i <= n; i++ {
		k := low[i] / diag[i-1]
		diag[i] -= float64(k * up[i-1])
		rhs[i] = rhs[i].Sub(rhs[i-1].Scale(k))
	}
	d := make([]Vec, n+1)
	d[n] = rhs[n].Scale(1 / diag[n])
	for i := n - 1; i >= 0; i-- {
		d[i] = rhs[i].Sub(d[i+1].Scale(up[i])).Scale(1 / diag[i])
	}
	b := MoveTo(p[0])
	for i := range h {
		b.CubicTo(p[i].Add(d[i].Scale(h[i]/3)), p[i+1].Add(d[i+1].Scale(-h[i]/3)), p[i+1])
	}
	return b.Open()
}

// CubicsThrough returns a curve of one cubic from each point to the next, with the given
// directions of unit length at the points.
func CubicsThrough(p []Point, ways []Vec) Contour {
	b := MoveTo(p[0])
	for i := range p[1:] {
		third := p[i].Dist(p[i+1]) / 3
		b.CubicTo(p[i].Add(ways[i].Scale(third)), p[i+1].Add(ways[i+1].Scale(-third)), p[i+1])
	}
	return b.Open()
}
