package export

import (
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"
	"maskloft/export/tapelist"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
	"maskloft/layouts/sprayday"
)

// printedTexts returns where the texts of a page stand.
func printedTexts(s sheet.Sheet) (texts []string, boxes []g.Rect, caps []float64) {
	for _, l := range s.Layers {
		for _, it := range l.Items {
			if k := it.Says; k != nil && k.Text != "" {
				texts, caps = append(texts, k.Text), append(caps, k.Cap)
				boxes = append(boxes, g.Rect{Min: k.At, Max: g.Point{X: k.At.X + k.Width, Y: k.At.Y + k.Cap}})
			}
		}
	}
	return texts, boxes, caps
}

// On no page do two texts overlap, leave the margins, or stand smaller than 9 points.
func requirePrinted(t *testing.T, name string, sheets []sheet.Sheet) {
	t.Helper()
	require.NotEmpty(t, sheets)
	for n, s := range sheets {
		texts, boxes, caps := printedTexts(s)
		require.NotEmpty(t, texts, "%s page %d is empty", name, n+1)
		for i, b := range boxes {
			require.GreaterOrEqual(t, caps[i], 9*sheet.PointCap-1e-9, "%s page %d: %q is too small", name, n+1, texts[i])
			require.True(t, b.Min.X > sheet.PageMargin-0.02 && b.Max.X < s.Width-sheet.PageMargin+0.02 && b.Min.Y > sheet.PageMargin-0.02 && b.Max.Y < s.Height-sheet.PageMargin+0.05,
				"%s page %d: %q leaves the margins at %v", name, n+1, texts[i], b)
			for k := range i {
				require.False(t, sheet.Overlap(b.Grown(-0.005), boxes[k].Grown(-0.005)), "%s page %d: %q lies on %q", name, n+1, texts[i], texts[k])
			}
		}
	}
}

func TestPrintedPages(t *testing.T) {
	l, tilings := demoTilings(t)
	list, _, err := taping.Tapes(t.Context(), l, tilings, g.NetTolerance)
	require.NoError(t, err)
	run := masks.Nest(masks.Films(tilings), l.Spec.Film)
	var films []TicketFilm
	for _, tiling := range tilings {
		for _, m := range tiling.Laid.Masks {
			tiles, err := tiling.Tiles(m)
			require.NoError(t, err)
			for _, p := range tiles {
				films = append(films, TicketFilm{Number: run.Number(p.ID), Tiling: tiling, Mask: m, Tile: p, Cut: p.Film, Outline: p.Film.Bounds()})
			}
		}
	}
	for _, paper := range []sheet.Paper{sheet.Letter, sheet.A4} {
		requirePrinted(t, "tape checklist", tapelist.TapeSheets(paper, l, tilings, list))
		ticket := Ticket(paper, l, films, run, nil)
		requirePrinted(t, "ticket", ticket)
		require.Len(t, ticket, 3, "the demo's ticket: two pages and one of words")
		requirePrinted(t, "weather card", WeatherCard(paper, "", sprayday.Day{}))
	}
}
