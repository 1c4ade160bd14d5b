package export

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"
	g "maskloft/geometry"
	"maskloft/layouts"
)

// Letters of dimension lines that lie on each other stand apart, and a drawing without a
// paint is drawn by its outlines; what lacks beyond it lies on the paper.
func TestCheckedPicture(t *testing.T) {
	var rows []CheckedRow
	for i := range 6 {
		rows = append(rows, CheckedRow{Mark: string(rune('a' + i)), Line: [2]g.Point{{X: 0, Y: 5}, {X: 0.6 + float64(i)/100, Y: 5}}})
	}
	d := CheckedDrawing{
		Regions: []layouts.Region{{Outline: g.Path{g.Rectangle(g.Rect{Max: g.Point{X: 10, Y: 10}})}}},
		Hex:     func(string) string { return "" }, Rows: rows,
		Marks: []CheckedMark{{Lines: [][]g.Point{{{X: 10, Y: 0}, {X: 200, Y: 0}}}}},
	}
	paper, err := sheet.ParsePaper("letter")
	require.NoError(t, err)
	sheets := CheckSheet(paper, "", "t", []CheckedDrawing{d}, nil)
	require.Len(t, sheets, 1)
	page := g.Rect{Max: g.Point{X: sheets[0].Width, Y: sheets[0].Height}}
	for _, l := range sheets[0].Layers {
		for _, it := range l.Items {
			for _, c := range it.Path {
				b := c.Bounds()
				assert.True(t, page.Contains(b.Min) && page.Contains(b.Max), fmt.Sprint(b))
			}
		}
	}
	var letters []sheet.Item
	for _, r := range rows {
		items := freeMeasure(g.Point{X: 1, Y: 5}, g.Point{X: 3, Y: 5}, 0, r.Mark, letters)
		at := items[len(items)-1].Path.Bounds().Centre()
		for _, o := range letters {
			assert.GreaterOrEqual(t, o.Path.Bounds().Centre().Dist(at), letterApart)
		}
		letters = append(letters, items[len(items)-1])
	}
}
