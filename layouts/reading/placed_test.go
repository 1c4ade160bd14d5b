package reading

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"
)

// Of finds every marking of the examples on each side that the file names, a line in as
// many pieces as it has cuts and one more, and nothing twice.
func TestPlacementsOfAMarking(t *testing.T) {
	for _, example := range Examples {
		spec, err := LoadFS(DemoFiles(), example.File)
		require.NoError(t, err)
		l, findings, err := layouts.Resolve(spec)
		require.NoError(t, err, findings)
		all := 0
		for _, m := range spec.Markings {
			pieces := 1
			if m.Figure.Line != nil {
				pieces += len(m.Figure.Line.Cuts)
			}
			placed := l.Of(m.ID)
			if m.Figure.Band == nil {
				assert.Len(t, placed, pieces*len(m.Where.Side.List()), m.ID)
			}
			assert.NotEmpty(t, placed, m.ID)
			all += len(placed)
		}
		assert.Equal(t, len(l.Placed), all)
		assert.Empty(t, l.Of("no such marking"))
	}
}
