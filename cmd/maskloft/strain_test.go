package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/job"
	"maskloft/layouts/reading"
)

// A pack holds a strain map for each marking that is not exact and for no other;
// the report says where the peaks are, how to lay the film, and where slits go.
func TestStrainInPack(t *testing.T) {
	text := `
name: bulge and tube
units: in
aircraft:
  name: bulge and tube
  datum: FS 0 is the waist, positive aft; WL 0 is the axis, positive up
  surfaces:
    - {id: tube, kind: round, sections: [{fs: 40, radius: 20, wl: 0}, {fs: 80, radius: 20, wl: 0}]}
    - id: bulge
      kind: faired
      along: natural
      sections:
`
	for fs := -28.0; fs <= 28; fs += 4 {
		text += fmt.Sprintf("        - {fs: %g, circle: {radius: %.6f, wl: 0}}\n", fs, math.Sqrt(1600-fs*fs)-20)
	}
	text += `
  hardpoints:
    - {id: P1, name: fore, fs: -20, bl: 10, wl: 10}
    - {id: P2, name: aft, fs: 20, bl: 10, wl: 10}
    - {id: P3, name: low, fs: 0, bl: 12, wl: -16}
markings:
  - id: disc
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: bulge, side: left, fs: 0, wl: 0}
  - id: small
    figure: {discs: [{diameter: 8, colour: red}]}
    where: {surface: tube, side: left, fs: 60, wl: 0}
paint: {order: [red], colours: {red: {hex: "#9b0a18"}}}
`
	spec, err := reading.LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(text)}}, "a.yaml")
	require.NoError(t, err)
	made := job.New(spec, nil)
	whole, err := made.Whole(t.Context())
	require.NoError(t, err)
	dir := filepath.Join(t.TempDir(), "pack")
	_, err = writePack(t.Context(), dir, whole, packOptions{}, newProgress(nil))
	require.NoError(t, err)

	maps, err := os.ReadDir(filepath.Join(dir, "strain"))
	require.NoError(t, err)
	require.Len(t, maps, 1)
	assert.Equal(t, "disc-left.svg", maps[0].Name())

	data, err := os.ReadFile(filepath.Join(dir, "report.json"))
	require.NoError(t, err)
	var value any
	require.NoError(t, json.Unmarshal(data, &value))
	markings := node{t, "report", value}.at("markings").items()
	require.Len(t, markings, 2)
	disc, l := markings[0], whole.Laid[0]
	assert.Equal(t, "slit in the waste, or split", disc.at("advice").text())
	disc.at("strain").at("compression_at").isPosition(l.Strain.CompressionAt)
	disc.at("strain").at("tension_at").isPosition(l.Strain.TensionAt)
	slits := disc.at("slits").items()
	require.NotEmpty(t, slits)
	require.Len(t, slits, len(l.Slits))
	for i, s := range slits {
		want := l.Slits[i]
		for k, v := range []float64{want.From.X, want.From.Y} {
			s.at("from").items()[k].is(v)
		}
		for k, v := range []float64{want.To.X, want.To.Y} {
			s.at("to").items()[k].is(v)
		}
		s.at("length_in").is(want.Length.Inches())
		s.at("closes_in").is(want.Closes.Inches())
	}
	assert.Equal(t, "lay cold", markings[1].at("advice").text())
	assert.Empty(t, markings[1].at("slits").items())
	assert.NotContains(t, markings[1].at("strain").value, "compression_at", "an exact flat has no peak")

	var shown bytes.Buffer
	require.NoError(t, show(t.Context(), &shown, "masks", made))
	assert.Equal(t, len(l.Slits), strings.Count(shown.String(), "\n  slit from "))
	pieces, err := filepath.Glob(filepath.Join(dir, "cut", "disc-left-*.svg"))
	require.NoError(t, err)
	require.NotEmpty(t, pieces)
	sheet, err := os.ReadFile(pieces[0])
	require.NoError(t, err)
	assert.NotContains(t, string(sheet), "relief slits", "what is cut by hand stands in the proof alone")
	assert.FileExists(t, filepath.Join(dir, "proof.pdf"))
}
