package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Areas of strokes in closed form.
func TestStroke(t *testing.T) {
	l := Path{Polyline(Point{}, Point{X: 10}, Point{X: 10, Y: 6})}
	for _, tc := range []struct {
		name string
		line Path
		pen  Pen
		want float64
	}{
		{"butt, mitred", l, Pen{Width: 2, Join: MiterJoin, Miter: 4}, 2*10 + 2*6},
		{"butt, bevelled", l, Pen{Width: 2, Join: BevelJoin}, 32 - 0.5},
		{"butt, round", l, Pen{Width: 2, Join: RoundJoin}, 31 + math.Pi/4},
		{"square, mitred", l, Pen{Width: 2, Cap: SquareCap, Join: MiterJoin, Miter: 4}, 32 + 4},
		{"round", l, Pen{Width: 2, Cap: RoundCap, Join: RoundJoin}, 31 + math.Pi/4 + math.Pi},
		{"mitre too long", Path{Polyline(Point{}, Point{X: 10}, Point{X: 0, Y: 1})}, Pen{Width: 0.1, Join: MiterJoin, Miter: 1.5}, 0},
		{"a circle", Path{Circle(Point{}, 5)}, Pen{Width: 1, Join: MiterJoin, Miter: 4}, math.Pi * (5.5*5.5 - 4.5*4.5)},
		{"a square", Path{Rectangle(Rect{Max: Point{X: 4, Y: 4}})}, Pen{Width: 1, Join: MiterJoin, Miter: 4}, 25 - 9},
		{"a dot", Path{Polyline(Point{X: 1}, Point{X: 1})}, Pen{Width: 2, Cap: RoundCap}, math.Pi},
		{"a line that ends where it starts sharply", Path{MoveTo(Point{}).CubicTo(Point{X: 0.2, Y: 3}, Point{X: 0.2, Y: 3}, Point{X: 0.4}).Open()}, Pen{Width: 1.5, Join: RoundJoin}, 0},
	} {
		got, err := Stroke(tc.line, tc.pen, 1e-4)
		require.NoError(t, err, tc.name)
		if tc.want > 0 {
			require.InDelta(t, tc.want, got.Area(), 3e-4*tc.want, tc.name)
		} else {
			require.Positive(t, got.Area(), tc.name)
		}
	}
}
