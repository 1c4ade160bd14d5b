package sheet

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares got with the golden file of that name, or writes it.
func golden(t testing.TB, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", "golden", name)
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
		require.NoError(t, os.WriteFile(file, got, 0o666))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run go test ./export -update")
	require.Equal(t, string(want), string(got))
}

// figureR is the letter R, 3 in high with its foot at (1, 1): no mirror image
// and no turn of it is the figure again.
func figureR() g.Path {
	return g.Path{
		g.Polygon(g.Point{X: 1, Y: 1}, g.Point{X: 1.5, Y: 1}, g.Point{X: 1.5, Y: 2.25}, g.Point{X: 1.75, Y: 2.25}, g.Point{X: 2.5, Y: 1}, g.Point{X: 3, Y: 1},
			g.Point{X: 2.25, Y: 2.25}, g.Point{X: 3, Y: 2.5}, g.Point{X: 3, Y: 3.75}, g.Point{X: 2.75, Y: 4}, g.Point{X: 1, Y: 4}),
		g.Polygon(g.Point{X: 1.5, Y: 2.75}, g.Point{X: 1.5, Y: 3.5}, g.Point{X: 2.5, Y: 3.5}, g.Point{X: 2.5, Y: 2.75}),
	}
}

// sampleSheet has one of everything: a filled region with a hole, a curve, open
// lines beside a filled region, dashes, an empty layer, and names to escape.
func sampleSheet() Sheet {
	ring := g.Path{g.Circle(g.Point{X: 5, Y: 2.5}, 1), g.Circle(g.Point{X: 5, Y: 2.5}, 0.5).Reversed()}
	mark := g.Path{g.Circle(g.Point{X: 5, Y: 4.25}, 0.25), g.Polyline(g.Point{X: 4.6, Y: 4.25}, g.Point{X: 5.4, Y: 4.25})}
	return Sheet{
		Title: `sample "R" & ring (1 < 2)`, Width: 6.5, Height: 5.0625,
		Layers: []Layer{
			{Name: "cut", Items: []Item{
				{ID: "letter R", Path: figureR(), Ink: Ink{Stroke: "#000000", Width: 0.01}},
				{ID: "ring", Path: ring, Ink: Ink{Stroke: "#b01020", Width: 0.02, Fill: "#ffe080"}},
			}},
			{Name: "marks & notes, draw only", Items: []Item{
				{ID: "A", Path: mark, Ink: Ink{Stroke: "#1f5f7a", Width: 0.01, Fill: "#d0e8f0"}},
				{Path: g.Path{g.Polyline(g.Point{X: 0.5, Y: 0.5}, g.Point{X: 6, Y: 0.5})}, Ink: Ink{Stroke: "#6b6b6b", Width: 0.01, Dash: []float64{0.1, 0.05}}},
			}},
			{Name: "größe", Items: nil},
		},
	}
}

// oddSheet has a size and nodes that no flavour writes without rounding.
func oddSheet() Sheet {
	return Sheet{Title: "odd", Width: 12.34567891, Height: 100.0 / 7, Layers: []Layer{{Name: "cut", Items: []Item{{
		Path: g.Path{g.Circle(g.Point{X: 20.0 / 3, Y: 50.0 / 7}, 10.0/3)}, Ink: Ink{Stroke: "#000000", Width: 0.01},
	}}}}}
}

func svgOf(t testing.TB, s Sheet, f Flavour) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, WriteSVG(&b, s, f))
	return b.Bytes()
}

func pdfOf(t testing.TB, opts PDFOptions, sheets ...Sheet) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, WritePDF(&b, sheets, opts))
	return b.Bytes()
}
