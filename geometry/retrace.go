package geometry

import (
	"math"
	"sort"
)

// Rings smaller than these are leavings of rounding and are not cut.
const (
	leastArea  = 1e-7 // square inches
	leastWidth = 1e-6 // inches, twice the area over the perimeter
)

// stretch is a run along one curve from parameter t0 to t1 (t0 > t1 when it runs
// against the curve), between two vertices. Curve -1 is a bare straight line.
type stretch struct {
	curve  int
	t0, t1 float64
	v0, v1 int
}

// tracer finds the curves that the edges of a polygon came from.
type tracer struct {
	vertices *vertices
	chains   [][]stop
	chords   map[[2]int][2]int // vertices of a chord, lesser first: curve and place
	known    int               // vertices below it are stations of chains
	byX      []int             // those vertices by x
}

func newTracer(v *vertices) *tracer {
	return &tracer{vertices: v, chords: map[[2]int][2]int{}, known: len(v.at)}
}

// addChain adds a curve. Where two have the same chord the first added speaks.
func (t *tracer) addChain(chain []stop) {
	for i := 1; i < len(chain); i++ {
		k := [2]int{min(chain[i-1].v, chain[i].v), max(chain[i-1].v, chain[i].v)}
		if _, ok := t.chords[k]; !ok {
			t.chords[k] = [2]int{len(t.chains), i - 1}
		}
	}
	t.chains = append(t.chains, chain)
}

// retrace turns polygons, whose chords lie within tolerance of the curves, into
// nested contours that run along the curves; emit returns the open contour of a
// piece. It compares the areas of the two and returns an error where they differ
// by more than the tolerance can account for.
func (t *tracer) retrace(rings [][]Point, tolerance float64, emit func(stretch) Contour) (Path, error) {
	var out Path
	var polygons [][]Point
	for _, r := range rings {
		ids := make([]int, len(r))
		for i, p := range r {
			// A corner of the polygon that is no vertex comes from a crossing
			// too flat to place; near a vertex it is that vertex.
			if ids[i] = t.vertices.find(p); ids[i] < 0 {
				if ids[i] = t.vertices.nearest(p, SnapTolerance); ids[i] < 0 {
					ids[i] = t.vertices.add(p)
				}
			}
		}
		for _, simple := range simpleRings(ids) {
			pts := make([]Point, len(simple))
			around := 0.0
			for i, v := range simple {
				pts[i] = t.vertices.at[v]
			}
			for i := range pts {
				around += pts[i].Dist(pts[(i+1)%len(pts)])
			}
			leaving := func(area float64) bool {
				return math.Abs(area) < leastArea || 2*math.Abs(area) < leastWidth*around
			}
			if leaving(ringArea(pts)) {
				continue
			}
			if ringArea(pts) < 0 { // canonical: the start does not depend on the way round
				for i, j := 0, len(simple)-1; i < j; i, j = i+1, j-1 {
					simple[i], simple[j] = simple[j], simple[i]
				}
			}
			c := joinLines(t.contour(t.runs(simple), emit))
			// Chords and flat junctions are each out by the tolerance at most.
			if off := c.Area() - math.Abs(ringArea(pts)); math.Abs(off) > float64(3*tolerance*around)+1e-6 {
				return nil, Errorf("contour at (%.4f, %.4f): its curves hold %.6f in² more than its chords: move one outline by %v", c.Start.X, c.Start.Y, off, Length(0.001))
			}
			if leaving(c.Area()) { // its lines ran there and back on one another
				continue
			}
			out, polygons = append(out, c), append(polygons, pts)
		}
	}
	return nestContours(out, polygons), nil
}

// simpleRings cuts a closed walk at vertices that it visits twice, so that no
// ring touches itself, and drops there-and-back spurs.
func simpleRings(walk []int) [][]int {
	var out [][]int
	var stack []int
	place := map[int]int{}
	for _, v := range walk {
		if i, ok := place[v]; ok {
			if len(stack)-i > 2 {
				out = append(out, append([]int(nil), stack[i:]...))
			}
			for _, w := range stack[i:] {
				delete(place, w)
			}
			stack = stack[:i]
		}
		place[v] = len(stack)
		stack = append(stack, v)
	}
	if len(stack) > 2 {
		out = append(out, stack)
	}
	return out
}

// runs returns the pieces of a ring, neighbours on one curve joined, starting
// at the least of the vertices where two pieces meet.
func (t *tracer) runs(ring []int) []stretch {
	var ps []stretch
	for i, u := range ring {
		ps = append(ps, t.edge(u, ring[(i+1)%len(ring)])...)
	}
	ps = joinStretches(ps)
	first := 0
	for i := range ps {
		if less(t.vertices.at[ps[i].v0], t.vertices.at[ps[first].v0]) {
			first = i
		}
	}
	return append(append([]stretch(nil), ps[first:]...), ps[:first]...)
}

// joinStretches makes one of neighbours that follow one another on one curve, the last and
// the first of the ring too; it works within ps.
func joinStretches(ps []stretch) []stretch {
	kept := ps[:0]
	for _, p := range ps {
		if n := len(kept); n > 0 && continues(kept[n-1], p) {
			kept[n-1].t1, kept[n-1].v1 = p.t1, p.v1
			continue
		}
		kept = append(kept, p)
	}
	if n := len(kept); n > 1 && continues(kept[n-1], kept[0]) {
		kept[0].t0, kept[0].v0 = kept[n-1].t0, kept[n-1].v0
		kept = kept[:n-1]
	}
	return kept
}

func continues(p, q stretch) bool {
	return p.curve >= 0 && p.curve == q.curve && math.Abs(p.t1-q.t0) < 1e-9 && (p.t1 > p.t0) == (q.t1 > q.t0)
}

// edge returns the pieces of one polygon edge. It is a chord, or a line over
// several chords, or a part of a chord.
func (t *tracer) edge(u, v int) []stretch {
	if p, ok := t.chord(u, v); ok {
		return []stretch{p}
	}
	var out []stretch
	stops := t.between(u, v)
	for _, w := range append(stops, v) {
		p, ok := t.chord(u, w)
		if !ok {
			p = t.within(u, w)
		}
		out = append(out, p)
		u = w
	}
	return out
}

func (t *tracer) chord(u, v int) (stretch, bool) {
	c, ok := t.chords[[2]int{min(u, v), max(u, v)}]
	if !ok {
		return stretch{}, false
	}
	s, e := t.chains[c[0]][c[1]], t.chains[c[0]][c[1]+1]
	if s.v != u {
		s, e = e, s
	}
	return stretch{c[0], s.t, e.t, u, v}, true
}

// between returns the known vertices that lie on the straight line from u to v,
// in order, ends left out.
func (t *tracer) between(u, v int) []int {
	if t.byX == nil {
		for i := 0; i < t.known; i++ {
			t.byX = append(t.byX, i)
		}
		sort.SliceStable(t.byX, func(i, j int) bool { return t.vertices.at[t.byX[i]].X < t.vertices.at[t.byX[j]].X })
	}
	a, b := t.vertices.at[u], t.vertices.at[v]
	box := BoundsOf(a, b).Grown(weldDistance)
	d := b.Sub(a)
	n := d.Norm()
	type stop struct {
		along float64
		v     int
	}
	var stops []stop
	from := sort.Search(len(t.byX), func(i int) bool { return t.vertices.at[t.byX[i]].X >= box.Min.X })
	for _, w := range t.byX[from:] {
		q := t.vertices.at[w]
		if q.X > box.Max.X {
			break
		}
		if w == u || w == v || !box.Contains(q) {
			continue
		}
		along, off := d.Dot(q.Sub(a))/n, math.Abs(d.Cross(q.Sub(a)))/n
		if off < weldDistance/2 && along > 0 && along < n {
			stops = append(stops, stop{along, w})
		}
	}
	sort.Slice(stops, func(i, j int) bool { return stops[i].along < stops[j].along })
	out := make([]int, len(stops))
	for i, s := range stops {
		out[i] = s.v
	}
	return out
}

// within returns the piece from u to v as a part of the first chord that both
// lie on; a bare line when there is none.
func (t *tracer) within(u, v int) stretch {
	a, b := t.vertices.at[u], t.vertices.at[v]
	for c, chain := range t.chains {
		for i := 1; i < len(chain); i++ {
			p, q := t.vertices.at[chain[i-1].v], t.vertices.at[chain[i].v]
			if box := BoundsOf(p, q).Grown(weldDistance); !box.Contains(a) || !box.Contains(b) {
				continue
			}
			if SegmentDistance(a, p, q) > weldDistance || SegmentDistance(b, p, q) > weldDistance {
				continue
			}
			d := q.Sub(p)
			at := func(w int, x Point) float64 {
				switch w {
				case chain[i-1].v:
					return chain[i-1].t
				case chain[i].v:
					return chain[i].t
				}
				f := max(0, min(1, x.Sub(p).Dot(d)/d.Dot(d)))
				return chain[i-1].t + float64(f*(chain[i].t-chain[i-1].t))
			}
			if t0, t1 := at(u, a), at(v, b); t0 != t1 {
				return stretch{c, t0, t1, u, v}
			}
		}
	}
	return stretch{-1, 0, 1, u, v}
}

// contour emits the pieces end to end.
func (t *tracer) contour(ps []stretch, emit func(stretch) Contour) Contour {
	c := Contour{Start: t.vertices.at[ps[0].v0]}
	for _, p := range ps {
		c.Segments = append(c.Segments, emit(p).Segments...)
	}
	c.Segments[len(c.Segments)-1].End = c.Start
	return c
}

// joinLines joins straight segments of a closed contour that lie in line, every
// dropped node within weldDistance of the line that replaces it.
func joinLines(c Contour) Contour {
	n := len(c.Segments)
	// Start where two segments do not join, so that the start can go too.
	start := -1
	for i := 0; i < n && start < 0; i++ {
		prev := (i + n - 1) % n
		if !inLine(c.From(prev), []Point{c.From(i)}, c.Segments[i].End) || c.Segments[prev].Kind != Line || c.Segments[i].Kind != Line {
			start = i
		}
	}
	if start < 0 {
		return c
	}
	out := Contour{Start: c.From(start)}
	var dropped []Point
	for k := 0; k < n; k++ {
		s := c.Segments[(start+k)%n]
		m := len(out.Segments)
		if s.Kind == Line && m > 0 && out.Segments[m-1].Kind == Line {
			via := append(append([]Point(nil), dropped...), out.Segments[m-1].End)
			if inLine(out.From(m-1), via, s.End) {
				dropped = via
				out.Segments[m-1].End = s.End
				continue
			}
		}
		dropped = nil
		out.Segments = append(out.Segments, s)
	}
	return out
}

// inLine tells whether the points lie on the line from a to b, in order.
func inLine(a Point, via []Point, b Point) bool {
	d := b.Sub(a)
	n := d.Norm()
	if n == 0 {
		return false
	}
	last := 0.0
	for _, q := range via {
		along := d.Dot(q.Sub(a)) / n
		if math.Abs(d.Cross(q.Sub(a)))/n > weldDistance || along < last || along > n {
			return false
		}
		last = along
	}
	return true
}
