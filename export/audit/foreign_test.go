package audit

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/drawing"
	"maskloft/export/samples"

	g "maskloft/geometry"
)

func foreign(t *testing.T, name string) drawing.Foreign {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "foreign", name))
	require.NoError(t, err)
	f, err := drawing.ReadForeign(data, drawing.Format(filepath.Ext(name)[1:]))
	require.NoError(t, err, name)
	return f
}

// One cut file of the first lesson, rewritten by other programs: packed object
// and cross-reference streams (qpdf 11), the same for the web, the page turned
// (qpdf), and drawn anew by cairo 1.16 as PDF and as SVG. The star of
// R = 10 keeps its area whoever wrote it: ten triangles of sides 10 and 3.81966 with
// 36 degrees between, 5 x 10 x 3.81966 x sin 36 = 112.257 in2.
func TestReadForeignFiles(t *testing.T) {
	for _, name := range []string{"star-packed.pdf", "star-linear.pdf", "star-turned.pdf", "star-cairo.pdf", "star-cairo.svg"} {
		f := foreign(t, name)
		require.Len(t, f.Pages, 1, name)
		d := f.Pages[0]
		width, height := 45.125, 26.0
		if name == "star-turned.pdf" {
			width, height = height, width
		}
		require.InDelta(t, width, d.Width, 1e-6, name)
		require.InDelta(t, height, d.Height, 1e-6, name)
		star := 0.0
		for _, l := range d.Layers {
			for _, c := range l.Path() {
				if c.Closed() && len(c.Segments) == 10 && allLines(c) {
					star = max(star, c.Area(), -c.Area())
				}
			}
		}
		require.InDelta(t, 112.257, star, 0.002, name) // cairo keeps three decimals of a point
	}
}

func allLines(c g.Contour) bool {
	for _, s := range c.Segments {
		if s.Kind != g.Line {
			return false
		}
	}
	return true
}

// What is passed over is noted; the outlines beside it are read.
func TestReadForeignSVG(t *testing.T) {
	const file = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 960 480">
<style>.a { display: none }</style>
<defs><symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol><path id="p" d="M0 0H96V96H0Z"/></defs>
<text x="1" y="2">bar</text>
<g clip-path="url(#c)"><use xlink:href="#p" x="96" y="192"/></g>
<use href="#s" width="96" height="96" transform="translate(480 0)"/>
<use href="#loop" id="loop"/>
<path d="M0 0 L nonsense"/>
<rect width="9" height="9" visibility="hidden"/>
</svg>`
	f, err := drawing.ReadForeign([]byte(file), drawing.SVG)
	require.NoError(t, err)
	var all g.Path
	for _, l := range f.Pages[0].Layers {
		all = append(all, l.Path()...)
	}
	require.Len(t, all, 2)
	near := func(x0, y0, x1, y1 float64, b g.Rect) {
		t.Helper()
		require.InDeltaSlice(t, []float64{x0, y0, x1, y1}, []float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y}, 1e-9)
	}
	near(1, 2, 2, 3, all[:1].Bounds())
	near(5, 4, 6, 5, all[1:].Bounds())
	require.Len(t, f.Notes, 7, "%q", f.Notes)
	_, err = ReadDrawings([]byte(file), drawing.SVG)
	require.Error(t, err)
}

func TestReadForeignPDF(t *testing.T) {
	data := samples.PDFFrom("BT /F1 12 Tf (no outline) Tj ET 0 0 m 300 0 l 0 300 l h W n BI /W 1 ID \x00EIx EI 72 72 m 144 72 l S", "/Rotate -270")
	f, err := drawing.ReadForeign(data, drawing.PDF)
	require.NoError(t, err)
	require.NotEmpty(t, f.Notes)
	p := f.Pages[0].Layers[0].Path()
	require.Len(t, p, 1)
	require.InDelta(t, 1, p.Bounds().Height(), 1e-9, "the page is shown turned")
	require.InDelta(t, 0, p.Bounds().Width(), 1e-9)
}

// Whatever is lost of a packed file, the reader neither panics nor hangs.
func TestReadForeignSurvivesLoss(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "foreign", "star-packed.pdf"))
	require.NoError(t, err)
	for at := 0; at < len(data); at += 61 {
		broken := append(append([]byte(nil), data[:at]...), data[min(len(data), at+7):]...)
		_, _ = drawing.ReadForeign(broken, drawing.PDF)
	}
}
