package masks

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// fieldStep is the step, in inches, in which a field is made narrower.
const fieldStep = 1.0 / 16

// fieldFor returns the outer rectangle of the film about a paint, and how wide its
// field is: as the layout has it, or the widest narrower one, not below the least,
// with which the film takes fewer tiles.
func fieldFor(paint g.Rect, film layouts.FilmSpec) (g.Rect, g.Length) {
	width := film.Field.Inches()
	out := fieldAround(paint, width)
	tiles := tilesOver(out, film)
	for w := math.Ceil(width/fieldStep-1-1e-9) * fieldStep; tiles > 1 && w >= film.Least.Inches()-1e-9; w -= fieldStep {
		r := fieldAround(paint, w)
		if n := tilesOver(r, film); n < tiles {
			out, width, tiles = r, w, n
		}
	}
	return out, g.Length(width)
}

// fieldAround returns the paint's bounds grown by the margin, each side moved out to
// make the width and height whole eighths of an inch.
func fieldAround(b g.Rect, margin float64) g.Rect {
	r := b.Grown(margin)
	grow := func(v float64) float64 { return (math.Ceil(v*8-1e-6)/8 - v) / 2 }
	dx, dy := grow(r.Width()), grow(r.Height())
	return g.Rect{
		Min: g.Point{X: r.Min.X - dx, Y: r.Min.Y - dy},
		Max: g.Point{X: r.Max.X + dx, Y: r.Max.Y + dy},
	}
}

// tilesOver returns the fewest tiles that a film of the size of a rectangle takes; 1
// where the web has no usable width.
func tilesOver(r g.Rect, film layouts.FilmSpec) int {
	usable, longest, reach := (film.Web - 2*film.Across).Inches(), film.Longest.Inches(), film.Seam.Reach().Inches()
	if usable <= reach || longest <= reach {
		return 1
	}
	number := func(size, limit float64) int {
		if size <= limit+1e-9 {
			return 1
		}
		return max(2, int(math.Ceil(size/(limit-reach)-1e-9)))
	}
	n := number(r.Width(), longest) * number(r.Height(), usable)
	if film.Seam.Grain != layouts.KeepGrain {
		n = min(n, number(r.Width(), usable)*number(r.Height(), longest))
	}
	return n
}

// narrowedFields notes where the field of a marking's films is narrower than that of
// the layout, because that saves a seam or a film.
func narrowedFields(l Laid, spec *layouts.Spec) []layouts.Finding {
	film := spec.Film
	var passes []string
	narrow, before, after := film.Field, 0, 0
	for _, m := range l.Masks {
		if m.FieldWidth >= film.Field {
			continue
		}
		paint := m.Opening
		if m.Polarity == KeepDown {
			paint = m.Film
		}
		passes = append(passes, fmt.Sprint(m.Pass))
		narrow = min(narrow, m.FieldWidth)
		before += tilesOver(fieldAround(paint.Bounds(), film.Field.Inches()), film)
		after += tilesOver(m.Field, film)
	}
	if len(passes) == 0 {
		return nil
	}
	u := spec.Sheets.Units
	width := u.Fraction(narrow, 16)
	saved := fmt.Sprintf("%d films instead of %d", after, before)
	if after == len(passes) {
		saved = "one film, no seam"
	}
	keep := layouts.Proposal{Path: "film.least-field", Value: spec.Write(film.Field), Why: "keeps the field; as it is, lap the masking paper onto the film as far as the field is wide"}
	return []layouts.Finding{{
		Level: layouts.Note, Rule: "seam-spared", Marking: l.ID(), Where: l.Placement.Anchor,
		Message: fmt.Sprintf("%s: field %s instead of %s, pass %s: %s", l.ID(), width, u.Fraction(film.Field, 16), strings.Join(passes, ", "), saved),
		Hint:    keep.String(), Proposals: []layouts.Proposal{keep},
		Measured: width, Expected: u.Fraction(film.Field, 16), Tolerance: "down to " + u.Fraction(film.Least, 16), Source: "derived",
	}}
}
