package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// laid lays a whole window of a surface into the plane by one net of spacing h, its
// anchor in the middle.
func laid(t testing.TB, s Surface, w window, h float64) *FlatMap {
	t.Helper()
	at := UV{(w.u0 + w.u1) / 2, (w.v0 + w.v1) / 2}
	su, _, _ := Tangents(s, at)
	n := newNet(s, w, h, fineness{})
	m := &FlatMap{s: s, chart: chartOf(s), net: n, settled: Settled{Nodes: n.nodes(), Spacing: h}}
	require.NoError(t, m.relaxWindow(n.unfold(), &flattening{s: s, chart: m.chart, at: Frame{At: at, Up: su.Unit()}, tolerance: 1e-7}))
	return m
}

// in returns where a point of the skin lies in the flat.
func (m *FlatMap) in(t testing.TB, u, v float64) g.Point {
	t.Helper()
	p, ok := m.ToFlat(UV{u, v})
	require.True(t, ok, "U %v V %v", u, v)
	return p
}

// outlineOf returns the length and the area of a closed line of the flat that is
// given by its parameters over 0 to 1.
func outlineOf(t testing.TB, m *FlatMap, n int, at func(f float64) UV) (length, area float64) {
	t.Helper()
	last := g.Point{}
	for i := 0; i <= n; i++ {
		uv := at(float64(i) / float64(n))
		p := m.in(t, uv.U, uv.V)
		if i > 0 {
			length += p.Dist(last)
			area += last.Sub(g.Point{}).Cross(p.Sub(g.Point{})) / 2
		}
		last = p
	}
	return length, math.Abs(area)
}

// Radial-line development of right cones: slant, radii, sector and area of the
// whole pattern (any drafting text; the second body is the sample of Longfield,
// Sheet Metal Drafting, p. 128, the third the flower holder of pp. 81-82, its
// tip cut off).
func TestFlatOfFrustums(t *testing.T) {
	for _, c := range []struct{ r0, r1, h, slant, sector, area float64 }{
		{10, 6, 12, 12.6491106406735, 113.841995766062, 635.81364901095},
		{3, 1.5, 3, 3.3541020, 360 * 1.5 / 3.3541020, 47.4174994},
		{2, 0.2, 6.3, 7.2801099 * 0.9, 98.8996061, math.Pi * 2.2 * 7.2801099 * 0.9},
	} {
		s, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: g.Length(c.r0)}, {FS: g.Station(c.h), Radius: g.Length(c.r1)}})
		require.NoError(t, err)
		const v = 3.0 // of pi: a patch ends short of its own other border
		m := laid(t, s, window{0, c.h, -v, v}, c.r0/14)
		require.InEpsilon(t, c.slant, m.in(t, 0, 1).Dist(m.in(t, c.h, 1)), 1e-6)
		along := func(v float64) g.Vec { return m.in(t, c.h, v).Sub(m.in(t, 0, v)).Unit() }
		// the turn between generators 60 degrees apart, six times
		a := math.Acos(along(0).Dot(along(math.Pi/3))) * 6 * 180 / math.Pi
		require.InEpsilon(t, c.sector, a, 1e-6)
		// radii of the pattern: chord of 60 degrees of base over twice the sine
		for _, u := range []float64{0, c.h} {
			want := (c.r0 + (c.r1-c.r0)*u/c.h) * c.slant / (c.r0 - c.r1)
			chord := m.in(t, u, -1).Dist(m.in(t, u, -1+math.Pi/3))
			require.InEpsilon(t, want, chord/(2*math.Sin(c.sector*math.Pi/180/12)), 1e-6)
		}
		const n = 4000
		_, area := outlineOf(t, m, n, func(f float64) UV {
			switch k := 4 * f; {
			case k < 1:
				return UV{0, -v + 2*v*k}
			case k < 2:
				return UV{c.h * (k - 1), v}
			case k < 3:
				return UV{c.h, v - 2*v*(k-2)}
			default:
				return UV{c.h * (4 - k), -v}
			}
		})
		area *= math.Pi / v
		require.InEpsilon(t, c.area, area, 1e-5)
		t.Logf("sector %.9f wanted %.9f, area %.7f wanted %.7f, strain %.2g, %d nodes", a, c.sector, area, c.area, m.left, m.settled.Nodes)
	}
}

// A cylinder of radius 20 cut at 45 degrees, a two-piece elbow: the ordinates of
// the pattern over the girth s are R tan(a) (1 - cos(s/R)) (parallel-line
// development), and half the cut is as long as 2 sqrt(2) E(m = 1/2) R =
// 3.82019778902771 R (DLMF 19.30).
func TestFlatOfElbow(t *testing.T) {
	const r = 20.0
	s, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: r}, {FS: 60, Radius: r}})
	require.NoError(t, err)
	cut := func(a float64) float64 { return 10 + r*(1-math.Cos(a)) } // station of the cut, a from the crown
	m := flattenAt(t, s, g.Left, g.SidePosition{FS: 30, WL: 0}, box(44, 63))
	// left side: V runs down negative, aft is to the right, up is up
	worst := 0.0
	for i, want := range []float64{0, 0.26794919, 1, 2, 3, 3.7320508, 4} { // of radius 2, 30 degrees apart
		a := float64(i) * math.Pi / 6
		p := m.in(t, cut(a), -a)
		worst = math.Max(worst, math.Abs(10+10*want-(p.X+30)))
		require.InDelta(t, 10+10*want, p.X+30, 2e-6)
		require.InDelta(t, r*(math.Pi/2-a), p.Y, 2e-5)
	}
	length, last := 0.0, m.in(t, cut(0), 0)
	const n = 3000
	for i := 1; i <= n; i++ {
		a := math.Pi * float64(i) / n
		p := m.in(t, cut(a), -a)
		length, last = length+p.Dist(last), p
	}
	t.Logf("ordinates within %.2g, cut off by %.2g", worst, length-7.64039557805542/2*r)
	require.InEpsilon(t, 7.64039557805542/2*r, length, 1e-6)
}

// Oblique cone of base radius 1 and height 2 with its tip over the rim, 20 times
// that size, cut off at three quarters: generators every 30 degrees, and an angle
// of 2.505245351330209 rad at the tip for the whole round (integral of the angles
// between generators).
func TestFlatOfObliqueCone(t *testing.T) {
	const k = 20.0
	s, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: k}, {FS: 1.5 * k, Radius: k / 4, WL: 0.75 * k}})
	require.NoError(t, err)
	m := laid(t, s, window{0, 1.5 * k, 0, math.Pi}, 1.2)
	var tips []g.Point
	worst := 0.0
	for i, want := range []float64{2, 2.06590155, 2.23606798, 2.44948974, 2.64575131, 2.78065654, 2.82842713} {
		a := float64(i) * math.Pi / 6
		p, q := m.in(t, 0, a), m.in(t, 1.5*k, a)
		worst = math.Max(worst, math.Abs(0.75*k*want-p.Dist(q)))
		require.InDelta(t, 0.75*k*want, p.Dist(q), 1e-5)
		tips = append(tips, p.Add(q.Sub(p).Scale(4.0/3)))
	}
	for _, p := range tips {
		require.InDelta(t, 0, p.Dist(tips[0]), 1e-4, "generators meet at the tip")
	}
	d0, d1 := m.in(t, 0, 0).Sub(tips[0]), m.in(t, 0, math.Pi).Sub(tips[0])
	angle := 2 * math.Abs(math.Atan2(d0.Cross(d1), d0.Dot(d1)))
	t.Logf("generators within %.2g, angle off by %.2g, strain %.2g, %d nodes", worst, angle-2.505245351330209, m.left, m.settled.Nodes)
	require.InDelta(t, 2.505245351330209, angle, 1e-6)
}

// Catenoid and helicoid are one surface to film and tape: tapes between
// corresponding points are as long, and their flats, and what they strain, are the
// same. The geodesic of length 1.5 from rho 0.3, 1 rad off the ruling, ends at rho
// 1.364968153746 after a turn of 0.831273618946 (two independent integrations; size
// 20).
func TestCatenoidIsHelicoid(t *testing.T) {
	const c = 20.0
	cat, hel := catenoid{c}, helicoid{c}
	checkSurface(t, cat)
	checkSurface(t, hel)
	type at struct{ z, angle float64 }
	for _, k := range []struct {
		a, b at
		want float64
	}{
		{at{math.Asinh(0.3), 0}, at{math.Asinh(1.364968153746), 0.831273618946}, 1.5 * c},
		{at{-0.3, -1}, at{1.2, 0.7}, 0}, {at{0.5, -1.2}, at{0.4, 1.1}, 0}, {at{1.4, 0.2}, at{-0.2, -0.4}, 0},
	} {
		p, err := Tape(cat, UV{c * k.a.z, k.a.angle}, UV{c * k.b.z, k.b.angle}, 1e-5)
		require.NoError(t, err)
		q, err := Tape(hel, UV{c * k.a.angle, k.a.z}, UV{c * k.b.angle, k.b.z}, 1e-5)
		require.NoError(t, err)
		t.Logf("catenoid %.7f helicoid %.7f", float64(p.Length), float64(q.Length))
		require.InDelta(t, float64(p.Length), float64(q.Length), 2e-5)
		if k.want > 0 {
			require.InDelta(t, k.want, float64(p.Length), 1e-5)
		}
	}
	m := laid(t, cat, window{0.1 * c, 0.7 * c, -0.4, 0.4}, 0.8)
	n := laid(t, hel, window{-0.4 * c, 0.4 * c, 0.1, 0.7}, 0.8)
	worst := 0.0
	for _, z := range []float64{0.1, 0.23, 0.4, 0.7} {
		for _, a := range []float64{-0.4, -0.11, 0.2, 0.4} {
			p, q := m.in(t, c*z, a), n.in(t, c*a, z)
			o, r := m.in(t, 0.1*c, -0.4), n.in(t, -0.4*c, 0.1)
			worst = math.Max(worst, math.Abs(p.Dist(o)-q.Dist(r)))
		}
	}
	r := box(5, 7) // inside both, turned either way
	e, f := m.Strain(r), n.Strain(r)
	t.Logf("flats within %.2g; strain left %.8f and %.8f; peaks %.6f %.6f, %.6f %.6f", worst, m.left, n.left, e.Compression, f.Compression, e.Tension, f.Tension)
	require.Less(t, worst, 2e-4)
	require.Greater(t, m.left, 1e-3, "neither lies flat")
	require.InEpsilon(t, m.left, n.left, 1e-4)
}

// A free elastic disc, flat, laid on a sphere: small strains by thin-film theory
// (from memory) are at the edge -W^2/8R^2 round it and nu W^2/8R^2 outwards, at
// the centre (1-nu) W^2/16R^2 each way. The next term is smaller by the square of W/R (a quarter of it is allowed).
// And no flat disc of angle a strains less, most minus least of the logarithms,
// than ln(a / sin a) (Milnor 1969; formula from memory).
func TestStrainOfDisc(t *testing.T) {
	const r = 30.0
	for _, w := range []float64{r / 6, r / 3} {
		m := laid(t, disc{r, w}, window{-w, w, -w, w}, w/16)
		at := func(u, v float64) (most, least float64) { // of the film, from flat to skin
			s := m.net.sampleAt(UV{u, v})
			large, small := singular(s.gradient(m.flat))
			return 1/small - 1, 1/large - 1
		}
		unit := w * w / (r * r)
		mid, mid2 := at(0, 0)
		out, hoop := at(w, 0)
		t.Logf("W %v: centre %.6f %.6f theory %.6f; hoop %.6f theory %.6f; outwards %.6f theory %.6f; %d nodes", w,
			mid, mid2, (1-poisson)*unit/16, hoop, -unit/8, out, poisson*unit/8, m.settled.Nodes)
		require.InEpsilon(t, (1-poisson)*unit/16, mid, 0.25*unit+0.004)
		require.InEpsilon(t, (1-poisson)*unit/16, mid2, 0.25*unit+0.004)
		require.InEpsilon(t, -unit/8, hoop, 0.25*unit+0.004)
		require.InEpsilon(t, poisson*unit/8, out, 0.25*unit+0.004)

		high, low := math.Inf(-1), math.Inf(1)
		for i := -20; i <= 20; i++ {
			for j := -20; j <= 20; j++ {
				if max(i, -i)+max(j, -j) < 39 { // the corners of the parameters are singular
					most, least := at(w*float64(i)/20, w*float64(j)/20)
					high, low = math.Max(high, math.Log1p(most)), math.Min(low, math.Log1p(least))
				}
			}
		}
		bound := math.Log(w / r / math.Sin(w/r))
		t.Logf("spread %.6f, not below %.6f", high-low, bound)
		require.GreaterOrEqual(t, high-low, bound)
	}
}

// Milnor's bounds of 10, 20 and 30 degrees, and the flats of square patches on the
// sphere, which hold a disc of that angle.
func TestStrainObeysMilnor(t *testing.T) {
	const r = 30.0
	for _, c := range []struct{ degrees, bound float64 }{{10, 0.00508212208811574}, {20, 0.0203909535541015}} {
		a := c.degrees * math.Pi / 180
		require.InDelta(t, c.bound, math.Log(a/math.Sin(a)), 1e-14)
		b := box(2*r*a*1.03, 2*r*a*1.03) // the flat is smaller than the skin by the squeeze
		m := flattenAt(t, barrel{r, r, 29}, g.Left, g.SidePosition{FS: 0, WL: 0}, b)
		e := m.Strain(b)
		spread := math.Log1p(e.Tension) - math.Log1p(-e.Compression)
		t.Logf("%v degrees: spread %.5f, not below %.5f", c.degrees, spread, c.bound)
		require.GreaterOrEqual(t, spread, c.bound)
	}
}

// Lettering on radii of 30 and 200 in, least elastic strain, on an independent
// finite-element code: 60 by 12 squeezed 0.20 %, stretched 0.10 %; 120 by 24 squeezed
// 0.79 %, stretched 0.41 %. The peaks stand in the corners, over which its triangles
// of 1 in average.
func TestStrainOfLettering(t *testing.T) {
	s := barrel{30, 200, 80}
	for _, c := range []struct{ w, h, squeeze, stretch, within float64 }{{60, 12, 0.0020, 0.0010, 0.05}, {120, 24, 0.0079, 0.0041, 0.15}} {
		// the film alone, as in the code
		r := strip{s}
		n := laid(t, r, window{-c.w / 2, c.w / 2, -c.h / 2, c.h / 2}, 1.5)
		out, in := 0.0, 0.0
		for i := -20.0; i <= 20; i++ {
			for j := -20.0; j <= 20; j++ {
				x := n.net.sampleAt(UV{c.w / 2 * i / 20, c.h / 2 * j / 20})
				large, small := singular(x.gradient(n.flat))
				out, in = math.Max(out, 1/small-1), math.Max(in, 1-1/large)
			}
		}
		// the film cut out of a net that is larger
		m := flattenAt(t, s, g.Left, g.SidePosition{FS: 0, WL: 0}, box(c.w, c.h))
		e := m.Strain(box(c.w, c.h))
		t.Logf("%v x %v: alone -%.4f %% +%.4f %%; cut out -%.4f %% at %v +%.4f %% at %v", c.w, c.h, 100*in, 100*out, 100*e.Compression, e.CompressionAt, 100*e.Tension, e.TensionAt)
		require.InEpsilon(t, c.squeeze, in, c.within)
		require.InEpsilon(t, c.stretch, out, c.within)
		require.InEpsilon(t, in, e.Compression, 0.01)
		require.InEpsilon(t, out, e.Tension, 0.01)
	}
}

// The nodes of a flat fall into place with the third power of the spacing or
// better; those of its border, whose corners are not smooth, are left out.
func TestFlatOrder(t *testing.T) {
	s := barrel{30, 200, 80}
	f, err := UpAt(s, UV{0, -math.Pi / 2}, 0)
	require.NoError(t, err)
	w := window{-32, 32, -math.Pi/2 - 0.4, -math.Pi/2 + 0.4}
	var maps []*FlatMap
	for level := 0; level < 4; level++ {
		n := newNet(s, w, 8, fineness{level, level})
		start := n.unfold()
		if level > 0 {
			start = n.interpolateFrom(maps[level-1].net, maps[level-1].flat)
		}
		m := &FlatMap{s: s, chart: chartOf(s), net: n}
		require.NoError(t, m.relaxWindow(start, &flattening{s: s, chart: m.chart, at: f, tolerance: 1e-7}))
		maps = append(maps, m)
	}
	last := 0.0
	for level := 1; level < len(maps); level++ {
		moved := 0.0
		c, n := maps[0].net, maps[level].net
		before := maps[level-1]
		for i := 1; i+1 < c.nu(); i++ {
			for j := 1; j+1 < c.nv(); j++ {
				k := n.node(i<<level, j<<level)
				kk := before.net.node(i<<(level-1), j<<(level-1))
				require.Equal(t, before.net.nodeUV(kk), n.nodeUV(k))
				moved = math.Max(moved, maps[level].flat[k].Dist(before.flat[kk]))
			}
		}
		if level > 1 {
			order := math.Log2(last / moved)
			t.Logf("%d nodes: moved %.3g, order %.2f", n.nodes(), moved, order)
			require.GreaterOrEqual(t, order, 3.0)
		} else {
			t.Logf("%d nodes: moved %.3g", n.nodes(), moved)
		}
		last = moved
	}
}
