package survey

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/masks"
	"maskloft/layouts/taping"
	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// findingOf returns the first finding of a rule.
func findingOf(t testing.TB, findings []layouts.Finding, rule string) layouts.Finding {
	t.Helper()
	for _, f := range findings {
		if f.Rule == rule {
			return f
		}
	}
	require.FailNow(t, "no finding "+rule)
	return layouts.Finding{}
}

// roundBody is a cylinder of the given radius with one disc on its left side.
func roundBody(radius, figure, where string) string {
	return `
name: it
aircraft:
  name: it
  datum: FS 0 is the fore end, positive aft; WL 0 is the axis, positive up
  surfaces:
    - {id: body, kind: round, sections: [{fs: 0, radius: ` + radius + `, wl: 0}, {fs: 120, radius: ` + radius + `, wl: 0}]}
markings:
  - id: it
    figure: ` + figure + `
    where: {surface: body, side: left, fs: 60, ` + where + `}
film: {field: 0.5}
` + worked.Common
}

// Failure mode: rays that graze the skin. On a cylinder of 30 in radius the skin at
// WL z is stretched by 30 / sqrt(900 - z^2) in side view (derived): the top of the
// disc decides. True along the skin there is nothing to tell.
func TestSideViewStretch(t *testing.T) {
	for _, tc := range []struct {
		wl     float64
		levels []string
	}{
		{17.5, nil}, // top at WL 19.5: 1.316
		{20.2, nil}, // 22.2: 1.487
		{20.6, []string{"warn"}},
		{27.0, []string{"warn"}}, // 29.0: 3.906
		{27.2, []string{"stop"}}, // 29.2: 4.359
	} {
		wl := strconv.FormatFloat(tc.wl, 'f', -1, 64)
		text := roundBody("30", "{discs: [{diameter: 4, colour: red}]}", "wl: "+wl)
		_, findings := lay(t, worked.LayoutOf(t, strings.Replace(text, "    where:", "    true: side\n    where:", 1)))
		var levels []string
		for _, f := range findings {
			if f.Rule == "side-view-stretch" {
				levels = append(levels, fmt.Sprint(f.Level))
				top := tc.wl + 2
				assert.InDelta(t, top, f.Where.WL.Inches(), 0.01)
				measured, err := strconv.ParseFloat(f.Measured, 64)
				require.NoError(t, err)
				assert.InDelta(t, 30/math.Sqrt(900-top*top), measured, 0.02)
				assert.NotEmpty(t, f.Hint)
				assert.Equal(t, "practice, not a standard", f.Source)
				assert.Equal(t, "it-left", f.Marking)
			}
		}
		assert.Equal(t, tc.levels, levels, wl)
		_, findings = lay(t, worked.LayoutOf(t, text))
		assert.NotContains(t, worked.Rules(findings, layouts.Note, layouts.Warn, layouts.Stop), "side-view-stretch", wl)
	}
}

// A ray that misses the skin is refused, with the heights that there are.
func TestSideViewMissesTheSkin(t *testing.T) {
	l := worked.LayoutOf(t, strings.Replace(roundBody("30", "{discs: [{diameter: 4, colour: red}]}", "wl: 28.5"), "    where:", "    true: side\n    where:", 1))
	_, missing := worked.LayAll(t, l)
	require.NotEmpty(t, missing)
	require.Equal(t, layouts.MissingRule, missing[0].Rule)
	require.Contains(t, missing[0].Message, "is not on the left side at FS")
	require.Contains(t, missing[0].Message, "the skin there runs from WL -30 to WL ")
}

const mushroomBody = `
name: it
aircraft:
  name: it
  datum: FS 0 is the fore end, positive aft; WL 0 is the bottom, positive up
  surfaces:
    - id: body
      kind: faired
      along: ruled
      sections:
        - {fs: 0, points: [[0, 40], [20, 38], [20, 26], [6, 28], [6, 5], [0, 4]]}
        - {fs: 100, points: [[0, 40], [20, 38], [20, 26], [6, 28], [6, 5], [0, 4]]}
markings:
  - id: it
    figure: {discs: [{diameter: 1, colour: red}]}
    where: {surface: body, side: both, fs: 50, wl: WL}
film: {field: 0.25}
` + worked.Common

// Failure mode: a ray that meets a hollow section more than once. The outermost
// skin is taken and the reader is told.
func TestSideViewHidden(t *testing.T) {
	for wl, want := range map[string]int{"27": 2, "34": 0, "15": 0} {
		laid, findings := lay(t, worked.LayoutOf(t, strings.Replace(mushroomBody, "WL}", wl+"}", 1)))
		n := 0
		for _, f := range findings {
			if f.Rule != "side-view-hidden" {
				continue
			}
			n++
			assert.Equal(t, layouts.Warn, f.Level)
			assert.Equal(t, "2", f.Measured)
			assert.Contains(t, f.Message, "at FS 50 WL 27")
			assert.InDelta(t, 20, math.Abs(f.Where.BL.Inches()), 1e-6)
			assert.InDelta(t, 20, math.Abs(worked.Find(t, laid, f.Marking).Placement.Anchor.BL.Inches()), 1e-6)
		}
		assert.Equal(t, want, n, wl)
	}
}

// A drawing true in side view that falls partly on the skin behind a hollow's rim
// would be torn: it is refused.
func TestSideViewTornByHollow(t *testing.T) {
	l := worked.LayoutOf(t, strings.Replace(strings.Replace(mushroomBody, "WL}", "26.2}", 1), "    where:", "    true: side\n    where:", 1))
	_, missing := worked.LayAll(t, l)
	require.NotEmpty(t, missing)
	require.Equal(t, layouts.MissingRule, missing[0].Rule)
	require.Regexp(t, `FS [0-9.]+ WL 26: seen from the side the skin jumps there from BL -?(20|6) to BL -?(6|20), behind the rim of a hollow`, missing[0].Message)
	require.Contains(t, missing[0].Message, "or write true: skin")
}

// Failure mode: paint that runs off a panel. It is told how much of its outline: of
// a circle of 20 in about a point 5 in from the edge, two thirds of a turn lie on
// the skin, one third off (derived).
func TestOffSkinTellsHowMuch(t *testing.T) {
	_, findings := lay(t, worked.LayoutOf(t, `
name: it
aircraft: slab.yaml
markings:
  - id: it
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: slab, side: right, fs: 115, wl: 30}
`+worked.Common))
	f := findingOf(t, findings, "off-skin")
	off, rest, _ := strings.Cut(f.Measured, " in of ")
	whole, _, _ := strings.Cut(rest, " in of outline")
	a, err := strconv.ParseFloat(off, 64)
	require.NoError(t, err)
	b, err := strconv.ParseFloat(whole, 64)
	require.NoError(t, err)
	assert.InDelta(t, 20*math.Pi, b, 0.01)
	assert.InDelta(t, 20*math.Pi/3, a, 0.2)
}

// Failure mode: film that closes round a body and meets itself. Once round a body
// of 3 in radius is 18.850 in.
func TestClosesRound(t *testing.T) {
	for diameter, stop := range map[string]bool{"17": false, "18": true, "24": true} {
		_, findings := lay(t, worked.LayoutOf(t, roundBody("3", "{discs: [{diameter: "+diameter+", colour: red}]}", "wl: 0")))
		assert.Equal(t, stop, contains(worked.Rules(findings, layouts.Stop), "closes-round"), diameter)
		if stop {
			f := findingOf(t, findings, "closes-round")
			assert.Equal(t, "18.85 in", f.Tolerance)
			assert.Equal(t, "it-left", f.Marking)
		}
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// Failure mode: hard edges. The film goes over them; a sharp one is told.
func TestSharpFoldIsFound(t *testing.T) {
	for _, tc := range []struct {
		wl    string
		found bool
	}{{"36", true}, {"32", false}} {
		_, findings := lay(t, worked.LayoutOf(t, strings.Replace(strings.Replace(mushroomBody, "WL}", tc.wl+"}", 1), "diameter: 1", "diameter: 5", 1)))
		assert.Equal(t, tc.found, contains(worked.Rules(findings, layouts.Note), "sharp-fold"), tc.wl)
		if tc.found {
			f := findingOf(t, findings, "sharp-fold")
			assert.Equal(t, "84.3 degrees", f.Measured) // 90 less atan(2/20)
			assert.InDelta(t, 38, f.Where.WL.Inches(), 1e-6)
		}
	}
}

// Failure mode: twisted bays, told above 5 degrees with their sections.
func TestBayTwistIsFound(t *testing.T) {
	body := func(bl string) string {
		return strings.Replace(`
name: it
aircraft:
  name: it
  datum: FS 0 is the fore end, positive aft; WL 0 is the bottom, positive up
  surfaces:
    - id: body
      kind: faired
      along: ruled
      sections:
        - {fs: 0, points: [[0, 40], [20, 30], [20, 10], [0, 0]]}
        - {fs: 100, points: [[0, 40], [BL, 30], [20, 10], [0, 0]]}
markings:
  - id: it
    figure: {discs: [{diameter: 5, colour: red}]}
    where: {surface: body, side: both, fs: 50, wl: 20}
film: {field: 0.5}
`, "BL", bl, 1) + worked.Common
	}
	_, findings := lay(t, worked.LayoutOf(t, body("20")))
	assert.NotContains(t, worked.Rules(findings, layouts.Note), "bay-twist")
	_, findings = lay(t, worked.LayoutOf(t, body("19"))) // atan(1/20): 2.9 degrees
	assert.NotContains(t, worked.Rules(findings, layouts.Note), "bay-twist")
	_, findings = lay(t, worked.LayoutOf(t, body("16"))) // atan(4/20): 11.3 degrees
	f := findingOf(t, findings, "bay-twist")
	assert.Contains(t, f.Message, "between the frames at FS 0 and FS 100")
	twist, err := strconv.ParseFloat(strings.TrimSuffix(f.Measured, " degrees"), 64)
	require.NoError(t, err)
	assert.InDelta(t, math.Atan(4.0/20)*180/math.Pi, twist, 0.2)
}

// Failure mode: a pole in a mark is refused, with the marking and the place.
func TestPoleInMarkIsRefused(t *testing.T) {
	l := worked.LayoutOf(t, `
name: it
aircraft:
  name: it
  datum: FS 0 is the fore end, positive aft; WL 0 is the axis, positive up
  surfaces:
    - {id: body, kind: round, sections: [{fs: 0, radius: 0.01, wl: 0}, {fs: 60, radius: 20, wl: 0}]}
markings:
  - id: it
    figure: {discs: [{diameter: 40, colour: red}]}
    where: {surface: body, side: left, fs: 15, wl: 0}
`+worked.Common)
	_, missing := worked.LayAll(t, l)
	require.NotEmpty(t, missing)
	require.Equal(t, layouts.MissingRule, missing[0].Rule)
	require.Contains(t, missing[0].Message, "FS 0 BL 0 WL 0: the fore end of the body")
	require.Contains(t, missing[0].Message, "film cannot be laid round the end of a body")
}

// Failure mode: a tape that is nearly as long the other way round. Told within 2 %.
func TestTapeTie(t *testing.T) {
	mark := masks.RegistrationMark{ID: "A", Skin: g.Position{FS: 60, BL: 0, WL: -30}}
	from := layouts.Hardpoint{ID: "P1"}
	for _, tc := range []struct {
		around g.Length
		tie    bool
	}{{100, true}, {101.9, true}, {102.1, false}, {g.Length(math.Inf(1)), false}} {
		f, tie := taping.TapeTie(g.ReadInches, "it-left", mark, taping.Taping{From: from, Length: 100, Around: tc.around})
		assert.Equal(t, tc.tie, tie, "%v", tc.around)
		if tie {
			assert.Equal(t, layouts.Warn, f.Level)
			assert.Equal(t, "tape-tie", f.Rule)
			assert.Equal(t, mark.Skin, f.Where)
			assert.Contains(t, f.Message, "100.00 in one way round the body and "+strconv.FormatFloat(float64(tc.around), 'f', 2, 64))
		}
	}
	_, tie := taping.TapeTie(g.ReadInches, "it-left", mark, taping.Taping{From: from})
	assert.False(t, tie, "a tape of no length")
}
