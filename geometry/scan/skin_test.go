package scan

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/geometry/skin"

	g "maskloft/geometry"
)

func scanSkin(t testing.TB, s *Scan) (*ScanSkin, ScanSkinReport) {
	t.Helper()
	k, report, err := NewScanSkin(t.Context(), s, ScanGridSpacing{})
	require.NoError(t, err)
	return k, report
}

// scanError returns the largest distance of the skin of a scan from the body of
// revolution that was scanned, square to it, and of the normals, between two
// stations, at places that lie on no grid.
func scanError(k *ScanSkin, s skin.Surface, from, to float64) (gap, normal float64) {
	for u := from; u <= to; u += (to - from) / 41 {
		for v := -3.1; v < 3.1; v += 0.173 {
			if !k.Contains(skin.UV{U: u, V: v}) {
				continue
			}
			p, n := k.At(skin.UV{U: u, V: v}, skin.UV{U: u, V: v})
			c, _ := s.At(skin.UV{U: u, V: 0}, skin.UV{U: u, V: 0}) // on the crown
			d, _ := s.At(skin.UV{U: u, V: math.Pi}, skin.UV{U: u, V: math.Pi})
			q, m := s.At(skin.UV{U: u, V: math.Atan2(p.Y, p.Z-(c.Z+d.Z)/2)}, skin.UV{U: u, V: v})
			gap, normal = math.Max(gap, math.Abs(p.Sub(q).Dot(m))), math.Max(normal, n.Sub(m).Norm())
		}
	}
	return
}

// The skin of a regular scan closes in on the body with the power of two and
// a half of the size of the triangles; of an irregular one, and at open ends, where normals
// lean, with the second, far below the hollows of the triangles themselves
// (chord and arc: h^2 / 8R).
func TestScanSkinOrder(t *testing.T) {
	b := barrel{30, 200, 80}
	for _, c := range []struct{ jitter, order, middle, ends float64 }{{0, 2.5, 5e-5, 1e-3}, {0.3, 1.5, 4e-3, 4e-3}} {
		last := 0.0
		for _, n := range []int{25, 50, 100} {
			// rays beside the rings of the mesh, not on them
			k, report, err := NewScanSkin(t.Context(), scanOf(b, n+1, n, c.jitter, 3), ScanGridSpacing{Step: g.Length(0.87 * 160 / float64(n))})
			require.NoError(t, err)
			middle, normal := scanError(k, b, -60, 60)
			ends, _ := scanError(k, b, -79.9, 79.9)
			t.Logf("jitter %g, %d x %d: middle %.1e in, normal %.1e; with ends %.1e in; residual %.1e, rms %.1e, rays %d x %d", c.jitter, n, n, middle, normal,
				ends, float64(report.Residual), float64(report.RMS), report.Stations, report.Angles)
			require.Zero(t, report.Missing)
			require.Empty(t, report.Overlaps)
			require.Empty(t, report.Steep)
			if last > 0 {
				require.Greater(t, math.Log2(last/middle), c.order)
			}
			last = middle
			if n == 100 {
				require.Less(t, middle, c.middle)
				require.Less(t, ends, c.ends)
				require.Less(t, ends, 0.2*math.Pow(2*math.Pi*30/100, 2)/8/30)
			}
		}
	}
}

// Where the body can be unrolled, so can the skin of its scan, nearly.
func TestScanSkinOfDevelopables(t *testing.T) {
	for name, s := range map[string]*skin.RoundSkin{"cylinder": cylinder30(t), "cone": cone30to10(t)} {
		k, report := scanSkin(t, scanOf(s, 25, 48, 0, 4))
		gap, _ := scanError(k, s, 1, 119)
		t.Logf("%s: skin %.1e in, residual %.1e", name, gap, float64(report.Residual))
		require.Less(t, gap, 1e-3, name)
		require.Less(t, float64(report.Residual), 1e-3)
		m := flattenAt(t, k, g.Left, g.SidePosition{FS: 50, WL: 3}, box(30, 20))
		strain := m.Strain(box(30, 20))
		t.Logf("%+v", strain)
		require.True(t, strain.Exact(4e-5), "%s %+v", name, strain)
	}
}

// scanThrough takes a mesh in aircraft axes the whole way: into the axes and unit
// of a scanner, into a file, back, matched, cleaned, skinned.
func scanThrough(t testing.TB, mesh *Scan, at ...g.Position) (*ScanSkin, ScanSkinReport) {
	t.Helper()
	move := scanMotion(g.Millimetre)
	moved := &Scan{Triangles: mesh.Triangles}
	for _, p := range mesh.Vertices {
		moved.Vertices = append(moved.Vertices, move(p))
	}
	s, err := ReadScan(bytes.NewReader(writeSTLBinary(moved, "solid")), "body.stl", ScanLimits{})
	require.NoError(t, err)
	_, _, err = NewScanSkin(t.Context(), s, ScanGridSpacing{})
	require.ErrorContains(t, err, "the scan is still in its own axes")
	var m []ScanMatch
	for _, p := range at {
		m = append(m, ScanMatch{Scan: move(p.Vec()), At: p})
	}
	f, err := FitScan(m, g.Millimetre)
	require.NoError(t, err)
	clean, report, err := f.Place(s).Clean(1e-3)
	require.NoError(t, err)
	require.Equal(t, len(mesh.Vertices), report.Vertices)
	return scanSkin(t, clean)
}

// A marking on the scan of a barrel against the same on the barrel: film and
// skin positions agree to 0.01 in over 30 x 12 in, on both sides.
func TestFlattenScanOfBarrel(t *testing.T) {
	b := barrel{30, 200, 80}
	need := box(30, 12)
	k, _ := scanThrough(t, scanOf(b, 101, 100, 0.3, 3), g.Position{FS: -70, WL: 20}, g.Position{FS: 70, WL: 21}, g.Position{FS: 0, BL: 30, WL: -4})
	for _, side := range []g.Side{g.Left, g.Right} {
		at := g.SidePosition{FS: 4, WL: 3}
		want, got := flattenAt(t, b, side, at, need), flattenAt(t, k, side, at, need)
		onSkin, film := 0.0, 0.0
		for x := -15.0; x <= 15; x += 3 {
			for y := -6.0; y <= 6; y += 2 {
				q := g.Point{X: x, Y: y}
				uv, ok := want.ToSkin(q)
				require.True(t, ok)
				p := skin.PointAt(b, uv)
				pos, ok := got.PositionOf(q)
				require.True(t, ok)
				onSkin = math.Max(onSkin, pos.Vec().Sub(p).Norm())
				f, ok := got.ToFlat(k.uvOf(p))
				require.True(t, ok)
				film = math.Max(film, f.Dist(q))
			}
		}
		t.Logf("%v: skin within %.1e in, film within %.1e in", side, onSkin, film)
		require.Less(t, onSkin, 0.01)
		require.Less(t, film, 0.01)
		es, ew := got.Strain(need), want.Strain(need)
		require.InDelta(t, ew.Compression, es.Compression, 2e-4)
		require.InDelta(t, ew.Tension, es.Tension, 2e-4)
	}
}

// The checks that every surface passes, over scans.
func TestScanSkinContract(t *testing.T) {
	taper, err := skin.NewRoundSkin([]skin.RoundSection{{FS: 10, Radius: 20, WL: 40}, {FS: 150, Radius: 6, WL: 48}})
	require.NoError(t, err)
	for _, c := range []struct {
		name string
		scan *Scan
		at   g.SidePosition
		side g.Side
	}{
		{"barrel", scanOf(barrel{30, 200, 80}, 61, 60, 0.3, 5), g.SidePosition{FS: 5, WL: 4}, g.Left},
		{"taper, not level", scanOf(taper, 61, 40, 0.2, 6), g.SidePosition{FS: 57, WL: 44}, g.Right},
	} {
		t.Run(c.name, func(t *testing.T) {
			k, _ := scanSkin(t, c.scan)
			us, vs, period := k.Breaks()
			require.Len(t, us, 2)
			require.InDelta(t, 2*math.Pi, period, 1e-15)
			random := rand.New(rand.NewPCG(9, 9))
			for i := 0; i < 2000; i++ {
				uv := skin.UV{U: us[0] + (us[1]-us[0])*random.Float64(), V: vs[0] + period*random.Float64()}
				p, n := k.At(uv, uv)
				require.InDelta(t, uv.U, p.X, 1e-12)
				require.InDelta(t, 1, n.Norm(), 1e-12)
				require.Positive(t, n.Dot(g.Vec3{Y: math.Sin(uv.V), Z: math.Cos(uv.V)}), "the normal is outward")
				su, sv, _ := skin.Tangents(k, uv)
				require.InDelta(t, 0, n.Dot(su.Unit()), 1e-8)
				require.InDelta(t, 0, n.Dot(sv.Unit()), 1e-8)
				require.InDelta(t, 0, p.Sub(skin.PointAt(k, skin.UV{U: uv.U, V: uv.V + period})).Norm(), 1e-9)
				require.True(t, k.Contains(uv))
				back := k.uvOf(p)
				require.InDelta(t, 0, skin.PointAt(k, back).Sub(p).Norm(), 1e-9)
			}
			require.False(t, k.Contains(skin.UV{U: us[0] - 0.01, V: 0}))
			require.False(t, k.Contains(skin.UV{U: us[1] + 0.01, V: 0}))
			uv, err := skin.LocateSide(k, c.side, c.at)
			require.NoError(t, err)
			p, n := k.At(uv, uv)
			require.InDelta(t, c.at.WL.Inches(), p.Z, 1e-9)
			near, gap := skin.Nearest(k, p.Add(n.Scale(1e-3)))
			require.InDelta(t, 1e-3, float64(gap), 5e-4)
			require.InDelta(t, 0, skin.PointAt(k, near).Sub(p).Norm(), 1e-2)
			m := flattenAt(t, k, c.side, c.at, box(14, 12))
			right, ok := m.PositionOf(g.Point{X: 3})
			require.True(t, ok)
			require.Greater(t, c.side.Reading()*(right.FS.Inches()-p.X), 2.5)
			a, _ := m.ToSkin(g.Point{X: -6, Y: -4})
			b, _ := m.ToSkin(g.Point{X: 5, Y: 5})
			ab, err := skin.Tape(k, a, b, 1e-3)
			require.NoError(t, err)
			ba, err := skin.Tape(k, b, a, 1e-3)
			require.NoError(t, err)
			require.InDelta(t, float64(ab.Length), float64(ba.Length), 2e-3)
			require.InDelta(t, math.Hypot(11, 9), float64(ab.Length), 0.02)
		})
	}
}

// Left against right: the skin of a mirrored scan is the mirrored skin.
func TestScanSkinMirrored(t *testing.T) {
	s := scanOf(barrel{30, 200, 80}, 41, 40, 0.3, 10)
	for i, p := range s.Vertices {
		s.Vertices[i] = g.Vec3{X: p.X, Y: p.Y*1.2 + 0.1*p.Z, Z: p.Z}
	}
	m := &Scan{Triangles: s.Triangles, placed: true}
	for _, p := range s.Vertices {
		m.Vertices = append(m.Vertices, g.Vec3{X: p.X, Y: -p.Y, Z: p.Z})
	}
	a, ra := scanSkin(t, s)
	b, rb := scanSkin(t, m)
	require.InDelta(t, float64(ra.Residual), float64(rb.Residual), 1e-9)
	for u := -78.0; u < 79; u += 7.1 {
		for v := -3.0; v < 3; v += 0.31 {
			p, q := skin.PointAt(a, skin.UV{U: u, V: v}), skin.PointAt(b, skin.UV{U: u, V: -v})
			require.InDelta(t, 0, p.Sub(g.Vec3{X: q.X, Y: -q.Y, Z: q.Z}).Norm(), 1e-9)
		}
	}
}

func TestScanSkinRefuses(t *testing.T) {
	tube := scanOf(barrel{30, 200, 80}, 11, 12, 0, 3)
	flat := &Scan{Vertices: []g.Vec3{{}, {Y: 1}, {Z: 1}}, Triangles: [][3]int32{{0, 1, 2}}, placed: true}
	apart := scanTube(4, 12, func(i, j int) g.Vec3 { // two short tubes far apart
		sin, cos := math.Sincos(2 * math.Pi * float64(j) / 12)
		return g.Vec3{X: []float64{0, 10, 490, 500}[i], Y: 20 * sin, Z: 20 * cos}
	}).without(func(p g.Vec3) bool { return p.X > 10 && p.X < 490 })
	for _, c := range []struct {
		s    *Scan
		step g.Length
		want string
	}{
		{&Scan{Vertices: tube.Vertices, Triangles: tube.Triangles}, 0, "the scan is still in its own axes: match three points of it with the aircraft"},
		{&Scan{placed: true}, 0, "the scan has no triangles"},
		{tube, -1, "grid step -1 in is not a length"},
		{flat, 0, "the scan is 0 in long and 1 in wide: it has no skin"},
		{apart, 0, "rays from the middle of the sections meet the scan, a tenth is needed: check the matched points"},
	} {
		_, _, err := NewScanSkin(t.Context(), c.s, ScanGridSpacing{Step: c.step})
		require.ErrorContains(t, err, c.want)
	}
}

func BenchmarkNewScanSkin_barrel_80000triangles(b *testing.B) {
	s := scanOf(barrel{30, 200, 80}, 201, 200, 0.3, 3)
	for i := 0; i < b.N; i++ {
		scanSkin(b, s)
	}
}

func BenchmarkCleanScan_barrel_80000triangles(b *testing.B) {
	s := scanOf(barrel{30, 200, 80}, 201, 200, 0.3, 3)
	for i := 0; i < b.N; i++ {
		if _, _, err := s.Clean(1e-3); err != nil {
			b.Fatal(err)
		}
	}
}
