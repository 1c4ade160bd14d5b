package skin

import (
	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// Twist is how far the skin of a bay turns about a line between its two sections:
// the angle, in radians, between the planes that the line spans with the two
// outlines it ends on. It is 0 where the bay can be unrolled along that line (a
// ruled surface is developable where the tangent plane is one along each ruling:
// do Carmo 1976, 3-5).
type Twist struct {
	Angle float64
	At    g.Position // on the line, midway
	From  g.Station  // of the section before the bay
	To    g.Station  // of the section behind it
}

// framed is a surface through sections.
type framed interface{ frames() []float64 }

func (s *FairedSkin) frames() []float64   { return s.u }
func (s *StringerSkin) frames() []float64 { return s.u }

// MostTwisted returns the most twisted line between two sections that passes
// through a rectangle of the flat; the angle is 0 on a skin without sections.
func (m *FlatMap) MostTwisted(within g.Rect) Twist {
	var out Twist
	f, ok := m.s.(framed)
	if !ok {
		return out
	}
	u := f.frames()
	_, vb, period := m.s.Breaks()
	vs := linesBetween(vb, period, m.net.vs[0], m.net.vs[m.net.nv()-1])
	lo, hi := m.net.us[0], m.net.us[m.net.nu()-1]
	for k := 0; k+1 < len(u); k++ {
		a, b := max(lo, u[k]), min(hi, u[k+1])
		if b-a < 1e-6 {
			continue
		}
		for j := 0; j+1 < len(vs); j++ {
			const n = 16
			for i := 0; i < n; i++ {
				v := vs[j] + (vs[j+1]-vs[j])*(float64(i)+0.5)/n
				if !m.passes(within, a, b, v) {
					continue
				}
				if angle := twistOf(m.s, u[k], u[k+1], v); angle > out.Angle {
					mid := UV{(a + b) / 2, v}
					out = Twist{angle, g.PositionOf(PointAt(m.s, mid)), g.Station(u[k]), g.Station(u[k+1])}
				}
			}
		}
	}
	return out
}

// passes tells whether the line of constant v from station a to b comes through a
// rectangle of the flat.
func (m *FlatMap) passes(within g.Rect, a, b, v float64) bool {
	const n = 12
	for i := 0; i <= n; i++ {
		if p, ok := m.ToFlat(UV{a + (b-a)*float64(i)/n, v}); ok && within.Contains(p) {
			return true
		}
	}
	return false
}

func twistOf(s Surface, u0, u1, v float64) float64 {
	in := UV{(u0 + u1) / 2, v}
	const e = 1e-4
	tangent := func(u float64) g.Vec3 {
		p, _ := s.At(UV{u, v - e}, in)
		q, _ := s.At(UV{u, v + e}, in)
		return q.Sub(p)
	}
	p, _ := s.At(UV{u0, v}, in)
	q, _ := s.At(UV{u1, v}, in)
	line := q.Sub(p)
	a, b := line.Cross(tangent(u0)), line.Cross(tangent(u1))
	return same.Atan2(a.Cross(b).Norm(), a.Dot(b))
}
