package proportions

import (
	"cmp"
	"math"
	"slices"

	"maskloft/geometry"
)

// A rule whose borders come to lie on themselves when they are turned, such as a
// checker or a flash, is recognised by its outline at any of these turns; its paints
// are not alike at all of them.
const (
	sameBorder  = 0.006       // governing radii
	nearUpright = math.Pi / 4 // a turn beyond it may be another's
	onPage      = 0.02        // radians: a drawing so near a quarter turn stands on its page as it is meant
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
			sin, cos := math.Sincos(a)
			off := 0
			for _, e := range s.samples {
				if q := (geometry.Point{X: e.X*cos - e.Y*sin, Y: e.X*sin + e.Y*cos}); !near.any(q, sameBorder) {
					off++
				}
			}
			if 50*off < len(s.samples) {
				s.turns = append(s.turns, a)
			}
		}
	})
	return s.turns
}

// upright returns the pose, of those that the outline does not tell apart, at which the
// drawing is meant to be held against the rule: a drawing that stands square on its
// page, as nearly upright as can be; any other, at the turn at which least of its
// paint is blamed. Checks are those of the pose given.
func (w *whole) upright(checks []Check, o Options) (*whole, []Check) {
	if !w.colours {
		return w, checks
	}
	turn := math.Remainder(w.m.turn, 2*math.Pi)
	blamed := func(list []Check) int {
		n := 0
		for _, c := range list {
			if c.Name == ColourCheck || c.Name == AreaCheck {
				n++
			}
		}
		return n
	}
	square := math.Abs(math.Remainder(turn, math.Pi/2)) < onPage
	if blamed(checks) == 0 && (!square || math.Abs(turn) <= nearUpright) {
		return w, checks
	}
	type held struct {
		w      *whole
		checks []Check
		turn   float64
	}
	list := []held{{w, checks, math.Abs(turn)}}
	for _, a := range w.symmetries() {
		m := *w.m
		m.turn = m.turned(a)
		v := m.holds(w.ruleDrawing, w.scene)
		list = append(list, held{v, v.checks(o), math.Abs(math.Remainder(m.turn, 2*math.Pi))})
	}
	best := slices.MinFunc(list, func(a, b held) int {
		if d := cmp.Compare(blamed(a.checks), blamed(b.checks)); d != 0 && !square {
			return d
		}
		return cmp.Compare(a.turn, b.turn)
	})
	return best.w, best.checks
}
