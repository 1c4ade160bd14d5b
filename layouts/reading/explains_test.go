package reading

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"
)

// explaining is a layout whose marking has the given figure and explains key.
func explaining(figure, explains string) string {
	return `name: explains
units: in
aircraft:
  name: slab
  datum: FS 0 is the fore end, positive aft; WL 0 is the axis, positive up
  surfaces:
    - {id: body, kind: round, sections: [{fs: 0, radius: 20, wl: 0}, {fs: 80, radius: 20, wl: 0}]}
markings:
  - id: star
    figure: ` + figure + `
    where: {surface: body, fs: 40, wl: 0}
    explains: ` + explains + `
paint:
  order: [insignia-white, insignia-red, insignia-blue]
  colours: {insignia-white: {hex: "#f0e9ee"}, insignia-red: {hex: "#9b0a18"}, insignia-blue: {hex: "#172035"}}
evidence:
  - {id: E-1, class: E2, what: photograph}
  - {id: E-3, class: E1, what: paint found under the fabric}
`
}

const starFigure = "{rule: an-i-9b/star-and-bars, size: 10}"

func TestExplains(t *testing.T) {
	spec, err := loadText(t, explaining(starFigure, "{bars.length: [E-3], border: [E-1, E-3], size: [E-1]}"))
	require.NoError(t, err)
	assert.Equal(t, []layouts.Explained{
		{Dimension: "bars.length", Evidence: []string{"E-3"}},
		{Dimension: "border", Evidence: []string{"E-1", "E-3"}},
		{Dimension: "size", Evidence: []string{"E-1"}},
	}, spec.Markings[0].Explains)
}

func TestExplainsRefused(t *testing.T) {
	for _, tc := range []struct{ figure, explains, message, hint string }{
		{starFigure, "{bars.lenght: [E-3]}", `the rule an-i-9b/star-and-bars has no dimension "bars.lenght"`, "write bars.length"},
		{starFigure, "{chevron.arm: [E-3]}", `has no dimension "chevron.arm"`, "write one of size, border, border.width"},
		{starFigure, "{bars.length: [E-2]}", `E-2`, "E-1"},
		{starFigure, "{bars.length: []}", "bars.length names no evidence", "write bars.length: [E-1]"},
		{starFigure, "[bars.length]", "explains", "explains: {bars.length: [E-1]}"},
		{"{text: K4, alphabet: block-6x4, height: 12}", "{bars.length: [E-3]}", "explains is for the dimensions of a published rule", "take explains out"},
	} {
		_, err := loadText(t, explaining(tc.figure, tc.explains))
		require.Error(t, err, tc.explains)
		assert.Contains(t, err.Error(), tc.message, tc.explains)
		assert.Contains(t, err.Error(), tc.hint, tc.explains)
	}
}
