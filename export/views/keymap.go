package views

import (
	"math"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// keyMapSizes are the longer sides of a key map, in inches, largest first.
var keyMapSizes = []float64{1.6, 1.1, 0.75}

// keyMap sets a small picture of all tiles of a pass, with the outlines of its
// paint, this one dark; nothing where there is one tile only, or no room.
func KeyMap(put func(w, h float64, items func() []sheet.Item) bool, t masks.Tiling, m masks.Mask, tile masks.Tile) {
	if len(t.FilmOf(m).Cells) < 2 {
		return
	}
	field := m.Field
	for _, size := range keyMapSizes {
		k := size / math.Max(field.Width(), field.Height())
		at := func(p g.Point) g.Point {
			return g.Point{X: 0.05 + float64(k*(p.X-field.Min.X)), Y: 0.05 + float64(k*(p.Y-field.Min.Y))}
		}
		ok := put(float64(k*field.Width())+0.1, float64(k*field.Height())+0.1, func() []sheet.Item {
			var grid g.Path
			for _, c := range t.FilmOf(m).Cells {
				grid = append(grid, g.Rectangle(g.Rect{Min: at(c.Rect.Min), Max: at(c.Rect.Max)}))
			}
			own := g.Path{g.Rectangle(g.Rect{Min: at(tile.Cell.Rect.Min), Max: at(tile.Cell.Rect.Max)})}
			return []sheet.Item{
				{ID: "key-map-tile", Path: own, Ink: sheet.Ink{Fill: "#c9c9c9"}},
				{ID: "key-map", Path: grid, Ink: sheet.InkNote},
				{ID: "key-map-paint", Path: m.Opening.Map(at), Ink: sheet.Ink{Stroke: sheet.InkNote.Stroke, Width: 0.006}},
			}
		})
		if ok {
			return
		}
	}
}
