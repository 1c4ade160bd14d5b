package glyphs

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The constants are those of the outlines, and a label is as wide as its advances.
func TestLabelFont(t *testing.T) {
	for _, bold := range []bool{false, true} {
		h, _ := Label("H", LabelCap, bold) // one inch to the em
		require.InDelta(t, LabelCap, h.Bounds().Max.Y, 1e-9)
		require.InDelta(t, LabelCap, labels(bold).cap/labels(bold).em, 1e-12)
		for _, r := range "ÁÊÖÅĎgjpqy@{}|ß" {
			p, _ := Label(string(r), LabelCap, bold)
			b := p.Bounds()
			require.True(t, b.Max.Y <= LabelAscent+1e-9 && b.Min.Y >= -LabelDescent-1e-9, "%c reaches from %.4f to %.4f", r, b.Min.Y, b.Max.Y)
		}
		sum := 0.0
		const text = "AVATo. Type WA, 20-1/2 in"
		for _, r := range text {
			em, ok := LabelAdvance(r, bold)
			require.True(t, ok)
			sum += em
		}
		require.InDelta(t, sum, LabelWidth(text, LabelCap, bold), 1e-9, "the fonts do not kern")
		_, ok := LabelAdvance('漢', bold)
		require.False(t, ok)
		file, name := LabelFont(bold)
		f, err := openTypeface(tablesOf(file, 0))
		require.NoError(t, err)
		require.Equal(t, name, f.name(6), "the PostScript name (OpenType, name table, id 6)")
	}
}
