package scan

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/geometry/skin"

	g "maskloft/geometry"
)

// One body three ways: faired through ellipses, scanned as a mesh of 20,000
// triangles, and built of many flats between many sections. The film of a patch of
// 24 x 12 in comes out the same within 0.01 in.
func TestFilmOfOneBodyThreeWays(t *testing.T) {
	ellipse := func(fs float64) skin.EllipseSection {
		k := 1 - math.Pow((fs-60)/200, 2)
		return skin.EllipseSection{HalfBreadth: g.Length(18 * k), HalfHeight: g.Length(24 * k), WL: 50}
	}
	var sections []skin.FairedSection
	for fs := 0.0; fs <= 120; fs += 10 {
		sections = append(sections, skin.FairedSection{FS: g.Station(fs), Curve: ellipse(fs)})
	}
	faired, err := skin.NewFairedSkin(sections, skin.Fairing{Law: skin.Natural})
	require.NoError(t, err)

	// the scan: 100 by 100 cells of two triangles
	const nu, nv = 100, 100
	scan := &Scan{}
	for i := 0; i <= nu; i++ {
		for j := 0; j < nv; j++ {
			_, _, period := faired.Breaks()
			scan.Vertices = append(scan.Vertices, skin.PointAt(faired, skin.UV{U: 120 * float64(i) / nu, V: period * float64(j) / nv}))
		}
	}
	for i := 0; i < nu; i++ {
		for j := 0; j < nv; j++ {
			a, b := int32(i*nv+j), int32(i*nv+(j+1)%nv)
			c, d := a+nv, b+nv
			scan.Triangles = append(scan.Triangles, [3]int32{a, c, d}, [3]int32{a, d, b})
		}
	}
	require.Len(t, scan.Triangles, 20000)
	fit, err := FitScan([]ScanMatch{
		{Name: "a", Scan: g.Vec3{}, At: g.Position{}}, {Name: "b", Scan: g.Vec3{X: 100}, At: g.Position{FS: 100}},
		{Name: "c", Scan: g.Vec3{Y: 100}, At: g.Position{BL: 100}}, {Name: "d", Scan: g.Vec3{Z: 100}, At: g.Position{WL: 100}},
	}, g.Inch)
	require.NoError(t, err)
	clean, _, err := fit.Place(scan).Clean(1e-4)
	require.NoError(t, err)
	scanned, _, err := NewScanSkin(t.Context(), clean, ScanGridSpacing{})
	require.NoError(t, err)

	// flats: 48 to the half section, a section every 2 in about the patch
	var flats []skin.StringerSection
	for fs := 60.0; fs <= 100; fs += 2 {
		e := ellipse(fs)
		sec := skin.StringerSection{FS: g.Station(fs)}
		for k := 0; k <= 48; k++ {
			sin, cos := math.Sincos(math.Pi * float64(k) / 48)
			sec.Points = append(sec.Points, g.Position{BL: g.ButtLine(math.Abs(float64(e.HalfBreadth) * sin)), WL: e.WL + g.Waterline(float64(e.HalfHeight)*cos)})
		}
		flats = append(flats, sec)
	}
	built, err := skin.NewStringerSkin(flats)
	require.NoError(t, err)

	at := g.SidePosition{FS: 80, WL: 55}
	one := flattenAt(t, faired, g.Left, at, box(24, 12))
	for name, s := range map[string]skin.Surface{"scan": scanned, "flats": built} {
		other := flattenAt(t, s, g.Left, at, box(24, 12))
		worst := 0.0
		for i := 0; i < 48; i++ {
			a := 2 * math.Pi * float64(i) / 48
			p := g.Point{X: 12 * math.Cos(a), Y: 6 * math.Sin(a)}
			pos, ok := one.PositionOf(p)
			require.True(t, ok)
			uv, err := skin.LocateSide(s, g.Left, g.SidePosition{FS: pos.FS, WL: pos.WL})
			require.NoError(t, err)
			q, ok := other.ToFlat(uv)
			require.True(t, ok)
			worst = math.Max(worst, p.Dist(q))
		}
		t.Logf("%s: outlines within %.4f in", name, worst)
		require.LessOrEqual(t, worst, 0.01, name)
	}
}
