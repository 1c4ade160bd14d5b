package glyphs

import (
	"fmt"

	g "maskloft/geometry"
)

// SetOptions changes how a line is set.
type SetOptions struct {
	Gap *g.Length // between the extents of two characters; nil: the alphabet's
}

// PlacedGlyph is a character in a line: its left edge stands at X.
type PlacedGlyph struct {
	Glyph
	X g.Length
}

// Run is a line of characters: baseline at y = 0, left edge at x = 0.
type Run struct {
	Glyphs []PlacedGlyph
	Width  g.Length
	Height g.Length
	Gap    g.Length
}

// Outline returns the outlines of all characters in place.
func (r Run) Outline() g.Path {
	var out g.Path
	for _, p := range r.Glyphs {
		out = append(out, p.Outline.Moved(g.Vec{X: p.X.Inches()})...)
	}
	return out
}

// Set sets a line of characters at their own widths, with one gap between the
// extents of neighbours; a space is as wide as the alphabet says, in place of
// the gap.
//
// Errors: no character, a character the alphabet lacks, a gap that is not above 0.
func (a *Alphabet) Set(text string, height g.Length, o SetOptions) (Run, error) {
	run := Run{Height: height, Gap: g.Length(a.Gap/a.Height) * height}
	if o.Gap != nil {
		if run.Gap = *o.Gap; run.Gap <= 0 {
			return Run{}, fmt.Errorf("gap %v: characters need a gap above 0", run.Gap)
		}
	}
	x, gap := g.Length(0), g.Length(0)
	for _, r := range text {
		if r == ' ' {
			if len(run.Glyphs) > 0 {
				gap = g.Length(a.Word/a.Height) * height
			}
			continue
		}
		glyph, err := a.Glyph(r, height)
		if err != nil {
			return Run{}, err
		}
		x += gap
		run.Glyphs = append(run.Glyphs, PlacedGlyph{glyph, x})
		x += glyph.Width
		gap = run.Gap
	}
	if len(run.Glyphs) == 0 {
		return Run{}, fmt.Errorf("the text %q has no character to set", text)
	}
	run.Width = x
	return run, nil
}
