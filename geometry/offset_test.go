package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// capsuleOffset is the slow method: the band of all points within |d| of the
// outline, as the union of a capsule about every chord, added or taken away.
func capsuleOffset(t require.TestingT, p Path, d, tolerance float64) float64 {
	p, err := Settle(p)
	require.NoError(t, err)
	var chords, capsules Path
	a := math.Abs(d)
	n := int(math.Ceil(math.Pi / (2 * math.Acos(1-math.Min(1, tolerance/a)))))
	for _, c := range p {
		pts := c.Flattened(tolerance)
		chords = append(chords, Polygon(pts...))
		for i, s := range pts {
			e := pts[(i+1)%len(pts)]
			v := e.Sub(s).Unit().Scale(a)
			var ring []Point
			for _, q := range []Point{e, s} {
				for k := 0; k <= n; k++ {
					sin, cos := math.Sincos(math.Pi*float64(k)/float64(n) - math.Pi/2)
					ring = append(ring, q.Add(Vec{v.X*cos - v.Y*sin, v.X*sin + v.Y*cos}))
				}
				v = v.Scale(-1)
			}
			capsules = append(capsules, Polygon(ring...)) // all run one way
		}
	}
	band, err := Filled(capsules)
	require.NoError(t, err)
	if d < 0 {
		chords, err = Subtract(chords, band)
	} else {
		chords, err = Union(chords, band)
	}
	require.NoError(t, err)
	return chords.Area()
}

func TestOffsetClosedForms(t *testing.T) {
	disc := Path{Circle(Point{3, 4}, 10)}
	annulus := Path{Circle(Point{}, 12), Circle(Point{}, 10).Reversed()}
	square := Path{rectangle(0, 0, 10, 20)}
	st := Path{star(Point{}, 10, 0)}
	const tol = 0.0005
	for _, c := range []struct {
		name     string
		p        Path
		d        Length
		join     Join
		area     float64
		nodes    int
		contours int
	}{
		{"disc out", disc, 2, RoundJoin, math.Pi * 144, 8, 1},
		{"disc in", disc, -2, RoundJoin, math.Pi * 64, 8, 1},
		{"disc gone", disc, -10.01, RoundJoin, 0, 0, 0},
		{"disc far gone", disc, -15, RoundJoin, 0, 0, 0},
		{"disc out, mitred", disc, 2, MiterJoin, math.Pi * 144, 8, 1},
		{"annulus out", annulus, 2, RoundJoin, math.Pi * (14*14 - 8*8), 16, 2},
		{"annulus hole closed", annulus, 11, RoundJoin, math.Pi * 23 * 23, 8, 1},
		{"annulus gone", annulus, -1.01, RoundJoin, 0, 0, 0},
		{"annulus far gone", annulus, -5, RoundJoin, 0, 0, 0},
		{"square out", square, 1, RoundJoin, 200 + 60 + math.Pi, 12, 1},
		{"square out, mitred", square, 1, MiterJoin, 12 * 22, 4, 1},
		{"square in", square, -1, RoundJoin, 8 * 18, 4, 1},
		{"square gone", square, -6, MiterJoin, 0, 0, 0},
		// A star keeps its shape: its inner radius circle, the apothem of its
		// sides, grows by d: apothem = R cos 72° (derived).
		{"star out, mitred", st, 1, MiterJoin, pentagramArea * math.Pow(10+1/math.Cos(72*math.Pi/180), 2), 10, 1},
		{"star in, mitred", st, -1, MiterJoin, pentagramArea * math.Pow(10-1/math.Cos(72*math.Pi/180), 2), 10, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := Offset(c.p, c.d, c.join, tol)
			require.NoError(t, err)
			requireProper(t, r)
			require.Len(t, r, c.contours)
			require.LessOrEqual(t, r.Nodes(), c.nodes, "%v", r)
			around := 0.0
			for _, k := range r {
				around += k.Length()
			}
			require.InDelta(t, c.area, r.Area(), around*tol/2+1e-9)
		})
	}
}

// TestOffsetDiscIsRound wants the offset circle as round as the tolerance.
func TestOffsetDiscIsRound(t *testing.T) {
	for _, tol := range []float64{0.001, 0.0001} {
		r, err := Offset(Path{Circle(Point{100, 50}, 20)}, 0.75, RoundJoin, tol)
		require.NoError(t, err)
		require.Equal(t, 8, r.Nodes())
		for i := range r[0].Segments {
			for n := range 20 {
				require.InDelta(t, 20.75, r[0].At(i, float64(n)/20).Dist(Point{100, 50}), tol)
			}
		}
	}
}

// TestOffsetInsigniaBorder is the national insignia's border: disc and bars
// joined, grown, the bars' corners sharp and the disc's arcs concentric.
func TestOffsetInsigniaBorder(t *testing.T) {
	shape, err := Union(Path{Circle(Point{}, 25)}, Path{rectangle(-50, -6.25, 50, 6.25)})
	require.NoError(t, err)
	border, err := Offset(shape, 3.125, MiterJoin, 0.0005)
	require.NoError(t, err)
	requireProper(t, border)
	want, err := Union(Path{Circle(Point{}, 28.125)}, Path{rectangle(-53.125, -9.375, 53.125, 9.375)})
	require.NoError(t, err)
	left, err := xor(border, want)
	require.NoError(t, err)
	require.InDelta(t, want.Area(), border.Area(), 0.1)
	require.Less(t, left.Area(), 280*0.0005)
	require.LessOrEqual(t, border.Nodes(), want.Nodes()+2)
}

func TestOffsetRandomAgainstCapsules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawShape(t, "a")
		if rapid.Bool().Draw(t, "cut") {
			var err error
			p, err = Subtract(p, drawShape(t, "b"))
			require.NoError(t, err)
		}
		d := rapid.Float64Range(0.05, 4).Draw(t, "d")
		if rapid.Bool().Draw(t, "in") {
			d = -d
		}
		const tol = 0.02
		r, err := Offset(p, Length(d), RoundJoin, tol)
		require.NoError(t, err)
		requireProper(t, r)
		around := 0.0
		for _, k := range r {
			around += k.Length()
		}
		want := capsuleOffset(t, p, d, tol)
		require.InDelta(t, want, r.Area(), (around+1)*tol*2)
	})
}

// TestOffsetSpikeAtTightNode: the outline bends at (3.96875, 1) with radius
// 0.3873 on one side of the node and 6.9 on the other. Shrunk by 0.3989 it had a
// hairline spike along the node's normal out to the centre of the tighter bend.
func TestOffsetSpikeAtTightNode(t *testing.T) {
	p := Path{smoothOutline(Point{1, 1}, 2.96875, 0.20725905010476708, 0.5307291068292521, 0.5473175048828125, 0.2, 0.53354589744734)}
	r, err := Offset(p, -0.3989395194221288, RoundJoin, 0.01)
	require.NoError(t, err)
	requireProper(t, r)
	require.Greater(t, r.Distance(Point{3.5814200654580963, 1}, 1e-5), 0.0116-0.01)
	require.InDelta(t, capsuleOffset(t, p, -0.3989395194221288, 0.001), r.Area(), 0.02)
}

// TestOffsetLeavesNoSpur: a star less a triangle with a hole, shrunk by 0.09 in at a loose
// tolerance, had beside its outline a second one that ran there and back on one line.
func TestOffsetLeavesNoSpur(t *testing.T) {
	p, err := Subtract(Path{star(Point{2.609375, 8}, 6.177734375, 5.05615234375)}, Path{
		Polygon(Point{1.828125, 3.66796875}, Point{0.4171875, 4.3662}, Point{-0.1875, 1.9224}),
		Circle(Point{0.8203125, 3.66796875}, 0.6046875).Reversed(),
	})
	require.NoError(t, err)
	r, err := Offset(p, -0.08984375, RoundJoin, 0.02)
	require.NoError(t, err)
	requireProper(t, r)
}

func TestOffsetErrors(t *testing.T) {
	_, err := Offset(Path{Polyline(Point{}, Point{1, 0})}, 1, RoundJoin, 0.001)
	require.ErrorContains(t, err, "open")
	r, err := Offset(nil, 1, RoundJoin, 0.001)
	require.NoError(t, err)
	require.Empty(t, r)
}

func BenchmarkOffset_star_disc_d1in_tol5e4in(b *testing.B) {
	p, err := Subtract(Path{Circle(Point{}, 25)}, Path{star(Point{}, 20, 0)})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Offset(p, 1, RoundJoin, 0.0005); err != nil {
			b.Fatal(err)
		}
	}
}

// TestOffsetCusps: a box less a disc that touches its side from within, so that two
// outlines meet there at no angle, the one turn round a point that rounding can tell
// either way. Placed all round, and its mirror image too.
func TestOffsetCusps(t *testing.T) {
	for i := range 24 {
		for _, mirror := range []float64{1, -1} {
			s, c := math.Sincos(float64(i) * math.Pi / 12)
			m := Affine{c * mirror, s * mirror, -s, c, 3, -2}.Apply
			p, err := Subtract(Path{rectangle(0, 0, 5, 1)}.Map(m), Path{Circle(Point{3.125, 0}, 1.875)}.Map(m))
			require.NoError(t, err)
			for _, d := range []float64{0.0625, -0.02, 0.5} {
				r, err := Offset(p, Length(d), RoundJoin, 0.001)
				require.NoError(t, err, "turned by %d, mirror %v, %v", 15*i, mirror, d)
				requireProper(t, r)
				require.InDelta(t, capsuleOffset(t, p, d, 0.0005), r.Area(), 0.02, "turned by %d, mirror %v, %v", 15*i, mirror, d)
			}
		}
	}
}
