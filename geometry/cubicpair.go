package geometry

import (
	"math"
	"slices"
)

// arc is a part of a curved piece: its parameters on the curve and its control points.
type arc struct {
	t0, t1 float64
	p      [4]Point
}

// cubicPair finds where two curved pieces meet: both are halved as long as their boxes
// and the strips along their chords have something in common; where no direction of one
// is a direction of the other they cross once at most, and Newton's method finds it.
type cubicPair struct {
	m     *meetings
	p, q  *piece
	k, o  *sourceCurve
	joint [2]float64 // parameters of p at which the two are joined; below 0: they are not
	known []Point    // places that they are known to have in common
}

// apart is how far two arcs stand apart at least when they are told not to meet: rounding.
const apart = 1e-12

// shortest is the size below which arcs that were not told apart are taken to touch.
const shortest = weldDistance / 2

// touch marks a place where the two touch, once for all that follow one another within
// a reach.
func (c *cubicPair) touch(s, t, reach float64) {
	at := c.k.at(s)
	near := slices.ContainsFunc(c.known, func(p Point) bool { return at.Dist(p) <= reach })
	if c.known = append(c.known, at); !near {
		c.m.add(c.p, c.q, s, t, at)
	}
}

func (c *cubicPair) meet(a, b *arc) {
	if c.m.steps--; c.m.steps <= 0 {
		return
	}
	boxA, boxB := cornerBox(a), cornerBox(b)
	if !boxA.Touches(boxB, apart) || asideOf(a, b) || asideOf(b, a) {
		return
	}
	turned := turn(a, b)
	if turned != 0 {
		if (c.joins(a.t0) || c.joins(a.t1)) && joinedEnds(a, b) {
			return // apart from the joint, each stays on its side of the other
		}
		if s, t, ok := crossing(c.k, c.o, (a.t0+a.t1)/2, (b.t0+b.t1)/2); ok && within(s, a) && within(t, b) {
			s, t = max(0, min(1, s)), max(0, min(1, t))
			c.m.add(c.p, c.q, s, t, c.k.at(s))
			return
		}
	}
	sizeA, sizeB := max(boxA.Width(), boxA.Height()), max(boxB.Width(), boxB.Height())
	if max(sizeA, sizeB) < shortest {
		c.touch((a.t0+a.t1)/2, (b.t0+b.t1)/2, 8*shortest)
		return
	}
	if turned == 0 && straightish(a) && straightish(b) {
		c.alongside(a, b)
		return
	}
	if sizeA >= sizeB {
		a0, a1 := a.halves()
		c.meet(&a0, b)
		c.meet(&a1, b)
		return
	}
	b0, b1 := b.halves()
	c.meet(a, &b0)
	c.meet(a, &b1)
}

func (c *cubicPair) joins(t float64) bool { return t == c.joint[0] || t == c.joint[1] }

// within tells whether a parameter is of an arc, rounding allowed for.
func within(t float64, a *arc) bool { return t > a.t0-1e-10 && t < a.t1+1e-10 }

// joinedEnds tells whether two arcs have an end in common.
func joinedEnds(a, b *arc) bool {
	return a.p[0] == b.p[0] || a.p[0] == b.p[3] || a.p[3] == b.p[0] || a.p[3] == b.p[3]
}

func cornerBox(a *arc) Rect {
	p, q := a.p[0], a.p[3]
	return Rect{Point{min(p.X, q.X), min(p.Y, q.Y)}, Point{max(p.X, q.X), max(p.Y, q.Y)}}
}

// asideOf tells whether b lies wholly on one side of the strip that a lies in, along
// a's chord.
func asideOf(a, b *arc) bool {
	o, d := a.p[0], a.p[3].Sub(a.p[0])
	n := d.Norm()
	if n == 0 {
		return false
	}
	a1, a2 := d.Cross(a.p[1].Sub(o)), d.Cross(a.p[2].Sub(o))
	b0, b1, b2, b3 := d.Cross(b.p[0].Sub(o)), d.Cross(b.p[1].Sub(o)), d.Cross(b.p[2].Sub(o)), d.Cross(b.p[3].Sub(o))
	return min(b0, b1, b2, b3) > max(0, a1, a2)+float64(apart*n) || max(b0, b1, b2, b3) < min(0, a1, a2)-float64(apart*n)
}

// turn returns the sign of the turn from every direction of a to every direction of b,
// 0 where it is not the same for all or too small to count on.
func turn(a, b *arc) int {
	u := [3]Vec{a.p[1].Sub(a.p[0]), a.p[2].Sub(a.p[1]), a.p[3].Sub(a.p[2])}
	v := [3]Vec{b.p[1].Sub(b.p[0]), b.p[2].Sub(b.p[1]), b.p[3].Sub(b.p[2])}
	sign := 0
	for i := range u {
		for j := range v {
			if u[i] == (Vec{}) || v[j] == (Vec{}) { // a handle of no length gives no direction
				continue
			}
			c := u[i].Cross(v[j])
			switch least := float64(1e-9 * (math.Abs(u[i].X) + math.Abs(u[i].Y)) * (math.Abs(v[j].X) + math.Abs(v[j].Y))); {
			case c > least && sign >= 0:
				sign = 1
			case c < -least && sign <= 0:
				sign = -1
			default:
				return 0
			}
		}
	}
	return sign
}

// halves cuts an arc in the middle of its parameter.
func (a *arc) halves() (l, r arc) {
	mid := func(p, q Point) Point { return Point{(p.X + q.X) / 2, (p.Y + q.Y) / 2} }
	p := &a.p
	p01, p12, p23 := mid(p[0], p[1]), mid(p[1], p[2]), mid(p[2], p[3])
	p012, p123 := mid(p01, p12), mid(p12, p23)
	m, t := mid(p012, p123), (a.t0+a.t1)/2
	return arc{a.t0, t, [4]Point{p[0], p01, p012, m}}, arc{t, a.t1, [4]Point{m, p123, p23, p[3]}}
}

// crossing returns the parameters at which k and o cross, by Newton on the two true
// curves from the start (s, t). A crossing flatter than flattestCrossing is not
// answered: there the place is not determined by the curves.
func crossing(k, o *sourceCurve, s, t float64) (float64, float64, bool) {
	for n := 0; n < 24; n++ {
		f, v, w := o.at(t).Sub(k.at(s)), k.velocity(s), o.velocity(t)
		d := v.Cross(w)
		if math.Abs(d) <= flattestCrossing*v.Norm()*w.Norm() {
			return 0, 0, false
		}
		ds, dt := f.Cross(w)/d, f.Cross(v)/d
		s, t = s+ds, t+dt
		if s < -0.5 || s > 1.5 || t < -0.5 || t > 1.5 {
			return 0, 0, false
		}
		if math.Abs(ds) < 1e-14 && math.Abs(dt) < 1e-14 {
			break
		}
	}
	return s, t, k.at(s).Dist(o.at(t)) < 1e-9
}

// flattestCrossing is the sine of the least angle at which two curves are said
// to cross at a point: at 1e-5 an error of 1e-12 in a curve moves the crossing
// by 1e-7, which is weldDistance.
const flattestCrossing = 1e-5
