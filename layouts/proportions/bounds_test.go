package proportions

import (
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

// Work is counted before it is done: a scribble of 140,000 points, and one of 40,000 that
// fills areas, are refused by name; a sheet of 16,000 circles is measured.
func TestWorkIsBounded(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	rule := ruleOf(t, "an-i-9b/star-and-bars")
	_, err := Inspect([]Drawn{{Name: `path "p1"`, Path: scribbled(rng, 140_000), Stroke: "#000000"}}, rule, Options{})
	require.ErrorContains(t, err, `path "p1": its outlines have 140000 points`)
	_, _, err = Rank([]Drawn{{Name: `path "p2"`, Path: scribbled(rng, 40_000), Fill: "#112233"}}, Options{})
	require.ErrorContains(t, err, `path "p2": the edges of filled areas lie too thick`)

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
