package masks

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// keptDown returns a layout's work with the paints kept down.
func keptDown(t testing.TB, l *layouts.Layout) work {
	t.Helper()
	spec := *l.Spec
	spec.Paint.Spray.Way = layouts.KeepDownWay
	changed := *l
	changed.Spec = &spec
	return worked(t, "keep-down", &changed)
}

// Weed lines lie in what is removed and keep 1/4 in from every cut edge, mark, slit
// and edge of the tile; large waste is divided; the box stands round the pieces.
func TestWeedLines(t *testing.T) {
	all := append(demoAndLessons(t), keptDown(t, demo(t).layout), keptDown(t, lesson(t, "04").layout))
	lines, boxes := 0, 0
	for _, w := range all {
		for _, tiling := range w.tilings {
			for _, m := range tiling.Laid.Masks {
				tiles, err := tiling.Tiles(m)
				require.NoError(t, err)
				for _, p := range tiles {
					got := WeedingOf(tiling, m, p)
					lines, boxes = lines+len(got.Lines), boxes+len(got.Box)
					film := chords(p.Film)
					if m.Polarity == OpenFilm {
						assert.Empty(t, got.Box, p.ID)
					}
					for _, l := range append(got.Lines, got.Box...) {
						assert.GreaterOrEqual(t, l.From.Dist(l.To), weedLeast-1e-9, p.ID)
						for k := range 21 {
							q := l.From.Lerp(l.To, float64(k)/20)
							require.True(t, p.Cell.Rect.Grown(-WeedClearance).Contains(q), "%s: %v by the edge of the tile", p.ID, q)
							require.False(t, film.Contains(q, 1e-5), "%s: %v in film that stays", p.ID, q)
							require.GreaterOrEqual(t, film.Distance(q, 1e-5), WeedClearance, "%s: %v by a cut edge", p.ID, q)
							for _, i := range p.Cell.Marks {
								require.GreaterOrEqual(t, q.Dist(tiling.Marks[i].Film), MarkRadius+WeedClearance, "%s: by mark %s", p.ID, tiling.Marks[i].ID)
							}
							for _, s := range tiling.Laid.Slits {
								require.GreaterOrEqual(t, (g.Path{g.Polyline(s.From, s.To)}).Distance(q, 1e-5), WeedClearance, "%s: by a slit", p.ID)
							}
						}
					}
				}
			}
		}
	}
	assert.Greater(t, lines, 50)
	assert.Greater(t, boxes, 10)
}

// A disc of 20 in is divided by three lines each way, all through its wide part; a
// letter of 2 in strokes comes away in one pull.
func TestWeedLinesOfADisc(t *testing.T) {
	tiling := Tiling{}
	rect := g.Rect{Min: g.Point{X: -12, Y: -12}, Max: g.Point{X: 12, Y: 12}}
	disc := g.Path{g.Circle(g.Point{}, 10)}
	m := Mask{Polarity: OpenFilm, Opening: disc}
	got := WeedingOf(tiling, m, Tile{Cell: Cell{Rect: rect}, Film: outside(rect, disc)})
	require.Len(t, got.Lines, 6)
	for _, l := range got.Lines[:3] {
		half := math.Sqrt(100-l.From.X*l.From.X) - WeedClearance // longest that an upright line could be, ends nearest
		assert.InDelta(t, 2*half, l.From.Dist(l.To), 0.25)
	}
	letter := parsed(t, "M-6 -6L-4 -6L-4 4L6 4L6 6L-6 6Z")
	assert.Empty(t, WeedingOf(tiling, Mask{Polarity: OpenFilm, Opening: letter}, Tile{Cell: Cell{Rect: rect}, Film: outside(rect, letter)}).Lines)

	box := WeedingOf(tiling, Mask{Polarity: KeepDown, Film: disc}, Tile{Cell: Cell{Rect: rect}, Film: disc}).Box
	require.Len(t, box, 4)
	for _, l := range box {
		assert.InDelta(t, 10+weedBoxAt, math.Max(math.Abs(l.From.Lerp(l.To, 0.5).X), math.Abs(l.From.Lerp(l.To, 0.5).Y)), 1e-9)
	}
}
