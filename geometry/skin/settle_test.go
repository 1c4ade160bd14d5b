package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// starBox is the extent of a star and bars whose disc is 30 in, border included:
// 4.152113 R by 2.25 R.
var starBox = box(4.152113*15, 2.25*15)

// The flat of a 30 in star and bars on a 30 by 90 spheroid: halving the net once
// more than it asked for moves no point by 0.001 in.
func TestFlatStandsUnderHalving(t *testing.T) {
	s := spheroid{30, 90}
	for _, at := range []g.SidePosition{{FS: 0, WL: 0}, {FS: 30, WL: 6}} {
		uv, err := LocateSide(s, g.Left, at)
		require.NoError(t, err)
		f, err := UpAt(s, uv, 0)
		require.NoError(t, err)
		m, err := Flatten(t.Context(), s, f, starBox, starBox, g.NetTolerance)
		require.NoError(t, err)
		again := flattening{s: s, chart: m.chart, at: f, film: starBox, cell: starBox.Width() / 4, tolerance: g.NetTolerance}
		again.cell = math.Min(widestCell, again.cell)
		level := int(math.Round(math.Log2(again.cell / m.settled.Spacing)))
		finer := &FlatMap{s: s, chart: m.chart, film: starBox, net: newNet(s, window{m.net.us[0], m.net.us[m.net.nu()-1], m.net.vs[0], m.net.vs[m.net.nv()-1]}, again.cell, fineness{level + 1, level + 1})}
		finer.settled.Nodes = finer.net.nodes()
		require.NoError(t, finer.relaxFilm(finer.net.interpolateFrom(m.net, m.flat), &again))
		require.Greater(t, finer.settled.Nodes, 3*m.settled.Nodes)
		worst := 0.0
		for i := 0; i <= 40; i++ {
			a := 2 * math.Pi * float64(i) / 40
			for _, k := range []float64{0.3, 1} {
				p := g.Point{X: k * starBox.Max.X * math.Cos(a), Y: k * starBox.Max.Y * math.Sin(a)}
				uv, ok := m.ToSkin(p)
				require.True(t, ok)
				q, ok := finer.ToFlat(uv)
				require.True(t, ok)
				worst = math.Max(worst, p.Dist(q))
			}
		}
		t.Logf("FS %v: %d nodes against %d, moved %.2g in (said %.2g)", at.FS, m.settled.Nodes, finer.settled.Nodes, worst, m.settled.Moved)
		require.LessOrEqual(t, worst, g.NetTolerance)
	}
}

// The flat of a long film that is halved by one direction at a time lies within the
// tolerance of the one that is halved both ways.
func TestLongFilmHalvedByDirections(t *testing.T) {
	s := spheroid{30, 90}
	uv, err := LocateSide(s, g.Left, g.SidePosition{FS: 5, WL: 8})
	require.NoError(t, err)
	at, err := UpAt(s, uv, 0)
	require.NoError(t, err)
	film := box(80, 6)
	m, err := Flatten(t.Context(), s, at, film, film, g.NetTolerance)
	require.NoError(t, err)
	f := flattening{s: s, chart: m.chart, at: at, film: film, cell: widestCell, tolerance: g.NetTolerance / 4}
	w := window{m.net.us[0], m.net.us[m.net.nu()-1], m.net.vs[0], m.net.vs[m.net.nv()-1]}
	base := &FlatMap{s: s, chart: m.chart, film: film, net: newNet(s, w, f.cell, fineness{1, 1})}
	require.NoError(t, base.relaxFilm(base.net.interpolateFrom(m.net, m.flat), &f))
	got, err := f.settleLong(w, base, 1)
	require.NoError(t, err)
	require.LessOrEqual(t, got.settled.Moved, f.tolerance)
	worst := 0.0
	for _, o := range m.outline(outlinePlaces) {
		p, _, _ := got.net.interpolate(got.flat, o.at)
		worst = math.Max(worst, o.flat.Dist(p))
	}
	t.Logf("%d nodes against %d, %.2g in apart", got.net.nodes(), m.net.nodes(), worst)
	require.LessOrEqual(t, worst, g.NetTolerance)
}

// A round patch of radius w laid flat on a sphere of radius R: hoop strain at the
// edge -w^2/8R^2, centre (1-nu) w^2/16R^2 (thin elastic sheet, small strain; from
// memory). Here the patch is square and the strain is taken inside the circle, so
// only the centre is compared, and the sign of the edge.
func TestStrainOnSphere(t *testing.T) {
	s := barrel{30, 30, 29}
	m := flattenAt(t, s, g.Left, g.SidePosition{FS: 0, WL: 0}, box(16, 16))
	e := m.Strain(box(16, 16))
	require.Greater(t, e.Compression, 0.0)
	require.Greater(t, e.Tension, 0.0)
	centre := m.Strain(box(2, 2))
	require.Less(t, centre.Compression, 1e-3)
	// between the discs drawn inside and about the square
	require.Greater(t, centre.Tension, (1-poisson)*8*8/(16*30*30))
	require.Less(t, centre.Tension, (1-poisson)*2*8*8/(16*30*30))
}

func BenchmarkFlatten_spheroid_star30in_tol0p001(b *testing.B) {
	s := spheroid{30, 90}
	uv, err := LocateSide(s, g.Left, g.SidePosition{FS: 0, WL: 0})
	require.NoError(b, err)
	f, err := UpAt(s, uv, 0)
	require.NoError(b, err)
	for b.Loop() {
		if _, err := Flatten(b.Context(), s, f, starBox, starBox, g.NetTolerance); err != nil {
			b.Fatal(err)
		}
	}
}
