package skin

import (
	"fmt"
	"math"

	g "maskloft/geometry"
)

// Pressed is a tape that lies in the skin from one point to another.
type Pressed struct {
	Length g.Length
	Points []UV     // where it crosses the edges of the net, ends included
	Moved  g.Length // what the last halving of the net moved of it
	// Around is the shortest length the other way round a closed section; +Inf
	// where there is none.
	Around g.Length
}

// Tape returns the shortest path along the skin between two points, to the given
// tolerance. Both ways round a closed section are tried and the shorter one is
// returned. The path may run along the border of the surface but not beyond it.
//
// The net is halved, and its lengths extrapolated, until they stand: their error
// falls with the square of the spacing, and with its fourth power where the skin
// can be unrolled (asserted by test).
//
// Errors: an end lies off the surface; the length does not settle.
func Tape(s Surface, a, b UV, tolerance float64) (Pressed, error) {
	for _, uv := range []UV{a, b} {
		if !s.Contains(uv) {
			return Pressed{}, fmt.Errorf("%v lies off the surface", g.PositionOf(PointAt(s, uv)))
		}
	}
	_, _, period := s.Breaks()
	lifts := []UV{b}
	if period > 0 {
		dv := math.Remainder(b.V-a.V, period)
		lifts = []UV{{b.U, a.V + dv}, {b.U, a.V + dv - math.Copysign(period, dv)}}
	}
	best := Pressed{Length: g.Length(math.Inf(1)), Around: g.Length(math.Inf(1))}
	for _, to := range lifts {
		p, err := tapeOneWay(s, a, to, tolerance)
		if err != nil {
			return Pressed{}, err
		}
		if p.Length < best.Length {
			p.Around, best = best.Length, p
		} else {
			best.Around = p.Length
		}
	}
	return best, nil
}

func tapeOneWay(s Surface, a, b UV, tolerance float64) (Pressed, error) {
	chord := PointAt(s, b).Sub(PointAt(s, a)).Norm()
	if chord < 1e-9 && math.Abs(a.V-b.V) < 1e-9 {
		return Pressed{Points: []UV{a, b}, Around: g.Length(math.Inf(1))}, nil
	}
	_, _, period := s.Breaks()
	margin := 0.15*math.Hypot(chord, Girth(s, g.Station(a.U), a.V, b.V).Inches()) + 1
	w := window{u0: math.Min(a.U, b.U) - margin, u1: math.Max(a.U, b.U) + margin}
	mv := 0.1 * period
	if period <= 0 {
		mv = margin
	}
	w.v0, w.v1 = math.Min(a.V, b.V)-mv, math.Max(a.V, b.V)+mv
	lo, hi := Extent(s)
	w.u0, w.u1 = math.Max(lo, w.u0), math.Min(hi, w.u1)
	if _, vb, period := s.Breaks(); period <= 0 {
		w.v0, w.v1 = math.Max(vb[0], w.v0), math.Min(vb[len(vb)-1], w.v1)
	}
	h := math.Max(0.5, math.Min(8, math.Max(chord, 2*margin)/10))
	var lengths []float64
	held := math.NaN()
	for level := 0; level < 7; level++ {
		n := newNetThrough(s, w, h, level, 1, a, b)
		if n.nodes() > 400000 {
			break
		}
		m := newMesh(n)
		path := m.dijkstra(m.node(cellAt(n.us, a.U), cellAt(n.vs, a.V)), m.node(cellAt(n.us, b.U), cellAt(n.vs, b.V)))
		length, points := m.straighten(path)
		lengths = append(lengths, length)
		if level == 0 {
			continue
		}
		better := length + (length-lengths[level-1])/3
		moved := math.Min(math.Abs(better-held), math.Abs(length-lengths[level-1]))
		if math.IsNaN(held) {
			moved = math.Abs(length - lengths[level-1])
		}
		held = better
		if moved <= tolerance {
			return Pressed{Length: g.Length(better), Points: points, Moved: g.Length(moved), Around: g.Length(math.Inf(1))}, nil
		}
	}
	return Pressed{}, fmt.Errorf("the tape from %v to %v does not settle to %g in", g.PositionOf(PointAt(s, a)), g.PositionOf(PointAt(s, b)), tolerance)
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
