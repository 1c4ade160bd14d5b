package scan

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// barrel is a body of revolution whose meridian is a circular arc: radius hoop
// at station 0, curved with radius meridian along the body.
type barrel struct{ hoop, meridian, reach float64 }

func (b barrel) Breaks() (u, v []float64, period float64) {
	return []float64{-b.reach, b.reach}, []float64{-math.Pi, math.Pi}, 2 * math.Pi
}
func (b barrel) Contains(uv skin.UV) bool { return math.Abs(uv.U) <= b.reach+1e-9 }
func (b barrel) At(uv, _ skin.UV) (g.Vec3, g.Vec3) {
	c := math.Sqrt(b.meridian*b.meridian - uv.U*uv.U)
	r := c - b.meridian + b.hoop
	sin, cos := math.Sincos(uv.V)
	return g.Vec3{X: uv.U, Y: r * sin, Z: r * cos}, g.Vec3{X: uv.U / b.meridian, Y: c / b.meridian * sin, Z: c / b.meridian * cos}
}

// round is a body of two circular sections at FS 0 and 120.
func round(t testing.TB, fore, aft g.Length) *skin.RoundSkin {
	s, err := skin.NewRoundSkin([]skin.RoundSection{{FS: 0, Radius: fore}, {FS: 120, Radius: aft}})
	require.NoError(t, err)
	return s
}

func cone30to10(t testing.TB) *skin.RoundSkin { return round(t, 30, 10) }
func cylinder30(t testing.TB) *skin.RoundSkin { return round(t, 30, 30) }

func flattenAt(t testing.TB, s skin.Surface, side g.Side, at g.SidePosition, need g.Rect) *skin.FlatMap {
	t.Helper()
	uv, err := skin.LocateSide(s, side, at)
	require.NoError(t, err)
	f, err := skin.UpAt(s, uv, 0)
	require.NoError(t, err)
	m, err := skin.Flatten(t.Context(), s, f, need, need, g.NetTolerance)
	require.NoError(t, err)
	return m
}

func box(w, h float64) g.Rect {
	return g.Rect{Min: g.Point{X: -w / 2, Y: -h / 2}, Max: g.Point{X: w / 2, Y: h / 2}}
}
