package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// cone30to10 is the cone of radius 30 to 10 over 120 in.
func cone30to10(t testing.TB) *RoundSkin {
	s, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: 30}, {FS: 120, Radius: 10}})
	require.NoError(t, err)
	return s
}

func cylinder30(t testing.TB) *RoundSkin {
	s, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: 30}, {FS: 120, Radius: 30}})
	require.NoError(t, err)
	return s
}

func flattenAt(t testing.TB, s Surface, side g.Side, at g.SidePosition, need g.Rect) *FlatMap {
	t.Helper()
	uv, err := LocateSide(s, side, at)
	require.NoError(t, err)
	f, err := UpAt(s, uv, 0)
	require.NoError(t, err)
	m, err := Flatten(t.Context(), s, f, need, need, g.NetTolerance)
	require.NoError(t, err)
	return m
}

func box(w, h float64) g.Rect {
	return g.Rect{Min: g.Point{X: -w / 2, Y: -h / 2}, Max: g.Point{X: w / 2, Y: h / 2}}
}

// Lengths on the flat of a cylinder and a cone against closed forms
// (parallel-line and radial-line development, any drafting text).
func TestFlatOfDevelopables(t *testing.T) {
	t.Run("cylinder girth", func(t *testing.T) {
		// z from the axis to girth: 30 asin(z/30). Derived.
		s := cylinder30(t)
		m := flattenAt(t, s, g.Left, g.SidePosition{FS: 60, WL: 0}, box(40, 50))
		require.True(t, m.Strain(box(40, 50)).Exact(g.ExactStrain))
		for _, c := range []struct{ wl, girth float64 }{
			{5, 5.02344237659068}, {10, 10.1951072836237}, {15, 15.707963267949}, {20, 21.891829686809},
		} {
			uv, err := LocateSide(s, g.Left, g.SidePosition{FS: 70, WL: g.Waterline(c.wl)})
			require.NoError(t, err)
			p, ok := m.ToFlat(uv)
			require.True(t, ok)
			require.InEpsilon(t, c.girth, p.Y, 1e-6)
			require.InDelta(t, 10, p.X, 1e-5) // left side: aft is to the reader's right
		}
	})
	t.Run("cone", func(t *testing.T) {
		// Frustum: apex at slant R/sin; a point at slant l, angle phi round the
		// axis develops to polar (l, phi sin(half-angle)). Radial-line development.
		s := cone30to10(t)
		sin := 20 / math.Hypot(20, 120)
		for _, side := range []g.Side{g.Left, g.Right} {
			m := flattenAt(t, s, side, g.SidePosition{FS: 50, WL: 5}, box(40, 30))
			strain := m.Strain(box(40, 30))
			require.True(t, strain.Exact(g.ExactStrain), "%+v", strain)
			polar := func(uv UV) g.Point {
				r := 30 - uv.U/6
				a := uv.V * sin
				return g.Point{X: r / sin * math.Cos(a), Y: r / sin * math.Sin(a)}
			}
			var uvs []UV
			var flat []g.Point
			for _, fs := range []float64{35, 42.3, 50, 66} {
				for _, wl := range []float64{-6, 0.7, 5, 14} {
					uv, err := LocateSide(s, side, g.SidePosition{FS: g.Station(fs), WL: g.Waterline(wl)})
					require.NoError(t, err)
					p, ok := m.ToFlat(uv)
					require.True(t, ok)
					uvs, flat = append(uvs, uv), append(flat, p)
					back, ok := m.ToSkin(p)
					require.True(t, ok)
					require.Less(t, PointAt(s, back).Sub(PointAt(s, uv)).Norm(), 1e-7)
				}
			}
			for i := range uvs {
				for j := 0; j < i; j++ {
					require.InEpsilon(t, polar(uvs[i]).Dist(polar(uvs[j])), flat[i].Dist(flat[j]), 1e-6)
				}
			}
		}
	})
	t.Run("straight line started level on the cone", func(t *testing.T) {
		// Cone 30 to 10 over 120: the geodesic that starts level at FS 20, WL 10 is
		// after 40 in at WL 9.929228283346, FS 59.340388627036 (unrolling, closed form).
		m := flattenAt(t, cone30to10(t), g.Left, g.SidePosition{FS: 20, WL: 10}, g.Rect{Min: g.Point{X: -2, Y: -4}, Max: g.Point{X: 42, Y: 4}})
		// the drawing's right is the waterline's direction in the skin there
		pos, ok := m.PositionOf(g.Point{X: 40})
		require.True(t, ok)
		require.InDelta(t, 9.929228283346, pos.WL.Inches(), 2e-5)
		require.InDelta(t, 59.340388627036, pos.FS.Inches(), 2e-5)
	})
}
