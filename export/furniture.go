package export

import (
	"fmt"
	"math"
	"strings"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// furniture returns the notes of a tile, set into its waste: what it is, UP and
// NOSE arrows, scale bars along both axes, and a map of the tiles; and the ticks of the
// level and upright lines. A bar is as long as the waste has room for, see
// [bars], and says so.
func furniture(t masks.Tiling, m masks.Mask, tile masks.Tile, weed masks.Weeding, shift g.Vec) (notes, axes []sheet.Item) {
	room := sheet.NewRoom(tile.Cell.Rect, m.EdgeOfPaint())
	takeTicks(room, t.FilmOf(m), tile)
	for _, i := range tile.Cell.Marks {
		room.Take(g.BoundsOf(t.Marks[i].Film).Grown(masks.MarkRadius + 0.22))
	}
	for _, at := range tile.Size {
		room.Take(g.BoundsOf(at).Grown(masks.MarkRadius + 0.1))
	}
	for _, slit := range t.Laid.Slits {
		room.Chords = append(room.Chords, [2]g.Point{slit.From, slit.To})
	}
	axes = views.AxisTicks(room, t, tile.Cell, shift) // before the weed lines, which differ from pass to pass
	for _, l := range append(weed.Lines[:len(weed.Lines):len(weed.Lines)], weed.Box...) {
		room.Chords = append(room.Chords, [2]g.Point{l.From, l.To})
	}
	var out []sheet.Item
	draw := func(at g.Point, items []sheet.Item) {
		for _, it := range items {
			it.Path = it.Path.Moved(g.Vec(at).Add(shift))
			out = append(out, it)
		}
	}
	put := func(w, h float64, items func() []sheet.Item) bool {
		at, ok := room.Find(w, h)
		if ok {
			draw(at, items())
		}
		return ok
	}
	u := t.Laid.Placement.Read
	for _, l := range bars(u) {
		if put(l.Inches()+0.1, 0.42, func() []sheet.Item { return bar(u, l, false) }) {
			break
		}
	}
	for _, l := range bars(u) {
		if put(0.42, l.Inches()+0.1, func() []sheet.Item { return bar(u, l, true) }) {
			break
		}
	}
	put(readsWide, readsHigh, reads)
	for _, l := range squares(u) {
		if put(l.Inches()+0.1, l.Inches()+0.1, func() []sheet.Item { return square(u, l) }) {
			break
		}
	}
	p := t.Laid.Placement
	upWord, sideWord, side := directions(p)
	put(0.72, 0.95, func() []sheet.Item { return arrow(upWord, g.Vec{Y: 1}) })
	put(1.35, 0.5, func() []sheet.Item { return arrow(sideWord, side) })
	lines := []string{
		fmt.Sprintf("%s  %s", p.Marking.ID, strings.ToUpper(strings.TrimSpace(p.Side.String()+" "+views.WingWord(p)))),
		fmt.Sprintf("PASS %d  %s  %s", m.Pass, m.Paint, strings.ToUpper(filmWords(m))),
		fmt.Sprintf("TILE %d-%d of %dx%d", tile.Cell.Row, tile.Cell.Column, t.FilmOf(m).Rows, t.FilmOf(m).Columns),
		u.Size(g.Length(tile.Cell.Bounds().Width()), g.Length(tile.Cell.Bounds().Height()), 3),
	}
	if tile.Number > 0 {
		lines[2] += fmt.Sprintf("  FILM %d", tile.Number)
	}
	setLabel(put, lines)
	views.KeyMap(put, t, m, tile)
	if f := m.Field; len(t.FilmOf(m).Cells) > 1 { // to measure when all are laid: seams add up
		setLabel(put, []string{
			"ALL TILES " + u.Size(g.Length(f.Width()), g.Length(f.Height()), 3),
			"DIAGONALS " + u.Length(g.Length(f.Min.Dist(f.Max)), 3),
		})
	}
	return out, axes
}

// directions says what lies above a drawing, what to one side of it, and which side
// that is.
func directions(p layouts.Placement) (up, sideways string, side g.Vec) {
	side = g.Vec{X: -p.Side.Reading()}
	switch p.Face() {
	case layouts.NoFace:
		return "UP", "NOSE", side
	case layouts.LowerFace:
		side.X = -side.X // the right wing's tip is to the right from above, to the left from below
	}
	return "NOSE", "TIP", side // up is forward there, and outwards lies to one side
}

// setLabel sets the lines of a label as one line, two or four, in the largest
// letters there is room for.
func setLabel(put func(w, h float64, items func() []sheet.Item) bool, lines []string) {
	for _, cap := range []float64{0.22, 0.16, 0.12, 0.09} {
		for _, per := range []int{4, 2, 1} {
			var rows []string
			for i := 0; i < len(lines); i += per {
				row := ""
				for k := i; k < min(i+per, len(lines)); k++ {
					if k > i {
						row += "   "
					}
					row += lines[k]
				}
				rows = append(rows, row)
			}
			width := 0.0
			for _, row := range rows {
				width = math.Max(width, glyphs.LabelWidth(row, cap, false))
			}
			lead := cap * 1.7
			ok := put(width+0.1, float64(lead*float64(len(rows)))+0.06, func() []sheet.Item {
				var items []sheet.Item
				for i, row := range rows {
					text, _ := glyphs.Label(row, cap, false)
					items = append(items, sheet.Item{Path: text.Moved(g.Vec{X: 0.05, Y: float64(lead*float64(len(rows)-1-i)) + 0.06 + float64(cap*0.3)}), Ink: inkNoteText})
				}
				return items
			})
			if ok {
				return
			}
		}
	}
}

// bars are the lengths of the scale bars, the longest that has room being drawn.
func bars(u g.Units) []g.Length {
	if u.Metric() {
		return []g.Length{250 * g.Millimetre, 100 * g.Millimetre, 50 * g.Millimetre, 20 * g.Millimetre}
	}
	return []g.Length{10, 5, 4, 2, 1}
}

// bar draws a scale bar between end ticks, with its length; inches or centimetres are
// marked between.
func bar(u g.Units, long g.Length, upright bool) []sheet.Item {
	l, step := long.Inches(), 1.0
	if u.Metric() {
		step = g.Centimetre.Inches()
	}
	line := func(x0, y0, x1, y1 float64) g.Contour {
		if upright {
			return g.Polyline(g.Point{X: y0, Y: x0}, g.Point{X: y1, Y: x1})
		}
		return g.Polyline(g.Point{X: x0, Y: y0}, g.Point{X: x1, Y: y1})
	}
	path := g.Path{line(0.05, 0.1, 0.05+l, 0.1), line(0.05, 0.02, 0.05, 0.18), line(0.05+l, 0.02, 0.05+l, 0.18)}
	for i := 1; i < int(math.Round(l/step)); i++ {
		x := 0.05 + float64(float64(i)*step)
		path = append(path, line(x, 0.1, x, 0.15))
	}
	text, w := glyphs.Label(u.Length(long, 0), 0.12, false)
	if upright {
		text = text.Map(func(p g.Point) g.Point { return g.Point{X: 0.23 + p.Y, Y: 0.05 + l/2 + w/2 - p.X} })
	} else {
		text = text.Moved(g.Vec{X: 0.05 + l/2 - w/2, Y: 0.23})
	}
	id := sheet.ScaleAlong
	if upright {
		id = sheet.ScaleUp
	}
	return []sheet.Item{{ID: id, Path: path, Ink: sheet.InkNote}, {Path: text, Ink: inkNoteText}}
}

// arrow draws a word with an arrow in its direction.
func arrow(word string, d g.Vec) []sheet.Item {
	text, w := glyphs.Label(word, 0.16, true)
	var shape g.Contour
	if d.Y > 0 {
		x := 0.36
		shape = g.Polygon(g.Point{X: x - 0.03, Y: 0.32}, g.Point{X: x + 0.03, Y: 0.32}, g.Point{X: x + 0.03, Y: 0.62},
			g.Point{X: x + 0.13, Y: 0.62}, g.Point{X: x, Y: 0.9}, g.Point{X: x - 0.13, Y: 0.62}, g.Point{X: x - 0.03, Y: 0.62})
		return []sheet.Item{{ID: "arrow-up", Path: g.Path{shape}, Ink: inkNoteText}, {Path: text.Moved(g.Vec{X: x - w/2, Y: 0.08}), Ink: inkNoteText}}
	}
	at := func(x, y float64) g.Point { // x from the tail of the arrow
		if d.X > 0 {
			return g.Point{X: 0.75 + x, Y: 0.25 + y}
		}
		return g.Point{X: 0.6 - x, Y: 0.25 + y}
	}
	shape = g.Polygon(at(0, -0.03), at(0.28, -0.03), at(0.28, -0.13), at(0.55, 0), at(0.28, 0.13), at(0.28, 0.03), at(0, 0.03))
	x := 0.68
	if d.X > 0 {
		x = 0.68 - w
	}
	return []sheet.Item{{ID: "arrow-nose", Path: g.Path{shape}, Ink: inkNoteText}, {Path: text.Moved(g.Vec{X: x, Y: 0.17}), Ink: inkNoteText}}
}
