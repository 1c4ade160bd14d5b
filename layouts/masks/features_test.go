package masks

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

func parsed(t testing.TB, text string) g.Path {
	t.Helper()
	p, err := g.ParsePath(text)
	require.NoError(t, err)
	return g.Nest(p)
}

// Necks of shapes whose narrowest place is known by construction.
func TestNarrowestNeck(t *testing.T) {
	at := func(x, y float64) g.Point { return g.Point{X: x, Y: y} }
	ring := func(inner g.Point) g.Path { return g.Path{g.Circle(at(0, 0), 3), g.Circle(inner, 2).Reversed()} }
	tip := math.Tan(18 * math.Pi / 180)
	for _, tc := range []struct {
		name  string
		shape g.Path
		want  float64 // 0: none
		x, y  float64
	}{
		{"stroke", parsed(t, "M0 0L8 0L8 0.25L0 0.25Z"), 0.25, 4, 0.125},
		{"two pads and a bridge", parsed(t, "M0 0L4 0L4 1L5 1L5 0L9 0L9 3L5 3L5 1.1L4 1.1L4 3L0 3Z"), 0.1, 0, 0},
		{"two notches, tip to tip", parsed(t, "M0 0L4 0L5 1L6 0L10 0L10 4L6 4L5.3 1.4L4.6 4L0 4Z"), 0.5, 5.15, 1.2},
		{"notch to a straight side", parsed(t, "M0 0L10 0L10 2L6 2L5 0.3L4 2L0 2Z"), 0.3, 5, 0.15},
		{"concentric ring", ring(at(0, 0)), 1, 0, 0},
		{"eccentric ring", ring(at(0.6, 0)), 0.4, 2.8, 0},
		{"slow taper of a stroke", parsed(t, "M0 0L10 0L10 0.4L0 0.6Z"), 0.4, 10, 0.2},
		{"disc", g.Path{g.Circle(at(0, 0), 2)}, 4, 0, 0},
		{"triangle", parsed(t, "M0 0L4 0L2 3Z"), 0, 0, 0},
		{"point of 36 degrees, blunt, over its length", g.Path{g.Polygon(at(0, -4*tip), at(4-0.05, -0.05*tip), at(4-0.05, 0.05*tip), at(0, 4*tip))}, 3.95, 0, 0},
		{"chamfered corner", parsed(t, "M0 0L4 0L4 3.95L3.95 4L0 4Z"), 4 - 0.05, 0, 0},
	} {
		got := narrowestNeck(tc.shape)
		if tc.want == 0 {
			assert.Nil(t, got, tc.name)
			continue
		}
		if !assert.NotNil(t, got, tc.name) {
			continue
		}
		assert.InDelta(t, tc.want, got.Width.Inches(), 0.06*tc.want, tc.name)
		if tc.x != 0 {
			assert.InDelta(t, tc.x, got.At.X, 0.05, tc.name)
			assert.InDelta(t, tc.y, got.At.Y, 0.05, tc.name)
		}
		assert.InDelta(t, got.Width.Inches(), got.From.Dist(got.To), 1e-9, tc.name)
	}
}

// Two arcs that meet in points, as a crescent does, have no neck there; two that
// nearly meet have one.
func TestNeckOfCurves(t *testing.T) {
	disc := g.Path{g.Circle(g.Point{}, 2)}
	crescent, err := g.Subtract(disc, g.Path{g.Circle(g.Point{X: 1}, 2)})
	require.NoError(t, err)
	n := narrowestNeck(crescent)
	if n != nil {
		assert.Greater(t, n.Width.Inches(), 0.9, "the waist of 1 in at most, never a point")
	}
	waist, err := g.Subtract(disc, g.Path{g.Circle(g.Point{X: 2.05}, 2), g.Circle(g.Point{X: -2.05}, 2)})
	require.NoError(t, err)
	n = narrowestNeck(waist)
	require.NotNil(t, n)
	assert.InDelta(t, 0.1, n.Width.Inches(), 0.008, "two chords of tolerance 0.004 in")
	assert.InDelta(t, 0, n.At.Dist(g.Point{}), 0.1)
}

// The width of a piece is that of the narrowest pair of parallels: of a turned
// rectangle its short side, of a triangle its least height, of a disc its diameter.
func TestNarrowestPiece(t *testing.T) {
	turned := g.Path{g.Rectangle(g.Rect{Max: g.Point{X: 3, Y: 0.07}})}.Map(func(p g.Point) g.Point {
		return g.Point{X: 0.8*p.X - 0.6*p.Y, Y: 0.6*p.X + 0.8*p.Y}
	})
	assert.InDelta(t, 0.07, narrowestPiece(turned).Width.Inches(), 1e-9)
	assert.InDelta(t, 2.4, narrowestPiece(parsed(t, "M0 0L3 0L0 4Z")).Width.Inches(), 1e-9, "3, 4, 5: height 12/5")
	assert.InDelta(t, 4, narrowestPiece(g.Path{g.Circle(g.Point{}, 2)}).Width.Inches(), 0.01)
	both := append(parsed(t, "M0 0L3 0L0 4Z"), turned.Moved(g.Vec{X: 10})...)
	assert.InDelta(t, 0.07, narrowestPiece(both).Width.Inches(), 1e-9, "the smaller of two")
	assert.Nil(t, narrowestPiece(nil))
}

// The five points of the star are 36 degrees, are cut to their full depth, and are
// listed; with a trap under the blue too.
func TestStarPointsAreKept(t *testing.T) {
	rule, err := standards.Find("an-i-9a/blue-border")
	require.NoError(t, err)
	fig, err := layouts.InsigniaFigure(rule, 20*g.Inch, nil)
	require.NoError(t, err)
	regions, err := fig.Regions()
	require.NoError(t, err)
	for _, way := range []layouts.PaintWay{layouts.OpenWay, layouts.KeepDownWay} {
		l := planOf(t, regions, sprayed(way, g.Inch/16, "insignia_white", "insignia_blue"))
		var found []AcutePoint
		for _, m := range l.Masks {
			found = append(found, acutePoints(m.Film)...)
		}
		tips := 0
		for k := range 5 {
			sin, cos := math.Sincos((90 + 72*float64(k)) * math.Pi / 180)
			for _, a := range found {
				if a.At.Dist(g.Point{X: 10 * cos, Y: 10 * sin}) < 1e-6 {
					tips++
					assert.InDelta(t, 36, a.Degrees, 1e-6)
					assert.True(t, a.Film, "the film ends in the point")
				}
			}
		}
		want := 5
		if tips != want {
			t.Errorf("%s: %d of the 5 points are cut at their full depth: %v", way, tips, found)
		}
	}
}

// A stroke below 2 mm is found, with its place on the skin; one of 2 mm is not.
func TestSmallFeature(t *testing.T) {
	for width, want := range map[float64]int{1.9 / 25.4: 1, 2.0 / 25.4: 0} {
		l := laidOf(t, fmt.Sprintf(`
name: thin ring
aircraft: slab.yaml
markings:
  - id: ring
    figure: {discs: [{diameter: 6, colour: blue}, {diameter: %.6f, colour: white}]}
    where: {surface: slab, side: left, fs: 60, wl: 30}
`, 6-2*width)+common)[0]
		found := SmallFeatures(l)
		// blue is a ring as wide as that; the trap under it widens the white only
		require.Len(t, found, want, "%.4f in", width)
		if want > 0 {
			f := found[0]
			assert.Equal(t, "small-feature", f.Rule)
			assert.Equal(t, layouts.Warn, f.Level)
			assert.Equal(t, "0.075 in", f.Measured)
			assert.InDelta(t, 3, math.Hypot(f.Where.FS.Inches()-60, f.Where.WL.Inches()-30), 0.1)
		}
	}
}
