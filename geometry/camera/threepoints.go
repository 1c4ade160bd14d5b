package camera

import (
	"math"
	"math/cmplx"

	g "maskloft/geometry"
)

// fromThree returns the cameras, at most four, that see three positions in three
// directions (unit vectors in the camera's axes): Grunert's quartic for the ratio
// of two distances (Grunert 1841; in the form of Haralick, Lee, Ottenberg and
// Nolle, Review and Analysis of Solutions of the Three Point Perspective Pose
// Estimation Problem, IJCV 13, 1994, section 2.1; from memory, and held against
// known cameras by the tests). None where the three lie on one line.
func fromThree(at [3]g.Position, dir [3]g.Vec3, like Camera) []Camera {
	p := [3]g.Vec3{at[0].Vec(), at[1].Vec(), at[2].Vec()}
	a2 := square(p[1].Sub(p[2]))
	b2 := square(p[0].Sub(p[2]))
	c2 := square(p[0].Sub(p[1]))
	if area := p[1].Sub(p[0]).Cross(p[2].Sub(p[0])).Norm(); area < 1e-6*max(a2, b2, c2) || b2 == 0 {
		return nil
	}
	ca, cb, cc := dir[1].Dot(dir[2]), dir[0].Dot(dir[2]), dir[0].Dot(dir[1])
	q, s := (a2-c2)/b2, (a2+c2)/b2
	roots := quarticRoots([5]float64{
		float64((1+q)*(1+q)) - float64(4*a2/b2*cc*cc),
		4 * (float64(-q*(1+q)*cb) + float64(2*a2/b2*cc*cc*cb) - float64((1-s)*ca*cc)),
		2 * (float64(q*q) - 1 + float64(2*q*q*cb*cb) + float64(2*(b2-c2)/b2*ca*ca) - float64(4*s*ca*cb*cc) + float64(2*(b2-a2)/b2*cc*cc)),
		4 * (float64(q*(1-q)*cb) - float64((1-s)*ca*cc) + float64(2*c2/b2*ca*ca*cb)),
		float64((q-1)*(q-1)) - float64(4*c2/b2*ca*ca),
	})
	var out []Camera
	for _, root := range roots {
		v := real(root)
		if math.Abs(imag(root)) > 1e-3*cmplx.Abs(root) || v <= 0 { // nearly double roots part into a pair
			continue
		}
		den := 2 * (cc - float64(v*ca))
		s1 := 1 + float64(v*v) - float64(2*v*cb)
		if den == 0 || s1 <= 0 {
			continue
		}
		u := (float64((q-1)*v*v) - float64(2*q*cb*v) + 1 + q) / den
		if u <= 0 {
			continue
		}
		d := math.Sqrt(b2 / s1)
		out = append(out, placed(p, [3]g.Vec3{dir[0].Scale(d), dir[1].Scale(u * d), dir[2].Scale(v * d)}, like))
	}
	return out
}

func square(v g.Vec3) float64 { return v.Dot(v) }

// placed returns the camera in whose axes the three positions p lie at q: the
// triangles are laid on one another by their first point, first side and plane.
func placed(p, q [3]g.Vec3, like Camera) Camera {
	e, f := frameOf(p), frameOf(q)
	c := like
	// Right, Down and Ahead are the rows of sum f_k e_k^T
	for k := range e {
		if k == 0 {
			c.Right, c.Down, c.Ahead = g.Vec3{}, g.Vec3{}, g.Vec3{}
		}
		c.Right = c.Right.Add(e[k].Scale(f[k].X))
		c.Down = c.Down.Add(e[k].Scale(f[k].Y))
		c.Ahead = c.Ahead.Add(e[k].Scale(f[k].Z))
	}
	back := c.Right.Scale(q[0].X).Add(c.Down.Scale(q[0].Y)).Add(c.Ahead.Scale(q[0].Z))
	c.At = g.PositionOf(p[0].Sub(back))
	return c
}

func frameOf(p [3]g.Vec3) [3]g.Vec3 {
	x := p[1].Sub(p[0]).Unit()
	z := x.Cross(p[2].Sub(p[0])).Unit()
	return [3]g.Vec3{x, z.Cross(x), z}
}

// quarticRoots returns the roots of a polynomial, lowest coefficient first, all at
// once (Durand 1960, Kerner 1966; from memory). A highest coefficient of nearly
// zero gives one root very far out, which no distance has.
func quarticRoots(c [5]float64) []complex128 {
	most := 0.0
	for _, x := range c {
		most = math.Max(most, math.Abs(x))
	}
	if most == 0 || math.IsNaN(most) || math.IsInf(most, 0) {
		return nil
	}
	if math.Abs(c[4]) < 1e-12*most {
		c[4] = math.Copysign(1e-12*most, c[4])
	}
	at := func(x complex128) complex128 {
		y := complex(c[4], 0)
		for i := 3; i >= 0; i-- {
			y = y*x + complex(c[i], 0)
		}
		return y / complex(c[4], 0)
	}
	roots := []complex128{1, 0.4 + 0.9i, -0.65 + 0.72i, -0.908 - 0.297i} // powers of 0.4 + 0.9i, as is usual
	for range 60 {
		moved := 0.0
		for i := range roots {
			d := complex(1, 0)
			for k := range roots {
				if k != i {
					d *= roots[i] - roots[k]
				}
			}
			if d == 0 {
				d = 1e-30
			}
			step := at(roots[i]) / d
			roots[i] -= step
			moved = math.Max(moved, cmplx.Abs(step)/(1+cmplx.Abs(roots[i])))
		}
		if moved < 1e-13 {
			break
		}
	}
	return roots
}
