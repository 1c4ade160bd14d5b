package taping

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts/masks"
	"maskloft/layouts/reading"
	"maskloft/layouts/worked"

	g "maskloft/geometry"
)

// A point on a stringer reads alike from the left and from the right, also from a
// hardpoint off the skin: the part of the tape along the skin is the mean of those in
// the two panels that meet there. The panels by hand, from the sections of the demo at
// FS 120 and 240: S2 (13, 65) to (1.5, 60), S3 (14.25, 57.5) to (1.625, 57.5), S4 (14.5,
// 50) to (1.625, 55).
func TestTapeToACreaseReadsAlikeOnBothSides(t *testing.T) {
	text, err := reading.Starter("")
	require.NoError(t, err)
	text = strings.Replace(text, "fs: 134, wl: 51}", "fs: 134, wl: 57.5}", 1)
	text = strings.Replace(text, "  hardpoints:\n", "  hardpoints:\n    - {id: P9, name: strut bolt, side: both, fs: 120, bl: 60, wl: 85}\n", 1)
	w := worked.Worked(t, "crease", worked.LayoutOf(t, text))
	left, right := taperOf(w, 0), taperOf(w, 1)
	bearing := func(tiling int, tp *taper) g.Vec {
		for _, s := range w.Tilings[tiling].Spots() {
			if s.Role != masks.Centre {
				continue
			}
			for _, tape := range tp.tape(s.Mark).tapes {
				if tape.From.ID == "P9" {
					require.Equal(t, Straight, tape.Kind)
					return tape.Bearing
				}
			}
		}
		require.FailNow(t, "no tape from P9")
		return g.Vec{}
	}
	a, b := bearing(0, left), bearing(1, right)
	require.InDelta(t, a.X, -b.X, 1e-4)
	require.InDelta(t, a.Y, b.Y, 1e-4)

	at := func(bl0, wl0, bl1, wl1 float64) g.Vec3 {
		k := (134.0 - 120) / 120
		return g.Vec3{X: 134, Y: bl0 + (bl1-bl0)*k, Z: wl0 + (wl1-wl0)*k}
	}
	s2, s3, s4 := at(13, 65, 1.5, 60), at(14.25, 57.5, 1.625, 57.5), at(14.5, 50, 1.625, 55)
	line := g.Vec3{X: 120, Y: 1.625 - 14.25}.Unit()
	across := func(v g.Vec3) g.Vec3 { return v.Sub(line.Scale(v.Dot(line))).Unit() }
	d := g.Vec3{X: 120, Y: 60, Z: 85}.Sub(s3).Unit()
	want := math.Hypot(d.Dot(line), (d.Dot(across(s2.Sub(s3)))+d.Dot(across(s3.Sub(s4))))/2)
	require.InDelta(t, want, a.Norm(), 2e-3)
}

// Two tapes that run within ten degrees of one another place nothing: their arcs touch
// over more than five times their width, 1/sin 10 = 5.8.
func TestTapesThatHardlyCrossAreNoPair(t *testing.T) {
	along := func(degrees float64) Taping {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return Taping{Kind: OnSkin, Length: 40, Bearing: g.Vec{X: cos, Y: sin}}
	}
	for degrees, pair := range map[float64]bool{0: false, 9: false, 11: true, 90: true, 169: true, 171: false, 180: false} {
		_, _, ok := pairOf([]Taping{along(20), along(20 + degrees)})
		require.Equal(t, pair, ok, "%v degrees", degrees)
	}
	a, b, ok := pairOf([]Taping{along(0), along(5), along(60)})
	require.True(t, ok)
	require.NotEqual(t, [2]int{0, 1}, [2]int{a, b})
}
