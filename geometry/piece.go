package geometry

import "math"

// piece is a stretch of a source curve that runs one way in x and one way in y, so
// that its box is that of its ends, and a straight line along an axis meets it once.
type piece struct {
	curve  int // in the plane that holds it
	t0, t1 float64
	p      [4]Point // control points; of a line the first and the last
	line   bool
	box    Rect
	slack  float64 // no point is farther from the chord than this

	contour, place int // whose outline it is part of, and which piece of it in the way it runs
}

// extremeNear is how near to an end, in the parameter, an extreme of a curve is not cut:
// the curve passes it by the square of that, far below rounding.
const extremeNear = 1e-8

// cutPieces appends the pieces of curve k.
func (k *sourceCurve) cutPieces(out []piece, curve int) []piece {
	if k.kind == Line {
		return append(out, newPiece(piece{curve: curve, t1: 1, p: [4]Point{k.a, {}, {}, k.b}, line: true}))
	}
	var cuts [6]float64
	n := 1
	for _, w := range [2][4]float64{{k.a.X, k.c1.X, k.c2.X, k.b.X}, {k.a.Y, k.c1.Y, k.c2.Y, k.b.Y}} {
		ts, m := cubicExtremes(&w)
		for _, t := range ts[:m] {
			if t > extremeNear && t < 1-extremeNear {
				cuts[n] = t
				n++
			}
		}
	}
	for i := 2; i < n; i++ {
		for j := i; j > 1 && cuts[j] < cuts[j-1]; j-- {
			cuts[j], cuts[j-1] = cuts[j-1], cuts[j]
		}
	}
	cuts[n] = 1
	from := k.a
	for i := 1; i <= n; i++ {
		t0, t1 := cuts[i-1], cuts[i]
		if t1-t0 < extremeNear && i < n {
			cuts[i] = t0
			continue
		}
		to := k.at(t1)
		q := piece{curve: curve, t0: t0, t1: t1, p: [4]Point{from, k.c1, k.c2, to}}
		if t0 > 0 || t1 < 1 {
			q.p[1], q.p[2] = k.blossom(t0, t0, t1), k.blossom(t0, t1, t1)
		}
		out = append(out, newPiece(q))
		from = to
	}
	return out
}

// newPiece fills in the box and the slack.
func newPiece(q piece) piece {
	a, b := q.p[0], q.p[3]
	q.box = Rect{Point{min(a.X, b.X), min(a.Y, b.Y)}, Point{max(a.X, b.X), max(a.Y, b.Y)}}
	if !q.line {
		q.slack = chordSlack(&q.p)
	}
	return q
}

// chordSlack bounds the distance of a cubic from its chord: three quarters of that of
// its control points (the weights of the two middle ones add to that at most).
func chordSlack(p *[4]Point) float64 {
	d := p[3].Sub(p[0])
	n := d.Dot(d)
	if n == 0 {
		return max(p[1].Dist(p[0]), p[2].Dist(p[0]))
	}
	return 0.75 * max(math.Abs(d.Cross(p[1].Sub(p[0]))), math.Abs(d.Cross(p[2].Sub(p[0])))) / math.Sqrt(n)
}

// twoRoots returns the real roots of a t^2 + b t + c, and how many.
func twoRoots(a, b, c float64) (ts [2]float64, n int) {
	if math.Abs(a) < 1e-12*(math.Abs(b)+math.Abs(c)) || a == 0 {
		if b == 0 {
			return ts, 0
		}
		return [2]float64{-c / b}, 1
	}
	d := float64(b*b) - float64(4*a*c)
	if d < 0 {
		return ts, 0
	}
	q := -(b + math.Copysign(math.Sqrt(d), b)) / 2
	if q == 0 {
		return ts, 1
	}
	return [2]float64{q / a, c / q}, 2
}

// across returns the x at which a piece that runs over the height y stands there; with
// turned set, the y over x.
func (q *piece) across(y float64, turned bool) float64 {
	var v, u [4]float64 // along the axis of y, and across it
	for i, p := range q.p {
		u[i], v[i] = p.X, p.Y
		if turned {
			u[i], v[i] = p.Y, p.X
		}
	}
	if q.line {
		f := (y - v[0]) / (v[3] - v[0])
		return u[0] + float64(f*(u[3]-u[0]))
	}
	return bernstein(&u, risingRoot(&v, y))
}

// bernstein returns the value at t of a cubic by its control values, taken about the
// first so that a far origin costs no digits.
func bernstein(v *[4]float64, t float64) float64 {
	s := 1 - t
	return v[0] + float64(t*(float64(3*s*(float64(s*(v[1]-v[0]))+float64(t*(v[2]-v[0]))))+float64(t*t*(v[3]-v[0]))))
}

// bernsteinSlope returns the derivative at t.
func bernsteinSlope(v *[4]float64, t float64) float64 {
	s := 1 - t
	return 3 * (float64(s*s*(v[1]-v[0])) + float64(2*s*t*(v[2]-v[1])) + float64(t*t*(v[3]-v[2])))
}

// risingRoot returns where a cubic that runs one way takes the value y between its end
// values.
func risingRoot(v *[4]float64, y float64) float64 {
	return rootWithin(v, y, 0, 1, (y-v[0])/(v[3]-v[0]), v[3] > v[0])
}

// rootWithin returns where a cubic that runs one way between lo and hi, upward where up is
// set, takes the value y: by Newton steps from t kept within the bracket.
func rootWithin(v *[4]float64, y, lo, hi, t float64, up bool) float64 {
	for range 100 { // halving alone takes 60
		f := bernstein(v, t) - y
		if f == 0 {
			break
		}
		if (f > 0) == up {
			hi = t
		} else {
			lo = t
		}
		next := t - f/bernsteinSlope(v, t)
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-t) < 1e-16 {
			break
		}
		t = next
	}
	return t
}

// beyond tells whether a ray from p to the right, with turned set upward, crosses the
// piece; not sure: p is too near to it.
func (q *piece) beyond(p Point, turned bool) (crossed, sure bool) {
	x, y, v0, v1, lo, hi := p.X, p.Y, q.p[0].Y, q.p[3].Y, q.box.Min.X, q.box.Max.X
	if turned {
		x, y, v0, v1, lo, hi = p.Y, p.X, q.p[0].X, q.p[3].X, q.box.Min.Y, q.box.Max.Y
	}
	if (v0 <= y) == (v1 <= y) || hi < x-tooNear {
		return false, true
	}
	if lo > x+tooNear {
		return true, true
	}
	d := q.across(y, turned) - x
	return d > 0, math.Abs(d) >= tooNear
}

// near returns the parameter, on the whole curve, of the point of q within weldDistance
// of e, if there is one.
func (q *piece) near(k *sourceCurve, e Point) (float64, bool) {
	if !q.box.Grown(weldDistance).Contains(e) {
		return 0, false
	}
	a, d := q.p[0], q.p[3].Sub(q.p[0])
	n := d.Dot(d)
	if n == 0 {
		return q.t0, e.Dist(a) <= weldDistance
	}
	r := e.Sub(a)
	if c := d.Cross(r); c*c > float64((q.slack+weldDistance)*(q.slack+weldDistance))*n {
		return 0, false
	}
	f := max(0, min(1, r.Dot(d)/n))
	if q.line {
		return f, a.Lerp(q.p[3], f).Dist(e) <= weldDistance
	}
	t := max(q.t0, min(q.t1, k.project(e, q.t0+float64(f*(q.t1-q.t0)))))
	return t, k.at(t).Dist(e) <= weldDistance
}
