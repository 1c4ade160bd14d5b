package export

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Every cut sheet of a marking has the same ticks of the level and the upright line in
// its registration layer: from the edge of the film inwards, on the drawing's axes,
// half an inch long, clear of the paint, each with its word. Cut in tiles, each tick is
// on one tile.
func TestAxisTicksOnCutSheets(t *testing.T) {
	for _, film := range []string{"{web: 60, longest: 96}", "{web: 14, longest: 18}"} {
		tiling := tiledText(t, film)[0]
		other := tiling.Laid.Masks[0]
		other.ID += "-again"
		drawn := map[string]int{}
		for _, m := range append(tiling.Laid.Masks[:1:1], other) {
			tiles, err := tiling.Tiles(m)
			require.NoError(t, err)
			for _, p := range tiles {
				page := ProofSheet(tiling, m, p, layouts.CutMarks)
				require.NoError(t, page.Check())
				r := p.Cell.Bounds()
				back := g.Vec{X: r.Min.X - sheetMargin, Y: r.Min.Y - sheetMargin}
				items := layerOf(t, page, LayerNames).Items
				for i, it := range items {
					if !strings.HasPrefix(it.ID, "axis-") {
						continue
					}
					drawn[it.ID]++
					line := it.Path.Moved(back)
					b, field := line.Bounds(), tiling.Laid.Field
					assert.InDelta(t, 0.5, line[0].Length(), 1e-9)
					switch strings.TrimPrefix(it.ID, "axis-") {
					case "level-fore":
						assert.InDelta(t, field.Min.X, b.Min.X, 1e-9)
						assert.InDelta(t, 0, b.Max.Y, 1e-9)
					case "level-aft":
						assert.InDelta(t, field.Max.X, b.Max.X, 1e-9)
						assert.InDelta(t, 0, b.Max.Y, 1e-9)
					case "upright-top":
						assert.InDelta(t, field.Max.Y, b.Max.Y, 1e-9)
						assert.InDelta(t, 0, b.Max.X, 1e-9)
					case "upright-bottom":
						assert.InDelta(t, field.Min.Y, b.Min.Y, 1e-9)
						assert.InDelta(t, 0, b.Max.X, 1e-9)
					default:
						t.Error(it.ID)
					}
					word := items[i+1].Path.Moved(back).Bounds()
					assert.False(t, sheet.Overlap(b, word))
					for _, part := range []g.Rect{b, word} {
						assert.Greater(t, m.Opening.Distance(part.Centre(), 1e-3), 0.05)
						assert.False(t, m.Opening.Contains(part.Centre(), 1e-3))
						for _, k := range p.Cell.Marks {
							mark := tiling.Marks[k].Film
							assert.False(t, sheet.Overlap(part, g.BoundsOf(mark).Grown(0.25)), "%s: clear of mark %s", it.ID, tiling.Marks[k].ID)
						}
					}
				}
			}
		}
		for id, n := range drawn {
			assert.Equal(t, 2, n, "%s: once a pass", id)
		}
		assert.GreaterOrEqual(t, len(drawn), 3, "%v", drawn)
	}
}
