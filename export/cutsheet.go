package export

import (
	"fmt"
	"math"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts/masks"
)

// Layers of a cut sheet, in plain words. Only the first is cut.
const (
	LayerRegistration = "registration marks, draw only"
	LayerTicks        = "match ticks, draw only"              // only where there are any
	LayerSlits        = "relief slits, cut by hand if needed" // only where there are any
	LayerWeed         = "weed lines, draw only"               // only where there are any
	LayerNotes        = "notes, draw only"
)

// sheetMargin is the blank border of a cut sheet round its tile, in inches: less
// than the cutter's own margin, so that the page fits on the web.
const sheetMargin = 0.25

// Inks of a cut sheet. A line of 0.010 in shows in every viewer; thinner ones are
// dropped by some (common practice, no source).
var (
	inkCut      = sheet.Ink{Stroke: "#000000", Width: 0.01}
	inkSlit     = sheet.Ink{Stroke: "#a03a1e", Width: 0.01, Dash: []float64{0.12, 0.06}}
	inkWeed     = sheet.Ink{Stroke: "#4a7a2f", Width: 0.01, Dash: []float64{0.24, 0.12}}
	inkNoteText = sheet.Ink{Fill: "#6b6b6b"}
)

// CutSheet returns the page of one tile at true size: its film as closed
// outlines, the registration marks and the notes. It is seen from outside the
// aircraft, never mirrored.
func CutSheet(t masks.Tiling, m masks.Mask, tile masks.Piece) sheet.Sheet {
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
	cut := sheet.Layer{Name: sheet.LayerCut, Items: []sheet.Item{{ID: "film", Path: tile.Film.Moved(shift), Ink: inkCut}}}
	reg := sheet.Layer{Name: LayerRegistration}
	for _, i := range tile.Cell.Marks {
		mark := t.Marks[i]
		reg.Items = append(reg.Items, drawMark("mark-"+mark.ID, mark.Film.Add(shift), mark.ID, inside(r, mark.Film))...)
	}
	weeding := masks.WeedingOf(t, m, tile)
	notes, axes := furniture(t, m, tile, weeding, shift)
	reg.Items = append(reg.Items, axes...)
	s.Layers = []sheet.Layer{cut, reg}
	if ticks := drawTicks(t.FilmOf(m), tile, shift); len(ticks) > 0 {
		s.Layers = append(s.Layers, sheet.Layer{Name: LayerTicks, Items: ticks})
	}
	if slits := drawSlits(t.Laid.Slits, r, shift); len(slits) > 0 {
		s.Layers = append(s.Layers, sheet.Layer{Name: LayerSlits, Items: slits})
	}
	if weed := drawWeeding(weeding, shift); len(weed) > 0 {
		s.Layers = append(s.Layers, sheet.Layer{Name: LayerWeed, Items: weed})
	}
	if m.Polarity == masks.KeepDown { // an open film's own outline goes round the sheet
		notes = append(notes, sheet.Item{ID: "sheet-edge", Path: tile.Frame.Moved(shift), Ink: sheet.InkNote})
	}
	s.Layers = append(s.Layers, sheet.Layer{Name: LayerNotes, Items: notes})
	return s
}

// drawWeeding draws the weed lines of a tile and the weed box.
func drawWeeding(w masks.Weeding, shift g.Vec) []sheet.Item {
	var out []sheet.Item
	for _, part := range []struct {
		id    string
		lines []masks.WeedLine
	}{{"weed", w.Lines}, {"weed-box", w.Box}} {
		for i, l := range part.lines {
			out = append(out, sheet.Item{ID: fmt.Sprintf("%s-%d", part.id, i+1), Path: g.Path{g.Polyline(l.From.Add(shift), l.To.Add(shift))}, Ink: inkWeed})
		}
	}
	return out
}

// drawSlits draws the parts of relief slits that lie in a tile.
func drawSlits(slits []masks.Slit, tile g.Rect, shift g.Vec) []sheet.Item {
	var out []sheet.Item
	for i, slit := range slits {
		c, ok := sheet.ClipChord([2]g.Point{slit.From, slit.To}, tile)
		if ok && c[0].Dist(c[1]) > g.OutlineTolerance {
			out = append(out, sheet.Item{ID: fmt.Sprintf("slit-%d", i+1), Path: g.Path{g.Polyline(c[0].Add(shift), c[1].Add(shift))}, Ink: inkSlit})
		}
	}
	return out
}

// TileTitle names a tile in words: what, side, pass, tile and size.
func TileTitle(t masks.Tiling, m masks.Mask, tile masks.Piece) string {
	p := t.Laid.Placement
	return fmt.Sprintf("%s, %s %s, pass %d %s, %s, tile %d-%d of %dx%d, %s x %s in", p.Marking.ID, p.Side, views.WingWord(p), m.Pass, m.Paint, filmWords(m),
		tile.Cell.Row, tile.Cell.Column, t.FilmOf(m).Rows, t.FilmOf(m).Columns,
		g.FormatNumber(tile.Cell.Bounds().Width(), 3), g.FormatNumber(tile.Cell.Bounds().Height(), 3))
}

// filmWords says what the film of a mask is, for titles and labels.
func filmWords(m masks.Mask) string {
	if m.Polarity == masks.KeepDown {
		return "keep-down film over " + m.Keeps
	}
	return "open film"
}

// inside returns the direction from a mark to the inner side of its tile, for
// its letter.
func inside(r g.Rect, p g.Point) g.Vec {
	c := r.Centre()
	v := g.Vec{X: 1, Y: 1}
	if p.X > c.X {
		v.X = -1
	}
	if p.Y > c.Y {
		v.Y = -1
	}
	return v
}

// drawMark draws a registration mark: a circle and a cross through its centre,
// and its letter beside it.
func drawMark(id string, p g.Point, letter string, towards g.Vec) []sheet.Item {
	const r, reach = masks.MarkRadius, masks.MarkRadius * 0.9
	cross := g.Path{
		g.Circle(p, r),
		g.Polyline(g.Point{X: p.X - reach, Y: p.Y}, g.Point{X: p.X + reach, Y: p.Y}),
		g.Polyline(g.Point{X: p.X, Y: p.Y - reach}, g.Point{X: p.X, Y: p.Y + reach}),
	}
	text, w := glyphs.Label(letter, 0.14, true)
	at := g.Vec{X: p.X + float64(towards.X*(r+0.06)), Y: p.Y - 0.07}
	if towards.X < 0 {
		at.X -= w
	}
	return []sheet.Item{{ID: id, Path: cross, Ink: sheet.InkRegister}, {Path: text.Moved(at), Ink: sheet.Ink{Fill: sheet.InkRegister.Stroke}}}
}
