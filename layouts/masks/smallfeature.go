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
			u := l.Placement.Read
			worst, what, least := part.neck, "narrows to", leastStroke
			if part.piece != nil && (worst == nil || part.piece.Width < worst.Width) {
				worst, what, least = part.piece, "has a piece of", leastPiece
			}
			if worst == nil || worst.Width >= least-g.Length(featureChords)/10 {
				continue
			}
			out = append(out, layouts.Finding{
				Level: layouts.Warn, Rule: "small-feature", Marking: l.ID(), Where: worst.Skin,
				Message: fmt.Sprintf("%s: the %s %s %s across at x %s, y %s of the film, %s", m.ID, part.what, what,
					u.Fixed(worst.Width, 3), u.FixedNumber(g.Length(worst.At.X), 3), u.FixedNumber(g.Length(worst.At.Y), 3), u.Position(worst.Skin)),
				Hint: part.hint, Measured: u.Fixed(worst.Width, 3),
				Expected: u.Fixed(least, 3), Tolerance: "none", Source: featureSource,
			})
		}
	}
	return out
}
