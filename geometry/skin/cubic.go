package skin

import "sort"

// splineEnd says how a cubic spline ends: with the given slope where clamped,
// without curvature (natural) otherwise.
type splineEnd struct {
	clamped bool
	slope   float64
}

// cubicSpline is the C2 piecewise cubic through points.
type cubicSpline struct{ x, y, m []float64 }

func newCubicSpline(x, y []float64, a, b splineEnd) cubicSpline {
	return cubicSpline{x, y, secondDerivatives(x, y, a, b)}
}

// secondDerivatives returns the second derivatives at the knots x, ascending, of
// the cubic spline through y: h0 m0 + 2 (h0+h1) m1 + h1 m2 = 6 (d1 - d0) at each
// inner knot, h the steps and d the chord slopes (de Boor, A Practical Guide to
// Splines, chapter IV; from memory).
func secondDerivatives(x, y []float64, a, b splineEnd) []float64 {
	n := len(x)
	lower, diag, upper, m := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	h := func(i int) float64 { return x[i+1] - x[i] }
	d := func(i int) float64 { return (y[i+1] - y[i]) / h(i) }
	diag[0], diag[n-1] = 1, 1
	if a.clamped {
		diag[0], upper[0], m[0] = 2*h(0), h(0), 6*(d(0)-a.slope)
	}
	for i := 1; i < n; i++ {
		if i < n-1 {
			lower[i], diag[i], upper[i], m[i] = h(i-1), 2*(h(i-1)+h(i)), h(i), 6*(d(i)-d(i-1))
		} else if b.clamped {
			lower[i], diag[i], m[i] = h(i-1), 2*h(i-1), 6*(b.slope-d(i-1))
		}
	}
	SolveTridiagonal(lower, diag, upper, m)
	return m
}

// SolveTridiagonal solves in place of rhs by Thomas's elimination, without pivots;
// diag is used up.
func SolveTridiagonal(low, diag, up, rhs []float64) {
	n := len(rhs)
	for i := 1; i < n; i++ {
		f := low[i] / diag[i-1]
		diag[i] -= float64(f * up[i-1])
		rhs[i] -= float64(f * rhs[i-1])
	}
	rhs[n-1] /= diag[n-1]
	for i := n - 2; i >= 0; i-- {
		rhs[i] = (rhs[i] - float64(up[i]*rhs[i+1])) / diag[i]
	}
}

// in returns value and slope at x of the cubic between knots i and i+1.
func (s cubicSpline) in(i int, x float64) (y, dy float64) {
	h := s.x[i+1] - s.x[i]
	a, b := (s.x[i+1]-x)/h, (x-s.x[i])/h
	y = float64(a*s.y[i]) + float64(b*s.y[i+1]) + (float64(a*(float64(a*a)-1)*s.m[i])+float64(b*(float64(b*b)-1)*s.m[i+1]))*h*h/6
	dy = (s.y[i+1]-s.y[i])/h + (float64((1-float64(3*a*a))*s.m[i])+float64((float64(3*b*b)-1)*s.m[i+1]))*h/6
	return
}

// at returns value and slope at x; the end cubics go on beyond the ends.
func (s cubicSpline) at(x float64) (y, dy float64) {
	i := sort.SearchFloat64s(s.x[1:len(s.x)-1], x)
	return s.in(i, x)
}
