package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// barrel is a body of revolution whose meridian is a circular arc: radius hoop
// at station 0, curved with radius meridian along the body. A doubly curved
// referee; with meridian = hoop it is a sphere.
type barrel struct{ hoop, meridian, reach float64 }

func (b barrel) Breaks() (u, v []float64, period float64) {
	return []float64{-b.reach, b.reach}, []float64{-math.Pi, math.Pi}, 2 * math.Pi
}
func (b barrel) Contains(uv UV) bool { return math.Abs(uv.U) <= b.reach+1e-9 }
func (b barrel) At(uv, _ UV) (g.Vec3, g.Vec3) {
	c := math.Sqrt(b.meridian*b.meridian - uv.U*uv.U)
	r := c - b.meridian + b.hoop
	sin, cos := math.Sincos(uv.V)
	return g.Vec3{X: uv.U, Y: r * sin, Z: r * cos}, g.Vec3{X: uv.U / b.meridian, Y: c / b.meridian * sin, Z: c / b.meridian * cos}
}

func plate(t testing.TB, side g.Side) Surface {
	s, err := NewPlateSkin(side, 1.6, []g.SidePosition{{FS: 200, WL: 60}, {FS: 260, WL: 60}, {FS: 260, WL: 95}, {FS: 200, WL: 95}})
	require.NoError(t, err)
	return s
}

// TestSurfaceContract runs the same checks over every surface.
func TestSurfaceContract(t *testing.T) {
	taper, err := NewRoundSkin([]RoundSection{{FS: 10, Radius: 20, WL: 40}, {FS: 60, Radius: 20, WL: 40}, {FS: 150, Radius: 6, WL: 48}})
	require.NoError(t, err)
	for _, c := range []struct {
		name string
		s    Surface
		at   g.SidePosition
		side g.Side
	}{
		{"cylinder", cylinder30(t), g.SidePosition{FS: 50, WL: 4}, g.Left},
		{"cone", cone30to10(t), g.SidePosition{FS: 50, WL: 4}, g.Right},
		{"round, three sections", taper, g.SidePosition{FS: 57, WL: 44}, g.Left},
		{"stringers", kittock(t), g.SidePosition{FS: 184, WL: 53}, g.Left},
		{"stringers with sag", kittock(t).WithSag(0.125), g.SidePosition{FS: 184, WL: 53}, g.Left},
		{"stringers right", kittock(t), g.SidePosition{FS: 150, WL: 45}, g.Right},
		{"plate left", plate(t, g.Left), g.SidePosition{FS: 230, WL: 78}, g.Left},
		{"plate right", plate(t, g.Right), g.SidePosition{FS: 230, WL: 78}, g.Right},
		{"barrel", barrel{30, 200, 80}, g.SidePosition{FS: 5, WL: 4}, g.Left},
	} {
		t.Run(c.name, func(t *testing.T) {
			us, vs, period := c.s.Breaks()
			for i := 0; i+1 < len(us); i++ {
				for j := 0; j+1 < len(vs); j++ {
					in := UV{(us[i] + us[i+1]) / 2, (vs[j] + vs[j+1]) / 2}
					for _, f := range []float64{0.1, 0.5, 0.83} {
						uv := UV{us[i] + f*(us[i+1]-us[i]), vs[j] + (1-f)*(vs[j+1]-vs[j])}
						p, n := c.s.At(uv, in)
						require.InDelta(t, uv.U, p.X, 1e-12, "X is the station")
						require.InDelta(t, 1, n.Norm(), 1e-12)
						su, sv, _ := Tangents(c.s, uv)
						require.InDelta(t, 0, n.Dot(su.Unit()), 1e-8, "the normal is square to the skin")
						require.InDelta(t, 0, n.Dot(sv.Unit()), 1e-8)
						if period > 0 {
							q := PointAt(c.s, UV{uv.U, uv.V + period})
							require.InDelta(t, 0, p.Sub(q).Norm(), 1e-9, "V is periodic")
						}
					}
					// continuous over the next line
					edge := UV{in.U, vs[j+1]}
					a, _ := c.s.At(edge, in)
					b, _ := c.s.At(edge, UV{in.U, vs[j+1] + 1e-6})
					if period > 0 {
						require.InDelta(t, 0, a.Sub(b).Norm(), 1e-9)
					}
				}
			}
			uv, err := LocateSide(c.s, c.side, c.at)
			require.NoError(t, err)
			p, n := c.s.At(uv, uv)
			require.InDelta(t, c.at.WL.Inches(), p.Z, 1e-9)
			require.GreaterOrEqual(t, p.Y*c.side.Sign(), 0.0)
			require.Greater(t, n.Y*c.side.Sign(), 0.0, "the normal is outward")
			near, gap := Nearest(c.s, p.Add(n.Scale(1e-3)))
			require.InDelta(t, 1e-3, float64(gap), 5e-4)
			require.InDelta(t, 0, PointAt(c.s, near).Sub(p).Norm(), 1e-2)

			m := flattenAt(t, c.s, c.side, c.at, box(14, 12))
			o, ok := m.ToFlat(uv)
			require.True(t, ok)
			require.InDelta(t, 0, o.Dist(g.Point{}), 1e-9, "the anchor is the origin")
			// up is up, right reads aft on the left side and forward on the right
			up, ok := m.PositionOf(g.Point{Y: 3})
			require.True(t, ok)
			require.Greater(t, up.WL.Inches(), p.Z+2)
			right, ok := m.PositionOf(g.Point{X: 3})
			require.True(t, ok)
			require.Greater(t, c.side.Reading()*(right.FS.Inches()-p.X), 2.5)
			for x := -7.0; x <= 7; x += 1.75 {
				for y := -6.0; y <= 6; y += 1.5 {
					q := g.Point{X: x, Y: y}
					uv, ok := m.ToSkin(q)
					require.True(t, ok, "%v", q)
					back, ok := m.ToFlat(uv)
					require.True(t, ok)
					require.InDelta(t, 0, q.Dist(back), 1e-8)
				}
			}
			// a tape is as long one way as the other, and no shorter than the chord
			a, _ := m.ToSkin(g.Point{X: -6, Y: -4})
			b, _ := m.ToSkin(g.Point{X: 5, Y: 5})
			ab, err := Tape(c.s, a, b, 1e-3)
			require.NoError(t, err)
			ba, err := Tape(c.s, b, a, 1e-3)
			require.NoError(t, err)
			require.InDelta(t, float64(ab.Length), float64(ba.Length), 2e-3)
			require.GreaterOrEqual(t, float64(ab.Length), PointAt(c.s, a).Sub(PointAt(c.s, b)).Norm()-1e-3)
			if m.Strain(box(14, 12)).Exact(g.ExactStrain) {
				require.InDelta(t, math.Hypot(11, 9), float64(ab.Length), 1e-3, "on an exact flat a tape is a straight line")
			}
		})
	}
}

// Great circle on a sphere of radius 30: longitude round the axis, latitude
// along it; from latitude 0 at -45 degrees to latitude 60 at 54 degrees it is
// 49.47280603054922 (spherical trigonometry).
func TestTapeOnSphere(t *testing.T) {
	s := barrel{30, 30, 29}
	p, err := Tape(s, UV{0, -math.Pi / 4}, UV{30 * math.Sin(math.Pi/3), 54 * math.Pi / 180}, 1e-4)
	require.NoError(t, err)
	require.InDelta(t, 49.47280603054922, float64(p.Length), 1e-3)
}

// Lettering of 60 x 12 in on principal radii of 30 and 200 in, least elastic
// strain, nu 0.4: compression 0.20 %, tension 0.10 % on an independent
// finite-element code (sparse direct solver, triangles of 1 in; computed for the
// project). The extremes sit at the corners.
func TestStrainOnBarrel(t *testing.T) {
	m := flattenAt(t, barrel{30, 200, 80}, g.Left, g.SidePosition{FS: 0, WL: 0}, box(60, 12))
	e := m.Strain(box(60, 12))
	require.InDelta(t, 0.0020, e.Compression, 0.0003)
	require.InDelta(t, 0.0010, e.Tension, 0.0003)
	require.False(t, e.Exact(g.ExactStrain))
}

// The intrinsic length of an edge across a cone falls into line with the fourth
// power of its length. The exact distance is the chord of the unrolled sector.
func TestEdgeLengthOrder(t *testing.T) {
	s := cone30to10(t)
	sin := 20 / math.Hypot(20, 120)
	polar := func(uv UV) g.Point {
		r, a := (30-uv.U/6)/sin, uv.V*sin
		return g.Point{X: r * math.Cos(a), Y: r * math.Sin(a)}
	}
	last := 0.0
	for k := 0; k < 4; k++ {
		h := 0.2 / math.Pow(2, float64(k))
		a, b := UV{40 - 20*h, 1 - h}, UV{40 + 20*h, 1 + h}
		want := polar(a).Dist(polar(b))
		err := math.Abs(edgeLength(s, a, b, UV{40, 1})-want) / want
		if k > 0 {
			require.InDelta(t, 4, math.Log2(last/err), 0.2, "order at h %g", h)
		}
		last = err
	}
}

func TestLocateSideRefuses(t *testing.T) {
	_, err := LocateSide(kittock(t), g.Left, g.SidePosition{FS: 100, WL: 50})
	require.ErrorContains(t, err, "it runs from FS 120 to FS 240")
	_, err = LocateSide(kittock(t), g.Left, g.SidePosition{FS: 150, WL: 90})
	require.ErrorContains(t, err, "WL 90 is not on the left side")
	_, err = UpAt(cylinder30(t), UV{60, 0}, 0)
	require.ErrorContains(t, err, "the skin lies level there")
}
