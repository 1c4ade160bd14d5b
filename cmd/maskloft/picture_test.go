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
)

// The picture of the demo that stands in the tree is what preview draws.
func TestReadmePicture(t *testing.T) {
	demo := demoJob(t)
	var svg bytes.Buffer
	require.NoError(t, sheet.WriteSVG(&svg, views.SideView(demo.Layout, demo.Laid, geometry.Left, views.ViewOptions{}), sheet.Px96))
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
