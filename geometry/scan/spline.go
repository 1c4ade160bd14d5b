package scan

import (
	"math"

	"maskloft/geometry/skin"
)

// Cubic splines over equal steps as sums of B-splines: at a place t in 0..1 of a
// step the value is the sum of four neighbouring coefficients with the weights
// of scanWeights. (de Boor, A Practical Guide to Splines, 1978; from memory.)

// scanWeights returns the weights of the value and of the derivative by t.
// Outside 0..1 the cubic of the step goes on.
func scanWeights(t float64) (w, d [4]float64) {
	s := 1 - t
	w = [4]float64{s * s * s / 6, (float64(3*t*t*t) - float64(6*t*t) + 4) / 6, (float64(3*s*s*s) - float64(6*s*s) + 4) / 6, t * t * t / 6}
	d = [4]float64{-s * s / 2, (float64(3*t*t) - 4*t) / 2, (4*s - float64(3*s*s)) / 2, t * t / 2}
	return
}

// scanOpenSpline returns the len(y)+2 coefficients of the spline through three
// values or more whose third differences of coefficients vanish at the ends:
// parabolas are met exactly, right up to the end (a natural spline, without
// curvature there, would flatten a barrel's ends). Coefficient k belongs to value
// k-1. With the rows (7,-2,1)/6 and (1,4,1)/6 at an end, their difference is
// c0 - c1 = y0 - y1. (Derived.)
func scanOpenSpline(y []float64) []float64 {
	n := len(y)
	low, diag, up, rhs := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range y {
		low[i], diag[i], up[i], rhs[i] = 1, 4, 1, 6*y[i]
	}
	diag[0], up[0], rhs[0] = 1, -1, y[0]-y[1]
	low[n-1], diag[n-1], rhs[n-1] = -1, 1, y[n-1]-y[n-2]
	// c0 - c1 and c1 are bound by row 1, so that elimination without pivots is
	// safe: row 1 becomes (5, 1)
	skin.SolveTridiagonal(low, diag, up, rhs)
	c := make([]float64, n+2)
	copy(c[1:], rhs)
	c[0] = float64(3*c[1]) - float64(3*c[2]) + c[3]
	c[n+1] = float64(3*c[n]) - float64(3*c[n-1]) + c[n-2]
	return c
}

// scanClosedSpline replaces three values or more round a closed curve by the
// coefficients of the periodic spline through them: rows (1, 4, 1)/6, closed by
// the Sherman-Morrison formula (Press et al., Numerical Recipes, "Cyclic
// tridiagonal systems"; from memory).
func scanClosedSpline(y []float64) {
	n := len(y)
	low, diag, up, z := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	solve := func(x []float64) {
		for i := range x {
			low[i], diag[i], up[i] = 1, 4, 1
		}
		diag[0], diag[n-1] = 8, 4.25 // 4 - gamma and 4 - 1/gamma with gamma = -4
		skin.SolveTridiagonal(low, diag, up, x)
	}
	for i := range y {
		y[i] *= 6
	}
	z[0], z[n-1] = -4, 1
	solve(y)
	solve(z)
	k := (y[0] - y[n-1]/4) / (1 + z[0] - z[n-1]/4)
	for i := range y {
		y[i] -= float64(k * z[i])
	}
}

// scanSmoothed returns the smooth line near the values y, each counting with its
// weight of 0 or more: it makes
//
//	sum weight (line - y)^2 + stiffness sum (second difference of line)^2
//
// least (Whittaker, Proc. Edinburgh Math. Soc. 41, 1923; from memory). Waves of
// the length 2 pi stiffness^(1/4) steps are halved, longer ones stay. Values of
// weight 0 are not looked at. Two weights at least must be positive.
func scanSmoothed(y, weight []float64, stiffness float64) []float64 {
	n := len(y)
	// bands of the symmetric matrix: b[k][i] couples i and i+k
	var b [3][]float64
	for k := range b {
		b[k] = make([]float64, n)
	}
	x := make([]float64, n)
	for i := range y {
		if weight[i] > 0 {
			b[0][i], x[i] = weight[i], weight[i]*y[i]
		}
	}
	second := [3]float64{1, -2, 1}
	for i := 0; i+2 < n; i++ {
		for p := 0; p < 3; p++ {
			for q := p; q < 3; q++ {
				b[q-p][i+p] += float64(stiffness * second[p] * second[q])
			}
		}
	}
	// L D Lt in the bands
	for i := 0; i < n; i++ {
		for k := 1; k < 3 && i+k < n; k++ {
			f := b[k][i] / b[0][i]
			for m := k; m < 3 && i+m < n; m++ {
				b[m-k][i+k] -= float64(f * b[m][i])
			}
			x[i+k] -= float64(f * x[i])
		}
	}
	for i := n - 1; i >= 0; i-- {
		for k := 1; k < 3 && i+k < n; k++ {
			x[i] -= float64(b[k][i] * x[i+k])
		}
		x[i] /= b[0][i]
	}
	return x
}

// scanBridge fills the values that are NaN, by cubics that meet the values and
// the slopes on either side of each gap, never below half the smaller of the two;
// beyond an open end by the end value. It tells whether there was any value.
func scanBridge(y []float64, closed bool) bool {
	n := len(y)
	var known []int
	for i, v := range y {
		if !math.IsNaN(v) {
			known = append(known, i)
		}
	}
	if len(known) == 0 {
		return false
	}
	if len(known) == n {
		return true
	}
	at := func(i int) float64 { return y[((i%n)+n)%n] }
	inside := func(i int) bool { return closed || i >= 0 && i < n }
	orig := append([]float64(nil), y...)
	value := func(i int) float64 {
		if !inside(i) {
			return math.NaN()
		}
		return orig[((i%n)+n)%n]
	}
	slope := func(i, step int) float64 { // of y at i, from the side of step
		if a := value(i + step); !math.IsNaN(a) {
			return (at(i) - a) * -float64(step)
		}
		return 0
	}
	bridge := func(a, b int) { // known at a and b, unknown between
		span := float64(b - a)
		ya, yb := at(a), at(b)
		da, db := float64(slope(a, -1)*span), float64(slope(b, 1)*span)
		for i := a + 1; i < b; i++ {
			t := float64(i-a) / span
			v := ya + float64(t*(yb-ya)) + float64(t*(1-t)*(float64((1-t)*(da-(yb-ya)))+float64(t*((yb-ya)-db))))
			y[((i%n)+n)%n] = math.Max(v, math.Min(ya, yb)/2)
		}
	}
	for k := 0; k+1 < len(known); k++ {
		bridge(known[k], known[k+1])
	}
	first, last := known[0], known[len(known)-1]
	if closed {
		bridge(last, first+n)
		return true
	}
	for i := 0; i < first; i++ {
		y[i] = y[first]
	}
	for i := last + 1; i < n; i++ {
		y[i] = y[last]
	}
	return true
}
