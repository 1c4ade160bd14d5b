package geometry

import "math"

// straightish tells whether an arc bends so little that it is a gentle function of the
// way along its chord.
func straightish(a *arc) bool {
	d := a.p[3].Sub(a.p[0])
	return 32*chordSlack(&a.p) <= max(math.Abs(d.X), math.Abs(d.Y))
}

// alongside is two nearly straight arcs that run side by side, seen as heights over the
// axis that is nearest to their way.
type alongside struct {
	c    *cubicPair
	a, b *arc
	u, v [2][4]float64 // control values along the axis and across it, of each
}

// alongside finds where two nearly straight arcs that run side by side cross or touch:
// where the difference of their heights is zero.
func (c *cubicPair) alongside(a, b *arc) {
	d := a.p[3].Sub(a.p[0])
	x := alongside{c: c, a: a, b: b}
	for i, z := range [2]*arc{a, b} {
		for j, p := range z.p {
			x.u[i][j], x.v[i][j] = p.X, p.Y
			if math.Abs(d.Y) > math.Abs(d.X) {
				x.u[i][j], x.v[i][j] = p.Y, p.X
			}
		}
	}
	lo := max(min(x.u[0][0], x.u[0][3]), min(x.u[1][0], x.u[1][3]))
	hi := min(max(x.u[0][0], x.u[0][3]), max(x.u[1][0], x.u[1][3]))
	if hi-lo <= apart {
		return // end to end: what they have in common is an end of both
	}
	x.between(lo, hi, x.apart(lo), x.apart(hi))
}

// params returns the parameters, from 0 to 1, of the two where they stand over w.
func (x *alongside) params(w float64) (p [2]float64) {
	for i := range p {
		switch u := &x.u[i]; {
		case w == u[0]:
		case w == u[3]:
			p[i] = 1
		default:
			p[i] = max(0, min(1, risingRoot(u, w)))
		}
	}
	return p
}

// apart returns by how much the first arc is higher than the second over w.
func (x *alongside) apart(w float64) float64 {
	p := x.params(w)
	// Differences first: heights are far larger than what they differ by.
	o := x.v[1][0]
	h := [2]float64{}
	for i := range h {
		v := x.v[i]
		for j := range v {
			v[j] -= o
		}
		h[i] = bernstein(&v, p[i])
	}
	return h[0] - h[1]
}

// between looks for crossings over the stretch from lo to hi, where the arcs are g0 and
// g1 apart. A cubic through four of its heights is taken for the difference where it
// agrees with a fifth; where not, the stretch is halved.
func (x *alongside) between(lo, hi, g0, g1 float64) {
	if x.c.m.steps--; x.c.m.steps <= 0 {
		return
	}
	at := func(f float64) float64 { return lo + float64(f*(hi-lo)) }
	ga, gm, gb := x.apart(at(0.25)), x.apart(at(0.5)), x.apart(at(0.75))
	if max(math.Abs(g0), math.Abs(ga), math.Abs(gm), math.Abs(gb), math.Abs(g1)) <= touchNear {
		x.touch(at(0.5), 2*(hi-lo))
		return
	}
	// The cubic through 0, 1/4, 3/4 and 1, by its control values (derived).
	f := [4]float64{g0, 0, 0, g1}
	ra := (float64(64*ga) - float64(27*g0) - g1) / 9
	rb := (float64(64*gb) - g0 - float64(27*g1)) / 9
	f[1], f[2] = (float64(3*ra)-rb)/8, (float64(3*rb)-ra)/8
	off := math.Abs(bernstein(&f, 0.5) - gm)
	if least, most := min(f[0], f[1], f[2], f[3]), max(f[0], f[1], f[2], f[3]); off < most/16 && least > 4*off+apart || off < -least/16 && most < -4*off-apart {
		return
	}
	if off > touchNear/8 && hi-lo > shortest {
		m := at(0.5)
		x.between(lo, m, g0, gm)
		x.between(m, hi, gm, g1)
		return
	}
	cuts, n := turns(&f)
	last, g := 0.0, g0
	for i := 1; i < n; i++ {
		next := cuts[i]
		h := g1
		if i < n-1 {
			if h = x.apart(at(next)); math.Abs(h) <= touchNear {
				x.touch(at(next), 0.01*(hi-lo))
			}
		}
		if g < 0 && h > 0 || g > 0 && h < 0 {
			x.cross(at(last), at(next), g)
		}
		last, g = next, h
	}
}

// turns returns 0, the places between 0 and 1 where a cubic turns, and 1, and how many
// these are.
func turns(f *[4]float64) (cuts [4]float64, n int) {
	ts, n := cubicExtremes(f)
	copy(cuts[1:], ts[:n])
	cuts[n+1] = 1
	return cuts, n + 2
}

// cross marks the crossing between lo, where the arcs are g apart, and hi, where they are
// apart the other way.
func (x *alongside) cross(lo, hi, g float64) {
	for range 60 {
		m := (lo + hi) / 2
		if m <= lo || m >= hi {
			break
		}
		if h := x.apart(m); h == 0 {
			lo, hi = m, m
		} else if (h > 0) == (g > 0) {
			lo = m
		} else {
			hi = m
		}
	}
	s, t := x.curveParams((lo + hi) / 2)
	x.c.m.add(x.c.p, x.c.q, s, t, x.c.k.at(s))
}

// touch marks a place where the arcs touch.
func (x *alongside) touch(w, reach float64) {
	s, t := x.curveParams(w)
	x.c.touch(s, t, max(reach, 8*shortest))
}

// curveParams returns the parameters on the whole curves of the place over w.
func (x *alongside) curveParams(w float64) (s, t float64) {
	p := x.params(w)
	return x.a.t0 + float64(p[0]*(x.a.t1-x.a.t0)), x.b.t0 + float64(p[1]*(x.b.t1-x.b.t0))
}
