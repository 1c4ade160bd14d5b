package sheet

import (
	"bytes"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/drawing"

	g "maskloft/geometry"
)

func TestPDFGolden(t *testing.T) {
	golden(t, "sample.pdf", pdfOf(t, PDFOptions{Title: "sample (größe)"}, sampleSheet(), oddSheet()))
}

func TestPDFSameBytesTwice(t *testing.T) {
	for _, opts := range []PDFOptions{{Title: "t"}, {Title: "t", Compress: true}} {
		require.Equal(t, pdfOf(t, opts, sampleSheet(), oddSheet()), pdfOf(t, opts, sampleSheet(), oddSheet()))
	}
}

func TestPDFLandsUnmirrored(t *testing.T) {
	s := Sheet{Title: "R", Width: 4, Height: 5, Layers: []Layer{{Name: "cut", Items: []Item{{Path: figureR(), Ink: Ink{Fill: "#000000"}}}}}}
	data := pdfOf(t, PDFOptions{}, s)
	// (1, 1) in and (1.5, 1) in from the lower left corner, 72 to the inch.
	require.Contains(t, string(data), "72 72 m\n108 72 l\n108 162 l\n126 162 l\n180 72 l\n216 72 l\n")
	pages, err := drawing.ReadPDF(bytes.NewReader(data))
	require.NoError(t, err)
	p := pages[0].Layers[0].Path()
	require.True(t, p.Contains(g.Point{X: 2.7, Y: 1.1}, 1e-3), "the leg, at the foot")
	require.False(t, p.Contains(g.Point{X: 2, Y: 1.1}, 1e-3), "between stem and leg, at the foot")
	require.True(t, p.Contains(g.Point{X: 2, Y: 3.8}, 1e-3), "the head")
	require.Greater(t, p[0].Area(), 0.0)
}

// The operators are those that the format has, the boxes agree, the layers are
// shared by the pages, and nothing scales the page or dates the file.
func TestPDFStructure(t *testing.T) {
	text := string(pdfOf(t, PDFOptions{Title: "t"}, sampleSheet(), oddSheet()))
	ops := map[string]bool{}
	for _, s := range regexp.MustCompile(`(?s)stream\n(.*?)\nendstream`).FindAllStringSubmatch(text, -1) {
		for _, m := range regexp.MustCompile(`(?m)([A-Za-z]+\*?)$`).FindAllStringSubmatch(s[1], -1) {
			ops[m[1]] = true
		}
	}
	require.Equal(t, map[string]bool{"M": true, "BDC": true, "q": true, "Q": true, "RG": true, "rg": true, "w": true, "d": true,
		"m": true, "l": true, "c": true, "h": true, "S": true, "B*": true, "EMC": true}, ops)
	for _, want := range []string{"%PDF-1.7", "/PrintScaling /None", "/MediaBox [0 0 468 364.5] /CropBox [0 0 468 364.5] /TrimBox [0 0 468 364.5]", "/Name (cut)", "[7.2 3.6] 0 d"} {
		require.Contains(t, text, want)
	}
	for _, never := range []string{"UserUnit", "Date", " cm\n", "s*", "/Font"} {
		require.NotContains(t, text, never)
	}
	require.Len(t, regexp.MustCompile(`/Type /OCG `).FindAllString(text, -1), 3, "one group a name")
	fill := Sheet{Title: "t", Width: 4, Height: 5, Layers: []Layer{{Name: "a", Items: []Item{{Path: figureR(), Ink: Ink{Fill: "#ff0080"}}}}}}
	require.Contains(t, string(pdfOf(t, PDFOptions{}, fill)), "1 0 0.502 rg\n")
	require.Contains(t, string(pdfOf(t, PDFOptions{}, fill)), "\nf*\nQ\n")
}

func TestPDFLimits(t *testing.T) {
	page := func(w, h float64) error {
		return WritePDF(&bytes.Buffer{}, []Sheet{{Title: "t", Width: w, Height: h}}, PDFOptions{})
	}
	require.NoError(t, page(200, 3.0/72))
	require.ErrorContains(t, page(200.001, 10), "200 in (14400 units)")
	require.ErrorContains(t, page(200.001, 10), "shorter tiles")
	require.ErrorContains(t, page(10, 0.0416), "0.0417 in (3 units)")
	require.ErrorContains(t, WritePDF(&bytes.Buffer{}, nil, PDFOptions{Title: "t"}), "at least one page")
}

// The identifier is made from the content: other content, another identifier.
func TestPDFIdentifier(t *testing.T) {
	id := func(data []byte) string {
		return regexp.MustCompile(`/ID \[<(\w{32})> <\w{32}>\]`).FindString(string(data))
	}
	s := sampleSheet()
	a := id(pdfOf(t, PDFOptions{}, s))
	s.Width += 0.001
	require.NotEmpty(t, a)
	require.NotEqual(t, a, id(pdfOf(t, PDFOptions{}, s)))
}
