package layouts

import (
	"maskloft/geometry"
	"maskloft/glyphs"
)

// TextFigure returns a line of characters as one layer, part and colour "text".
// Its origin is the middle of the line: half its width, half its height above
// the baseline. It reads from left to right on both sides.
func TextFigure(text string, run glyphs.Run) Figure {
	middle := geometry.Vec{X: run.Width.Inches() / 2, Y: run.Height.Inches() / 2}
	f := Figure{
		ID: text, Handed: Text,
		Layers: []Layer{{Part: "text", Colour: "text", Outline: run.Outline().Moved(middle.Scale(-1))}},
	}
	for _, c := range run.Glyphs {
		cell := geometry.Rect{Min: geometry.Point{X: c.X.Inches()}, Max: geometry.Point{X: (c.X + c.Width).Inches(), Y: run.Height.Inches()}}
		f.Characters = append(f.Characters, Character{Rune: c.Rune, Cell: cell}.mapped(func(p geometry.Point) geometry.Point { return p.Add(middle.Scale(-1)) }))
	}
	return f
}
