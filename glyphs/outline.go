package glyphs

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"sync"

	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/cff"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/font/opentype/tables"
	"github.com/go-text/typesetting/harfbuzz"
	"github.com/go-text/typesetting/language"

	g "maskloft/geometry"
)

// typeface is one font of a file as its reader gives it. All numbers are in units of
// the font, fractions kept. It may be used at several places at once.
type typeface struct {
	em    float64
	names tables.Name
	font  *font.Font
	glyf  glyfTable
	cff   *cff.CFF // nil: the outlines are in glyf
	cost  cffCost
	hmtx  []byte // advance and left side of each glyph
	full  int    // of its entries, those that hold an advance

	shaping *sync.Mutex
	shaper  *harfbuzz.Font
	buffer  *harfbuzz.Buffer
}

// read are the tables that are handed to the reader. Substitutions, pictures and the
// axes of variable fonts are left out: every character is the outline that cmap names.
var read = []string{"GDEF", "GPOS", "OS/2", "cmap", "head", "hhea", "hmtx", "kern", "maxp"}

// openTypeface reads the tables of one font; a panic of the reader becomes an error.
func openTypeface(from map[string][]byte) (t *typeface, err error) {
	defer noPanic(&err)
	var kept []opentype.Table
	for _, tag := range read {
		if data, ok := from[tag]; ok {
			kept = append(kept, opentype.Table{Tag: opentype.MustNewTag(tag), Content: data})
		}
	}
	loader, err := opentype.NewLoader(bytes.NewReader(opentype.WriteTTF(kept)))
	if err != nil {
		return nil, err
	}
	t = &typeface{shaping: &sync.Mutex{}, buffer: harfbuzz.NewBuffer()}
	if t.font, err = font.NewFont(loader); err != nil {
		return nil, err
	}
	t.em = float64(t.font.Upem())
	t.shaper = harfbuzz.NewFont(font.NewFace(t.font))
	t.names, _, _ = tables.ParseName(from["name"]) // without it the font has no names
	if hhea := from["hhea"]; len(hhea) >= 36 {
		t.hmtx, t.full = from["hmtx"], int(binary.BigEndian.Uint16(hhea[34:]))
	}
	var ok bool
	switch {
	case from["CFF "] != nil:
		if t.cost, err = newCFFCost(from["CFF "]); err == nil {
			t.cff, err = cff.Parse(from["CFF "])
		}
	case from["CFF2"] != nil:
		err = errors.New("its outlines are those of a variable font (table CFF2): save one instance of it as .otf")
	default:
		if t.glyf, ok = newGlyfTable(from); !ok {
			err = errors.New("it has no outlines (tables glyf or CFF)")
		}
	}
	return t, err
}

func noPanic(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("the font is damaged (%v)", r)
	}
}

// index returns the number of a character's glyph; 0 where there is none.
func (t *typeface) index(r rune) (i int, err error) {
	defer noPanic(&err)
	x, _ := t.font.NominalGlyph(r)
	return int(x), nil
}

// entry returns the place in hmtx of a glyph's left side; the advance stands before it
// in the first entries, and is that of the last such entry in the others.
func (t *typeface) entry(i int) (advance, left int) {
	if i < t.full {
		return 4 * i, 4*i + 2
	}
	return 4 * (t.full - 1), 4*t.full + 2*(i-t.full)
}

// advance returns how far the next glyph stands from this one.
func (t *typeface) advance(i int) (float64, error) {
	at, _ := t.entry(i)
	if at < 0 || at+2 > len(t.hmtx) {
		return 0, errors.New("its advance is missing (table hmtx)")
	}
	return float64(binary.BigEndian.Uint16(t.hmtx[at:])), nil
}

// left returns where the left edge of a glyph stands; false where hmtx does not say.
func (t *typeface) left(i int) (float64, bool) {
	if _, at := t.entry(i); at >= 0 && at+2 <= len(t.hmtx) {
		return float64(int16(binary.BigEndian.Uint16(t.hmtx[at:]))), true
	}
	return 0, false
}

// unlinked are the features of GPOS that move glyphs of a pair for other reasons than
// kerning.
var unlinked = []harfbuzz.Feature{
	{Tag: opentype.MustNewTag("mark"), End: harfbuzz.FeatureGlobalEnd},
	{Tag: opentype.MustNewTag("mkmk"), End: harfbuzz.FeatureGlobalEnd},
}

// kern returns what the font adds to the distance of two neighbours, a left of b, from
// GPOS where the font kerns there, or else from its kern table.
func (t *typeface) kern(a, b rune) (k float64, err error) {
	defer noPanic(&err)
	i, err := t.index(a)
	if err != nil {
		return 0, err
	}
	w, err := t.advance(i)
	if err != nil {
		return 0, err
	}
	t.shaping.Lock()
	defer t.shaping.Unlock()
	t.buffer.Clear()
	t.buffer.AddRunes([]rune{a, b}, 0, 2)
	t.buffer.Props = harfbuzz.SegmentProperties{Direction: di.DirectionLTR.Harfbuzz(), Script: scriptOf(a, b)}
	t.buffer.Shape(t.shaper, unlinked)
	if len(t.buffer.Pos) != 2 {
		return 0, nil
	}
	first, second := t.buffer.Pos[0], t.buffer.Pos[1]
	return float64(first.XAdvance-first.XOffset+second.XOffset) - w, nil
}

// scriptOf returns the writing system that two neighbours are set in: that of the first
// which has one, or Latin.
func scriptOf(a, b rune) language.Script {
	for _, r := range []rune{a, b} {
		if s := language.LookupScript(r); s != language.Common && s != language.Inherited && s != language.Unknown {
			return s
		}
	}
	return language.Latin
}

// outline returns the outline of a glyph, y up, each contour as the file has it.
func (t *typeface) outline(i int) (p g.Path, err error) {
	defer noPanic(&err)
	if t.cff == nil {
		p, bound, err := t.glyf.outline(i)
		if left, ok := t.left(i); ok && err == nil {
			p = p.Moved(g.Vec{X: left - bound}) // which may differ from its coordinates
		}
		return p, err
	}
	if err := t.cost.check(i, mostSteps); err != nil {
		return nil, err
	}
	segments, _, err := t.cff.LoadGlyph(tables.GlyphID(i))
	if err != nil {
		return nil, err
	}
	return contoursOf(segments), nil
}

// contoursOf turns the segments of a CFF glyph into closed contours. Its coordinates
// are sums that were rounded once, to 24 bits: to a ten-thousandth of a unit at most.
func contoursOf(segments []opentype.Segment) g.Path {
	at := func(p opentype.SegmentPoint) g.Point { return g.Point{X: float64(p.X), Y: float64(p.Y)} }
	var out g.Path
	var b *g.Builder
	end := func() {
		if b != nil {
			if c := b.Close(); len(c.Segments) > 1 {
				out = append(out, c)
			}
		}
	}
	for _, s := range segments {
		switch s.Op {
		case opentype.SegmentOpMoveTo:
			end()
			b = g.MoveTo(at(s.Args[0]))
		case opentype.SegmentOpLineTo:
			b.LineTo(at(s.Args[0]))
		case opentype.SegmentOpCubeTo:
			b.CubicTo(at(s.Args[0]), at(s.Args[1]), at(s.Args[2]))
		}
	}
	end()
	return out
}

// name returns an entry of the name table; empty where there is none.
func (t *typeface) name(id int) (s string) {
	var err error
	defer noPanic(&err)
	return t.names.Name(tables.NameID(id))
}

// glyfPoint is a point of an outline, on the curve or a control point; ends tells the
// last of a contour.
type glyfPoint struct {
	g.Point
	on, ends bool
}

// glyfPart is a part of a compound glyph: its points are multiplied by the matrix
// xx xy yx yy and moved by dx, dy, or the other way round, or moved so that its point
// from falls on point to of the parts before it.
type glyfPart struct {
	glyph          int
	xx, xy, yx, yy float64
	dx, dy         float64
	movedFirst     bool
	byPoints       bool
	from, to       int
}

// glyfOf returns the points of a simple glyph, or the parts of a compound one, and the
// left end of the bounds that it states.
func glyfOf(data []byte) (points []glyfPoint, parts []glyfPart, left float64, err error) {
	read, _, err := tables.ParseGlyph(data)
	if err != nil {
		return nil, nil, 0, err
	}
	switch d := read.Data.(type) {
	case tables.SimpleGlyph:
		points = make([]glyfPoint, len(d.Points))
		for i, p := range d.Points {
			points[i] = glyfPoint{Point: g.Point{X: float64(p.X), Y: float64(p.Y)}, on: p.Flag&1 != 0}
		}
		for _, end := range d.EndPtsOfContours {
			points[end].ends = true
		}
	case tables.CompositeGlyph:
		for _, c := range d.Glyphs {
			p := glyfPart{
				glyph: int(c.GlyphIndex), movedFirst: c.IsScaledOffsets(), byPoints: c.IsAnchored(),
				xx: float64(c.Scale[0]), xy: float64(c.Scale[1]), yx: float64(c.Scale[2]), yy: float64(c.Scale[3]),
			}
			if p.byPoints {
				p.to, p.from = c.ArgsAsIndices()
			} else {
				x, y := c.ArgsAsTranslation()
				p.dx, p.dy = float64(x), float64(y)
			}
			parts = append(parts, p)
		}
	}
	return points, parts, float64(read.XMin), nil
}
