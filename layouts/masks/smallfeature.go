package masks

import (
	"fmt"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// SmallFeatures reports film and openings too narrow to cut and weed, the worst of
// each mask.
func SmallFeatures(l Laid) []layouts.Finding {
	var out []layouts.Finding
	for _, m := range l.Masks {
		f := m.Features
		for _, part := range []struct {
			what, hint  string
			piece, neck *Feature
		}{
			{"film", "make the marking larger, or paint: trap: smaller", f.FilmPiece, f.FilmNeck},
			{"opening", "make the marking larger, or the letters bolder", f.OpeningPiece, f.OpeningNeck},
		} {
			worst, what, least := part.neck, "narrows to", leastStroke
			if part.piece != nil && (worst == nil || part.piece.Width < worst.Width) {
				worst, what, least = part.piece, "has a piece of", leastPiece
			}
			if worst == nil || worst.Width >= least-g.Length(featureChords)/10 {
				continue
			}
			out = append(out, layouts.Finding{
				Level: layouts.Warn, Rule: "small-feature", Marking: l.ID(), Where: worst.Skin,
				Message: fmt.Sprintf("%s: the %s %s %.3f in across at x %.3f, y %.3f of the film, %v", m.ID, part.what, what,
					worst.Width.Inches(), worst.At.X, worst.At.Y, worst.Skin),
				Hint: part.hint, Measured: fmt.Sprintf("%.3f in", worst.Width.Inches()),
				Expected: fmt.Sprintf("%.3f in (2 mm)", least.Inches()), Tolerance: "none", Source: featureSource,
			})
		}
	}
	return out
}
