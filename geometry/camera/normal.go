package camera

import "math"

// unknowns is the largest number of unknowns: three angles, three inches, and the
// logarithm of the principal distance.
const unknowns = 7

// normal are the normal equations of one step: the first n rows and columns count.
type normal struct {
	n     int
	a     [unknowns][unknowns]float64
	right [unknowns]float64
}

// equations returns the normal equations of one step.
func equations(sights []Sight, weights []float64, c Camera, focal bool) (normal, bool) {
	e := normal{n: unknowns - 1}
	if focal {
		e.n = unknowns
	}
	for i, s := range sights {
		p, seen := c.Project(s.At)
		x, y, ok := c.slopes(s.At, focal)
		if !seen || !ok {
			return e, false
		}
		left := s.Pixel.Sub(p)
		w := weights[i] * weights[i]
		for a := range e.n {
			e.right[a] += w * (x[a]*left.X + y[a]*left.Y)
			for b := range e.n {
				e.a[a][b] += w * (x[a]*x[b] + y[a]*y[b])
			}
		}
	}
	return e, true
}

// scaled returns the equations with a diagonal of ones, so that angles, inches and
// logarithms weigh alike, and what each unknown is then to be multiplied by.
func (e normal) scaled() (normal, [unknowns]float64, bool) {
	var scale [unknowns]float64
	for i := range e.n {
		if d := e.a[i][i]; !(d > 0) || math.IsInf(d, 0) {
			return e, scale, false
		}
		scale[i] = 1 / math.Sqrt(e.a[i][i])
	}
	for i := range e.n {
		e.right[i] *= scale[i]
		for k := range e.n {
			e.a[i][k] *= scale[i] * scale[k]
		}
	}
	return e, scale, true
}

// step solves the equations with each diagonal term enlarged (Marquardt 1963).
func (e normal) step(damping float64) ([unknowns]float64, bool) {
	var x [unknowns]float64
	s, scale, ok := e.scaled()
	if !ok {
		return x, false
	}
	for i := range s.n {
		s.a[i][i] = 1 + damping
	}
	root, ok := s.cholesky()
	if !ok {
		return x, false
	}
	x = root.solve(s.n, s.right)
	for i := range s.n {
		x[i] *= scale[i]
	}
	return x, true
}

// triangle is the lower root of a matrix: it times its own transpose is the matrix.
type triangle [unknowns][unknowns]float64

// leastPivot is the square of a pivot, of a matrix with a diagonal of ones, below
// which the unknowns cannot be told apart in float64.
const leastPivot = 1e-13

// cholesky returns the root of the equations' matrix; false where it is not
// positive, or so nearly not that nothing could be read from it.
func (e normal) cholesky() (triangle, bool) {
	var l triangle
	for i := range e.n {
		for k := 0; k <= i; k++ {
			sum := e.a[i][k]
			for m := range k {
				sum -= l[i][m] * l[k][m]
			}
			if i > k {
				l[i][k] = sum / l[k][k]
				continue
			}
			if !(sum > leastPivot) {
				return l, false
			}
			l[i][i] = math.Sqrt(sum)
		}
	}
	return l, true
}

// solve returns x with the matrix times x equal to b.
func (l *triangle) solve(n int, b [unknowns]float64) [unknowns]float64 {
	for i := range n {
		for m := range i {
			b[i] -= l[i][m] * b[m]
		}
		b[i] /= l[i][i]
	}
	for i := n - 1; i >= 0; i-- {
		for m := i + 1; m < n; m++ {
			b[i] -= l[m][i] * b[m]
		}
		b[i] /= l[i][i]
	}
	return b
}
