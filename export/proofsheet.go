package export

import (
	"fmt"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// Layers of a proof beside those that are cut, in plain words.
const (
	LayerNames = "names of marks"
	LayerTicks = "match ticks"                         // only where there are any
	LayerSlits = "relief slits, cut by hand if needed" // only where there are any
	LayerWeed  = "weed lines"                          // only where there are any
	LayerNotes = "notes"
)

// Inks of a proof.
var (
	inkSlit = sheet.Ink{Stroke: "#a03a1e", Width: 0.01, Dash: []float64{0.12, 0.06}}
	inkWeed = sheet.Ink{Stroke: "#4a7a2f", Width: 0.01, Dash: []float64{0.24, 0.12}}
)

// ProofSheet returns the page of one tile as a person reads it: what is cut, with the
// names of the marks, arrows, scale bars, match ticks, weed lines and slits. Nothing is
// cut from it.
func ProofSheet(t masks.Tiling, m masks.Mask, tile masks.Tile, style layouts.MarkStyle) sheet.Sheet {
	s := CutSheet(t, m, tile, style)
	s.Title = "proof, do not cut: " + s.Title
	_, shift := tilePage(t, m, tile)
	r := tile.Cell.Bounds()
	names := sheet.Layer{Name: LayerNames}
	for _, i := range tile.Cell.Marks {
		mark := t.Marks[i]
		if style == layouts.DrawnMarks {
			names.Items = append(names.Items, drawMark("", mark.Film.Add(shift), mark.ID, inside(r, mark.Film))...)
		} else {
			names.Items = append(names.Items, nameOfWindow(mark.Film.Add(shift), mark.ID, inside(r, mark.Film)))
		}
	}
	weeding := masks.WeedingOf(t, m, tile)
	notes, axes := furniture(t, m, tile, weeding, shift)
	names.Items = append(names.Items, axes...)
	s.Layers = append(s.Layers, names)
	for _, l := range []sheet.Layer{
		{Name: LayerTicks, Items: drawTicks(t.FilmOf(m), tile, shift)},
		{Name: LayerSlits, Items: drawSlits(t.Laid.Slits, r, shift)},
		{Name: LayerWeed, Items: drawWeeding(weeding, shift)},
		{Name: LayerNotes, Items: notes},
	} {
		if len(l.Items) > 0 {
			s.Layers = append(s.Layers, l)
		}
	}
	return s
}

// nameOfWindow sets the name of a mark above or below its window, towards the middle of
// the tile, where it has room on an arm too.
func nameOfWindow(p g.Point, name string, towards g.Vec) sheet.Item {
	const cap = 0.14
	text, w := glyphs.Label(name, cap, true)
	at := g.Vec{X: p.X - w/2, Y: p.Y + masks.MarkHalf + 0.05}
	if towards.Y < 0 {
		at.Y = p.Y - masks.MarkHalf - 0.05 - cap
	}
	return sheet.Item{Path: text.Moved(at), Ink: sheet.Ink{Fill: sheet.InkRegister.Stroke}}
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

// drawMark draws a registration mark as it is cut, two triangles point to point, and its
// letter beside it.
func drawMark(id string, p g.Point, letter string, towards g.Vec) []sheet.Item {
	const r = masks.MarkRadius
	text, w := glyphs.Label(letter, 0.14, true)
	at := g.Vec{X: p.X + float64(towards.X*(r+0.06)), Y: p.Y - 0.07}
	if towards.X < 0 {
		at.X -= w
	}
	return []sheet.Item{{ID: id, Path: masks.BowTie(p), Ink: sheet.InkRegister}, {Path: text.Moved(at), Ink: sheet.Ink{Fill: sheet.InkRegister.Stroke}}}
}
