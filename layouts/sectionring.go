package layouts

import (
	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
)

// sectionRings draws sections of a closed body. What the lines along the body that it
// asks for have in common is kept from one section to the next; it serves one caller at
// a time.
type sectionRings struct {
	panels []ringPanel
	ring   []g.Point // of the last section
}

// ringPanel is one panel of every section.
type ringPanel struct {
	from, to float64                  // V
	turn     [turnLines + 1]bodyLine  // by which its turning is judged
	lines    map[int][]bodyLine       // those that cut it into so many chords
	line     func(v float64) bodyLine // one of them
}

// bodyLine returns points and normals of a line along a body by U, see [skin.LineOf].
type bodyLine func(u, in float64) (p, normal g.Vec3)

// turnLines is by how many equal steps the turning of a panel is judged.
const turnLines = 4

func newSectionRings(s skin.Surface) *sectionRings {
	_, vs, _ := s.Breaks()
	out := &sectionRings{}
	for k := 0; k+1 < len(vs); k++ {
		in := (vs[k] + vs[k+1]) / 2
		panel := ringPanel{from: vs[k], to: vs[k+1], lines: map[int][]bodyLine{}}
		panel.line = func(v float64) bodyLine { return skin.LineOf(s, v, in) }
		for i := range panel.turn {
			panel.turn[i] = panel.line(panel.at(i, turnLines))
		}
		out.panels = append(out.panels, panel)
	}
	return out
}

// at returns V after i of n equal steps.
func (p *ringPanel) at(i, n int) float64 { return p.from + (p.to-p.from)*float64(i)/float64(n) }

// of returns the section at a station, x to the right and y up, as chords within 1/8 of
// a hundredth of its radius. It stands until the next is asked for.
func (r *sectionRings) of(fs float64) []g.Point {
	r.ring = r.ring[:0]
	for k := range r.panels {
		p := &r.panels[k]
		turn := 0.0
		_, last := p.turn[0](fs, fs)
		for _, line := range p.turn[1:] {
			_, now := line(fs, fs)
			turn += same.Acos(max(-1, min(1, now.Dot(last))))
			last = now
		}
		n := g.Steps(turn, 0.1)
		lines := p.lines[n]
		if lines == nil {
			for i := range n {
				lines = append(lines, p.line(p.at(i, n)))
			}
			p.lines[n] = lines
		}
		for _, line := range lines {
			q, _ := line(fs, fs)
			r.ring = append(r.ring, g.Point{X: q.Y, Y: q.Z})
		}
	}
	return r.ring
}

// deeper tells whether a point lies further than depth, inches, inside the section at its
// station, in that plane.
func (r *sectionRings) deeper(p g.Vec3, depth float64) bool {
	ring, at := r.of(p.X), g.Point{X: p.Y, Y: p.Z}
	if !g.Inside(at, ring) {
		return false
	}
	for i, a := range ring {
		if g.SegmentDistance(at, a, ring[(i+1)%len(ring)]) <= depth {
			return false
		}
	}
	return true
}
