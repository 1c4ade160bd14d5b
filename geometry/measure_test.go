package geometry

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestIntegrateIsExactToDegree31 checks the nodes and weights against the
// integrals of x^n over [-1, 2], (2^(n+1) - (-1)^(n+1)) / (n+1); degree 32 on
// [-1, 1] must miss, by the error term of Gauss quadrature
// 2^33 (16!)^4 / (33 (32!)^2) (Abramowitz and Stegun 25.4.29 with f = x^32, from
// memory) = 3.0e-9 of an integral of 2/33.
func TestIntegrateIsExactToDegree31(t *testing.T) {
	sum := 0.0
	for _, g := range gauss16 {
		sum += g[1]
	}
	require.InDelta(t, 1, sum, 1e-15)
	for n := 0; n <= 31; n++ {
		got := Integrate(func(x float64) float64 { return math.Pow(x, float64(n)) }, -1, 2)
		want := (math.Pow(2, float64(n+1)) - math.Pow(-1, float64(n+1))) / float64(n+1)
		require.InEpsilon(t, want, got, 1e-13, "degree %d", n)
		one := Integrate(func(x float64) float64 { return math.Pow(x, float64(n)) }, 0, 1)
		require.InEpsilon(t, 1/float64(n+1), one, 1e-13, "degree %d", n)
	}
	missed := 2.0/33 - Integrate(func(x float64) float64 { return math.Pow(x, 32) }, -1, 1)
	lg := func(n float64) float64 { v, _ := math.Lgamma(n + 1); return v }
	require.InEpsilon(t, math.Exp(33*math.Ln2+4*lg(16)-math.Log(33)-2*lg(32)), missed, 1e-3)
}

func TestCircleIsRound(t *testing.T) {
	for _, r := range []float64{0.5, 10, 25} {
		c := Circle(Point{3, -4}, r)
		require.True(t, c.Closed())
		require.Len(t, c.Segments, CircleCubics)
		least, most := math.Inf(1), 0.0
		for i := range c.Segments {
			for n := range 200 {
				d := c.At(i, float64(n)/200).Dist(Point{3, -4}) / r
				least, most = math.Min(least, d), math.Max(most, d)
			}
		}
		// The curve lies outside the circle, touching it at nodes and middles.
		require.InDelta(t, 1, least, 1e-12)
		require.InDelta(t, 4.2e-6, most-1, 0.1e-6)
		require.InEpsilon(t, math.Pi*r*r, c.Area(), 1e-5)
		require.Greater(t, c.Area(), math.Pi*r*r)
		require.InEpsilon(t, 2*math.Pi*r, c.Length(), 1e-5)
	}
	// Four cubics would be out by 2.7e-4.
	four, most := 4.0/3*math.Tan(math.Pi/8), 0.0
	for n := range 200 {
		p := bezier(Point{1, 0}, Point{1, four}, Point{four, 1}, Point{0, 1}, float64(n)/200)
		most = math.Max(most, p.Dist(Point{})-1)
	}
	require.InDelta(t, 2.7e-4, most, 0.1e-4)
}

func TestArcTo(t *testing.T) {
	for _, sweep := range []float64{0.1, math.Pi / 4, math.Pi / 2, 3, -2, -2 * math.Pi, 7} {
		b := MoveTo(Point{5, 1}).ArcTo(Point{2, 1}, sweep)
		c := b.Open()
		s, co := math.Sincos(sweep)
		require.InDelta(t, 0, c.End().Dist(Point{2 + 3*co, 1 + 3*s}), 1e-12)
		require.Len(t, c.Segments, int(math.Ceil(math.Abs(sweep)/(math.Pi/4)-1e-9)))
		require.InEpsilon(t, 3*math.Abs(sweep), c.Length(), 1e-5)
	}
	require.Empty(t, MoveTo(Point{1, 0}).ArcTo(Point{}, 0).Open().Segments)
}

// TestAreaOfCubics takes cubics that are graphs of polynomials, whose area is a
// plain integral, and a loop against many chords.
func TestAreaOfCubics(t *testing.T) {
	for _, c := range []struct {
		text string
		area float64
	}{
		{"M0 0L1 0L1 1L0 1Z", 1},
		{"M0 0L0 1L1 1L1 0Z", -1},
		// y = 3x(1-x) over [0, 1], as a cubic: area 1/2.
		{"M0 0L1 0C0.6666666666666667 1 0.3333333333333333 1 0 0Z", 0.5},
		// y = x³ from (0,0) to (1,1), closed along y = 0 and x = 1: area 1/4.
		{"M0 0L1 0L1 1C0.6666666666666667 0 0.3333333333333333 0 0 0Z", 0.25},
	} {
		p, err := ParsePath(c.text)
		require.NoError(t, err)
		require.InDelta(t, c.area, p.Area(), 1e-15, c.text)
		moved := p.Moved(Vec{3, 5})
		require.InDelta(t, c.area, moved.Area(), 1e-13, c.text)
		require.InDelta(t, -c.area, p[0].Reversed().Area(), 1e-15, c.text)
	}
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-10, 10)
		q := func(n string) Point { return Point{x.Draw(t, n+"x"), x.Draw(t, n+"y")} }
		b := MoveTo(q("a"))
		b.CubicTo(q("b"), q("c"), q("d")).CubicTo(q("e"), q("f"), q("g"))
		c := b.Close()
		// Green's integral by quadrature, exact for its degree.
		sum := 0.0
		for i, s := range c.Segments {
			k := sourceCurve{kind: s.Kind, a: c.From(i), c1: s.C1, c2: s.C2, b: s.End}
			sum += Integrate(func(u float64) float64 { return Vec(k.at(u)).Cross(k.velocity(u)) / 2 }, 0, 1)
		}
		require.InDelta(t, sum, c.Area(), 1e-11)
		// The bounds hold every point, and every side is touched.
		r, near := c.Bounds(), emptyRect()
		for i := range c.Segments {
			for n := range 201 {
				p := c.At(i, float64(n)/200)
				require.True(t, r.Grown(1e-12).Contains(p))
				near = near.Union(Rect{p, p})
			}
		}
		require.InDelta(t, 0, near.Min.Dist(r.Min)+near.Max.Dist(r.Max), 2e-2)
	})
}

func TestLengthOfCubics(t *testing.T) {
	// y = x² over [0, 1] has length sqrt 5 / 2 + asinh 2 / 4.
	parabola := MoveTo(Point{}).CubicTo(Point{1.0 / 3, 0}, Point{2.0 / 3, 1.0 / 3}, Point{1, 1}).Open()
	require.InDelta(t, math.Sqrt(5)/2+math.Asinh(2)/4, parabola.Length(), 1e-9)
	require.InDelta(t, parabola.Length(), parabola.Reversed().Length(), 1e-12)
	require.InDelta(t, 5, Polyline(Point{}, Point{3, 4}).Length(), 1e-15)
}

// TestSampledStaysWithinTolerance measures the chords against the curve and
// checks the promised cost, tolerance^-1/2.
func TestSampledStaysWithinTolerance(t *testing.T) {
	c := Circle(Point{}, 20)
	last := 0
	for _, tol := range []float64{1e-2, 1e-4, 1e-6} {
		s := c.Sampled(tol)
		for i, a := range s {
			b := s[(i+1)%len(s)]
			t1 := b.T
			if b.Segment != a.Segment {
				t1 = 1
			}
			require.Equal(t, a.Point, c.At(a.Segment, a.T))
			m := c.At(a.Segment, (a.T+t1)/2)
			require.LessOrEqual(t, SegmentDistance(m, a.Point, b.Point), tol)
		}
		if last > 0 {
			require.InEpsilon(t, 10*last, len(s), 0.15)
		}
		last = len(s)
	}
	open := MoveTo(Point{}).CubicTo(Point{1, 2}, Point{3, 2}, Point{4, 0}).Open()
	pts := open.Flattened(0.001)
	require.Equal(t, open.Start, pts[0])
	require.Equal(t, open.End(), pts[len(pts)-1])
	require.Len(t, Polygon(Point{}, Point{1, 0}, Point{0, 1}).Flattened(0.001), 3)
}

func TestContainsAndDistance(t *testing.T) {
	p := Path{Circle(Point{}, 10), Circle(Point{}, 5).Reversed()}
	for _, c := range []struct {
		q    Point
		in   bool
		dist float64
	}{
		{Point{0, 0}, false, 5}, {Point{7, 0}, true, 2}, {Point{0, -9}, true, 1}, {Point{0, 12}, false, 2},
	} {
		require.Equal(t, c.in, p.Contains(c.q, 1e-5), "%v", c.q)
		require.InDelta(t, c.dist, p.Distance(c.q, 1e-5), 1e-4, "%v", c.q)
	}
	require.True(t, math.IsInf(Path{}.Distance(Point{}, 1e-3), 1))
	require.InDelta(t, 1, Path{Polyline(Point{0, 0}, Point{2, 0})}.Distance(Point{1, 1}, 1e-3), 1e-15)
}

func TestRect(t *testing.T) {
	r := BoundsOf(Point{1, 2}, Point{-1, 5})
	require.Equal(t, Rect{Point{-1, 2}, Point{1, 5}}, r)
	require.Equal(t, 2.0, r.Width())
	require.Equal(t, 3.0, r.Height())
	require.Equal(t, Point{0, 3.5}, r.Centre())
	require.Equal(t, Rect{Point{-2, 1}, Point{2, 6}}, r.Grown(1))
	require.Equal(t, Rect{}, Path{}.Bounds())
	require.InDelta(t, 10, Path{Circle(Point{}, 4), Circle(Point{9, 0}, 1)}.Bounds().Max.X, 1e-12)
}

func TestPathTextRoundTrips(t *testing.T) {
	for _, text := range []string{
		"M0 0L10 0L10 5Z",
		"M1.5 -2C3 4 5 6 7 8L0 0Z",
		"M0 0L1 0L1 1ZM5 5L6 5L6 6Z",
		"M0 0L1 1",
	} {
		p, err := ParsePath(text)
		require.NoError(t, err, text)
		require.Equal(t, text, p.String())
	}
	p, err := ParsePath("M0,0 H4 V3 h")
	require.Error(t, err, "%v", p)
	for text, want := range map[string]string{
		"M0 0 H4 V3 Z":     "M0 0L4 0L4 3Z",
		"M0 0 10 0 10 10Z": "M0 0L10 0L10 10Z",
		"M1-2L3-4":         "M1 -2L3 -4",
	} {
		p, err := ParsePath(text)
		require.NoError(t, err, text)
		require.Equal(t, want, p.String())
	}
	for _, text := range []string{"L1 2", "M0", "M0 0Q1 1 2 2", "M0 0LxZ", "10 10"} {
		_, err := ParsePath(text)
		require.Error(t, err, text)
	}
}

func TestPathMapTurnsMirroredContoursBack(t *testing.T) {
	p := Path{rectangle(0, 0, 4, 2), Circle(Point{2, 1}, 0.5).Reversed()}
	m := p.Map(func(q Point) Point { return Point{-q.X, q.Y} })
	require.InDelta(t, p.Area(), m.Area(), 1e-12)
	require.Greater(t, m[0].Area(), 0.0)
	require.Less(t, m[1].Area(), 0.0)
	require.Equal(t, Rect{Point{-4, 0}, Point{0, 2}}, m.Bounds())
	for _, c := range m {
		require.True(t, c.Closed())
	}
	require.Equal(t, p[1], p[1].Reversed().Reversed())
	require.Equal(t, 12, p.Nodes())
	require.Equal(t, Rect{Point{1, 1}, Point{5, 3}}, p.Moved(Vec{1, 1}).Bounds())
}

// TestNest shuffles the contours of a target with an island and turns some.
func TestNest(t *testing.T) {
	big, hole, island := Circle(Point{}, 10), rectangle(-6, -6, 6, 6), Circle(Point{1, 0}, 3)
	other, dot := rectangle(20, 0, 22, 2), Circle(Point{21, 1}, 0.5)
	want := 100*math.Pi - 144 + 9*math.Pi + 4 - 0.25*math.Pi
	all := []Contour{big, hole, island, other, dot}
	rapid.Check(t, func(t *rapid.T) {
		var p Path
		for _, i := range rapid.Permutation([]int{0, 1, 2, 3, 4}).Draw(t, "order") {
			c := all[i]
			if rapid.Bool().Draw(t, fmt.Sprint("turn", i)) {
				c = c.Reversed()
			}
			p = append(p, c)
		}
		n := Nest(append(p, Polyline(Point{}, Point{1, 1})))
		require.Len(t, n, 5)
		require.InDelta(t, want, n.Area(), 1e-2)
		signs := ""
		for _, c := range n {
			signs += map[bool]string{true: "+", false: "-"}[c.Area() > 0]
		}
		require.Equal(t, "+-++-", signs)
		require.InDelta(t, 10, n[0].Bounds().Max.X, 1e-9)
		require.InDelta(t, 22, n[3].Bounds().Max.X, 1e-9)
	})
	require.Empty(t, Nest(nil))
}

// A triangle's centre of area is the mean of its corners; a hole moves that of a
// square away from it: (16 x 0 - 4 x 0.5)/12 = -1/6. Far from the origin too.
func TestCentroid(t *testing.T) {
	at, area := Centroid([]Point{{0, 0}, {6, 0}, {0, 3}})
	require.InDelta(t, 9, area, 1e-12)
	require.InDelta(t, 0, at.Dist(Point{2, 1}), 1e-12)
	far := Vec{1e6, -1e6}
	square := []Point{{-2, -2}, {2, -2}, {2, 2}, {-2, 2}}
	hole := []Point{{-0.5, -1}, {-0.5, 1}, {1.5, 1}, {1.5, -1}}
	for _, r := range [][]Point{square, hole} {
		for i := range r {
			r[i] = r[i].Add(far)
		}
	}
	at, area = Centroid(square, hole)
	require.InDelta(t, 12, area, 1e-9)
	require.InDelta(t, 0, at.Dist(Point{-1.0 / 6, 0}.Add(far)), 1e-9)
	_, area = Centroid()
	require.Zero(t, area)
}

// Rows made from known unknowns are solved; dependent ones are refused.
func TestSolve3(t *testing.T) {
	x, ok := Solve3([3][4]float64{{0, 2, -1, 2*5 - 7}, {1, 1, 1, 3 + 5 + 7}, {4, 0, 2, 4*3 + 2*7}})
	require.True(t, ok)
	require.InDeltaSlice(t, []float64{3, 5, 7}, x[:], 1e-12)
	_, ok = Solve3([3][4]float64{{1, 2, 3, 1}, {2, 4, 6, 2}, {0, 1, 1, 1}})
	require.False(t, ok)
}

// A cubic with a control point on its start leaves towards the other; a square
// turns left by a right angle at every corner.
func TestTangents(t *testing.T) {
	c := MoveTo(Point{0, 0}).CubicTo(Point{0, 0}, Point{1, 1}, Point{3, 1}).LineTo(Point{3, 4}).Close()
	require.Zero(t, c.Velocity(0, 0))
	require.InDelta(t, 0, c.StartTangent(0).Cross(Vec{1, 1}), 1e-12)
	require.InDelta(t, 0, c.EndTangent(0).Cross(Vec{1, 0}), 1e-12)
	require.InDelta(t, math.Pi/2, c.Turn(0), 1e-12)
	const h = 1e-6
	require.InDelta(t, 0, c.Velocity(0, 0.3).Sub(c.At(0, 0.3+h).Sub(c.At(0, 0.3-h)).Scale(1/(2*h))).Norm(), 1e-8)
	square := Rectangle(Rect{Max: Point{2, 2}})
	for i := range square.Segments {
		require.InDelta(t, math.Pi/2, square.Turn(i), 1e-12)
		require.InDelta(t, -math.Pi/2, square.Reversed().Turn(i), 1e-12)
	}
}
