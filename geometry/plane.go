package geometry

import (
	"cmp"
	"math"
	"slices"
)

// plane is what outlines whose boxes hang together cut a plane into: their curves, where
// those meet, and how often each operand winds round either side of every stretch between.
type plane struct {
	operands int
	outlines []planeOutline
	curves   []sourceCurve
	walked   []walked // by curve
	pieces   []piece
	first    []int // by curve, the first of its pieces; one more at the end
	level    *bands
	upright  *bands

	vertices *vertices
	edges    []edge
}

// planeOutline is one contour in a plane.
type planeOutline struct {
	operand  int
	from, to int  // its curves
	count    int  // of its pieces
	meets    bool // it meets another, or itself
	sides         // of its first curve, where it meets nothing
}

// walked is how an outline runs along a curve.
type walked struct {
	outline int
	against bool
}

func (w walked) sign() int {
	if w.against {
		return -1
	}
	return 1
}

// sides are how often each operand winds round the two sides of a curve as it runs.
type sides struct{ left, right []int }

// newPlane cuts the plane. Contours are closed, their coordinates good.
func newPlane(operands int, contours []operandContour) (*plane, error) {
	p, m, err := laidOut(operands, contours)
	if err != nil {
		return nil, err
	}
	for _, x := range m.found {
		p.outlines[p.walked[x.i].outline].meets = true
		p.outlines[p.walked[x.j].outline].meets = true
	}
	for i := range p.outlines {
		if o := &p.outlines[i]; !o.meets {
			var err error
			if o.sides, err = p.sidesOf([]member{{curve: o.from, t0: 0, t1: 1, sign: 1}}); err != nil {
				return nil, err
			}
		}
	}
	if len(m.found) == 0 {
		return p, nil
	}
	return p, p.join(m)
}

// laidOut returns the plane of some contours, not cut yet, and where they meet.
func laidOut(operands int, contours []operandContour) (*plane, *meetings, error) {
	n := 0
	for _, c := range contours {
		n += len(c.Segments)
	}
	p := &plane{operands: operands, outlines: make([]planeOutline, 0, len(contours)), curves: make([]sourceCurve, 0, n), walked: make([]walked, 0, n), pieces: make([]piece, 0, n), first: make([]int, 0, n+1)}
	for _, c := range contours {
		p.addContour(c)
	}
	p.first = append(p.first, len(p.pieces))
	m := &meetings{curves: p.curves}
	return p, m, p.meet(m)
}

// addContour adds the curves and the pieces of a contour.
func (p *plane) addContour(c operandContour) {
	o := planeOutline{operand: c.operand, from: len(p.curves)}
	begin := len(p.pieces)
	for i, s := range c.Segments {
		k, against := canonical(c.From(i), s)
		if k.kind == Line && k.a == k.b {
			continue
		}
		p.first = append(p.first, len(p.pieces))
		p.curves = append(p.curves, k)
		p.walked = append(p.walked, walked{len(p.outlines), against})
		at := len(p.pieces)
		p.pieces = k.cutPieces(p.pieces, len(p.curves)-1)
		for j := range p.pieces[at:] {
			q := &p.pieces[at+j]
			q.contour, q.place = len(p.outlines), at-begin+j
			if against {
				q.place = at - begin + len(p.pieces) - at - 1 - j
			}
		}
	}
	if o.to, o.count = len(p.curves), len(p.pieces)-begin; o.count > 0 {
		p.outlines = append(p.outlines, o)
	}
}

// meet finds all meetings of pieces.
func (p *plane) meet(m *meetings) error {
	order := make([]int, len(p.pieces))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(p.pieces[i].box.Min.X, p.pieces[j].box.Min.X), cmp.Compare(i, j))
	})
	var open []int // pieces whose boxes the sweep stands in
	for _, i := range order {
		a := &p.pieces[i]
		kept := open[:0]
		for _, j := range open {
			b := &p.pieces[j]
			if b.box.Max.X < a.box.Min.X-weldDistance {
				continue
			}
			kept = append(kept, j)
			if a.box.Min.Y > b.box.Max.Y+weldDistance || b.box.Min.Y > a.box.Max.Y+weldDistance {
				continue
			}
			joined := false
			if a.contour == b.contour {
				d := a.place - b.place
				last := p.outlines[a.contour].count - 1
				joined = d == 1 || d == -1 || d == last || d == -last
			}
			if err := m.pair(a, b, joined); err != nil {
				return err
			}
		}
		open = append(kept, i)
	}
	return nil
}

// member is a stretch of a curve that lies on an edge; sign is -1 where it runs the
// other way than the edge.
type member struct {
	curve  int
	t0, t1 float64
	sign   int
}

// sampleAt are the places on an edge, as fractions, at which its sides are asked for;
// the first that no other curve comes too near to answers.
var sampleAt = [...]float64{0.5, 0.3125, 0.71875, 0.140625, 0.859375}

// sidesOf returns how often the operands wind round the sides of an edge, of which the
// first member is one and the others lie on it.
func (p *plane) sidesOf(ms []member) (sides, error) {
	own := make([]int, p.operands)
	for _, m := range ms {
		w := p.walked[m.curve]
		own[p.outlines[w.outline].operand] += m.sign * w.sign()
	}
	first := ms[0]
	k := &p.curves[first.curve]
	skip := make([]int, 0, 4)
	for _, f := range sampleAt {
		t := first.t0 + float64(f*(first.t1-first.t0))
		q := k.at(t)
		var ok bool
		if skip, ok = p.skipped(skip[:0], ms, t, q, f); !ok {
			continue
		}
		v := k.tangent(t)
		turned := math.Abs(v.X) > math.Abs(v.Y)
		around := make([]int, p.operands)
		if !p.wind(q, turned, skip, around) {
			continue
		}
		other := make([]int, p.operands)
		// What was counted is the side to the right of the page, or above.
		if leftCounted := turned && v.X > 0 || !turned && v.Y < 0; leftCounted {
			for i := range other {
				other[i] = around[i] - own[i]
			}
			return sides{around, other}, nil
		}
		for i := range other {
			other[i] = around[i] + own[i]
		}
		return sides{other, around}, nil
	}
	return sides{}, errClose
}

// skipped returns the pieces of the members that hold the point q, which stands at t on
// the first of them and at about the fraction f of the others.
func (p *plane) skipped(skip []int, ms []member, t float64, q Point, f float64) ([]int, bool) {
	for i, m := range ms {
		if i > 0 {
			k := &p.curves[m.curve]
			if m.sign < 0 {
				f = 1 - f
			}
			t = k.project(q, m.t0+float64(f*(m.t1-m.t0)))
			if m.sign < 0 {
				f = 1 - f
			}
		}
		found := false
		for j := p.first[m.curve]; j < p.first[m.curve+1]; j++ {
			if r := &p.pieces[j]; t > r.t0+1e-9 && t < r.t1-1e-9 {
				skip, found = append(skip, j), true
			}
		}
		if !found {
			return skip, false
		}
	}
	return skip, true
}

// tooNear is how near to a curve a point may be for its side to be told: far above
// rounding, far below weldDistance.
const tooNear = 1e-9

// wind counts in around how often each operand winds round q, by the pieces to the right
// of it, or above it with turned set, but for those skipped; false: q is too near to one.
func (p *plane) wind(q Point, turned bool, skip, around []int) bool {
	up, at := 1, q.Y
	if turned {
		up, at = -1, q.X
	}
	count := func(i int) bool {
		r := &p.pieces[i]
		crossed, sure := r.beyond(q, turned)
		if sure && !crossed || slices.Contains(skip, i) {
			return true
		}
		if !sure {
			return false
		}
		n, from, to := up*p.walked[r.curve].sign(), r.p[0].Y, r.p[3].Y
		if turned {
			from, to = r.p[0].X, r.p[3].X
		}
		if to < from {
			n = -n
		}
		around[p.outlines[r.contour].operand] += n
		return true
	}
	if len(p.pieces) <= fewPieces {
		for i := range p.pieces {
			if !count(i) {
				return false
			}
		}
		return true
	}
	all := &p.level
	if turned {
		all = &p.upright
	}
	if *all == nil {
		*all = newBands(p.pieces, turned)
	}
	for _, i := range (*all).over(at) {
		if !count(int(i)) {
			return false
		}
	}
	return true
}

// fewPieces are looked at one by one.
const fewPieces = 48

// bands lists pieces by the band of y, or of x, that they reach into.
type bands struct {
	low, step float64
	start     []int32 // by band, the first of its pieces; one more at the end
	pieces    []int32
}

func newBands(ps []piece, turned bool) *bands {
	span := func(q *piece) (float64, float64) {
		if turned {
			return q.box.Min.X, q.box.Max.X
		}
		return q.box.Min.Y, q.box.Max.Y
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range ps {
		a, b := span(&ps[i])
		lo, hi = min(lo, a), max(hi, b)
	}
	n := len(ps) / 2
	b := &bands{low: lo, step: max((hi-lo)/float64(n), 1e-9), start: make([]int32, n+2)}
	for i := range ps {
		x, y := span(&ps[i])
		for k := b.band(x); k <= b.band(y); k++ {
			b.start[k+1]++
		}
	}
	for k := 1; k < len(b.start); k++ {
		b.start[k] += b.start[k-1]
	}
	b.pieces = make([]int32, b.start[len(b.start)-1])
	next := slices.Clone(b.start)
	for i := range ps {
		x, y := span(&ps[i])
		for k := b.band(x); k <= b.band(y); k++ {
			b.pieces[next[k]] = int32(i)
			next[k]++
		}
	}
	return b
}

func (b *bands) band(y float64) int {
	return max(0, min(len(b.start)-2, int((y-b.low)/b.step)))
}

func (b *bands) over(y float64) []int32 {
	k := b.band(y)
	return b.pieces[b.start[k]:b.start[k+1]]
}
