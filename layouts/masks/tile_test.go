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

// Every pass is its tiles: they do not overlap, and together they are its film.
func TestTilesAreTheMask(t *testing.T) {
	for _, w := range cutIn(t) {
		for _, tiling := range w.tilings {
			for _, m := range tiling.Laid.Masks {
				t.Run(w.name+"/"+m.ID, func(t *testing.T) {
					pieces, err := tiling.Pieces(m)
					require.NoError(t, err)
					require.Len(t, pieces, tiling.Rows*tiling.Columns)
					sum, all := 0.0, g.Path(nil)
					for i, p := range pieces {
						assert.Equal(t, fmt.Sprintf("%s-tile-%d-%d", m.ID, p.Cell.Row, p.Cell.Column), p.ID)
						require.NotEmpty(t, p.Film, p.ID)
						b := p.Film.Bounds()
						assert.True(t, p.Cell.Rect.Grown(1e-9).Contains(b.Min) && p.Cell.Rect.Grown(1e-9).Contains(b.Max), "%s leaves its tile", p.ID)
						for _, q := range pieces[i+1:] {
							assert.Less(t, overlap(t, p.Film, q.Film), 1e-9, "%s and %s", p.ID, q.ID)
						}
						sum += p.Film.Area()
						all, err = g.Union(all, p.Film)
						require.NoError(t, err)
					}
					assert.InDelta(t, m.Film.Area(), sum, 1e-6)
					assert.Less(t, difference(t, all, m.Film), 1e-6)
				})
			}
		}
	}
}

// A tile fits the web: across it less the margins, along it the longest tile.
// Tiles are rows from the top and columns from the reader's left, side by side.
func TestTilesFitTheWeb(t *testing.T) {
	for _, w := range cutIn(t) {
		film := w.layout.Spec.Film
		across, along := (film.Web - 2*film.Across).Inches(), film.Longest.Inches()
		for _, tiling := range w.tilings {
			name := w.name + " " + tiling.Laid.ID()
			x, y := along, across
			if tiling.Turned {
				x, y = across, along
			}
			require.Len(t, tiling.Cells, tiling.Rows*tiling.Columns, name)
			area := 0.0
			for i, c := range tiling.Cells {
				assert.LessOrEqual(t, c.Rect.Width(), x+1e-9, name)
				assert.LessOrEqual(t, c.Rect.Height(), y+1e-9, name)
				assert.Equal(t, i/tiling.Columns+1, c.Row, name)
				assert.Equal(t, i%tiling.Columns+1, c.Column, name)
				if c.Column > 1 {
					assert.Equal(t, tiling.Cells[i-1].Rect.Max.X, c.Rect.Min.X, "%s: a seam is one line", name)
				}
				if c.Row > 1 {
					assert.Equal(t, tiling.Cells[i-tiling.Columns].Rect.Min.Y, c.Rect.Max.Y, "%s: a seam is one line", name)
				}
				area += c.Rect.Width() * c.Rect.Height()
			}
			first, last := tiling.Cells[0].Rect, tiling.Cells[len(tiling.Cells)-1].Rect
			assert.Equal(t, tiling.Laid.Field, first.Union(last), name)
			assert.InDelta(t, tiling.Laid.Field.Width()*tiling.Laid.Field.Height(), area, 1e-6, name)
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
			if tiling.Turned {
				x, y = y, x
			}
			assert.Equal(t, math.Ceil(l.Field.Width()/x-1e-9), float64(tiling.Columns))
			assert.Equal(t, math.Ceil(l.Field.Height()/y-1e-9), float64(tiling.Rows))
			for _, c := range tiling.Cells {
				require.LessOrEqual(t, c.Rect.Width(), x+1e-9, "web %v longest %v: tile %d-%d", web, longest, c.Row, c.Column)
				require.LessOrEqual(t, c.Rect.Height(), y+1e-9, "web %v longest %v: tile %d-%d", web, longest, c.Row, c.Column)
				require.Greater(t, math.Min(c.Rect.Width(), c.Rect.Height()), 0.0)
				if math.Abs(c.Rect.Width()-l.Field.Width()/float64(tiling.Columns)) > 0.1 {
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
		{disc(20, "{web: 24}"), 2, 1, false}, // 23 in into 22.5 in
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
		got := worked(t, "", l).tilings[0]
		name := got.Laid.Field
		assert.Equal(t, [2]int{tc.rows, tc.columns}, [2]int{got.Rows, got.Columns}, "%v on %v", name, l.Spec.Film)
		assert.Equal(t, tc.turned, got.Turned, "%v on %v", name, l.Spec.Film)
	}
}

// A seam moves off the equal division to cross fewer paint edges.
func TestSeamsAvoidPaint(t *testing.T) {
	w := worked(t, "text", layoutOf(t, text("HHH", "{web: 24, longest: 26}")))
	tiling := w.tilings[0]
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
		out, missing, err := Tile(t.Context(), &layouts.Layout{Spec: &layouts.Spec{Film: film}}, laid)
		require.NoError(t, err)
		require.Empty(t, out)
		require.Len(t, missing, len(laid))
		assert.Equal(t, layouts.MissingRule, missing[0].Rule)
		assert.Contains(t, missing[0].Message, "a.yaml:3:7: ")
	}
}
