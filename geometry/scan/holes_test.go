package scan

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/geometry/skin"

	g "maskloft/geometry"
)

func (s *Scan) without(drop func(mid g.Vec3) bool) *Scan {
	out := &Scan{Vertices: s.Vertices, placed: s.placed}
	for _, t := range s.Triangles {
		if !drop(s.Vertices[t[0]].Add(s.Vertices[t[1]]).Add(s.Vertices[t[2]]).Scale(1.0 / 3)) {
			out.Triangles = append(out.Triangles, t)
		}
	}
	return out
}

func TestScanSkinHoles(t *testing.T) {
	b := barrel{30, 200, 80}
	t.Run("hole in the left side", func(t *testing.T) {
		hole := func(p g.Vec3) bool { return p.Y < 0 && math.Hypot(p.X-10, p.Z-5) < 9 }
		k, report := scanSkin(t, scanOf(b, 101, 100, 0, 3).without(hole))
		require.Len(t, report.Gaps, 1)
		gap := report.Gaps[0]
		require.Equal(t, report.Missing, gap.Rays)
		require.InDelta(t, math.Pi*81/float64(report.StationStep)/(2*math.Pi*30/float64(report.Angles)), gap.Rays, 0.15*float64(gap.Rays))
		require.InDelta(t, 1, gap.From.Inches(), 2)
		require.InDelta(t, 19, gap.To.Inches(), 2)
		require.InDelta(t, 0, float64(gap.Centre.To(g.Position{FS: 10, BL: -29.3, WL: 5})), 1.0)
		for u := -20.0; u < 40; u += 1.3 {
			for v := -3.1; v < 0; v += 0.037 {
				p := skin.PointAt(b, skin.UV{U: u, V: v})
				far := math.Hypot(p.X-10, p.Z-5)
				if far < 6 {
					require.False(t, k.Contains(skin.UV{U: u, V: v}))
				}
				if far > 14 {
					require.True(t, k.Contains(skin.UV{U: u, V: v}))
				}
			}
		}
		uv, err := skin.LocateSide(k, g.Left, g.SidePosition{FS: 10, WL: 5})
		require.NoError(t, err)
		_, err = skin.Flatten(t.Context(), k, skin.Frame{At: uv, Up: g.Vec3{Z: 1}}, box(4, 4), box(4, 4), 1e-3)
		require.ErrorContains(t, err, "lies off the surface")
		skin, _ := scanError(k, b, -79, 79)
		require.Less(t, skin, 0.01, "up to the rim")
		t.Logf("worst beside the hole %.1e in, residual %v", skin, report.Residual)
	})
	t.Run("right side only", func(t *testing.T) {
		k, report := scanSkin(t, scanOf(b, 101, 100, 0.2, 3).without(func(p g.Vec3) bool { return p.Y < -2 }))
		require.Len(t, report.Gaps, 1)
		require.False(t, k.Contains(k.uvOf(g.Vec3{X: 0, Y: -29, Z: 5})))
		require.True(t, k.Contains(k.uvOf(g.Vec3{X: 0, Y: 29, Z: 5})))
		for u := -75.0; u < 76; u += 3.1 {
			r := math.Sqrt(200*200-u*u) - 170
			for z := -0.85 * r; z < 0.86*r; z += r / 11 {
				uv, err := skin.LocateSide(k, g.Right, g.SidePosition{FS: g.Station(u), WL: g.Waterline(z)})
				require.NoError(t, err)
				p := skin.PointAt(k, uv)
				require.InDelta(t, r, math.Hypot(p.Y, p.Z), 0.006)
			}
		}
	})
}

func TestScanSkinReports(t *testing.T) {
	t.Run("two walls", func(t *testing.T) {
		b := barrel{30, 200, 80}
		s := scanOf(b, 81, 80, 0, 3)
		inner := scanOf(barrel{26, 200, 80}, 81, 80, 0, 3).without(func(p g.Vec3) bool { return p.X < 20 })
		n := int32(len(s.Vertices))
		s.Vertices = append(s.Vertices, inner.Vertices...)
		for _, c := range inner.Triangles {
			s.Triangles = append(s.Triangles, [3]int32{c[0] + n, c[2] + n, c[1] + n})
		}
		k, report := scanSkin(t, s)
		require.Len(t, report.Overlaps, 1)
		require.InDelta(t, 20, report.Overlaps[0].From.Inches(), 2.5)
		require.InDelta(t, 80, report.Overlaps[0].To.Inches(), 0.1)
		require.InDelta(t, report.Angles*report.Stations*60/160, report.Overlaps[0].Rays, 0.05*float64(report.Overlaps[0].Rays))
		gap, _ := scanError(k, b, -79, 79)
		require.Less(t, gap, 1e-3, "the outer wall is taken")
		require.Less(t, float64(report.Residual), 1e-3, "the inner wall is left out of the residual")
	})
	t.Run("sharp edges", func(t *testing.T) {
		// a square tube of 40 in: its corners are rounded over about one step
		square := scanTube(61, 160, func(i, j int) g.Vec3 {
			w, side := float64(j%40)-20, j/40
			p := [4]g.Vec3{{Y: w, Z: 20}, {Y: 20, Z: -w}, {Y: -w, Z: -20}, {Y: -20, Z: w}}[side]
			p.X = float64(i) * 2
			return p
		})
		k, report := scanSkin(t, square)
		t.Logf("edges off by %v at %v, rms %v", report.Residual, report.ResidualAt, report.RMS)
		require.Greater(t, float64(report.Residual), 0.05)
		require.Less(t, float64(report.Residual), 1.0)
		require.InDelta(t, 20, math.Abs(report.ResidualAt.BL.Inches()), 1.1)
		require.InDelta(t, 20, math.Abs(report.ResidualAt.WL.Inches()), 1.1)
		for w := -10.0; w <= 10; w++ {
			p := skin.PointAt(k, k.uvOf(g.Vec3{X: 33.3, Y: 20, Z: w}))
			require.InDelta(t, 20, p.Y, 1e-3, "10 in from the edges the walls are flat")
		}
	})
	t.Run("blunt nose", func(t *testing.T) {
		// a spheroid 60 in long, 30 in across, closed at both ends
		r := func(u float64) float64 { return 15 * math.Sqrt(math.Max(0, 1-u*u/900)) }
		s := scanTube(121, 90, func(i, j int) g.Vec3 {
			u := -30 * math.Cos(math.Pi*float64(i)/120)
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / 90)
			return g.Vec3{X: u, Y: r(u) * sin, Z: r(u) * cos}
		})
		clean, cleaned, err := s.Clean(1e-9)
		require.NoError(t, err)
		require.Empty(t, cleaned.Holes)
		require.InDelta(t, 4*math.Pi*15*15*30/3, clean.volume(), 30)
		k, report := scanSkin(t, clean)
		require.Len(t, report.Steep, 2)
		for u := -27.0; u <= 27; u += 0.9 {
			for v := -3.0; v < 3; v += 0.3 {
				require.True(t, k.Contains(skin.UV{U: u, V: v}))
				p := skin.PointAt(k, skin.UV{U: u, V: v})
				require.InDelta(t, r(u), math.Hypot(p.Y, p.Z), 5e-3, "FS %g", u)
			}
		}
		require.False(t, k.Contains(skin.UV{U: -29.95, V: 0}))
		t.Logf("residual %v at %v", report.Residual, report.ResidualAt)
	})
}
