package masks

import (
	"fmt"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// oneSide plans the film of a line of which it covers one side: along the line as far
// as the paint runs and the field beyond both ends, the field wide where the line comes
// nearest to its outer edge. There is no film on the other side, which is sprayed as far
// as it goes.
func (l *Laid) oneSide(r layouts.Region, spec layouts.FilmSpec) error {
	around, width := fieldFor(r.Outline.Bounds(), spec)
	film, err := g.Subtract(g.Path{g.Rectangle(around)}, l.Bare)
	if err != nil {
		return err
	}
	if len(film) == 0 {
		return fmt.Errorf("the line leaves no room for film beside it: widen film: field:")
	}
	const beyond = 1.0 / 16 // inches of the sheet beyond the line, so that the line is cut and not an edge of it
	field := fieldAround(film.Bounds(), beyond)
	if film, err = g.Subtract(g.Path{g.Rectangle(field)}, l.Bare); err != nil {
		return err
	}
	opening, err := g.Intersect(g.Path{g.Rectangle(field)}, l.Bare)
	if err != nil {
		return err
	}
	l.add(Mask{
		Paint: r.Colour, Polarity: OpenFilm, Field: field, FieldWidth: width, Opening: opening, Shows: r.Outline, Film: film, Stays: film,
		Role: fmt.Sprintf("covers one side of the line for %s; paper beyond it, off after this pass", r.Colour),
	}, r.Colour)
	return nil
}

// bareOfFilm is what of the flat holds no film in any pass: nothing that is put on film
// stands there.
func (l Laid) bareOfFilm() *g.Chords {
	if len(l.Bare) > 0 { // which holds the paint
		return chordsOf(l.Bare)
	}
	return chordsOf(l.Painted)
}
