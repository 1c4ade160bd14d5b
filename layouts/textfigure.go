package layouts

import (
	"maskloft/geometry"
	"maskloft/glyphs"
)

// TextFigure returns a line of characters as one layer, part and colour "text".
// Its origin is the middle of the line: half its width, half its height above
// the baseline. It reads from left to right on both sides.
func TextFigure(text string, letters glyphs.Lettering) Figure {
	middle := geometry.Vec{X: letters.Width.Inches() / 2, Y: letters.Height.Inches() / 2}
	f := Figure{
		ID: text, Handed: Text,
		Layers: []Layer{{Part: "text", Colour: "text", Outline: letters.Outline().Moved(middle.Scale(-1))}},
	}
	several := len(letters.Glyphs) > 0 && letters.Glyphs[len(letters.Glyphs)-1].Line > 0
	for _, c := range letters.Glyphs {
		high := letters.Height.Inches()
		if several { // the height is that of all lines
			high = c.Outline.Bounds().Max.Y
		}
		cell := Character{Rune: c.Rune, Cell: geometry.Rect{Max: geometry.Point{X: c.Width.Inches(), Y: high}}}
		f.Characters = append(f.Characters, cell.mapped(func(p geometry.Point) geometry.Point { return c.At(p).Add(middle.Scale(-1)) }))
	}
	return f
}

// lettering returns the outline of the characters of a text, without borders; nil of a
// figure that is none.
func (f Figure) lettering() geometry.Path {
	for _, l := range f.Layers {
		if l.Part == "text" {
			return l.Outline
		}
	}
	return nil
}

// lettersOf returns the outline of a line of characters about its middle.
func lettersOf(text, alphabet string, height geometry.Length, middle geometry.Point) (geometry.Path, error) {
	a, err := glyphs.Load(alphabet)
	if err != nil {
		return nil, err
	}
	letters, err := glyphs.Set(a, text, height, glyphs.SetOptions{})
	if err != nil {
		return nil, err
	}
	return TextFigure(text, letters).Layers[0].Outline.Moved(geometry.Vec(middle)), nil
}
