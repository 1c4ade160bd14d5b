package geometry

import (
	"fmt"
	"math"
	"sort"
)

// Distances of the plane booleans, in inches.
const (
	// booleanTolerance bounds chords from curves while a boolean finds which
	// pieces of outline it keeps: a fifth of FlattenTolerance, so that two
	// outlines a FlattenTolerance apart are never taken to cross. It does not
	// show in the result, whose pieces lie on the source curves.
	booleanTolerance = 2e-5

	// weldDistance is the distance within which two points of an arrangement
	// are one: ten steps of the grid of the polygon boolean, and a tenth of
	// SnapTolerance.
	weldDistance = 1e-7
)

// vertices are the points of an arrangement, no two within weldDistance.
// Those of one cell are a list: the last of them in cells, each earlier one in before.
type vertices struct {
	at     []Point
	before []int // -1: none
	cells  map[[2]int64]int
}

func newVertices() *vertices { return &vertices{cells: map[[2]int64]int{}} }

func cellOf(p Point) [2]int64 {
	return [2]int64{int64(math.Floor(p.X / (2 * weldDistance))), int64(math.Floor(p.Y / (2 * weldDistance)))}
}

// find returns the vertex nearest to p within weldDistance, or -1.
func (v *vertices) find(p Point) int { return v.nearest(p, weldDistance) }

func (v *vertices) nearest(p Point, within float64) int {
	best, id := within, -1
	lo := cellOf(Point{p.X - within, p.Y - within})
	hi := cellOf(Point{p.X + within, p.Y + within})
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			i, ok := v.cells[[2]int64{x, y}]
			if !ok {
				continue
			}
			for here := -1; i >= 0; i = v.before[i] {
				// of two as near in one cell, the earlier
				if d := v.at[i].Dist(p); d < best || d == best && here >= 0 {
					best, id, here = d, i, i
				}
			}
		}
	}
	return id
}

// add returns the vertex at p, new if there was none.
func (v *vertices) add(p Point) int {
	if i := v.find(p); i >= 0 {
		return i
	}
	c := cellOf(p)
	last, ok := v.cells[c]
	if !ok {
		last = -1
	}
	v.at, v.before = append(v.at, p), append(v.before, last)
	v.cells[c] = len(v.at) - 1
	return len(v.at) - 1
}

// use is one walk along a curve, as an operand makes it.
type use struct {
	curve   int
	against bool
}

// arrangement holds the segments of some outlines as curves, every curve cut
// into chords at vertices that all share: the ends of segments, the true
// crossings of curves, the places where an end lies on another curve, and
// enough points between to bound the chords. It depends on the set of curves
// alone, not on which operand they come from nor on the way they are walked.
type arrangement struct {
	vertices *vertices
	curves   []*sourceCurve
	uses     [][][]use // by operand, by contour
}

func arrange(tolerance float64, operands ...Path) (*arrangement, error) {
	a := &arrangement{vertices: newVertices()}
	type key struct {
		kind           SegmentKind
		p, c1, c2, end Point
	}
	index := map[key]int{}
	for n, p := range operands {
		var contours [][]use
		for i, c := range p {
			if !c.Closed() {
				return nil, fmt.Errorf("outline %d, contour %d: it is open: close it", n+1, i+1)
			}
			var us []use
			for j, s := range c.Segments {
				k, against := canonical(c.From(j), s)
				if bad(k.a, k.b, k.c1, k.c2) {
					return nil, fmt.Errorf("outline %d, contour %d, segment %d: a coordinate is not a finite number below %g in", n+1, i+1, j+1, farthest)
				}
				if k.kind == Line && k.a == k.b {
					continue
				}
				id := key{k.kind, k.a, k.c1, k.c2, k.b}
				ix, ok := index[id]
				if !ok {
					ix = len(a.curves)
					index[id] = ix
					a.curves = append(a.curves, &k)
				}
				us = append(us, use{ix, against})
			}
			contours = append(contours, us)
		}
		a.uses = append(a.uses, contours)
	}
	a.sortCurves()
	for _, k := range a.curves {
		a.vertices.add(k.a)
		a.vertices.add(k.b)
	}
	for _, k := range a.curves {
		k.chords(tolerance)
	}
	marks := make([][]stop, len(a.curves))
	beside := a.cross(tolerance, marks)
	a.project(tolerance, marks)
	for i, k := range a.curves {
		a.chain(k, marks[i])
	}
	for _, ij := range beside {
		a.share(a.curves[ij[0]], a.curves[ij[1]])
	}
	return a, nil
}

// farthest bounds coordinates: the grid of 1e-8 keeps its meaning below it.
const farthest = 1e6

func bad(ps ...Point) bool {
	for _, p := range ps {
		if !(math.Abs(p.X) < farthest && math.Abs(p.Y) < farthest) {
			return true
		}
	}
	return false
}

// sortCurves puts the curves in their canonical order.
func (a *arrangement) sortCurves() {
	order := make([]int, len(a.curves))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return a.curves[order[i]].before(a.curves[order[j]]) })
	rank, sorted := make([]int, len(order)), make([]*sourceCurve, len(order))
	for r, i := range order {
		rank[i], sorted[r] = r, a.curves[i]
	}
	a.curves = sorted
	for _, contours := range a.uses {
		for _, us := range contours {
			for i := range us {
				us[i].curve = rank[us[i].curve]
			}
		}
	}
}

// project marks, on every curve, the place nearest to each end of another
// curve that comes within reach: on it, so that both have that vertex; beside
// it, so that no chord passes on the wrong side of it.
func (a *arrangement) project(tolerance float64, marks [][]stop) {
	var boxes, ends []Rect
	var ids []int
	for _, k := range a.curves {
		boxes = append(boxes, k.boxes[1])
	}
	seen := map[int]bool{}
	for _, k := range a.curves {
		for _, p := range []Point{k.a, k.b} {
			if v := a.vertices.find(p); !seen[v] {
				seen[v] = true
				ids, ends = append(ids, v), append(ends, Rect{a.vertices.at[v], a.vertices.at[v]})
			}
		}
	}
	reach := 2 * tolerance
	var pairs [][2]int
	sweepPairs(ends, boxes, reach, func(i, j int) { pairs = append(pairs, [2]int{i, j}) })
	for _, ij := range pairs {
		v, k := ids[ij[0]], a.curves[ij[1]]
		q := a.vertices.at[v]
		t, d := k.nearest(q)
		if p := k.at(t); d <= reach && p.Dist(k.a) > weldDistance && p.Dist(k.b) > weldDistance {
			if d > weldDistance {
				v = a.vertices.add(p)
			}
			marks[ij[1]] = append(marks[ij[1]], stop{t, v})
		}
	}
}

// chain builds the stations of k from its chords and its marks.
func (a *arrangement) chain(k *sourceCurve, marks []stop) {
	all := append([]stop(nil), marks...)
	for i, t := range k.ts {
		all = append(all, stop{t, a.vertices.add(k.pts[i])})
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].t < all[j].t })
	first, last := a.vertices.find(k.a), a.vertices.find(k.b)
	k.chain = []stop{{0, first}}
	for _, s := range all {
		if s.v != k.chain[len(k.chain)-1].v && s.v != last && s.t > 0 && s.t < 1 {
			k.chain = append(k.chain, s)
		}
	}
	k.chain = append(k.chain, stop{1, last})
}

// share gives o the stations of k wherever the two lie on one another between
// two vertices that they have in common, so that their chords agree there.
func (a *arrangement) share(k, o *sourceCurve) {
	if k.kind == Line && o.kind == Line {
		return
	}
	on := map[int]int{}
	for i, s := range o.chain {
		on[s.v] = i
	}
	type stretch struct{ k0, k1, o0, o1 int }
	var found []stretch
	last := -1
	for i, s := range k.chain {
		if _, ok := on[s.v]; !ok {
			continue
		}
		if last >= 0 {
			x := stretch{last, i, on[k.chain[last].v], on[s.v]}
			if x.o0 != x.o1 && a.coincide(k, o, k.chain[x.k0].t, k.chain[x.k1].t, o.chain[x.o0].t, o.chain[x.o1].t) {
				found = append(found, x)
			}
		}
		last = i
	}
	sort.Slice(found, func(i, j int) bool { return min(found[i].o0, found[i].o1) > min(found[j].o0, found[j].o1) })
	for _, x := range found { // from the far end, so that indices stay good
		inner := append([]stop(nil), k.chain[x.k0+1:x.k1]...)
		from, to := x.o0, x.o1
		if from > to {
			from, to = to, from
			for i, j := 0, len(inner)-1; i < j; i, j = i+1, j-1 {
				inner[i], inner[j] = inner[j], inner[i]
			}
		}
		for i, s := range inner {
			f := float64(i+1) / float64(len(inner)+1)
			inner[i].t = o.project(a.vertices.at[s.v], o.chain[from].t+float64(f*(o.chain[to].t-o.chain[from].t)))
		}
		tail := append(inner, o.chain[to:]...)
		o.chain = append(o.chain[:from+1:from+1], tail...)
	}
}

// coincide tells whether k from s0 to s1 and o from t0 to t1 are one curve.
func (a *arrangement) coincide(k, o *sourceCurve, s0, s1, t0, t1 float64) bool {
	for _, f := range []float64{0.21, 0.5, 0.77} {
		q := k.at(s0 + float64(f*(s1-s0)))
		t := o.project(q, t0+float64(f*(t1-t0)))
		if o.at(t).Dist(q) > weldDistance || t < min(t0, t1) || t > max(t0, t1) {
			return false
		}
	}
	return true
}

// polygons returns the contours of one operand as rings of vertices.
func (a *arrangement) polygons(operand int) [][]int {
	var out [][]int
	for _, us := range a.uses[operand] {
		var ring []int
		for _, u := range us {
			chain := a.curves[u.curve].chain
			for i := 0; i < len(chain)-1; i++ {
				v := chain[i].v
				if u.against {
					v = chain[len(chain)-1-i].v
				}
				if len(ring) == 0 || ring[len(ring)-1] != v {
					ring = append(ring, v)
				}
			}
		}
		for len(ring) > 1 && ring[0] == ring[len(ring)-1] {
			ring = ring[:len(ring)-1]
		}
		if len(ring) > 2 {
			out = append(out, ring)
		}
	}
	return out
}

// points returns the positions of a ring of vertices.
func (a *arrangement) points(ring []int) []Point {
	pts := make([]Point, len(ring))
	for i, v := range ring {
		pts[i] = a.vertices.at[v]
	}
	return pts
}
