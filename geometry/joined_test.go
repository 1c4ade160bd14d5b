package geometry

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A segment shorter than the tolerance goes, at a corner or where the outline begins, and
// the outline stays closed; an outline that is no more than a point goes whole.
func TestJoined(t *testing.T) {
	const e = 4e-7
	p := Path{Polygon(Point{}, Point{X: 1}, Point{X: 1, Y: e}, Point{X: 1, Y: 1}, Point{Y: 1}, Point{Y: e})}
	got := p.Joined()
	require.Len(t, got, 1)
	require.True(t, got[0].Closed())
	require.Len(t, got[0].Segments, 4)
	require.InDelta(t, 1, got.Area(), 1e-6)
	require.Empty(t, Path{Polygon(Point{}, Point{X: e}, Point{Y: e})}.Joined())
	square := Path{Polygon(Point{}, Point{X: 1}, Point{X: 1, Y: 1})}
	require.Equal(t, square, square.Joined())
}
