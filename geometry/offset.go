package geometry

import (
	"math"

	"maskloft/geometry/same"
)

// Join says how an offset goes round a corner that it opens.
type Join int

// Joins.
const (
	// RoundJoin is the arc about the corner: every point of the offset lies at
	// the distance from the outline.
	RoundJoin Join = iota
	// MiterJoin produces the two sides until they meet, when that is within
	// MiterLimit times the distance from the corner; sharper corners are
	// rounded, so that a border is nowhere narrower than asked.
	MiterJoin
	// BevelJoin cuts the corner off straight. It is for [Stroke] alone.
	BevelJoin
)

// MiterLimit bounds the length of a mitre over the distance. The points of a
// five-pointed star, at 36°, have 1/sin 18° = 3.24 and stay sharp (derived).
const MiterLimit = 4

// Offset returns the region of p grown by d on every side (d > 0) or shrunk
// (d < 0), within tolerance. The offset of a straight line is a straight line,
// of a corner an arc or a mitre, of a curve as few cubics as the tolerance
// allows. A part narrower than twice the distance vanishes, and an empty result
// is no error. The input is a region under the even-odd rule, as in [Union].
//
// Every point of the result is checked against the outline of p: none is nearer
// than d less the tolerance, and with round joins none farther than d and the
// tolerance. An error says where that failed.
func Offset(p Path, d Length, join Join, tolerance float64) (Path, error) {
	p, err := Settle(p)
	if err != nil || d == 0 {
		return p, err
	}
	// Junctions of curves that meet at a small angle are placed by chords: where
	// the check finds one too far out, finer chords place it better.
	var out Path
	for _, finer := range []float64{1, 4, 16} {
		if out, err = offsetOnce(p, d, join, tolerance/finer); err == nil {
			if err = checkOffset(p, out, d, join, tolerance); err == nil {
				return out, nil
			}
		}
	}
	return nil, Errorf("offset by %s: %w", d, err)
}

func offsetOnce(p Path, d Length, join Join, tolerance float64) (Path, error) {
	o := &offsetter{
		d: float64(d), join: join, tolerance: tolerance, chord: tolerance / 8,
		vertices: newVertices(), inner: map[int]bool{},
	}
	var raw [][]Point
	for _, c := range p {
		if r := o.contour(c); len(r) > 2 {
			raw = append(raw, r)
		}
	}
	rings, err := positive(raw)
	if err != nil {
		return nil, err
	}
	t := newTracer(o.vertices)
	for _, k := range o.curves {
		t.addChain(k.chain)
		for _, s := range k.chain {
			delete(o.inner, s.v)
		}
	}
	// Inner vertices lie within the strips, so none is on the outline, but where
	// a curve of centres runs along a normal its chord leaves a hairline spike.
	for i, r := range rings {
		var kept []Point
		for _, q := range r {
			if !o.inner[o.vertices.find(q)] {
				kept = append(kept, q)
			}
		}
		rings[i] = kept
	}
	return t.retrace(rings, tolerance, o.emit)
}

// positive returns the outlines of where closed walks along straight lines wind
// counter-clockwise.
func positive(walks [][]Point) ([][]Point, error) {
	contours := make([]operandContour, len(walks))
	for i, w := range walks {
		contours[i].Contour = Polygon(w...)
	}
	p, err := newPlane(1, contours)
	if err != nil {
		return nil, err
	}
	all, err := p.choose(func(winds []int) bool { return winds[0] > 0 })
	out := make([][]Point, len(all))
	for i, c := range all {
		out[i] = p.corners(c)
	}
	return out, err
}

// offsetStretch is one stretch of raw offset: of a segment, or of a corner.
type offsetStretch struct {
	source sourceCurve // the segment that the stretch is beside; of a mitre, its side
	centre Point       // of an arc
	turn   float64     // of an arc, from its first stop to its last (radians)
	arc    bool
	chain  []stop
}

type offsetter struct {
	d         float64
	join      Join
	tolerance float64
	chord     float64
	vertices  *vertices
	curves    []*offsetStretch
	ring      []Point
	last      int          // the vertex where the ring stands
	inner     map[int]bool // vertices nearer than d: corners and centres of curvature
}

// at returns the point of the source at t moved across by d: to the right of the
// way it runs for d > 0, which is outward for every contour of a Path.
func (o *offsetter) at(k *sourceCurve, t float64) Point {
	return k.at(t).Add(k.tangent(t).Perp().Scale(-o.d))
}

// reach returns [offsetter.at], or the centre of curvature where that is nearer,
// and whether it is: the strip across the curve ends there, for the points
// beyond are nearer to another part of the curve.
func (o *offsetter) reach(k *sourceCurve, t float64) (Point, bool) {
	if k.kind == Cubic {
		v := k.velocity(t)
		n := v.Norm()
		bend := -v.Cross(k.acceleration(t)) / (n * n * n) // positive: to the right
		if n > 0 && bend*o.d > 1 {
			return k.at(t).Add(k.tangent(t).Perp().Scale(-1 / bend)), true
		}
	}
	return o.at(k, t), false
}

// to walks straight to p and returns its vertex.
func (o *offsetter) to(p Point) int {
	v := o.vertices.add(p)
	o.ring, o.last = append(o.ring, o.vertices.at[v]), v
	return v
}

// within walks to p, which is nearer than d when inner is set.
func (o *offsetter) within(p Point, inner bool) int {
	v := o.to(p)
	if inner {
		o.inner[v] = true
	}
	return v
}

// contour returns the raw offset of c: a closed walk whose winding number is
// positive exactly where the offset region is. It is the outline of c with a
// strip added (d > 0) or taken away along every stretch. The strip at a point
// reaches along the normal as far as d or the centre of curvature, whichever is
// nearer, and at a corner that the offset closes it has no reach at all; so
// strips overlap but none turns inside out, and together they hold every point
// within d, because such a point lies on the normal at its nearest point and not
// beyond the centre of curvature there (derived).
func (o *offsetter) contour(c Contour) []Point {
	o.ring, o.last = nil, -1
	ks := make([]sourceCurve, len(c.Segments))
	for i, s := range c.Segments {
		ks[i] = sourceCurve{kind: s.Kind, a: c.From(i), c1: s.C1, c2: s.C2, b: s.End}
		if ks[i].kind == Cubic && straight(ks[i]) {
			ks[i].kind = Line
		}
	}
	q, short := o.reach(&ks[0], 0)
	o.within(q, short)
	first := o.last
	for i := range ks {
		o.along(&ks[i])
		o.corner(&ks[i], &ks[(i+1)%len(ks)], i == len(ks)-1, first)
	}
	return o.ring
}

// along walks the offset of one segment, from where the ring stands. Its curves
// are the stretches where it runs at the full distance.
func (o *offsetter) along(k *sourceCurve) {
	ts := []float64{0}
	var walk func(t0, t1 float64, q0, q1 Point, depth int)
	walk = func(t0, t1 float64, q0, q1 Point, depth int) {
		tm := (t0 + t1) / 2
		qm, _ := o.reach(k, tm)
		if k.kind == Cubic && depth < 12 && (depth < 3 || SegmentDistance(qm, q0, q1) > o.chord) {
			walk(t0, tm, q0, qm, depth+1)
			walk(tm, t1, qm, q1, depth+1)
			return
		}
		ts = append(ts, t1)
	}
	q0, short := o.reach(k, 0)
	q1, _ := o.reach(k, 1)
	walk(0, 1, q0, q1, 0)
	r := &offsetStretch{source: *k}
	if !short {
		r.chain = []stop{{0, o.last}}
	}
	for _, t := range ts[1:] {
		q, short := o.reach(k, t)
		v := o.within(q, short)
		if !short {
			r.chain = append(r.chain, stop{t, v})
		} else if len(r.chain) > 0 {
			o.curves = append(o.curves, r)
			r = &offsetStretch{source: *k}
		}
	}
	o.curves = append(o.curves, r)
}

// corner walks from the offset of k to that of next at their common node.
func (o *offsetter) corner(k, next *sourceCurve, last bool, first int) {
	p := k.b
	u, v := k.tangent(1), next.tangent(0)
	turn := turnAt(k, next)
	start, startShort := o.reach(next, 0)
	_, endShort := o.reach(k, 1)
	arrive := func() {
		if last {
			o.ring, o.last = append(o.ring, o.vertices.at[first]), first
			return
		}
		o.within(start, startShort)
	}
	switch {
	case math.Abs(turn*o.d) < o.tolerance/16 && math.Abs(turn) < 0.1:
		// Smooth: the next stretch starts where this one ends, unless one of
		// them ends short; both stand on one normal.
		if last || startShort || endShort {
			arrive()
		}
		return
	case turn*o.d < 0: // closing
		o.within(p, true)
		arrive()
		return
	}
	if endShort {
		o.within(p, true)
		o.to(o.at(k, 1))
	}
	o.open(p, u, v, turn)
	if startShort {
		o.within(p, true)
		arrive()
	} else if last {
		arrive()
	}
}

// turnAt returns the turn from k to next at their common node (radians, positive to
// the left). Two that meet at no angle turn by half a turn, whose sign is rounding's:
// there the side on which next leaves tells it.
func turnAt(k, next *sourceCurve) float64 {
	u, v := k.tangent(1), next.tangent(0)
	turn := same.Atan2(u.Cross(v), u.Dot(v))
	if math.Abs(turn) < math.Pi-1e-4 {
		return turn
	}
	reach := min(k.at(0.5).Dist(k.b), next.at(0.5).Dist(k.b)) / 50
	at := func(c *sourceCurve, from, to float64) Vec { // its point about as far as reach
		for range 40 {
			if m := (from + to) / 2; c.at(m).Dist(k.b) < reach {
				from = m
			} else {
				to = m
			}
		}
		return c.at(to).Sub(k.b)
	}
	if at(next, 0, 1).Cross(at(k, 1, 0)) > 0 {
		return math.Abs(turn)
	}
	return -math.Abs(turn)
}

// open walks round a corner at p that the offset opens, from where the ring
// stands, beside direction u, to beside v.
func (o *offsetter) open(p Point, u, v Vec, turn float64) {
	end := p.Add(v.Perp().Scale(-o.d))
	if o.join == MiterJoin && 1 <= MiterLimit*same.Cos(turn/2) {
		m := u.Perp().Add(v.Perp()).Scale(-o.d / (1 + u.Dot(v)))
		from, tip := o.last, o.to(p.Add(m))
		to := o.to(end)
		for _, vs := range [][2]int{{from, tip}, {tip, to}} {
			line := sourceCurve{kind: Line, a: o.vertices.at[vs[0]], b: o.vertices.at[vs[1]]}
			o.curves = append(o.curves, &offsetStretch{source: line, chain: []stop{{0, vs[0]}, {1, vs[1]}}})
		}
		return
	}
	r := &offsetStretch{centre: p, turn: turn, arc: true, chain: []stop{{0, o.last}}}
	w := o.vertices.at[o.last].Sub(p)
	angle := 2 * same.Acos(1-min(1, o.chord/math.Abs(o.d)))
	n := int(math.Ceil(math.Abs(turn) / angle))
	for i := 1; i < n; i++ {
		f := float64(i) / float64(n)
		s, c := same.Sincos(f * turn)
		r.chain = append(r.chain, stop{f, o.to(p.Add(Vec{float64(c*w.X) - float64(s*w.Y), float64(s*w.X) + float64(c*w.Y)}))})
	}
	r.chain = append(r.chain, stop{1, o.to(end)})
	o.curves = append(o.curves, r)
}

// emit returns the contour of a piece of the result.
func (o *offsetter) emit(p stretch) Contour {
	from, to := o.vertices.at[p.v0], o.vertices.at[p.v1]
	if p.curve < 0 {
		return Polyline(from, to)
	}
	k := o.curves[p.curve]
	var c Contour
	switch {
	case k.arc:
		// Half a turn from one point to the other runs either way round but for
		// rounding: the stops tell which.
		v, w := from.Sub(k.centre), to.Sub(k.centre)
		sweep := float64(k.turn * (p.t1 - p.t0))
		b := MoveTo(from)
		b.ArcTo(k.centre, sweep+math.Remainder(same.Atan2(v.Cross(w), v.Dot(w))-sweep, 2*math.Pi))
		c = b.Open()
	case k.source.kind == Line:
		return Polyline(from, to)
	default:
		f := func(t float64) Point { return o.at(&k.source, t) }
		var err error
		if c, _, err = FitCurve(f, p.t0, p.t1, o.tolerance/2); err != nil {
			// A bend as tight as d, where the offset has no direction: its chords.
			b := MoveTo(from)
			for _, s := range k.chain {
				if s.t > min(p.t0, p.t1) && s.t < max(p.t0, p.t1) {
					b.LineTo(o.vertices.at[s.v])
				}
			}
			return b.LineTo(to).Open()
		}
	}
	if len(c.Segments) == 0 {
		return Polyline(from, to)
	}
	// The ends were placed by chords: move them to the common vertex, with
	// their handles.
	c.Segments[0].C1 = c.Segments[0].C1.Add(from.Sub(c.Start))
	c.Start = from
	last := &c.Segments[len(c.Segments)-1]
	last.C2 = last.C2.Add(to.Sub(last.End))
	last.End = to
	return c
}

// checkOffset measures every node of the result, and points between, against p.
func checkOffset(p, out Path, d Length, join Join, tolerance float64) error {
	var ks []*sourceCurve
	for _, c := range p {
		for i, s := range c.Segments {
			k := &sourceCurve{kind: s.Kind, a: c.From(i), c1: s.C1, c2: s.C2, b: s.End}
			k.chords(tolerance)
			ks = append(ks, k)
		}
	}
	want := math.Abs(float64(d))
	for _, c := range out {
		for i := range c.Segments {
			for _, t := range []float64{0, 0.3, 0.7} {
				q := c.At(i, t)
				dist := math.Inf(1)
				for _, k := range ks {
					if k.box.Grown(dist).Contains(q) {
						_, d := k.nearest(q)
						dist = min(dist, d)
					}
				}
				far := want
				if join == MiterJoin {
					far *= MiterLimit
				}
				if dist < want-tolerance || dist > far+tolerance {
					return Errorf("at %v, %v the result is %v from the outline, wanted %v within %v: offset by less, or in two steps", Length(q.X), Length(q.Y), Length(dist).Rounded(5), Length(want).Rounded(5), Length(tolerance))
				}
			}
		}
	}
	return nil
}
