package adjust

import (
	"math"

	"maskloft/geometry/same"
)

// Cause is what may have gone wrong.
type Cause string

// Causes.
const (
	Misread        Cause = "misread"              // one reading, by an amount like no other cause
	OffByStart     Cause = "start"                // one reading, by the mark that a tape is held at instead of its hook
	OffByFoot      Cause = "foot"                 // one reading, by a foot
	OtherUnit      Cause = "unit"                 // one reading, in another unit
	Transposed     Cause = "digits"               // one reading, two digits of it exchanged
	Exchanged      Cause = "exchanged"            // two readings, each in the other's place
	HooksExchanged Cause = "hardpoints exchanged" // all readings from two hardpoints to the same points, likewise
	HookMoved      Cause = "hardpoint"            // a hardpoint that is not where it is said to be
	AllByStart     Cause = "all by start"         // all tapes, by the mark that a tape is held at
	TapeZero       Cause = "zero"                 // all tapes, by one amount
	TapeScale      Cause = "scale"                // all tapes, by one part of their length
	AllOtherUnit   Cause = "all in another unit"  // all tapes
)

// reach is how far off a free amount is thought to be, in inches either way
// (judgement): all free amounts are charged for alike.
const reach = 36.0

// units are what a number read in one unit and taken in another is multiplied by:
// inches, millimetres, centimetres, feet.
var units = []float64{25.4, 2.54, 12, 1 / 25.4, 1 / 2.54, 1.0 / 12}

// suspect is one supposed mistake.
type suspect struct {
	cause   Cause
	rows    []int // the readings that it accuses
	hooks   []int // the hardpoints that it accuses
	fixed   []Shift
	shapes  [][]Shift // where the amounts are free
	unknown int       // that is freed; -1: none
	members int       // how many of its kind there are
	test    Test
	chi2    float64 // what is left
	score   float64
}

// single tells whether one reading is accused.
func (c suspect) single() bool { return len(c.rows) == 1 && len(c.hooks) == 0 }

// weigh computes the score of a supposed mistake, smaller is likelier: chi-square as
// it leaves it, 2 ln of the number of its kind, and for each free amount 2 ln(2 reach
// / (sqrt(2 pi) sigma)): minus twice the logarithm of its probability given the
// readings, by the approximation of Laplace (R. E. Kass and A. E. Raftery 1995, from
// memory). An exact correction that explains the readings is so preferred to an
// amount that was fitted.
func (c *suspect) weigh(s *Solution) {
	if c.shapes == nil {
		c.chi2 = s.Corrected(c.fixed)
	} else {
		c.test = s.Allow(c.shapes)
		c.chi2 = s.Chi2 - c.test.Drop
	}
	c.score = c.chi2 + 2*same.Log(float64(c.members))
	for _, sigma := range c.test.Sigmas {
		if sigma > 0 {
			width := 2 * reach
			if c.cause == TapeScale {
				width = 0.2 // a tenth either way
			}
			c.score += max(0, 2*same.Log(width/float64(math.Sqrt(2*math.Pi)*sigma)))
		}
	}
}

// suspects lists what may be wrong with the readings used, each weighed.
func (p Problem) suspects(s *Solution, freed []bool) []suspect {
	var used, tapes []int
	for i := range p.Readings {
		if s.used[i] {
			used = append(used, i)
			if p.Readings[i].Tape {
				tapes = append(tapes, i)
			}
		}
	}
	var out []suspect
	add := func(c suspect) {
		c.weigh(s)
		out = append(out, c)
	}
	digits := 0
	for _, i := range used {
		digits += len(transpositions(p.Readings[i].Typed))
	}
	for _, i := range used {
		r := p.Readings[i]
		row := []int{i}
		add(suspect{cause: Misread, rows: row, shapes: [][]Shift{one(i)}, unknown: -1, members: len(used)})
		exact := func(cause Cause, by float64, members int) {
			add(suspect{cause: cause, rows: row, fixed: []Shift{{i, by}}, unknown: -1, members: members})
		}
		if !r.Tape {
			continue
		}
		for _, sign := range []float64{1, -1} {
			exact(OffByStart, sign*r.Start, 2*len(tapes))
			exact(OffByFoot, sign*12, 2*len(tapes))
		}
		for _, f := range units {
			exact(OtherUnit, r.Read-float64(r.Read*f), len(units)*len(tapes))
		}
		for _, v := range transpositions(r.Typed) {
			exact(Transposed, float64((r.Typed-v)*r.Unit), digits)
		}
	}
	// two readings exchanged: to one point from two hardpoints, or from one hardpoint
	// to two points
	var pairs []suspect
	for k, i := range tapes {
		for _, j := range tapes[:k] {
			a, b := p.Readings[j], p.Readings[i]
			if a.Point != b.Point && a.From != b.From {
				continue
			}
			by := a.Read - b.Read
			pairs = append(pairs, suspect{cause: Exchanged, rows: []int{j, i}, fixed: []Shift{{j, by}, {i, -by}}, unknown: -1})
		}
	}
	// two hardpoints exchanged, on all points measured from both
	var hooks []suspect
	for a := range p.Hooks {
		for b := range a {
			c := suspect{cause: HooksExchanged, hooks: []int{b, a}, unknown: -1}
			for _, i := range tapes {
				for _, j := range tapes {
					if x, y := p.Readings[i], p.Readings[j]; x.From == a && y.From == b && x.Point == y.Point {
						by := x.Read - y.Read
						c.rows = append(c.rows, j, i)
						c.fixed = append(c.fixed, Shift{i, by}, Shift{j, -by})
					}
				}
			}
			if len(c.rows) > 2 {
				hooks = append(hooks, c)
			}
		}
	}
	for _, list := range [][]suspect{pairs, hooks} {
		for _, c := range list {
			c.members = len(list)
			add(c)
		}
	}
	out = append(out, p.shared(s, freed)...)
	if len(tapes) < 2 {
		return out
	}
	all := func(cause Cause, members int, by func(Reading) float64) {
		c := suspect{cause: cause, rows: tapes, unknown: -1, members: members}
		for _, i := range tapes {
			c.fixed = append(c.fixed, Shift{i, by(p.Readings[i])})
		}
		add(c)
	}
	if p.Zero < 0 || !freed[p.Zero] {
		for _, sign := range []float64{1, -1} {
			all(AllByStart, 2, func(r Reading) float64 { return float64(sign * r.Start) })
		}
	}
	for _, f := range units {
		all(AllOtherUnit, len(units), func(r Reading) float64 { return r.Read - float64(r.Read*f) })
	}
	return out
}

// shared lists the free amounts that several readings have in common: hardpoints that
// moved, the tape's zero and its scale, each weighed.
func (p Problem) shared(s *Solution, freed []bool) []suspect {
	n := len(p.Readings)
	var out []suspect
	add := func(c suspect) {
		if c.weigh(s); c.test.Rank > 0 && len(c.rows) > 1 {
			out = append(out, c)
		}
	}
	for h, moves := range p.Hooks {
		c := suspect{cause: HookMoved, hooks: []int{h}, unknown: -1, members: len(p.Hooks)}
		for i, r := range p.Readings {
			if s.used[i] && r.From == h {
				c.rows = append(c.rows, i)
			}
		}
		for _, k := range moves {
			if !freed[k] {
				c.shapes = append(c.shapes, []Shift{{n + k, -1}})
			}
		}
		add(c)
	}
	var tapes []int
	for i, r := range p.Readings {
		if s.used[i] && r.Tape {
			tapes = append(tapes, i)
		}
	}
	for _, u := range []struct {
		at    int
		cause Cause
	}{{p.Zero, TapeZero}, {p.Scale, TapeScale}} {
		if u.at >= 0 && !freed[u.at] {
			add(suspect{cause: u.cause, rows: tapes, shapes: [][]Shift{{{n + u.at, -1}}}, unknown: u.at, members: 1})
		}
	}
	return out
}

// transpositions returns the numbers that become v when two adjacent digits of its
// whole part change places.
func transpositions(v float64) []float64 {
	whole := math.Floor(math.Abs(v))
	rest := math.Abs(v) - whole
	var out []float64
	for place := 1.0; float64(place*10) <= whole; place *= 10 {
		low := math.Mod(math.Floor(whole/place), 10)
		high := math.Mod(math.Floor(whole/float64(place*10)), 10)
		if low != high {
			out = append(out, whole+float64((low-high)*place*9)+rest)
		}
	}
	return out
}
