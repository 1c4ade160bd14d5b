package audit

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"maskloft/export/drawing"
	"maskloft/export/samples"
	"maskloft/export/sheet"
	_ "maskloft/geometry/trial"

	g "maskloft/geometry"
)

func TestAuditMeasures(t *testing.T) {
	s := samples.SampleSheet()
	for format, data := range map[drawing.Format][]byte{drawing.SVG: samples.SVGOf(t, s, sheet.Px96), drawing.PDF: samples.PDFOf(t, sheet.PDFOptions{}, s)} {
		a, err := Audit(s, data, format, 1e-5)
		require.NoError(t, err)
		require.InDelta(t, 6.5, a.Width, 1e-9)
		require.Len(t, a.Layers, 3)
		cut, marks := a.Layers[0], a.Layers[1]
		require.Equal(t, [3]int{4, 0, 31}, [3]int{cut.Contours, cut.Open, cut.Nodes})
		require.InDelta(t, samples.FigureR().Area()+0.75*math.Pi, cut.Area, 3e-5)
		require.Less(t, cut.Bounds.Min.Dist(g.Point{X: 1, Y: 1}), 1e-6)
		require.Equal(t, [2]int{3, 2}, [2]int{marks.Contours, marks.Open})
		require.Zero(t, a.Outside)
	}
}

// Each mistake that a file can have is found, and said where.
func TestAuditFindsMistakes(t *testing.T) {
	s := samples.SampleSheet()
	good := string(samples.SVGOf(t, s, sheet.Px96))
	for name, c := range map[string]struct{ from, to, want string }{
		"scaled 96 for 90":  {`width="6.5in" height="5.0625in"`, `width="624" height="486" transform="scale(1.0667)"`, "transform"},
		"another page size": {`width="6.5in" height="5.0625in"`, `width="6.6in" height="5.140384615in"`, "off by 0.1"},
		"a node moved":      {"M96 390", "M97 390", `layer "cut", contour 1, its start: off by 0.0104 in`},
		"a layer renamed":   {"<title>cut</title>", "<title>Layer 1</title>", `layer 1 of the file is not "cut"`},
		"left open":         {"L264 102 L96 102 Z", "L264 102 L96 102", "closed is false, not true"},
		"a node lost":       {"L264 102 ", "", "10 segments, not 11"},
		"a contour lost":    {" M144 222 L144 150 L240 150 L240 222 Z", "", "3 contours, not 4"},
		"a layer more":      {"</svg>", `<g><title>more</title></g></svg>`, `4 layers, not 3: "more"`},
		"turned over":       {`fill-rule="evenodd"`, `fill-rule="evenodd" transform="matrix(1 0 0 -1 0 486)"`, "off by"},
	} {
		bad := strings.Replace(good, c.from, c.to, 1)
		require.NotEqual(t, good, bad, name)
		_, err := Audit(s, []byte(bad), drawing.SVG, 1e-5)
		require.ErrorContains(t, err, c.want, name)
	}
	_, err := Audit(s, []byte(good), drawing.PDF, 1e-5)
	require.ErrorContains(t, err, "not a PDF")
	_, err = Audit(s, []byte(good), "bmp", 1e-5)
	require.ErrorContains(t, err, `"bmp" is unknown`)
	_, err = Audit(s, samples.PDFOf(t, sheet.PDFOptions{}, s, s), drawing.PDF, 1e-5)
	require.ErrorContains(t, err, "2 pages, not 1")
}

func TestAuditOutside(t *testing.T) {
	s := sheet.Sheet{Title: "t", Width: 2, Height: 2, Layers: []sheet.Layer{{Name: "a", Items: []sheet.Item{{
		Path: g.Path{g.Polyline(g.Point{X: 1, Y: 1}, g.Point{X: 2.25, Y: -0.5})}, Ink: sheet.Ink{Stroke: "#000000", Width: 0.01}}}}}}
	a, err := Audit(s, samples.SVGOf(t, s, sheet.MM), drawing.SVG, 1e-5)
	require.NoError(t, err)
	require.InDelta(t, 0.5, a.Outside, 1e-6)
}

// anySheet draws sheets with layers, items and contours of every kind.
func anySheet() *rapid.Generator[sheet.Sheet] {
	return rapid.Custom(func(t *rapid.T) sheet.Sheet {
		point := func() g.Point {
			return g.Point{X: rapid.Float64Range(-50, 150).Draw(t, "x"), Y: rapid.Float64Range(-50, 150).Draw(t, "y")}
		}
		colour := func(k string) string { return "#" + rapid.StringMatching(`[0-9a-f]{6}`).Draw(t, k) }
		s := sheet.Sheet{
			Title: rapid.StringMatching(`[a-zé&<>"()\\ ]{0,12}`).Draw(t, "title"),
			Width: rapid.Float64Range(0.05, 199).Draw(t, "width"), Height: rapid.Float64Range(0.05, 199).Draw(t, "height"),
		}
		names := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-zü(&]([a-z&<>()\\, ]{0,8}[a-z])?`), 0, 3, rapid.ID[string]).Draw(t, "names")
		for _, name := range names {
			l := sheet.Layer{Name: name}
			for range rapid.IntRange(0, 3).Draw(t, "items") {
				it := sheet.Item{Ink: sheet.Ink{Stroke: colour("stroke"), Width: rapid.Float64Range(0.001, 1).Draw(t, "pen")}}
				if rapid.Bool().Draw(t, "filled") {
					it.Ink.Fill = colour("fill")
				}
				for range rapid.IntRange(0, 3).Draw(t, "contours") {
					b := g.MoveTo(point())
					for range rapid.IntRange(1, 5).Draw(t, "segments") {
						if rapid.Bool().Draw(t, "curved") {
							b.CubicTo(point(), point(), point())
						} else {
							b.LineTo(point())
						}
					}
					c := b.Open()
					if rapid.Bool().Draw(t, "closed") || c.Start.Dist(c.End()) < sheet.HairOpen {
						it.Path = append(it.Path, b.Close())
					} else {
						it.Path = append(it.Path, c)
					}
				}
				l.Items = append(l.Items, it)
			}
			s.Layers = append(s.Layers, l)
		}
		return s
	})
}

// What is written is read back as it was, in every flavour and format, within
// 1e-6 in of every node and control point in x and in y; and is written twice
// with the same bytes.
func TestReadBackIsTheSheet(t *testing.T) {
	within := 1e-6 * math.Sqrt2
	rapid.Check(t, func(t *rapid.T) {
		s := anySheet().Draw(t, "sheet")
		f := rapid.SampledFrom([]sheet.Flavour{sheet.Px96, sheet.Pt72, sheet.Px90, sheet.MM}).Draw(t, "flavour")
		opts := sheet.PDFOptions{Title: s.Title, Compress: rapid.Bool().Draw(t, "compress")}
		write := func(to func(*bytes.Buffer) error) []byte {
			var a, b bytes.Buffer
			require.NoError(t, to(&a))
			require.NoError(t, to(&b))
			require.Equal(t, a.Bytes(), b.Bytes())
			return a.Bytes()
		}
		_, err := Audit(s, write(func(b *bytes.Buffer) error { return sheet.WriteSVG(b, s, f) }), drawing.SVG, within)
		require.NoError(t, err)
		_, err = Audit(s, write(func(b *bytes.Buffer) error { return sheet.WritePDF(b, []sheet.Sheet{s}, opts) }), drawing.PDF, within)
		require.NoError(t, err)
	})
}

func TestPDFPagesAreTheirSheets(t *testing.T) {
	sheets := []sheet.Sheet{samples.SampleSheet(), samples.OddSheet()}
	for _, opts := range []sheet.PDFOptions{{}, {Compress: true}} {
		a, err := AuditPages(sheets, samples.PDFOf(t, opts, sheets...), drawing.PDF, 1e-6)
		require.NoError(t, err)
		require.Len(t, a, 2)
		for i := range a {
			require.Less(t, a[i].Deviation, 1e-6)
			require.Zero(t, a[i].Outside)
		}
	}
}

func TestSVGFlavoursAreOneDrawing(t *testing.T) {
	for _, s := range []sheet.Sheet{samples.SampleSheet(), samples.OddSheet()} {
		for _, f := range []sheet.Flavour{sheet.Px96, sheet.Pt72, sheet.Px90, sheet.MM} {
			a, err := Audit(s, samples.SVGOf(t, s, f), drawing.SVG, 1e-6)
			require.NoError(t, err, "%s", f)
			require.InDelta(t, s.Width, a.Width, 5.1e-7)
			require.InDelta(t, s.Height, a.Height, 5.1e-7)
			require.Less(t, a.Deviation, 1e-6)
		}
	}
}
