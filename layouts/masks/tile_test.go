package masks

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// disc is a layout of one disc on the slab, of which a test fixes the diameter
// and the film.
func disc(diameter float64, film string) string {
	return fmt.Sprintf(`
name: disc
aircraft: slab.yaml
markings:
  - id: disc
    figure: {discs: [{diameter: %v, colour: red}, {diameter: %v, colour: white}]}
    where: {surface: slab, side: left, fs: 60, wl: 30}
film: %s
`, diameter, diameter/2, film) + common
}

// text is a layout of a text 12 in high on the slab, of which a test fixes the
// film.
func text(letters, film string) string {
	return `
name: text
aircraft: slab.yaml
markings:
  - id: text
    figure: {text: ` + letters + `, alphabet: block-6x4, height: 12}
    where: {surface: slab, side: left, fs: 60, wl: 30}
    colours: {text: white}
film: ` + film + common
}

// computedCuts holds what cutIn returns, once it is computed.
var computedCuts []work

// cutIn returns markings cut in one, several and many tiles, across and along
// the web.
func cutIn(t testing.TB) []work {
	t.Helper()
	all := demoAndLessons(t)
	if computedCuts != nil {
		return computedCuts
	}
	all = all[:len(all):len(all)]
	for _, l := range []struct{ name, text string }{
		{"one", disc(12, "{web: 24}")},
		{"rows", disc(30, "{web: 20}")},
		{"turned", text("LR4", "{web: 36, longest: 20}")},
		{"many", text("LR4", "{web: 10, longest: 8}")},
	} {
		all = append(all, worked(t, l.name, layoutOf(t, l.text)))
	}
	computedCuts = all
	return all
}

// Every pass is its tiles and its paper: tiles do not overlap; together with the cells
// left to paper and what is left out beyond the field's width they are its film; and
// what is left out holds no paint edge.
func TestTilesAreTheMask(t *testing.T) {
	count := 0
	for _, w := range cutIn(t) {
		for _, tiling := range w.tilings {
			for k, m := range tiling.Laid.Masks {
				t.Run(w.name+"/"+m.ID, func(t *testing.T) {
					film := tiling.Films[k]
					tiles, err := tiling.Tiles(m)
					require.NoError(t, err)
					require.Len(t, tiles, len(film.Cells))
					require.NotEmpty(t, tiles)
					edges := chords(m.EdgeOfPaint())
					all := g.Path(nil)
					for i, p := range tiles {
						assert.Equal(t, fmt.Sprintf("%s-tile-%d-%d", m.ID, p.Cell.Row, p.Cell.Column), p.ID)
						require.NotEmpty(t, p.Film, p.ID)
						b := p.Film.Bounds()
						assert.True(t, p.Cell.Bounds().Grown(1e-9).Contains(b.Min) && p.Cell.Bounds().Grown(1e-9).Contains(b.Max), "%s leaves its tile", p.ID)
						for _, q := range tiles[i+1:] {
							assert.Less(t, overlap(t, p.Film, q.Film), 1e-9, "%s and %s", p.ID, q.ID)
						}
						all, err = g.Union(all, p.Film)
						require.NoError(t, err)
						// a film without a paint edge is never made
						assert.NotNil(t, boundsWithin(edges, p.Cell.Rect), p.ID)
						for _, a := range p.Cell.Arms {
							assert.Less(t, overlap(t, g.Path{g.Rectangle(a)}, m.Opening), 1e-9, "%s: an arm over its own opening", p.ID)
						}
						count++
					}
					beyond, err := g.Subtract(all, m.Film)
					require.NoError(t, err)
					assert.LessOrEqual(t, beyond.Area(), armsArea(film)+1e-6, "film beyond the mask is that of arms")
					left, err := g.Subtract(m.Film, all)
					require.NoError(t, err)
					if len(film.Cells) == film.Rows*film.Columns && film.Rows*film.Columns == 1 {
						assert.Less(t, left.Area(), 1e-6)
					}
					for _, q := range points(left, 8) {
						if m.Field.Grown(-1e-6).Contains(q) && all.Distance(q, 1e-4) > 1e-3 {
							assert.GreaterOrEqual(t, edges.Distance(q, 1e-4), m.FieldWidth.Inches()-0.002, "paint by what paper covers")
						}
					}
				})
			}
		}
	}
	assert.Greater(t, count, 50)
}

// The middle of a disc of 60 in is painted or covered with paper; so are the corners
// round it: no film is made there.
func TestPaperInsteadOfFilm(t *testing.T) {
	w := worked(t, "large", layoutOf(t, disc(56, "{web: 10, longest: 10}")))
	for k, film := range w.tilings[0].Films {
		m := w.tilings[0].Laid.Masks[k]
		opening := chords(m.Opening)
		all := film.Rows * film.Columns
		for _, c := range film.Cells {
			require.NotNil(t, boundsWithin(opening, c.Rect))
		}
		for _, r := range film.Paper {
			assert.Nil(t, boundsWithin(opening, r))
			assert.False(t, opening.Contains(r.Centre(), 1e-4))
		}
		if k == 0 {
			assert.Less(t, len(film.Cells)+len(film.Paper), all, "cells that are painted all over")
		} else {
			assert.NotEmpty(t, film.Paper, "cells over the inner disc")
		}
	}
}

// A tile fits the web: across it less the margins, along it the longest tile; a film on
// arms may lie turned. Tiles are rows from the top and columns from the reader's left.
func TestTilesFitTheWeb(t *testing.T) {
	for _, w := range cutIn(t) {
		spec := w.layout.Spec.Film
		across, along := (spec.Web - 2*spec.Across).Inches(), spec.Longest.Inches()
		for _, tiling := range w.tilings {
			for k, film := range tiling.Films {
				name := fmt.Sprintf("%s %s pass %d", w.name, tiling.Laid.ID(), k+1)
				x, y := along, across
				if film.Turned {
					x, y = across, along
				}
				for i, c := range film.Cells {
					b := c.Bounds()
					if len(c.Arms) > 0 && (b.Width() > x+1e-9 || b.Height() > y+1e-9) {
						x, y = y, x
					}
					assert.LessOrEqual(t, b.Width(), x+1e-9, name)
					assert.LessOrEqual(t, b.Height(), y+1e-9, name)
					if i > 0 {
						before := film.Cells[i-1]
						assert.Less(t, before.Row*film.Columns+before.Column, c.Row*film.Columns+c.Column, name)
						if before.Row == c.Row && before.Column == c.Column-1 {
							assert.Equal(t, before.Rect.Max.X, c.Rect.Min.X, "%s: a seam is one line", name)
						}
					}
					assert.True(t, film.Field.Grown(1e-9).Contains(c.Rect.Min) && film.Field.Grown(1e-9).Contains(c.Rect.Max), name)
				}
			}
		}
	}
}

// However the web and the longest tile divide a text, seams that move off their
// equal division leave no tile too large, and there are no more tiles than equal
// ones would be.
func TestSeamsKeepTheLimits(t *testing.T) {
	l := worked(t, "text", layoutOf(t, text("H1M4IL0R", "{web: 60, longest: 120}"))).laid[0]
	moved := 0
	for web := 6.0; web < 20; web += 1.7 {
		for longest := 5.0; longest < 40; longest += 1.3 {
			film := layouts.FilmSpec{Web: g.Length(web), Across: 0.5, Longest: g.Length(longest), Field: 1.5}
			tiling, _, err := tileOne(l, film, nil)
			require.NoError(t, err)
			x, y := longest, web-1
			cut := tiling.Films[0]
			if cut.Turned {
				x, y = y, x
			}
			assert.Equal(t, math.Ceil(cut.Field.Width()/x-1e-9), float64(cut.Columns))
			assert.Equal(t, math.Ceil(cut.Field.Height()/y-1e-9), float64(cut.Rows))
			for _, c := range cut.Cells {
				require.LessOrEqual(t, c.Rect.Width(), x+1e-9, "web %v longest %v: tile %d-%d", web, longest, c.Row, c.Column)
				require.LessOrEqual(t, c.Rect.Height(), y+1e-9, "web %v longest %v: tile %d-%d", web, longest, c.Row, c.Column)
				require.Greater(t, math.Min(c.Rect.Width(), c.Rect.Height()), 0.0)
				if math.Abs(c.Rect.Width()-cut.Field.Width()/float64(cut.Columns)) > 0.1 {
					moved++
				}
			}
		}
	}
	assert.Greater(t, moved, 100, "the text draws seams off their equal division")
}

func TestFewestTiles(t *testing.T) {
	tests := []struct {
		layout        string
		rows, columns int
		turned        bool
	}{
		// the field is 3 in more than the marking, what the web gives 1.5 in less
		{disc(12, "{web: 24}"), 1, 1, false},
		{disc(19.5, "{web: 24}"), 1, 1, false},
		{disc(20, "{web: 24, least-field: 1.5 in}"), 2, 1, false}, // 23 in into 22.5 in
		{disc(20, "{web: 24}"), 1, 1, false},                      // with a field of 1.25 in
		{disc(21, "{web: 24, margin: {across: 0}}"), 1, 1, false},
		{disc(20, "{web: 24, field: 1.25 in}"), 1, 1, false},
		{disc(30, "{web: 20, longest: 40}"), 2, 1, false},
		{disc(40, "{web: 24, longest: 20}"), 2, 3, false},
		{text("LR4", "{web: 24}"), 1, 1, false}, // 31 x 15 in
		{text("LR4", "{web: 24, longest: 20}"), 1, 2, false},
		{text("LR4", "{web: 36, longest: 20}"), 1, 1, true},
		{text("LR4", "{web: 10, longest: 8}"), 2, 4, false},
	}
	for _, tc := range tests {
		l := layoutOf(t, tc.layout)
		films := worked(t, "", l).tilings[0].Films
		got := films[len(films)-1] // of the whole disc, or of the text
		name := got.Field
		assert.Equal(t, [2]int{tc.rows, tc.columns}, [2]int{got.Rows, got.Columns}, "%v on %v", name, l.Spec.Film)
		assert.Equal(t, tc.turned, got.Turned, "%v on %v", name, l.Spec.Film)
	}
}

// A seam moves off the equal division to cross fewer paint edges.
func TestSeamsAvoidPaint(t *testing.T) {
	w := worked(t, "text", layoutOf(t, text("HHH", "{web: 24, longest: 26}")))
	tiling := w.tilings[0].Films[0]
	require.Equal(t, [2]int{1, 2}, [2]int{tiling.Rows, tiling.Columns})
	// H is 8 in wide with gaps of 2 in: the middle of the field lies in the bar of
	// the second H; the seam stands in a gap
	seam := math.Abs(tiling.Cells[0].Rect.Max.X)
	assert.Greater(t, seam, 4.0+0.4)
	assert.Less(t, seam, 6.0-0.4)
}

func TestTileErrors(t *testing.T) {
	laid := laidOf(t, disc(12, "{web: 24}"))
	for _, film := range []layouts.FilmSpec{
		{Web: 2, Across: 1, Longest: 48},
		{Web: 24, Across: 0.75},
	} {
		film.Place = layouts.Place{File: "a.yaml", Line: 3, Column: 7}
		out, missing := tileAll(t, &layouts.Layout{Spec: &layouts.Spec{Film: film}}, laid)
		require.Empty(t, out)
		require.Len(t, missing, len(laid))
		assert.Equal(t, layouts.MissingRule, missing[0].Rule)
		assert.Contains(t, missing[0].Message, "a.yaml:3:7: ")
	}
}
