package proportions

import (
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// A rule whose borders come to lie on themselves when they are turned, such as a
// checker or a flash, is recognised by its outline at any of these turns; its paints
// are not alike at all of them.
const (
	sameBorder = 0.006 // governing radii
	onPage     = 0.003 // radians: a drawing so near upright stands on its page as it is meant
)

// symmetries returns the turns, radians counter-clockwise and above 0, at which the
// borders in sight come to lie on themselves.
func (s *ruleDrawing) symmetries() []float64 {
	s.turnsOnce.Do(func() {
		var tried []float64
		for k := 1; k < 12; k++ {
			tried = append(tried, float64(k)*math.Pi/6)
		}
		for k := 1; k < 10; k++ {
			if k != 5 {
				tried = append(tried, float64(k)*math.Pi/5)
			}
		}
		near := newPlaces(s)
		for _, a := range tried {
			sin, cos := same.Sincos(a)
			off := 0
			for _, e := range s.samples {
				if q := (geometry.Point{X: float64(e.X*cos) - float64(e.Y*sin), Y: float64(e.X*sin) + float64(e.Y*cos)}); !near.any(q, sameBorder) {
					off++
				}
			}
			if 50*off < len(s.samples) {
				s.turns, s.apart = append(s.turns, a), append(s.apart, s.paintsApart(sin, cos))
			}
		}
	})
	return s.turns
}

// paintsApart tells whether paints of the rule are others somewhere once it is turned.
func (s *ruleDrawing) paintsApart(sin, cos float64) bool {
	for _, b := range s.besideBorders(besideDepth + onBorder) {
		q := geometry.Point{X: float64(b.X*cos) - float64(b.Y*sin), Y: float64(b.X*sin) + float64(b.Y*cos)}
		if s.paint(b.layer) != s.paint(s.top(q)) {
			return true
		}
	}
	return false
}

// upright returns the pose, of those that the outline does not tell apart, at which the
// drawing is meant to be held against the rule: the one at which it stands upright on its
// page, where there is one; else the one at which least of its paint is blamed. Checks are
// those of the pose given.
func (w *whole) upright(checks []Check, o Options) (*whole, []Check) {
	turned := func(m matched) float64 { return math.Abs(math.Remainder(m.turn, 2*math.Pi)) }
	least, lowest := blamed(checks), turned(*w.m)
	if lowest < onPage {
		return w, checks
	}
	best, said := w, checks
	for i, a := range w.symmetries() {
		at := *w.m
		at.turn = at.turned(a)
		now := turned(at)
		if now >= onPage && (least == 0 || !w.apart[i] || !w.colours) {
			continue
		}
		v := at.holds(w.ruleDrawing, w.scene)
		list := v.checks(o)
		if now < onPage {
			return v, list
		}
		if n := blamed(list); n < least || n == least && now < lowest {
			best, said, least, lowest = v, list, n, now
		}
	}
	return best, said
}

// blamed counts the checks of paints.
func blamed(list []Check) int {
	n := 0
	for _, c := range list {
		if c.Name == ColourCheck || c.Name == AreaCheck {
			n++
		}
	}
	return n
}
