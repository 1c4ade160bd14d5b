package skin

import (
	"sort"

	g "maskloft/geometry"
)

// SideHits returns every place at which the ray along the butt line from outside
// enters the skin of one side, the outermost first: the one that [LocateSide]
// returns, and those that it hides. Places nearer than 1e-6 in are one. A section
// without hollows has one at most.
func SideHits(s Surface, side g.Side, at g.SidePosition) []UV {
	type hit struct {
		uv UV
		y  float64
	}
	var hits []hit
	rayRoots(s, at.FS.Inches(), at.WL.Inches(), func(uv, in UV) {
		q, n := s.At(uv, in)
		if y := q.Y * side.Sign(); n.Y*side.Sign() > 1e-9 && y >= -1e-9 {
			hits = append(hits, hit{uv, y})
		}
	})
	sort.SliceStable(hits, func(i, j int) bool { return hits[i].y > hits[j].y })
	var out []UV
	for i, h := range hits {
		if i == 0 || hits[i-1].y-h.y > 1e-6 {
			out = append(out, h.uv)
		}
	}
	return out
}
