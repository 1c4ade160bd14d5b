package skin

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// flatKeeper keeps flats and counts those computed.
type flatKeeper struct {
	flats           map[string]*FlatMap
	asked, computed int
}

func (k *flatKeeper) keep(key string, flatten func() (*FlatMap, error)) (*FlatMap, error) {
	k.asked++
	if m, ok := k.flats[key]; ok {
		return m, nil
	}
	m, err := flatten()
	if err == nil {
		k.computed++
		if k.flats == nil {
			k.flats = map[string]*FlatMap{}
		}
		k.flats[key] = m
	}
	return m, err
}

type twoSidedBody struct {
	name string
	s    Surface
	at   g.SidePosition
}

func twoSidedBodies(t testing.TB) []twoSidedBody {
	return []twoSidedBody{
		{"cone", cone30to10(t), g.SidePosition{FS: 50, WL: 5}},
		{"stringers", kittock(t), g.SidePosition{FS: 180, WL: 52}},
		{"hollow stringers", kittock(t).WithSag(0.3), g.SidePosition{FS: 180, WL: 52}},
		{"spheroid, natural", fairedSpheroid(t, Natural, 10), g.SidePosition{FS: 12, WL: 4}},
		{"rounded rectangles, ruled", fairedSlab(t, Ruled), g.SidePosition{FS: 60, WL: 58}},
		{"mixed, monotone", fairedMixed(t, Fairing{Law: Monotone}), g.SidePosition{FS: 60, WL: 56}},
		{"mixed, natural with a break", fairedMixed(t, Fairing{Law: Natural, BreakFrames: []g.Station{90}}), g.SidePosition{FS: 92, WL: 58}},
		{"splines with a knuckle, clamped", fairedKnuckle(t, Clamped), g.SidePosition{FS: 70, WL: 52}},
	}
}

// What says that it has two like sides has them, point by point and normal by normal, in
// every panel and beyond one turn; its grid lines are mirror images to the last bit.
func TestTwoSidedSkinsAre(t *testing.T) {
	for _, c := range twoSidedBodies(t) {
		s := c.s.(twoSided)
		us, vs, period := c.s.Breaks()
		for j, v := range vs {
			require.Equal(t, vs[len(vs)-1-j]+0, s.opposite(v)+0, "%s: line %d", c.name, j)
		}
		for i := 0; i+1 < len(us); i++ {
			for j := 0; j+1 < len(vs); j++ {
				for _, turn := range []float64{0, period} {
					in := UV{(us[i] + us[i+1]) / 2, (vs[j]+vs[j+1])/2 + turn}
					for _, f := range []float64{0, 0.03, 0.3, 0.61, 0.9, 1} {
						uv := UV{us[i] + (1-f)*(us[i+1]-us[i]), vs[j] + f*(vs[j+1]-vs[j]) + turn}
						p, n := c.s.At(uv, in)
						q, m := c.s.At(UV{uv.U, s.opposite(uv.V)}, UV{in.U, s.opposite(in.V)})
						p.Y, n.Y = -p.Y, -n.Y
						require.InDelta(t, 0, p.Sub(q).Norm(), 1e-9, "%s at %v", c.name, uv)
						require.InDelta(t, 0, n.Sub(m).Norm(), 1e-9, "%s at %v", c.name, uv)
					}
				}
			}
		}
	}
}

// The second side is not relaxed, whichever is first. Its flat is the mirror image of the
// first to rounding, and the one that is computed for it as far as the relaxations of
// both sides agree: see TestFlatMirrors.
func TestFlatOfTheOtherSide(t *testing.T) {
	film := g.Rect{Min: g.Point{X: -9, Y: -4.1}, Max: g.Point{X: 12.3, Y: 6}} // no mirror image of itself
	need := film.Grown(0.25)
	for _, c := range twoSidedBodies(t) {
		for _, first := range []g.Side{g.Left, g.Right} {
			var k flatKeeper
			var flats [2]*FlatMap
			for n, side := range []g.Side{first, first.Other()} {
				uv, err := LocateSide(c.s, side, c.at)
				require.NoError(t, err)
				f, err := UpAt(c.s, uv, 0.2*side.Sign()) // turned to the nose on both
				require.NoError(t, err)
				film, need := film, need
				if side == g.Right {
					film, need = mirroredRect(film), mirroredRect(need)
				}
				got, err := FlattenKept(t.Context(), c.s, f, film, need, g.NetTolerance, k.keep)
				require.NoError(t, err)
				require.Equal(t, 1, k.computed, c.name)
				want, err := Flatten(t.Context(), c.s, f, film, need, g.NetTolerance)
				require.NoError(t, err)
				sameFlat(t, c.name+" "+side.String(), want, got, film)
				flats[n] = got
			}
			for _, p := range []g.Point{{}, {X: 5, Y: 2}, {X: -5, Y: -4}, {X: 8, Y: -3}, {X: -8, Y: 5}} {
				a, ok := flats[0].PositionOf(p)
				require.True(t, ok)
				b, ok := flats[1].PositionOf(g.Point{X: -p.X, Y: p.Y})
				require.True(t, ok)
				require.InDelta(t, 0, float64(a.To(b.Mirrored())), 1e-9, "%s at %v", c.name, p)
			}
			require.Equal(t, 2, k.asked)
		}
	}
}

// sameFlat compares two flats of one film: the way to the flat and back, strain and
// errors.
func sameFlat(t *testing.T, name string, want, got *FlatMap, film g.Rect) {
	t.Helper()
	const within = g.NetTolerance / 10
	for i := 0; i <= 12; i++ {
		for j := 0; j <= 12; j++ {
			q := g.Point{X: film.Min.X + film.Width()*float64(i)/12, Y: film.Min.Y + film.Height()*float64(j)/12}
			a, ok := want.ToSkin(q)
			b, too := got.ToSkin(q)
			require.Equal(t, ok, too, "%s at %v", name, q)
			if !ok {
				continue
			}
			require.InDelta(t, 0, PointAt(want.s, a).Sub(PointAt(got.s, b)).Norm(), within, "%s at %v", name, q)
			back, ok := got.ToFlat(a)
			require.True(t, ok, "%s at %v", name, q)
			require.InDelta(t, 0, back.Dist(q), within, "%s at %v", name, q)
		}
	}
	require.Equal(t, want.settled.Nodes, got.settled.Nodes, name)
	require.InDelta(t, want.Energy(), got.Energy(), 1e-6, name)
	require.InDelta(t, want.OutlineError().Net, got.OutlineError().Net, within, name)
	require.InDelta(t, want.OutlineError().Holding, got.OutlineError().Holding, within, name)
	require.InDelta(t, 0, film.Min.Dist(got.film.Min)+film.Max.Dist(got.film.Max), 1e-8, name)
	a, b := want.Strain(film), got.Strain(film)
	require.InDelta(t, a.Tension, b.Tension, 1e-5, name)
	require.InDelta(t, a.Compression, b.Compression, 1e-5, name)
	ra, rb := want.StrainRange(film, a), got.StrainRange(film, b)
	require.InDelta(t, ra.TensionMost, rb.TensionMost, 1e-5, name)
	require.InDelta(t, ra.CompressionMost, rb.CompressionMost, 1e-5, name)
	require.Equal(t, want.Exact(film), got.Exact(film), name)
}

// Film that is no mirror image of that of the other side is relaxed by itself: another
// outline, another anchor, another turn.
func TestFlatOfUnlikeFilm(t *testing.T) {
	s := fairedSpheroid(t, Natural, 10)
	film := g.Rect{Min: g.Point{X: -9, Y: -4.1}, Max: g.Point{X: 12.3, Y: 6}}
	var k flatKeeper
	lay := func(side g.Side, fs g.Station, angle float64, film g.Rect) {
		uv, err := LocateSide(s, side, g.SidePosition{FS: fs, WL: 4})
		require.NoError(t, err)
		f, err := UpAt(s, uv, angle)
		require.NoError(t, err)
		_, err = FlattenKept(t.Context(), s, f, film, film, g.NetTolerance, k.keep)
		require.NoError(t, err)
	}
	lay(g.Left, 12, 0.2, film)
	lay(g.Right, 12, -0.2, film)
	require.Equal(t, 2, k.computed, "the same outline, not mirrored")
	lay(g.Right, 12, 0.2, mirroredRect(film))
	require.Equal(t, 3, k.computed, "the same turn, not mirrored")
	lay(g.Right, 12.01, -0.2, mirroredRect(film))
	require.Equal(t, 4, k.computed, "further aft")
	lay(g.Right, 12, -0.2, mirroredRect(film))
	require.Equal(t, 4, k.computed, "the mirror image")
}

// lopsided is a tube whose right side is fuller than its left: no two like sides, though
// its sections are closed.
type lopsided struct{}

func (lopsided) Breaks() (u, v []float64, period float64) {
	return []float64{0, 120}, []float64{-math.Pi, math.Pi}, 2 * math.Pi
}
func (lopsided) Contains(uv UV) bool { return uv.U >= 0 && uv.U <= 120 }
func (lopsided) At(uv, _ UV) (g.Vec3, g.Vec3) {
	// radius 24 + u/20 + 2 sin v
	sin, cos := math.Sincos(uv.V)
	r := 24 + uv.U/20 + 2*sin
	su := g.Vec3{X: 1, Y: sin / 20, Z: cos / 20}
	sv := g.Vec3{Y: r*cos + 2*cos*sin, Z: -r*sin + 2*cos*cos}
	return g.Vec3{X: uv.U, Y: r * sin, Z: r * cos}, su.Cross(sv).Unit()
}

// On skin of unlike sides, and where each side is a skin by itself, nothing is shared.
func TestNoFlatOfTheOtherSide(t *testing.T) {
	both := func(s Surface) [2]Surface { return [2]Surface{s, s} }
	for _, c := range []struct {
		name string
		s    [2]Surface // left, right
		uv   [2]UV
	}{
		{"lopsided", both(lopsided{}), [2]UV{{60, -1.4}, {60, 1.4}}},
		{"fin", [2]Surface{fin(t, g.Left, naca(t, "0012"), true), fin(t, g.Right, naca(t, "0012"), true)}, [2]UV{{240, 78}, {240, 78}}},
		{"wing", [2]Surface{wing(t, g.Left, Upper, naca(t, "2412")), wing(t, g.Right, Upper, naca(t, "2412"))}, [2]UV{{100, -100}, {100, 100}}},
	} {
		var k flatKeeper
		for i, s := range c.s {
			f, err := FrameRight(s, c.uv[i], g.Vec3{X: 1}, 0)
			require.NoError(t, err, c.name)
			got, err := FlattenKept(t.Context(), s, f, box(8, 6), box(8, 6), g.NetTolerance, k.keep)
			require.NoError(t, err, c.name)
			want, err := Flatten(t.Context(), s, f, box(8, 6), box(8, 6), g.NetTolerance)
			require.NoError(t, err)
			require.Equal(t, want.flat, got.flat, "%s: to the last bit", c.name)
		}
		require.Zero(t, k.asked, c.name)
	}
}

// Work that fails on the right says so of the right.
func TestFlatOfTheOtherSideFails(t *testing.T) {
	s := cone30to10(t)
	var k flatKeeper
	for _, side := range []g.Side{g.Left, g.Right} {
		f := frameAt(t, s, side, g.SidePosition{FS: 50, WL: 5})
		_, err := FlattenKept(t.Context(), s, f, box(2000, 20), box(2000, 20), g.NetTolerance, k.keep)
		require.ErrorContains(t, err, "BL ")
		require.Equal(t, side == g.Left, strings.Contains(err.Error(), "BL -"), "%v: %v", side, err)
	}
	require.Zero(t, k.computed)
}
