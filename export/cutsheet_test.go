package export

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// A cut sheet holds two groups and no other: windows first, then the film, no contour
// before one that it encloses, the frame last. Drawn marks are left out of it and stand
// in the proof; windows that check the size are cut in any case.
func TestCutSheetHoldsWhatIsCut(t *testing.T) {
	sheets, enclosed := 0, 0
	for _, film := range []string{"{web: 14, longest: 18}", "{web: 48, longest: 60}"} {
		for _, tiling := range tiledText(t, film) {
			m := tiling.Laid.Masks[0]
			tiles, err := tiling.Tiles(m)
			require.NoError(t, err)
			tilings, all := []masks.Tiling{}, []masks.Mask{}
			for i := range tiles {
				tiles[i].Number = i + 1
				tilings, all = append(tilings, tiling), append(all, m)
			}
			masks.SetSizeWindows(tilings, all, tiles)
			sized := 0
			for _, p := range tiles {
				s := CutSheet(tiling, m, p, layouts.CutMarks)
				require.NoError(t, s.Check())
				require.Len(t, s.Layers, 2)
				assert.Equal(t, sheet.LayerRegistration, s.Layers[0].Name)
				assert.Equal(t, sheet.LayerCut, s.Layers[1].Name)
				require.Len(t, s.Layers[0].Items, len(p.Cell.Marks)+len(p.Size))
				for _, it := range s.Layers[0].Items {
					for _, c := range it.Path {
						assert.True(t, c.Closed())
					}
				}
				var order g.Path
				for _, it := range s.Layers[1].Items {
					order = append(order, it.Path...)
				}
				require.Len(t, order, len(p.Film))
				assert.Equal(t, "frame", s.Layers[1].Items[len(s.Layers[1].Items)-1].ID)
				for i, c := range order {
					for k := range order[:i] {
						assert.False(t, (g.Path{order[k]}).Contains(c.At(0, 0.5), 1e-6) && order[k].Bounds().Width() > c.Bounds().Width(), "%s: contour %d is cut after what encloses it", p.ID, i+1)
					}
					if i < len(order)-1 {
						enclosed++
					}
				}
				drawn := CutSheet(tiling, m, p, layouts.DrawnMarks)
				if len(p.Size) == 0 {
					require.Len(t, drawn.Layers, 1)
				} else {
					sized++
					require.Len(t, drawn.Layers[0].Items, 3)
					assert.InDelta(t, masks.SizeSpan(p.Size).Inches(), p.Size[0].Dist(p.Size[2]), 1e-9, "both ways")
				}
				assert.Len(t, layerOf(t, ProofSheet(tiling, m, p, layouts.DrawnMarks), LayerNames).Items[:2*len(p.Cell.Marks)], 2*len(p.Cell.Marks), "a mark and its letter")
				sheets++
			}
			assert.Equal(t, 1, sized)
		}
	}
	assert.GreaterOrEqual(t, sheets, 4)
	assert.GreaterOrEqual(t, enclosed, 4)
}

// The nests of a run hold every film of it once, within the web and the longest tile;
// a film that lies across is turned, not mirrored.
func TestRunSheets(t *testing.T) {
	for film, size := range map[string][2]g.Length{"{web: 24, longest: 24}": {24, 24}, "{web: 36, longest: 20}": {36, 20}} {
		spec := layouts.FilmSpec{Web: size[0], Across: 0.75, Lead: 1, Tail: 2, Longest: size[1], Seam: layouts.UsualSeam()}
		tilings := tiledText(t, film)
		run := masks.Split(masks.Nest(masks.Films(tilings), spec), spec)
		var films []RunFilm
		for _, tiling := range tilings {
			for _, m := range tiling.Laid.Masks {
				tiles, err := tiling.Tiles(m)
				require.NoError(t, err)
				for _, p := range tiles {
					p.Number = run.Number(p.ID)
					films = append(films, RunFilm{Tiling: tiling, Mask: m, Tile: p})
				}
			}
		}
		sheets := RunSheets("job", run, films, layouts.CutMarks)
		require.Len(t, sheets, len(run.Stretches))
		found := 0
		for _, s := range sheets {
			require.NoError(t, s.Check())
			assert.InDelta(t, spec.Web.Inches(), s.Height, 1e-9)
			assert.LessOrEqual(t, s.Width, spec.Longest.Inches()+3+1e-9)
			for _, it := range layerOf(t, s, sheet.LayerCut).Items {
				b := it.Path.Bounds()
				assert.GreaterOrEqual(t, b.Min.Y, 0.75-1e-5)
				assert.LessOrEqual(t, b.Max.Y, spec.Web.Inches()-0.75+1e-5)
				for _, f := range films {
					if it.ID != fmt.Sprintf("frame-%d", f.Tile.Number) {
						continue
					}
					found++
					assert.Greater(t, it.Path.Area(), 0.0, "a mirrored frame would run the other way round")
					placed := run.Films[f.Tile.Number-1]
					assert.InDelta(t, placed.Rect.Width(), b.Width(), 1e-5)
					assert.InDelta(t, placed.Rect.Height(), b.Height(), 1e-5)
				}
			}
		}
		assert.Equal(t, len(films), found)
	}
}
