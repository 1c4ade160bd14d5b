package skin

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	g "maskloft/geometry"
	_ "maskloft/geometry/trial"
)

// body is a surface with a range of parameters to draw points from.
type body struct {
	name string
	s    Surface
	w    window
	// convex bodies: a taut tape is a pressed one
	full bool
}

func bodies(t testing.TB) []body {
	t.Helper()
	sec := func(fs float64) StringerSection {
		return StringerSection{FS: g.Station(fs), Points: []g.Position{{BL: 0, WL: 10}, {BL: 10, WL: 10}, {BL: 10, WL: 1}, {BL: 9.75, WL: 0}, {BL: 10, WL: -1}, {BL: 10, WL: -10}, {BL: 0, WL: -10}}}
	}
	valley, err := NewStringerSkin([]StringerSection{sec(0), sec(60)})
	require.NoError(t, err)
	oblique, err := NewRoundSkin([]RoundSection{{FS: 10, Radius: 20, WL: 40}, {FS: 60, Radius: 20, WL: 40}, {FS: 150, Radius: 6, WL: 48}})
	require.NoError(t, err)
	return []body{
		{"cone", cone30to10(t), window{5, 115, -math.Pi, math.Pi}, true},
		{"round, three sections", oblique, window{15, 145, -math.Pi, math.Pi}, true},
		{"spheroid", spheroid{30, 90}, window{-80, 80, -math.Pi, math.Pi}, true},
		{"triaxial", triaxial{90, 40, 30}, window{-80, 80, -math.Pi, math.Pi}, true},
		{"barrel", barrel{30, 200, 80}, window{-75, 75, -math.Pi, math.Pi}, true},
		{"waist", waist{20, 100, 60}, window{-50, 50, -math.Pi, math.Pi}, false},
		{"stringers", kittock(t), window{125, 235, 0, 14}, false},
		{"valley", valley, window{5, 55, 0, 12}, false},
		{"hollow", hollow{30}, window{10, 90, -0.8, 0.8}, false},
	}
}

// draw returns a point of the body, on a lattice of 1/1024 of its range: points
// that nearly share a station or a line are another matter than random ones.
func (b body) draw(t *rapid.T, label string) UV {
	return UV{
		b.w.u0 + (b.w.u1-b.w.u0)*float64(rapid.IntRange(0, 1024).Draw(t, label+" U"))/1024,
		b.w.v0 + (b.w.v1-b.w.v0)*float64(rapid.IntRange(0, 1024).Draw(t, label+" V"))/1024,
	}
}

// worstOf collects the largest of some numbers, by name.
type worstOf map[string]float64

func (w worstOf) add(name string, x float64) { w[name] = math.Max(w[name], x) }

// A tape is as long one way as the other; never longer than over a third point;
// chord <= taut <= pressed; and on a full body taut is pressed.
func TestTapeProperties(t *testing.T) {
	all := bodies(t)
	worst := worstOf{}
	const tolerance = 1e-3
	rapid.Check(t, func(t *rapid.T) {
		b := all[rapid.IntRange(0, len(all)-1).Draw(t, "body")]
		p, q, r := b.draw(t, "A"), b.draw(t, "B"), b.draw(t, "C")
		tape := func(x, y UV) Pressed {
			out, err := Tape(b.s, x, y, tolerance)
			require.NoError(t, err, b.name)
			return out
		}
		pq, qp, pr, rq := tape(p, q), tape(q, p), tape(p, r), tape(r, q)
		back := math.Abs(float64(pq.Length - qp.Length))
		require.LessOrEqual(t, back, 2*tolerance, "%s: there and back", b.name)
		over := float64(pq.Length - pr.Length - rq.Length)
		require.LessOrEqual(t, over, 3*tolerance, "%s: a third point is no short cut", b.name)
		for _, x := range []struct {
			tape Pressed
			a, b UV
		}{{pq, p, q}, {pr, p, r}, {rq, r, q}} {
			chord := PointAt(b.s, x.a).Sub(PointAt(b.s, x.b)).Norm()
			taut := float64(PullTaut(b.s, x.tape).Length)
			worst.add(b.name+": chord over taut", chord-taut)
			require.LessOrEqual(t, chord, taut+2*tolerance, "%s: chord and taut", b.name)
			require.LessOrEqual(t, taut, float64(x.tape.Length)+1e-12, "%s: taut and pressed", b.name)
			require.LessOrEqual(t, x.tape.Length, x.tape.Around+2*tolerance, "%s: the other way round", b.name)
			if b.full {
				require.InDelta(t, float64(x.tape.Length), taut, 1e-5, "%s: nothing lifts", b.name)
			}
		}
		worst.add("back", back)
		worst.add("over", over)
	})
	t.Logf("worst %v", worst)
}

// marked is a flat map with the box it was asked for.
type marked struct {
	name  string
	m     *FlatMap
	box   g.Rect
	exact bool
}

func markedBodies(t testing.TB) []marked {
	t.Helper()
	tube := faired(t, Fairing{}, FairedSection{0, EllipseSection{20, 34, 0}}, FairedSection{120, EllipseSection{20, 34, 0}})
	crate, err := NewStringerSkin([]StringerSection{
		{FS: 0, Points: []g.Position{{WL: 20}, {BL: 12, WL: 18}, {BL: 15, WL: 0}, {BL: 12, WL: -18}, {WL: -20}}},
		{FS: 120, Points: []g.Position{{WL: 20}, {BL: 12, WL: 18}, {BL: 15, WL: 0}, {BL: 12, WL: -18}, {WL: -20}}}})
	require.NoError(t, err)
	var out []marked
	for _, c := range []struct {
		name  string
		s     Surface
		at    g.SidePosition
		exact bool
	}{
		{"cylinder", cylinder30(t), g.SidePosition{FS: 60, WL: 4}, true},
		{"cone", cone30to10(t), g.SidePosition{FS: 50, WL: 5}, true},
		{"elliptical tube", tube, g.SidePosition{FS: 60, WL: 3}, true},
		{"folded tube", crate, g.SidePosition{FS: 60, WL: 3}, true},
		{"spheroid", spheroid{30, 90}, g.SidePosition{FS: 20, WL: 4}, false},
		{"barrel", barrel{30, 200, 80}, g.SidePosition{FS: 5, WL: 4}, false},
		{"triaxial", triaxial{90, 40, 30}, g.SidePosition{FS: 25, WL: 4}, false},
	} {
		for _, side := range []g.Side{g.Left, g.Right} {
			b := box(30, 22)
			out = append(out, marked{c.name + " " + side.String(), flattenAt(t, c.s, side, c.at, b), b, c.exact})
		}
	}
	return out
}

// There and back between flat and skin; and where a flat is exact, a tape on the
// skin is the straight line on the film.
func TestFlatProperties(t *testing.T) {
	all := markedBodies(t)
	worst := worstOf{}
	rapid.Check(t, func(t *rapid.T) {
		k := all[rapid.IntRange(0, len(all)-1).Draw(t, "map")]
		draw := func(label string) g.Point {
			return g.Point{
				X: k.box.Min.X + k.box.Width()*float64(rapid.IntRange(0, 999).Draw(t, label+" x"))/999,
				Y: k.box.Min.Y + k.box.Height()*float64(rapid.IntRange(0, 999).Draw(t, label+" y"))/999,
			}
		}
		p, q := draw("P"), draw("Q")
		a, ok := k.m.ToSkin(p)
		require.True(t, ok, k.name)
		b, ok := k.m.ToSkin(q)
		require.True(t, ok, k.name)
		back, ok := k.m.ToFlat(a)
		require.True(t, ok, k.name)
		worst.add("flat to flat", back.Dist(p))
		require.LessOrEqual(t, back.Dist(p), 1e-9, k.name)
		again, ok := k.m.ToSkin(back)
		require.True(t, ok, k.name)
		gap := PointAt(k.m.s, again).Sub(PointAt(k.m.s, a)).Norm()
		worst.add("skin to skin", gap)
		require.LessOrEqual(t, gap, 1e-9, k.name)

		for _, d := range []float64{a.U - b.U, a.V - b.V} {
			if d != 0 && math.Abs(d) < 1e-6 {
				t.Skip("nearly on one line of the net")
			}
		}
		tape, err := Tape(k.m.s, a, b, 1e-5)
		require.NoError(t, err)
		d := float64(tape.Length) - p.Dist(q)
		if k.exact {
			worst.add("tape on exact flats", math.Abs(d))
			require.LessOrEqual(t, math.Abs(d), 1e-4, k.name)
			return
		}
		e := k.m.Strain(k.box)
		// film is stretched by Tension at most, so the skin is no longer than that
		require.LessOrEqual(t, float64(tape.Length), p.Dist(q)*(1+e.Tension)*1.0005+1e-5, k.name)
		require.GreaterOrEqual(t, float64(tape.Length), p.Dist(q)*(1-e.Compression)*0.9995-1e-5, k.name)
	})
	t.Logf("worst %v", worst)
}

// Left and right are mirror images: the same body marked on both sides at mirrored
// points has mirrored flats.
func TestFlatMirrors(t *testing.T) {
	all := markedBodies(t)
	worst := worstOf{}
	rapid.Check(t, func(t *rapid.T) {
		i := 2 * rapid.IntRange(0, len(all)/2-1).Draw(t, "body")
		l, r := all[i], all[i+1]
		p := g.Point{
			X: rapid.Float64Range(l.box.Min.X, l.box.Max.X).Draw(t, "x"),
			Y: rapid.Float64Range(l.box.Min.Y, l.box.Max.Y).Draw(t, "y"),
		}
		a, ok := l.m.PositionOf(p)
		require.True(t, ok)
		b, ok := r.m.PositionOf(g.Point{X: -p.X, Y: p.Y})
		require.True(t, ok)
		d := float64(a.To(b.Mirrored()))
		worst.add(l.name, d)
		limit := g.NetTolerance / 10
		if l.exact {
			limit = 1e-6 // what the relaxation leaves, a thousandth of the tolerance
		}
		require.LessOrEqual(t, d, limit, "%s and %s", l.name, r.name)
	})
	t.Logf("worst %v", worst)
}

// small is the scale of the body before it is scaled up: the marking is 2 by 1.4 in.
const small = 0.1

// rounds is a cone moved along and up and scaled.
func rounds(t require.TestingT, fs, wl, k float64) *RoundSkin {
	s, err := NewRoundSkin([]RoundSection{
		{FS: g.Station(fs), Radius: g.Length(30 * k), WL: g.Waterline(wl)},
		{FS: g.Station(fs + 60*k), Radius: g.Length(24 * k), WL: g.Waterline(wl + 3*k)},
		{FS: g.Station(fs + 120*k), Radius: g.Length(10 * k), WL: g.Waterline(wl + 6*k)}})
	require.NoError(t, err)
	return s
}

// flatOf returns the flat of a box of 20 by 14, times k, at FS 30 WL 4 of rounds.
func flatOf(t require.TestingT, side g.Side, fs, wl, k float64) *FlatMap {
	s := rounds(t, fs, wl, k)
	uv, err := LocateSide(s, side, g.SidePosition{FS: g.Station(fs + 30*k), WL: g.Waterline(wl + 4*k)})
	require.NoError(t, err)
	f, err := UpAt(s, uv, 0.2)
	require.NoError(t, err)
	m, err := Flatten(context.Background(), s, f, box(20*k, 14*k), box(20*k, 14*k), g.NetTolerance*k)
	require.NoError(t, err)
	return m
}

// A body moved along FS and WL, marking and all, has the same flat; a body and
// marking scaled, as from inches to millimetres, a scaled one.
func TestFlatMovesAndScales(t *testing.T) {
	before := map[g.Side]*FlatMap{}
	for _, side := range []g.Side{g.Left, g.Right} {
		before[side] = flatOf(t, side, 0, 0, small)
	}
	worst := worstOf{}
	rapid.Check(t, func(t *rapid.T) {
		side := g.Side(rapid.IntRange(0, 1).Draw(t, "side"))
		fs, wl := rapid.Float64Range(-300, 300).Draw(t, "fs"), rapid.Float64Range(-100, 100).Draw(t, "wl")
		k := rapid.SampledFrom([]float64{1, 25.4}).Draw(t, "scale")
		m := flatOf(t, side, fs, wl, k*small)
		for _, p := range []g.Point{{X: 1, Y: 0.7}, {X: -1, Y: 0.7}, {X: -1, Y: -0.7}, {X: 1, Y: -0.7}, {X: 0.4, Y: -0.1}} {
			want, ok := before[side].PositionOf(p)
			require.True(t, ok)
			got, ok := m.PositionOf(g.Point{X: k * p.X, Y: k * p.Y})
			require.True(t, ok)
			d := got.Vec().Sub(want.Vec().Scale(k).Add(g.Vec3{X: fs, Z: wl})).Norm() / k
			if k == 1 {
				worst.add("moved", d)
				require.LessOrEqual(t, d, 1e-6, "moved by %v, %v", fs, wl)
			} else {
				worst.add("scaled", d)
				require.LessOrEqual(t, d, 1e-6, "scaled by %v", k)
			}
		}
	})
	t.Logf("worst %v", worst)
}
