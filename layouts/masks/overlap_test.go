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
// still fit the web; a tile reaches over nothing where no other follows, and ends at
// the seam at a registration mark.
func TestOverlap(t *testing.T) {
	notches := 0
	for _, w := range overlapped(t) {
		spec := w.layout.Spec.Film
		for _, tiling := range w.tilings {
			for k, film := range tiling.Films {
				across, along := (spec.Web - 2*spec.Across).Inches(), spec.Longest.Inches()
				if film.Turned {
					across, along = along, across
				}
				for _, c := range film.Cells {
					b := c.Bounds()
					if len(c.Arms) > 0 && (b.Width() > along+1e-9 || b.Height() > across+1e-9) {
						along, across = across, along // it may lie turned
					}
					assert.LessOrEqual(t, b.Width(), along+1e-9)
					assert.LessOrEqual(t, b.Height(), across+1e-9)
					over := g.Vec{X: b.Max.X - c.Rect.Max.X, Y: c.Rect.Min.Y - b.Min.Y}
					if len(c.Arms) > 0 {
						continue
					}
					assert.InDelta(t, c.Rect.Min.X, b.Min.X, 1e-9, "the left edge stays at the seam")
					assert.InDelta(t, c.Rect.Max.Y, b.Max.Y, 1e-9, "the upper edge stays at the seam")
					for _, d := range []struct {
						got  float64
						last bool
					}{{over.X, c.open[rightSide]}, {over.Y, c.open[lowSide]}} {
						if d.last {
							assert.InDelta(t, 0, d.got, 1e-9)
						} else {
							assert.GreaterOrEqual(t, d.got, spec.Seam.Overlap.Inches()-1e-9)
							assert.LessOrEqual(t, d.got, spec.Seam.Reach().Inches()+1e-9)
						}
					}
					for _, i := range c.Marks {
						p := tiling.Marks[i].Film
						switch seamSide(c, p) {
						case rightSide:
							assert.False(t, c.Reach.Contains(p.Add(g.Vec{X: 0.01}), 1e-4))
							notches++
						case lowSide:
							assert.False(t, c.Reach.Contains(p.Add(g.Vec{Y: -0.01}), 1e-4))
							notches++
						}
					}
				}
				m := tiling.Laid.Masks[k]
				tiles, err := tiling.Tiles(m)
				require.NoError(t, err)
				all := g.Path(nil)
				for i, p := range tiles {
					all, err = g.Union(all, p.Film)
					require.NoError(t, err)
					for _, q := range tiles[i+1:] {
						if p.Cell.Row == q.Cell.Row && q.Cell.Column == p.Cell.Column+1 {
							strip := overlap(t, p.Film, g.Path{g.Rectangle(q.Cell.Rect)})
							assert.Greater(t, strip, 0.0)
							assert.InDelta(t, overlap(t, p.Cell.Reach, within(t, m.Film, q.Cell.Rect)), strip, 1e-6)
						}
					}
				}
				for _, r := range film.Paper {
					all, err = g.Union(all, within(t, m.Film, r))
					require.NoError(t, err)
				}
				beyond, err := g.Subtract(all, m.Film)
				require.NoError(t, err)
				assert.Less(t, beyond.Area(), armsArea(film)+1e-6, m.ID)
			}
		}
	}
	assert.Greater(t, notches, 4)
}

// armsArea returns the area of all arms of a film.
func armsArea(f TiledFilm) float64 {
	sum := 0.0
	for _, c := range f.Cells {
		for _, a := range c.Arms {
			sum += areaOf(a)
		}
	}
	return sum
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
		for _, c := range tiling.Films[0].Cells {
			narrow := c.Rect
			if !c.open[rightSide] {
				narrow.Max.X += 0.125
			}
			if !c.open[lowSide] {
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
		for _, c := range tiling.Films[1].Cells {
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
			openings := make([]g.Path, len(tiling.Laid.Masks))
			for k, m := range tiling.Laid.Masks {
				openings[k] = chords(m.Opening)
			}
			for _, film := range tiling.Films {
				listed := 0
				for _, c := range film.Cells {
					listed += len(c.Ticks)
				}
				assert.Equal(t, 2*len(film.Ticks), listed)
				for i, k := range film.Ticks {
					ticks++
					a, b := film.Cells[k.Cells[0]], film.Cells[k.Cells[1]]
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
						for _, m := range append(a.Marks[:len(a.Marks):len(a.Marks)], b.Marks...) {
							assert.GreaterOrEqual(t, tiling.Marks[m].Film.Dist(at), MarkRadius+tickClear-1e-9)
						}
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
	tiling := w.tilings[0].Films[0]
	require.Len(t, tiling.Cells, 2)
	require.Zero(t, tiling.Seams[0].Crossings)
	r := tiling.Field
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
