package adjust

import "math"

// leastPivot is the part of a diagonal element that must be left of it after the
// other unknowns are taken out, for its unknown to be one of its own. Double numbers
// keep 16 digits; a variance inflated by 1e10 is a movement free for every purpose.
const leastPivot = 1e-10

// inverse returns the inverse of a symmetric positive matrix, by its Cholesky factor
// (N = L L', then L^-1 column by column, then L^-T L^-1). Rows and columns are
// scaled to a diagonal of ones first. It returns also the index of the first column
// that depends on those before it, -1 where all are free of each other.
func inverse(n [][]float64) ([][]float64, int) {
	size := len(n)
	scale := make([]float64, size)
	for i := range size {
		if n[i][i] <= 0 {
			return nil, i
		}
		scale[i] = 1 / math.Sqrt(n[i][i])
	}
	l := square(size)
	for j := range size {
		for i := j; i < size; i++ {
			sum := float64(float64(n[i][j]*scale[i]) * scale[j])
			for k := range j {
				sum -= float64(l[i][k] * l[j][k])
			}
			if i == j {
				if sum < leastPivot {
					return nil, j
				}
				l[j][j] = math.Sqrt(sum)
			} else {
				l[i][j] = sum / l[j][j]
			}
		}
	}
	// m = L^-1, lower
	m := square(size)
	for j := range size {
		m[j][j] = 1 / l[j][j]
		for i := j + 1; i < size; i++ {
			sum := 0.0
			for k := j; k < i; k++ {
				sum -= float64(l[i][k] * m[k][j])
			}
			m[i][j] = sum / l[i][i]
		}
	}
	out := square(size)
	for i := range size {
		for j := i; j < size; j++ {
			sum := 0.0
			for k := j; k < size; k++ {
				sum += float64(m[k][i] * m[k][j])
			}
			out[i][j] = float64(float64(sum*scale[i]) * scale[j])
			out[j][i] = out[i][j]
		}
	}
	return out, -1
}

// square returns a matrix of zeros.
func square(size int) [][]float64 {
	out := make([][]float64, size)
	for i := range out {
		out[i] = make([]float64, size)
	}
	return out
}

// times returns the product of a symmetric matrix and a vector.
func times(m [][]float64, v []float64) []float64 {
	out := make([]float64, len(m))
	for i := range m {
		out[i] = dot(m[i], v)
	}
	return out
}
