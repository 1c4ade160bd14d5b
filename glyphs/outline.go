package glyphs

import (
	"errors"
	"fmt"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	g "maskloft/geometry"
)

// face is a parsed font with its cap height in font units.
type face struct {
	font *sfnt.Font
	unit fixed.Int26_6 // pixels to the em: one unit of the font is one pixel
	cap  float64
}

var (
	regularFace = sync.OnceValues(func() (*face, error) { return parseFace(goregular.TTF) })
	boldFace    = sync.OnceValues(func() (*face, error) { return parseFace(gobold.TTF) })
)

func parseFace(data []byte) (*face, error) {
	f, err := sfnt.Parse(data)
	if err != nil {
		return nil, err
	}
	out := &face{font: f, unit: fixed.I(int(f.UnitsPerEm()))}
	var b sfnt.Buffer
	i, err := f.GlyphIndex(&b, 'H')
	if err != nil {
		return nil, err
	}
	// The cap height is measured on H: a font's own entry has either sign, or none.
	bounds, _, err := f.GlyphBounds(&b, i, out.unit, font.HintingNone)
	if err != nil {
		return nil, err
	}
	out.cap = -float64(bounds.Min.Y) / 64
	return out, nil
}

// typeface is a font file as its reader gives it. All numbers are in units of the
// font, exact: at a size of as many 64ths of a pixel as the em has units, one
// unit is one 64th.
type typeface struct {
	font *sfnt.Font
	em   fixed.Int26_6
}

// openTypeface reads a font file; a panic of the reader becomes an error.
func openTypeface(data []byte) (t typeface, err error) {
	defer noPanic(&err)
	f, err := sfnt.Parse(data)
	if err != nil {
		return typeface{}, err
	}
	return typeface{font: f, em: fixed.Int26_6(f.UnitsPerEm())}, nil
}

func noPanic(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("the font is damaged (%v)", r)
	}
}

// index returns the number of a character's glyph; 0 where there is none.
func (t typeface) index(r rune) (i int, err error) {
	defer noPanic(&err)
	x, err := t.font.GlyphIndex(&sfnt.Buffer{}, r)
	return int(x), err
}

// advance returns how far the next glyph stands from this one.
func (t typeface) advance(i int) (w float64, err error) {
	defer noPanic(&err)
	a, err := t.font.GlyphAdvance(&sfnt.Buffer{}, sfnt.GlyphIndex(i), t.em, font.HintingNone)
	return float64(a), err
}

// kern returns what a pair adds to the advance of its first, from GPOS where the
// font kerns there (pair adjustment of the first glyph's advance), or else from
// its kern table.
func (t typeface) kern(i, j int) (k float64, err error) {
	defer noPanic(&err)
	v, err := t.font.Kern(&sfnt.Buffer{}, sfnt.GlyphIndex(i), sfnt.GlyphIndex(j), t.em, font.HintingNone)
	if errors.Is(err, sfnt.ErrNotFound) {
		return 0, nil
	}
	return float64(v), err
}

// contours returns the outline of a glyph, y up. Points that a TrueType outline
// implies, and fractions of a CFF outline, are rounded to whole units by the
// reader; see [glyfTable] for the former.
func (t typeface) contours(i int) (p g.Path, err error) {
	defer noPanic(&err)
	segs, err := t.font.LoadGlyph(&sfnt.Buffer{}, sfnt.GlyphIndex(i), t.em, nil)
	if err != nil {
		return nil, err
	}
	return contoursOf(segs, func(p fixed.Point26_6) g.Point { return g.Point{X: float64(p.X), Y: -float64(p.Y)} }), nil
}

// name returns an entry of the name table; empty where there is none.
func (t typeface) name(id int) (s string) {
	var err error
	defer noPanic(&err)
	s, _ = t.font.Name(&sfnt.Buffer{}, sfnt.NameID(id))
	return s
}

// Label returns the outlines of a line of text for a sheet, in the Go fonts
// (Bigelow and Holmes; BSD licence): baseline on y = 0, from x = 0, capitals
// capHeight inches high, and the width of the line. A character that the font
// lacks is drawn as a question mark. The fonts are embedded, so it panics only
// where the program itself is broken.
func Label(text string, capHeight float64, bold bool) (path g.Path, width float64) {
	f := labelFace(bold)
	k := capHeight / f.cap
	var b sfnt.Buffer
	width = f.line(&b, text, k, func(i sfnt.GlyphIndex, x float64) {
		segs, err := f.font.LoadGlyph(&b, i, f.unit, nil)
		if err != nil {
			panic(fmt.Sprintf("glyphs: the embedded font has a broken glyph %d: %v", i, err))
		}
		path = append(path, contoursOf(segs, func(p fixed.Point26_6) g.Point {
			return g.Point{X: x + float64(p.X)/64*k, Y: -float64(p.Y) / 64 * k}
		})...)
	})
	return path, width
}

// LabelWidth returns the width of a label without drawing it.
func LabelWidth(text string, capHeight float64, bold bool) float64 {
	k, width := capHeight/labelFace(bold).cap, 0.0
	for _, r := range text {
		a, ok := labelAdvance(r, bold)
		if !ok {
			a, _ = labelAdvance('?', bold)
		}
		width += float64(a) / 64 * k // the fonts do not kern
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
	a, ok := labelAdvance(r, bold)
	return float64(a) / float64(labelFace(bold).unit), ok
}

// advances are the advances that were asked for, of the regular font and of the bold
// one: a document asks thousands of times for the same hundred.
var advances [2]sync.Map // rune to fixed.Int26_6, below 0: the font has no such letter

// labelAdvance returns the advance of a letter in units of the font; false where it has
// none.
func labelAdvance(r rune, bold bool) (fixed.Int26_6, bool) {
	known := &advances[0]
	if bold {
		known = &advances[1]
	}
	if a, ok := known.Load(r); ok {
		return max(0, a.(fixed.Int26_6)), a.(fixed.Int26_6) >= 0
	}
	f := labelFace(bold)
	var b sfnt.Buffer
	a := fixed.Int26_6(-1)
	if i, err := f.font.GlyphIndex(&b, r); err == nil && i != 0 {
		if got, err := f.font.GlyphAdvance(&b, i, f.unit, font.HintingNone); err == nil {
			a = got
		}
	}
	known.Store(r, a)
	return max(0, a), a >= 0
}

// labelFace returns the font of labels.
func labelFace(bold bool) *face {
	load := regularFace
	if bold {
		load = boldFace
	}
	f, err := load()
	if err != nil {
		panic(fmt.Sprintf("glyphs: the embedded font does not parse: %v", err))
	}
	return f
}

// line walks along a line of text, k inches to the unit of the font: each glyph with
// where it stands. It returns the width.
func (f *face) line(b *sfnt.Buffer, text string, k float64, each func(i sfnt.GlyphIndex, x float64)) (width float64) {
	last := sfnt.GlyphIndex(0)
	for _, r := range text {
		i, err := f.font.GlyphIndex(b, r)
		if err != nil || i == 0 {
			i, _ = f.font.GlyphIndex(b, '?')
		}
		if last != 0 {
			if kern, err := f.font.Kern(b, last, i, f.unit, font.HintingNone); err == nil {
				width += float64(kern) / 64 * k
			}
		}
		last = i
		each(i, width)
		advance, err := f.font.GlyphAdvance(b, i, f.unit, font.HintingNone)
		if err != nil {
			panic(fmt.Sprintf("glyphs: the embedded font has no advance for %q: %v", r, err))
		}
		width += float64(advance) / 64 * k
	}
	return width
}

// contoursOf turns a glyph into closed contours; quadratic curves are raised to
// cubics, which is exact. A TrueType outline runs clockwise where it is filled
// (Apple, TrueType Reference Manual, "Digitizing letterform designs"), so every
// contour is walked the other way.
func contoursOf(segs sfnt.Segments, at func(fixed.Point26_6) g.Point) g.Path {
	var out g.Path
	var b *g.Builder
	var here g.Point
	for _, s := range segs {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if b != nil {
				out = append(out, b.Close().Reversed())
			}
			here = at(s.Args[0])
			b = g.MoveTo(here)
		case sfnt.SegmentOpLineTo:
			here = at(s.Args[0])
			b.LineTo(here)
		case sfnt.SegmentOpQuadTo:
			q, end := at(s.Args[0]), at(s.Args[1])
			b.CubicTo(here.Lerp(q, 2.0/3), end.Lerp(q, 2.0/3), end)
			here = end
		case sfnt.SegmentOpCubeTo:
			end := at(s.Args[2])
			b.CubicTo(at(s.Args[0]), at(s.Args[1]), end)
			here = end
		}
	}
	if b != nil {
		out = append(out, b.Close().Reversed())
	}
	return out
}
