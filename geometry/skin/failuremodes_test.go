package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// pointed is a body of circular sections with a nose at FS 0 and a tail at FS 100.
func pointed(t testing.TB) *FairedSkin {
	t.Helper()
	var sections []FairedSection
	for _, c := range [][2]float64{{0, 0.05}, {6, 5}, {14, 8}, {30, 11}, {50, 12}, {70, 11}, {86, 8}, {94, 5}, {100, 0.05}} {
		sections = append(sections, FairedSection{FS: g.Station(c[0]), Curve: CircleSection{Radius: g.Length(c[1])}})
	}
	s, err := NewFairedSkin(sections, Fairing{Law: Natural})
	require.NoError(t, err)
	return s
}

func frameAt(t testing.TB, s Surface, side g.Side, at g.SidePosition) Frame {
	t.Helper()
	uv, err := LocateSide(s, side, at)
	require.NoError(t, err)
	f, err := UpAt(s, uv, 0)
	require.NoError(t, err)
	return f
}

// Failure mode: nose or tail pole inside a mark. Beside the pole the patch is laid.
func TestRefuseNoseAndTailPole(t *testing.T) {
	s := pointed(t)
	for _, c := range []struct {
		fs         g.Station
		need       g.Rect
		end, place string
	}{
		{12, box(44, 14), "fore", "FS 0 BL 0 WL 0: "},
		{88, box(44, 14), "aft", "FS 100 BL 0 WL 0: "},
		{50, box(140, 14), "fore", "FS 0 BL 0 WL 0: "},
	} {
		_, err := Flatten(t.Context(), s, frameAt(t, s, g.Left, g.SidePosition{FS: c.fs}), c.need, c.need, g.NetTolerance)
		require.ErrorContains(t, err, c.place+"the "+c.end+" end of the body, 0.31 in round, lies inside the film")
		require.ErrorContains(t, err, "move the marking away from that end, or make it smaller")
	}
	_, err := Flatten(t.Context(), s, frameAt(t, s, g.Left, g.SidePosition{FS: 50}), box(20, 12), box(20, 12), g.NetTolerance)
	require.NoError(t, err)
}

// Failure mode: cone apex inside a mark. The apex of a cone of 20 in radius over
// 60 in lies sqrt(10) 20 = 63.246 in ahead of the base along the skin, and 21.08
// in from an anchor at FS 20 (derived).
func TestRefuseConeApex(t *testing.T) {
	s, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: 0.001}, {FS: 60, Radius: 20}})
	require.NoError(t, err)
	f := frameAt(t, s, g.Left, g.SidePosition{FS: 20})
	for _, side := range []g.Side{g.Left, g.Right} {
		_, err = Flatten(t.Context(), s, frameAt(t, s, side, g.SidePosition{FS: 20}), box(48, 8), box(48, 8), g.NetTolerance)
		require.ErrorContains(t, err, "FS 0 BL 0 WL 0: the fore end of the body")
	}
	m, err := Flatten(t.Context(), s, f, box(20, 8), box(20, 8), g.NetTolerance)
	require.NoError(t, err, "beside the apex")
	require.True(t, m.Strain(box(20, 8)).Exact(g.ExactStrain))
	// on the flat itself: the apex lies 21.08 in from the anchor
	whole := flattening{s: s, chart: chartOf(s), at: f, film: box(4, 4), need: box(4, 4), cell: 2, tolerance: g.NetTolerance}
	m, err = whole.settle(window{0, 30, f.At.V - 1, f.At.V + 1})
	require.NoError(t, err)
	require.NoError(t, m.poleInside(box(42.1, 8)))
	require.ErrorContains(t, m.poleInside(box(42.3, 8)), "fore end")
}

// A body as thick at its end as a mark is high has an open edge there, no pole: the
// flat ends at it.
func TestOpenEndIsNoPole(t *testing.T) {
	s := cylinder30(t)
	m, err := Flatten(t.Context(), s, frameAt(t, s, g.Left, g.SidePosition{FS: 5}), box(30, 20), box(30, 20), g.NetTolerance)
	require.NoError(t, err)
	for x, want := range map[float64]bool{-4.9: true, -5.1: false, -6: false} {
		uv, ok := m.ToSkin(g.Point{X: x})
		require.Equal(t, want, ok && s.Contains(uv), "%v", x)
	}
}

// Failure mode: the leading edge of an airfoil has no slope by station: its round
// is refused, with how far aft to keep.
func TestRefuseLeadingEdge(t *testing.T) {
	edge := func(fs g.Station) []PlanPoint { return []PlanPoint{{FS: fs, Span: 60}, {FS: fs, Span: 100}} }
	s, err := NewFinSkin(g.Left, Planform{Leading: edge(200), Trailing: edge(240)}, NACA4{Thickness: 0.12})
	require.NoError(t, err)
	_, err = Flatten(t.Context(), s, Frame{At: UV{200.01, 80}, Up: g.Vec3{Z: 1}}, box(4, 4), box(4, 4), g.NetTolerance)
	require.ErrorContains(t, err, "lies off the surface")
	require.ErrorContains(t, s.Outside(UV{200.01, 80}), "FS 200.01 lies on the round of the leading edge (FS 200 at WL 80): keep aft of FS 201.2")
	require.ErrorContains(t, s.Outside(UV{199, 80}), "FS 199 lies ahead of the leading edge")
}

// boxBody is a square tube of 20 in, its corners sharp.
func boxBody(t testing.TB) *FairedSkin {
	t.Helper()
	c := PolylineSection{[]SectionPoint{{BL: 0, WL: 20}, {BL: 10, WL: 20}, {BL: 10, WL: 0}, {BL: 0, WL: 0}}}
	s, err := NewFairedSkin([]FairedSection{{0, c}, {100, c}}, Fairing{})
	require.NoError(t, err)
	return s
}

// Failure mode: hard edges. The flat goes over them true to length, and the fold is
// told with its angle and place; it is not seen from film that stops short of it.
func TestSharpestFold(t *testing.T) {
	s := boxBody(t)
	m := flattenAt(t, s, g.Right, g.SidePosition{FS: 50, WL: 15}, box(20, 16))
	p, ok := m.PositionOf(g.Point{X: 0, Y: 8}) // 5 up the side, 3 in over the top
	require.True(t, ok)
	require.InDelta(t, 0, p.To(g.Position{FS: 50, BL: 7, WL: 20}).Inches(), 1e-6)
	fold := m.SharpestFold(box(20, 16))
	require.InDelta(t, math.Pi/2, fold.Angle, 1e-9)
	require.InDelta(t, 10, fold.At.BL.Inches(), 1e-9)
	require.InDelta(t, 20, fold.At.WL.Inches(), 1e-9)
	require.Zero(t, m.SharpestFold(box(20, 9)).Angle)
	// along the body: a cone of slope 1/6 behind a cylinder
	taper, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: 30}, {FS: 60, Radius: 30}, {FS: 180, Radius: 10}})
	require.NoError(t, err)
	fold = flattenAt(t, taper, g.Left, g.SidePosition{FS: 57}, box(12, 6)).SharpestFold(box(12, 6))
	require.InDelta(t, math.Atan(1.0/6), fold.Angle, 1e-9)
	require.InDelta(t, 60, fold.At.FS.Inches(), 1e-9)
}

// Failure mode: a path that leaves the panel stops, and tells how much is left.
func TestRefusePathLeavingPanel(t *testing.T) {
	_, err := Tape(plate(t, g.Left), UV{230, 80}, UV{270, 80}, 1e-3)
	require.ErrorContains(t, err, "FS 270 BL -0.8 WL 80 lies off the surface")
	_, err = Waterline(cylinder30(t), UV{100, -math.Pi / 2}, 25)
	require.ErrorContains(t, err, "the waterline runs off the surface at FS 120, 5.000 in short")
	_, err = AtGirth(cylinder30(t), UV{60, 1}, 200)
	require.ErrorContains(t, err, "200 in along the section runs past its end: there are 188.4956 in")
}

// mushroom is a body whose right half is hollow under an overhang.
func mushroom(t testing.TB) *FairedSkin {
	t.Helper()
	c := PolylineSection{[]SectionPoint{{BL: 0, WL: 20}, {BL: 10, WL: 18}, {BL: 10, WL: 12}, {BL: 3, WL: 14}, {BL: 3, WL: 5}, {BL: 0, WL: 4}}}
	s, err := NewFairedSkin([]FairedSection{{0, c}, {100, c}}, Fairing{})
	require.NoError(t, err)
	return s
}

// Failure mode: a ray that hits a hollow section several times. The outermost skin
// is taken, those behind it are listed.
func TestSideHitsOfHollowSection(t *testing.T) {
	for _, side := range []g.Side{g.Left, g.Right} {
		at := g.SidePosition{FS: 50, WL: 13}
		hits := SideHits(mushroom(t), side, at)
		require.Len(t, hits, 2)
		first, err := LocateSide(mushroom(t), side, at)
		require.NoError(t, err)
		require.InDelta(t, first.V, hits[0].V, 1e-12)
		for i, bl := range []float64{10, 3} {
			require.InDelta(t, 0, PointAt(mushroom(t), hits[i]).Sub(g.Vec3{X: 50, Y: side.Sign() * bl, Z: 13}).Norm(), 1e-9)
		}
		require.Len(t, SideHits(mushroom(t), side, g.SidePosition{FS: 50, WL: 16}), 1)
		require.Len(t, SideHits(mushroom(t), side, g.SidePosition{FS: 50, WL: 8}), 1)
		require.Empty(t, SideHits(mushroom(t), side, g.SidePosition{FS: 50, WL: 30}))
		require.Len(t, SideHits(cylinder30(t), side, g.SidePosition{FS: 50, WL: 0}), 1, "on a grid node")
		require.Len(t, SideHits(kittock(t), side, g.SidePosition{FS: 120, WL: 50}), 1, "on a hard line")
	}
}

// Failure mode: two nearly equal tapes both ways round. From the crown of a
// cylinder to 0.01 rad beside the keel both are known (parallel-line development).
func TestTapeBothWaysRound(t *testing.T) {
	p, err := Tape(cylinder30(t), UV{40, 0}, UV{80, math.Pi - 0.01}, 1e-4)
	require.NoError(t, err)
	require.InDelta(t, math.Hypot(40, 30*(math.Pi-0.01)), p.Length.Inches(), 1e-3)
	require.InDelta(t, math.Hypot(40, 30*(math.Pi+0.01)), p.Around.Inches(), 1e-3)
	require.Less(t, p.Around.Inches(), 1.02*p.Length.Inches())
}

// Failure mode: film that meets itself round a body. On a cylinder of 3 in radius
// it does so from 6 pi = 18.850 in on.
func TestSeam(t *testing.T) {
	s, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: 3}, {FS: 60, Radius: 3}})
	require.NoError(t, err)
	m := flattenAt(t, s, g.Left, g.SidePosition{FS: 30}, box(10, 20))
	_, _, meets := m.Seam(box(10, 18))
	require.False(t, meets)
	at, round, meets := m.Seam(box(10, 20))
	require.True(t, meets)
	require.InDelta(t, 6*math.Pi, round.Inches(), 5e-4)
	require.InDelta(t, 30, at.FS.Inches(), 5)
}

// hump is a body whose fourth section stands 510 in too high: a skin that no film follows.
func hump(t testing.TB) *FairedSkin {
	t.Helper()
	s, err := NewFairedSkin([]FairedSection{
		{20, EllipseSection{10, 11, 57}},
		{48, EllipseSection{13.5, 16, 56}},
		{96, EllipseSection{14.5, 18, 56}},
		{150, CircleSection{12, 570}},
		{200, CircleSection{6, 60}},
	}, Fairing{Law: Natural})
	require.NoError(t, err)
	return s
}

// Failure mode: a film that each step moves by feet, however many are taken. It is found
// out on the first net that does not come to rest; with all its nets it took over 1e11
// operations.
func TestRefuseRestless(t *testing.T) {
	s := hump(t)
	need := box(36.72, 21.5)
	f := flattening{s: s, chart: chartOf(s), at: frameAt(t, s, g.Left, g.SidePosition{FS: 110, WL: 188.357}), film: box(35.72, 20.5), need: need, cell: 6, tolerance: g.NetTolerance}
	var err error
	f.at.At, _ = f.chart.to(f.at.At)
	w := firstWindow(f.chart.Surface, f.at, need)
	for range 8 {
		var m *FlatMap
		if m, err = f.settle(w); err != nil || !m.widen(&w, need) {
			break
		}
	}
	require.ErrorContains(t, err, "does not come to rest")
	require.ErrorContains(t, err, "film of 36.72 x 21.50 in: ")
	require.Less(t, f.operations, mostOperations)
}

// A film that has taken its operations is refused before another net is relaxed.
func TestRefuseLongWork(t *testing.T) {
	s := pointed(t)
	f := flattening{s: s, chart: chartOf(s), at: frameAt(t, s, g.Left, g.SidePosition{FS: 50}), film: box(20, 12), need: box(20, 12), cell: 5, tolerance: g.NetTolerance, operations: mostOperations}
	_, err := f.settle(firstWindow(f.chart.Surface, f.at, f.need))
	require.ErrorContains(t, err, "within 20,000 nodes and 20 thousand million operations")
	require.InDelta(t, mostOperations, f.operations, 0)
}

// Strained film has fewer operations than film that lies.
func TestRefuseStrainedSooner(t *testing.T) {
	s := hump(t)
	f := flattening{s: s, chart: chartOf(s), at: frameAt(t, s, g.Left, g.SidePosition{FS: 110, WL: 188.357}), need: box(4, 4), cell: 1, tolerance: g.NetTolerance, operations: mostOfStrained}
	n := newNet(f.chart.Surface, firstWindow(f.chart.Surface, f.at, f.need), f.cell, fineness{})
	require.False(t, f.tooLong(n))
	f.strain = 2 * overstrained
	require.True(t, f.tooLong(n))
	require.ErrorContains(t, f.unsettled(), "3 thousand million operations")
}
