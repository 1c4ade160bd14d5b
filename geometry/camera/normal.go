package camera

import "math"

// unknowns is the largest number of unknowns; see [Camera.moved] and [about].
const unknowns = 7

// normal are the normal equations of one step: the first n rows and columns count.
type normal struct {
	n     int
	a     [unknowns][unknowns]float64
	right [unknowns]float64
}

// equations returns the normal equations of one step, in the unknowns of a way to move.
func equations(sights []Sight, weights []float64, c Camera, w way) (normal, bool) {
	e := normal{n: w.count()}
	for i, s := range sights {
		p, seen := c.Project(s.At)
		x, y, ok := w.slopes(c, s.At)
		if !seen || !ok {
			return e, false
		}
		left := s.Pixel.Sub(p)
		weight := weights[i] * weights[i]
		for a := range e.n {
			e.right[a] += float64(weight * (float64(x[a]*left.X) + float64(y[a]*left.Y)))
			for b := range e.n {
				e.a[a][b] += float64(weight * (float64(x[a]*x[b]) + float64(y[a]*y[b])))
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
	root, ok := s.factored()
	if !ok {
		return x, false
	}
	for i, v := range solved(root, s.right[:s.n]) {
		x[i] = v * scale[i]
	}
	return x, true
}
