package glyphs

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// x/image reads the subset and draws its characters as those of the whole font, also
// what is put together of others; the characters left out have no outline. The sum of the words of a font file is
// 0xB1B0AFBA (OpenType specification 1.9, "head").
func TestLabelSubset(t *testing.T) {
	for bold, whole := range map[bool][]byte{false: goregular.TTF, true: gobold.TTF} {
		kept := []rune("NO STEP é½“ß")
		data := LabelSubset(bold, kept)
		require.Less(t, len(data), len(whole)/12)
		for _, tag := range []string{"cvt ", "fpgm", "prep"} {
			require.NotContains(t, tablesOf(data, 0), tag)
		}
		require.Equal(t, uint32(0xB1B0AFBA), sumOf(data))
		part, err := sfnt.Parse(data)
		require.NoError(t, err)
		all, err := sfnt.Parse(whole)
		require.NoError(t, err)
		segments := func(f *sfnt.Font, r rune) sfnt.Segments {
			var b sfnt.Buffer
			i, err := f.GlyphIndex(&b, r)
			require.NoError(t, err)
			out, err := f.LoadGlyph(&b, i, fixed.I(2048), nil)
			require.NoError(t, err)
			return append(sfnt.Segments(nil), out...)
		}
		advance := func(f *sfnt.Font, r rune) fixed.Int26_6 {
			var b sfnt.Buffer
			i, err := f.GlyphIndex(&b, r)
			require.NoError(t, err)
			a, err := f.GlyphAdvance(&b, i, fixed.I(2048), font.HintingNone)
			require.NoError(t, err)
			return a
		}
		for _, r := range kept {
			require.Equal(t, advance(all, r), advance(part, r), "%q", r)
			require.Equal(t, segments(all, r), segments(part, r), "%q", r)
		}
		require.Empty(t, segments(part, 'Q'))
	}
}
