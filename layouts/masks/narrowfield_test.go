package masks

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/reading"
)

// A disc of 20 in on a web of 24 in with margins of 0.75 in: 22.5 in are left, which
// a field of 1.25 in fills, so the field is that; it would have to be 0.75 in for a
// disc of 21 in, which is below the least, and keeps its own.
func TestNarrowerFieldSparesTheSeam(t *testing.T) {
	starter, err := reading.Starter("")
	require.NoError(t, err)
	tried := func(edits ...string) (tiles int, field g.Length, said string) {
		w := worked(t, "field", layoutOf(t, strings.NewReplacer(edits...).Replace(starter)))
		for _, f := range w.findings {
			if f.Rule == "seam-spared" {
				require.Equal(t, layouts.Note, f.Level)
				said = f.Message
				break
			}
		}
		films, masks := w.tilings[0].Films, w.laid[0].Masks
		for k, m := range masks { // of the largest film
			if areaOf(m.Field) > areaOf(masks[tiles].Field) {
				tiles = k
			}
		}
		return len(films[tiles].Cells), masks[tiles].FieldWidth, said
	}
	for _, c := range []struct {
		edits []string
		tiles int
		field g.Length
		said  string
	}{
		{nil, 1, 1.25, "field 1-1/4 in instead of 1-1/2 in"},
		{[]string{"field: 1.5 in", "field: 1-1/4 in"}, 1, 1.25, ""},
		{[]string{"field: 1.5 in", "field: 1.5 in\n  least-field: 1.5 in"}, 2, 1.5, ""},
		{[]string{"size: 20 in", "size: 21 in"}, 2, 1.5, ""},
		{[]string{"web: 24 in", "web: 60 in"}, 1, 1.5, ""},
	} {
		tiles, field, said := tried(c.edits...)
		require.Equal(t, c.tiles, tiles, "%v", c.edits)
		require.InDelta(t, c.field.Inches(), field.Inches(), 1e-9, "%v", c.edits)
		require.Contains(t, said, c.said)
		require.Equal(t, c.said == "", said == "", "%v: %s", c.edits, said)
	}
}
