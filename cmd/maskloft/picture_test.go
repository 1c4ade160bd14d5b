package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/reading"
)

// The picture of the demo that stands in the tree is what preview draws.
func TestReadmePicture(t *testing.T) {
	spec, err := reading.Demo()
	require.NoError(t, err)
	layout, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	laid, _, err := masks.Lay(t.Context(), layout, geometry.NetTolerance, func(string) {})
	require.NoError(t, err)
	var svg bytes.Buffer
	require.NoError(t, sheet.WriteSVG(&svg, views.SideView(layout, laid, geometry.Left, views.ViewOptions{}), sheet.Px96))
	name := filepath.Join(testFiles, "golden", "side-view-left.svg")
	if *update {
		require.NoError(t, os.WriteFile(name, svg.Bytes(), 0o644))
	}
	want, err := os.ReadFile(name)
	require.NoError(t, err)
	require.True(t, bytes.Equal(want, svg.Bytes()), "%s differs: run go test ./cmd/maskloft -run Picture -update and look at it", name)
}

// The lessons use the demo aircraft as a file; it is the one the program holds.
func TestLessonAircraftIsTheDemos(t *testing.T) {
	lesson, err := os.ReadFile(filepath.Join(testFiles, "aircraft", "kittock.yaml"))
	require.NoError(t, err)
	demo, err := os.ReadFile(filepath.Join("..", "..", "layouts", "reading", "demo", "kittock.yaml"))
	require.NoError(t, err)
	require.Equal(t, string(demo), string(lesson))
}
