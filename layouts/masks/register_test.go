package masks

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// Every tile has three marks or more that make a triangle; each stands in its
// tile, clear of the paint of every pass and of other marks.
func TestMarksOfATile(t *testing.T) {
	for _, w := range cutIn(t) {
		for _, tiling := range w.tilings {
			name := w.name + " " + tiling.Laid.ID()
			for _, c := range tiling.Cells {
				require.GreaterOrEqual(t, len(c.Marks), 3, "%s tile %d-%d", name, c.Row, c.Column)
				largest := 0.0
				for i, a := range c.Marks {
					p := tiling.Marks[a].Film
					assert.True(t, c.Rect.Contains(p), "%s: mark %s stands in its tile", name, tiling.Marks[a].ID)
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
					assert.GreaterOrEqual(t, other.Film.Dist(m.Film), 4*MarkRadius, "%s: marks %s and %s", name, other.ID, m.ID)
				}
			}
		}
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
				assert.Greater(t, float64(m.Skin.BL)*l.Placement.Side.Sign(), 0.0, "%s mark %s is on its own side", l.ID(), m.ID)
			}
		}
	}
}

// A mark on a seam belongs to both neighbours, and stands on an edge of both. A
// mark within a tile belongs to it alone and keeps off its edges.
func TestMarksOnSeams(t *testing.T) {
	onSeams := 0
	for _, w := range cutIn(t) {
		for _, tiling := range w.tilings {
			edge := map[[2]int]int{} // marks that a pair of tiles shares
			for i, m := range tiling.Marks {
				var owners, touching []int
				for k, c := range tiling.Cells {
					if slices.Contains(c.Marks, i) {
						owners = append(owners, k)
					}
					if c.Rect.Contains(m.Film) {
						touching = append(touching, k)
					}
				}
				assert.Equal(t, touching, owners, "%s %s mark %s: the tiles it stands on show it", w.name, tiling.Laid.ID(), m.ID)
				for _, k := range owners {
					r := tiling.Cells[k].Rect
					inset := math.Min(math.Min(m.Film.X-r.Min.X, r.Max.X-m.Film.X), math.Min(m.Film.Y-r.Min.Y, r.Max.Y-m.Film.Y))
					if len(owners) == 2 {
						assert.Equal(t, 0.0, inset, "mark %s stands on the seam", m.ID)
					} else {
						assert.GreaterOrEqual(t, inset, MarkRadius-1e-9, "mark %s keeps off the edge of its tile", m.ID)
					}
				}
				require.LessOrEqual(t, len(owners), 2)
				if len(owners) == 2 {
					edge[[2]int{owners[0], owners[1]}]++
					onSeams++
				}
			}
			for pair, n := range edge {
				assert.LessOrEqual(t, n, 2, "tiles %v share marks", pair)
			}
		}
	}
	assert.Greater(t, onSeams, 20)
}

// All passes share the marks: what is drawn for a pass is of the tiling, and a
// tile has the same marks whatever its pass.
func TestMarksAreOfEveryPass(t *testing.T) {
	for _, tiling := range demo(t).tilings {
		var first []Piece
		for k, m := range tiling.Laid.Masks {
			pieces, err := tiling.Pieces(m)
			require.NoError(t, err)
			if k == 0 {
				first = pieces
			}
			for i, p := range pieces {
				assert.Equal(t, first[i].Cell, p.Cell, m.ID)
				assert.Equal(t, tiling.Cells[i], p.Cell, m.ID)
				for _, a := range p.Cell.Marks {
					// film under the mark, in every pass: it is drawn on film
					q := tiling.Marks[a].Film
					assert.True(t, m.Film.Contains(q.Add(p.Cell.Rect.Centre().Sub(q).Unit().Scale(0.01)), 1e-4), "%s mark %s", p.ID, tiling.Marks[a].ID)
				}
			}
		}
	}
}

// A bar that fills its field leaves no room for three marks: the film is not to
// be cut.
func TestRegistrationRoom(t *testing.T) {
	bar := func(field string) work {
		return worked(t, field, layoutOf(t, `
name: bar
aircraft: slab.yaml
markings:
  - id: bar
    figure: {text: "1", alphabet: block-6x4, height: 12}
    where: {surface: slab, side: both, fs: 60, wl: 30}
    colours: {text: white}
film: {web: 24, field: `+field+`}
`+common))
	}
	narrow := bar("0.25")
	assert.Equal(t, []string{"registration-room", "registration-room"}, rules(narrow.findings, layouts.Stop))
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
	assert.Empty(t, bar("1.5").findings)
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
			edge := math.Min(float64(m.Skin.FS), 60-float64(m.Skin.WL))
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
