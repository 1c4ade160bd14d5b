package proportions

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// striped draws a rudder of three upright bands, each a third of its breadth, by hand: a
// straight hinge line and a rounded trailing edge.
func striped(fills ...string) []Drawn {
	rudder := geometry.Path{geometry.MoveTo(geometry.Point{}).LineTo(geometry.Point{X: 24}).CubicTo(geometry.Point{X: 34, Y: 10}, geometry.Point{X: 30, Y: 50}, geometry.Point{Y: 60}).Close()}
	box := rudder.Bounds()
	var out []Drawn
	for i, fill := range fills {
		wide := box.Width() / float64(len(fills))
		band := geometry.Rect{Min: geometry.Point{X: box.Min.X + wide*float64(i), Y: -1}, Max: geometry.Point{X: box.Min.X + wide*float64(i+1), Y: 61}}
		piece, err := geometry.Intersect(rudder, geometry.Path{geometry.Rectangle(band)})
		if err != nil {
			panic(err)
		}
		out = append(out, Drawn{Path: piece, Fill: fill})
	}
	return out
}

// A rudder drawn elsewhere in blue, white and red is found among all forms without being
// named, and stays right on either side; in red, white and blue it is the other nation's or
// the same one seen from the other side; with two bands changed over it is none of them.
func TestRudderIsRanked(t *testing.T) {
	list, colours, err := Rank(striped("#1d3a8a", "#ffffff", "#c8102e"), Options{})
	require.NoError(t, err)
	assert.True(t, colours)
	var ids []string
	for _, c := range list {
		if c.Sound {
			ids = append(ids, c.Rule.ID)
		}
	}
	assert.Contains(t, ids, "france/rudder-stripes")

	in, err := Inspect(striped("#1d3a8a", "#ffffff", "#c8102e"), ruleOf(t, "france/rudder-stripes"), Options{})
	require.NoError(t, err)
	assert.Zero(t, deviating(in.Found[0]))
	_, err = Inspect(striped("#ffffff", "#1d3a8a", "#c8102e"), ruleOf(t, "france/rudder-stripes"), Options{})
	assert.Error(t, err)
	in, err = Inspect(striped("#1d3a8a", "#ffffff", "#007a33"), ruleOf(t, "france/rudder-stripes"), Options{})
	if err == nil {
		assert.NotZero(t, deviating(in.Found[0]))
	}
}

// Every rule that fills a surface, drawn on its own rectangle, is right by itself, and is
// found without its name.
func TestFieldsOfAllRules(t *testing.T) {
	n := 0
	for _, rule := range allRules(t) {
		if !rule.FollowsField() {
			continue
		}
		n++
		fig, err := layouts.InsigniaFigure(rule, geometry.Length(standards.NominalSize), nil)
		require.NoError(t, err)
		var drawn []Drawn
		for _, l := range fig.Layers {
			drawn = append(drawn, Drawn{Path: l.Outline, Fill: inkOf(l.Colour), EvenOdd: true})
		}
		in, err := Inspect(drawn, rule, Options{})
		require.NoError(t, err, rule.ID)
		assert.Zero(t, deviating(in.Found[0]), "%s: %v", rule.ID, in.Found[0].Checks)
	}
	assert.Greater(t, n, 20)
}
