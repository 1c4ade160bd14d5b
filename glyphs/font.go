package glyphs

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	g "maskloft/geometry"
)

// Font is a font of a TrueType or OpenType file, set at any size. It has no
// ligatures, no marks and no substitutes: every character is one outline of its
// own, as a stencil has it, and a writing system whose letters join, combine or run
// from right to left is refused by its name. A Font may be used at several places at
// once. Fractions of a unit are kept: a ten-thousandth of one.
type Font struct {
	File    string
	Licence Licence

	face *typeface
	cap  float64 // height of H, in units

	mu    sync.Mutex
	drawn map[rune]*drawn
}

// Licence is what a font file says of its use, for the record.
type Licence struct {
	Family, Style string
	Copyright     string
	Text, URL     string // the licence's description and address
	Embedding     string // what OS/2 fsType allows; empty where the file does not say
}

// drawn is a character in outlines: left edge of the ink at 0, drawnHeight high.
type drawn struct {
	glyph       int
	outline     g.Path
	width       float64 // of the ink, in units
	left, right float64 // between the ink and the advance, in units
	err         error
}

// drawnHeight is the cap height, in inches, at which overlapping contours are
// merged, before the outline is brought to its size: that of a large code.
const drawnHeight = 12

// ParseFont reads a font file, or one font of a collection where file ends in its
// number, as letters.ttc#2. The cap height is measured on H: a font's own entry has
// either sign, or none.
//
// Errors: what cannot be read, a collection without a number, a font without an H.
func ParseFont(file string, data []byte) (*Font, error) {
	tables, err := chosenFont(file, data)
	if err != nil {
		return nil, err
	}
	face, err := openTypeface(tables)
	if err != nil {
		return nil, fmt.Errorf("it is no TrueType or OpenType font that can be read: %w", err)
	}
	f := &Font{File: file, face: face, drawn: map[rune]*drawn{}}
	f.Licence = Licence{
		Family: face.name(1), Style: face.name(2), Copyright: face.name(0),
		Text: face.name(13), URL: face.name(14), Embedding: embedding(tables["OS/2"]),
	}
	i, err := face.index('H')
	if err != nil || i == 0 {
		return nil, errors.New("it has no H, on which the cap height is measured")
	}
	h, err := face.outline(i)
	if err != nil {
		return nil, fmt.Errorf("H: %w", err)
	}
	if f.cap = h.Bounds().Max.Y; f.cap <= 0 {
		return nil, errors.New("its H has no height above the baseline")
	}
	return f, nil
}

// embedding puts fsType into words (OpenType specification 1.9, OS/2, fsType).
func embedding(os2 []byte) string {
	if len(os2) < 10 {
		return ""
	}
	t := binary.BigEndian.Uint16(os2[8:])
	words := "installable"
	switch {
	case t&0x8 != 0:
		words = "editable"
	case t&0x4 != 0:
		words = "preview and print"
	case t&0x2 != 0:
		words = "restricted: only with leave of the owner"
	}
	if t&0x100 != 0 {
		words += ", no subsets"
	}
	if t&0x200 != 0 {
		words += ", bitmaps only"
	}
	return words
}

// Glyph returns a character at a cap height: overlapping contours merged, left
// edge of the ink at 0.
//
// Errors: the height is not above 0; the font has no such character, or no ink for it.
func (f *Font) Glyph(r rune, height g.Length) (Glyph, error) {
	if height <= 0 {
		return Glyph{}, g.Errorf("character height %v: it must be above 0", height)
	}
	d := f.draw(r)
	if d.err != nil {
		return Glyph{}, fmt.Errorf("font %s: %w", f.File, d.err)
	}
	k := height.Inches() / drawnHeight
	return Glyph{
		Rune: r, Width: f.length(d.width, height),
		Outline: d.outline.Map(func(p g.Point) g.Point { return g.Point{X: p.X * k, Y: p.Y * k} }),
	}, nil
}

// draw makes a character's outline, once.
func (f *Font) draw(r rune) *drawn {
	f.mu.Lock()
	defer f.mu.Unlock()
	d, ok := f.drawn[r]
	if !ok {
		d = f.outline(r)
		f.drawn[r] = d
	}
	return d
}

func (f *Font) outline(r rune) *drawn {
	d := &drawn{}
	if d.err = settable(r); d.err != nil {
		return d
	}
	if d.glyph, d.err = f.face.index(r); d.err != nil {
		return d
	}
	if d.glyph == 0 {
		d.err = missingError{r}
		return d
	}
	raw, err := f.face.outline(d.glyph)
	if err != nil {
		d.err = fmt.Errorf("%q: %w", r, err)
		return d
	}
	k := drawnHeight / f.cap
	d.outline, err = g.Filled(raw.Map(func(p g.Point) g.Point { return g.Point{X: p.X * k, Y: p.Y * k} }))
	switch {
	case err != nil:
		d.err = fmt.Errorf("%q: %w", r, err)
		return d
	case len(d.outline) == 0:
		d.err = fmt.Errorf("%q has no outline", r)
		return d
	}
	advance, err := f.face.advance(d.glyph)
	if err != nil {
		d.err = fmt.Errorf("%q: %w", r, err)
		return d
	}
	b := d.outline.Bounds()
	d.left, d.width = b.Min.X/k, b.Width()/k
	d.right = advance - d.left - d.width
	d.outline = d.outline.Moved(g.Vec{X: -b.Min.X})
	return d
}

// missingError says that a face has no such character.
type missingError struct{ r rune }

func (e missingError) Error() string { return fmt.Sprintf("it has no %q (U+%04X)", e.r, e.r) }

// length turns units into inches at a cap height.
func (f *Font) length(units float64, height g.Length) g.Length {
	return g.Length(units/f.cap) * height
}

// Space returns the side bearings of the two characters together, and the
// advances of the spaces between them, kerned as the font kerns spaces.
func (f *Font) Space(a, b rune, spaces int, height g.Length) g.Length {
	units := f.draw(a).right + f.draw(b).left
	if i, err := f.face.index(' '); err == nil && i != 0 && spaces > 0 {
		w, err := f.face.advance(i)
		if err == nil {
			units += float64(w * float64(spaces))
		}
		units += f.pair(a, ' ') + float64(f.pair(' ', ' ')*float64(spaces-1)) + f.pair(' ', b)
	}
	return f.length(units, height)
}

// Kern returns the font's pair kerning.
func (f *Font) Kern(a, b rune, height g.Length) g.Length {
	return f.length(f.pair(a, b), height)
}

func (f *Font) pair(a, b rune) float64 {
	k, err := f.face.kern(a, b)
	if err != nil || math.IsNaN(k) {
		return 0
	}
	return k
}

// String describes the font and its licence in one line.
func (l Licence) String() string {
	words := []string{strings.TrimSpace(l.Family + " " + l.Style)}
	for _, w := range []struct{ before, text string }{{"", l.Copyright}, {"", l.Text}, {"", l.URL}, {"embedding: ", l.Embedding}} {
		if t := strings.Join(strings.Fields(w.text), " "); t != "" {
			words = append(words, w.before+t)
		}
	}
	return strings.Join(words, "; ")
}
