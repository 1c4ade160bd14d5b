package skin

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// RoundSection is a circular cross-section with its centre on BL 0.
type RoundSection struct {
	FS     g.Station
	Radius g.Length
	WL     g.Waterline // of the centre
}

// RoundSkin is sheet ruled between circular sections: a right cylinder where two
// neighbouring sections are equal, a right cone where their centres lie level,
// an oblique cone otherwise. It is developable between sections, and over a
// section where the slope does not change.
//
// V is the angle from the crown in radians, positive towards the right side.
type RoundSkin struct {
	sections []RoundSection
	u        []float64
}

// NewRoundSkin returns the skin through at least two sections in order of FS.
func NewRoundSkin(sections []RoundSection) (*RoundSkin, error) {
	if len(sections) < 2 {
		return nil, fmt.Errorf("a skin needs two sections or more, got %d", len(sections))
	}
	s := &RoundSkin{sections: sections}
	for i, sec := range sections {
		if sec.Radius <= 0 {
			return nil, g.Errorf("section FS %v has radius %v: it must be above 0", sec.FS, sec.Radius)
		}
		if i > 0 && sec.FS <= sections[i-1].FS {
			return nil, g.Errorf("section FS %v does not lie aft of FS %v", sec.FS, sections[i-1].FS)
		}
		s.u = append(s.u, sec.FS.Inches())
	}
	return s, nil
}

// Breaks lists the sections; round the body there is one line, at the keel.
func (s *RoundSkin) Breaks() (u, v []float64, period float64) {
	return s.u, []float64{-math.Pi, math.Pi}, 2 * math.Pi
}

// Contains tells whether uv lies between the first and the last section.
func (s *RoundSkin) Contains(uv UV) bool {
	return uv.U >= s.u[0]-1e-9 && uv.U <= s.u[len(s.u)-1]+1e-9
}

// At returns the point on the ruling at angle V, and the normal.
func (s *RoundSkin) At(uv, in UV) (g.Vec3, g.Vec3) {
	sin, cos := same.Sincos(uv.V)
	return s.ruling(uv.U, in.U, sin, cos)
}

// ruling returns the point at u on the ruling at an angle, in the panel that holds in,
// and the normal.
func (s *RoundSkin) ruling(u, in, sin, cos float64) (g.Vec3, g.Vec3) {
	i := cellOf(s.u, in)
	a, b := s.sections[i], s.sections[i+1]
	span := float64(b.FS - a.FS)
	t := (u - a.FS.Inches()) / span
	dr, dz := float64(b.Radius-a.Radius), float64(b.WL-a.WL)
	r, z := float64(a.Radius)+float64(t*dr), a.WL.Inches()+float64(t*dz)
	p := g.Vec3{X: u, Y: r * sin, Z: z + float64(r*cos)}
	su := g.Vec3{X: 1, Y: dr / span * sin, Z: dz/span + float64(dr/span*cos)}
	sv := g.Vec3{Y: r * cos, Z: -r * sin}
	return p, su.Cross(sv).Unit()
}
