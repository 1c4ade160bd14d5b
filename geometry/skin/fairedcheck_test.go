package skin

import (
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// stencilled returns the derivative of f at 0, to the fourth order.
func stencilled(f func(h float64) g.Vec3) g.Vec3 {
	return f(1).Sub(f(-1)).Scale(8.0 / 12).Sub(f(2).Sub(f(-2)).Scale(1.0 / 12))
}

// checkSurface runs the checks of the surface contract that need no side view.
func checkSurface(t *testing.T, s Surface) {
	t.Helper()
	us, vs, period := s.Breaks()
	require.IsIncreasing(t, us)
	require.IsIncreasing(t, vs)
	if period > 0 {
		require.InDelta(t, period, vs[len(vs)-1]-vs[0], 1e-12)
	}
	for i := 0; i+1 < len(us); i++ {
		for j := 0; j+1 < len(vs); j++ {
			in := UV{(us[i] + us[i+1]) / 2, (vs[j] + vs[j+1]) / 2}
			for _, f := range []float64{0.003, 0.1, 0.3, 0.5, 0.83, 0.997} {
				for _, w := range []float64{0.003, 0.17, 0.5, 0.9, 0.997} {
					uv := UV{us[i] + f*(us[i+1]-us[i]), vs[j] + w*(vs[j+1]-vs[j])}
					p, n := s.At(uv, in)
					require.InDelta(t, uv.U, p.X, 1e-12, "X is the station")
					require.InDelta(t, 1, n.Norm(), 1e-12)
					e, z := 1e-4*(us[i+1]-us[i]), 1e-4*(vs[j+1]-vs[j])
					su := stencilled(func(h float64) g.Vec3 { q, _ := s.At(UV{uv.U + e*h, uv.V}, in); return q })
					sv := stencilled(func(h float64) g.Vec3 { q, _ := s.At(UV{uv.U, uv.V + z*h}, in); return q })
					require.InDelta(t, 0, n.Dot(su.Unit()), 1e-9, "the normal is square to the skin at %v", uv)
					require.InDelta(t, 0, n.Dot(sv.Unit()), 1e-9, "the normal is square to the skin at %v", uv)
					for k := -2.0; k <= 2 && period > 0; k++ {
						q := UV{uv.U, uv.V + k*period}
						pq, nq := s.At(q, q)
						require.InDelta(t, 0, p.Sub(pq).Norm(), 1e-9, "V is periodic")
						require.InDelta(t, 0, n.Sub(nq).Norm(), 1e-9)
					}
				}
			}
			// continuous over the lines on either side, from panel to panel
			for _, e := range []struct{ edge, other UV }{
				{UV{in.U, vs[j+1]}, UV{in.U, vs[j+1] + 1e-6}}, {UV{in.U, vs[j]}, UV{in.U, vs[j] - 1e-6}},
				{UV{us[i+1], in.V}, UV{us[i+1] + 1e-6, in.V}}, {UV{us[i], in.V}, UV{us[i] - 1e-6, in.V}},
			} {
				a, _ := s.At(e.edge, in)
				b, _ := s.At(e.edge, e.other)
				require.InDelta(t, 0, a.Sub(b).Norm(), 1e-9)
			}
			// no hidden crease or jump inside the panel
			for _, walk := range []func(f float64) UV{
				func(f float64) UV { return UV{us[i] + f*(us[i+1]-us[i]), in.V + 0.01} },
				func(f float64) UV { return UV{in.U, vs[j] + f*(vs[j+1]-vs[j])} },
			} {
				const n = 3000
				last := g.Vec3{}
				for k := 0; k <= n; k++ {
					_, m := s.At(walk(float64(k)/n), in)
					if k > 0 { // a full turn spread over the panel would be 0.002
						require.Less(t, m.Sub(last).Norm(), 0.05, "crease at %v", walk(float64(k)/n))
					}
					last = m
				}
			}
		}
	}
}

// checkMarked lays a marking on the side of a surface and walks there and back.
func checkMarked(t *testing.T, s Surface, side g.Side, at g.SidePosition) *FlatMap {
	t.Helper()
	uv, err := LocateSide(s, side, at)
	require.NoError(t, err)
	p, n := s.At(uv, uv)
	require.InDelta(t, at.WL.Inches(), p.Z, 1e-9)
	require.GreaterOrEqual(t, p.Y*side.Sign(), 0.0)
	require.Greater(t, n.Y*side.Sign(), 0.0, "the normal is outward")
	near, gap := Nearest(s, p.Add(n.Scale(1e-3)))
	require.InDelta(t, 1e-3, float64(gap), 5e-4)
	require.InDelta(t, 0, PointAt(s, near).Sub(p).Norm(), 1e-2)
	m := flattenAt(t, s, side, at, box(14, 12))
	up, ok := m.PositionOf(g.Point{Y: 3})
	require.True(t, ok)
	require.Greater(t, up.WL.Inches(), p.Z+1.5)
	right, ok := m.PositionOf(g.Point{X: 3})
	require.True(t, ok)
	require.Greater(t, side.Reading()*(right.FS.Inches()-p.X), 2.5)
	for x := -7.0; x <= 7; x += 3.5 {
		for y := -6.0; y <= 6; y += 3 {
			uv, ok := m.ToSkin(g.Point{X: x, Y: y})
			require.True(t, ok)
			back, ok := m.ToFlat(uv)
			require.True(t, ok)
			require.InDelta(t, 0, back.Dist(g.Point{X: x, Y: y}), 1e-8)
		}
	}
	a, _ := m.ToSkin(g.Point{X: -6, Y: -4})
	b, _ := m.ToSkin(g.Point{X: 5, Y: 5})
	ab, err := Tape(s, a, b, 1e-3)
	require.NoError(t, err)
	ba, err := Tape(s, b, a, 1e-3)
	require.NoError(t, err)
	require.InDelta(t, float64(ab.Length), float64(ba.Length), 2e-3)
	require.GreaterOrEqual(t, float64(ab.Length), PointAt(s, a).Sub(PointAt(s, b)).Norm()-1e-3)
	return m
}
