package glyphs

import (
	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// PlacedGlyph is a character in place: the left end of its baseline stands at
// X, Y, and the baseline is turned by Angle, in radians, counter-clockwise.
type PlacedGlyph struct {
	Glyph
	X, Y  g.Length
	Angle float64
	Line  int // of the text, from 0
}

// At returns where a point of the glyph's own drawing comes to stand.
func (p PlacedGlyph) At(q g.Point) g.Point {
	sin, cos := same.Sincos(p.Angle)
	return g.Point{
		X: float64(q.X*cos) - float64(q.Y*sin) + p.X.Inches(),
		Y: float64(q.X*sin) + float64(q.Y*cos) + p.Y.Inches(),
	}
}

// Placed returns the outline in place.
func (p PlacedGlyph) Placed() g.Path {
	if p.Angle == 0 {
		return p.Outline.Moved(g.Vec{X: p.X.Inches(), Y: p.Y.Inches()})
	}
	return p.Outline.Map(p.At)
}

// Lettering is a text in place: the baseline of its last line at y = 0, the left edge
// of its widest line at x = 0. Along an arc, that point of the baseline that is
// midway has x = Width/2, y = 0, and the text is level there.
type Lettering struct {
	Glyphs  []PlacedGlyph // line by line
	Width   g.Length      // of the widest line, along its baseline
	Height  g.Length      // from the last baseline to the first cap line
	Gap     g.Length      // the least between the extents of two neighbours, along the baseline; 0 where there are none
	Squeeze float64       // width of the letters over their own; 1: not squeezed
}

// Outline returns the outlines of all characters in place.
func (r Lettering) Outline() g.Path {
	var out g.Path
	for _, p := range r.Glyphs {
		out = append(out, p.Placed()...)
	}
	return out
}

// Set sets a text in the alphabet; see [Set].
func (a *Alphabet) Set(text string, height g.Length, o SetOptions) (Lettering, error) {
	return Set(a, text, height, o)
}
