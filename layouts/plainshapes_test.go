package layouts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// Plain shapes: extents and areas in closed form.
func TestPlainShapes(t *testing.T) {
	for _, tc := range []struct {
		shape      ShapeSpec
		w, h, area float64
	}{
		{ShapeSpec{Kind: DiscShape, Diameter: 10}, 10, 10, math.Pi * 25},
		{ShapeSpec{Kind: RingShape, Diameter: 10, Inner: 6}, 10, 10, math.Pi * 16},
		{ShapeSpec{Kind: OvalShape, Length: 12, Height: 4}, 12, 4, math.Pi * 12},
		{ShapeSpec{Kind: RectangleShape, Length: 12, Height: 4}, 12, 4, 48},
		{ShapeSpec{Kind: RectangleShape, Length: 12, Height: 4, Corner: 1}, 12, 4, 48 - (4 - math.Pi)},
		{ShapeSpec{Kind: RectangleShape, Length: 12, Height: 4, Turn: 90}, 4, 12, 48},
		{ShapeSpec{Kind: PolygonShape, Points: []g.Point{{X: 0, Y: 0}, {X: 0, Y: 3}, {X: 4, Y: 0}}}, 4, 3, 6},
		{ShapeSpec{Kind: ArrowShape, Length: 20, Width: 2, Head: 5, Span: 6}, 20, 6, 15*2 + 15},
		{ShapeSpec{Kind: TriangleShape, Length: 6, Height: 5}, 6, 5, 15},
		{ShapeSpec{Kind: ChevronShape, Arm: 10, Width: 2, Angle: 90}, 12 / math.Sqrt2, 20 / math.Sqrt2, 2 * 2 * (10 + 8) / 2},
		{ShapeSpec{Kind: BarShape, Length: 12, Width: 2}, 12, 2, 24},
		{ShapeSpec{Kind: BarShape, Length: 12, Width: 2, Round: true}, 12, 2, 20 + math.Pi},
		{ShapeSpec{Kind: CrossShape, Span: 12, Width: 2}, 12, 12, 44},
	} {
		tc.shape.Paint, tc.shape.At = "red", g.Point{X: 3, Y: -1}
		f, err := ShapesFigure([]ShapeSpec{tc.shape})
		require.NoError(t, err, "%+v", tc.shape)
		b := f.Bounds()
		assert.InDelta(t, tc.w, b.Width(), 1e-4, "%+v", tc.shape)
		assert.InDelta(t, tc.h, b.Height(), 1e-4, "%+v", tc.shape)
		assert.InEpsilon(t, tc.area, f.Layers[0].Outline.Area(), 1e-5, "%+v", tc.shape)
		if tc.shape.Kind != PolygonShape {
			assert.InDelta(t, 3, b.Centre().X, 1e-4)
			assert.InDelta(t, -1, b.Centre().Y, 1e-4)
		}
	}
	// an arrow points forward: to the left on the left side, to the right on the right
	f, err := ShapesFigure([]ShapeSpec{{Kind: ArrowShape, Length: 20, Width: 2, Head: 5, Span: 6, Paint: "red"}})
	require.NoError(t, err)
	tip := func(f Figure) float64 {
		for _, s := range f.Layers[0].Outline[0].Segments {
			if math.Abs(s.End.Y) < 1e-9 {
				return s.End.X
			}
		}
		return 0
	}
	assert.InDelta(t, -10, tip(f), 1e-9)
	assert.InDelta(t, 10, tip(f.For(g.Right)), 1e-9)
}

func TestPlainShapesRefuse(t *testing.T) {
	for _, tc := range []struct {
		shape ShapeSpec
		say   string
	}{
		{ShapeSpec{Kind: DiscShape}, "shape 1, a disc: diameter is 0"},
		{ShapeSpec{Kind: RingShape, Diameter: 5, Inner: 5}, "below the diameter"},
		{ShapeSpec{Kind: ArrowShape, Length: 20, Width: 2, Head: 20, Span: 6}, "shorter than the arrow"},
		{ShapeSpec{Kind: PolygonShape, Points: []g.Point{{}, {X: 1, Y: 1}, {X: 0, Y: 1}, {X: 1, Y: 0}}}, "cross"},
		{ShapeSpec{Kind: RectangleShape, Length: 12, Height: 4, Corner: 3}, "corners of radius"},
		{ShapeSpec{Kind: ChevronShape, Arm: 1, Width: 2, Angle: 90}, "too short"},
		{ShapeSpec{Kind: CrossShape, Span: 1, Width: 2}, "arms of the cross"},
		{ShapeSpec{Kind: BarShape, Length: 1e9, Width: 2}, "at most"},
	} {
		_, err := ShapesFigure([]ShapeSpec{tc.shape})
		assert.ErrorContains(t, err, tc.say)
	}
	_, err := ShapesFigure(nil)
	assert.Error(t, err)
}

// Borders of a rectangle of 12 x 4 in: areas in closed form, and what is painted
// tiles.
func TestBorders(t *testing.T) {
	shapes := func() Figure {
		f, err := ShapesFigure([]ShapeSpec{{Kind: RectangleShape, Length: 12, Height: 4, Paint: "white"}})
		require.NoError(t, err)
		return f
	}
	for _, tc := range []struct {
		name    string
		borders []BorderSpec
		shade   *ShadeSpec
		want    map[string]float64
	}{
		{"outside, mitred", []BorderSpec{{Width: 1, Paint: "black", On: OutsideBorder, Join: g.MiterJoin}}, nil, map[string]float64{"white": 48, "black": 14*6 - 48}},
		{"outside, round", []BorderSpec{{Width: 1, Paint: "black", On: OutsideBorder, Join: g.RoundJoin}}, nil, map[string]float64{"white": 48, "black": 32 + math.Pi}},
		{"two outside", []BorderSpec{{Width: 1, Paint: "black", On: OutsideBorder, Join: g.MiterJoin}, {Width: 0.5, Paint: "red", On: OutsideBorder, Join: g.MiterJoin}}, nil,
			map[string]float64{"white": 48, "black": 36, "red": 15*7 - 84}},
		{"inside", []BorderSpec{{Width: 0.5, Paint: "black", On: InsideBorder, Join: g.MiterJoin}}, nil, map[string]float64{"white": 33, "black": 15}},
		{"two inside", []BorderSpec{{Width: 0.5, Paint: "black", On: InsideBorder}, {Width: 0.5, Paint: "red", On: InsideBorder}}, nil, map[string]float64{"white": 20, "black": 15, "red": 13}},
		{"centred", []BorderSpec{{Width: 1, Paint: "black", On: CentredBorder, Join: g.MiterJoin}}, nil, map[string]float64{"white": 33, "black": 13*5 - 33}},
		{"drop shade", nil, &ShadeSpec{Depth: math.Sqrt2, Angle: -45, Paint: "black"}, map[string]float64{"white": 48, "black": 48 - 11*3}},
		{"joined shade", nil, &ShadeSpec{Depth: math.Sqrt2, Angle: -45, Paint: "black", Joined: true}, map[string]float64{"white": 48, "black": 16}},
		{"border and shade", []BorderSpec{{Width: 1, Paint: "red", On: OutsideBorder, Join: g.MiterJoin}}, &ShadeSpec{Depth: 1, Angle: 180, Paint: "black", Joined: true}, map[string]float64{"white": 48, "red": 36, "black": 6}},
	} {
		f, err := Bordered(shapes(), tc.borders, tc.shade)
		require.NoError(t, err, tc.name)
		got := map[string]float64{}
		for _, r := range tiles(t, f) {
			got[r.Colour] = r.Outline.Area()
		}
		for paint, area := range tc.want {
			assert.InDelta(t, area, got[paint], 1e-4, "%s: %s", tc.name, paint)
		}
		assert.Len(t, got, len(tc.want), tc.name)
	}
	_, err := Bordered(shapes(), []BorderSpec{{Paint: "black"}}, nil)
	assert.ErrorContains(t, err, "border 1: the width is 0")
	_, err = Bordered(shapes(), nil, &ShadeSpec{Paint: "black"})
	assert.ErrorContains(t, err, "depth is 0")
}

// A ring of a letter O has a border in its hole as well; a border wider than half the
// hole fills it.
func TestBorderInAHole(t *testing.T) {
	f, err := ShapesFigure([]ShapeSpec{{Kind: RingShape, Diameter: 10, Inner: 4, Paint: "white"}})
	require.NoError(t, err)
	for width, want := range map[g.Length]float64{1: math.Pi * (36 - 25 + 4 - 1), 2.5: math.Pi * (7.5*7.5 - 25 + 4)} {
		b, err := Bordered(f, []BorderSpec{{Width: width, Paint: "black", On: OutsideBorder}}, nil)
		require.NoError(t, err)
		for _, r := range tiles(t, b) {
			if r.Colour == "black" {
				assert.InDelta(t, want, r.Outline.Area(), 2e-3)
			}
		}
	}
}
