package export

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/glyphs"
)

// squareSizes are the sides of the square that shows whether both axes are cut to one
// scale and at a right angle, in inches: the largest there is room for.
var squareSizes = []float64{4, 2, 1}

const (
	squareCap  = 0.12 // of its words, inches
	squareLead = 0.52 // room beyond its side: two lines of words stand above it
)

// squareWords say what a square of l inches measures.
func squareWords(l float64) (words [2]string, width float64) {
	diagonal := l * math.Sqrt2
	words = [2]string{g.FormatNumber(l, 0) + " in SQUARE", fmt.Sprintf("DIAGONALS %s (%s) in", g.Length(diagonal).Fraction(32), g.FormatNumber(diagonal, 3))}
	_, width = glyphs.Label(words[1], squareCap, false)
	return words, math.Max(l, width)
}

// square draws a square of l inches with both diagonals and says how long they are.
func square(l float64) []Item {
	const x0, y0 = 0.05, 0.05
	a, b := g.Point{X: x0, Y: y0}, g.Point{X: x0 + l, Y: y0}
	c, d := g.Point{X: x0 + l, Y: y0 + l}, g.Point{X: x0, Y: y0 + l}
	items := []Item{{ID: "square", Path: g.Path{g.Polygon(a, b, c, d), g.Polyline(a, c), g.Polyline(b, d)}, Ink: inkNote}}
	words, _ := squareWords(l)
	for i, line := range words {
		text, _ := glyphs.Label(line, squareCap, false)
		items = append(items, Item{Path: text.Moved(g.Vec{X: x0, Y: y0 + l + 0.28 - 0.2*float64(i)}), Ink: inkNoteText})
	}
	return items
}

// The reading test is as wide and high as its two lines, in inches.
const (
	readingWidth  = 1.6
	readingHeight = 0.6
)

// readingTest draws a letter that has no symmetry, and says what it is for: on a film
// that was cut mirrored it reads backwards.
func readingTest() []Item {
	letter, w := glyphs.Label("R", 0.45, true)
	items := []Item{{ID: "reads-normally", Path: letter.Moved(g.Vec{X: 0.05, Y: 0.07}), Ink: inkNoteText}}
	for i, line := range []string{"BACKWARDS?", "MIRRORED:", "DO NOT CUT"} {
		text, _ := glyphs.Label(line, 0.1, false)
		items = append(items, Item{Path: text.Moved(g.Vec{X: 0.05 + w + 0.12, Y: 0.42 - 0.175*float64(i)}), Ink: inkNoteText})
	}
	return items
}
