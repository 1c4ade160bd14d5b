// Package samples holds sheets for tests of reading and auditing. Only tests import it.
package samples

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"
	g "maskloft/geometry"
)

// FigureR is the letter R, 3 in high with its foot at (1, 1): no mirror image
// and no turn of it is the figure again.
func FigureR() g.Path {
	return g.Path{
		g.Polygon(g.Point{X: 1, Y: 1}, g.Point{X: 1.5, Y: 1}, g.Point{X: 1.5, Y: 2.25}, g.Point{X: 1.75, Y: 2.25}, g.Point{X: 2.5, Y: 1}, g.Point{X: 3, Y: 1},
			g.Point{X: 2.25, Y: 2.25}, g.Point{X: 3, Y: 2.5}, g.Point{X: 3, Y: 3.75}, g.Point{X: 2.75, Y: 4}, g.Point{X: 1, Y: 4}),
		g.Polygon(g.Point{X: 1.5, Y: 2.75}, g.Point{X: 1.5, Y: 3.5}, g.Point{X: 2.5, Y: 3.5}, g.Point{X: 2.5, Y: 2.75}),
	}
}

// SampleSheet has one of everything: a filled region with a hole, a curve, open
// lines beside a filled region, dashes, an empty layer, and names to escape.
func SampleSheet() sheet.Sheet {
	ring := g.Path{g.Circle(g.Point{X: 5, Y: 2.5}, 1), g.Circle(g.Point{X: 5, Y: 2.5}, 0.5).Reversed()}
	mark := g.Path{g.Circle(g.Point{X: 5, Y: 4.25}, 0.25), g.Polyline(g.Point{X: 4.6, Y: 4.25}, g.Point{X: 5.4, Y: 4.25})}
	return sheet.Sheet{
		Title: `sample "R" & ring (1 < 2)`, Width: 6.5, Height: 5.0625,
		Layers: []sheet.Layer{
			{Name: "cut", Items: []sheet.Item{
				{ID: "letter R", Path: FigureR(), Ink: sheet.Ink{Stroke: "#000000", Width: 0.01}},
				{ID: "ring", Path: ring, Ink: sheet.Ink{Stroke: "#b01020", Width: 0.02, Fill: "#ffe080"}},
			}},
			{Name: "marks & notes, draw only", Items: []sheet.Item{
				{ID: "A", Path: mark, Ink: sheet.Ink{Stroke: "#1f5f7a", Width: 0.01, Fill: "#d0e8f0"}},
				{Path: g.Path{g.Polyline(g.Point{X: 0.5, Y: 0.5}, g.Point{X: 6, Y: 0.5})}, Ink: sheet.Ink{Stroke: "#6b6b6b", Width: 0.01, Dash: []float64{0.1, 0.05}}},
			}},
			{Name: "größe", Items: nil},
		},
	}
}

// OddSheet has a size and nodes that no flavour writes without rounding.
func OddSheet() sheet.Sheet {
	return sheet.Sheet{Title: "odd", Width: 12.34567891, Height: 100.0 / 7, Layers: []sheet.Layer{{Name: "cut", Items: []sheet.Item{{
		Path: g.Path{g.Circle(g.Point{X: 20.0 / 3, Y: 50.0 / 7}, 10.0/3)}, Ink: sheet.Ink{Stroke: "#000000", Width: 0.01},
	}}}}}
}

func SVGOf(t testing.TB, s sheet.Sheet, f sheet.Flavour) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, sheet.WriteSVG(&b, s, f))
	return b.Bytes()
}

func PDFOf(t testing.TB, opts sheet.PDFOptions, sheets ...sheet.Sheet) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, sheet.WritePDF(&b, sheets, opts))
	return b.Bytes()
}

// Parsed reads path text, one contour after another.
func Parsed(t testing.TB, text string) g.Path {
	t.Helper()
	p, err := g.ParsePath(text)
	require.NoError(t, err)
	return p
}

// PDFFrom makes a PDF of one page of 144 x 144 units from its content; extra stands
// in the page, and objects follow from number 5.
func PDFFrom(content, extra string, objects ...string) []byte {
	all := append([]string{
		"<</Type/Catalog/Pages 2 0 R>>",
		"<</Type/Pages/Count 1/Kids[3 0 R]/MediaBox[0 0 144 144]>>",
		"<</Type/Page/Parent 2 0 R/Contents 4 0 R" + extra + ">>",
		fmt.Sprintf("<</Length %d>>\nstream\n%s\nendstream", len(content), content),
	}, objects...)
	var b bytes.Buffer
	b.WriteString("%PDF-1.4\n")
	at := make([]int, len(all))
	for i, o := range all {
		at[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(all)+1)
	for _, o := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", o)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(all)+1, start)
	return b.Bytes()
}
