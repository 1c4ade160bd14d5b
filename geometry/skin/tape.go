package skin

import (
	"math"
	"slices"

	g "maskloft/geometry"
)

// Pressed is a tape that lies in the skin from one point to another.
type Pressed struct {
	Length g.Length
	Points []UV     // points of the path, ends included
	Moved  g.Length // what the last refinement moved of the length
	// Around is the shortest length the other way round a closed section, +Inf
	// where there is none. It is as good as Length where the two nearly
	// tie; elsewhere it is good to a hundredth of itself, or a length that it exceeds.
	Around g.Length
}

// nearTie is the relative difference within which both ways round a section are
// computed to the full tolerance: which is the shorter must not hang on the net.
const nearTie = 0.05

// coarse is how far, of itself, a length over the coarse net may be out: the net
// has ten cells or so to the path (measured below 0.003 on a 30 by 90 spheroid).
const coarse = 0.01

// leastOver is by how much, in inches, the far way is bounded beyond a near tie: ends that
// are one point have a far way too.
const leastOver = 1.0

// Tape returns the shortest path along the skin between two points, to the given
// tolerance. Both ways round a closed section are tried and the shorter one is
// returned. The path may run along the border of the surface but not beyond it.
//
// A path over a coarse net, unfolded to a straight line, is the start; beads
// strung along it are then slid to the least length, see [beading]. Where that
// cannot be done the net itself is halved until the length stands.
//
// Errors: an end lies off the surface; the length does not settle.
func Tape(s Surface, a, b UV, tolerance float64) (Pressed, error) {
	for _, uv := range []UV{a, b} {
		if !s.Contains(uv) {
			return Pressed{}, g.Errorf("%v lies off the surface", g.PositionOf(PointAt(s, uv)))
		}
	}
	// ends that share a station or a line but for rounding share it
	if math.Abs(a.U-b.U) < g.SnapTolerance {
		b.U = a.U
	}
	_, _, period := s.Breaks()
	ways := []way{{a: a, b: b}}
	if period > 0 {
		dv := math.Remainder(b.V-a.V, period)
		if math.Abs(dv) < g.SnapTolerance {
			dv = 0
		}
		ways = []way{{a: a, b: UV{b.U, a.V + dv}}, {a: a, b: UV{b.U, a.V + dv - math.Copysign(period, dv)}}}
	}
	ways[0].walk(s)
	if len(ways) == 2 {
		if ways[1].length = ways[1].atLeast(s, ways[0].length*(1+nearTie)*(1+coarse)+leastOver); ways[1].length <= ways[0].length*(1+coarse) {
			if ways[1].walk(s); ways[1].length < ways[0].length {
				ways[0], ways[1] = ways[1], ways[0]
			}
		}
	}
	best, err := ways[0].settle(s, tolerance)
	if err != nil {
		return Pressed{}, err
	}
	best.Around = g.Length(math.Inf(1))
	if len(ways) == 1 {
		return best, nil
	}
	tie := func() bool { return ways[1].length <= best.Length.Inches()*(1+nearTie) }
	if tie() {
		ways[1].walk(s)
	}
	best.Around = g.Length(ways[1].length)
	if !tie() {
		return best, nil
	}
	other, ok := polish(s, ways[1].points, ways[1].length, tolerance)
	if !ok {
		if ways[1].length > best.Length.Inches()*(1+coarse) {
			return best, nil
		}
		if other, err = refine(s, ways[1].w, ways[1].h, ways[1].a, ways[1].b, tolerance); err != nil {
			return Pressed{}, err
		}
	}
	if other.Length < best.Length {
		best, other = other, best
	}
	best.Around = other.Length
	return best, nil
}

// way is one way round from a to b; and, once it is walked, the window searched and its
// path over a coarse net.
type way struct {
	a, b   UV
	w      window
	h      float64
	points []UV
	length float64
}

// walk finds the path over a coarse net.
func (y *way) walk(s Surface) {
	if y.points != nil {
		return
	}
	a, b := y.a, y.b
	chord := PointAt(s, b).Sub(PointAt(s, a)).Norm()
	if chord < 1e-9 && math.Abs(a.V-b.V) < 1e-9 {
		y.points = []UV{a, b}
		return
	}
	ub, vb, period := s.Breaks()
	margin := float64(0.15*math.Hypot(chord, Girth(s, g.Station(a.U), a.V, b.V).Inches())) + 1
	mv := margin
	if period > 0 {
		mv = 0.1 * period
	}
	y.w = window{
		u0: max(ub[0], min(a.U, b.U)-margin), u1: min(ub[len(ub)-1], max(a.U, b.U)+margin),
		v0: min(a.V, b.V) - mv, v1: max(a.V, b.V) + mv,
	}
	if period <= 0 {
		y.w.v0, y.w.v1 = max(vb[0], y.w.v0), min(vb[len(vb)-1], y.w.v1)
	}
	y.h = max(0.5, min(8, max(chord, 2*margin)/6))
	y.points, y.length = alongNet(s, y.w, y.h, 0, a, b)
}

func (y way) settle(s Surface, tolerance float64) (Pressed, error) {
	if y.length == 0 {
		return Pressed{Points: y.points}, nil
	}
	if p, ok := polish(s, y.points, y.length, tolerance); ok {
		return p, nil
	}
	return refine(s, y.w, y.h, y.a, y.b, tolerance)
}

// alongNet returns the shortest path over one net.
func alongNet(s Surface, w window, h float64, level int, a, b UV) (points []UV, length float64) {
	n := newNetThrough(s, w, h, level, 1, a, b)
	m := meshes.Get().(*mesh)
	defer meshes.Put(m)
	m.take(n)
	edges := m.dijkstra(m.node(cellAt(n.us, a.U), cellAt(n.vs, a.V)), m.node(cellAt(n.us, b.U), cellAt(n.vs, b.V)))
	length, points = m.straighten(edges)
	return points, length
}

// polish strings beads along a path and tightens them, twice as many each time,
// until the length stands. It fails where beads cannot follow: see
// [beading.tighten].
func polish(s Surface, path []UV, length, tolerance float64) (Pressed, bool) {
	last, before := math.NaN(), math.NaN()
	b := beadings.Get().(*beading)
	defer func() {
		b.s = nil // the skin is not to live as long as this memory
		beadings.Put(b)
	}()
	for part := 1.0; part > 1.0/64; part /= 2 {
		l, end := 0.0, stretched
		for try := 0; end == stretched && try < mostStrings; try++ {
			b.along(s, path, part*length/6, part*turnSpacing)
			l, end = b.tighten()
			path = b.uv
		}
		if end != tight {
			return Pressed{}, false
		}
		moved := math.Abs(l - last)
		// one small movement may be chance where the skin turns within a spacing:
		// two are asked for, falling about as fast as the order says, or both small
		if moved <= tolerance && (moved <= before/6 || before <= tolerance/20) {
			// the error falls sixteenfold with each doubling (Richardson)
			return Pressed{Length: g.Length(l + (l-last)/15), Points: slices.Clone(b.uv), Moved: g.Length(moved)}, true
		}
		last, before = l, moved
	}
	return Pressed{}, false
}

// mostStrings is how often a string is strung anew at one spacing.
const mostStrings = 40

// refine halves the net, and extrapolates its lengths, until they stand. It is
// slower than polish and goes along borders and over corners of panels.
func refine(s Surface, w window, h float64, a, b UV, tolerance float64) (Pressed, error) {
	var lengths []float64
	held := math.NaN()
	for level := 0; level < 6; level++ {
		points, length := alongNet(s, w, h, level, a, b)
		lengths = append(lengths, length)
		if level == 0 {
			continue
		}
		better := length + (length-lengths[level-1])/3
		moved := math.Abs(length - lengths[level-1])
		if d := math.Abs(better - held); d < moved {
			moved = d
		}
		held = better
		if moved <= tolerance {
			return Pressed{Length: g.Length(better), Points: points, Moved: g.Length(moved)}, nil
		}
	}
	return Pressed{}, g.Errorf("the tape from %v to %v does not settle to %v", g.PositionOf(PointAt(s, a)), g.PositionOf(PointAt(s, b)), g.Length(tolerance))
}

// cellAt returns the line at x.
func cellAt(lines []float64, x float64) int {
	best := 0
	for i, l := range lines {
		if math.Abs(l-x) < math.Abs(lines[best]-x) {
			best = i
		}
	}
	return best
}
