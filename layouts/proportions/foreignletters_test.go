package proportions

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// A text in a drawing made elsewhere gives the checks that the same text gives on its
// film: as areas, as areas with white counters painted over, as bare outlines, turned; and
// with a letter too narrow it is that letter that is named.
func TestDrawnText(t *testing.T) {
	p := lettering(t, "N8BM1", "cfr-45-29", "")
	rule, err := standards.Find("14-cfr-45/29")
	require.NoError(t, err)
	regions, err := p.Figure.Regions()
	require.NoError(t, err)
	want, err := OfLettering(p.Figure, rule, regions, Options{})
	require.NoError(t, err)
	var whole geometry.Path
	for _, r := range regions {
		whole = append(whole, r.Outline...)
	}
	var solid, counters []Drawn
	for _, c := range whole {
		if c.Area() > 0 {
			solid = append(solid, Drawn{Path: geometry.Path{c}, Fill: "#000000"})
		} else {
			counters = append(counters, Drawn{Path: geometry.Path{c}, Fill: "#ffffff"})
		}
	}
	require.Len(t, counters, 4, "two of 8, two of B")
	for name, list := range map[string][]Drawn{
		"areas":          {{Path: whole, Fill: "#000000", EvenOdd: true}},
		"white counters": append(solid, counters...),
		"outlines":       {{Path: whole, Stroke: "#000000"}},
		"turned":         turnedBy([]Drawn{{Path: whole, Fill: "#c8102e", EvenOdd: true}}, -0.4),
	} {
		got, err := DrawnText(list, "N8 BM1", rule, Options{})
		require.NoError(t, err, name)
		require.Len(t, got, len(want), name)
		for i, c := range got {
			assert.Equal(t, want[i].What, c.What, name)
			assert.InDelta(t, want[i].Measured.Inches(), c.Measured.Inches(), 0.002, "%s: %s", name, c.What)
			assert.Equal(t, Conforms, c.Verdict, "%s: %s", name, c.What)
		}
	}
	narrow := geometry.Path{}
	box := whole.Bounds()
	for _, c := range whole {
		if c.Bounds().Min.X == box.Min.X { // the N
			c = c.Map(func(q geometry.Point) geometry.Point {
				return geometry.Point{X: box.Min.X + 0.9*(q.X-box.Min.X), Y: q.Y}
			})
		}
		narrow = append(narrow, c)
	}
	got, err := DrawnText([]Drawn{{Path: narrow, Fill: "#000000", EvenOdd: true}}, "N8BM1", rule, Options{})
	require.NoError(t, err)
	require.NotEmpty(t, failing(got))
	for _, c := range got {
		if c.Verdict != Conforms {
			assert.Contains(t, c.What, " N")
		}
	}
	_, err = DrawnText([]Drawn{{Path: whole, Fill: "#000000", EvenOdd: true}}, "N8", rule, Options{})
	assert.ErrorContains(t, err, "has 2 characters, but those that stand side by side in the drawing are 5 in #000000")
}
