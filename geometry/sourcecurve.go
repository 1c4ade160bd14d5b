package geometry

import "math"

// SubSegment returns the part of segment i of c from parameter t0 to t1,
// t0 < t1, both in [0, 1], as an open contour of one segment. A cubic is cut by
// its polar form (de Casteljau), so the part lies on the same curve.
func (c Contour) SubSegment(i int, t0, t1 float64) Contour {
	k := sourceCurve{kind: c.Segments[i].Kind, a: c.From(i), b: c.Segments[i].End}
	if k.kind == Cubic {
		k.c1, k.c2 = c.Segments[i].C1, c.Segments[i].C2
	}
	return k.part(t0, t1, k.at(t0), k.at(t1))
}

// SplitAt returns c with segment i cut at the parameters ts, which rise within
// (0, 1). The shape does not change.
func (c Contour) SplitAt(i int, ts ...float64) Contour {
	r := Contour{Start: c.Start, Segments: append([]Segment(nil), c.Segments[:i]...)}
	last := 0.0
	for _, t := range append(append([]float64(nil), ts...), 1) {
		r.Segments = append(r.Segments, c.SubSegment(i, last, t).Segments[0])
		last = t
	}
	r.Segments[len(r.Segments)-1].End = c.Segments[i].End
	r.Segments = append(r.Segments, c.Segments[i+1:]...)
	return r
}

// stop is a place on a curve: its parameter and its vertex.
type stop struct {
	t float64
	v int
}

// sourceCurve is one segment of a source outline in its canonical direction (from
// the lesser end, by x and then y), so that a curve and the same curve walked
// backwards are one curve, computed alike to the last bit.
type sourceCurve struct {
	kind         SegmentKind
	a, c1, c2, b Point
	ts           []float64 // parameters of the chords
	pts          []Point   // points of the chords
	box          Rect      // of the chords
}

// less orders points by x and then y.
func less(p, q Point) bool { return p.X < q.X || (p.X == q.X && p.Y < q.Y) }

// canonical returns the curve of a segment that starts at from, and whether
// the curve runs against the segment. A cubic whose control points lie on its
// chord in order is taken as the line it is.
func canonical(from Point, s Segment) (k sourceCurve, against bool) {
	k = sourceCurve{kind: s.Kind, a: from, b: s.End}
	if s.Kind == Cubic {
		k.c1, k.c2 = s.C1, s.C2
		if straight(k) {
			k.kind = Line
		}
	}
	if k.kind == Line {
		k.c1, k.c2 = Point{}, Point{}
	}
	against = less(k.b, k.a) || (k.a == k.b && less(k.c2, k.c1))
	if against {
		k.a, k.c1, k.c2, k.b = k.b, k.c2, k.c1, k.a
	}
	return k, against
}

func straight(k sourceCurve) bool {
	d := k.b.Sub(k.a)
	n := d.Norm()
	if n == 0 {
		return k.c1 == k.a && k.c2 == k.a
	}
	u := d.Scale(1 / n)
	v1, v2 := k.c1.Sub(k.a), k.c2.Sub(k.a)
	const flat = 1e-9
	return math.Abs(u.Cross(v1)) < flat && math.Abs(u.Cross(v2)) < flat &&
		u.Dot(v1) >= 0 && u.Dot(v2) >= u.Dot(v1) && u.Dot(v2) <= n
}

// before orders curves: long ones first, so that where two lie on one another
// the longer speaks, then by their points.
func (k *sourceCurve) before(o *sourceCurve) bool {
	if x, y := k.a.Dist(k.b), o.a.Dist(o.b); x != y {
		return x > y
	}
	if k.kind != o.kind {
		return k.kind < o.kind
	}
	for _, pq := range [][2]Point{{k.a, o.a}, {k.b, o.b}, {k.c1, o.c1}, {k.c2, o.c2}} {
		if pq[0] != pq[1] {
			return less(pq[0], pq[1])
		}
	}
	return false
}

func (k *sourceCurve) at(t float64) Point {
	switch {
	case t == 0:
		return k.a
	case t == 1:
		return k.b
	case k.kind == Line:
		return k.a.Lerp(k.b, t)
	}
	return bezier(k.a, k.c1, k.c2, k.b, t)
}

func bezier(a, c1, c2, b Point, t float64) Point {
	u := 1 - t
	w0, w1, w2, w3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return Point{
		float64(w0*a.X) + float64(w1*c1.X) + float64(w2*c2.X) + float64(w3*b.X),
		float64(w0*a.Y) + float64(w1*c1.Y) + float64(w2*c2.Y) + float64(w3*b.Y),
	}
}

// velocity returns the derivative by t.
func (k *sourceCurve) velocity(t float64) Vec {
	if k.kind == Line {
		return k.b.Sub(k.a)
	}
	u := 1 - t
	return k.c1.Sub(k.a).Scale(3 * u * u).Add(k.c2.Sub(k.c1).Scale(6 * u * t)).Add(k.b.Sub(k.c2).Scale(3 * t * t))
}

// acceleration returns the second derivative by t.
func (k *sourceCurve) acceleration(t float64) Vec {
	if k.kind == Line {
		return Vec{}
	}
	d1 := k.a.Sub(k.c1).Add(k.c2.Sub(k.c1))
	d2 := k.c1.Sub(k.c2).Add(k.b.Sub(k.c2))
	return d1.Scale(6 * (1 - t)).Add(d2.Scale(6 * t))
}

// tangent returns the unit direction at t. Where a control point lies on an
// end, the direction there is the limit: that of the next control point.
func (k *sourceCurve) tangent(t float64) Vec {
	v := k.velocity(t)
	if k.kind == Line || v.Norm() > 1e-9*(k.c1.Dist(k.a)+k.c2.Dist(k.c1)+k.b.Dist(k.c2)) {
		return v.Unit()
	}
	a := k.acceleration(t)
	if t > 0.5 {
		a = a.Scale(-1)
	}
	if a.Norm() > 0 {
		return a.Unit()
	}
	return k.b.Sub(k.a).Unit()
}

// part returns the part from t0 to t1 with its ends put at from and to.
func (k *sourceCurve) part(t0, t1 float64, from, to Point) Contour {
	if k.kind == Line {
		return Contour{from, []Segment{{Kind: Line, End: to}}}
	}
	if t0 == 0 && t1 == 1 {
		return Contour{from, []Segment{{Cubic, k.c1, k.c2, to}}}
	}
	return Contour{from, []Segment{{Cubic, k.blossom(t0, t0, t1), k.blossom(t0, t1, t1), to}}}
}

// blossom returns the polar form of a cubic: at (t0,t0,t1) and (t0,t1,t1) the control
// points of its part from t0 to t1.
func (k *sourceCurve) blossom(r, s, t float64) Point {
	p01, p12, p23 := k.a.Lerp(k.c1, r), k.c1.Lerp(k.c2, r), k.c2.Lerp(k.b, r)
	return p01.Lerp(p12, s).Lerp(p12.Lerp(p23, s), t)
}

// project returns the parameter of the point of k nearest to q, by Newton from
// the start t, held in [0, 1].
func (k *sourceCurve) project(q Point, t float64) float64 {
	for n := 0; n < 12; n++ {
		r, v := k.at(t).Sub(q), k.velocity(t)
		g, h := r.Dot(v), v.Dot(v)+r.Dot(k.acceleration(t))
		if h <= 0 {
			h = v.Dot(v)
		}
		if h == 0 {
			break
		}
		u := max(0, min(1, t-g/h))
		if math.Abs(u-t) < 1e-15 {
			t = u
			break
		}
		t = u
	}
	return t
}

// nearest returns the parameter of the point of k nearest to q, starting from
// the nearest chord, and its distance.
func (k *sourceCurve) nearest(q Point) (t, dist float64) {
	best := math.Inf(1)
	for i := 1; i < len(k.pts); i++ {
		a, d := k.pts[i-1], k.pts[i].Sub(k.pts[i-1])
		f := 0.0
		if n := d.Dot(d); n > 0 {
			f = max(0, min(1, q.Sub(a).Dot(d)/n))
		}
		if e := q.Dist(a.Lerp(k.pts[i], f)); e < best {
			best, t = e, k.ts[i-1]+float64(f*(k.ts[i]-k.ts[i-1]))
		}
	}
	t = k.project(q, t)
	return t, q.Dist(k.at(t))
}

// chords cuts k into chords within tolerance.
func (k *sourceCurve) chords(tolerance float64) {
	n := 1
	if k.kind == Cubic {
		n = cubicChords(k.a, Segment{Cubic, k.c1, k.c2, k.b}, tolerance)
	}
	k.ts, k.pts = make([]float64, n+1), make([]Point, n+1)
	for i := range k.ts {
		k.ts[i] = float64(i) / float64(n)
		k.pts[i] = k.at(k.ts[i])
	}
	k.box = BoundsOf(k.pts...)
}
