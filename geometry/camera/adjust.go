package camera

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	g "maskloft/geometry"
)

// refined returns the camera of least sum of squares near a start; false where it
// does not settle with every sight ahead of it.
func refined(sights []Sight, c Camera, focal bool) (solution, bool) {
	weights := make([]float64, len(sights))
	chi := math.Inf(1)
	for range 6 { // what a position's own error weighs hangs on its depth
		from, settled := c, true
		for i, s := range sights {
			settled = settled && s.Off == 0
			weights[i] = 1 / c.spread(s)
		}
		var ok bool
		if c, chi, ok = descended(sights, weights, c, focal); !ok {
			return solution{}, false
		}
		if settled || c.At.To(from.At) < 1e-9 {
			break
		}
	}
	return solution{c, chi}, !math.IsNaN(chi)
}

// descended goes down to the least sum of squares with the given weights.
func descended(sights []Sight, weights []float64, c Camera, focal bool) (Camera, float64, bool) {
	chi, ok := sumOfSquares(sights, weights, c)
	if !ok {
		return c, chi, false
	}
	damping := 1e-3
	for range 100 {
		e, ok := equations(sights, weights, c, focal)
		if !ok {
			return c, chi, false
		}
		for ; ; damping *= 8 {
			if damping > 1e9 {
				return c, chi, true // nothing near is better
			}
			step, ok := e.step(damping)
			if !ok {
				continue
			}
			next := c.moved(step, e.n)
			nextChi, ok := sumOfSquares(sights, weights, next)
			if tiny := small(step, c, sights); ok && nextChi <= chi || tiny {
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

// small tells whether a step moves the camera by nothing that matters: 1e-9 rad,
// and 1e-9 of its distance.
func small(step [unknowns]float64, c Camera, sights []Sight) bool {
	for i, x := range step {
		most := 1e-9
		if i >= 3 && i < 6 {
			most *= 1 + math.Abs(c.Depth(sights[0].At))
		}
		if math.Abs(x) > most {
			return false
		}
	}
	return true
}

// moved returns the camera changed by the unknowns: three angles, three inches, and
// the logarithm of the principal distance if there is a seventh.
func (c Camera) moved(d [unknowns]float64, n int) Camera {
	c = c.Turned(g.Vec3{X: d[0], Y: d[1], Z: d[2]})
	c.At = g.PositionOf(c.At.Vec().Add(g.Vec3{X: d[3], Y: d[4], Z: d[5]}))
	if n > 6 {
		c.Focal *= math.Exp(math.Max(-1, math.Min(1, d[6])))
	}
	return c
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

// slopes returns how the pixel of a position changes with each unknown: columns of
// the Jacobian for x and for y.
func (c Camera) slopes(p g.Position, focal bool) (x, y [unknowns]float64, ok bool) {
	q := c.in(p)
	if !(q.Z > leastDepth) {
		return x, y, false
	}
	u, v := q.X/q.Z, q.Y/q.Z
	r2 := u*u + v*v
	k := 1 + c.K1*r2
	// pixel by (u, v)
	xu, xv := c.turn()*c.Focal*(k+2*c.K1*u*u), c.turn()*c.Focal*2*c.K1*u*v
	yu, yv := c.Focal*2*c.K1*u*v, c.Focal*(k+2*c.K1*v*v)
	for i, e := range [3]g.Vec3{{X: 1}, {Y: 1}, {Z: 1}} {
		// of the point in the camera's axes, as the camera turns and as it moves
		for k, d := range [2]g.Vec3{e.Cross(q), {X: -c.Right.Dot(e), Y: -c.Down.Dot(e), Z: -c.Ahead.Dot(e)}} {
			du, dv := (d.X-u*d.Z)/q.Z, (d.Y-v*d.Z)/q.Z
			x[i+3*k], y[i+3*k] = xu*du+xv*dv, yu*du+yv*dv
		}
	}
	if focal {
		x[6], y[6] = c.turn()*c.Focal*k*u, c.Focal*k*v
	}
	return x, y, true
}

// covariance returns the inverse of the normal equations, times a factor.
//
// Error: the sights do not tell all unknowns.
func covariance(sights []Sight, c Camera, focal bool, factor float64) ([][]float64, error) {
	weights := make([]float64, len(sights))
	for i, s := range sights {
		weights[i] = 1 / c.spread(s)
	}
	e, ok := equations(sights, weights, c, focal)
	var root triangle
	var scale [unknowns]float64
	if ok {
		if e, scale, ok = e.scaled(); ok {
			root, ok = e.cholesky()
		}
	}
	if !ok {
		return nil, fmt.Errorf("the points do not tell where the camera stood: spread them over more of the picture and in depth")
	}
	out := make([][]float64, e.n)
	for i := range out {
		var unit [unknowns]float64
		unit[i] = 1
		column := root.solve(e.n, unit)
		out[i] = make([]float64, e.n)
		for k := range out[i] {
			out[i][k] = factor * column[k] * scale[i] * scale[k]
		}
	}
	return out, nil
}

// extents returns the roots of the principal moments of the points' scatter, the
// largest first.
func extents(sights []Sight) (long, middle, short float64) {
	var mean g.Vec3
	for _, s := range sights {
		mean = mean.Add(s.At.Vec().Scale(1 / float64(len(sights))))
	}
	scatter := mat.NewSymDense(3, nil)
	for _, s := range sights {
		d := s.At.Vec().Sub(mean)
		x := [3]float64{d.X, d.Y, d.Z}
		for i := range 3 {
			for k := i; k < 3; k++ {
				scatter.SetSym(i, k, scatter.At(i, k)+x[i]*x[k])
			}
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(scatter, false) {
		return 0, 0, 0
	}
	v := eigen.Values(nil)
	root := func(x float64) float64 { return math.Sqrt(math.Max(0, x)) }
	return root(v[2]), root(v[1]), root(v[0])
}
