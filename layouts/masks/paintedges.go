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
func edgesOf(masks []Mask, way layouts.PaintWay) []Edge {
	var out []Edge
	sums := make([]int, len(masks)) // coats of a pass and all before it
	rest := make([]float64, len(masks))
	outlines := make([][]side, len(masks))
	for i, m := range masks {
		sums[i] = m.Coats + m.Under
		if i > 0 {
			sums[i] += sums[i-1]
		}
		rest[i], outlines[i] = m.Shows.Length(), sidesOf(m.Shows)
	}
	coats := func(i int) int { return masks[i].Coats + masks[i].Under }
	open := way == layouts.OpenWay
	for i, a := range masks {
		for j := i + 1; j < len(masks); j++ {
			b := masks[j]
			common := commonLength(a.Shows, outlines[j])
			if common < commonLeast {
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
		if rest[i] < commonLeast {
			continue
		}
		e := Edge{Earlier: m.Paint, Length: g.Length(rest[i]), On: sums[i]}
		if open {
			e.On = coats(i)
		}
		out = append(out, e)
	}
	return out
}

const (
	commonNear  = 1.5 * featureChords // outlines that chords stand for are common within this
	commonLeast = 0.05                // inches: shorter edges are not listed
)

// commonLength returns the length of the outline of p that lies on another, given
// as chords, in inches. A segment that does so in part is halved until its pieces
// do or do not.
func commonLength(p g.Path, other []side) float64 {
	on := func(q g.Point) bool {
		for _, s := range other {
			if min(s.a.X, s.b.X)-commonNear < q.X && q.X < max(s.a.X, s.b.X)+commonNear &&
				min(s.a.Y, s.b.Y)-commonNear < q.Y && q.Y < max(s.a.Y, s.b.Y)+commonNear && g.SegmentDistance(q, s.a, s.b) < commonNear {
				return true
			}
		}
		return false
	}
	sum := 0.0
	for _, c := range p {
		for i := range c.Segments {
			whole := g.Contour{Start: c.From(i), Segments: c.Segments[i : i+1]}.Length()
			var part func(t0, t1 float64) float64
			part = func(t0, t1 float64) float64 {
				n := 0
				for _, u := range [5]float64{0.07, 0.29, 0.5, 0.71, 0.93} {
					if on(c.At(i, t0+float64(u*(t1-t0)))) {
						n++
					}
				}
				switch mid := (t0 + t1) / 2; {
				case n == 0:
					return 0
				case n == 5 || (t1-t0)*whole < 0.01:
					return (t1 - t0) * whole
				default:
					return part(t0, mid) + part(mid, t1)
				}
			}
			sum += part(0, 1)
		}
	}
	return sum
}
