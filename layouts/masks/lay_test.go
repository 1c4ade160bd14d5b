package masks

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/reading"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// What is painted is the drawing: the silhouette of the figure's layers, where
// the drawing is true along the skin.
func TestPaintedIsTheDrawing(t *testing.T) {
	for _, w := range demoAndLessons(t) {
		for _, l := range w.laid {
			if l.Placement.Marking.True != "skin" || l.Placement.Drawn != nil { // what follows the skin is fitted
				continue
			}
			drawn := g.Path(nil)
			var err error
			for _, layer := range l.Placement.Figure.Layers {
				drawn, err = g.Union(drawn, layer.Outline)
				require.NoError(t, err)
			}
			assert.Less(t, difference(t, drawn, l.Painted), 1e-6*drawn.Area(), "%s %s", w.name, l.ID())
			assert.Zero(t, l.Deviation, "the drawing itself is cut: nothing was fitted")
		}
	}
}

// The field of a mask leaves its width round its own paint on every side, and is a
// whole number of eighths wide and high. The width is that of the layout, or less where
// that takes fewer tiles, never below the least.
func TestFieldAroundPaint(t *testing.T) {
	for _, w := range demoAndLessons(t) {
		film := w.layout.Spec.Film
		for _, l := range w.laid {
			for _, m := range l.Masks {
				if len(l.Bare) > 0 { // film on one side of a line has no paint within it
					continue
				}
				b, f, margin := m.EdgeOfPaint().Bounds(), m.Field, m.FieldWidth.Inches()
				for _, d := range []float64{b.Min.X - f.Min.X, b.Min.Y - f.Min.Y, f.Max.X - b.Max.X, f.Max.Y - b.Max.Y} {
					assert.GreaterOrEqual(t, d, margin-1e-9, m.ID)
					assert.Less(t, d, margin+1.0/16+1e-6, m.ID)
				}
				for _, v := range []float64{f.Width(), f.Height()} {
					assert.InDelta(t, math.Round(v*8)/8, v, 1e-9, m.ID)
				}
				assert.GreaterOrEqual(t, m.FieldWidth, film.Least, m.ID)
				if m.FieldWidth < film.Field {
					assert.Less(t, tilesOver(f, film), tilesOver(fieldAround(b, film.Field.Inches()), film), m.ID)
				}
				assert.Equal(t, l.Field, l.Field.Union(f), m.ID)
			}
		}
	}
}

func TestPassesInTheOrderOfSpraying(t *testing.T) {
	const layout = `
name: order
units: in
aircraft: slab.yaml
markings:
  - id: roundel
    figure: {discs: [{diameter: 12, colour: blue}, {diameter: 8, colour: white}, {diameter: 4, colour: red}]}
    where: {surface: slab, side: left, fs: 60, wl: 30}
paint:
  order: ORDER
  colours: {white: {hex: "#ffffff"}, blue: {hex: "#172035"}, red: {hex: "#9B0A18"}}
`
	areas := map[string]float64{"blue": math.Pi * (36 - 16), "white": math.Pi * (16 - 4), "red": math.Pi * 4}
	for _, order := range []string{"white blue red", "red white blue", "blue red white"} {
		names := strings.Fields(order)
		laid := laidOf(t, strings.Replace(layout, "ORDER", "["+strings.Join(names, ", ")+"]", 1))
		require.Len(t, laid, 1)
		require.Len(t, laid[0].Masks, 3)
		for i, m := range laid[0].Masks {
			assert.Equal(t, i+1, m.Pass)
			assert.Equal(t, names[i], m.Paint)
			assert.Equal(t, "roundel-left-pass-"+string(rune('1'+i))+"-"+names[i], m.ID)
			assert.InEpsilon(t, areas[names[i]], m.Shows.Area(), 1e-5, names[i])
		}
	}
}

// A chevron points to the nose on both sides: the right film is the left one in
// a mirror.
func TestHandedFilmIsMirrored(t *testing.T) {
	w := demo(t)
	left, right := find(t, w.laid, "insignia-left"), find(t, w.laid, "insignia-right")
	require.Len(t, right.Masks, len(left.Masks))
	for i, m := range left.Masks {
		assert.Equal(t, m.Paint, right.Masks[i].Paint)
		assert.Less(t, difference(t, mirrored(m.Opening), right.Masks[i].Opening), 1e-6, m.ID)
		assert.Less(t, difference(t, mirrored(m.Film), right.Masks[i].Film), 1e-6, m.ID)
		assert.Greater(t, difference(t, m.Opening, right.Masks[i].Opening), 1.0, "%s is not the same on both sides", m.ID)
	}

	// on the skin the chevron, alone in its paint, has its point to the nose
	for _, l := range []Laid{left, right} {
		chevron := l.Masks[1]
		require.Equal(t, "orange-yellow", chevron.Paint)
		fore, aft := g.Point{}, g.Point{}
		foremost, aftmost := math.Inf(1), math.Inf(-1)
		for _, q := range points(chevron.Shows, 8) {
			pos, ok := l.Map.PositionOf(q)
			require.True(t, ok)
			if fs := pos.FS.Inches(); fs < foremost {
				foremost, fore = fs, q
			}
			if fs := pos.FS.Inches(); fs > aftmost {
				aftmost, aft = fs, q
			}
		}
		assert.InDelta(t, 0, fore.Y, 1e-9, "%s: the foremost point of the chevron is its tip", l.ID())
		assert.InDelta(t, -3.2*l.Placement.Side.Reading(), fore.X, 1e-9, l.ID())
		assert.Greater(t, math.Abs(aft.Y), 5.0, "%s: its arms end aft", l.ID())
	}
}

// Text reads left to right on both sides: one film serves both, and its first
// letter stands at the nose on the left side, at the tail on the right.
func TestTextIsNeverMirrored(t *testing.T) {
	for _, truth := range []string{"skin", "side"} {
		laid := laidOf(t, `
name: letters
aircraft: slab.yaml
markings:
  - id: letters
    figure: {text: LR4, alphabet: block-6x4, height: 12}
    where: {surface: slab, side: both, fs: 60, wl: 30}
    true: `+truth+`
    colours: {text: white}
`+common)
		require.Len(t, laid, 2)
		left, right := laid[0].Masks[0], laid[1].Masks[0]
		assert.Less(t, difference(t, left.Opening, right.Opening), 1e-6, "true: %s", truth)
		assert.Greater(t, difference(t, mirrored(left.Opening), right.Opening), 20.0, "the letters are not symmetric")
		for _, l := range laid {
			b := l.Masks[0].Opening.Bounds()
			inside := func(x, y float64) bool {
				return l.Masks[0].Opening.Contains(g.Point{X: b.Min.X + x, Y: b.Min.Y + y}, g.FlattenTolerance)
			}
			// cells of 2 in: L is 8 wide, then a gap of 2, R, a gap and 4
			assert.True(t, inside(1, 6) && inside(5, 1), "%s: L has its stem at the reader's left", l.ID())
			assert.False(t, inside(7, 6) || inside(5, 11), "%s: L has nothing at the upper right", l.ID())
			assert.True(t, inside(11, 6) && inside(11, 1), "%s: R has its stem at the reader's left", l.ID())
			assert.True(t, inside(26, 1), "%s: 4 has its stem at the reader's right", l.ID())
			assert.False(t, inside(22, 1), "%s: 4 has nothing at the lower left", l.ID())

			first, ok := l.Map.PositionOf(g.Point{X: b.Min.X, Y: 0})
			require.True(t, ok)
			last, ok := l.Map.PositionOf(g.Point{X: b.Max.X, Y: 0})
			require.True(t, ok)
			assert.InDelta(t, 28*l.Placement.Side.Reading(), float64(last.FS-first.FS), 1e-6, "%s reads aft on the left, forward on the right", l.ID())
			up, ok := l.Map.PositionOf(g.Point{X: 0, Y: 5})
			require.True(t, ok)
			assert.InDelta(t, 35, up.WL.Inches(), 1e-6, "up is up")
		}
	}
}

// A drawing leans aft by its angle on both sides.
func TestAngleLeansAft(t *testing.T) {
	for _, truth := range []string{"skin", "side"} {
		for _, l := range laidOf(t, `
name: leaning
aircraft: slab.yaml
markings:
  - id: bar
    figure: {text: "1", alphabet: block-6x4, height: 12}
    where: {surface: slab, side: both, fs: 60, wl: 30, angle: 20 deg}
    true: `+truth+`
    colours: {text: white}
`+common) {
			var top g.Position
			for _, q := range points(l.Painted, 8) {
				pos, ok := l.Map.PositionOf(q)
				require.True(t, ok)
				if pos.WL > top.WL {
					top = pos
				}
			}
			// half a bar of 12 x 2 leans by 20 degrees: its top corner (derived)
			sin, cos := math.Sincos(20 * math.Pi / 180)
			assert.InDelta(t, 30+6*cos+1*sin, top.WL.Inches(), 1e-3, "%s true: %s", l.ID(), truth)
			assert.InDelta(t, 60+6*sin-1*cos, top.FS.Inches(), 1e-3, "%s true: %s", l.ID(), truth)
		}
	}
}

// Laying twice, on as many goroutines as there are, gives the same bytes.
func TestLayIsRepeatable(t *testing.T) {
	first := demo(t)
	again, findings := lay(t, first.layout)
	require.Len(t, again, len(first.laid))
	for i, l := range again {
		assert.Equal(t, first.laid[i].Masks, l.Masks)
		assert.Equal(t, first.laid[i].Strain, l.Strain)
		assert.Equal(t, first.laid[i].Field, l.Field)
	}
	assert.ElementsMatch(t, findings, first.findings[:len(findings)])
}

// Errors say which marking, and where in the file it stands.
func TestLayErrorNamesTheMarking(t *testing.T) {
	l := layoutOf(t, `
name: too high
aircraft: round.yaml
markings:
  - id: disc
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: cylinder, side: right, fs: 60, wl: 25}
    true: side
`+common)
	laid, missing := layAll(t, l, g.NetTolerance)
	require.Empty(t, laid)
	require.Len(t, missing, 1)
	require.Equal(t, "disc-right", missing[0].Marking)
	require.Contains(t, missing[0].Message, "layout.yaml:5:5: ")
	require.Contains(t, missing[0].Message, "WL 30")
}

// A figure too small for the plane's tolerances leaves nothing to paint: an error at
// the marking, where letters of 0.0001 in ended in a panic.
func TestNothingLeftToPaint(t *testing.T) {
	spec, err := reading.LoadFS(reading.DemoFiles(), reading.DemoName)
	require.NoError(t, err)
	spec.Markings[1].Figure.Height = 1e-4
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	_, missing := layAll(t, l, g.NetTolerance)
	require.NotEmpty(t, missing)
	require.Equal(t, layouts.MissingRule, missing[0].Rule)
	require.Contains(t, missing[0].Message, "nothing of it is left to paint")
	require.Contains(t, missing[0].Message, spec.Markings[1].Place.String())
}
