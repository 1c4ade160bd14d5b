package adjust

import (
	"math"

	"maskloft/geometry/same"
)

// Axes returns the eigenvalues of a small symmetric matrix, the largest first, and
// their vectors: rotations of Jacobi, sweep by sweep, until nothing is left beside
// the diagonal.
func Axes(m [][]float64) (values []float64, vectors [][]float64) {
	n := len(m)
	a, v := square(n), square(n)
	trace := 0.0
	for i := range n {
		copy(a[i], m[i])
		v[i][i] = 1
		trace += math.Abs(a[i][i])
	}
	for range 30 {
		most := 0.0
		for p := range n {
			for q := p + 1; q < n; q++ {
				most = max(most, math.Abs(a[p][q]))
				if math.Abs(a[p][q]) <= float64(1e-14*trace) {
					continue
				}
				angle := same.Atan2(2*a[p][q], a[q][q]-a[p][p]) / 2
				sin, cos := same.Sin(angle), same.Cos(angle)
				for k := range n {
					x, y := a[p][k], a[q][k]
					a[p][k], a[q][k] = float64(cos*x)-float64(sin*y), float64(sin*x)+float64(cos*y)
				}
				for k := range n {
					x, y := a[k][p], a[k][q]
					a[k][p], a[k][q] = float64(cos*x)-float64(sin*y), float64(sin*x)+float64(cos*y)
					x, y = v[k][p], v[k][q]
					v[k][p], v[k][q] = float64(cos*x)-float64(sin*y), float64(sin*x)+float64(cos*y)
				}
			}
		}
		if most <= float64(1e-14*trace) {
			break
		}
	}
	for range n { // the largest left is next
		best := -1
		for i := range n {
			if a[i][i] > math.Inf(-1) && (best < 0 || a[i][i] > a[best][best]) {
				best = i
			}
		}
		vector := make([]float64, n)
		for k := range n {
			vector[k] = v[k][best]
		}
		values, vectors = append(values, a[best][best]), append(vectors, vector)
		a[best][best] = math.Inf(-1)
	}
	return values, vectors
}
