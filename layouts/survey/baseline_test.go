package survey

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts/masks"
	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/layouts"
)

const coneLettering = `
name: t
units: in
aircraft:
  name: cone
  datum: FS 0 fore, WL 0 axis
  surfaces: [{id: cone, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 120, radius: 10, wl: 0}]}]
  hardpoints:
    - {id: P1, name: fore, side: both, fs: 0, bl: 30, wl: 0}
    - {id: P2, name: aft, side: both, fs: 120, bl: 10, wl: 0}
markings:
  - id: m
    figure: {text: HIIIIIIIIH, alphabet: block-6x4, height: 4, gap: 6}
    where: {surface: cone, side: SIDE, fs: 20, wl: 10, hold: HOLD, baseline: BASE}
    colours: {text: black}
film: {longest: 200}
paint: {order: [black], colours: {black: {name: black, hex: "#000000"}}}
`

func lettering(t *testing.T, side, hold, base string) (masks.Laid, []layouts.Finding) {
	t.Helper()
	text := strings.NewReplacer("SIDE", side, "HOLD", hold, "BASE", base).Replace(coneLettering)
	laid := worked.LaidOf(t, text)
	require.Len(t, laid, 1)
	return laid[0], Inspect(laid)
}

// On the cone of radius 30 to 10 over 120 in, a line that starts level at FS 20,
// WL 10 and runs straight along the skin is 0.070771717 in low after 40 in (check
// value: unrolling, closed form): WL 9.929228283. Lettering about as long, held at
// its fore end, says so; along the waterline its middle line stays at WL 10.
func TestBaselines(t *testing.T) {
	for _, side := range []string{"left", "right"} {
		straight, findings := lettering(t, side, "fore", "straight")
		x := 40 * straight.Placement.Side.Reading() // aft
		pos, ok := straight.Map.PositionOf(g.Point{X: x})
		require.True(t, ok)
		require.InDelta(t, 9.929228283, pos.WL.Inches(), 2e-5)
		found := false
		for _, f := range findings {
			if f.Rule == "two-baselines" {
				found = true
				require.Equal(t, layouts.Note, f.Level)
			}
		}
		require.True(t, found, "the difference is told")

		along, _ := lettering(t, side, "fore", "waterline")
		require.LessOrEqual(t, along.Deviation, g.NetTolerance)
		// letters keep their area and stand square to the waterline
		require.InEpsilon(t, straight.Painted.Area(), along.Painted.Area(), 2e-3)
		// its middle line is on WL 10
		box := along.Placement.Figure.Bounds()
		curve, err := masks.WaterlineInFlat(along.Placement, along.Map, box.Min.X, box.Max.X)
		require.NoError(t, err)
		for x := box.Min.X; x <= box.Max.X; x += 3.7 {
			q, _ := curve.At(x)
			pos, ok := along.Map.PositionOf(q)
			require.True(t, ok)
			require.InDelta(t, 10, pos.WL.Inches(), 1e-5)
		}
		require.Greater(t, math.Abs(along.Regions[0].Outline.Bounds().Max.Y-straight.Regions[0].Outline.Bounds().Max.Y), 0.03)
	}
}
