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
	_, vs, _ := s.Breaks()
	u, z := float64(at.FS), float64(at.WL)
	type hit struct {
		uv UV
		y  float64
	}
	var hits []hit
	for k := 0; k+1 < len(vs); k++ {
		mid := UV{u, (vs[k] + vs[k+1]) / 2}
		height := func(v float64) float64 { q, _ := s.At(UV{u, v}, mid); return q.Z - z }
		steps := searchSteps(s, u, vs[k], vs[k+1])
		prev := height(vs[k])
		for i := 1; i <= steps; i++ {
			a := vs[k] + (vs[k+1]-vs[k])*float64(i-1)/float64(steps)
			b := vs[k] + (vs[k+1]-vs[k])*float64(i)/float64(steps)
			d := height(b)
			if (prev <= 0) != (d <= 0) {
				root := UV{u, bisect(height, a, b)}
				q, n := s.At(root, mid)
				if y := q.Y * side.Sign(); n.Y*side.Sign() > 1e-9 && y >= -1e-9 {
					hits = append(hits, hit{root, y})
				}
			}
			prev = d
		}
	}
	sort.SliceStable(hits, func(i, j int) bool { return hits[i].y > hits[j].y })
	var out []UV
	for i, h := range hits {
		if i == 0 || hits[i-1].y-h.y > 1e-6 {
			out = append(out, h.uv)
		}
	}
	return out
}
