package masks

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// inspectSeams reports the seams that had to break a rule, one finding a seam.
func (t Tiling) inspectSeams(d division, film layouts.FilmSpec) []layouts.Finding {
	var out []layouts.Finding
	for _, s := range t.Seams {
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
				broken = append(broken, brokenWords(SeamRule(r), n))
			}
		}
		if first == AlongEdge {
			f.Level = layouts.Warn
		}
		f.Measured = strings.Join(broken, ", ")
		name, limit := "level seam "+upDownBy(t.Laid, s.At), d.limitY
		middle := g.Point{X: t.Laid.Field.Centre().X, Y: s.At}
		if s.Upright {
			name, limit = "upright seam "+sidewaysBy(t.Laid, s.At), d.limitX
			middle = g.Point{X: s.At, Y: t.Laid.Field.Centre().Y}
		}
		if t.Laid.Map != nil {
			if at, ok := t.Laid.Map.PositionOf(middle); ok {
				f.Where = at
			}
		}
		f.Message = fmt.Sprintf("%s: the %s of the anchor %s: no place that tiles of at most %s in leave keeps clear of all",
			t.Laid.ID(), name, f.Measured, g.FormatNumber(limit, 3))
		out = append(out, f)
	}
	return out
}

// sidewaysBy and upDownBy say how far a seam stands from the anchor, and which way.
func sidewaysBy(l Laid, x float64) string {
	return fmt.Sprintf("%s in %s", g.FormatNumber(math.Abs(x), 3), sideways(l, x))
}

func upDownBy(l Laid, y float64) string {
	return fmt.Sprintf("%s in %s", g.FormatNumber(math.Abs(y), 3), upDown(l, y))
}

// brokenWords says what a seam does to n of what a rule protects.
func brokenWords(r SeamRule, n int) string {
	many := func(one string) string {
		if n == 1 {
			return "1 " + one
		}
		return fmt.Sprintf("%d %ss", n, one)
	}
	switch r {
	case AlongEdge:
		return "runs along " + many("paint edge")
	case ThroughIsland:
		return "cuts " + many("island") + " of film"
	case NearCorner:
		return "passes " + many("corner") + " within 1/2 in"
	default:
		return "passes " + many("acute point") + " within 1 in"
	}
}
