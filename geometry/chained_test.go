package geometry

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Outlines taken apart into their segments, each way round, in any order and with ends off
// by rounding, come back with the same area; what lacks a piece stays open, in one.
func TestChained(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	var whole, apart Path
	for k := range 8 {
		q := Point{X: float64(3 * k)}
		whole = append(whole, Circle(q, 1), Rectangle(Rect{Min: q.Add(Vec{X: -0.5, Y: -0.5}), Max: q.Add(Vec{X: 0.5, Y: 0.5})}))
	}
	off := func() Vec { return Vec{X: 1e-7 * rng.Float64(), Y: 1e-7 * rng.Float64()} }
	for _, c := range whole {
		for i, s := range c.Segments {
			s.End = s.End.Add(off())
			piece := Contour{Start: c.From(i).Add(off()), Segments: []Segment{s}}
			if rng.IntN(2) == 0 {
				piece = piece.Reversed()
			}
			apart = append(apart, piece)
		}
	}
	rng.Shuffle(len(apart), func(i, j int) { apart[i], apart[j] = apart[j], apart[i] })
	again := Chained(apart, 1e-6)
	require.Len(t, again, len(whole))
	var sum, want float64
	for _, c := range again {
		require.True(t, c.Closed())
		sum += max(Path{c}.Area(), -Path{c}.Area())
	}
	for _, c := range whole {
		want += Path{c}.Area()
	}
	assert.InDelta(t, want, sum, 1e-5)

	again = Chained(apart[1:], 1e-6)
	require.Len(t, again, len(whole))
	open := 0
	for _, c := range again {
		if !c.Closed() {
			open++
		}
	}
	assert.Equal(t, 1, open)
}

// At a corner that two squares share each goes on in its own order; a line that lies twice
// is not run back along.
func TestChainedCorners(t *testing.T) {
	lines := func(points ...Point) (out Path) {
		for i := range points[1:] {
			out = append(out, Polyline(points[i], points[i+1]))
		}
		return out
	}
	a := lines(Point{}, Point{X: 1}, Point{X: 1, Y: 1}, Point{Y: 1}, Point{})
	b := lines(Point{X: 1, Y: 1}, Point{X: 2, Y: 1}, Point{X: 2, Y: 2}, Point{X: 1, Y: 2}, Point{X: 1, Y: 1})
	got := Chained(append(append(Path{}, a...), b...), 1e-9)
	require.Len(t, got, 2)
	assert.Len(t, got[0].Segments, 4)
	assert.Len(t, got[1].Segments, 4)

	twice := append(Path{a[0]}, a...)
	got = Chained(twice, 1e-9)
	require.Len(t, got, 2)
	assert.True(t, got[0].Closed())
	assert.Len(t, got[0].Segments, 4)
}

// Of a hub of many lines none is joined: to look at each at each would take for ever.
func TestChainedHub(t *testing.T) {
	var spokes Path
	for i := range 100_000 {
		spokes = append(spokes, Polyline(Point{}, Point{X: 1, Y: float64(i)}))
	}
	assert.Equal(t, len(spokes), len(Chained(spokes, 1e-9)))
}
