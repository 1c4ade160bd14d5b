package export

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// A chord that goes round to within a rounding of the start leaves no contour that
// a file cannot write: a field of 1/2 in on the demo ended with one open by 4.4e-16.
func TestTrialOutlineComesRound(t *testing.T) {
	p := func(x, y float64) g.Point { return g.Point{X: x, Y: y} }
	near := p(math.Nextafter(0.3, 1), 0)
	require.NotEqual(t, p(0.3, 0), near)
	var path g.Path
	for _, k := range [][2]g.Point{{p(0.3, 0), p(1, 0)}, {p(1, 0), p(1, 1)}, {p(1, 1+1e-15), near}} {
		path = joined(path, k[0], k[1])
	}
	require.Len(t, path, 2)
	sheet := sheet.Sheet{Width: 2, Height: 2, Layers: []sheet.Layer{{Name: "outlines", Items: []sheet.Item{{Path: path, Ink: sheet.Ink{Stroke: "#000000", Width: 0.015}}}}}}
	require.NoError(t, sheet.Check())
}

// A line that comes round in a window's corner but for the last place is closed.
func TestClipLineComesRound(t *testing.T) {
	p := func(x, y float64) g.Point { return g.Point{X: x, Y: y} }
	path := sheet.ClipLine([]g.Point{p(0.3, 0.2), p(1, 0.2), p(1, 1), p(math.Nextafter(0.3, 1), 0.2)}, g.Rect{Max: p(2, 2)})
	require.Len(t, path, 1)
	require.NoError(t, sheet.Item{Path: path, Ink: sheet.Ink{Stroke: "#000000", Width: 0.015}}.Check())
}
