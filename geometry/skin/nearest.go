package skin

import (
	"math"

	g "maskloft/geometry"
)

// Nearest returns the point of the skin nearest to p in the section plane
// through p (the end section where p lies beyond), and its distance from p.
func Nearest(s Surface, p g.Vec3) (UV, g.Length) {
	lo, hi := Extent(s)
	u := max(lo, min(hi, p.X))
	_, vb, _ := s.Breaks()
	best, least := UV{u, vb[0]}, math.Inf(1)
	for k := 0; k+1 < len(vb); k++ {
		mid := UV{u, (vb[k] + vb[k+1]) / 2}
		dist := func(v float64) float64 {
			q, _ := s.At(UV{u, v}, mid)
			return q.Sub(p).Norm()
		}
		const n = 64
		step := (vb[k+1] - vb[k]) / n
		at, d := vb[k], math.Inf(1)
		for i := 0; i <= n; i++ {
			if v := vb[k] + float64(step*float64(i)); dist(v) < d {
				at, d = v, dist(v)
			}
		}
		if v := golden(dist, max(vb[k], at-step), min(vb[k+1], at+step)); dist(v) < least {
			best, least = UV{u, v}, dist(v)
		}
	}
	return best, g.Length(least)
}

// golden returns where f, with one minimum in [a, b], is least: golden-section
// search down to the rounding of f (Kiefer 1953).
func golden(f func(float64) float64, a, b float64) float64 {
	const r = 0.6180339887498949
	c, d := b-float64(r*(b-a)), a+float64(r*(b-a))
	fc, fd := f(c), f(d)
	for i := 0; i < 60; i++ {
		if fc <= fd {
			b, d, fd = d, c, fc
			c = b - float64(r*(b-a))
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + float64(r*(b-a))
			fd = f(d)
		}
	}
	// an end of the interval may be the minimum
	m := (a + b) / 2
	for _, x := range []float64{a, b} {
		if f(x) < f(m) {
			m = x
		}
	}
	return m
}
