package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// kittock is the invented demo fuselage: straight stringers from FS 120 to 240.
func kittock(t testing.TB) *StringerSkin {
	at := func(fs float64, yz ...float64) StringerSection {
		s := StringerSection{FS: g.Station(fs)}
		for i := 0; i < len(yz); i += 2 {
			s.Points = append(s.Points, g.Position{FS: s.FS, BL: g.ButtLine(yz[i]), WL: g.Waterline(yz[i+1])})
		}
		return s
	}
	s, err := NewStringerSkin([]StringerSection{
		at(120, 0, 72, 8, 70.25, 13, 65, 14.25, 57.5, 14.5, 50, 13.75, 42.5, 12.5, 36, 0, 35.25),
		at(240, 0, 62, 1, 61.5, 1.5, 60, 1.625, 57.5, 1.625, 55, 1.5, 52.5, 1.375, 50, 0, 49.75),
	})
	require.NoError(t, err)
	return s
}

// The table of offsets gives girths: chords over straight bays (closed form).
func TestStringerGirths(t *testing.T) {
	s := kittock(t)
	for _, c := range []struct{ fs, half, longerons float64 }{
		{120, 57.226, 29.264}, {168, 39.894, 21.547}, {192, 31.245, 17.693}, {240, 14.106, 10.009},
	} {
		require.InDelta(t, c.half, float64(Girth(s, g.Station(c.fs), 0, 7)), 0.0006)
		require.InDelta(t, c.longerons, float64(Girth(s, g.Station(c.fs), 2, 6)), 0.0006)
		require.InDelta(t, c.half, float64(Girth(s, g.Station(c.fs), 7, 14)), 0.0006, "the left side is the mirror image")
	}
}

// A flat over several bays: lengths of straight lines inside one bay are true,
// and both sides are mirror images of each other.
func TestFlatOfBays(t *testing.T) {
	s := kittock(t)
	left := flattenAt(t, s, g.Left, g.SidePosition{FS: 184, WL: 53}, box(22, 16))
	right := flattenAt(t, s, g.Right, g.SidePosition{FS: 184, WL: 53}, box(22, 16))
	strain := left.Strain(box(22, 16))
	require.Less(t, strain.Compression, 1e-3)
	for _, at := range []g.SidePosition{{FS: 176, WL: 50}, {FS: 190, WL: 57}, {FS: 186, WL: 47.5}} {
		ul, err := LocateSide(s, g.Left, at)
		require.NoError(t, err)
		ur, err := LocateSide(s, g.Right, at)
		require.NoError(t, err)
		require.InDelta(t, PointAt(s, ul).Y, -PointAt(s, ur).Y, 1e-9)
		pl, ok := left.ToFlat(ul)
		require.True(t, ok)
		pr, ok := right.ToFlat(ur)
		require.True(t, ok)
		require.InDelta(t, pl.X, -pr.X, 1e-6)
		require.InDelta(t, pl.Y, pr.Y, 1e-6)
		require.InDelta(t, pl.X, at.FS.Inches()-184, 0.2, "aft is to the reader's right on the left side")
	}
	t.Logf("strain %+v settled %+v", strain, left.Settled())
}

func TestFlatOfPlate(t *testing.T) {
	outline := []g.SidePosition{{FS: 200, WL: 60}, {FS: 240, WL: 60}, {FS: 240, WL: 95}, {FS: 220, WL: 95}}
	for _, side := range []g.Side{g.Left, g.Right} {
		s, err := NewPlateSkin(side, 1.6, outline)
		require.NoError(t, err)
		m := flattenAt(t, s, side, g.SidePosition{FS: 225, WL: 75}, box(10, 10))
		require.True(t, m.Strain(box(10, 10)).Exact(g.ExactStrain))
		pos, ok := m.PositionOf(g.Point{X: 3, Y: 4})
		require.True(t, ok)
		require.InDelta(t, 225+side.Reading()*3, pos.FS.Inches(), 1e-8)
		require.InDelta(t, 79, pos.WL.Inches(), 1e-8)
		require.InDelta(t, side.Sign()*0.8, pos.BL.Inches(), 1e-12)
	}
}

func BenchmarkFlatten_stringers_22x16in_tol0p001(b *testing.B) {
	s := kittock(b)
	for i := 0; i < b.N; i++ {
		flattenAt(b, s, g.Left, g.SidePosition{FS: 184, WL: 53}, box(22, 16))
	}
}

func BenchmarkFlatten_cone_40x30in_tol0p001(b *testing.B) {
	s := cone30to10(b)
	for i := 0; i < b.N; i++ {
		flattenAt(b, s, g.Left, g.SidePosition{FS: 50, WL: 5}, box(40, 30))
	}
}

// A square tube whose sides of 20 in hang hollow by 1/2 in: the middle of a side is
// 1/2 in in, the girth of a side is that of a parabola of span 20 and rise 1/2
// (closed form), and the trough unrolls exactly. A taut tape bridges it.
func TestSag(t *testing.T) {
	sec := func(fs float64) StringerSection {
		return StringerSection{FS: g.Station(fs), Points: []g.Position{{BL: 0, WL: 10}, {BL: 10, WL: 10}, {BL: 10, WL: -10}, {BL: 0, WL: -10}}}
	}
	tube, err := NewStringerSkin([]StringerSection{sec(0), sec(60)})
	require.NoError(t, err)
	s := tube.WithSag(0.5)
	uv, err := LocateSide(s, g.Left, g.SidePosition{FS: 30, WL: 0})
	require.NoError(t, err)
	require.InDelta(t, -9.5, PointAt(s, uv).Y, 1e-9)
	// parabola y = 4 h x (l-x)/l^2: half the slope at the ends is 2h/l
	h, l := 0.5, 20.0
	a := 4 * h / l
	want := l/2*math.Sqrt(1+a*a) + l/(2*a)*math.Asinh(a)
	require.InDelta(t, want, float64(Girth(s, 30, 1, 2)), 1e-5)
	m := flattenAt(t, s, g.Left, g.SidePosition{FS: 30, WL: 0}, box(12, 12))
	require.True(t, m.Strain(box(12, 12)).Exact(g.ExactStrain), "%+v", m.Strain(box(12, 12)))
	p, err := Tape(s, UV{30, 1}, UV{30, 2}, 1e-5)
	require.NoError(t, err)
	require.InDelta(t, want, float64(p.Length), 1e-4)
	taut := PullTaut(s, p)
	require.InDelta(t, 20, float64(taut.Length), 1e-4)
	require.InDelta(t, 0.5, float64(taut.Spans[0].Gap), 1e-3)
	// the narrow bays hang by the square of their width
	p0, _ := s.At(UV{30, 0.5}, UV{30, 0.5})
	require.InDelta(t, 10-0.5/4, p0.Z, 1e-9)
}
