package main

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export"
	"maskloft/layouts"
	"maskloft/layouts/reading"
)

// The dossier says of each number of a rule how it is known, and what a figure is that
// follows no rule.
func TestDossierNumbers(t *testing.T) {
	dossier := func(lesson string) string {
		spec, err := reading.Load(filepath.Join(testFiles, "lessons", lesson))
		require.NoError(t, err)
		l, _, err := layouts.Resolve(spec)
		require.NoError(t, err)
		return string(export.Dossier(l, nil))
	}
	star := dossier("01-star-and-bars.yaml")
	require.Contains(t, star, "- number: length of the bars 10 in, derived: a mismatch warns\n")
	require.Contains(t, star, "- number: width of the bars 5 in, memory, high: a mismatch is a note\n")
	require.Equal(t, 8, strings.Count(star, "- number: "), "one for each number of the rule")
	require.Contains(t, dossier("36-rudder-by-rule.yaml"), "as large as its surface")
	pieces := dossier("37-cut-line.yaml")
	require.Contains(t, pieces, "- figure: a line through 3 points; no rule was followed\n")
	require.Contains(t, pieces, "- cheat-line-2-left: held point at ")
}
