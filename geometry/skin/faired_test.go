package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

func faired(t testing.TB, f Fairing, sections ...FairedSection) *FairedSkin {
	t.Helper()
	s, err := NewFairedSkin(sections, f)
	require.NoError(t, err)
	return s
}

// fairedSpheroid is the prolate spheroid of semi-axes 30 (radius) and 90 (along) given
// as circles, n bays from FS -75 to 75.
func fairedSpheroid(t testing.TB, law FairingLaw, n int) *FairedSkin {
	var sec []FairedSection
	for i := 0; i <= n; i++ {
		u := -75 + 150*float64(i)/float64(n)
		sec = append(sec, FairedSection{g.Station(u), CircleSection{Radius: g.Length(fairedSpheroidRadius(u))}})
	}
	return faired(t, Fairing{Law: law}, sec...)
}

func fairedSpheroidRadius(u float64) float64 { return 30 * math.Sqrt(1-u*u/8100) }

// fairedSlab is the invented demo's forward body: rounded rectangles.
func fairedSlab(t testing.TB, law FairingLaw) *FairedSkin {
	return faired(t, Fairing{Law: law},
		FairedSection{20, RoundedRectangleSection{10, 68, 46, 6}},
		FairedSection{48, RoundedRectangleSection{13.5, 71.5, 38, 5}},
		FairedSection{72, RoundedRectangleSection{14.25, 90, 36, 3}},
		FairedSection{96, RoundedRectangleSection{14.5, 90, 35.5, 3}})
}

// fairedMixed is a fuselage from circle over ellipse to superellipse, dropping aft.
func fairedMixed(t testing.TB, f Fairing) *FairedSkin {
	return faired(t, f,
		FairedSection{0, CircleSection{20, 50}}, FairedSection{40, EllipseSection{22, 26, 50}},
		FairedSection{90, SuperellipseSection{20, 24, 51, 2.5}}, FairedSection{130, EllipseSection{14, 20, 53}},
		FairedSection{180, EllipseSection{5, 12, 57}})
}

// fairedKnuckle is a body through splines with a knuckle line named beam.
func fairedKnuckle(t testing.TB, law FairingLaw) *FairedSkin {
	sec := func(fs, k float64) FairedSection {
		return FairedSection{g.Station(fs), SplineSection{[]SectionPoint{
			{BL: 0, WL: g.Waterline(50 + 25*k)}, {BL: g.ButtLine(12 * k), WL: g.Waterline(50 + 19*k)},
			{BL: g.ButtLine(16 * k), WL: 50, Name: "beam", Corner: true},
			{BL: g.ButtLine(11 * k), WL: g.Waterline(50 - 16*k)}, {BL: 0, WL: g.Waterline(50 - 24*k)},
		}}}
	}
	return faired(t, Fairing{Law: law}, sec(0, 1), sec(50, 0.9), sec(100, 0.7), sec(160, 0.3))
}

func TestFairedContract(t *testing.T) {
	for _, c := range []struct {
		name string
		s    *FairedSkin
		at   g.SidePosition
		side g.Side
	}{
		{"circles ruled", faired(t, Fairing{}, FairedSection{0, CircleSection{30, 0}}, FairedSection{120, CircleSection{10, 8}}), g.SidePosition{FS: 50, WL: 4}, g.Left},
		{"spheroid natural", fairedSpheroid(t, Natural, 10), g.SidePosition{FS: 12, WL: 4}, g.Right},
		{"spheroid clamped", fairedSpheroid(t, Clamped, 10), g.SidePosition{FS: 12, WL: 4}, g.Left},
		{"spheroid monotone", fairedSpheroid(t, Monotone, 10), g.SidePosition{FS: 22, WL: 4}, g.Left},
		{"rounded rectangles ruled", fairedSlab(t, Ruled), g.SidePosition{FS: 70, WL: 55}, g.Left},
		{"rounded rectangles natural", fairedSlab(t, Natural), g.SidePosition{FS: 60, WL: 58}, g.Right},
		{"mixed ruled", fairedMixed(t, Fairing{}), g.SidePosition{FS: 88, WL: 56}, g.Left},
		{"mixed monotone", fairedMixed(t, Fairing{Law: Monotone}), g.SidePosition{FS: 60, WL: 56}, g.Right},
		{"mixed natural with a break", fairedMixed(t, Fairing{Law: Natural, BreakFrames: []g.Station{90}}), g.SidePosition{FS: 92, WL: 58}, g.Left},
		{"splines with a knuckle, clamped", fairedKnuckle(t, Clamped), g.SidePosition{FS: 70, WL: 52}, g.Left},
		{"splines with a knuckle, monotone", fairedKnuckle(t, Monotone), g.SidePosition{FS: 75, WL: 60}, g.Right},
	} {
		t.Run(c.name, func(t *testing.T) {
			checkSurface(t, c.s)
			m := checkMarked(t, c.s, c.side, c.at)
			t.Logf("strain %+v settled %+v", m.Strain(box(14, 12)), m.Settled())
		})
	}
}

// Lines appear only at creases and jumps: none on a smooth body but the keel.
func TestFairedLines(t *testing.T) {
	u, v, period := fairedSpheroid(t, Natural, 10).Breaks()
	require.Equal(t, []float64{-75, 75}, u)
	require.Equal(t, []float64{-2, 2}, v)
	require.Equal(t, 4.0, period)
	u, v, _ = fairedSlab(t, Natural).Breaks()
	require.Equal(t, []float64{20, 96}, u)
	require.Equal(t, []float64{-5, -4, -3, -2, -1, 1, 2, 3, 4, 5}, v, "the crown is smooth")
	u, v, _ = fairedMixed(t, Fairing{Law: Natural, BreakFrames: []g.Station{90}}).Breaks()
	require.Equal(t, []float64{0, 90, 180}, u)
	require.Equal(t, []float64{-2, -1, 0, 1, 2}, v, "a superellipse of 2.5 is not smooth on its axes")
	u, v, _ = fairedKnuckle(t, Monotone).Breaks()
	require.Equal(t, []float64{0, 50, 100, 160}, u)
	require.Equal(t, []float64{-2, -1, 1, 2}, v)
	k, ok := fairedKnuckle(t, Natural).Landmark("beam")
	require.True(t, ok)
	require.Equal(t, 1.0, k)
}

// Between circles a faired skin is the round skin, point for point, under every law.
func TestFairedOfTwoCirclesIsRound(t *testing.T) {
	for _, r := range []RoundSection{{FS: 120, Radius: 30, WL: 0}, {FS: 120, Radius: 10, WL: 0}, {FS: 120, Radius: 10, WL: 9}} {
		round, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: 30}, r})
		require.NoError(t, err)
		for law := Ruled; law <= Clamped; law++ {
			s := faired(t, Fairing{Law: law}, FairedSection{0, CircleSection{30, 0}}, FairedSection{r.FS, CircleSection{r.Radius, r.WL}})
			for u := 0.0; u <= 120; u += 7.5 {
				for v := -1.95; v < 4; v += 0.17 {
					p, n := s.At(UV{u, v}, UV{u, v})
					q, m := round.At(UV{u, v * math.Pi / 2}, UV{u, v * math.Pi / 2})
					require.InDelta(t, 0, p.Sub(q).Norm(), 1e-12)
					require.InDelta(t, 0, n.Sub(m).Norm(), 1e-12)
				}
			}
		}
	}
}

// Natural cubic through the radii of the spheroid: the middle converges with the
// fourth power of the spacing.
func TestFairedSpheroid(t *testing.T) {
	worst := func(s *FairedSkin, reach float64) (at float64) {
		for u := -reach; u <= reach; u += reach / 200 {
			p := PointAt(s, UV{u, 0.7})
			at = math.Max(at, math.Abs(math.Hypot(p.Y, p.Z)-fairedSpheroidRadius(u)))
		}
		return
	}
	last := 0.0
	for k, n := range []int{10, 20, 40} {
		e := worst(fairedSpheroid(t, Natural, n), 40)
		if k > 0 {
			require.GreaterOrEqual(t, math.Log2(last/e), 3.7, "order at %d bays", n)
		}
		last = e
		t.Logf("%d bays of %g in: within 40 in: natural %.2g, clamped %.2g, monotone %.2g; all: %.2g %.2g %.2g", n, 150/float64(n), e,
			worst(fairedSpheroid(t, Clamped, n), 40), worst(fairedSpheroid(t, Monotone, n), 40),
			worst(fairedSpheroid(t, Natural, n), 75), worst(fairedSpheroid(t, Clamped, n), 75), worst(fairedSpheroid(t, Monotone, n), 75))
	}
	require.Less(t, last, 1e-5)
	require.Less(t, worst(fairedSpheroid(t, Clamped, 40), 75), 0.004)
}

// Monotone: between sections BL and WL stay between theirs: all lines of a body
// on one axis, and the landmark lines of any, whose natural spline swings out.
func TestFairedMonotone(t *testing.T) {
	sec := func(fs, r, wl float64) FairedSection {
		return FairedSection{g.Station(fs), CircleSection{g.Length(r), g.Waterline(wl)}}
	}
	build := func(law FairingLaw) *FairedSkin {
		return faired(t, Fairing{Law: law}, sec(0, 10, 50), sec(30, 10.1, 50), sec(60, 30, 52), sec(70, 30.05, 52), sec(140, 30, 40), sec(150, 8, 44))
	}
	level := faired(t, Fairing{Law: Monotone}, sec(0, 10, 50), sec(30, 10.1, 50), sec(60, 30, 50), sec(70, 30.05, 50), sec(140, 30, 50), sec(150, 8, 50))
	outside := func(s *FairedSkin, step float64) (worst float64) {
		for i := 0; i+1 < len(s.u); i++ {
			for v := -2.0; v <= 2; v += step {
				in := UV{(s.u[i] + s.u[i+1]) / 2, v}
				a, b := PointAt(s, UV{s.u[i], v}), PointAt(s, UV{s.u[i+1], v})
				for f := 0.0; f <= 1; f += 0.02 {
					p, _ := s.At(UV{s.u[i] + f*(s.u[i+1]-s.u[i]), v}, in)
					over := func(x, a, b float64) float64 { return math.Max(math.Min(a, b)-x, x-math.Max(a, b)) }
					worst = math.Max(worst, math.Max(over(p.Y, a.Y, b.Y), over(p.Z, a.Z, b.Z)))
				}
			}
		}
		return
	}
	require.Less(t, outside(level, 0.0625), 1e-12)
	require.Less(t, outside(build(Monotone), 1), 1e-12, "landmark lines")
	require.Less(t, outside(build(Monotone), 0.0625), 1.2, "lines between, on a body of sudden changes")
	require.Greater(t, outside(build(Natural), 1), 15.0)
	checkSurface(t, build(Monotone))
	// slopes join at the stations
	s := build(Monotone)
	for _, u := range s.u[1 : len(s.u)-1] {
		for v := -1.9; v < 2; v += 0.13 {
			_, n := s.At(UV{u, v}, UV{u - 1e-3, v})
			_, m := s.At(UV{u, v}, UV{u + 1e-3, v})
			require.InDelta(t, 0, n.Sub(m).Norm(), 1e-9)
		}
	}
}

// At a break frame slopes jump; elsewhere slope and curvature are continuous.
func TestFairedBreakFrame(t *testing.T) {
	build := func(breaks ...g.Station) *FairedSkin {
		return faired(t, Fairing{Natural, breaks}, FairedSection{0, CircleSection{20, 0}}, FairedSection{40, CircleSection{20, 0}},
			FairedSection{80, CircleSection{20, 0}}, FairedSection{120, CircleSection{15, 0}}, FairedSection{160, CircleSection{10, 0}})
	}
	jump := func(s *FairedSkin) float64 {
		_, n := s.At(UV{80, 0.3}, UV{79, 0.3})
		_, m := s.At(UV{80, 0.3}, UV{81, 0.3})
		return math.Acos(math.Min(1, n.Dot(m)))
	}
	require.InDelta(t, math.Atan(5.0/40), jump(build(80)), 1e-12)
	require.InDelta(t, 0, jump(build()), 1e-7)
	for u := 0.0; u <= 80; u += 5 {
		require.InDelta(t, 20, PointAt(build(80), UV{u, 0}).Z, 1e-12, "the parallel run stays parallel")
	}
}

// A ruled faired cone and a tube of rounded rectangles unroll exactly.
func TestFlatOfFairedDevelopables(t *testing.T) {
	cone := faired(t, Fairing{}, FairedSection{0, CircleSection{30, 0}}, FairedSection{120, CircleSection{10, 0}})
	m := flattenAt(t, cone, g.Left, g.SidePosition{FS: 50, WL: 5}, box(40, 30))
	require.True(t, m.Strain(box(40, 30)).Exact(g.ExactStrain), "%+v", m.Strain(box(40, 30)))
	want := flattenAt(t, cone30to10(t), g.Left, g.SidePosition{FS: 50, WL: 5}, box(40, 30))
	for _, p := range []g.Point{{X: 15, Y: 12}, {X: -18, Y: 3}, {X: 4, Y: -13}} {
		a, ok := m.PositionOf(p)
		require.True(t, ok)
		b, ok := want.PositionOf(p)
		require.True(t, ok)
		require.InDelta(t, 0, float64(a.To(b)), 1e-5)
	}
	box2 := box(24, 20)
	for _, c := range []SectionCurve{RoundedRectangleSection{14, 90, 66, 6}, EllipseSection{10, 18, 78}, SuperellipseSection{14, 16, 78, 2.5}} {
		tube := faired(t, Fairing{}, FairedSection{0, c}, FairedSection{80, c})
		m = flattenAt(t, tube, g.Right, g.SidePosition{FS: 40, WL: 80}, box2)
		require.True(t, m.Strain(box2).Exact(g.ExactStrain), "%T %+v", c, m.Strain(box2))
		up, ok := m.ToSkin(g.Point{X: 5, Y: 9})
		require.True(t, ok)
		at, err := LocateSide(tube, g.Right, g.SidePosition{FS: 40, WL: 80})
		require.NoError(t, err)
		require.InDelta(t, 35, up.U, 1e-6)
		require.InDelta(t, 9, float64(Girth(tube, 40, up.V, at.V)), 1e-5, "height on film is girth: %T", c)
	}
}

// The same ruled body once as ellipses and once as 48 flats through their points:
// the film is as long to 0.01 in.
func TestFilmOfFacetsNearsFaired(t *testing.T) {
	const half = 24
	smooth := faired(t, Fairing{}, FairedSection{0, EllipseSection{18, 22, 50}}, FairedSection{120, EllipseSection{9, 15, 54}})
	var flats [2]StringerSection
	for i, u := range []float64{0, 120} {
		flats[i].FS = g.Station(u)
		for k := 0; k <= half; k++ {
			p := PointAt(smooth, UV{u, 2 * float64(k) / half})
			flats[i].Points = append(flats[i].Points, g.PositionOf(p))
		}
	}
	facets, err := NewStringerSkin(flats[:])
	require.NoError(t, err)
	at := g.SidePosition{FS: 60, WL: 55}
	a := flattenAt(t, smooth, g.Left, at, box(12, 10))
	b := flattenAt(t, facets, g.Left, at, box(12, 10))
	for _, pair := range [][2]g.SidePosition{
		{{FS: 55, WL: 51}, {FS: 65, WL: 59}}, {{FS: 55, WL: 59}, {FS: 65, WL: 51}}, {{FS: 60, WL: 51}, {FS: 60, WL: 59}}, {{FS: 55, WL: 55}, {FS: 65, WL: 55}},
	} {
		film := func(m *FlatMap) float64 {
			var p [2]g.Point
			for i := range pair {
				uv, err := LocateSide(m.Surface(), g.Left, pair[i])
				require.NoError(t, err)
				var ok bool
				p[i], ok = m.ToFlat(uv)
				require.True(t, ok)
			}
			return p[0].Dist(p[1])
		}
		require.InDelta(t, film(a), film(b), 0.01)
	}
}

func TestFairedRefuses(t *testing.T) {
	c := CircleSection{20, 50}
	for _, x := range []struct {
		sections []FairedSection
		fairing  Fairing
		want     string
	}{
		{[]FairedSection{{0, c}}, Fairing{}, "two sections or more, got 1"},
		{[]FairedSection{{40, c}, {40, c}}, Fairing{}, "section FS 40 does not lie aft of FS 40"},
		{[]FairedSection{{0, c}, {40.5, nil}}, Fairing{}, "section FS 40.5 has no outline"},
		{[]FairedSection{{0, c}, {40, c}}, Fairing{BreakFrames: []g.Station{20}}, "break frame FS 20 has no section"},
		{[]FairedSection{{0, c}, {40, c}}, Fairing{Law: 9}, "not known"},
	} {
		s, err := NewFairedSkin(x.sections, x.fairing)
		require.ErrorContains(t, err, x.want)
		require.Nil(t, s)
	}
}

func BenchmarkAt_faired_ruled_circles(b *testing.B) {
	s := faired(b, Fairing{}, FairedSection{0, CircleSection{30, 0}}, FairedSection{120, CircleSection{10, 8}})
	benchmarkAt(b, s)
}
func BenchmarkAt_faired_natural_31_circles(b *testing.B) {
	benchmarkAt(b, fairedSpheroid(b, Natural, 30))
}
func BenchmarkAt_faired_ruled_mixed_5(b *testing.B) { benchmarkAt(b, fairedMixed(b, Fairing{})) }
func BenchmarkAt_faired_monotone_mixed_5(b *testing.B) {
	benchmarkAt(b, fairedMixed(b, Fairing{Law: Monotone}))
}
func BenchmarkAt_faired_natural_mixed_5(b *testing.B) {
	benchmarkAt(b, fairedMixed(b, Fairing{Law: Natural}))
}
func BenchmarkNewFairedSkin_mixed_5(b *testing.B) {
	for i := 0; i < b.N; i++ {
		fairedMixed(b, Fairing{Law: Natural})
	}
}
func BenchmarkFlatten_faired_spheroid_14x12in_tol0p001(b *testing.B) {
	s := fairedSpheroid(b, Natural, 20)
	for i := 0; i < b.N; i++ {
		flattenAt(b, s, g.Left, g.SidePosition{FS: 12, WL: 4}, box(14, 12))
	}
}

func benchmarkAt(b *testing.B, s Surface) {
	us, vs, _ := s.Breaks()
	du, dv := us[len(us)-1]-us[0], vs[len(vs)-1]-vs[0]
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		uv := UV{us[0] + du*math.Mod(float64(i)*0.6180339887, 1), vs[0] + dv*math.Mod(float64(i)*0.7548776662, 1)}
		s.At(uv, uv)
	}
}
