package glyphs

import (
	"bytes"
	"encoding/binary"
	"slices"
	"testing"

	"github.com/go-text/typesetting/font/opentype"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	g "maskloft/geometry"
)

func be16(v ...int) []byte {
	var out []byte
	for _, x := range v {
		out = binary.BigEndian.AppendUint16(out, uint16(x))
	}
	return out
}

func be32(v ...int) []byte {
	var out []byte
	for _, x := range v {
		out = binary.BigEndian.AppendUint32(out, uint32(x))
	}
	return out
}

// fontFile writes a font of so many glyphs in which H is the last (OpenType
// specification 1.9: cmap format 12, head, hhea, hmtx, maxp).
func fontFile(glyphs int, outlines map[string][]byte) []byte {
	all := map[string][]byte{
		"cmap": slices.Concat(be16(0, 1, 3, 10), be32(12), be16(12, 0), be32(28, 0, 1, 'H', 'H', glyphs-1)),
		"head": slices.Concat(be32(0x10000, 0, 0, 0x5F0F3CF5), be16(0, 1000), make([]byte, 16), be16(0, 0, 1000, 1000, 0, 8, 2, 1, 0)),
		"hhea": slices.Concat(be32(0x10000), make([]byte, 30), be16(1)),
		"hmtx": slices.Concat(be16(1000, 0), make([]byte, 2*(glyphs-1))),
		"maxp": slices.Concat(be32(0x5000), be16(glyphs)),
	}
	for tag, data := range outlines {
		all[tag] = data
	}
	var list []opentype.Table
	for tag, data := range all {
		list = append(list, opentype.Table{Tag: opentype.MustNewTag(tag), Content: data})
	}
	slices.SortFunc(list, func(a, b opentype.Table) int { return int(int64(a.Tag) - int64(b.Tag)) })
	return opentype.WriteTTF(list)
}

// nestedParts is a TrueType font whose H has so many levels of parts, ten to a level,
// over a square.
func nestedParts(levels int) []byte {
	square := slices.Concat(be16(1, 0, 0, 1000, 1000, 3, 0), []byte{1, 1, 1, 1}, be16(0, 0, 1000, 0), be16(0, 1000, 0, -1000))
	glyf := slices.Clone(square)
	loca := be32(0, len(glyf))
	for level := 1; level <= levels; level++ {
		glyf = append(glyf, be16(-1, 0, 0, 1000, 1000)...)
		for k := range 10 {
			flags := 0x23 // words, offsets, more parts
			if k == 9 {
				flags = 0x3
			}
			glyf = append(glyf, be16(flags, level-1, level, 0)...)
		}
		loca = append(loca, be32(len(glyf))...)
	}
	return fontFile(levels+1, map[string][]byte{"glyf": glyf, "loca": loca})
}

// nestedSubroutines is a CFF font whose H calls so many levels of subroutines, ten to a
// level, that draw lines (Adobe Technical Notes 5176 and 5177).
func nestedSubroutines(levels int) []byte {
	index := func(list ...[]byte) []byte {
		if len(list) == 0 {
			return be16(0)
		}
		out := append(be16(len(list)), 2)
		at := 1
		for _, x := range list {
			out = append(out, be16(at)...)
			at += len(x)
		}
		return slices.Concat(append(out, be16(at)...), slices.Concat(list...))
	}
	number := func(v int) []byte { return []byte{byte(v + 139)} }
	call := func(subr int) []byte { return append(number(subr-107), 29) }
	var subrs [][]byte
	for level := 1; level < levels; level++ {
		subrs = append(subrs, append(bytes.Repeat(call(level), 10), 11))
	}
	subrs = append(subrs, slices.Concat(number(100), number(100), number(-100), number(50), []byte{5, 11})) // two lines
	drawn := slices.Concat(number(0), number(0), []byte{21}, call(0), []byte{14})
	before := slices.Concat([]byte{1, 0, 4, 2}, index([]byte("A")))
	after := slices.Concat(index(), index(subrs...))
	top := func(at int) []byte { return slices.Concat([]byte{29}, be32(at), []byte{17}) } // CharStrings
	at := len(before) + len(index(top(0))) + len(after)
	table := slices.Concat(before, index(top(at)), after, index([]byte{14}, drawn))
	return fontFile(2, map[string][]byte{"CFF ": table})
}

// A few hundred bytes that would draw ten million contours, or billions of lines, are
// refused before they are drawn; the same font with few levels is drawn.
func TestFontBounds(t *testing.T) {
	require.Less(t, len(nestedParts(7)), 1200)
	_, err := ParseFont("parts.ttf", nestedParts(7))
	require.ErrorContains(t, err, "it has more than 20000 points and parts")
	_, err = ParseFont("parts.ttf", nestedParts(9))
	require.ErrorContains(t, err, "deeper than 8 levels")
	f, err := ParseFont("parts.ttf", nestedParts(2))
	require.NoError(t, err)
	h, err := f.face.outline(2)
	require.NoError(t, err)
	require.Len(t, h, 100)
	require.InDelta(t, 1000, h.Bounds().Height(), 0)
	require.InDelta(t, 1000+1+2, h.Bounds().Max.X, 0, "each part stands where its level says")

	require.Less(t, len(nestedSubroutines(10)), 600)
	_, err = ParseFont("lines.otf", nestedSubroutines(10))
	require.ErrorContains(t, err, "takes too many steps to draw")
	f, err = ParseFont("lines.otf", nestedSubroutines(3))
	require.NoError(t, err)
	h, err = f.face.outline(1)
	require.NoError(t, err)
	require.Equal(t, 201, h.Nodes(), "two lines, a hundred times, and the closing one")
}

// collection puts fonts into one file (OpenType specification 1.9, "Font Collections").
func collection(fonts ...[]byte) []byte {
	out := slices.Concat([]byte("ttcf"), be16(1, 0), be32(len(fonts)))
	at := len(out) + 4*len(fonts)
	var body []byte
	for _, f := range fonts {
		out = append(out, be32(at+len(body))...)
		moved := slices.Clone(f)
		for i := range int(binary.BigEndian.Uint16(f[4:])) {
			row := moved[12+16*i+8:]
			binary.BigEndian.PutUint32(row, binary.BigEndian.Uint32(row)+uint32(at+len(body)))
		}
		body = append(body, moved...)
	}
	return append(out, body...)
}

// A font of a collection is chosen by its number, and is the same as alone.
func TestCollection(t *testing.T) {
	both := collection(goregular.TTF, gobold.TTF)
	alone, err := ParseFont("go.ttf", gobold.TTF)
	require.NoError(t, err)
	second, err := ParseFont("go.ttc#2", both)
	require.NoError(t, err)
	want, err := alone.Glyph('R', 12)
	require.NoError(t, err)
	got, err := second.Glyph('R', 12)
	require.NoError(t, err)
	require.Equal(t, want, got)
	require.Equal(t, "Go", second.Licence.Family)
	require.Equal(t, "Bold", second.Licence.Style)
	for _, name := range []string{"go.ttc", "go.ttc#0", "go.ttc#3"} {
		_, err = ParseFont(name, both)
		require.EqualError(t, err, "it is a collection of 2 fonts: write go.ttc#1 for the first; it holds #1 Go Regular, #2 Go Bold", name)
	}
	_, err = ParseFont("go.ttc#1", gobold.TTF)
	require.ErrorContains(t, err, "it is no collection of fonts: write go.ttc without #1")
	_, err = ParseFont("go.ttc#1", both[:20])
	require.Error(t, err)
	for name, want := range map[string]string{"a.TTC#2": "a.TTC", "a.ttc": "a.ttc", "a.ttf#2": "a.ttf#2", "b/a.ttc#x": "b/a.ttc#x", "a#1/b.ttf": "a#1/b.ttf"} {
		require.Equal(t, want, FontFile(name))
	}
	require.True(t, IsFontFile("a.TTC#2") && IsFontFile("a.otf") && !IsFontFile("block-6x4"))
}

// Writing systems whose letters do not stand one by one are refused by name (Unicode
// 15, Scripts.txt).
func TestScripts(t *testing.T) {
	f, err := ParseFont("letters.ttf", goregular.TTF)
	require.NoError(t, err)
	for r, want := range map[rune]string{
		'ب': "is Arabic", 'א': "is Hebrew", 'क': "is Devanagari", 'ท': "is Thai", 'ቀ': "is Ethiopic",
		'\u0301': "U+0301 is a mark", '\u200d': "U+200D changes the characters beside it",
	} {
		_, err := f.Glyph(r, 12)
		require.ErrorContains(t, err, want)
	}
	for _, r := range "AÉЖΩ7/&" {
		_, err := f.Glyph(r, 12)
		require.NoError(t, err, "%c", r)
	}
	for _, r := range "漢あア한٣" {
		require.NoError(t, settable(r), "%c", r)
	}
}

// FuzzParseFont: whatever the file, it is a font or an error, and its letters are
// outlines or errors.
func FuzzParseFont(f *testing.F) {
	for _, data := range [][]byte{nestedParts(2), nestedParts(7), nestedParts(9), nestedSubroutines(3), nestedSubroutines(10), collection(nestedParts(1), nestedSubroutines(1))} {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		font, err := ParseFont("f.ttc#1", data)
		if err != nil {
			font, err = ParseFont("f.ttf", data)
		}
		if err != nil {
			return
		}
		for _, r := range "HR8" {
			if c, err := font.Glyph(r, 12); err == nil {
				require.Greater(t, c.Outline.Area(), 0.0)
				require.InDelta(t, float64(c.Width), c.Outline.Bounds().Width(), 1e-6)
			}
			font.Kern('H', r, g.Length(12))
		}
	})
}
