package export

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/audit"
	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/standards"
	"maskloft/layouts/worked"
)

// The sheet of a keep-down film cuts its pieces alone: the edge of the sheet and
// the weed lines are drawn in other layers, and the notes and marks stand in the
// waste.
func TestKeepDownSheets(t *testing.T) {
	w := worked.DemoWith(t, func(spec *layouts.Spec) { spec.Paint.Spray.Way = layouts.KeepDownWay })
	films := 0
	for _, tiling := range w.Tilings {
		for _, m := range tiling.Laid.Masks {
			tiles, err := tiling.Tiles(m)
			require.NoError(t, err)
			for _, p := range tiles {
				if m.Polarity != masks.KeepDown || len(p.Film) == 0 {
					continue
				}
				films++
				require.NoError(t, audit.Hygiene(p.Film), p.ID)
				s := ProofSheet(tiling, m, p, layouts.CutMarks)
				require.NoError(t, s.Check())
				shift := g.Vec{X: sheetMargin - p.Cell.Bounds().Min.X, Y: sheetMargin - p.Cell.Bounds().Min.Y}
				film := p.Film.Moved(shift)
				cut := layerOf(t, s, sheet.LayerCut).Items
				require.Len(t, cut, 2)
				assert.Equal(t, film, cut[0].Path)
				assert.Equal(t, "frame", cut[1].ID, "what carries the pieces is cut last")
				assert.InDelta(t, p.Frame.Area(), cut[1].Path.Area(), 1e-9)
				assert.NotEmpty(t, layerOf(t, s, LayerWeed).Items)
				for _, it := range layerOf(t, s, LayerNotes).Items {
					for _, c := range it.Path {
						assert.False(t, film.Contains(c.Start, 1e-3), "%s: %s stands on film that stays", p.ID, it.ID)
					}
				}
				for _, i := range p.Cell.Marks {
					assert.False(t, p.Film.Contains(tiling.Marks[i].Film, 1e-3), "%s: mark %s stands in the waste", p.ID, tiling.Marks[i].ID)
				}
				assert.Contains(t, s.Title, "keep-down film over "+m.Keeps)
			}
		}
	}
	assert.GreaterOrEqual(t, films, 4)
}

// The film of every figure of every rule is fit to be cut, with traps and as
// keep-down pieces, in the order of its layers and in the other.
func TestFilmsOfEveryRuleAreClean(t *testing.T) {
	documents, err := standards.Documents()
	require.NoError(t, err)
	paints := map[string]bool{}
	var markings strings.Builder
	n := 0
	for _, d := range documents {
		for _, rule := range d.Rules {
			if rule.FollowsField() {
				continue // it fills the surface that it stands on
			}
			fig, err := layouts.InsigniaFigure(rule, 20*g.Inch, nil)
			if err != nil {
				continue // letters, which have no figure
			}
			for _, l := range fig.Layers {
				paints[strings.ReplaceAll(l.Colour, "_", "-")] = true
			}
			fmt.Fprintf(&markings, "  - {id: m%d, figure: {rule: %s, size: 20}, where: {surface: wall, side: left, fs: %d, wl: 40}}\n", n, rule.ID, 50+60*n)
			n++
		}
	}
	require.Greater(t, n, 10)
	names := slices.Sorted(maps.Keys(paints))
	for _, way := range []layouts.PaintWay{layouts.OpenWay, layouts.KeepDownWay} {
		var colours []string
		for _, p := range names {
			colours = append(colours, p+`: {hex: "#808080"}`)
		}
		text := "name: every rule\nunits: in\naircraft:\n  name: wall\n  datum: corner\n  surfaces:\n" +
			fmt.Sprintf("    - {id: wall, kind: plate, thickness: 1, outline: [[0, 0], [%d, 0], [%d, 80], [0, 80]]}\n", 60*n+40, 60*n+40) +
			"markings:\n" + markings.String() +
			"paint: {way: " + string(way) + ", order: [" + strings.Join(names, ", ") + "], colours: {" + strings.Join(colours, ", ") + "}}\n"
		slices.Reverse(names)
		for _, l := range worked.LaidOf(t, text) {
			for _, m := range l.Masks {
				assert.NoError(t, audit.Hygiene(m.Film), "%s %s: %s", way, l.Placement.Marking.Figure.Rule, m.ID)
			}
		}
	}
}
