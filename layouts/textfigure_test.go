package layouts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/glyphs"
)

func TestTextFigure(t *testing.T) {
	a, err := glyphs.Load("block-6x4")
	require.NoError(t, err)
	gap := geometry.Length(8.0 / 6)
	run, err := a.Set("0417", 8, glyphs.SetOptions{Gap: &gap})
	require.NoError(t, err)
	f := TextFigure("0417", run)
	b := f.Bounds()
	assert.InDelta(t, run.Width.Inches(), b.Width(), 1e-9)
	assert.InDelta(t, 8, b.Height(), 1e-9)
	assert.InDelta(t, 0, b.Centre().X, 1e-9)
	assert.InDelta(t, 0, b.Centre().Y, 1e-9)

	regions, err := f.Regions()
	require.NoError(t, err)
	require.Len(t, regions, 1)
	assert.Equal(t, []string{"text"}, regions[0].Parts)
	assert.InEpsilon(t, run.Outline().Area(), regions[0].Outline.Area(), 1e-9)

	// a text is not mirrored, even one that looks otherwise in a mirror
	assert.Equal(t, f, f.For(geometry.Right))
	f.Handed = Handed
	assert.NotEqual(t, f.Layers, f.For(geometry.Right).Layers)
}
