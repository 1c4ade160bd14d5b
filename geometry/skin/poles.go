package skin

import (
	"math"

	g "maskloft/geometry"
)

// pole is an end of a closed body, at which its sections draw together: a nose, a
// tail, or the apex of a cone. All curvature of the end lies inside a drawing
// that surrounds it, however short the girth of the last section: a film round
// the apex of a cone does not close by the angle that its sector lacks
// (radial-line development, any drafting text).
type pole struct {
	name   string
	u      float64
	girth  float64 // once round the last section
	centre g.Vec3
}

// polesOf returns both ends of a closed body, none of an open surface.
func polesOf(s Surface) []pole {
	_, vb, period := s.Breaks()
	if period <= 0 {
		return nil
	}
	lo, hi := Extent(s)
	out := []pole{{name: "fore", u: lo}, {name: "aft", u: hi}}
	for i := range out {
		p := &out[i]
		p.girth = onceRound(s, p.u)
		const n = 32
		for k := 0; k < n; k++ {
			p.centre = p.centre.Add(PointAt(s, UV{p.u, vb[0] + period*float64(k)/n}).Scale(1.0 / n))
		}
	}
	return out
}

// onceRound returns the length once round a section, by chords: short by 2e-5 of
// itself or less on a round one (a chord of angle a is short by a^2/24; derived).
func onceRound(s Surface, u float64) float64 {
	_, vb, period := s.Breaks()
	const n = 480
	sum, last := 0.0, PointAt(s, UV{u, vb[0]})
	for i := 1; i <= n; i++ {
		p := PointAt(s, UV{u, vb[0] + period*float64(i)/n})
		sum, last = sum+p.Sub(last).Norm(), p
	}
	return sum
}

// within tells whether the end is small against a rectangle of film: less round
// than the rectangle is wide and high. A larger end is an open edge that a
// drawing runs over, and is reported as such.
func (p pole) within(need g.Rect) bool {
	return p.girth < min(need.Width(), need.Height())
}

func (p pole) refuse(need g.Rect) error {
	return g.Errorf("%v: the %s end of the body, %v round, lies inside the film of %v: film cannot be laid round the end of a body: move the marking away from that end, or make it smaller",
		g.PositionOf(p.centre), p.name, g.Length(p.girth).Rounded(2), need.Extent(2))
}

// poleAhead refuses a rectangle that plainly holds an end of the body, before
// any net is made: the end is looked for where the line of constant V from the
// anchor leads, which on a body of revolution is a straight line of the film. It
// is right within the tenth by which the rectangle is drawn in; what it lets
// pass, [FlatMap.poleInside] judges on the flat.
func poleAhead(s Surface, f Frame, need g.Rect) error {
	su, _, n := Tangents(s, f.At)
	up := f.Up.Sub(n.Scale(f.Up.Dot(n))).Unit()
	right := up.Cross(n)
	for _, p := range polesOf(s) {
		if !p.within(need) {
			continue
		}
		d := su.Unit().Scale(math.Copysign(lengthAlong(s, f.At.V, f.At.U, p.u), p.u-f.At.U))
		if need.Grown(-0.1 * min(need.Width(), need.Height())).Contains(g.Point{X: d.Dot(right), Y: d.Dot(up)}) {
			return p.refuse(need)
		}
	}
	return nil
}

// poleInside refuses a flat in which the whole last section of an end that is
// small lies inside need.
func (m *FlatMap) poleInside(need g.Rect) error {
	ends := map[string]int{"fore": 0, "aft": m.net.nu() - 1}
	for _, p := range polesOf(m.s) {
		i := ends[p.name]
		if math.Abs(m.net.us[i]-p.u) > 1e-9 || !p.within(need) {
			continue
		}
		inside := true
		for j := 0; j < m.net.nv(); j++ {
			inside = inside && need.Contains(m.flat[m.net.node(i, j)])
		}
		if inside {
			return p.refuse(need)
		}
	}
	return nil
}

// Seam tells whether a rectangle of the flat reaches so far round a closed body
// that film of that size would meet itself, where, and how long once round the
// body is there.
func (m *FlatMap) Seam(within g.Rect) (at g.Position, round g.Length, meets bool) {
	_, _, period := m.s.Breaks()
	last := m.net.nv() - 1
	if period <= 0 || m.net.vs[last]-m.net.vs[0] < 0.97*period {
		return at, 0, false
	}
	for i := 0; i < m.net.nu(); i++ {
		a, b := m.net.node(i, 0), m.net.node(i, last)
		if within.Contains(m.flat[a]) && within.Contains(m.flat[b]) {
			uv := m.net.nodeUV(a)
			return g.PositionOf(PointAt(m.s, uv)), g.Length(onceRound(m.s, uv.U)), true
		}
	}
	return at, 0, false
}
