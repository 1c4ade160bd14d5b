package sheet

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// A document of many rows breaks over pages, prints its headings on each, and
// nothing leaves the margins.
func TestPagesKeepTheMargins(t *testing.T) {
	for _, paper := range []Paper{Letter, A4} {
		p := NewPages(paper, "A document to look at")
		p.Text(SetTitle, "A document to look at")
		p.Heading("A table", 1)
		tab := Table{Columns: []Column{{"what", 2, 0}, {"measured", 1, 1}, {"in words", 4, 0}}}
		for range 60 {
			tab.Rows = append(tab.Rows, Words("bar length", "19.998 in", "counted along the upper edge from where it meets the disc, at the star's side point (1/8 and 18°)"))
		}
		p.Table(tab)
		p.Tick(SetBody, "the scale bar measures 10 in")
		p.Draw(MeasureLine(g.Point{X: 2, Y: 2}, g.Point{X: 5, Y: 2}, -0.2, "3 in", SetBody)...)
		p.Cautions()
		sheets := p.Sheets()
		require.Greater(t, len(sheets), 2)
		for _, s := range sheets {
			for _, l := range s.Layers {
				for _, it := range l.Items {
					drawn := it.Outline()
					if len(drawn) == 0 {
						continue // a blank line
					}
					b := drawn.Bounds()
					require.True(t, b.Min.X > PageMargin-0.05 && b.Max.X < paper.Width-PageMargin+0.05 && b.Min.Y > PageMargin-0.05 && b.Max.Y < paper.Height-PageMargin+0.05, "%v", b)
				}
			}
		}
		var b bytes.Buffer
		require.NoError(t, WritePDF(&b, sheets, PDFOptions{Title: "A document", Compress: false}))
		require.Contains(t, b.String(), "(page 1 of "+"")
		require.Contains(t, b.String(), `18\260`, "text can be searched for")
		if dir := os.Getenv("MASKLOFT_LOOK"); dir != "" {
			require.NoError(t, os.WriteFile(dir+"/pages-"+strings.ToLower(paper.Name)+".pdf", b.Bytes(), 0o644))
		}
	}
}

func TestWrapKeepsEveryWord(t *testing.T) {
	text := "the right wing's tip is to the right from above, to the left from below averyveryverylongwordwithoutanyblank"
	lines := SetBody.Wrap(text, 1)
	require.Equal(t, strings.ReplaceAll(text, " ", ""), strings.ReplaceAll(strings.Join(lines, ""), " ", ""))
	for _, l := range lines {
		require.LessOrEqual(t, SetBody.Width(l), 1.0)
	}
}
