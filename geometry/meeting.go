package geometry

import (
	"errors"
	"math"
)

// meeting is a place that two curves have in common, within weldDistance.
type meeting struct {
	i, j int     // the curves, in the plane
	s, t float64 // their parameters there
	p    Point
}

// overlap is a stretch over which two curves lie on one another.
type overlap struct {
	i, j           int
	s0, s1, t0, t1 float64
}

// errClose says that two curves run so near to one another that it cannot be told where
// they cross.
var errClose = errors.New("two outlines run within 1e-7 in of each other without being the same")

// meetings finds what the pieces of a plane have in common.
type meetings struct {
	curves   []sourceCurve
	found    []meeting
	overlaps []overlap
	steps    int // left for the pair at hand
}

// mostSteps is how many steps a pair of curves may take: two that cross take some tens,
// two that run close to one another some hundreds.
const mostSteps = 20_000

// pair finds where two pieces meet. With joined set they follow one another along an
// outline: what they have in common at an end of both is no meeting.
func (m *meetings) pair(p, q *piece, joined bool) error {
	k, o := &m.curves[p.curve], &m.curves[q.curve]
	if inOrder := k.before(o) || (!o.before(k) && p.curve < q.curve) || (p.curve == q.curve && p.t0 < q.t0); !inOrder {
		p, q, k, o = q, p, o, k
	}
	first := len(m.found)
	known, joints := m.ends(p, q, k, o, joined)
	if beside(p.box.Min.X, p.box.Max.X, q.box.Min.X, q.box.Max.X) || beside(p.box.Min.Y, p.box.Max.Y, q.box.Min.Y, q.box.Max.Y) {
		return nil // what runs one way meets the side of its box at an end
	}
	if len(known) > 1 {
		a, b := known[0], known[0]
		for _, c := range known[1:] {
			if c[0] < a[0] {
				a = c
			}
			if c[0] > b[0] {
				b = c
			}
		}
		if a[0] < b[0] && a[1] != b[1] && together(k, o, a[0], b[0], a[1], b[1]) {
			m.overlaps = append(m.overlaps, overlap{p.curve, q.curve, a[0], b[0], a[1], b[1]})
			if len(m.found) == first { // they are joined, and lie on one another
				m.add(p, q, a[0], a[1], k.at(a[0]))
			}
			return nil
		}
	}
	switch {
	case p.line && q.line:
		m.lines(p, q)
		return nil
	case p.line:
		m.lineWith(q, p, func(t, s float64) { m.add(p, q, s, t, k.at(s)) })
		return nil
	case q.line:
		m.lineWith(p, q, func(s, t float64) { m.add(p, q, s, t, k.at(s)) })
		return nil
	}
	m.steps = mostSteps
	c := cubicPair{m: m, p: p, q: q, k: k, o: o, joint: [2]float64{-1, -1}}
	for i := range joints {
		c.joint[i] = known[i][0]
	}
	for _, x := range known {
		c.known = append(c.known, k.at(x[0]))
	}
	c.meet(&arc{p.t0, p.t1, p.p}, &arc{q.t0, q.t1, q.p})
	if m.steps <= 0 {
		return errClose
	}
	return nil
}

// beside tells whether two stretches of an axis have no more than an end in common; two
// lines across the axis at one place may lie on one another.
func beside(lo0, hi0, lo1, hi1 float64) bool {
	return (hi0 <= lo1 || hi1 <= lo0) && (lo0 < hi0 || lo1 < hi1 || lo0 != lo1)
}

func (m *meetings) add(p, q *piece, s, t float64, at Point) {
	m.found = append(m.found, meeting{p.curve, q.curve, s, t, at})
}

// ends finds where an end of one piece lies on the other, and returns the parameters of
// both at each such place, the joints of pieces that follow one another first.
func (m *meetings) ends(p, q *piece, k, o *sourceCurve, joined bool) (known [][2]float64, joints int) {
	if joined {
		for _, a := range [2]int{0, 3} {
			for _, b := range [2]int{0, 3} {
				if p.p[a] == q.p[b] {
					known = append(known, [2]float64{p.end(a), q.end(b)})
				}
			}
		}
	}
	joints = min(2, len(known))
	is := func(s, t float64) bool {
		for _, x := range known[:joints] {
			if x[0] == s || x[1] == t {
				return true
			}
		}
		return false
	}
	for _, a := range [2]int{0, 3} {
		s := p.end(a)
		if t, ok := q.near(o, p.p[a]); ok && !is(s, math.NaN()) && !is(math.NaN(), t) {
			known = append(known, [2]float64{s, t})
			m.add(p, q, s, t, p.p[a])
		}
	}
	for _, b := range [2]int{0, 3} {
		t := q.end(b)
		if s, ok := p.near(k, q.p[b]); ok && !is(math.NaN(), t) && !is(s, math.NaN()) {
			known = append(known, [2]float64{s, t})
			m.add(p, q, s, t, q.p[b])
		}
	}
	return known, joints
}

// end returns the parameter of an end, by the number of its control point.
func (q *piece) end(a int) float64 {
	if a == 0 {
		return q.t0
	}
	return q.t1
}

// together tells whether k from s0 to s1 and o from t0 to t1 are one curve.
func together(k, o *sourceCurve, s0, s1, t0, t1 float64) bool {
	lo, hi := min(t0, t1), max(t0, t1)
	for _, f := range [3]float64{0.21, 0.5, 0.77} {
		q := k.at(s0 + float64(f*(s1-s0)))
		t := t0 + float64(f*(t1-t0))
		if o.kind == Line {
			d := o.b.Sub(o.a)
			t = q.Sub(o.a).Dot(d) / d.Dot(d)
		} else {
			t = o.project(q, t)
		}
		if t < lo || t > hi || o.at(t).Dist(q) > weldDistance {
			return false
		}
	}
	return true
}

// lines finds where two straight pieces cross.
func (m *meetings) lines(p, q *piece) {
	v, w := p.p[3].Sub(p.p[0]), q.p[3].Sub(q.p[0])
	d, f := v.Cross(w), q.p[0].Sub(p.p[0])
	if d == 0 {
		return
	}
	s, t := f.Cross(w)/d, f.Cross(v)/d
	if s > 0 && s < 1 && t > 0 && t < 1 {
		m.add(p, q, s, t, m.curves[p.curve].at(s))
	}
}

// touchNear is how far apart a line and the place where a curve comes nearest to it may
// be for the two to touch there: rounding, far below weldDistance.
const touchNear = 1e-9

// lineWith finds where the curved piece q crosses or touches the line l; put takes the
// parameters of curve and line.
func (m *meetings) lineWith(q, l *piece, put func(s, t float64)) {
	a, d := l.p[0], l.p[3].Sub(l.p[0])
	n := d.Norm()
	var f [4]float64 // distance of the curve from the line, by its control points
	for i, p := range q.p {
		f[i] = d.Cross(p.Sub(a)) / n
	}
	if min(f[0], f[1], f[2], f[3]) > touchNear || max(f[0], f[1], f[2], f[3]) < -touchNear {
		return
	}
	cuts, c := turns(&f)
	give := func(u float64) {
		s := q.t0 + float64(u*(q.t1-q.t0))
		p := m.curves[q.curve].at(s)
		if t := p.Sub(a).Dot(d) / float64(n*n); t > 0 && t < 1 {
			put(s, t)
		}
	}
	for i := 1; i < c; i++ {
		g0, g1 := bernstein(&f, cuts[i-1]), bernstein(&f, cuts[i])
		switch {
		case g0 < 0 && g1 > 0 || g0 > 0 && g1 < 0:
			give(rootWithin(&f, 0, cuts[i-1], cuts[i], (cuts[i-1]+cuts[i])/2, g1 > 0))
		case i < c-1 && math.Abs(g1) <= touchNear:
			give(cuts[i])
		}
	}
}
