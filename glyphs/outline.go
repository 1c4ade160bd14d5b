package glyphs

import (
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

// Label returns the outlines of a line of text for a sheet, in the Go fonts
// (Bigelow and Holmes; BSD licence): baseline on y = 0, from x = 0, capitals
// capHeight inches high, and the width of the line. A character that the font
// lacks is drawn as a question mark. The fonts are embedded, so it panics only
// where the program itself is broken.
func Label(text string, capHeight float64, bold bool) (path g.Path, width float64) {
	load := regularFace
	if bold {
		load = boldFace
	}
	f, err := load()
	if err != nil {
		panic(fmt.Sprintf("glyphs: the embedded font does not parse: %v", err))
	}
	k := capHeight / f.cap
	var b sfnt.Buffer
	last := sfnt.GlyphIndex(0)
	for _, r := range text {
		i, err := f.font.GlyphIndex(&b, r)
		if err != nil || i == 0 {
			i, _ = f.font.GlyphIndex(&b, '?')
		}
		if last != 0 {
			if kern, err := f.font.Kern(&b, last, i, f.unit, font.HintingNone); err == nil {
				width += float64(kern) / 64 * k
			}
		}
		last = i
		segs, err := f.font.LoadGlyph(&b, i, f.unit, nil)
		if err != nil {
			panic(fmt.Sprintf("glyphs: the embedded font has a broken glyph for %q: %v", r, err))
		}
		x := width
		path = append(path, contoursOf(segs, func(p fixed.Point26_6) g.Point {
			return g.Point{X: x + float64(p.X)/64*k, Y: -float64(p.Y) / 64 * k}
		})...)
		advance, err := f.font.GlyphAdvance(&b, i, f.unit, font.HintingNone)
		if err != nil {
			panic(fmt.Sprintf("glyphs: the embedded font has no advance for %q: %v", r, err))
		}
		width += float64(advance) / 64 * k
	}
	return path, width
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
