package proportions

import (
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts/standards"
)

// slip is one way in which a drawing may be wrong, as what it does to each place of a
// rule's drawing: columns of displacement out of the part, one for each amount.
type slip struct {
	kind    slipKind
	part    int // -1: the whole
	number  string
	border  int // of an edge or arc; else -1
	side    string
	about   geometry.Point
	columns [][]float64
}

type slipKind int

// Kinds of slip, in the order in which they are believed where two explain a drawing
// equally.
const (
	slipNumber slipKind = iota
	slipStretch
	slipMove
	slipTurn
	slipScale
	slipOval  // of a part: stretched
	slipEdge  // one edge out of place
	slipTilt  // one edge at another angle
	slipArc   // one arc moved
	slipRound // one arc oval
	slipWide  // one side of a part stretched level
	slipHigh  // and upright
	slipSideX // and moved
	slipSideY
	slipSideTurn
)

// column returns what a slip does to each place of a part; none elsewhere.
func (s *ruleDrawing) column(part int, of func(e sample) float64) []float64 {
	out := make([]float64, len(s.samples))
	for k, e := range s.samples {
		if part < 0 || e.part == part {
			out[k] = of(e)
		}
	}
	return out
}

// allSlips returns every slip that is looked for.
func (s *ruleDrawing) allSlips() []slip {
	s.once.Do(func() { s.slips = s.makeSlips() })
	return s.slips
}

func (s *ruleDrawing) makeSlips() []slip {
	out := s.numberSlips()
	put := func(x slip, columns ...[]float64) {
		x.columns = columns
		out = append(out, x)
	}
	put(slip{kind: slipStretch, part: -1, border: -1}, s.column(-1, func(e sample) float64 { return (float64(e.out.X*e.X) - float64(e.out.Y*e.Y)) / 2 }),
		s.column(-1, func(e sample) float64 { return (float64(e.out.X*e.Y) + float64(e.out.Y*e.X)) / 2 }))
	for i := range s.rule.Parts {
		c, n := geometry.Point{}, 0.0
		for _, e := range s.samples {
			if e.part == i {
				c, n = c.Add(geometry.Vec(e.Point).Scale(e.weight)), n+e.weight
			}
		}
		if n == 0 {
			continue
		}
		c = geometry.Point{}.Add(geometry.Vec(c).Scale(1 / n))
		own := func(of func(e sample, d geometry.Vec) float64) []float64 {
			return s.column(i, func(e sample) float64 { return of(e, e.Sub(c)) })
		}
		put(slip{kind: slipMove, part: i, border: -1}, own(func(e sample, _ geometry.Vec) float64 { return e.out.X }), own(func(e sample, _ geometry.Vec) float64 { return e.out.Y }))
		put(slip{kind: slipTurn, part: i, border: -1, about: c}, own(func(e sample, d geometry.Vec) float64 { return e.out.Dot(d.Perp()) }))
		put(slip{kind: slipScale, part: i, border: -1, about: c}, own(func(e sample, d geometry.Vec) float64 { return e.out.Dot(d) }))
		put(slip{kind: slipOval, part: i, border: -1, about: c}, own(func(e sample, d geometry.Vec) float64 { return (float64(e.out.X*d.X) - float64(e.out.Y*d.Y)) / 2 }),
			own(func(e sample, d geometry.Vec) float64 { return (float64(e.out.X*d.Y) + float64(e.out.Y*d.X)) / 2 }))
	}
	for i, b := range s.borders {
		if len(b.samples) < fewestPlaces-1 {
			continue
		}
		own := func(of func(e sample) float64) []float64 {
			return s.column(b.part, func(e sample) float64 {
				if e.border != i {
					return 0
				}
				return of(e)
			})
		}
		x := slip{part: b.part, border: i}
		x.kind = slipEdge
		put(x, own(func(sample) float64 { return 1 }))
		switch {
		case b.arc:
			x.kind = slipArc
			put(x, own(func(e sample) float64 { return same.Cos(e.along) }), own(func(e sample) float64 { return same.Sin(e.along) }))
			x.kind = slipRound
			put(x, own(func(e sample) float64 { return same.Cos(2 * e.along) }), own(func(e sample) float64 { return same.Sin(2 * e.along) }))
		default:
			x.kind = slipTilt
			put(x, own(func(sample) float64 { return 1 }), own(func(e sample) float64 { return e.along }))
		}
	}
	return append(out, s.sideSlips()...)
}

// numberSlips returns what a wrong number of the rule does. A number that changes
// which edges there are, such as a count, is left out.
func (s *ruleDrawing) numberSlips() []slip {
	var out []slip
	picks, size := s.picks, s.at
	for i, p := range s.rule.Parts {
		for k, n := range p.Numbers {
			rule := changedRule(s.rule, i, k)
			before, err1 := s.rule.ValuesAt(size, picks)
			after, err2 := rule.ValuesAt(size, picks)
			if err1 != nil || err2 != nil {
				continue
			}
			step := 0.0
			for j, v := range before {
				if v.Part == p.ID && v.Name == n.Name && v.Dimension != standards.Count {
					step = inUnit(after[j], rule.Unit, size) - inUnit(v, rule.Unit, size)
				}
			}
			layers, err := unitFigure(rule, picks, size)
			if err != nil || step == 0 || len(layers) != len(s.outlines) {
				continue
			}
			column := make([]float64, len(s.samples))
			alike := true
			for j, e := range s.samples {
				path := layers[e.way.layer].Outline
				if alike = e.way.contour < len(path) && len(path) == len(s.outlines[e.way.layer]) && len(path[e.way.contour].Segments) == len(s.outlines[e.way.layer][e.way.contour].Segments); !alike {
					break
				}
				column[j] = path[e.way.contour].At(e.way.segment, e.way.t).Sub(e.Point).Dot(e.out) / step
				if math.Abs(column[j])*math.Abs(step) > 0.05 {
					alike = false // the outline starts elsewhere
					break
				}
			}
			if alike {
				out = append(out, slip{kind: slipNumber, part: i, number: n.Name, border: -1, columns: [][]float64{column}})
			}
		}
	}
	return out
}

// sideApart is the gap between places of one part that makes two sides of them.
const sideApart = 0.1

// sideSlips returns those of one side of a part that lies on two sides of another,
// such as the left of two bars.
func (s *ruleDrawing) sideSlips() []slip {
	var out []slip
	for i := range s.rule.Parts {
		var own []int
		for k, e := range s.samples {
			if e.part == i {
				own = append(own, k)
			}
		}
		group := make([]int, len(s.samples))
		groups := 0
		for _, k := range own {
			if group[k] != 0 {
				continue
			}
			groups++
			group[k] = groups
			for list := []int{k}; len(list) > 0; list = list[1:] {
				for _, j := range own {
					if group[j] == 0 && s.samples[j].Dist(s.samples[list[0]].Point) < sideApart {
						group[j], list = groups, append(list, j)
					}
				}
			}
		}
		if groups < 2 || groups > 12 {
			continue
		}
		for g := 1; g <= groups; g++ {
			var pts []geometry.Point
			for _, k := range own {
				if group[k] == g {
					pts = append(pts, s.samples[k].Point)
				}
			}
			if len(pts) < fewestPlaces {
				continue
			}
			c := geometry.BoundsOf(pts...).Centre()
			put := func(kind slipKind, border int, of func(e sample) float64) {
				column := make([]float64, len(s.samples))
				for _, k := range own {
					if e := s.samples[k]; group[k] == g && (border < 0 || e.border == border) {
						column[k] = of(e)
					}
				}
				out = append(out, slip{kind: kind, part: i, border: border, side: whereabouts(c), about: c, columns: [][]float64{column}})
			}
			put(slipWide, -1, func(e sample) float64 { return e.out.X * (e.X - c.X) })
			put(slipHigh, -1, func(e sample) float64 { return e.out.Y * (e.Y - c.Y) })
			put(slipSideX, -1, func(e sample) float64 { return e.out.X })
			put(slipSideY, -1, func(e sample) float64 { return e.out.Y })
			put(slipSideTurn, -1, func(e sample) float64 { return e.out.Dot(e.Sub(c).Perp()) })
			for b := range s.borders {
				here, there := 0, 0
				for _, k := range s.borders[b].samples {
					if s.borders[b].part == i && group[k] == g {
						here++
					} else {
						there++
					}
				}
				if here >= fewestPlaces-1 && there > 0 && s.borders[b].part == i {
					put(slipEdge, b, func(sample) float64 { return 1 })
				}
			}
		}
	}
	return out
}
