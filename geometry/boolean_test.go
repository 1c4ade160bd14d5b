package geometry

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// pentagramInner is the inner radius of a five-pointed star over its outer one,
// cos 72° / cos 36° = 1/phi²: the sides of the star are the diagonals of the
// regular pentagon, which cut one another in extreme and mean ratio (Euclid,
// Elements XIII.8). pentagramArea is its area over the square of the radius,
// 5 * pentagramInner * sin 36° (derived: ten triangles with two sides at 36°).
const (
	pentagramInner = 0.381966011250105
	pentagramArea  = 1.12256994144896
)

func star(centre Point, radius, turn float64) Contour {
	var pts []Point
	for i := range 10 {
		r := radius
		if i%2 == 1 {
			r *= pentagramInner
		}
		s, c := math.Sincos(math.Pi/2 + turn + float64(i)*math.Pi/5)
		pts = append(pts, Point{centre.X + r*c, centre.Y + r*s})
	}
	return Polygon(pts...)
}

func rectangle(x0, y0, x1, y1 float64) Contour {
	return Rectangle(Rect{Point{x0, y0}, Point{x1, y1}})
}

// xor returns the region in one of a and b but not in both.
func xor(a, b Path) (Path, error) {
	o, err := Overlaid(a, b)
	if err != nil {
		return nil, err
	}
	return o.Region(func(in []bool) bool { return in[0] != in[1] })
}

type booleanCall struct {
	name string
	f    func(a, b Path) (Path, error)
	sf   func(a, b geom.Geometry) (geom.Geometry, error)
}

var booleanCalls = []booleanCall{
	{"union", Union, geom.Union},
	{"intersect", Intersect, geom.Intersection},
	{"subtract", Subtract, geom.Difference},
	{"xor", xor, geom.SymmetricDifference},
}

// referee returns p, flattened, as the second engine takes it.
func referee(t testing.TB, p Path, tolerance float64) geom.Geometry {
	t.Helper()
	var polys []geom.Polygon
	var rings []geom.LineString
	flush := func() {
		if len(rings) > 0 {
			polys = append(polys, geom.NewPolygon(rings))
			rings = nil
		}
	}
	for _, c := range Nest(p) {
		if c.Area() > 0 {
			flush()
		}
		var xy []float64
		for _, q := range c.Flattened(tolerance) {
			xy = append(xy, q.X, q.Y)
		}
		xy = append(xy, xy[0], xy[1])
		rings = append(rings, geom.NewLineString(geom.NewSequence(xy, geom.DimXY)))
	}
	flush()
	g := geom.NewMultiPolygon(polys).AsGeometry()
	return g
}

// requireProper checks that p is closed, nested, and that no two of its segments
// cross: every contour may meet itself or another only at nodes.
func requireProper(t require.TestingT, p Path) {
	if h, ok := t.(testing.TB); ok {
		h.Helper()
	}
	for i, c := range p {
		require.True(t, c.Closed(), "contour %d is open", i)
		require.Greater(t, math.Abs(c.Area()), leastArea/2)
		for j := range c.Segments {
			require.NotEqual(t, c.From(j), c.Segments[j].End, "contour %d, segment %d is a point", i, j)
		}
	}
	// Nest goes by chords within 1e-4 in, to which a narrower lens has no inside
	var wide Path
	for _, c := range p {
		if b := (Path{c}).Bounds(); math.Abs(c.Area()) > 2e-4*b.Max.Dist(b.Min) {
			wide = append(wide, c)
		}
	}
	require.Len(t, Nest(wide), len(wide))
	var areas, again []float64
	for i, c := range Nest(wide) {
		areas, again = append(areas, wide[i].Area()), append(again, c.Area())
	}
	slices.Sort(areas)
	slices.Sort(again)
	require.InDeltaSlice(t, areas, again, 1e-9, "a contour runs the wrong way")
	// A crossing would be a meeting inside two segments.
	var all []operandContour
	for _, c := range p {
		all = append(all, operandContour{Contour: c})
	}
	pl, m, err := laidOut(1, all)
	require.NoError(t, err)
	inside := func(curve int, at float64) bool {
		k := &pl.curves[curve]
		q := k.at(at)
		return min(q.Dist(k.a), q.Dist(k.b)) > 2*weldDistance
	}
	for _, x := range m.found {
		require.False(t, inside(x.i, x.s) && inside(x.j, x.t), "segments cross at %v", x.p)
	}
}

func TestBooleanCurvesStayCurves(t *testing.T) {
	disc, st := Path{Circle(Point{3, 4}, 20)}, Path{star(Point{3, 4}, 18, 0)}
	ring, err := Subtract(disc, st)
	require.NoError(t, err)
	requireProper(t, ring)
	require.Len(t, ring, 2)
	require.Len(t, ring[0].Segments, 8)
	require.Len(t, ring[1].Segments, 10)
	for _, s := range ring[0].Segments {
		require.Equal(t, Cubic, s.Kind)
	}
	require.InDelta(t, disc.Area()-pentagramArea*18*18, ring.Area(), 1e-6)
	in, err := Intersect(disc, st)
	require.NoError(t, err)
	require.Len(t, in, 1)
	require.Len(t, in[0].Segments, 10)
	require.InDelta(t, pentagramArea*18*18, in.Area(), 1e-6)
}

func TestPentagramConstants(t *testing.T) {
	require.InDelta(t, math.Cos(72*math.Pi/180)/math.Cos(36*math.Pi/180), pentagramInner, 1e-15)
	require.InDelta(t, pentagramArea, star(Point{}, 1, 0.3).Area(), 1e-14)
}

// TestBooleanFrameAndSquare is the clipper's smallest failure: a frame with a
// hole, joined with a square far off, came back with its hole turned about, and
// the next operation filled it in (1700 instead of 1300).
func TestBooleanFrameAndSquare(t *testing.T) {
	frame := Path{rectangle(0, 0, 40, 40), rectangle(10, 10, 30, 30).Reversed()}
	u, err := Union(frame, Path{rectangle(-60, 3, -50, 13)})
	require.NoError(t, err)
	require.InDelta(t, 1300, u.Area(), 1e-9)
	all, err := Intersect(u, Path{rectangle(-500, -500, 500, 500)})
	require.NoError(t, err)
	require.InDelta(t, 1300, all.Area(), 1e-9)
	requireProper(t, all)
	require.Equal(t, 12, all.Nodes())
}

// TestBooleanAcceptsEitherWay gives operands that run the wrong way, nested or
// crossing, under the even-odd rule.
func TestBooleanAcceptsEitherWay(t *testing.T) {
	big, small := rectangle(0, 0, 10, 10), Circle(Point{5, 5}, 2)
	clip := Path{rectangle(-1, -1, 11, 11).Reversed()}
	want := 100 - small.Area()
	for _, p := range []Path{{big, small}, {small.Reversed(), big}, {big.Reversed(), small.Reversed()}} {
		r, err := Intersect(p, clip)
		require.NoError(t, err)
		requireProper(t, r)
		require.InDelta(t, want, r.Area(), 1e-9)
		require.Equal(t, 12, r.Nodes())
	}
	crossing := Path{rectangle(0, 0, 10, 10), rectangle(5, 5, 15, 15)} // even-odd: less the middle, twice
	r, err := Settle(crossing)
	require.NoError(t, err)
	requireProper(t, r)
	require.InDelta(t, 150, r.Area(), 1e-9)
}

func TestBooleanErrors(t *testing.T) {
	_, err := Union(Path{Polyline(Point{}, Point{1, 0}, Point{1, 1})}, nil)
	require.ErrorContains(t, err, "contour 1")
	_, err = Union(Path{rectangle(0, 0, 1, 1)}, Path{rectangle(0, 0, math.NaN(), 1)})
	require.ErrorContains(t, err, "outline 2")
	r, err := Intersect(Path{rectangle(0, 0, 1, 1)}, nil)
	require.NoError(t, err)
	require.Empty(t, r)
	r, err = Subtract(nil, nil)
	require.NoError(t, err)
	require.Empty(t, r)
}

// insignia pairs shapes as masks do: star on disc, bars on disc, tiles on all.
func insignia() map[string][2]Path {
	disc := Path{Circle(Point{201.3, 57.25}, 25)}
	bars := Path{rectangle(151.3, 50.75, 251.3, 63.25)}
	annulus := Path{Circle(Point{201.3, 57.25}, 25), Circle(Point{201.3, 57.25}, 20).Reversed()}
	return map[string][2]Path{
		"star touching disc": {disc, {star(Point{201.3, 57.25}, 25, 0)}},
		"star over disc":     {disc, {star(Point{201.3, 57.25}, 27, 0.1)}},
		"star in disc":       {disc, {star(Point{201.3, 57.25}, 24, 0.1)}},
		"bars":               {disc, bars},
		"annulus and bars":   {annulus, bars},
		"tile through disc":  {disc, {rectangle(190, 0, 214, 500)}},
		"tile on centre":     {disc, {rectangle(201.3, 0, 214, 500)}},
		"tile tangent":       {disc, {rectangle(226.3, 0, 250, 500)}},
		"tile tangent in":    {disc, {rectangle(176.3, 0, 226.3, 500)}},
		"two discs":          {disc, {Circle(Point{215.3, 47.25}, 20)}},
		"discs touching":     {disc, {Circle(Point{246.3, 57.25}, 20)}},
		"discs touching in":  {disc, {Circle(Point{206.3, 57.25}, 20)}},
		"same disc":          {disc, disc},
		"same disc, turned":  {disc, {Circle(Point{201.3, 57.25}, 25).Reversed()}},
		"disc and its rim":   {disc, annulus},
	}
}

func TestBooleanInsigniaAgainstReferee(t *testing.T) {
	for name, ab := range insignia() {
		for _, call := range booleanCalls {
			t.Run(name+" "+call.name, func(t *testing.T) {
				got, err := call.f(ab[0], ab[1])
				require.NoError(t, err)
				requireProper(t, got)
				const tol = 2e-6
				want, err := call.sf(referee(t, ab[0], tol), referee(t, ab[1], tol))
				require.NoError(t, err)
				// Chords lie within tol of the curves: the perimeters, 500 in
				// at most, times two thirds of tol.
				require.InDelta(t, want.Area(), got.Area(), 1e-3)
			})
		}
	}
}

func TestBooleanNodesAreFew(t *testing.T) {
	limits := map[string][4]int{ // union, intersect, subtract, xor
		"star in disc":      {8, 10, 18, 18},
		"bars":              {14, 10, 10, 20},
		"tile through disc": {14, 10, 12, 20},
		"same disc":         {8, 8, 0, 0},
		"same disc, turned": {8, 8, 0, 0},
		"disc and its rim":  {8, 16, 8, 8},
	}
	for name, want := range limits {
		ab := insignia()[name]
		for i, call := range booleanCalls {
			got, err := call.f(ab[0], ab[1])
			require.NoError(t, err)
			require.LessOrEqual(t, got.Nodes(), want[i], "%s %s: %v", name, call.name, got)
		}
	}
}

// reversedSegments returns every segment of p as it runs backwards.
func segmentSet(p Path, backwards bool) map[string]bool {
	set := map[string]bool{}
	for _, c := range p {
		if backwards {
			c = c.Reversed()
		}
		for i, s := range c.Segments {
			set[fmt.Sprint(c.From(i), s)] = true
		}
	}
	return set
}

// TestBooleanNeighboursShareTheirBoundary wants every segment of A−B either on
// the outline of A as it runs, or bitwise the reverse of a segment of A∩B.
func TestBooleanNeighboursShareTheirBoundary(t *testing.T) {
	for _, name := range []string{"star over disc", "bars", "tile through disc", "two discs", "annulus and bars"} {
		t.Run(name, func(t *testing.T) {
			ab := insignia()[name]
			in, err := Intersect(ab[0], ab[1])
			require.NoError(t, err)
			in2, err := Intersect(ab[1], ab[0])
			require.NoError(t, err)
			require.Equal(t, in, in2, "the order of the operands shows")
			a, err := Subtract(ab[0], ab[1])
			require.NoError(t, err)
			b, err := Subtract(ab[1], ab[0])
			require.NoError(t, err)
			whole, err := Union(ab[0], ab[1])
			require.NoError(t, err)
			inSet, outSet := segmentSet(in, true), segmentSet(whole, false)
			for s := range segmentSet(a, false) {
				require.True(t, inSet[s] || outSet[s], "%s has no partner", s)
			}
			for s := range segmentSet(b, false) {
				require.True(t, inSet[s] || outSet[s], "%s has no partner", s)
			}
		})
	}
}

// TestBooleanPartsGoBackTogether cuts a disc with a star and tiles and joins the
// parts again: the circle comes back, nodes at the cuts at most.
func TestBooleanPartsGoBackTogether(t *testing.T) {
	disc := Path{Circle(Point{201.3, 57.25}, 25)}
	var sum Path
	for i := range 4 {
		x := 170 + 16.0*float64(i)
		part, err := Intersect(disc, Path{rectangle(x, 0, x+16, 100)})
		require.NoError(t, err)
		sum, err = Union(sum, part)
		require.NoError(t, err)
		requireProper(t, sum)
	}
	require.Len(t, sum, 1)
	require.InDelta(t, disc.Area(), sum.Area(), 1e-9)
	require.LessOrEqual(t, sum.Nodes(), 8+6)
	left, err := xor(sum, disc)
	require.NoError(t, err)
	require.Empty(t, left)
	// A part taken from the whole leaves the rest, with no sliver.
	part, err := Intersect(disc, Path{star(Point{201.3, 57.25}, 27, 0.1)})
	require.NoError(t, err)
	rest, err := Subtract(disc, part)
	require.NoError(t, err)
	again, err := Union(rest, part)
	require.NoError(t, err)
	require.Len(t, again, 1)
	require.InDelta(t, disc.Area(), again.Area(), 1e-9)
}

// smoothOutline is a tangent-continuous outline through points of a circle, with
// handles of the given lengths over the radius: short ones bend tightly there.
func smoothOutline(centre Point, r float64, handles ...float64) Contour {
	b := MoveTo(Point{centre.X + r, centre.Y})
	n := len(handles)
	for i, k := range handles {
		k *= r
		s0, c0 := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		s1, c1 := math.Sincos(2 * math.Pi * float64(i+1) / float64(n))
		end := Point{centre.X + r*c1, centre.Y + r*s1}
		if i == n-1 {
			end = b.c.Start
		}
		b.CubicTo(b.c.End().Add(Vec{-s0, c0}.Scale(k)), end.Add(Vec{s1, -c1}.Scale(k)), end)
	}
	return b.Close()
}

// drawShape draws a star-shaped polygon, smooth outline or star, with or without
// a hole, near the origin.
func drawShape(t *rapid.T, label string) Path {
	x := rapid.Float64Range(-8, 8).Draw(t, label+" x")
	y := rapid.Float64Range(-8, 8).Draw(t, label+" y")
	r := rapid.Float64Range(2, 12).Draw(t, label+" r")
	centre := Point{x, y}
	var out Contour
	switch rapid.IntRange(0, 3).Draw(t, label+" kind") {
	case 0:
		out = Circle(centre, r)
	case 1:
		out = star(centre, r, rapid.Float64Range(0, 6).Draw(t, label+" turn"))
	case 2:
		n := rapid.IntRange(3, 12).Draw(t, label+" n")
		var pts []Point
		for i := range n {
			ri := r * rapid.Float64Range(0.4, 1).Draw(t, label+" ri")
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			pts = append(pts, Point{x + ri*c, y + ri*s})
		}
		out = Polygon(pts...)
	default: // a closed smooth outline of cubics
		ks := make([]float64, rapid.IntRange(3, 6).Draw(t, label+" n"))
		for i := range ks {
			ks[i] = rapid.Float64Range(0.2, 0.6).Draw(t, label+" k")
		}
		out = smoothOutline(centre, r, ks...)
	}
	p := Path{out}
	if rapid.Bool().Draw(t, label+" hole") {
		p = append(p, Circle(centre, 0.3*r).Reversed())
	}
	if rapid.Bool().Draw(t, label+" reversed") {
		p[0] = p[0].Reversed()
	}
	return p
}

func TestBooleanProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawShape(t, "a"), drawShape(t, "b")
		var r [4]Path
		for i, call := range booleanCalls {
			var err error
			r[i], err = call.f(a, b)
			require.NoError(t, err)
			requireProper(t, r[i])
		}
		ra, err := Settle(a)
		require.NoError(t, err)
		rb, err := Settle(b)
		require.NoError(t, err)
		areaA, areaB := ra.Area(), rb.Area()
		require.InDelta(t, areaA+areaB, r[0].Area()+r[1].Area(), 1e-6)
		require.InDelta(t, areaA, r[2].Area()+r[1].Area(), 1e-6)
		require.InDelta(t, r[0].Area()-r[1].Area(), r[3].Area(), 1e-6)
		whole, err := Union(r[2], r[1])
		require.NoError(t, err)
		left, err := xor(whole, a)
		require.NoError(t, err)
		require.InDelta(t, 0, left.Area(), 1e-6)
	})
}

// TestBooleanRandomAgainstReferee gives both engines the same polygons.
func TestBooleanRandomAgainstReferee(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a, b := chorded(drawShape(rt, "a")), chorded(drawShape(rt, "b"))
		ga, gb := referee(t, a, 1), referee(t, b, 1)
		if ga.Validate() != nil || gb.Validate() != nil {
			rt.Skip("the hole crosses the outline: not the referee's")
		}
		for _, call := range booleanCalls {
			got, err := call.f(a, b)
			require.NoError(rt, err)
			want, err := call.sf(ga, gb)
			require.NoError(rt, err)
			require.InDelta(rt, want.Area(), got.Area(), 1e-5, call.name)
		}
	})
}

// chorded returns p as polygons of coarse chords.
func chorded(p Path) Path {
	var out Path
	for _, c := range p {
		out = append(out, Polygon(c.Flattened(0.01)...))
	}
	return out
}

func BenchmarkSubtract_star_disc_r20in_tol2e5in(b *testing.B) {
	disc, st := Path{Circle(Point{3, 4}, 20)}, Path{star(Point{3, 4}, 22, 0)}
	for b.Loop() {
		if _, err := Subtract(disc, st); err != nil {
			b.Fatal(err)
		}
	}
}

// drawGrid draws shapes that share edges, corners and tangents: discs, stars,
// rectangles and triangles at whole and half inches.
func drawGrid(t *rapid.T, label string) Path {
	n := func(lo, hi int, what string) float64 {
		return float64(rapid.IntRange(lo, hi).Draw(t, label+what)) / 2
	}
	x, y, r := n(0, 8, " x"), n(0, 8, " y"), n(1, 6, " r")
	switch rapid.IntRange(0, 4).Draw(t, label+" kind") {
	case 0:
		return Path{Circle(Point{x, y}, r)}
	case 1:
		return Path{star(Point{x, y}, r, 0)}
	case 2:
		return Path{rectangle(x, y, x+n(1, 8, " w"), y+n(1, 8, " h"))}
	case 3:
		return Path{Circle(Point{x, y}, 2*r), Circle(Point{x, y}, r).Reversed()}
	default:
		return Path{Polygon(Point{x, y}, Point{x + r, y}, Point{x, y + n(1, 8, " h")})}
	}
}

func TestBooleanOnAGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := rapid.SampledFrom([]float64{0, 0.3}).Draw(t, "turn")
		shift := rapid.SampledFrom([]float64{0, 217.3}).Draw(t, "shift")
		s, c := math.Sincos(turn)
		place := func(p Path) Path {
			return p.Map(func(q Point) Point { return Point{c*q.X - s*q.Y + shift, s*q.X + c*q.Y} })
		}
		a := place(drawGrid(t, "a"))
		for range rapid.IntRange(1, 2).Draw(t, "steps") {
			b := place(drawGrid(t, "b"))
			var r [4]Path
			for i, call := range booleanCalls {
				var err error
				r[i], err = call.f(a, b)
				require.NoError(t, err)
				requireProper(t, r[i])
			}
			require.InDelta(t, a.Area()+b.Area(), r[0].Area()+r[1].Area(), 1e-5)
			require.InDelta(t, a.Area(), r[2].Area()+r[1].Area(), 1e-5)
			require.InDelta(t, r[0].Area()-r[1].Area(), r[3].Area(), 1e-5)
			a = r[rapid.IntRange(0, 3).Draw(t, "keep")]
		}
	})
}

// BenchmarkIntersect_400discs_tile_tol2e5in cuts 3200 cubics with a tile whose
// edges run through centres.
func BenchmarkIntersect_400discs_tile_tol2e5in(b *testing.B) {
	var discs Path
	for i := range 400 {
		discs = append(discs, Circle(Point{3 * float64(i%20), 3 * float64(i/20)}, 1.25))
	}
	tile := Path{rectangle(9, 9, 30, 48)}
	for b.Loop() {
		if _, err := Intersect(discs, tile); err != nil {
			b.Fatal(err)
		}
	}
}

// TestBooleanNearlyAlike lays over one another outlines that differ by less than can be
// cut, down to rounding: what is in one alone is a sliver no wider than that.
func TestBooleanNearlyAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawShape(t, "a")
		off := math.Pow(10, -rapid.Float64Range(4, 12).Draw(t, "off"))
		move := func(q Point) Point {
			return q.Add(Vec{rapid.Float64Range(-1, 1).Draw(t, "dx"), rapid.Float64Range(-1, 1).Draw(t, "dy")}.Scale(off))
		}
		if rapid.Bool().Draw(t, "as one") {
			v := move(Point{})
			move = func(q Point) Point { return q.Add(Vec(v)) }
		}
		var b Path
		for _, c := range a {
			b = append(b, c.Map(move))
		}
		a, err := Settle(a)
		require.NoError(t, err)
		b, err = Settle(b)
		require.NoError(t, err)
		most := (2*off + 1e-6) * (a.Length() + 1)
		for i, call := range booleanCalls {
			r, err := call.f(a, b)
			require.NoError(t, err, call.name)
			want := a.Area()
			if i > 1 {
				want = 0
			}
			require.InDelta(t, want, r.Area(), most, call.name)
		}
	})
}

// TestBooleanNearlyOneGrid lays over one another polygons whose corners stand on a grid of
// 4 x 4 or 1e-9 in beside it, and which cross themselves: seed 1.
func TestBooleanNearlyOneGrid(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	polygon := func() Path {
		var p []Point
		for range 3 + rnd.Intn(6) {
			at := func() float64 { return float64(rnd.Intn(4)) + float64(rnd.Intn(3))*1e-9*float64(rnd.Intn(2)) }
			p = append(p, Point{X: at(), Y: at()})
		}
		return Path{Polygon(p...)}
	}
	for n := range 2000 {
		a, b := polygon(), polygon()
		var areas [4]float64
		for i, call := range booleanCalls {
			r, err := call.f(a, b)
			require.NoError(t, err, "case %d, %s: %v %v", n, call.name, a, b)
			areas[i] = r.Area()
		}
		ra, err := Settle(a)
		require.NoError(t, err)
		rb, err := Settle(b)
		require.NoError(t, err)
		require.InDelta(t, ra.Area()+rb.Area(), areas[0]+areas[1], 1e-6, "case %d: %v %v", n, a, b)
		require.InDelta(t, ra.Area(), areas[1]+areas[2], 1e-6, "case %d: %v %v", n, a, b)
		require.InDelta(t, areas[0]-areas[1], areas[3], 1e-6, "case %d: %v %v", n, a, b)
	}
}
