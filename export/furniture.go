package export

import (
	"fmt"
	"strings"

	g "maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// notes are what is drawn in the waste of one tile beside its marks, in the frame of
// the marking's flat: on every pass the same, but for the label.
type notes struct {
	axes  []Item // ticks of the level and upright lines
	items []Item
	label *place // nil where there is no room for one
}

// furnish finds the places in the waste of a tile: what it is, UP and NOSE arrows,
// scale bars along both axes, a square with its diagonals, a letter that reads
// normally, and a map of the tiles. A bar is as long as the waste has room for, of 10,
// 5, 4, 2 and 1 in, and says so; a square of 4, 2 and 1 in.
//
// The places are searched once for all passes. They are free on every one: furniture
// keeps off the paint of the whole marking, and tiles, marks, ticks and slits are the
// same for all; the label alone differs, and its place holds the widest.
func furnish(t masks.Tiling, cell masks.Cell) notes {
	room := newRoom(cell.Rect, t.Laid.Painted)
	room.takeTicks(t, cell)
	for _, i := range cell.Marks {
		room.take(g.BoundsOf(t.Marks[i].Film).Grown(masks.MarkRadius + 0.22))
	}
	for _, slit := range t.Laid.Slits {
		room.chords = append(room.chords, [2]g.Point{slit.From, slit.To})
	}
	n := notes{axes: axisTicks(room, t, cell)}
	put := func(w, h float64, items func() []Item) bool {
		at, ok := room.find(w, h)
		if ok {
			n.items = append(n.items, movedItems(items(), g.Vec(at))...)
		}
		return ok
	}
	for _, l := range []float64{10, 5, 4, 2, 1} {
		if put(l+0.1, 0.42, func() []Item { return bar(l, false) }) {
			break
		}
	}
	for _, l := range []float64{10, 5, 4, 2, 1} {
		if put(0.42, l+0.1, func() []Item { return bar(l, true) }) {
			break
		}
	}
	upWord, sideWord := "UP", "NOSE"
	face := t.Laid.Placement.Face()
	if face != layouts.NoFace { // up is forward there, and outwards lies to one side
		upWord, sideWord = "NOSE", "TIP"
	}
	put(0.72, 0.95, func() []Item { return arrow(upWord, g.Vec{Y: 1}) })
	side := g.Vec{X: -t.Laid.Placement.Side.Reading()}
	if face == layouts.LowerFace {
		side.X = -side.X // the right wing's tip is to the right from above, to the left from below
	}
	put(1.35, 0.5, func() []Item { return arrow(sideWord, side) })
	put(readingWidth, readingHeight, readingTest)
	n.label = room.findLabel(longestLabels(t, cell))
	keyMap(put, t, cell)
	if f := t.Laid.Field; len(t.Cells) > 1 { // to measure when all are laid: seams add up
		lines := []string{
			fmt.Sprintf("ALL TILES %s x %s in", g.FormatNumber(f.Width(), 3), g.FormatNumber(f.Height(), 3)),
			fmt.Sprintf("DIAGONALS %s in", g.FormatNumber(f.Min.Dist(f.Max), 3)),
		}
		if p := room.findLabel(lines); p != nil {
			n.items = append(n.items, p.set(lines)...)
		}
	}
	for _, l := range squareSizes {
		_, width := squareWords(l)
		if put(width+0.1, l+squareLead, func() []Item { return square(l) }) {
			break
		}
	}
	return n
}

// labelLines say what a film is.
func labelLines(t masks.Tiling, m masks.Mask, tile masks.Piece) []string {
	p := t.Laid.Placement
	lines := []string{
		fmt.Sprintf("%s  %s", p.Marking.ID, strings.ToUpper(strings.TrimSpace(p.Side.String()+" "+wingWord(p)))),
		fmt.Sprintf("PASS %d  %s", m.Pass, m.Paint),
		fmt.Sprintf("TILE %d-%d of %dx%d", tile.Cell.Row, tile.Cell.Column, t.Rows, t.Columns),
		fmt.Sprintf("%s x %s in", g.FormatNumber(tile.Cell.Bounds().Width(), 3), g.FormatNumber(tile.Cell.Bounds().Height(), 3)),
	}
	if tile.Number > 0 {
		lines[2] += fmt.Sprintf("  FILM %d", tile.Number)
	}
	return lines
}

// wingWord says which face of a wing, or that it is a side.
func wingWord(p layouts.Placement) string {
	if f := p.Face(); f != layouts.NoFace {
		return "wing, " + string(f) + " face"
	}
	return "side"
}

// bar draws a scale bar of l inches between end ticks, with its length.
func bar(l float64, upright bool) []Item {
	line := func(x0, y0, x1, y1 float64) g.Contour {
		if upright {
			return g.Polyline(g.Point{X: y0, Y: x0}, g.Point{X: y1, Y: x1})
		}
		return g.Polyline(g.Point{X: x0, Y: y0}, g.Point{X: x1, Y: y1})
	}
	path := g.Path{line(0.05, 0.1, 0.05+l, 0.1), line(0.05, 0.02, 0.05, 0.18), line(0.05+l, 0.02, 0.05+l, 0.18)}
	for i := 1; i < int(l); i++ {
		path = append(path, line(0.05+float64(i), 0.1, 0.05+float64(i), 0.15))
	}
	text, w := glyphs.Label(g.FormatNumber(l, 0)+" in", 0.12, false)
	if upright {
		text = text.Map(func(p g.Point) g.Point { return g.Point{X: 0.23 + p.Y, Y: 0.05 + l/2 + w/2 - p.X} })
	} else {
		text = text.Moved(g.Vec{X: 0.05 + l/2 - w/2, Y: 0.23})
	}
	id := scaleAlong
	if upright {
		id = scaleUp
	}
	return []Item{{ID: id, Path: path, Ink: inkNote}, {Path: text, Ink: inkNoteText}}
}

// arrow draws a word with an arrow in its direction.
func arrow(word string, d g.Vec) []Item {
	text, w := glyphs.Label(word, 0.16, true)
	var shape g.Contour
	if d.Y > 0 {
		x := 0.36
		shape = g.Polygon(g.Point{X: x - 0.03, Y: 0.32}, g.Point{X: x + 0.03, Y: 0.32}, g.Point{X: x + 0.03, Y: 0.62},
			g.Point{X: x + 0.13, Y: 0.62}, g.Point{X: x, Y: 0.9}, g.Point{X: x - 0.13, Y: 0.62}, g.Point{X: x - 0.03, Y: 0.62})
		return []Item{{ID: "arrow-up", Path: g.Path{shape}, Ink: inkNoteText}, {Path: text.Moved(g.Vec{X: x - w/2, Y: 0.08}), Ink: inkNoteText}}
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
	return []Item{{ID: "arrow-nose", Path: g.Path{shape}, Ink: inkNoteText}, {Path: text.Moved(g.Vec{X: x, Y: 0.17}), Ink: inkNoteText}}
}

// Ids of the scale bars of a cut sheet.
const (
	scaleAlong = "scale-along"
	scaleUp    = "scale-up"
)
