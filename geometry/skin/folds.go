package skin

import (
	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// Fold is a hard line that film lies over: the angle, in radians, by which the
// skin turns there, and the place of the sharpest turn.
type Fold struct {
	Angle float64
	At    g.Position
}

// foldPlaces is how many places of a grid line are looked at.
const foldPlaces = 48

// SharpestFold returns the sharpest hard line inside a rectangle of the flat; the
// angle is 0 where there is none. The flat runs over hard lines without a break:
// lengths on either side are kept.
func (m *FlatMap) SharpestFold(within g.Rect) Fold {
	var out Fold
	ub, vb, period := m.net.s.Breaks()
	us := linesBetween(ub, 0, m.net.us[0], m.net.us[m.net.nu()-1])
	vs := linesBetween(vb, period, m.net.vs[0], m.net.vs[m.net.nv()-1])
	look := func(at, one, other UV) {
		p, _, _ := m.net.interpolate(m.flat, at)
		if !within.Contains(p) || !m.s.Contains(m.chart.from(at)) {
			return
		}
		q, a := m.net.s.At(at, one)
		_, b := m.net.s.At(at, other)
		if angle := same.Atan2(a.Cross(b).Norm(), a.Dot(b)); angle > out.Angle+1e-9 {
			out = Fold{angle, g.PositionOf(q)}
		}
	}
	// both directions: each line, each panel that it borders, places along it
	for i := 1; i+1 < len(us); i++ {
		for j := 0; j+1 < len(vs); j++ {
			for k := 0; k <= foldPlaces; k++ {
				at := UV{us[i], vs[j] + (vs[j+1]-vs[j])*float64(k)/foldPlaces}
				mid := (vs[j] + vs[j+1]) / 2
				look(at, UV{(us[i-1] + us[i]) / 2, mid}, UV{(us[i] + us[i+1]) / 2, mid})
			}
		}
	}
	for j := 1; j+1 < len(vs); j++ {
		for i := 0; i+1 < len(us); i++ {
			for k := 0; k <= foldPlaces; k++ {
				at := UV{us[i] + (us[i+1]-us[i])*float64(k)/foldPlaces, vs[j]}
				mid := (us[i] + us[i+1]) / 2
				look(at, UV{mid, (vs[j-1] + vs[j]) / 2}, UV{mid, (vs[j] + vs[j+1]) / 2})
			}
		}
	}
	return out
}
