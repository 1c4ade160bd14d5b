package layouts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// Write says the unit, and what it writes reads back as the same length; an eighth and
// a sixteenth of an inch without rounding.
func TestWrite(t *testing.T) {
	for _, tc := range []struct {
		units, want string
		length      g.Length
	}{
		{"in", "136.125 in", 136.125}, {"", "136.125 in", 136.125}, {"mm", "3457.575 mm", 136.125}, {"cm", "345.7575 cm", 136.125},
		{"m", "3.457575 m", 136.125}, {"ft", "11 ft 4.125 in", 136.125}, {"ft", "11 ft", 132}, {"ft", "-3.5 in", -3.5}, {"ft", "11.5 in", 11.5},
		{"mm", "1.5875 mm", 1.0 / 16}, {"m", "0.0015875 m", 1.0 / 16}, {"mm", "-3.175 mm", -0.125}, {"mm", "508 mm", 20},
	} {
		got := (&Spec{Units: tc.units}).Write(tc.length)
		assert.Equal(t, tc.want, got)
		back, err := g.ParseLength(got, 0)
		require.NoError(t, err)
		assert.InDelta(t, tc.length.Inches(), back.Inches(), 1e-9, got)
	}
}

// The path names the value in the file, wherever its marking stands.
func TestMarkingPath(t *testing.T) {
	assert.Equal(t, "markings[code-2].where.fs", (&MarkingSpec{ID: "code-2"}).Path("where", "fs"))
	assert.Equal(t, `stencils.list["18"].figure.size`, (&MarkingSpec{ID: "18", Stencil: true}).Path("figure", "size"))
}
