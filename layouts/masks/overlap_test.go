package masks

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// overlapped returns markings cut with an overlap of 1/8 in, and of 1/2 in in the
// waste.
func overlapped(t *testing.T) []work {
	t.Helper()
	var out []work
	for _, text := range []string{
		text("LR4", "{web: 10, longest: 12, seam: overlap, overlap: 1/8 in, waste-overlap: 1/2 in}"),
		disc(30, "{web: 20, longest: 25, seam: overlap}"),
	} {
		out = append(out, worked(t, "overlap", layoutOf(t, text)))
	}
	return out
}

// With an overlap the tiles are the film, cover it twice beside the seams only, and
// still fit the web; the last tile of a row and of a column reaches over nothing.
func TestOverlap(t *testing.T) {
	for _, w := range overlapped(t) {
		film := w.layout.Spec.Film
		for _, tiling := range w.tilings {
			require.Greater(t, len(tiling.Cells), 2)
			across, along := (film.Web - 2*film.Across).Inches(), film.Longest.Inches()
			if tiling.Turned {
				across, along = along, across
			}
			for _, c := range tiling.Cells {
				b := c.Bounds()
				assert.LessOrEqual(t, b.Width(), along+1e-9)
				assert.LessOrEqual(t, b.Height(), across+1e-9)
				over := g.Vec{X: b.Max.X - c.Rect.Max.X, Y: c.Rect.Min.Y - b.Min.Y}
				assert.InDelta(t, c.Rect.Min.X, b.Min.X, 1e-9, "the left edge stays at the seam")
				assert.InDelta(t, c.Rect.Max.Y, b.Max.Y, 1e-9, "the upper edge stays at the seam")
				for _, d := range []struct {
					got  float64
					last bool
				}{{over.X, c.Column == tiling.Columns}, {over.Y, c.Row == tiling.Rows}} {
					if d.last {
						assert.InDelta(t, 0, d.got, 1e-9)
					} else {
						assert.GreaterOrEqual(t, d.got, film.Seam.Overlap.Inches()-1e-9)
						assert.LessOrEqual(t, d.got, film.Seam.Reach().Inches()+1e-9)
					}
				}
			}
			for _, m := range tiling.Laid.Masks {
				pieces, err := tiling.Pieces(m)
				require.NoError(t, err)
				all := g.Path(nil)
				for i, p := range pieces {
					all, err = g.Union(all, p.Film)
					require.NoError(t, err)
					for _, q := range pieces[i+1:] {
						if p.Cell.Row == q.Cell.Row && q.Cell.Column == p.Cell.Column+1 {
							strip := overlap(t, p.Film, g.Path{g.Rectangle(q.Cell.Rect)})
							assert.Greater(t, strip, 0.0)
							assert.InDelta(t, overlap(t, p.Cell.Reach, within(t, m.Film, q.Cell.Rect)), strip, 1e-6)
						}
					}
				}
				assert.Less(t, difference(t, all, m.Film), 1e-6, m.ID)
			}
		}
	}
}

func within(t *testing.T, film g.Path, r g.Rect) g.Path {
	t.Helper()
	p, err := g.Intersect(film, g.Path{g.Rectangle(r)})
	require.NoError(t, err)
	return p
}

// Where paint lies within half an inch, tiles overlap by the overlap and no more; the
// wider overlap of the waste is there where it may be.
func TestOverlapNearPaint(t *testing.T) {
	w := overlapped(t)[0]
	wide := 0.0
	for _, tiling := range w.tilings {
		paint := chords(tiling.Laid.Painted)
		for _, c := range tiling.Cells {
			narrow := c.Rect
			if c.Column < tiling.Columns {
				narrow.Max.X += 0.125
			}
			if c.Row < tiling.Rows {
				narrow.Min.Y -= 0.125
			}
			more, err := g.Subtract(c.Reach, g.Path{g.Rectangle(narrow)})
			require.NoError(t, err)
			wide += more.Area()
			for _, p := range points(more, 8) {
				assert.GreaterOrEqual(t, paint.Distance(p, 1e-5), wasteClear-g.OutlineTolerance)
			}
		}
	}
	assert.Greater(t, wide, 1.0)
	for _, tiling := range overlapped(t)[1].tilings { // no waste-overlap: is the overlap
		for _, c := range tiling.Cells {
			assert.LessOrEqual(t, c.Bounds().Width(), c.Rect.Width()+0.125+1e-9)
		}
	}
}

// A tile too small for its overlap is refused, with the place.
func TestOverlapTooLarge(t *testing.T) {
	laid := laidOf(t, disc(12, "{web: 24}"))
	film := layouts.FilmSpec{Place: layouts.Place{File: "a.yaml", Line: 3, Column: 7}, Web: 2, Across: 0.8, Longest: 48, Seam: layouts.SeamSpec{Style: layouts.OverlapSeam, Overlap: 0.125, Waste: 0.5}}
	_, _, err := tileOne(laid[0], film, nil)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "a.yaml:3:7: film: tiles of 0.4 in")
}

// Match ticks: half an inch long, square across a seam between the two tiles that list
// them, in the waste of every pass, clear of the registration marks.
func TestMatchTicks(t *testing.T) {
	ticks := 0
	for _, w := range append(cutIn(t), overlapped(t)...) {
		for _, tiling := range w.tilings {
			assert.Equal(t, len(tiling.Cells) > 1, len(tiling.Ticks) > 0, "%s %s", w.name, tiling.Laid.ID())
			openings := make([]g.Path, len(tiling.Laid.Masks))
			for k, m := range tiling.Laid.Masks {
				openings[k] = chords(m.Opening)
			}
			listed := 0
			for _, c := range tiling.Cells {
				listed += len(c.Ticks)
			}
			assert.Equal(t, 2*len(tiling.Ticks), listed)
			for i, k := range tiling.Ticks {
				ticks++
				a, b := tiling.Cells[k.Cells[0]], tiling.Cells[k.Cells[1]]
				assert.Contains(t, a.Ticks, i)
				assert.Contains(t, b.Ticks, i)
				p, q, ok := commonEdge(a.Rect, b.Rect)
				require.True(t, ok)
				assert.InDelta(t, 0, (g.Path{g.Polyline(p, q)}).Distance(k.At, 1e-4), 1e-9)
				assert.InDelta(t, 0.5, k.From.Dist(k.To), 1e-9)
				assert.InDelta(t, 0, k.To.Sub(k.From).Dot(q.Sub(p)), 1e-9)
				assert.True(t, a.Rect.Contains(k.From) != a.Rect.Contains(k.To), "half on each tile")
				for n := range 9 {
					at := k.From.Lerp(k.To, float64(n)/8)
					for _, o := range openings {
						assert.False(t, o.Contains(at, 1e-5))
						assert.GreaterOrEqual(t, o.Distance(at, 1e-5), tickClear-g.OutlineTolerance)
					}
					for _, m := range tiling.Marks {
						assert.GreaterOrEqual(t, m.Film.Dist(at), MarkRadius+tickClear-1e-9)
					}
				}
			}
		}
	}
	assert.Greater(t, ticks, 40)
}

// On a seam in the waste from end to end, ticks stand near both ends and nowhere more
// than six inches apart, but for what a registration mark takes.
func TestMatchTicksAlongASeam(t *testing.T) {
	w := worked(t, "text", layoutOf(t, `
name: two
aircraft: slab.yaml
markings:
  - id: bars
    figure: {text: "I I", alphabet: block-6x4, height: 24}
    where: {surface: slab, side: left, fs: 60, wl: 30}
    colours: {text: white}
film: {web: 40, longest: 16}
`+common))
	tiling := w.tilings[0]
	require.Len(t, tiling.Cells, 2)
	require.Zero(t, tiling.Seams[0].Crossings)
	r := tiling.Laid.Field
	last := r.Max.Y
	for _, k := range tiling.Ticks {
		assert.LessOrEqual(t, math.Abs(last-k.At.Y), 6+0.75, "from %v", last)
		last = k.At.Y
	}
	first := tiling.Ticks[0]
	assert.InDelta(t, r.Max.Y-0.25, first.At.Y, 1.2)
	assert.InDelta(t, r.Min.Y+0.25, last, 1.2)
	assert.Len(t, tiling.Ticks, int(math.Ceil((r.Height()-0.5)/6))+1)
}
