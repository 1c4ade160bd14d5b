package geometry

import (
	"cmp"
	"math"
	"slices"
)

// way is an edge as a ring runs along it.
type way struct {
	edge    int
	against bool
}

// ring is a closed outline of a region.
type ring struct {
	Contour
	area float64
	box  Rect
}

// rings returns the outlines of where the windings of the operands fulfil a rule, those
// left out that are leavings of rounding.
func (p *plane) rings(rule func(winds []int) bool) ([]ring, error) {
	all, err := p.choose(rule)
	if err != nil {
		return nil, err
	}
	out := make([]ring, 0, len(all))
	for _, c := range all {
		x, ok := ring{}, false
		if c.whole != nil {
			x, ok = p.wholeRing(c.whole, c.back)
		} else {
			x, ok = p.edgeRing(c.walk)
		}
		if ok {
			out = append(out, x)
		}
	}
	return out, nil
}

// edgeRing returns the ring of a closed walk, if it is large enough to be cut.
func (p *plane) edgeRing(walk []way) (ring, bool) {
	x, ok := newRing(p.ringOf(walk))
	if !ok {
		return x, false
	}
	if x.area > 0 {
		x.Contour = joinLines(x.Contour)
		return x, true
	}
	// Canonical: as for one that runs counter-clockwise, and then turned.
	back := make([]way, len(walk))
	for i, w := range walk {
		back[len(walk)-1-i] = way{w.edge, !w.against}
	}
	x.Contour = joinLines(p.ringOf(back)).Reversed()
	return x, true
}

// ringOf emits the curves of a closed walk from the least vertex at which two meet.
func (p *plane) ringOf(walk []way) Contour {
	ps := make([]stretch, 0, len(walk))
	for _, w := range walk {
		e := &p.edges[w.edge]
		s := stretch{e.curve, e.t0, e.t1, e.v0, e.v1}
		if w.against {
			s = stretch{e.curve, e.t1, e.t0, e.v1, e.v0}
		}
		ps = append(ps, s)
	}
	ps = joinStretches(ps)
	first := 0
	for i := range ps {
		if comparePoints(p.vertices.at[ps[i].v0], p.vertices.at[ps[first].v0]) < 0 {
			first = i
		}
	}
	c := Contour{Start: p.vertices.at[ps[first].v0], Segments: make([]Segment, 0, len(ps))}
	for i := range ps {
		c.Segments = append(c.Segments, p.emit(ps[(first+i)%len(ps)]))
	}
	c.Segments[len(c.Segments)-1].End = c.Start
	return c
}

// emit returns the segment of a stretch, always cut in the curve's own direction so that
// both neighbours of a border have the same one.
func (p *plane) emit(s stretch) Segment {
	k := &p.curves[s.curve]
	from, to := p.vertices.at[s.v0], p.vertices.at[s.v1]
	if s.t0 > s.t1 {
		x := k.part(s.t1, s.t0, to, from).Segments[0]
		return Segment{x.Kind, x.C2, x.C1, to}
	}
	return k.part(s.t0, s.t1, from, to).Segments[0]
}

// wholeRing returns the ring of an outline that meets nothing; back turns it about.
func (p *plane) wholeRing(o *planeOutline, back bool) (ring, bool) {
	c := Contour{Segments: make([]Segment, 0, o.to-o.from)}
	for i := o.from; i < o.to; i++ {
		k, against := &p.curves[i], p.walked[i].against
		s := Segment{k.kind, k.c1, k.c2, k.b}
		if against {
			s = Segment{k.kind, k.c2, k.c1, k.a}
		}
		c.Segments = append(c.Segments, s)
	}
	c.Start = c.End()
	if back {
		c = c.Reversed()
	}
	x, ok := newRing(c)
	if !ok {
		return x, false
	}
	if x.area < 0 {
		x.Contour = joinLines(fromLeast(c.Reversed())).Reversed()
		return x, true
	}
	x.Contour = joinLines(fromLeast(c))
	return x, true
}

// fromLeast returns a closed contour from its least node on.
func fromLeast(c Contour) Contour {
	first := 0
	for i := range c.Segments {
		if comparePoints(c.From(i), c.From(first)) < 0 {
			first = i
		}
	}
	if first == 0 {
		return c
	}
	return Contour{c.From(first), slices.Concat(c.Segments[first:], c.Segments[:first])}
}

// newRing measures a ring; false: it is a leaving of rounding.
func newRing(c Contour) (ring, bool) {
	area, around := c.areaAbout(c.Start), 0.0
	for i := range c.Segments {
		s, a := c.Segments[i], c.From(i)
		if s.Kind == Cubic {
			mid := c.At(i, 0.5)
			around += a.Dist(mid) + mid.Dist(s.End)
			continue
		}
		around += a.Dist(s.End)
	}
	if a := math.Abs(area); a < leastArea || 2*a < float64(leastWidth*around) {
		return ring{}, false
	}
	return ring{c, area, c.Bounds()}, true
}

// orderRings puts the rings of a region in order: outer ones by their size, each followed
// by the holes in it, by theirs. Ties are broken by where they stand.
func orderRings(rings []ring) (Path, error) {
	slices.SortStableFunc(rings, func(x, y ring) int {
		return cmp.Or(-cmp.Compare(rounded(math.Abs(x.area)), rounded(math.Abs(y.area))),
			comparePoints(x.box.Min, y.box.Min), comparePoints(x.Start, y.Start))
	})
	holes := make([][]int, len(rings))
	found := false
	for i, h := range rings {
		if h.area > 0 {
			continue
		}
		found = true
		parent := -1
		for j := i - 1; j >= 0 && parent < 0; j-- { // the smallest that holds it comes first
			if rings[j].area > 0 && rings[j].box.Touches(h.box, 0) && rings[j].holds(h.Contour) {
				parent = j
			}
		}
		if parent < 0 {
			return nil, errClose
		}
		holes[parent] = append(holes[parent], i)
	}
	out := make(Path, 0, len(rings))
	for i, r := range rings {
		if r.area < 0 {
			continue
		}
		out = append(out, r.Contour)
		if found {
			for _, h := range holes[i] {
				out = append(out, rings[h].Contour)
			}
		}
	}
	return out, nil
}

// rounded is a value by which an order may be decided: the same on every machine.
func rounded(x float64) float64 { return math.Round(x * 1e6) }

// comparePoints orders points by x and then y, by whole steps of [rounded] first.
func comparePoints(p, q Point) int {
	return cmp.Or(cmp.Compare(rounded(p.X), rounded(q.X)), cmp.Compare(rounded(p.Y), rounded(q.Y)), cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
}

// holds tells whether a contour that does not cross the ring lies within it.
func (r *ring) holds(c Contour) bool {
	n := len(c.Segments)
	for i := range n { // a node of it may lie on the ring, the middle of a segment hardly
		if in, ok := r.around(c.At(i, 0.4375)); ok {
			return in
		}
	}
	in, _ := r.around(c.At(0, 0.3125))
	return in
}

// around tells whether the ring winds round q; not ok: q is too near to it.
func (r *ring) around(q Point) (in, ok bool) {
	if !r.box.Contains(q) {
		return false, true
	}
	var ps []piece
	for i, s := range r.Segments {
		k, _ := canonical(r.From(i), s)
		ps = k.cutPieces(ps[:0], 0)
		for j := range ps {
			crossed, sure := ps[j].beyond(q, false)
			if !sure {
				return false, false
			}
			if crossed {
				in = !in
			}
		}
	}
	return in, true
}
