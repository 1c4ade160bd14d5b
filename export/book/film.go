package book

import (
	"fmt"
	"html/template"
	"strings"

	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// FilmPicture draws the film of a marking whole for the page, a layer for each pass over
// the film and under the registration marks: layer film-ID-pass-1 is what is sprayed in
// pass 1. Inches of the flat, as seen from outside. Thumb is the same paint small, on the
// colour of the skin; it stands on the layers of the picture.
func FilmPicture(t masks.Tiling, spec *layouts.Spec) (picture, thumb template.HTML) {
	const margin = 0.4
	id := template.HTMLEscapeString(t.Laid.ID())
	box, painted := t.Laid.Field, t.Laid.Painted.Bounds()
	for _, f := range t.Films {
		for _, c := range f.Cells {
			box = box.Union(c.Bounds())
		}
	}
	box = box.Grown(margin)
	decimals := 2
	if max(painted.Width(), painted.Height()) < 8 {
		decimals = 3 // small letters are shown large
	}
	n := func(v float64) string { return g.FormatNumber(v, 3) }
	window := func(r g.Rect) string {
		return n(r.Min.X) + " " + n(-r.Max.Y) + " " + n(r.Width()) + " " + n(r.Height())
	}
	var b, small strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="%s, film seen from outside" viewBox="%s"><g transform="scale(1 -1)" fill-rule="evenodd"><g class="reach">`, id, window(box))
	ground := painted.Grown(0.03 * (painted.Width() + painted.Height()))
	on := spec.SkinColour("")
	if list := t.Laid.Placement.Marking.Where.Surfaces; len(list) > 0 {
		on = spec.SkinColour(list[0])
	}
	fmt.Fprintf(&small, `<svg class="thumb" aria-hidden="true" viewBox="%s"><g transform="scale(1 -1)" fill-rule="evenodd"><path fill="%s" d="M%s %sh%sv%sh-%sz"/>`,
		window(ground), on, n(ground.Min.X), n(ground.Min.Y), n(ground.Width()), n(ground.Height()), n(ground.Width()))
	for _, f := range t.Films {
		for _, c := range f.Cells {
			fmt.Fprintf(&b, `<path d="%s"/>`, pathDataTo(c.Reach, decimals))
		}
	}
	b.WriteString("</g>")
	for _, m := range t.Laid.Masks {
		layer := fmt.Sprintf("film-%s-pass-%d", id, m.Pass)
		fmt.Fprintf(&b, `<g id="%s" class="pass">`, layer)
		if len(m.Opening) > 0 {
			fmt.Fprintf(&b, `<path fill="%s" d="%s"/>`, views.HexOf(spec.Paint, m.Paint), pathDataTo(m.Opening, decimals))
			fmt.Fprintf(&small, `<use href="#%s"/>`, layer)
		}
		b.WriteString("</g>")
	}
	seams := 0
	for _, f := range t.Films {
		for _, c := range f.Cells {
			if len(f.Cells) > 1 {
				if seams++; seams == 1 {
					b.WriteString(`<g class="seams">`)
				}
				fmt.Fprintf(&b, `<path d="%s"/>`, pathDataTo(g.Path{g.Rectangle(c.Rect)}, 2))
			}
		}
	}
	if seams > 0 {
		b.WriteString("</g>")
	}
	size := 0.03 * max(box.Width(), box.Height())
	fmt.Fprintf(&b, `</g><g class="marks" font-size="%s">`, n(size))
	for _, m := range t.Marks {
		x, y := n(m.Film.X), n(-m.Film.Y)
		fmt.Fprintf(&b, `<use href="#mark" x="%s" y="%s"/><text x="%s" y="%s">%s</text>`, x, y, n(m.Film.X+float64(0.6*size)), n(float64(-0.4*size)-m.Film.Y), template.HTMLEscapeString(m.ID))
	}
	b.WriteString("</g></svg>")
	small.WriteString("</g></svg>")
	return template.HTML(b.String()), template.HTML(small.String())
}
