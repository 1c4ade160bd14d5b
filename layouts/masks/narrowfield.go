package masks

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// leastSaidField is the narrowest field, in inches, that is put forward to save a seam:
// its registration marks of half an inch, and as much beside them (common practice, no
// source).
const leastSaidField = 1.0

// seamSpared reports a marking in tiles that a field a little narrower would make one
// film.
func (t Tiling) seamSpared(spec *layouts.Spec) (layouts.Finding, bool) {
	film := spec.Film
	if len(t.Cells) < 2 {
		return layouts.Finding{}, false
	}
	paint := t.Laid.Painted.Bounds()
	usable, longest := (film.Web - 2*film.Across).Inches(), film.Longest.Inches()
	field := math.Min(usable-paint.Height(), longest-paint.Width()) / 2
	if film.Seam.Grain != layouts.KeepGrain {
		field = math.Max(field, math.Min(usable-paint.Width(), longest-paint.Height())/2)
	}
	field = math.Floor(field*16+1e-9) / 16
	if field < leastSaidField || field >= film.Field.Inches() {
		return layouts.Finding{}, false
	}
	width := g.Length(field).Fraction(16) + " in"
	narrower := layouts.Proposal{Path: "film.field", Value: spec.Write(g.Length(field)), Why: "if the masking paper beyond it holds as well"}
	return layouts.Finding{
		Level: layouts.Note, Rule: "seam-spared", Marking: t.Laid.ID(), Where: t.Laid.Placement.Anchor,
		Message: fmt.Sprintf("%s: a field of %s about the paint, instead of %s, makes it one film without a seam", t.Laid.ID(), width, film.Field),
		Hint:    narrower.String(), Proposals: []layouts.Proposal{narrower},
		Measured: fmt.Sprintf("%d tiles", len(t.Cells)), Expected: "1 tile", Tolerance: "none", Source: "derived",
	}, true
}
