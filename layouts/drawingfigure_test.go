package layouts

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/drawing"
	g "maskloft/geometry"
)

// The badge of the lesson: its paints tile what it paints, to 1e-6; its size is as asked;
// what is not painted lets the skin show.
func TestDrawingFigure(t *testing.T) {
	data, err := os.ReadFile("../testdata/lessons/badge.svg")
	require.NoError(t, err)
	shown, err := drawing.ReadShown(data, drawing.SVG)
	require.NoError(t, err)
	spec := DrawingSpec{File: "badge.svg", Shown: shown, Height: 14, Paints: []ColourUse{
		{"#F2C230", "yellow"}, {"sea", "blue"}, {"#f4f4f2", "white"}, {"#0b0b0d", "black"}, {"#e07b1a", "yellow"},
	}}
	f, err := DrawingFigure(spec)
	require.NoError(t, err)
	assert.InDelta(t, 14, f.Bounds().Height(), 1e-9)
	assert.InDelta(t, 14, f.Bounds().Width(), 1e-6, "a disc with its edge")
	assert.InDelta(t, 0, f.Bounds().Centre().X, 1e-9)
	regions := tiles(t, f)
	assert.Len(t, regions, 4)

	spec.Height, spec.Width, spec.Anchor = 0, 7, "field"
	spec.Paints[1].Paint = NoPaint
	bare, err := DrawingFigure(spec)
	require.NoError(t, err)
	assert.InDelta(t, 7, bare.Bounds().Width(), 1e-9)
	assert.InDelta(t, 0, bare.Bounds().Centre().X, 1e-6, "the middle of the field")
	all := 0.0
	regions, err = bare.Regions()
	require.NoError(t, err)
	for _, r := range regions {
		all += r.Outline.Area()
	}
	union, err := g.Union(bare.Layers[0].Outline, bare.Layers[len(bare.Layers)-1].Outline)
	require.NoError(t, err)
	assert.Less(t, all, union.Area()-1, "the sea is bare")

	for _, tc := range []struct {
		change func(d *DrawingSpec)
		say    string
	}{
		{func(d *DrawingSpec) { d.Paints = d.Paints[1:] }, `circle "field" is painted #f2c230, and paints: has no entry for it: add "#f2c230"`},
		{func(d *DrawingSpec) { d.Paints = append(d.Paints, ColourUse{"#123456", "blue"}) }, `nothing in the drawing is "#123456"`},
		{func(d *DrawingSpec) { d.Anchor = "beak" }, `no element has the id "beak"`},
		{func(d *DrawingSpec) { d.Width = 1e5 }, "at most"},
		{func(d *DrawingSpec) { d.Shown = nil; d.Paints = nil; d.Anchor = "" }, "nothing in it"},
	} {
		d := spec
		d.Paints = append([]ColourUse(nil), spec.Paints...)
		tc.change(&d)
		_, err := DrawingFigure(d)
		assert.ErrorContains(t, err, tc.say)
	}
}
