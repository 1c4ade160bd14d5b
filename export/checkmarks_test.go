package export

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// The square measures what its words say: diagonals of 5.657, 2.828 and 1.414 in are
// the root of two (Euclid I.47) by its side, to the nearest 1/32 in.
func TestSquare(t *testing.T) {
	for l, want := range map[float64]string{4: "DIAGONALS 5-21/32 (5.657) in", 2: "DIAGONALS 2-27/32 (2.828) in", 1: "DIAGONALS 1-13/32 (1.414) in"} {
		words, width := squareWords(l)
		assert.Equal(t, want, words[1])
		p := square(l)[0].Path
		require.Len(t, p, 3)
		assert.InDelta(t, 4*l, p[0].Length(), 1e-12)
		assert.InDelta(t, l*math.Sqrt2, p[1].Length(), 1e-12)
		assert.InDelta(t, l*math.Sqrt2, p[2].Length(), 1e-12)
		room := g.Rect{Max: g.Point{X: width + 0.1, Y: l + squareLead}}
		for _, it := range square(l) {
			b := it.Path.Bounds()
			assert.True(t, room.Contains(b.Min) && room.Contains(b.Max), "a square of %v in lies in its place", l)
		}
	}
}

// The letter of the reading test has its stem at the left, as R has, and stays with its
// words in its place.
func TestReadingTest(t *testing.T) {
	room := g.Rect{Max: g.Point{X: readingWidth, Y: readingHeight}}
	items := readingTest()
	for _, it := range items {
		b := it.Path.Bounds()
		assert.True(t, room.Contains(b.Min) && room.Contains(b.Max))
	}
	r := items[0].Path
	b := r.Bounds()
	assert.InDelta(t, 0.45, b.Height(), 0.02)
	stem := func(p g.Path, x float64) (n int) {
		for y := b.Min.Y + 0.01; y < b.Max.Y; y += 0.01 {
			if p.Contains(g.Point{X: x, Y: y}, 1e-3) {
				n++
			}
		}
		return n
	}
	assert.Greater(t, stem(r, b.Min.X+0.03), 40, "the stem stands at the left")
	assert.Less(t, stem(r, b.Max.X-0.03), 30, "none at the right")
}

// A full sheet has all of its furniture in layers apart from the cut, clear of the
// paint, inside the tile, nothing on anything else; and every pass has it at the same
// places.
func TestFurnitureOfASheet(t *testing.T) {
	ids := []string{scaleAlong, scaleUp, "square", "reads-normally", "arrow-up", "arrow-nose"}
	for _, film := range []string{"{web: 60, longest: 96, field: 6}", "{web: 14, longest: 18}"} {
		tiling := tiledText(t, film)[0]
		other := tiling.Laid.Masks[0]
		other.ID, other.Pass, other.Paint = other.ID+"-again", 2, "insignia-yellow of some length"
		tiling.Laid.Masks = append(tiling.Laid.Masks, other)
		furnishing := Furnish(tiling)
		labels := 0
		for k, p := range mustPieces(t, tiling, 0) {
			again := mustPieces(t, tiling, 1)[k]
			sheet := furnishing.CutSheet(tiling.Laid.Masks[0], p)
			second := furnishing.CutSheet(other, again)
			shift := g.Vec{X: sheetMargin - p.Cell.Bounds().Min.X, Y: sheetMargin - p.Cell.Bounds().Min.Y}
			paint := tiling.Laid.Painted.Moved(shift)
			assert.Len(t, layerOf(t, sheet, LayerCut).Items, 1)
			found := map[string]g.Rect{}
			for n, layer := range sheet.Layers {
				for i, it := range layer.Items {
					if layer.Name == LayerCut {
						continue
					}
					b := it.Path.Bounds()
					assert.True(t, touches(g.Rect{Max: g.Point{X: sheet.Width, Y: sheet.Height}}, b))
					if it.ID != "" {
						found[it.ID] = b
						assert.Equal(t, it.Path, second.Layers[n].Items[i].Path, "%s: the same on every pass", it.ID)
					}
					if layer.Name == LayerNotes {
						assert.False(t, paint.Contains(b.Centre(), 1e-3), "%s %s", p.ID, it.ID)
						assert.Greater(t, paint.Distance(b.Centre(), 1e-3), 0.04, "%s %s", p.ID, it.ID)
					}
				}
			}
			if furnishing.cells[[2]int{p.Cell.Row, p.Cell.Column}].label != nil {
				labels++
			}
			if strings.Contains(film, "field: 6") {
				for _, id := range ids {
					assert.Contains(t, found, id)
				}
				assert.InDelta(t, 4, found["square"].Width(), 1e-9)
				for _, id := range []string{"axis-level-fore", "axis-level-aft", "axis-upright-top", "axis-upright-bottom"} {
					require.Contains(t, found, id)
				}
				field := p.Cell.Bounds()
				assert.InDelta(t, sheetMargin, found["axis-level-fore"].Min.X, 1e-9, "from the edge of the film")
				assert.InDelta(t, sheetMargin+field.Height(), found["axis-upright-top"].Max.Y, 1e-9)
				assert.InDelta(t, shift.Y, found["axis-level-aft"].Centre().Y, 1e-9, "on the drawing's level line")
				assert.InDelta(t, shift.X, found["axis-upright-bottom"].Centre().X, 1e-9)
			}
			for id, b := range found {
				for other, o := range found {
					inMap := strings.HasPrefix(id, "key-map") && strings.HasPrefix(other, "key-map") // they are one picture
					if id < other && !inMap && !strings.HasPrefix(id+other, "tick-") {
						assert.False(t, touches(b, o), "%s: %s and %s", p.ID, id, other)
					}
				}
			}
		}
		assert.Positive(t, labels)
	}
}

func mustPieces(t *testing.T, tiling masks.Tiling, pass int) []masks.Piece {
	t.Helper()
	pieces, err := tiling.Pieces(tiling.Laid.Masks[pass])
	require.NoError(t, err)
	return pieces
}
