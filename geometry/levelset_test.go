package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Of a paraboloid over a square the region is a disc: its area within the square of a
// cell's share, its contour to the left of the region; halving the cells quarters the error.
func TestAtLeastZeroOfADisc(t *testing.T) {
	box := Rect{Min: Point{X: -2, Y: -1}, Max: Point{X: 1, Y: 2}}
	miss := func(n int) float64 {
		path := AtLeastZero(box, n, n, func(i, j int) float64 {
			x, y := -2+3*float64(i)/float64(n-1), -1+3*float64(j)/float64(n-1)
			return 0.81 - (x+0.5)*(x+0.5) - (y-0.5)*(y-0.5)
		})
		require.Len(t, path, 1)
		require.Positive(t, path[0].Area(), "the region is at its left")
		return math.Abs(path[0].Area() - math.Pi*0.81)
	}
	coarse, fine := miss(31), miss(61)
	require.Less(t, coarse, 0.01)
	require.InDelta(t, 4, coarse/fine, 0.6)
}

// A region that reaches the edge of the rectangle ends there; one of everything is the
// rectangle, and a hole is a contour turned the other way.
func TestAtLeastZeroAtEdges(t *testing.T) {
	box := Rect{Max: Point{X: 4, Y: 2}}
	all := AtLeastZero(box, 5, 3, func(i, j int) float64 { return 1 })
	require.Len(t, all, 1)
	require.InDelta(t, 8, all[0].Area(), 1e-12)
	half := AtLeastZero(box, 5, 3, func(i, j int) float64 { return float64(i) - 2.5 })
	require.InDelta(t, 1.5*2, half.Area(), 1e-12)
	require.InDelta(t, 2.5, half.Bounds().Min.X, 1e-12)
	require.InDelta(t, 4, half.Bounds().Max.X, 1e-12)
	holed := AtLeastZero(box, 5, 3, func(i, j int) float64 { return map[bool]float64{true: -1, false: 1}[i == 2 && j == 1] })
	require.Len(t, holed, 2)
	require.InDelta(t, 8-0.5, holed[0].Area()+holed[1].Area(), 1e-12, "a hole of half diagonals of 1/2")
	require.Empty(t, AtLeastZero(box, 5, 3, func(i, j int) float64 { return -1 }))
}

// Two opposite corners of a cell hang together where the mean of all four is not negative.
func TestAtLeastZeroSaddle(t *testing.T) {
	box := Rect{Max: Point{X: 1, Y: 1}}
	value := func(inside float64) func(i, j int) float64 {
		return func(i, j int) float64 {
			if i == j {
				return inside
			}
			return -1
		}
	}
	require.Len(t, AtLeastZero(box, 2, 2, value(3)), 1)
	require.Len(t, AtLeastZero(box, 2, 2, value(0.5)), 2)
}
