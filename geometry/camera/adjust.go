package camera

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	g "maskloft/geometry"
)

// refined returns the camera of least sum of squares near a start; false where it
// does not settle with every sight ahead of it.
func refined(sights []Sight, c Camera, w way) (solution, bool) {
	weights := make([]float64, len(sights))
	chi := math.Inf(1)
	for range 6 { // what a position's own error weighs hangs on its depth
		from, settled := c, true
		for i, s := range sights {
			settled = settled && s.Off == 0
			weights[i] = 1 / c.spread(s)
		}
		var ok bool
		if c, chi, ok = descended(sights, weights, c, w); !ok {
			return solution{}, false
		}
		if settled || c.At.To(from.At) < g.Length(1e-9*(1+math.Abs(c.Depth(sights[0].At)))) {
			break
		}
	}
	return solution{c, chi}, !math.IsNaN(chi)
}

// descended goes down to the least sum of squares with the given weights.
func descended(sights []Sight, weights []float64, c Camera, w way) (Camera, float64, bool) {
	chi, ok := sumOfSquares(sights, weights, c)
	if !ok {
		return c, chi, false
	}
	damping := 1e-3
	for range 100 {
		e, ok := equations(sights, weights, c, w)
		if !ok {
			return c, chi, false
		}
		for ; ; damping *= 8 {
			if damping > 1e9 {
				return c, chi, true // nothing near is better
			}
			step, ok := e.step(damping)
			if ok && w.stays(c, step) { // at the end of what an unknown can be
				held := e
				held.n--
				step, ok = held.step(damping)
				step[held.n] = 0
			}
			if !ok {
				continue
			}
			next := w.moved(c, step)
			nextChi, ok := sumOfSquares(sights, weights, next)
			if tiny := w.small(step, c); ok && nextChi <= chi || tiny {
				if ok && nextChi <= chi {
					c, chi = next, nextChi
				}
				if tiny {
					return c, chi, true
				}
				damping = math.Max(damping/10, 1e-12)
				break
			}
		}
	}
	return c, chi, true
}

func sumOfSquares(sights []Sight, weights []float64, c Camera) (float64, bool) {
	sum := 0.0
	for i, s := range sights {
		p, ok := c.Project(s.At)
		if !ok {
			return math.Inf(1), false
		}
		d := s.Pixel.Sub(p).Scale(weights[i])
		sum += d.Dot(d)
	}
	return sum, !math.IsNaN(sum)
}

// covariance returns the inverse of the normal equations, times a factor.
//
// Error: the sights do not tell all unknowns.
func covariance(sights []Sight, c Camera, w way, factor float64) ([][]float64, error) {
	weights := make([]float64, len(sights))
	for i, s := range sights {
		weights[i] = 1 / c.spread(s)
	}
	e, ok := equations(sights, weights, c, w)
	var root *mat.Cholesky
	var scale [unknowns]float64
	if ok {
		if e, scale, ok = e.scaled(); ok {
			root, ok = e.factored()
		}
	}
	if !ok {
		return nil, fmt.Errorf("the points do not tell where the camera stood: spread them over more of the picture and in depth")
	}
	return inverseOf(root, scale[:e.n], factor), nil
}

// inverseOf returns the inverse of equations that were scaled, in their own unknowns,
// times a factor.
func inverseOf(root *mat.Cholesky, scale []float64, factor float64) [][]float64 {
	out := make([][]float64, len(scale))
	for i := range out {
		unit := make([]float64, len(scale))
		unit[i] = 1
		out[i] = solved(root, unit)
		for k := range out[i] {
			out[i][k] *= factor * scale[i] * scale[k]
		}
	}
	return out
}

// leastPivot is the inverse of the condition, of a matrix with a diagonal of ones,
// below which the unknowns cannot be told apart in float64.
const leastPivot = 1e-13

// factored returns the Cholesky factor of the equations' matrix; false where it is not
// positive, or so nearly not that nothing could be read from it.
func (e normal) factored() (*mat.Cholesky, bool) {
	return factorOf(e.n, func(i, k int) float64 { return e.a[i][k] })
}

// factorOf returns the Cholesky factor of a symmetrical matrix with a diagonal of ones.
func factorOf(n int, at func(i, k int) float64) (*mat.Cholesky, bool) {
	a := mat.NewSymDense(n, nil)
	for i := range n {
		for k := i; k < n; k++ {
			a.SetSym(i, k, at(i, k))
		}
	}
	var root mat.Cholesky
	ok := root.Factorize(a)
	return &root, ok && root.Cond() < 1/leastPivot
}

// solved returns x with the factored matrix times x equal to b.
func solved(root *mat.Cholesky, b []float64) []float64 {
	x := mat.NewVecDense(len(b), nil)
	if err := root.SolveVecTo(x, mat.NewVecDense(len(b), b)); err != nil {
		return make([]float64, len(b)) // worse than leastPivot, which factored refuses
	}
	return x.RawVector().Data
}

// extents returns the roots of the principal moments of the points' scatter, the
// largest first.
func extents(sights []Sight) (long, middle, short float64) {
	v, _ := scatter(sights)
	root := func(x float64) float64 { return math.Sqrt(math.Max(0, x)) }
	return root(v[2]), root(v[1]), root(v[0])
}

// normalOf returns the normal of the plane that the sights lie in; false where they do
// not.
func normalOf(sights []Sight) (g.Vec3, bool) {
	v, normal := scatter(sights)
	return normal, v[0] < flat*flat*v[2]
}

// scatter returns the principal moments of the points, the least first, and the
// direction of the least.
func scatter(sights []Sight) ([]float64, g.Vec3) {
	var mean g.Vec3
	for _, s := range sights {
		mean = mean.Add(s.At.Vec().Scale(1 / float64(len(sights))))
	}
	m := mat.NewSymDense(3, nil)
	for _, s := range sights {
		d := s.At.Vec().Sub(mean)
		x := [3]float64{d.X, d.Y, d.Z}
		for i := range 3 {
			for k := i; k < 3; k++ {
				m.SetSym(i, k, m.At(i, k)+float64(x[i]*x[k]))
			}
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(m, true) {
		return make([]float64, 3), g.Vec3{}
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	return eigen.Values(nil), g.Vec3{X: vectors.At(0, 0), Y: vectors.At(1, 0), Z: vectors.At(2, 0)}
}
