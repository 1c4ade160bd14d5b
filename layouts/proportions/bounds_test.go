package proportions

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
)

// scribbled returns an outline of n random points on a page of 40 in.
func scribbled(rng *rand.Rand, n int) geometry.Path {
	pts := make([]geometry.Point, n)
	for i := range pts {
		pts[i] = geometry.Point{X: 40 * rng.Float64(), Y: 40 * rng.Float64()}
	}
	return geometry.Path{geometry.Polygon(pts...)}
}

// Work is counted before it is done: a scribble of 140,000 points, 60,000 filled
// circles, scribbles of 3,000 points over the page and crammed into its middle, and 400 rings are
// refused by name; a sheet of 16,000 circles is measured.
func TestWorkIsBounded(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	rule := ruleOf(t, "an-i-9b/star-and-bars")
	_, err := Inspect([]Drawn{{Name: `path "p1"`, Path: scribbled(rng, 140_000), Stroke: "#000000"}}, rule, Options{})
	require.ErrorContains(t, err, `path "p1": its outlines have 140000 points`)
	var crowd geometry.Path
	for range 60_000 {
		crowd = append(crowd, geometry.Circle(at(40*rng.Float64(), 40*rng.Float64()), 0.2))
	}
	_, _, err = Rank([]Drawn{{Name: `path "p2"`, Path: crowd, Fill: "#112233"}}, Options{})
	require.ErrorContains(t, err, `path "p2": the edges of filled areas lie too thick`)

	const thick = "lie too thick to be told apart, with others more than 500 times as long"
	_, _, err = Rank([]Drawn{{Name: `path "p3"`, Path: scribbled(rng, 3000), Stroke: "#000000", Width: 1}}, Options{})
	require.ErrorContains(t, err, `path "p3": its lines `+thick)
	disc := Drawn{Path: geometry.Path{geometry.Circle(at(20, 20), 20)}, Fill: "#112233"}
	small := scribbled(rng, 3000).Map(func(p geometry.Point) geometry.Point { return p.Lerp(at(20, 20), 0.95) })
	_, _, err = Rank([]Drawn{disc, {Name: `path "p4"`, Path: small, Stroke: "#000000"}}, Options{})
	require.ErrorContains(t, err, `path "p4": its lines `+thick)
	var rings geometry.Path
	for k := range 400 {
		rings = append(rings, geometry.Circle(at(20, 20), 20-0.01*float64(k)))
	}
	_, err = Inspect([]Drawn{{Path: rings, Stroke: "#000000"}}, rule, Options{})
	require.ErrorContains(t, err, thick)

	var sheet []Drawn
	for range 16_000 {
		v := geometry.Point{X: 40 * rng.Float64(), Y: 40 * rng.Float64()}
		sheet = append(sheet, Drawn{Path: geometry.Path{geometry.Circle(v, 0.05+0.2*rng.Float64())}, Fill: "#0000ff"})
	}
	sc, err := newScene(sheet)
	require.NoError(t, err)
	assert.LessOrEqual(t, len(outlines(sc.bare)), 2*manyOutlines)
	assert.Less(t, len(sc.crossed), mostCrossings)
	in := sheet[0].Path.Bounds().Centre()
	assert.Equal(t, "#0000ff", sc.at(in))
}

// Of many lines across one place the nearest are kept, and no more than can be followed: 401
// lines a thousandth apart, by their distances.
func TestNearestAcrossAreKept(t *testing.T) {
	var lines geometry.Path
	for k := -200; k <= 200; k++ {
		y := float64(k) / 2000
		lines = append(lines, geometry.Polyline(at(-0.03, y), at(0.03, y)))
	}
	l := newLattice(lines, lines.Bounds().Grown(1))
	list := l.across(at(0, 0), geometry.Vec{Y: 1}, followReach)
	require.Len(t, list, mostAcross)
	for i, c := range list {
		assert.InDelta(t, float64((i+1)/2)/2000, math.Abs(c.off), 1e-9)
	}
}
