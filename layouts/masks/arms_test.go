package masks

import (
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// No place for a mark is looked for farther out than film with an arm to it can be cut, on
// a marking however long.
func TestArmsWithinTheWeb(t *testing.T) {
	cell := Cell{Rect: g.Rect{Max: g.Point{X: 20, Y: 10}}}
	cell.open[rightSide] = true
	paint := g.Rect{Min: g.Point{X: -5, Y: -5}, Max: g.Point{X: 4000, Y: 15}}
	for _, longest := range []g.Length{30, 48, 600} {
		s := setter{
			t:     &Tiling{Laid: Laid{Field: g.Rect{Max: g.Point{X: 4000, Y: 10}}}},
			film:  layouts.FilmSpec{Web: 24, Longest: longest},
			paint: chordsOf(g.Path{g.Rectangle(paint)}), free: map[g.Point]float64{},
		}
		require.Empty(t, s.armEnds(cell))
		require.NotEmpty(t, s.free)
		farthest := 0.0
		for p := range s.free {
			farthest = max(farthest, p.X+armHalf)
		}
		require.LessOrEqual(t, farthest, longest.Inches()+1e-9)
		require.Greater(t, farthest, longest.Inches()-1)
	}
}
