package masks

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// inspectSeams reports the seams of one film that had to break a rule, one finding a
// seam.
func (t Tiling) inspectSeams(m Mask, film TiledFilm, d division) []layouts.Finding {
	var out []layouts.Finding
	for _, s := range film.Seams {
		if s.Keeps() {
			continue
		}
		f := layouts.Finding{
			Level: layouts.Note, Rule: "seam", Marking: t.Laid.ID(), Where: t.Laid.Placement.Anchor,
			Expected: "0", Tolerance: "none", Source: "common practice, no source",
			Hint: "widen film: web: or lengthen film: longest:, or bridge the seam with fine-line tape where it meets paint",
		}
		var broken []string
		first := seamRuleCount
		for r, n := range s.Broken {
			if n > 0 {
				first = min(first, SeamRule(r))
				broken = append(broken, brokenWords(t.Laid.Placement.Read, SeamRule(r), n))
			}
		}
		if first == AlongEdge {
			f.Level = layouts.Warn
		}
		f.Measured = strings.Join(broken, ", ")
		name, limit, way := "level seam", d.limitY, UpDown(t.Laid, s.At)
		middle := g.Point{X: film.Field.Centre().X, Y: s.At}
		if s.Upright {
			name, limit, way = "upright seam", d.limitX, Sideways(t.Laid, s.At)
			middle = g.Point{X: s.At, Y: film.Field.Centre().Y}
		}
		if t.Laid.Map != nil {
			if at, ok := t.Laid.Map.PositionOf(middle); ok {
				f.Where = at
			}
		}
		u := t.Laid.Placement.Read
		place := "through the held point"
		if math.Abs(s.At) >= g.OutlineTolerance {
			place = u.Length(g.Length(math.Abs(s.At)), 3) + " " + way + " of the held point"
		}
		f.Message = fmt.Sprintf("%s: the %s of pass %d %s %s: tiles of at most %s leave no better place",
			t.Laid.ID(), name, m.Pass, place, f.Measured, u.Length(g.Length(limit), 3))
		out = append(out, f)
	}
	return out
}

// brokenWords says what a seam does to n of what a rule protects.
func brokenWords(u g.Units, r SeamRule, n int) string {
	many := func(one string) string { return g.Counted(n, one) }
	switch r {
	case AlongEdge:
		return "runs along " + many("paint edge")
	case ThroughIsland:
		return "cuts " + many("loose piece") + " of film"
	case NearCorner:
		return "passes " + many("corner") + " within " + u.Fraction(1.0/2, 2)
	default:
		return "passes " + many("acute point") + " within " + u.Fraction(1, 2)
	}
}
