package export

import (
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// The text of a dimension line is drawn: an H as high as a capital, upright on a level
// line, lying on an upright one; its middle half a letter off the line.
func TestMeasureLineHasItsText(t *testing.T) {
	for _, to := range []g.Point{{X: 3}, {Y: 3}} {
		items := sheet.MeasureLine(g.Point{}, to, 0, "H", sheet.SetStrong)
		letter := items[len(items)-1].Outline()
		require.NotEmpty(t, letter)
		high, off := letter.Bounds().Height(), letter.Bounds().Centre().Y
		if to.X == 0 {
			high, off = letter.Bounds().Width(), -letter.Bounds().Centre().X
		}
		require.InDelta(t, sheet.SetStrong.Cap, high, 0.002)
		require.InDelta(t, 1.1*sheet.SetStrong.Cap, off, 0.005)
	}
}

// What is written in the scale square stays in it.
func TestScaleSquareHoldsItsWords(t *testing.T) {
	for _, u := range []g.Units{g.ReadInches, g.ReadMillimetres} {
		for _, side := range squares(u) {
			for _, it := range square(u, side) {
				b, most := it.Outline().Bounds(), side.Inches()+0.06
				require.True(t, b.Min.X > 0.04 && b.Min.Y > 0.04 && b.Max.X < most && b.Max.Y < most, "%v: %v", side, b)
			}
		}
	}
}
