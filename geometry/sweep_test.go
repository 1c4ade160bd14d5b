package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Areas in closed form: a convex region that moves by v covers its area and the width
// across v times |v|.
func TestSweep(t *testing.T) {
	disc := Path{Circle(Point{X: 3, Y: -2}, 5)}
	for _, v := range []Vec{{X: 2}, {X: -1, Y: 3}, {Y: -0.25}, {X: 20, Y: 20}} {
		got, err := Sweep(disc, v)
		require.NoError(t, err)
		require.Len(t, got, 1)
		require.InDelta(t, disc.Area()+10*v.Norm(), got.Area(), 1e-3, "%v", v)
	}
	square := Path{Rectangle(Rect{Max: Point{X: 4, Y: 2}})}
	got, err := Sweep(square, Vec{X: 1, Y: 1})
	require.NoError(t, err)
	require.InDelta(t, 8+2+4, got.Area(), 1e-9)
	require.Equal(t, Rect{Max: Point{X: 5, Y: 3}}, got.Bounds())
	// a ring whose hole is filled in part: the hole is what neither it nor the ring
	// moved covers
	ring := Path{Circle(Point{}, 5), Circle(Point{}, 3).Reversed()}
	got, err = Sweep(ring, Vec{X: 2})
	require.NoError(t, err)
	lens := 2 * (9*math.Acos(1.0/3) - math.Sqrt(8)) // of two circles of radius 3, 2 apart
	require.InDelta(t, math.Pi*25+20-lens, got.Area(), 2e-3)
	none, err := Sweep(square, Vec{})
	require.NoError(t, err)
	require.InDelta(t, 8, none.Area(), 1e-12)
}
