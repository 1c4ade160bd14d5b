package layouts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts/standards"
)

// placedOn is a layout with one insignia on one place of an aircraft with fuselage,
// fin, rudder and wing.
func placedOn(t testing.TB, rules RulesSpec, rule, on string, face Face, side g.Side, size g.Length) *Layout {
	t.Helper()
	r, err := standards.Find(rule)
	require.NoError(t, err)
	spec := &Spec{Rules: rules, Aircraft: AircraftSpec{Surfaces: []SurfaceSpec{
		{ID: "body", Kind: Stringers}, {ID: "fin", Kind: Plate}, {ID: "tail", Kind: Plate, Control: true}, {ID: "wing", Kind: Wing},
	}}}
	m := &MarkingSpec{ID: "mark", Figure: FigureSpec{Rule: rule, Size: size}, Where: WhereSpec{Surfaces: []string{on}, Face: face}}
	return &Layout{Spec: spec, Placed: []Placement{{Marking: m, Side: side, Figure: Figure{Rule: r}}}}
}

// The form is held against what stood at its place; what it may do hangs on the class
// of the source. Dates and sources are those of the files of the nations: the roundels
// of the Royal Air Force by A.M.O. A.154/39 (copy), the star by Historynet (secondary).
func TestUses(t *testing.T) {
	silver := RulesSpec{Date: "1935-06", Nation: "uk", Finish: "silver"}
	army := RulesSpec{Date: "1943-07-15", Nation: "us", Service: "army", Finish: "camouflage"}
	for _, tc := range []struct {
		name     string
		rules    RulesSpec
		rule, on string
		face     Face
		side     g.Side
		level    Level // empty: no finding
		expected string
	}{
		{"type A on silver", silver, "raf-roundel/a", "body", NoFace, g.Left, "", ""},
		{"type B on silver", silver, "raf-roundel/b", "wing", UpperFace, g.Left, Warn, "raf-roundel/a"},
		{"rudder stripes of 1930 in 1937", RulesSpec{Date: "1937", Nation: "uk", Finish: "silver"}, "uk/rudder-1930", "tail", NoFace, g.Left, Note, "none: no rudder stripes"},
		{"red border, left", army, "an-i-9a/red-border", "wing", UpperFace, g.Left, "", ""},
		{"red border, right", army, "an-i-9a/red-border", "wing", UpperFace, g.Right, Warn, "none: no star on the upper right and under the left wing"},
		{"blue border a month early", army, "an-i-9a/blue-border", "body", NoFace, g.Left, Note, "an-i-9a/red-border"},
		{"stripe on the bars in 1943", army, "an-i-9b/star-and-bars", "body", NoFace, g.Left, Warn, "an-i-9a/red-border"},
		{"type A1 after the order", RulesSpec{Date: "1939-06", Nation: "uk", Finish: "camouflage", Types: []string{"bombers"}}, "raf-roundel/a1", "wing", UpperFace, g.Left, Note, "raf-roundel/b"},
		{"type A on camouflage, years after", RulesSpec{Date: "1946", Nation: "uk", Finish: "camouflage"}, "raf-roundel/a1", "wing", UpperFace, g.Left, Stop, "raf-roundel/b"},
		{"nothing known", RulesSpec{Date: "1939-06", Nation: "uk", Finish: "silver"}, "raf-roundel/b", "body", NoFace, g.Left, Note, "unknown"},
		{"no date, nothing asked", RulesSpec{Nation: "uk"}, "raf-roundel/b", "body", NoFace, g.Left, "", ""},
		{"another nation", RulesSpec{Date: "1943-07-15", Nation: "france"}, "an-i-9a/red-border", "body", NoFace, g.Left, Note, "french-roundel/thirds"},
	} {
		found := placedOn(t, tc.rules, tc.rule, tc.on, tc.face, tc.side, 0).Uses()
		if tc.level == "" {
			assert.Empty(t, found, tc.name)
			continue
		}
		if assert.Len(t, found, 1, tc.name) {
			assert.Equal(t, UseRule, found[0].Rule, tc.name)
			assert.Equal(t, tc.level, found[0].Level, "%s: %s", tc.name, found[0].Message)
			assert.Equal(t, tc.expected, found[0].Expected, tc.name)
			assert.NotEmpty(t, found[0].Hint)
			assert.NotEmpty(t, found[0].Source)
		}
	}
}

// A size is one of those told for the form at the place: 27 in high is the flash of
// 1940 (tertiary: a note), 25, 40 and 30 in are the roundels of the Gladiator
// (Camouflage and Markings, Northern Europe 1936-45, no. 5, p. 1: may warn), a metre
// under the wings is the French roundel's (Annales des Mines, 1913, series 11, vol. 2,
// p. 902, official: may stop).
func TestSizesOffered(t *testing.T) {
	gladiator := RulesSpec{Nation: "uk", Types: []string{"gladiator"}}
	for _, tc := range []struct {
		rules    RulesSpec
		rule, on string
		face     Face
		size     g.Length
		level    Level
	}{
		{RulesSpec{}, "raf-fin-flash/1940", "fin", NoFace, 27, ""},
		{RulesSpec{}, "raf-fin-flash/1940", "fin", NoFace, 24, Note},
		{gladiator, "raf-roundel/a", "wing", UpperFace, 40, ""},
		{gladiator, "raf-roundel/a", "wing", LowerFace, 30, ""},
		{gladiator, "raf-roundel/a", "wing", LowerFace, 40, Warn},
		{gladiator, "raf-roundel/a", "body", NoFace, 25, ""},
		{RulesSpec{Nation: "uk"}, "raf-roundel/a", "wing", UpperFace, 47, ""}, // told for some types alone
		{RulesSpec{}, "soviet-star/plain", "body", NoFace, 33, ""},            // none is told
		{RulesSpec{}, "french-roundel/ww1", "wing", LowerFace, 1000 * g.Millimetre, ""},
		{RulesSpec{}, "french-roundel/ww1", "wing", LowerFace, 30, Stop},
		{RulesSpec{}, "french-roundel/ww1", "body", NoFace, 30, ""}, // told for the wing alone
	} {
		found := placedOn(t, tc.rules, tc.rule, tc.on, tc.face, g.Left, tc.size).Uses()
		if tc.level == "" {
			assert.Empty(t, found, "%s %v", tc.rule, tc.size)
			continue
		}
		if assert.Len(t, found, 1, "%s %v", tc.rule, tc.size) {
			assert.Equal(t, SizeRule, found[0].Rule)
			assert.Equal(t, tc.level, found[0].Level, found[0].Message)
		}
	}
}
