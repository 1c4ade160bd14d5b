package glyphs

import (
	g "maskloft/geometry"
)

// Typeface is what a line is set from: an [Alphabet] or a [Font]. Heights are cap
// heights, in inches.
type Typeface interface {
	// Glyph returns a character at its size; the error names one that is missing.
	Glyph(r rune, height g.Length) (Glyph, error)
	// Space returns the distance between the extents of a and b, with so many
	// spaces between them, as the face itself sets them without kerning.
	Space(a, b rune, spaces int, height g.Length) g.Length
	// Kern returns what the face adds to the space between a and b as neighbours.
	Kern(a, b rune, height g.Length) g.Length
}

// Space returns the alphabet's gap, or its word space once for every space
// between the two characters: the same for all of them.
func (a *Alphabet) Space(_, _ rune, spaces int, height g.Length) g.Length {
	if spaces > 0 {
		return g.Length(a.Word/a.Height) * height * g.Length(spaces)
	}
	return g.Length(a.Gap/a.Height) * height
}

// Kern is what a pair of the alphabet stands apart more, or less, than its gap.
func (a *Alphabet) Kern(left, right rune, height g.Length) g.Length {
	return g.Length((a.GapOf(left, right)-a.Gap)/a.Height) * height
}
