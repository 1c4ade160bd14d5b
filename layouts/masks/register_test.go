package masks

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// allCells returns the tiles of all passes.
func allCells(t Tiling) []Cell {
	var out []Cell
	for _, f := range t.Films {
		out = append(out, f.Cells...)
	}
	return out
}

// Every tile has three marks or more that make a triangle; each stands on film, its
// arms counted, clear of the paint of every pass and of other marks.
func TestMarksOfATile(t *testing.T) {
	for _, w := range cutIn(t) {
		for _, tiling := range w.tilings {
			name := w.name + " " + tiling.Laid.ID()
			if tiling.Laid.Placement.ToEdge { // laid by the edges of the surface where no mark has room
				continue
			}
			for _, c := range allCells(tiling) {
				require.GreaterOrEqual(t, len(c.Marks), 3, "%s tile %d-%d", name, c.Row, c.Column)
				largest := 0.0
				for i, a := range c.Marks {
					p := tiling.Marks[a].Film
					assert.True(t, c.Reach.Contains(p, 1e-6) || seamSide(c, p) >= 0, "%s: mark %s stands in its tile", name, tiling.Marks[a].ID)
					for j, b := range c.Marks[:i] {
						for _, d := range c.Marks[:j] {
							q, r := tiling.Marks[b].Film, tiling.Marks[d].Film
							largest = math.Max(largest, math.Abs(q.Sub(p).Cross(r.Sub(p)))/2)
						}
					}
				}
				assert.GreaterOrEqual(t, largest, 1.0, "%s tile %d-%d: marks on one line", name, c.Row, c.Column)
			}
			openings := make([]g.Path, len(tiling.Laid.Masks))
			for k, mask := range tiling.Laid.Masks {
				openings[k] = chords(mask.Opening)
			}
			for i, m := range tiling.Marks {
				assert.Equal(t, markName(i), m.ID)
				for k, mask := range tiling.Laid.Masks {
					assert.False(t, openings[k].Contains(m.Film, 1e-5), "%s: mark %s in the opening of %s", name, m.ID, mask.ID)
					// the outline is taken as chords: they may lie 1e-5 in inside it
					assert.GreaterOrEqual(t, openings[k].Distance(m.Film, 1e-5), MarkRadius+markClearance-g.OutlineTolerance, "%s: mark %s, %s", name, m.ID, mask.ID)
				}
				for _, other := range tiling.Marks[:i] {
					assert.GreaterOrEqual(t, other.Film.Dist(m.Film), markApart-1e-9, "%s: marks %s and %s", name, other.ID, m.ID)
				}
			}
		}
	}
}

// Each film has three marks off one line in common with the film before it.
func TestMarksInCommonWithTheFilmBefore(t *testing.T) {
	films, arms := 0, 0
	for _, w := range append(cutIn(t), keptDown(t, demo(t).layout)) {
		for _, tiling := range w.tilings {
			if tiling.Laid.Placement.ToEdge {
				continue
			}
			for k, f := range tiling.Films {
				for _, c := range f.Cells {
					arms += len(c.Arms)
				}
				if k == 0 {
					assert.Empty(t, tiling.Common(0))
					continue
				}
				common := tiling.Common(k)
				assert.GreaterOrEqual(t, len(common), 3, "%s %s pass %d", w.name, tiling.Laid.ID(), k+1)
				assert.True(t, spread(tiling.pointsOf(common)), "%s %s pass %d", w.name, tiling.Laid.ID(), k+1)
				films++
			}
		}
	}
	assert.Greater(t, films, 15)
	assert.Greater(t, arms, 10)
}

// A window is two triangles whose points lie on both sides of the mark, as far from it;
// on a seam each neighbour has one, its point towards the mark. All is cut in film, or
// in the surround that carries a keep-down film: clear of paint and of the film's edge.
func TestWindows(t *testing.T) {
	whole, halves := 0, 0
	for _, w := range append(cutIn(t), keptDown(t, demo(t).layout)) {
		for _, tiling := range w.tilings {
			tips := map[int][]g.Point{} // of the halves on seams, by mark
			for k, f := range tiling.Films {
				tiles, err := tiling.Tiles(tiling.Laid.Masks[k])
				require.NoError(t, err)
				for i, c := range f.Cells {
					windows := tiling.Windows(c)
					require.Len(t, windows, len(c.Marks))
					for _, win := range windows {
						p := tiling.Marks[win.Mark].Film
						for _, tri := range win.Triangles {
							require.True(t, tri.Closed())
							require.Len(t, tri.Segments, 3)
							assert.InDelta(t, MarkTip, tri.Start.Dist(p), 1e-9)
							for n := range tri.Segments {
								q := tri.From(n)
								assert.True(t, c.Reach.Contains(q, 1e-6), "%s: a window leaves the film", tiles[i].ID)
								if tiling.Laid.Masks[k].Polarity == OpenFilm {
									assert.True(t, tiles[i].Film.Contains(q, 1e-6), "%s: a window that is not in film", tiles[i].ID)
								}
							}
						}
						if len(win.Triangles) == 2 {
							whole++
							a, b := win.Triangles[0].Start, win.Triangles[1].Start
							assert.Less(t, a.Lerp(b, 0.5).Dist(p), 1e-9, "the middle is the mark")
						} else {
							halves++
							tips[win.Mark] = append(tips[win.Mark], win.Triangles[0].Start)
						}
					}
				}
			}
			for mark, at := range tips {
				require.Len(t, at, 2, "%s: mark %s", tiling.Laid.ID(), tiling.Marks[mark].ID)
				assert.Less(t, at[0].Lerp(at[1], 0.5).Dist(tiling.Marks[mark].Film), 1e-9)
			}
		}
	}
	assert.Greater(t, whole, 100)
	assert.Greater(t, halves, 20)
}

// The inner films of a roundel of three discs take 40 % less film and more than three
// of the whole marking's size, arms counted.
func TestRoundelFilmIsLess(t *testing.T) {
	for _, size := range []float64{16, 19, 30} {
		w := worked(t, "roundel", layoutOf(t, fmt.Sprintf(`
name: roundel
aircraft: slab.yaml
markings:
  - id: roundel
    figure: {discs: [{diameter: %v, colour: blue}, {diameter: %v, colour: white}, {diameter: %v, colour: red}]}
    where: {surface: slab, side: left, fs: 60, wl: 30}
film: {web: 48}
`, size, 0.6*size, 0.2*size)+common))
		tiling := w.tilings[0]
		require.Len(t, tiling.Films, 3)
		used := 0.0
		for k, f := range tiling.Films {
			require.Len(t, f.Cells, 1)
			frame, err := tiling.Tiles(tiling.Laid.Masks[k])
			require.NoError(t, err)
			used += frame[0].Frame.Area()
		}
		whole := fieldAround(tiling.Laid.Painted.Bounds(), 1.5)
		assert.Less(t, used, 0.6*3*areaOf(whole), "%v in: %.0f of %.0f in2", size, used, 3*areaOf(whole))
	}
}

// A mark is one physical point: its place on film carried to the skin is the
// place stored, to 1e-6 in.
func TestMarksOnSkin(t *testing.T) {
	for _, w := range cutIn(t) {
		for _, tiling := range w.tilings {
			l := tiling.Laid
			for _, m := range tiling.Marks {
				uv, ok := l.Map.ToSkin(m.Film)
				require.True(t, ok, "%s mark %s", l.ID(), m.ID)
				assert.True(t, l.Placement.Surface.Contains(uv))
				at := skin.PointAt(l.Placement.Surface, uv)
				assert.Less(t, at.Sub(m.Skin.Vec()).Norm(), 1e-6, "%s mark %s", l.ID(), m.ID)
				assert.Less(t, skin.PointAt(l.Placement.Surface, m.UV).Sub(m.Skin.Vec()).Norm(), 1e-6)
				back, ok := l.Map.ToFlat(m.UV)
				require.True(t, ok)
				assert.Less(t, back.Dist(m.Film), 1e-6, "%s mark %s", l.ID(), m.ID)
				if f := l.Placement.Marking.Figure; f.Band != nil || f.Stripes != nil { // films round a body reach over crown and keel
					continue
				}
				assert.Greater(t, m.Skin.BL.Inches()*l.Placement.Side.Sign(), 0.0, "%s mark %s is on its own side", l.ID(), m.ID)
			}
		}
	}
}

// A mark on a seam belongs to both neighbours, and stands on an edge of both. A mark
// within a tile keeps off its edges.
func TestMarksOnSeams(t *testing.T) {
	onSeams := 0
	for _, w := range cutIn(t) {
		for _, tiling := range w.tilings {
			for _, f := range tiling.Films {
				edge := map[[2]int]int{} // marks that a pair of tiles shares
				for i, m := range tiling.Marks {
					var owners []int
					for k, c := range f.Cells {
						if slices.Contains(c.Marks, i) && seamSide(c, m.Film) >= 0 {
							owners = append(owners, k)
						} else if slices.Contains(c.Marks, i) {
							b := boundsOf(c)
							inset := math.Min(math.Min(m.Film.X-b.Min.X, b.Max.X-m.Film.X), math.Min(m.Film.Y-b.Min.Y, b.Max.Y-m.Film.Y))
							assert.GreaterOrEqual(t, inset, MarkRadius+markLand-1e-9, "mark %s keeps off the edge of its tile", m.ID)
						}
					}
					if len(owners) > 0 {
						require.Len(t, owners, 2)
						edge[[2]int{owners[0], owners[1]}]++
						onSeams++
					}
				}
				for pair, n := range edge {
					assert.LessOrEqual(t, n, 2, "tiles %v share marks", pair)
				}
			}
		}
	}
	assert.Greater(t, onSeams, 20)
}

// A bar that fills its field has its marks on arms; where the web has no room for these
// either, the film is not to be cut.
func TestRegistrationRoom(t *testing.T) {
	bar := func(film string) work {
		return worked(t, film, layoutOf(t, `
name: bar
aircraft: slab.yaml
markings:
  - id: bar
    figure: {text: "1", alphabet: block-6x4, height: 12}
    where: {surface: slab, side: both, fs: 60, wl: 30}
    colours: {text: white}
film: {`+film+`}
`+common))
	}
	narrow := bar("web: 4, longest: 12.5, field: 0.25")
	require.Equal(t, []string{"registration-room", "registration-room"}, rules(narrow.findings, layouts.Stop))
	f := narrow.findings[0]
	assert.Equal(t, "bar-left", f.Marking)
	assert.Equal(t, "3", f.Expected)
	assert.Equal(t, "0", f.Measured)
	assert.NotEmpty(t, f.Hint)
	assert.NotEmpty(t, f.Source)
	assert.Equal(t, g.Position{FS: 60, BL: -0.5, WL: 30}, f.Where)
	for _, tiling := range narrow.tilings {
		assert.Empty(t, tiling.Marks)
	}
	armed := bar("web: 24, field: 0.25")
	assert.Empty(t, armed.findings)
	assert.Len(t, armed.tilings[0].Films[0].Cells[0].Arms, 3)
	roomy := bar("web: 24, field: 1.5")
	assert.Empty(t, roomy.findings)
	assert.Empty(t, roomy.tilings[0].Films[0].Cells[0].Arms)
}

// Marks keep off the edge of a plate: the field hangs over it, they do not.
func TestMarksKeepOffThePlateEdge(t *testing.T) {
	w := worked(t, "edge", layoutOf(t, `
name: edge
aircraft: slab.yaml
markings:
  - id: disc
    figure: {discs: [{diameter: 16, colour: red}]}
    where: {surface: slab, side: both, fs: 8.5, wl: 51}
`+common))
	require.Empty(t, rules(w.findings, layouts.Stop), "the paint is on the plate")
	for _, tiling := range w.tilings {
		require.NotEmpty(t, tiling.Marks)
		for _, m := range tiling.Marks {
			edge := math.Min(m.Skin.FS.Inches(), 60-m.Skin.WL.Inches())
			assert.GreaterOrEqual(t, edge, MarkRadius, "%s mark %s", tiling.Laid.ID(), m.ID)
		}
	}
}

func TestCommonEdge(t *testing.T) {
	rect := func(x0, y0, x1, y1 float64) g.Rect {
		return g.Rect{Min: g.Point{X: x0, Y: y0}, Max: g.Point{X: x1, Y: y1}}
	}
	a := rect(0, 0, 4, 2)
	tests := []struct {
		name string
		b    g.Rect
		p, q g.Point
		ok   bool
	}{
		{"to the right", rect(4, 0, 6, 2), g.Point{X: 4, Y: 2}, g.Point{X: 4, Y: 0}, true},
		{"to the left", rect(-2, 0, 0, 2), g.Point{X: 0, Y: 2}, g.Point{X: 0, Y: 0}, true},
		{"below", rect(0, -2, 4, 0), g.Point{X: 0, Y: 0}, g.Point{X: 4, Y: 0}, true},
		{"above, part of it", rect(1, 2, 9, 3), g.Point{X: 1, Y: 2}, g.Point{X: 4, Y: 2}, true},
		{"at a corner only", rect(4, 2, 6, 4), g.Point{}, g.Point{}, false},
		{"apart", rect(5, 0, 6, 2), g.Point{}, g.Point{}, false},
		{"the rounding of a seam", rect(4+1e-9, 0, 6, 2), g.Point{X: 4, Y: 2}, g.Point{X: 4, Y: 0}, true},
	}
	for _, tc := range tests {
		p, q, ok := commonEdge(a, tc.b)
		assert.Equal(t, tc.ok, ok, tc.name)
		assert.Less(t, p.Dist(tc.p)+q.Dist(tc.q), 1e-8, tc.name)
	}
}

func TestSpread(t *testing.T) {
	assert.False(t, spread(nil))
	assert.False(t, spread([]g.Point{{X: 0, Y: 0}, {X: 9, Y: 0}}))
	assert.False(t, spread([]g.Point{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 4, Y: 0.1}}))
	assert.True(t, spread([]g.Point{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 4, Y: 0.1}, {X: 4, Y: 3}}))
}

// No two marks of a marking share a name, and none reads as a numeral.
func TestMarkNames(t *testing.T) {
	seen := map[string]bool{}
	for i := range 600 {
		name := markName(i)
		assert.False(t, seen[name], name)
		assert.NotContains(t, name, "I")
		assert.NotContains(t, name, "O")
		seen[name] = true
	}
	for i, want := range map[int]string{0: "A", 23: "Z", 24: "AA", 47: "AZ", 48: "BA", 599: "ZZ"} {
		assert.Equal(t, want, markName(i))
	}
}
