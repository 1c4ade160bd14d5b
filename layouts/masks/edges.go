package masks

import (
	g "maskloft/geometry"
	"maskloft/layouts"
)

// Edge is where two paints of a marking meet, or one and the bare skin, with the
// coats of paint on both sides of it; the difference is the ridge.
type Edge struct {
	Earlier string // the paint sprayed first
	Later   string // empty: bare skin
	Length  g.Length
	On      int // coats on the side of the earlier paint
	Over    int // coats on the other side, right at the edge
	Beyond  int // coats on the other side beyond the trap
}

// edgesOf returns the edges of a plan, in the order of spraying, bare skin last.
//
// A region's length of common edge with another is half of what their outlines
// lose when they are united (derived).
func edgesOf(masks []Mask, way layouts.PaintWay) ([]Edge, error) {
	var out []Edge
	sums := make([]int, len(masks)) // coats of a pass and all before it
	rest := make([]float64, len(masks))
	for i, m := range masks {
		sums[i] = m.Coats + m.Under
		if i > 0 {
			sums[i] += sums[i-1]
		}
		rest[i] = pathLength(m.Shows)
	}
	coats := func(i int) int { return masks[i].Coats + masks[i].Under }
	open := way == layouts.OpenWay
	for i, a := range masks {
		for j := i + 1; j < len(masks); j++ {
			b := masks[j]
			both, err := g.Union(a.Shows, b.Shows)
			if err != nil {
				return nil, err
			}
			common := (pathLength(a.Shows) + pathLength(b.Shows) - pathLength(both)) / 2
			if common < g.OutlineTolerance {
				continue
			}
			rest[i], rest[j] = rest[i]-common, rest[j]-common
			e := Edge{Earlier: a.Paint, Later: b.Paint, Length: g.Length(common), On: sums[i], Over: sums[j], Beyond: sums[j]}
			if open {
				e.On, e.Over, e.Beyond = coats(i), coats(j), coats(j)
				if a.Opening.Area()-a.Shows.Area() > g.OutlineTolerance {
					e.Over += coats(i)
				}
			}
			out = append(out, e)
		}
	}
	for i, m := range masks {
		if rest[i] < g.OutlineTolerance {
			continue
		}
		e := Edge{Earlier: m.Paint, Length: g.Length(rest[i]), On: sums[i]}
		if open {
			e.On = coats(i)
		}
		out = append(out, e)
	}
	return out, nil
}

// pathLength returns the length of all outlines of a path, in inches.
func pathLength(p g.Path) float64 {
	sum := 0.0
	for _, c := range p {
		sum += c.Length()
	}
	return sum
}
