package export

import (
	"fmt"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// FilmView draws the film of a marking whole, a layer for each pass over the tiles and
// registration marks, for people: layer "pass-1" is what is sprayed in pass 1.
func FilmView(t masks.Tiling, paint layouts.PaintSpec) sheet.Sheet {
	const margin = 0.4
	r := t.Laid.Field
	films := sheet.Layer{Name: "film"}
	for _, f := range t.Films {
		for _, c := range f.Cells {
			r = r.Union(c.Bounds())
		}
	}
	shift := g.Vec{X: margin - r.Min.X, Y: margin - r.Min.Y}
	s := sheet.Sheet{Title: t.Laid.ID() + ", film seen from outside", Width: r.Width() + 2*margin, Height: r.Height() + 2*margin}
	for _, f := range t.Films {
		for _, c := range f.Cells {
			films.Items = append(films.Items, sheet.Item{Path: c.Reach.Moved(shift), Ink: sheet.Ink{Fill: "#cdd6d9", Stroke: "#1a1a1a", Width: 0.02}})
		}
	}
	s.Layers = append(s.Layers, films)
	for _, m := range t.Laid.Masks {
		layer := sheet.Layer{Name: fmt.Sprintf("pass-%d", m.Pass)}
		if len(m.Opening) > 0 {
			layer.Items = append(layer.Items, sheet.Item{Path: m.Opening.Moved(shift), Ink: sheet.Ink{Fill: views.HexOf(paint, m.Paint), Stroke: "#1a1a1a", Width: 0.02}})
		}
		s.Layers = append(s.Layers, layer)
	}
	marks := sheet.Layer{Name: "registration marks and seams"}
	for _, f := range t.Films {
		for _, c := range f.Cells {
			if len(f.Cells) > 1 {
				marks.Items = append(marks.Items, sheet.DrawRect(g.Rect{Min: c.Rect.Min.Add(shift), Max: c.Rect.Max.Add(shift)}, sheet.Ink{Stroke: "#1f5f7a", Width: 0.03, Dash: []float64{0.3, 0.2}}))
			}
		}
	}
	for _, m := range t.Marks {
		marks.Items = append(marks.Items, drawMark("", m.Film.Add(shift), m.ID, inside(t.Laid.Field, m.Film))...)
	}
	s.Layers = append(s.Layers, marks)
	return s
}
