package geometry

import "math"

// Solve3 solves three linear equations, a row each with its right side last, by
// elimination with pivots; false where a pivot is below 1e-9: callers scale their
// unknowns to the order of 1, and such equations do not tell them apart.
func Solve3(a [3][4]float64) (x [3]float64, ok bool) {
	for k := range 3 {
		p := k
		for i := k + 1; i < 3; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[p][k]) {
				p = i
			}
		}
		a[k], a[p] = a[p], a[k]
		if math.Abs(a[k][k]) < 1e-9 {
			return x, false
		}
		for i := range 3 {
			if i == k {
				continue
			}
			f := a[i][k] / a[k][k]
			for j := k; j < 4; j++ {
				a[i][j] -= float64(f * a[k][j])
			}
		}
	}
	return [3]float64{a[0][3] / a[0][0], a[1][3] / a[1][1], a[2][3] / a[2][2]}, true
}
