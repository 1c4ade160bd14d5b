package export

import (
	"math"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/glyphs"
)

// square draws a square with both diagonals and their length: a drawing stretched in
// one direction, or sheared, shows in them.
func square(u g.Units, long g.Length) []sheet.Item {
	side := long.Inches()
	const o = 0.05
	at := func(x, y float64) g.Point { return g.Point{X: o + x, Y: o + y} }
	path := g.Path{
		g.Polygon(at(0, 0), at(side, 0), at(side, side), at(0, side)),
		g.Polyline(at(0, 0), at(side, side)), g.Polyline(at(0, side), at(side, 0)),
	}
	items := []sheet.Item{{ID: "scale-square", Path: path, Ink: sheet.InkNote}}
	cap := math.Min(0.11, side/11)
	for _, line := range []struct {
		text string
		up   float64 // of the baseline, as part of the side
	}{{u.Length(long, 0) + " square", 0.86}, {"diagonals", 0.1 + 1.6*cap/side}, {u.Fraction(g.Length(side*math.Sqrt2), 32), 0.07}} {
		label, w := glyphs.Label(line.text, cap, false)
		items = append(items, sheet.Item{Path: label.Moved(g.Vec{X: o + side/2 - w/2, Y: o + float64(side*line.up)}), Ink: inkNoteText})
	}
	return items
}

// reads draws a capital R with words: it is no R in a mirror.
func reads() []sheet.Item {
	r, w := glyphs.Label("R", 0.5, true)
	words, ww := glyphs.Label("reads normally", 0.09, false)
	wide := math.Max(w, ww)
	return []sheet.Item{
		{ID: "reads-normally", Path: r.Moved(g.Vec{X: 0.05 + (wide-w)/2, Y: 0.24}), Ink: inkNoteText},
		{Path: words.Moved(g.Vec{X: 0.05 + (wide-ww)/2, Y: 0.06}), Ink: inkNoteText},
	}
}

// readsWide and readsHigh are the room that reads takes, in inches.
const readsWide, readsHigh = 1.02, 0.8

// squares are the sizes of the square, the largest that has room being drawn.
func squares(u g.Units) []g.Length {
	if u.Metric() {
		return []g.Length{100 * g.Millimetre, 50 * g.Millimetre, 25 * g.Millimetre}
	}
	return []g.Length{4, 2, 1}
}
