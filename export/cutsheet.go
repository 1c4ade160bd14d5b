package export

import (
	"fmt"
	"math"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// sheetMargin is the blank border of a cut sheet round its tile, in inches: less
// than the cutter's own margin, so that the page fits on the web.
const sheetMargin = 0.25

// Inks of a cut sheet. A line of 0.010 in shows in every viewer; thinner ones are
// dropped by some (common practice, no source).
var (
	inkCut      = sheet.Ink{Stroke: "#000000", Width: 0.01}
	inkNoteText = sheet.Ink{Fill: "#6b6b6b"}
)

// CutSheet returns the page of one tile at true size with what is cut and nothing else,
// in the order of cutting: windows, outlines of the film from the innermost outwards,
// the frame last. It is seen from outside the aircraft, never mirrored.
func CutSheet(t masks.Tiling, m masks.Mask, tile masks.Tile, marks layouts.MarkStyle) sheet.Sheet {
	s, shift := tilePage(t, m, tile)
	move := func(p g.Path) g.Path { return p.Moved(shift) }
	windows := sheet.Layer{Name: sheet.LayerRegistration, Items: windowItems(t, tile, marks, "", move)}
	cut := sheet.Layer{Name: sheet.LayerCut, Items: filmItems(m, tile, "", move)}
	if len(windows.Items) > 0 {
		s.Layers = append(s.Layers, windows)
	}
	s.Layers = append(s.Layers, cut)
	return s
}

// tilePage returns the empty page of a tile, and what moves the tile's flat onto it.
func tilePage(t masks.Tiling, m masks.Mask, tile masks.Tile) (sheet.Sheet, g.Vec) {
	r := tile.Cell.Bounds()
	shift := g.Vec{X: sheetMargin - r.Min.X, Y: sheetMargin - r.Min.Y}
	s := sheet.Sheet{
		Title: TileTitle(t, m, tile),
		Width: r.Width() + 2*sheetMargin, Height: r.Height() + 2*sheetMargin,
	}
	s.Trim = &g.Rect{Min: r.Min.Add(shift), Max: r.Max.Add(shift)}
	if b := m.Opening.Bounds(); len(m.Opening) > 0 && sheet.Overlap(b, r) { // what of the paint falls in the tile
		s.Art = &g.Rect{
			Min: g.Point{X: math.Max(b.Min.X, r.Min.X), Y: math.Max(b.Min.Y, r.Min.Y)}.Add(shift),
			Max: g.Point{X: math.Min(b.Max.X, r.Max.X), Y: math.Min(b.Max.Y, r.Max.Y)}.Add(shift),
		}
	}
	return s, shift
}

// windowItems returns what is cut for the registration marks of a tile, and for the
// check of its size. Name is put after each id.
func windowItems(t masks.Tiling, tile masks.Tile, marks layouts.MarkStyle, name string, move func(g.Path) g.Path) []sheet.Item {
	var out []sheet.Item
	if marks != layouts.DrawnMarks {
		for _, w := range t.Windows(tile.Cell) {
			out = append(out, sheet.Item{ID: "mark-" + t.Marks[w.Mark].ID + name, Path: move(w.Triangles), Ink: sheet.InkRegister})
		}
	}
	for i, id := range []string{sheet.SizeCorner, sheet.SizeAlong, sheet.SizeUpwards} {
		if i < len(tile.Size) {
			out = append(out, sheet.Item{ID: id + name, Path: move(masks.BowTie(tile.Size[i])), Ink: sheet.InkRegister})
		}
	}
	return out
}

// filmItems returns the outlines of the film of a tile in the order of cutting: "film",
// those that others enclose, the innermost first, then "frame", what goes round the
// sheet. The frame of a keep-down film is that of the sheet that carries its pieces.
func filmItems(m masks.Mask, tile masks.Tile, name string, move func(g.Path) g.Path) []sheet.Item {
	inner, frame := tile.Film, tile.Frame
	if m.Polarity == masks.OpenFilm {
		inner, frame = nil, nil
		depth := depths(tile.Film)
		deepest := 0
		for _, d := range depth {
			deepest = max(deepest, d)
		}
		for d := deepest; d >= 0; d-- {
			for i, c := range tile.Film {
				switch {
				case depth[i] != d:
				case d == 0:
					frame = append(frame, c)
				default:
					inner = append(inner, c)
				}
			}
		}
	}
	var out []sheet.Item
	if len(inner) > 0 {
		out = append(out, sheet.Item{ID: "film" + name, Path: move(inner), Ink: inkCut})
	}
	return append(out, sheet.Item{ID: "frame" + name, Path: move(frame), Ink: inkCut})
}

// depths counts, for each contour, the others that enclose it.
func depths(p g.Path) []int {
	out := make([]int, len(p))
	for i, c := range p {
		left := c.Velocity(0, 0.5).Unit().Perp() // of a contour the region lies on the left
		q := c.At(0, 0.5).Add(left.Scale(1e-3))
		if c.Area() < 0 {
			q = c.At(0, 0.5).Add(left.Scale(-1e-3)) // just inside the opening
		}
		for k, d := range p {
			if k != i && (g.Path{d}).Contains(q, g.FlattenTolerance) {
				out[i]++
			}
		}
	}
	return out
}

// TileTitle names a tile in words: what, side, pass, tile and size.
func TileTitle(t masks.Tiling, m masks.Mask, tile masks.Tile) string {
	p := t.Laid.Placement
	return fmt.Sprintf("%s, %s %s, pass %d %s, %s, tile %d-%d of %dx%d, %s", p.Marking.ID, p.Side, views.WingWord(p), m.Pass, m.Paint, filmWords(m),
		tile.Cell.Row, tile.Cell.Column, t.FilmOf(m).Rows, t.FilmOf(m).Columns,
		p.Read.Size(g.Length(tile.Cell.Bounds().Width()), g.Length(tile.Cell.Bounds().Height()), 3))
}

// filmWords says what the film of a mask is, for titles and labels.
func filmWords(m masks.Mask) string {
	if m.Polarity == masks.KeepDown {
		return "keep-down film over " + m.Keeps
	}
	return "open film"
}
