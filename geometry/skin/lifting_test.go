package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

func naca(t testing.TB, digits string) NACA4 {
	t.Helper()
	n, err := ParseNACA4(digits)
	require.NoError(t, err)
	return n
}

// table0012 is the half thickness of NACA 0012 in per cent of the chord (Abbott and
// von Doenhoff, appendix I; NACA Report 824; from memory).
var table0012 = [][2]float64{{1.25, 1.894}, {2.5, 2.615}, {5, 3.555}, {7.5, 4.200}, {10, 4.683}, {15, 5.345}, {20, 5.737},
	{25, 5.941}, {30, 6.002}, {40, 5.803}, {50, 5.294}, {60, 4.563}, {70, 3.664}, {80, 2.623}, {90, 1.448}, {95, 0.807}, {100, 0.126}}

func TestNACA0012(t *testing.T) {
	n := naca(t, "0012")
	for _, row := range table0012 {
		y, _ := n.HalfThickness(row[0] / 100)
		require.InDelta(t, row[1], 100*y, 0.001, "at %g %%", row[0])
	}
	// nose radius 1.1019 t^2 = 1.5867 % (published 1.58): y^2/(2 x) as x falls to 0
	y, _ := n.HalfThickness(1e-9)
	require.InDelta(t, 1.5867, 100*y*y/2e-9, 0.001)
	n.Closed = true
	y, _ = n.HalfThickness(1)
	require.InDelta(t, 0, y, 1e-15)
}

// NACA 2412 at points given by parameter (public file naca2412.dat, five decimals)
// and at nominal stations (NACA Report 460; from memory), in per cent.
func TestNACA2412(t *testing.T) {
	for _, side := range []float64{1, -1} {
		f, err := newChordFace(naca(t, "2412"), side, 0)
		require.NoError(t, err)
		points := [][2]float64{{50.059, 7.238}, {20.331, 7.295}}
		tabulated := [][2]float64{{5, 4.13}, {10, 5.63}, {20, 7.26}, {30, 7.88}, {50, 7.24}, {80, 3.75}}
		if side < 0 {
			points = [][2]float64{{49.941, -3.349}, {29.818, -4.133}}
			tabulated = [][2]float64{{5, -3.01}, {10, -3.75}, {20, -4.23}, {30, -4.12}, {50, -3.34}, {80, -1.50}}
		}
		for _, p := range points {
			y, _, _ := f.height(p[0], 100)
			require.InDelta(t, p[1], y, 0.001, "at %g %%", p[0])
		}
		for _, p := range tabulated {
			y, _, _ := f.height(p[0], 100)
			require.InDelta(t, p[1], y, 0.02, "at %g %%", p[0])
		}
	}
}

// ordinates0012 is the published table as a profile.
func ordinates0012(t testing.TB) Ordinates {
	t.Helper()
	table := []Ordinate{{}}
	for _, row := range table0012 {
		table = append(table, Ordinate{row[0] / 100, row[1] / 100, -row[1] / 100})
	}
	o, err := NewOrdinates(table)
	require.NoError(t, err)
	return o
}

// The spline through the published table goes through it, is the formula's curve
// between its lines, and has its round nose.
func TestOrdinates(t *testing.T) {
	o, n := ordinates0012(t), naca(t, "0012")
	for _, side := range []float64{1, -1} {
		for _, row := range table0012 {
			p, _ := o.profile(side, row[0]/100)
			require.InDelta(t, side*row[1]/100, p.Y, 1e-12)
		}
		worst := 0.0
		for q := 0.001; q <= 1; q += 0.001 {
			p, _ := o.profile(side, q)
			y, _ := n.HalfThickness(q)
			worst = math.Max(worst, math.Abs(side*p.Y-y))
		}
		require.Less(t, worst, 0.0002, "0.02 %% of the chord")
		t.Logf("ordinates of 18 lines against the formula: %.4f %% of the chord", 100*worst)
	}
	p, _ := o.profile(1, 1e-8)
	require.InDelta(t, 1.5867, 100*p.Y*p.Y/2e-8, 0.15, "nose radius, per cent")
}

// fin is a tapered fin with a straight leading edge that leans aft, and a bend in
// the trailing edge where told.
func fin(t testing.TB, side g.Side, profile Profile, bent bool) *LiftingSkin {
	t.Helper()
	p := Planform{Leading: []PlanPoint{{200, 60}, {230, 100}}, Trailing: []PlanPoint{{260, 60}, {256, 100}}}
	if bent {
		p.Trailing = []PlanPoint{{256, 100}, {262, 80}, {260, 60}} // tip to root
	}
	s, err := NewFinSkin(side, p, profile)
	require.NoError(t, err)
	return s
}

func wing(t testing.TB, side g.Side, face WingFace, profile Profile) *LiftingSkin {
	t.Helper()
	s, err := NewWingSkin(side, face, Planform{
		Leading:  []PlanPoint{{70, 15}, {70, 80}, {84, 200}},
		Trailing: []PlanPoint{{130, 15}, {130, 80}, {118, 200}},
	}, profile, WingSetting{WL: 88, Dihedral: 2 * math.Pi / 180, Incidence: 1.5 * math.Pi / 180})
	require.NoError(t, err)
	return s
}

func TestLiftingContract(t *testing.T) {
	for _, c := range []struct {
		name string
		s    *LiftingSkin
		side g.Side
	}{
		{"fin 0009 left", fin(t, g.Left, naca(t, "0009"), false), g.Left},
		{"fin 0012 right, bent", fin(t, g.Right, naca(t, "0012"), true), g.Right},
		{"fin of ordinates", fin(t, g.Left, ordinates0012(t), true), g.Left},
	} {
		t.Run(c.name, func(t *testing.T) {
			checkSurface(t, c.s)
			m := checkMarked(t, c.s, c.side, g.SidePosition{FS: 240, WL: 79})
			t.Logf("strain %+v settled %+v", m.Strain(box(14, 12)), m.Settled())
		})
	}
	for _, side := range []g.Side{g.Left, g.Right} {
		for _, face := range []WingFace{Upper, Lower} {
			for _, p := range []Profile{naca(t, "2412"), ordinates0012(t)} {
				s := wing(t, side, face, p)
				checkSurface(t, s)
				uv, err := s.LocatePlan(95, g.ButtLine(side.Sign()*60))
				require.NoError(t, err)
				at, n := s.At(uv, uv)
				sign := 1.0
				if face == Lower {
					sign = -1
				}
				require.Greater(t, sign*n.Z, 0.9, "outward")
				lead := 88 + 60*math.Tan(2*math.Pi/180) - 25*math.Tan(1.5*math.Pi/180) // on the chord line
				require.Greater(t, sign*(at.Z-lead), 0.5)
				frame, err := ForwardAt(s, uv, 0)
				require.NoError(t, err)
				m, err := Flatten(t.Context(), s, frame, box(20, 16), box(20, 16), g.NetTolerance)
				require.NoError(t, err)
				require.True(t, m.Strain(box(20, 16)).Exact(2e-5), "%v %v %T: %+v", side, face, p, m.Strain(box(20, 16)))
				fore, ok := m.PositionOf(g.Point{Y: 5})
				require.True(t, ok)
				require.InDelta(t, 90, fore.FS.Inches(), 0.1)
				right, ok := m.PositionOf(g.Point{X: 5})
				require.True(t, ok)
				require.InDelta(t, 5*sign, right.BL.Inches()-uv.V, 0.1, "from above with the nose up, right is right")
			}
		}
	}
}

// Both sides of a fin, and both wings, are mirror images.
func TestLiftingMirror(t *testing.T) {
	l, r := fin(t, g.Left, naca(t, "0012"), true), fin(t, g.Right, naca(t, "0012"), true)
	for u := 205.0; u < 260; u += 3 {
		p, n := l.At(UV{u, 71}, UV{u, 71})
		q, m := r.At(UV{u, 71}, UV{u, 71})
		require.Equal(t, g.Vec3{X: p.X, Y: -p.Y, Z: p.Z}, q)
		require.Equal(t, g.Vec3{X: n.X, Y: -n.Y, Z: n.Z}, m)
		a, b := wing(t, g.Left, Upper, naca(t, "2412")), wing(t, g.Right, Upper, naca(t, "2412"))
		w := UV{u - 130, 90}
		p, n = b.At(w, w)
		w.V = -90
		q, m = a.At(w, w)
		require.InDelta(t, 0, q.Sub(g.Vec3{X: p.X, Y: -p.Y, Z: p.Z}).Norm(), 1e-12)
		require.InDelta(t, 0, m.Sub(g.Vec3{X: n.X, Y: -n.Y, Z: n.Z}).Norm(), 1e-12)
	}
}

// A fin of one profile and straight edges is a cone about the point where the
// edges meet, so it unrolls: distances from that apex are kept, and the film of a
// line of constant fraction of the chord is straight.
func TestFlatOfFinIsCone(t *testing.T) {
	s := fin(t, g.Left, naca(t, "0012"), false)
	need := box(18, 16)
	m := flattenAt(t, s, g.Left, g.SidePosition{FS: 238, WL: 80}, need)
	require.True(t, m.Strain(need).Exact(g.ExactStrain), "%+v settled %+v", m.Strain(need), m.Settled())
	// leading edge FS 200 + 0.75 (z-60), trailing edge 260 - 0.1 (z-60): meet at
	// z = 60 + 60/0.85
	apex := g.Vec3{X: 200 + 0.75*60/0.85, Z: 60 + 60/0.85}
	var rays []g.Vec
	for _, xi := range []float64{0.5, 0.6, 0.75} {
		var flat []g.Point
		var dist []float64
		for _, z := range []float64{74, 79, 85} {
			le, te := 200+0.75*(z-60), 260-0.1*(z-60)
			uv := UV{le + xi*(te-le), z}
			p, ok := m.ToFlat(uv)
			require.True(t, ok)
			flat, dist = append(flat, p), append(dist, PointAt(s, uv).Sub(apex).Norm())
		}
		require.InDelta(t, dist[0]-dist[1], flat[1].Dist(flat[0]), 1e-5)
		require.InDelta(t, dist[0]-dist[2], flat[2].Dist(flat[0]), 1e-5)
		rays = append(rays, flat[2].Sub(flat[0]).Unit())
	}
	require.NotEqual(t, rays[0], rays[2])
}

func TestLiftingContains(t *testing.T) {
	s := fin(t, g.Left, naca(t, "0012"), false) // at WL 80: FS 215 to 258
	for _, c := range []struct {
		uv   UV
		want string
	}{
		{UV{214, 80}, "FS 214 lies ahead of the leading edge (FS 215 at WL 80)"},
		{UV{215.2, 80}, "FS 215.2 lies on the round of the leading edge (FS 215 at WL 80): keep aft of FS 216.29"},
		{UV{258.5, 80}, "behind the trailing edge (FS 258"},
		{UV{240, 101}, "WL 101 lies off the surface: it runs from WL 60 to WL 100"},
	} {
		require.ErrorContains(t, s.Outside(c.uv), c.want)
		require.False(t, s.Contains(c.uv))
	}
	require.NoError(t, s.Outside(UV{216.3, 80}))
	require.NoError(t, s.Outside(UV{257.9, 80}))
	require.InDelta(t, 8.0, float64(s.Clearance(UV{240, 92})), 1e-9)
	require.InDelta(t, 0.71/math.Hypot(1, 0.75), float64(s.Clearance(UV{217, 80})), 1e-9)
	_, err := Flatten(t.Context(), s, Frame{At: UV{215.2, 80}, Up: g.Vec3{Z: 1}}, box(2, 2), box(2, 2), g.NetTolerance)
	require.ErrorContains(t, err, "lies off the surface")
	_, err = s.LocatePlan(240, 0)
	require.ErrorContains(t, err, "give a waterline")
}

// A tip that runs out to nothing is no skin, but breaks nothing.
func TestLiftingPointedTip(t *testing.T) {
	s, err := NewFinSkin(g.Left, Planform{Leading: []PlanPoint{{200, 60}, {240, 100}}, Trailing: []PlanPoint{{240, 60}, {240, 100}}}, naca(t, "0010"))
	require.NoError(t, err)
	for _, uv := range []UV{{230, 100}, {240, 100}, {239.9, 99.9999999}, {200, 100}} {
		p, n := s.At(uv, uv)
		require.False(t, math.IsNaN(p.Y+n.X+n.Y+n.Z), "%v", uv)
	}
}

func TestLiftingRefuses(t *testing.T) {
	le, te := []PlanPoint{{200, 60}, {230, 100}}, []PlanPoint{{260, 60}, {256, 100}}
	good := naca(t, "0012")
	for _, c := range []struct {
		p       Planform
		profile Profile
		want    string
	}{
		{Planform{le, te}, nil, "no profile"},
		{Planform{le, te}, Ordinates{}, "make it with NewOrdinates"},
		{Planform{le, te}, NACA4{Thickness: 0.7}, "thickness 0.7 of the chord"},
		{Planform{le, te}, NACA4{Thickness: 0.12, Camber: 0.02}, "camber 0.02 at 0"},
		{Planform{le[:1], te}, good, "leading edge needs two points or more, got 1"},
		{Planform{le, []PlanPoint{{260, 60}, {258, 90}, {256, 85}, {250, 100}}}, good, "trailing edge turns back at WL 85"},
		{Planform{te, le}, good, "at WL 60 the leading edge (FS 260) does not lie ahead of the trailing edge (FS 200)"},
		{Planform{le, []PlanPoint{{260, 100}, {256, 120}}}, good, "do not lie side by side"},
	} {
		s, err := NewFinSkin(g.Left, c.p, c.profile)
		require.ErrorContains(t, err, c.want)
		require.Nil(t, s)
	}
	_, err := NewWingSkin(g.Left, Upper, Planform{[]PlanPoint{{70, -20}, {70, 80}}, []PlanPoint{{130, -20}, {130, 80}}}, good, WingSetting{})
	require.ErrorContains(t, err, "BL -20")
	_, err = NewWingSkin(g.Left, Upper, Planform{le, te}, good, WingSetting{Incidence: 1.2})
	require.ErrorContains(t, err, "incidence 68.75 degrees")
	_, err = NewWingSkin(g.Left, Lower, Planform{le, te}, NACA4{Thickness: 0.4}, WingSetting{Incidence: 0.7})
	require.ErrorContains(t, err, "the profile turns back")
	for _, d := range []string{"", "012", "00120", "2a12", "0000", "2012", "0412"} {
		_, err := ParseNACA4(d)
		require.Error(t, err, d)
	}
	for _, c := range []struct {
		table []Ordinate
		want  string
	}{
		{[]Ordinate{{}, {1, 0, 0}}, "four lines or more"},
		{[]Ordinate{{}, {5, 3, -3}, {50, 6, -6}, {100, 0, 0}}, "line 2 (xi 5): xi is a fraction"},
		{[]Ordinate{{}, {0.5, 0.1, -0.1}, {0.5, 0.1, -0.1}, {1, 0, 0}}, "line 3 (xi 0.5): xi must grow"},
		{[]Ordinate{{}, {0.5, -0.1, 0.1}, {0.7, 0.1, -0.1}, {1, 0, 0}}, "line 2 (xi 0.5): upper -0.1 must lie above lower 0.1"},
		{[]Ordinate{{0.1, 0, 0}, {0.5, 0.1, -0.1}, {0.7, 0.1, -0.1}, {1, 0, 0}}, "the first line must be the nose"},
		{[]Ordinate{{}, {0.5, 0.1, -0.1}, {0.7, 0.1, -0.1}, {0.9, 0, 0}}, "the last line must be the trailing edge"},
	} {
		_, err := NewOrdinates(c.table)
		require.ErrorContains(t, err, c.want)
	}
}

func BenchmarkAt_fin_naca0012(b *testing.B)  { benchmarkAt(b, fin(b, g.Left, naca(b, "0012"), true)) }
func BenchmarkAt_wing_naca2412(b *testing.B) { benchmarkAt(b, wing(b, g.Left, Upper, naca(b, "2412"))) }
func BenchmarkAt_fin_ordinates_18(b *testing.B) {
	benchmarkAt(b, fin(b, g.Left, ordinates0012(b), true))
}
func BenchmarkFlatten_fin_14x12in_tol0p001(b *testing.B) {
	s := fin(b, g.Left, naca(b, "0012"), true)
	for i := 0; i < b.N; i++ {
		flattenAt(b, s, g.Left, g.SidePosition{FS: 240, WL: 79}, box(14, 12))
	}
}
