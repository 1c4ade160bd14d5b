package glyphs

import (
	"fmt"
	"sync"
	"sync/atomic"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	g "maskloft/geometry"
)

// labelFont is a font of labels with the characters that were asked for: a document asks
// thousands of times for the same hundred.
type labelFont struct {
	*typeface
	cap   float64                           // height of H, in units
	usual [0x180]atomic.Pointer[labelGlyph] // by character: Latin, which nearly all are
	known sync.Map                          // rune to *labelGlyph of the others
}

// labelGlyph is a character of a label, in units of its font.
type labelGlyph struct {
	outline g.Path // outer contours counter-clockwise
	advance float64
	there   bool // the font has it
}

var (
	regularLabels = sync.OnceValue(func() *labelFont { return openLabels(goregular.TTF) })
	boldLabels    = sync.OnceValue(func() *labelFont { return openLabels(gobold.TTF) })
)

// openLabels reads an embedded font; it panics where the program itself is broken.
func openLabels(data []byte) *labelFont {
	t, err := openTypeface(tablesOf(data, 0))
	if err != nil {
		panic(fmt.Sprintf("glyphs: the embedded font does not parse: %v", err))
	}
	f := &labelFont{typeface: t}
	// The cap height is measured on H: a font's own entry has either sign, or none.
	f.cap = f.glyph('H').outline.Bounds().Max.Y
	return f
}

func labels(bold bool) *labelFont {
	if bold {
		return boldLabels()
	}
	return regularLabels()
}

// glyph returns a character, read once. A TrueType outline runs clockwise where it is
// filled (Apple, TrueType Reference Manual, "Digitizing letterform designs"), so every
// contour is walked the other way.
func (f *labelFont) glyph(r rune) *labelGlyph {
	usual := r >= 0 && int(r) < len(f.usual)
	if usual {
		if known := f.usual[r].Load(); known != nil {
			return known
		}
	} else if known, ok := f.known.Load(r); ok {
		return known.(*labelGlyph)
	}
	out := &labelGlyph{}
	i, err := f.index(r)
	if err == nil && i != 0 {
		out.there = true
		out.advance, err = f.advance(i)
		if err == nil {
			out.outline, err = f.outline(i)
		}
	}
	if err != nil {
		panic(fmt.Sprintf("glyphs: the embedded font has a broken glyph for %q: %v", r, err))
	}
	for k, c := range out.outline {
		out.outline[k] = c.Reversed()
	}
	if usual {
		f.usual[r].Store(out)
	} else {
		f.known.Store(r, out)
	}
	return out
}

// Label returns the outlines of a line of text for a sheet, in the Go fonts
// (Bigelow and Holmes; BSD licence): baseline on y = 0, from x = 0, capitals
// capHeight inches high, and the width of the line. A character that the font
// lacks is drawn as a question mark. The fonts do not kern. They are embedded, so it
// panics only where the program itself is broken.
func Label(text string, capHeight float64, bold bool) (path g.Path, width float64) {
	f := labels(bold)
	k := capHeight / f.cap
	for _, r := range text {
		c := f.glyph(r)
		if !c.there {
			c = f.glyph('?')
		}
		for _, contour := range c.outline {
			path = append(path, contour.Map(func(p g.Point) g.Point {
				return g.Point{X: width + float64(p.X*k), Y: p.Y * k}
			}))
		}
		width += float64(c.advance * k)
	}
	return path, width
}

// LabelWidth returns the width of a label without drawing it.
func LabelWidth(text string, capHeight float64, bold bool) float64 {
	f := labels(bold)
	k, width := capHeight/f.cap, 0.0
	for _, r := range text {
		c := f.glyph(r)
		if !c.there {
			c = f.glyph('?')
		}
		width += float64(c.advance * k)
	}
	return width
}

// Measures of the fonts of [Label] that both share, in parts of the em: height of a
// capital, of the highest accent, and depth of the lowest letter (tables OS/2 and hhea
// of the files; TestLabelFont holds them against the outlines).
const (
	LabelCap     = 1480.0 / 2048
	LabelAscent  = 1935.0 / 2048
	LabelDescent = 432.0 / 2048
)

// LabelFont returns the TrueType file of [Label], to be carried in a document, and the
// name in its name table.
func LabelFont(bold bool) (file []byte, name string) {
	if bold {
		return gobold.TTF, "Go-Bold"
	}
	return goregular.TTF, "GoRegular"
}

// LabelAdvance returns how far the letter after r stands from it, in parts of the em;
// false where the font has no such letter. The fonts do not kern, so that a line of
// [Label] is as wide as the advances of its letters.
func LabelAdvance(r rune, bold bool) (em float64, ok bool) {
	c := labels(bold).glyph(r)
	return c.advance / labels(bold).em, c.there
}
