package proportions

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/reading"
	"maskloft/layouts/standards"
)

func parsed(text string) (*layouts.Spec, error) {
	return reading.LoadFS(fstest.MapFS{"t.yaml": {Data: []byte(text)}}, "t.yaml")
}

// lettering sets a text, as a layout does, to be held against rules.
func lettering(t *testing.T, text, alphabet, more string) layouts.Placement {
	t.Helper()
	return letteringAt(t, "12 in", text, alphabet, more)
}

func letteringAt(t *testing.T, height, text, alphabet, more string) layouts.Placement {
	t.Helper()
	spec, err := parsed(fmt.Sprintf(`name: t
units: in
aircraft: {name: slab, datum: FS 0 at the nose, surfaces: [{id: slab, kind: plate, thickness: 2, outline: [[0, 0], [200, 0], [200, 60], [0, 60]]}]}
markings:
  - id: m
    figure: {text: %q, alphabet: %s, height: %s, as: [14-cfr-45/29, 14-cfr-45/29b]%s}
    where: {surface: slab, side: left, fs: 100, wl: 30}
    colours: {text: black}
paint: {order: [black], colours: {black: {name: black, hex: "#000000"}}}
`, text, alphabet, height, more))
	require.NoError(t, err)
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	return l.Placed[0]
}

// letteringChecks holds a placed text against all its rules, its outlines changed by
// change first.
func letteringChecks(t *testing.T, p layouts.Placement, change func(geometry.Path) geometry.Path) []Check {
	t.Helper()
	regions, err := p.Figure.Regions()
	require.NoError(t, err)
	for i := range regions {
		regions[i].Outline = change(regions[i].Outline)
	}
	var out []Check
	for _, rule := range p.Figure.Rules() {
		checks, err := OfLettering(p.Figure, rule, regions, Options{Marking: "m"})
		require.NoError(t, err)
		out = append(out, checks...)
	}
	return out
}

func asDrawn(p geometry.Path) geometry.Path { return p }

func failing(checks []Check) map[string]int {
	out := map[string]int{}
	for _, c := range checks {
		if c.Verdict != Conforms {
			out[c.Dimension()]++
		}
	}
	return out
}

// 14 CFR 45.29(c), (d), (e) (read in a copy: FAA test supplement): two thirds as wide as
// high, but 1 a sixth, M and W up to the height; strokes a sixth of the height; gaps a
// quarter of the width or more. 45.29(b): 12 in on fixed-wing aircraft (read: Federal
// Register of 1 October 1981, amendment 45-13).
// Every character of the alphabet made for it conforms.
func TestLetteringConforms(t *testing.T) {
	for _, text := range []string{"N0123", "N456789", "NABCDEF", "NGHJKL", "NMPQRST", "NUVWXYZ"} {
		checks := letteringChecks(t, lettering(t, text, "cfr-45-29", ""), asDrawn)
		require.Empty(t, failing(checks), text)
		widths := 0
		for _, c := range checks {
			if c.Name == "width" {
				widths++
			}
			require.True(t, c.CanStop, c.What)
		}
		require.Equal(t, len(text), widths, text)
	}
}

// One dimension out by a few per cent is named, and no other. Widening all of it
// widens uprights and gaps too, as on a stretched film.
func TestLetteringDeviates(t *testing.T) {
	stretched := func(x, y float64) func(geometry.Path) geometry.Path {
		return func(p geometry.Path) geometry.Path {
			return p.Map(func(q geometry.Point) geometry.Point { return geometry.Point{X: 30 + q.X*x, Y: q.Y*y - 7} })
		}
	}
	require.Empty(t, failing(letteringChecks(t, lettering(t, "N408M", "cfr-45-29", ""), stretched(1, 1))), "moved")
	require.Equal(t, map[string]int{"characters.gap": 4}, failing(letteringChecks(t, lettering(t, "N408M", "cfr-45-29", ", gap: 1.9 in"), asDrawn)))
	require.Empty(t, failing(letteringChecks(t, lettering(t, "N408M", "cfr-45-29", ", gap: 3 in"), asDrawn)), "a gap may be wider")
	wide := failing(letteringChecks(t, lettering(t, "N408M", "cfr-45-29", ""), stretched(1.02, 1)))
	require.Equal(t, 5, wide["characters.width"], "M is as wide as it may be")
	require.Zero(t, wide["characters.gap"])
	require.Zero(t, wide["characters.height"])
	require.Positive(t, wide["characters.stroke"])
	low := failing(letteringChecks(t, lettering(t, "N408M", "cfr-45-29", ""), stretched(11.0/12, 11.0/12)))
	require.Equal(t, map[string]int{"characters.height": 1}, low, "the proportions stand, the height does not")
	mixed := letteringChecks(t, lettering(t, "N408M", "cfr-45-29", ""), func(p geometry.Path) geometry.Path {
		tall := geometry.Path{}
		for _, c := range p { // the last character alone is higher
			if c.Bounds().Min.X > 13 {
				c = geometry.Path{c}.Map(func(q geometry.Point) geometry.Point { return geometry.Point{X: q.X, Y: q.Y * 1.05} })[0]
			}
			tall = append(tall, c)
		}
		return tall
	})
	require.Positive(t, failing(mixed)["characters.height"])
	for _, c := range mixed {
		require.False(t, strings.HasSuffix(c.What, "of the others") && c.CanStop, "even heights are practice: %s", c.What)
	}
}

// Along an arc each character is measured upright; gaps are not.
func TestLetteringAlongAnArc(t *testing.T) {
	checks := letteringChecks(t, lettering(t, "N408", "cfr-45-29", ", arc: {radius: 90 in, reads: over}"), asDrawn)
	require.Empty(t, failing(checks))
	for _, c := range checks {
		require.NotEqual(t, "gap", c.Name)
	}
}

// Bridges cut strokes into pieces that are no strokes: widths and gaps stand, strokes
// are not measured.
func TestLetteringWithBridges(t *testing.T) {
	checks := letteringChecks(t, lettering(t, "N408M", "cfr-45-29", ", islands: {bridges: 1/2 in, run: both}"), asDrawn)
	require.Empty(t, failing(checks))
	for _, c := range checks {
		require.NotEqual(t, "stroke", c.Name)
	}
}

// A rule that draws an insignia, or is not known, is refused where the layout names it.
func TestLetteringRuleRefused(t *testing.T) {
	_, err := parsed("name: t\nmarkings:\n  - id: m\n    figure: {text: N1, alphabet: cfr-45-29, height: 12 in, as: an-i-9b/star-and-bars}\n")
	require.ErrorContains(t, err, "rule an-i-9b/star-and-bars is for an insignia, not for lettering")
	_, err = parsed("name: t\nmarkings:\n  - id: m\n    figure: {text: N1, alphabet: cfr-45-29, height: 12 in, as: 14-cfr-45/30}\n")
	require.ErrorContains(t, err, `unknown rule "14-cfr-45/30"`)
}

// Every alphabet that is made to a rule conforms to it in every letter and figure: what
// the rule or practice excepts, such as I and 1 of one stroke, is an exception of the
// rule with its own source. Registration marks have no I (14 CFR 45.29 excepts 1 only).
func TestAlphabetsPassTheirOwnRules(t *testing.T) {
	for _, tc := range []struct{ alphabet, rule, without string }{
		{"cfr-45-29", "14-cfr-45/29", "I"},
		{"block-6x4", "us-block/6x4", ""},
		{"block-1940s", "us-block/1941", ""},
		{"raf-serial", "raf-serial/fuselage", ""},
		{"raf-underwing-1926", "amwo-501-1926/underwing", ""},
	} {
		rule, err := standards.Find(tc.rule)
		require.NoError(t, err)
		for _, text := range []string{"ABCDEFG", "HIJKLM", "NOPQRS", "TUVWXYZ", "01234", "56789"} {
			for _, r := range tc.without {
				text = strings.ReplaceAll(text, string(r), "")
			}
			p := lettering(t, text, tc.alphabet, "")
			regions, err := p.Figure.Regions()
			require.NoError(t, err)
			checks, err := OfLettering(p.Figure, rule, regions, Options{Marking: "m"})
			require.NoError(t, err)
			for _, c := range checks {
				if c.Name != "height" { // the sizes are another matter
					require.Equal(t, Conforms, c.Verdict, "%s against %s: %s is %.4f, not %.4f of the height", tc.alphabet, tc.rule, c.What, c.Ratio, c.ExpectedRatio)
				}
			}
		}
	}
}

// Marks of 2 in conform as existing marks only, and the check says so.
func TestExistingMarksAreSaid(t *testing.T) {
	for _, c := range letteringChecks(t, letteringAt(t, "2 in", "N408M", "cfr-45-29", ""), asDrawn) {
		if c.Name == "height" {
			require.Equal(t, Conforms, c.Verdict)
			require.Contains(t, c.What, "existing marks only")
		}
	}
}
