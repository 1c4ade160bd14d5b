package export

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/worked"
)

// tiledText is a text on a plate, on film that a test fixes, cut in tiles.
func tiledText(t *testing.T, film string) []masks.Tiling {
	t.Helper()
	return worked.Worked(t, "tiles", worked.LayoutOf(t, `name: tiles
units: in
aircraft:
  name: slab
  datum: FS 0 is the fore edge, positive aft; WL 0 is the foot, positive up
  surfaces: [{id: slab, kind: plate, thickness: 1, outline: [[0, 0], [120, 0], [120, 60], [0, 60]]}]
markings:
  - id: code
    figure: {text: LR4, alphabet: block-6x4, height: 12}
    where: {surface: slab, side: left, fs: 60, wl: 30}
    colours: {text: white}
paint: {order: [white], colours: {white: {hex: "#ffffff"}}}
film: `+film+"\n")).Tilings
}

// Both neighbours of a seam draw every match tick by its number, in a layer of its
// own: laid side by side the two parts are the tick. With an overlap the tile beneath
// has its half, the tile above more of it.
func TestMatchTicksOnCutSheets(t *testing.T) {
	for _, film := range []string{"{web: 14, longest: 18}", "{web: 14, longest: 18, seam: overlap, waste-overlap: 1/2 in}"} {
		tiling := tiledText(t, film)[0]
		require.NotEmpty(t, tiling.Films[0].Ticks)
		tiles, err := tiling.Tiles(tiling.Laid.Masks[0])
		require.NoError(t, err)
		drawn := map[string][]float64{}
		for _, p := range tiles {
			sheet := ProofSheet(tiling, tiling.Laid.Masks[0], p, layouts.CutMarks)
			require.NoError(t, sheet.Check())
			found := false
			for _, layer := range sheet.Layers {
				if layer.Name != LayerTicks {
					continue
				}
				found = true
				for _, it := range layer.Items {
					if strings.HasPrefix(it.ID, "tick-") {
						drawn[it.ID] = append(drawn[it.ID], it.Path[0].Length())
					}
				}
			}
			assert.Equal(t, len(p.Cell.Ticks) > 0, found)
		}
		assert.Len(t, drawn, len(tiling.Films[0].Ticks))
		for id, lengths := range drawn {
			require.Len(t, lengths, 2, id)
			assert.GreaterOrEqual(t, min(lengths[0], lengths[1]), 0.25-1e-9, id)
			if !strings.Contains(film, "overlap") {
				assert.InDelta(t, 0.5, lengths[0]+lengths[1], 1e-9, id)
			}
		}
	}
}

// A tile of several has a map of all of them, with itself dark at its place; the
// drawing keeps its proportions. A marking in one piece has none.
func TestKeyMap(t *testing.T) {
	find := func(s sheet.Sheet, id string) (g.Path, bool) {
		for _, l := range s.Layers {
			for _, it := range l.Items {
				if it.ID == id {
					return it.Path, true
				}
			}
		}
		return nil, false
	}
	tiling := tiledText(t, "{web: 14, longest: 18}")[0]
	require.Greater(t, len(tiling.Films[0].Cells), 2)
	tiles, err := tiling.Tiles(tiling.Laid.Masks[0])
	require.NoError(t, err)
	for _, p := range tiles {
		sheet := ProofSheet(tiling, tiling.Laid.Masks[0], p, layouts.CutMarks)
		grid, ok := find(sheet, "key-map")
		require.True(t, ok, p.ID)
		assert.Len(t, grid, len(tiling.Films[0].Cells))
		own, ok := find(sheet, "key-map-tile")
		require.True(t, ok)
		all, field := grid.Bounds(), tiling.Laid.Masks[0].Field
		k := all.Width() / field.Width()
		assert.InDelta(t, k, all.Height()/field.Height(), 1e-9)
		at := func(q g.Point) g.Point { return all.Min.Add(q.Sub(field.Min).Scale(k)) }
		assert.InDelta(t, 0, at(p.Cell.Rect.Min).Dist(own.Bounds().Min), 1e-9)
		assert.InDelta(t, 0, at(p.Cell.Rect.Max).Dist(own.Bounds().Max), 1e-9)
	}
	whole := tiledText(t, "{web: 48, longest: 60}")[0]
	tiles, err = whole.Tiles(whole.Laid.Masks[0])
	require.NoError(t, err)
	_, ok := find(ProofSheet(whole, whole.Laid.Masks[0], tiles[0], layouts.CutMarks), "key-map")
	assert.False(t, ok)
}

// The picture of a run shows every film once at the scale it states, in rows that end
// between films where they can, and is written without a fault.
func TestRunPicture(t *testing.T) {
	var films []masks.WebFilm
	for i := range 40 {
		films = append(films, masks.WebFilm{ID: fmt.Sprintf("film-of-tile-%d", i), Width: g.Length(5 + (i*7)%40), Height: g.Length(4 + (i*5)%18)})
	}
	run := masks.Nest(films, layouts.FilmSpec{Web: 24, Across: 0.75, Lead: 1, Tail: 2, Longest: 48, Seam: layouts.UsualSeam()})
	s := RunPicture(g.ReadInches, "forty", run)
	require.NoError(t, s.Check())
	var svg bytes.Buffer
	require.NoError(t, sheet.WriteSVG(&svg, s, sheet.Px96))
	scale, parts := runScale(run)
	assert.Greater(t, len(parts), 1)
	assert.Zero(t, parts[0].from)
	assert.InDelta(t, run.Length.Inches(), parts[len(parts)-1].to, 1e-9)
	area := map[string]float64{}
	for _, l := range s.Layers {
		for _, it := range l.Items {
			b := it.Outline().Bounds()
			assert.True(t, b.Min.X >= 0 && b.Min.Y >= 0 && b.Max.X <= s.Width && b.Max.Y <= s.Height, "all is on the sheet")
			if l.Name == "films" && it.ID != "" {
				area[strings.TrimSuffix(it.ID, "-continued")] += b.Width() * b.Height() / scale / scale
			}
		}
	}
	require.Len(t, area, 40)
	for _, f := range run.Films {
		assert.InDelta(t, f.Width.Inches()*f.Height.Inches(), area[fmt.Sprintf("film-%d", f.Number)], 1e-6)
	}
	assert.Equal(t, 7, run.Number(run.Films[6].ID))
	assert.Zero(t, run.Number("no film"))
	empty := RunPicture(g.ReadInches, "none", masks.Nest(nil, layouts.FilmSpec{Web: 24, Across: 0.75, Seam: layouts.UsualSeam()}))
	assert.NotEmpty(t, empty.Layers)
}
