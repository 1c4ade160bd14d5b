package main

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export"
	"maskloft/export/sheet"
	"maskloft/export/tapelist"
	"maskloft/export/views"
	"maskloft/layouts"
)

// The pictures of the README are drawn by the program: go test ./cmd/maskloft -run
// ReadmePictures -update draws them anew; that of the bench is .ci/bench-page/pictures.js's. Here they are only looked at: there, small, and
// pictures.
func TestReadmePictures(t *testing.T) {
	folder := filepath.Join(testFiles, "pictures")
	if *update {
		all := demoJob(t)
		cut, err := cutFiles(t.Context(), all.Tilings, all.Run, layouts.CutMarks, sheet.Px96, func(string) {}, func(packFile) error { return nil })
		require.NoError(t, err)
		films := ticketFilms(all, cut)
		draw := func(name string, s sheet.Sheet, dots float64) {
			var b bytes.Buffer
			require.NoError(t, sheet.WritePNG(&b, s, dots))
			require.NoError(t, os.WriteFile(filepath.Join(folder, name), b.Bytes(), 0o644))
		}
		draw("view.png", aircraftViews(all.Layout, all.Laid)[0].draw(views.ViewOptions{}), 70)
		for _, f := range films {
			if f.Mask.ID == "insignia-left-pass-3-insignia-blue" {
				draw("film.png", export.ProofSheet(f.Tiling, f.Mask, f.Tile, layouts.CutMarks), 24)
			}
		}
		draw("list.png", tapelist.TapeSheets(sheet.Letter, all.Layout, all.Tilings, all.Tapes)[2], 80)
	}
	for _, name := range []string{"view.png", "film.png", "list.png", "bench.png"} {
		data, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		assert.Less(t, len(data), 200_000, name)
		_, err = png.Decode(bytes.NewReader(data))
		assert.NoError(t, err, name)
	}
}
