package proportions

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
)

// saidOf returns what an inspection says of layers that deviate.
func saidOf(t *testing.T, id string, layers []faultLayer) []string {
	t.Helper()
	list, err := faultWriters[0].write(layers)
	require.NoError(t, err)
	in, err := Inspect(placedAt(list, 20, 0, geometry.Vec{X: 30, Y: 30}), ruleOf(t, id), Options{})
	require.NoError(t, err, id)
	var said []string
	for _, r := range in.Found {
		for _, c := range r.Checks {
			if c.deviates() {
				text := c.Said
				if text == "" {
					text = c.What
				}
				said = append(said, fmt.Sprintf("%s: %s", c.Dimension(), text))
			}
		}
	}
	return said
}

// Small slips of shape are named as what they are, by their amount: an oval of
// 1 %, a skew of 1 degree, a centre off by 0.5 % of the radius, one arm of a cross 2 %
// short. The amounts are those that the outlines were changed by.
func TestSmallSlipsAreNamed(t *testing.T) {
	all := func(id string, m func(geometry.Point) geometry.Point) []faultLayer {
		out := faultLayers(t, ruleOf(t, id))
		for i := range out {
			out = mapLayer(out, i, m)
		}
		return out
	}
	part := func(id, name string, m func(geometry.Point) geometry.Point) []faultLayer {
		out := faultLayers(t, ruleOf(t, id))
		i := slices.IndexFunc(out, func(l faultLayer) bool { return l.part == name })
		require.GreaterOrEqual(t, i, 0)
		return mapLayer(out, i, m)
	}
	wide := func(p geometry.Point) geometry.Point { return geometry.Point{X: 1.01 * p.X, Y: p.Y} }
	skew := func(p geometry.Point) geometry.Point {
		return geometry.Point{X: p.X + math.Tan(math.Pi/180)*p.Y, Y: p.Y}
	}
	for _, c := range []struct {
		id     string
		layers []faultLayer
		says   []string
		most   int // said in all; 0: one
	}{
		{"french-roundel/thirds", all("french-roundel/thirds", wide), []string{"the figure is oval: 1 % wider than high"}, 0},
		{"raf-roundel/a1", all("raf-roundel/a1", wide), []string{"the figure is oval: 1 % wider than high"}, 0},
		{"an-i-9b/star-and-bars", all("an-i-9b/star-and-bars", wide), []string{"the figure is 1", " % wider than high"}, 0},
		{"an-i-9b/star-and-bars", all("an-i-9b/star-and-bars", skew), []string{"the figure is skewed by 1 deg"}, 0},
		{"german-cross/wide", all("german-cross/wide", skew), []string{"the figure is skewed by 1 deg"}, 0},
		{"raf-roundel/a1", part("raf-roundel/a1", "red", func(p geometry.Point) geometry.Point { return geometry.Point{X: p.X + 0.005, Y: p.Y} }), []string{"red.shape: it is off its place by 0.", " in to the right"}, 0},
		{"french-roundel/thirds", part("french-roundel/thirds", "white", wide), []string{"white.shape: it is oval: 1 % wider than high"}, 2}, // and larger
		{"german-cross/wide", part("german-cross/wide", "core", func(p geometry.Point) geometry.Point {
			if p.X > 0.5 { // the end of the right arm alone
				p.X *= 0.98
			}
			return p
		}), []string{"core.shape: its right edge right of the centre is ", "too far in"}, 3}, // and the edge round it lacks where it was
	} {
		said := saidOf(t, c.id, c.layers)
		text := strings.Join(said, "\n")
		assert.LessOrEqual(t, len(said), max(1, c.most), "%s: %s", c.id, text)
		for _, want := range c.says {
			assert.Contains(t, text, want, c.id)
		}
	}
}
