package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Areas of the non-zero rule by closed forms. Squares of side 2 overlap in a
// square of side 1; the lens of two unit discs a distance 1 apart is
// 2 pi/3 - sqrt(3)/2; the outline of a pentagram has ten triangles of sides 1 and
// r, its inner corners' radius, 36 degrees apart; a contour that laps over itself
// in 2 x 2 fills 15 of the 19 that it runs round.
func TestFilled(t *testing.T) {
	square := func(x, y, s float64) Contour {
		return Rectangle(Rect{Min: Point{X: x, Y: y}, Max: Point{X: x + s, Y: y + s}})
	}
	disc := func(x float64) Contour { return Circle(Point{X: x}, 1) }
	round := disc(0).Area() // of eight cubics; the lens is taken on true circles
	var star []Point
	for k := 0; k < 5; k++ {
		s, c := math.Sincos(math.Pi/2 + 4*math.Pi/5*float64(k))
		star = append(star, Point{X: c, Y: s})
	}
	inner := math.Sin(math.Pi/10) / math.Sin(7*math.Pi/10) // radius of its inner corners
	twice := MoveTo(Point{}).LineTo(Point{X: 3}).LineTo(Point{X: 3, Y: 3}).LineTo(Point{Y: 3}).LineTo(Point{Y: 1}).
		LineTo(Point{X: 2, Y: 1}).LineTo(Point{X: 2, Y: 4}).LineTo(Point{X: -1, Y: 4}).LineTo(Point{X: -1}).Close()
	for _, c := range []struct {
		name      string
		p         Path
		area      float64
		rings     int
		tolerance float64
	}{
		{"one square", Path{square(0, 0, 2)}, 4, 1, 1e-12},
		{"two that overlap", Path{square(0, 0, 2), square(1, 1, 2)}, 7, 1, 1e-12},
		{"the same, both clockwise", Path{square(0, 0, 2).Reversed(), square(1, 1, 2).Reversed()}, 7, 1, 1e-12},
		{"a hole", Path{square(0, 0, 4), square(1, 1, 2).Reversed()}, 12, 2, 1e-12},
		{"no hole, the same way round", Path{square(0, 0, 4), square(1, 1, 2)}, 16, 1, 1e-12},
		{"a bar over a hole", Path{square(0, 0, 4), square(1, 1, 2).Reversed(), Rectangle(Rect{Min: Point{X: -1, Y: 1.5}, Max: Point{X: 5, Y: 2.5}})}, 16, 3, 1e-12},
		{"one each way, apart", Path{square(0, 0, 2), square(5, 0, 2).Reversed()}, 8, 2, 1e-12},
		{"two discs", Path{disc(0), disc(1)}, 2*round - (2*math.Pi/3 - math.Sqrt(3)/2), 1, 2e-5},
		{"a pentagram", Path{Polygon(star...)}, 5 * inner * math.Sin(math.Pi/5), 1, 1e-12},
		{"a contour over itself", Path{twice}, 15, 1, 1e-12},
	} {
		got, err := Filled(c.p)
		require.NoError(t, err, c.name)
		require.InDelta(t, c.area, got.Area(), c.tolerance, c.name)
		require.Len(t, got, c.rings, c.name)
	}
	_, err := Filled(Path{Polyline(Point{}, Point{X: 1}, Point{Y: 1})})
	require.Error(t, err, "an open contour")
}
