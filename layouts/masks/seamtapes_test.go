package masks

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// The finishing tapes of the demo lie, carried into the flat, along their stringers:
// a point of the middle of a band is on the named line, its edges half the tape's
// width from it along the skin, on both sides.
func TestTapesUnderTheFilm(t *testing.T) {
	w := demo(t)
	// film from about WL 39.5 to 62.5: S3 to S5 pass all along under it, S6, which is at
	// WL 38.9 at FS 145, has its middle line below its corner, S2 at WL 63.8 there is clear
	for id, want := range map[string]int{"insignia-left": 3, "insignia-right": 3, "tail-number-left": 0} {
		l := find(t, w.laid, id)
		tapes := finishingTapes(w.layout.Spec.Aircraft, l)
		bands := 0
		for _, o := range w.layout.Spec.Aircraft.Obstacles {
			if o.Kind != layouts.FinishingTape || o.Surface != l.Placement.On {
				continue
			}
			// line Sk is line k of the skin: the demo's lines are T, S1 to S6, B
			k := float64(o.ID[len(o.ID)-1] - '0')
			for _, band := range tapes {
				on := 0
				for _, quad := range band {
					a, b := quad.From(0).Lerp(quad.From(3), 0.5), quad.From(1).Lerp(quad.From(2), 0.5)
					uv, ok := l.Map.ToSkin(a.Lerp(b, 0.5))
					if !ok {
						continue
					}
					// V counts down the right side, and up the left one to 14
					v := uv.V
					if l.Placement.Side == g.Left {
						v = math.Mod(28-v, 14)
					}
					if math.Abs(v-k) > 0.01 {
						continue
					}
					on++
					edge, ok := l.Map.ToSkin(quad.From(0).Lerp(quad.From(1), 0.5))
					require.True(t, ok)
					assert.InDelta(t, o.Size.Inches()/2, skin.Girth(l.Placement.Surface, g.Station(uv.U), uv.V, edge.V).Inches(), 0.02, "%s %s", id, o.ID)
				}
				if on > 0 {
					assert.Equal(t, k < 6, on > 8, "%s: %d pieces", o.ID, on)
					bands++
				}
			}
		}
		assert.Equal(t, want, bands, id)
	}
	// a tape round FS 120 lies under film that reaches there, upright in the flat
	l := find(t, w.laid, "insignia-left")
	round := finishingTapes(layouts.AircraftSpec{Obstacles: []layouts.ObstacleSpec{
		{Kind: layouts.Around, Surface: "fuselage", Side: layouts.BothSides, At: g.SidePosition{FS: 125}, Size: 4},
	}}, l)
	require.Len(t, round, 1)
	b := round[0].Bounds()
	assert.InDelta(t, 4, b.Width(), 0.5)
	assert.InDelta(t, -9, b.Centre().X, 0.3, "FS 125, 9 in forward of the anchor")
	assert.Empty(t, finishingTapes(layouts.AircraftSpec{Obstacles: []layouts.ObstacleSpec{
		{Kind: layouts.Around, Surface: "fuselage", Side: layouts.RightSide, At: g.SidePosition{FS: 125}, Size: 4},
	}}, l), "the tape of the other side")
}
