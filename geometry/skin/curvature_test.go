package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// Closed forms: 1/R^2 on a sphere; 0 on a cylinder, a cone and a plate; on a body
// of revolution r(x), with r1 and r2 the derivatives of r, K = -r2 / (r (1 +
// r1^2)^2) (do Carmo, section 3-3, example 4; from memory).
func TestGaussianCurvature(t *testing.T) {
	revolved := func(r, r1, r2 float64) float64 { return -r2 / (r * math.Pow(1+r1*r1, 2)) }
	sphere := barrel{30, 30, 29}
	ball := spheroid{30, 90}
	for _, c := range []struct {
		name string
		s    Surface
		at   UV
		want float64
	}{
		{"sphere, waist", sphere, UV{0, 1}, 1.0 / 900},
		{"sphere, near its pole", sphere, UV{20, -2}, 1.0 / 900},
		{"cylinder", cylinder30(t), UV{50, 1}, 0},
		{"cone", cone30to10(t), UV{50, 1}, 0},
		{"plate", plate(t, g.Left), UV{230, 78}, 0},
		{"barrel, waist", barrel{30, 200, 80}, UV{0, 0.3}, 1.0 / 6000},
		{"barrel, aside", barrel{30, 200, 80}, UV{60, 0.3}, math.Sqrt(1-0.09) / (200 * (math.Sqrt(200*200-3600) - 170))},
		{"spheroid, equator", ball, UV{0, 1}, 1.0 / (90 * 90)},
		{"spheroid, aside", ball, UV{45, 1}, revolved(30*math.Sqrt(0.75), -30*45/(8100*math.Sqrt(0.75)), -30/(8100*math.Pow(0.75, 1.5)))},
		{"saddle, waist", saddle{20, 100}, UV{0, 1}, -1.0 / 2000},
		{"saddle, aside", saddle{20, 100}, UV{5, 2}, revolved(20+100-math.Sqrt(100*100-25), 5/math.Sqrt(9975), 10000/math.Pow(9975, 1.5))},
	} {
		require.InDelta(t, c.want, GaussianCurvature(c.s, c.at), 1e-9+1e-6*math.Abs(c.want), c.name)
	}
}

// saddle is a body of revolution with a waist: hoop is the least radius, and the
// meridian is an arc that bends away from the axis.
type saddle struct{ hoop, meridian float64 }

func (s saddle) Breaks() (u, v []float64, period float64) {
	return []float64{-40, 40}, []float64{-math.Pi, math.Pi}, 2 * math.Pi
}
func (s saddle) Contains(uv UV) bool { return math.Abs(uv.U) <= 40 }
func (s saddle) At(uv, _ UV) (g.Vec3, g.Vec3) {
	c := math.Sqrt(s.meridian*s.meridian - uv.U*uv.U)
	r := s.hoop + s.meridian - c
	sin, cos := math.Sincos(uv.V)
	return g.Vec3{X: uv.U, Y: r * sin, Z: r * cos}, g.Vec3{X: -uv.U / s.meridian, Y: c / s.meridian * sin, Z: c / s.meridian * cos}
}

// The local strain is that of the peaks, and its direction is that in which the
// film is squeezed: at the edge of a disc on a bulge, along the edge.
func TestStrainAt(t *testing.T) {
	m := flattenAt(t, barrel{30, 30, 29}, g.Left, g.SidePosition{FS: 0, WL: 0}, box(24, 24))
	peak := m.Strain(box(24, 24))
	for _, c := range []struct {
		at   g.Point
		want float64
	}{{peak.CompressionFlat, -peak.Compression}, {peak.TensionFlat, peak.Tension}} {
		s, ok := m.StrainAt(c.at)
		require.True(t, ok)
		got := s.Most
		if c.want < 0 {
			got = s.Least
		}
		require.InDelta(t, c.want, got, 1e-9)
		pos, ok := m.PositionOf(c.at)
		require.True(t, ok)
		want := peak.TensionAt
		if c.want < 0 {
			want = peak.CompressionAt
		}
		require.InDelta(t, 0, float64(pos.To(want)), 1e-9)
	}
	s, ok := m.StrainAt(g.Point{X: 12})
	require.True(t, ok)
	require.Less(t, s.Least, -0.001)
	require.InDelta(t, 1, math.Abs(s.Squeeze.Y), 1e-3)
	_, ok = m.StrainAt(g.Point{X: 500})
	require.False(t, ok)
}
