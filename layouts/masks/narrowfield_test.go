package masks

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts"
	"maskloft/layouts/reading"
)

// A disc of 20 in on a web of 24 in with margins of 0.75 in: 22.5 in are left, which
// a field of 1.25 in fills; a disc of 21 in would leave 0.75 in, too little to say so.
// What is put forward is then tried: it makes one film of each mask.
func TestNarrowerFieldSparesTheSeam(t *testing.T) {
	starter, err := reading.Starter()
	require.NoError(t, err)
	tried := func(edits ...string) (tiles int, hint string) {
		w := worked(t, "field", layoutOf(t, strings.NewReplacer(edits...).Replace(starter)))
		for _, f := range w.findings {
			if f.Rule == "seam-spared" {
				require.Equal(t, layouts.Note, f.Level)
				hint = f.Hint
				break
			}
		}
		return len(w.tilings[0].Cells), hint
	}
	tiles, hint := tried()
	require.Equal(t, 2, tiles)
	require.Contains(t, hint, "film.field: 1.25 in (")
	tiles, hint = tried("field: 1.5 in", "field: 1-1/4 in")
	require.Equal(t, 1, tiles)
	require.Empty(t, hint)
	tiles, hint = tried("size: 20 in", "size: 21 in")
	require.Equal(t, 2, tiles)
	require.Empty(t, hint)
	tiles, hint = tried("web: 24 in", "web: 60 in")
	require.Equal(t, 1, tiles)
	require.Empty(t, hint)
}
