package export

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/audit"
	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/worked"
)

// demoTilings lays the demo and divides it.
func demoTilings(t testing.TB) (*layouts.Layout, []masks.Tiling) {
	t.Helper()
	w := worked.Demo(t)
	return w.Layout, w.Tilings
}

// Pages of a trial print laid over one another by their crosses give the outlines
// back: every outline's length, with what the overlaps show twice counted once.
func TestTrialPrintReassembles(t *testing.T) {
	l, tilings := demoTilings(t)
	for _, paper := range []sheet.Paper{sheet.Letter, sheet.A4} {
		tiling := tilings[0] // the insignia: more than one page
		sheets := TrialPrint(tiling, paper, l.Spec)
		require.Greater(t, len(sheets), 3)
		// the first page is a picture of the whole: all paint, in its colours, once
		whole := map[string]float64{}
		for _, it := range sheets[0].Layers[1].Items {
			whole[it.Ink.Fill] += it.Path.Area()
		}
		scale := sheets[0].Layers[0].Items[0].Path.Bounds().Width()
		for _, r := range tiling.Laid.Regions {
			k := tiling.Laid.Regions[0].Outline.Area() / whole[views.HexOf(l.Spec.Paint, tiling.Laid.Regions[0].Colour)]
			require.InDelta(t, r.Outline.Area()/k, whole[views.HexOf(l.Spec.Paint, r.Colour)], 1e-9)
		}
		require.Equal(t, l.Spec.SkinColour("fuselage"), sheets[0].Layers[0].Items[0].Ink.Fill)
		require.LessOrEqual(t, scale, paper.Width-2*trialMargin+1e-9)
		// every other page marks one place in its key, and none marks that of another
		places := map[g.Point]bool{}
		for _, s := range sheets[1:] {
			var marked []g.Rect
			for _, it := range s.Layers[len(s.Layers)-1].Items {
				if it.Ink.Fill == "#e0b84a" {
					marked = append(marked, it.Path.Bounds())
				}
			}
			require.Len(t, marked, 1, s.Title)
			require.False(t, places[marked[0].Min], s.Title)
			places[marked[0].Min] = true
		}
		area := map[string]float64{}
		for _, s := range sheets {
			require.Equal(t, paper.Width, s.Width)
			for _, layer := range s.Layers {
				for _, it := range layer.Items {
					b := it.Path.Bounds()
					require.True(t, len(it.Path) == 0 || b.Min.X > trialMargin-0.02 && b.Max.X < paper.Width-trialMargin+0.4 && b.Min.Y > trialMargin-0.05 && b.Max.Y < paper.Height-0.2, "%s %v", s.Title, b)
					if layer.Name == "paint" {
						area[it.Ink.Fill] += it.Path.Area()
					}
					if it.ID == sheet.ScaleAlong {
						require.InDelta(t, 5, b.Width(), 1e-12)
					}
				}
			}
		}
		// the paint of all pages is at least that of the marking, and no more than
		// each point seen on four pages
		for _, r := range tiling.Laid.Regions {
			got := area[views.Tint(views.HexOf(l.Spec.Paint, r.Colour), 0.25)]
			require.GreaterOrEqual(t, got, r.Outline.Area()*(1-1e-9))
			require.Less(t, got, 1.4*r.Outline.Area())
		}
	}
}

// The key of a print of very many pages shows the page alone: with all of them, what is
// drawn grew by the square of the pages.
func TestTrialKeyOfManyPages(t *testing.T) {
	_, tilings := demoTilings(t)
	for _, pages := range []int{2, keyPages, keyPages + 1} {
		p := trialPages{paper: sheet.Letter, rows: 1, columns: pages}
		for k := range pages {
			p.windows = append(p.windows, g.Rect{Min: g.Point{X: float64(k)}, Max: g.Point{X: float64(k) + 1.25, Y: 1}})
		}
		want := pages + 1
		if pages > keyPages {
			want = 2
		}
		require.Len(t, p.key(tilings[0].Laid, 1), want)
	}
}

// Holes of a pounce pattern lie on the outlines, no further than a quarter of an
// inch apart along them, and one on every corner of the star-like parts.
func TestPouncePattern(t *testing.T) {
	_, tilings := demoTilings(t)
	for _, tiling := range tilings[:3] {
		s := PouncePattern(tiling)
		holes := s.Layers[0].Items[0].Path
		shift := g.Vec{X: tiling.Laid.Field.Min.X - sheetMargin, Y: tiling.Laid.Field.Min.Y - sheetMargin}
		var edges g.Path
		for _, r := range tiling.Laid.Regions {
			edges = append(edges, r.Outline...)
		}
		for _, h := range holes {
			require.InDelta(t, pounceHole, h.Bounds().Width(), 1e-9)
			require.Less(t, edges.Distance(h.Bounds().Centre().Add(shift), g.FlattenTolerance), 1e-3)
		}
		for _, c := range edges {
			for _, p := range c.Flattened(0.01) {
				near := math.Inf(1)
				for _, h := range holes {
					near = math.Min(near, h.Bounds().Centre().Add(shift).Dist(p))
				}
				require.Less(t, near, pounceStep*0.8)
			}
		}
		require.NoError(t, audit.Hygiene(holes))
		// a plotter that scales the sheet is caught by its bar, one that turns it by the arrow
		found := 0
		for _, it := range s.Layers[2].Items {
			switch it.ID {
			case sheet.ScaleAlong:
				found++
				require.InDelta(t, 10, it.Path.Bounds().Width(), 1e-9)
				require.Less(t, it.Path.Bounds().Max.Y, s.Height-sheetMargin)
			case "arrow-nose":
				found++
			}
		}
		require.Equal(t, 2, found)
	}
}

// MASKLOFT_LOOK=DIR writes the pictures to look at.
func TestLookAtTrial(t *testing.T) {
	dir := os.Getenv("MASKLOFT_LOOK")
	if dir == "" {
		t.Skip("writes pictures only where MASKLOFT_LOOK names a folder")
	}
	l, tilings := demoTilings(t)
	sheets := TrialPrint(tilings[0], sheet.Letter, l.Spec)
	f, err := os.Create(filepath.Join(dir, "trial.pdf"))
	require.NoError(t, err)
	require.NoError(t, sheet.WritePDF(f, sheets, sheet.PDFOptions{Title: "trial"}))
	require.NoError(t, f.Close())
	f, err = os.Create(filepath.Join(dir, "pounce.svg"))
	require.NoError(t, err)
	require.NoError(t, sheet.WriteSVG(f, PouncePattern(tilings[2]), sheet.Px96))
	require.NoError(t, f.Close())
}
