package skin

import "math"

// banded is a symmetric matrix of size rows with k numbers above the diagonal: number j of
// row i stands at h[i*(k+1)+j-i]. Every product is rounded by itself and the order of the
// sums is fixed, so that its factor has the same bits on every processor; libraries have
// kernels of their own for each.
type banded struct {
	h       []float64
	size, k int
}

// atOnce is how many rows are taken from those below in one go: each number of those is read
// and written once for all.
const atOnce = 4

func (m banded) row(i int) []float64 { return m.h[i*(m.k+1) : (i+1)*(m.k+1) : (i+1)*(m.k+1)] }

// factorise replaces the matrix by U of its Cholesky factors U'U (Golub and Van Loan, Matrix
// Computations, 4.3.5, by outer products). Size times k squared multiplications. It tells
// whether the matrix is positive definite.
func (m banded) factorise() bool {
	for i := 0; i < m.size; i += atOnce {
		n := min(atOnce, m.size-i)
		for a := i; a < i+n; a++ {
			u := m.row(a)
			if !(u[0] > 0) {
				return false
			}
			d := math.Sqrt(u[0])
			inverse := 1 / d
			u[0] = d
			for c := 1; c < len(u); c++ {
				u[c] *= inverse
			}
			for b := a + 1; b < min(i+n, a+m.k+1); b++ { // of those taken at once, the ones below
				u, v := u[b-a:], m.row(b)
				f := u[0]
				for c, x := range u {
					v[c] -= float64(f * x)
				}
			}
		}
		last := i + n - 1
		for r := last + 1; r <= min(last+m.k, m.size-1); r++ {
			v := m.row(r)
			if n < atOnce || r-i > m.k { // not all of them reach it
				for a := max(i, r-m.k); a <= last; a++ {
					u := m.row(a)[r-a:]
					f := u[0]
					for c, x := range u {
						v[c] -= float64(f * x)
					}
				}
				continue
			}
			takeFour(v, m.row(i)[r-i:], m.row(i + 1)[r-i-1:], m.row(i + 2)[r-i-2:], m.row(i + 3)[r-i-3:])
		}
	}
	return true
}

// takeFour takes four rows, each times its first number, from v. They grow longer by one from
// the first to the last.
func takeFour(v, a, b, c, d []float64) {
	n := len(a)
	fa, fb, fc, fd := a[0], b[0], c[0], d[0]
	w, b4, c4, d4 := v[:n], b[:n], c[:n], d[:n]
	for i, x := range a {
		w[i] = w[i] - float64(fa*x) - float64(fb*b4[i]) - float64(fc*c4[i]) - float64(fd*d4[i])
	}
	v[n] = v[n] - float64(fb*b[n]) - float64(fc*c[n]) - float64(fd*d[n])
	v[n+1] = v[n+1] - float64(fc*c[n+1]) - float64(fd*d[n+1])
	v[n+2] -= float64(fd * d[n+2])
}

// solve puts into x the solution of the factorised matrix for the right-hand side x.
func (m banded) solve(x []float64) {
	for i := range m.size {
		u := m.row(i)
		x[i] /= u[0]
		below := x[i+1 : min(i+m.k+1, m.size)]
		f := x[i]
		for j := range below {
			below[j] -= float64(f * u[j+1])
		}
	}
	for i := m.size - 1; i >= 0; i-- {
		u := m.row(i)
		below := x[i+1 : min(i+m.k+1, m.size)]
		sum := x[i]
		for j, y := range below {
			sum -= float64(u[j+1] * y)
		}
		x[i] = sum / u[0]
	}
}
