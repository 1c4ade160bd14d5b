package survey

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry/ended"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/worked"
)

// standing is a layout laid and surveyed.
type standing struct {
	laid     []masks.Laid
	surveyed []Surveyed
	findings []layouts.Finding // of the survey alone
}

// surveyOf surveys markings on an aircraft of the test files, to whose obstacles
// others are added. More holds further keys of the layout.
func surveyOf(t testing.TB, aircraft, obstacles, markings, more string) standing {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(worked.TestFiles, "aircraft", aircraft+".yaml"))
	require.NoError(t, err)
	text := string(data)
	if obstacles != "" {
		if strings.Contains(text, "\nobstacles:\n") {
			text = strings.Replace(text, "\nobstacles:\n", "\nobstacles:\n"+obstacles, 1)
		} else {
			text += "obstacles:\n" + obstacles
		}
	}
	text = "  " + strings.ReplaceAll(text, "\n", "\n  ")
	l := worked.LayoutOf(t, "name: it\naircraft:\n"+text+"\nmarkings:\n"+markings+more+worked.Common)
	laid, _ := lay(t, l)
	surveyed, findings := survey(t, l, laid)
	require.Len(t, surveyed, len(laid))
	return standing{laid, surveyed, findings}
}

// of returns the findings of one rule about one marking.
func (s standing) of(rule, marking string) []layouts.Finding {
	var out []layouts.Finding
	for _, f := range s.findings {
		if f.Rule == rule && f.Marking == marking {
			out = append(out, f)
		}
	}
	return out
}

func (s standing) clearance(t testing.TB, obstacle string) Clearance {
	t.Helper()
	for _, c := range s.surveyed[0].Clearances {
		if c.Obstacle == obstacle {
			return c
		}
	}
	require.FailNow(t, "no clearance from "+obstacle)
	return Clearance{}
}

// A ring and a disc on a cylinder of radius 30: their centres are an arc of girth
// and a length of station apart, and the distance along the skin is that of the
// unrolled plane, sqrt(arc^2 + station^2) (derived). The last case stands outside
// the patch and is measured by tape.
func TestClearanceOnACylinder(t *testing.T) {
	for _, tc := range []struct {
		name           string
		arc, aft, size float64
		field          string
		rules          []string
	}{
		{"above", 7.3, 0, 4, "1.5", []string{"obstacle"}},
		{"below and aft", -6, 4.5, 4, "1.5", nil},
		{"just clear", 0, 7.51, 4, "1.5", nil},
		{"not quite", 0, 7.49, 4, "1.5", []string{"obstacle"}},
		{"a large ring beyond the patch", 15.3, 0, 20, "0.25", []string{"obstacle"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			ring := fmt.Sprintf("  - {id: ring, kind: ring, surface: cylinder, side: left, fs: %v, wl: %.9f, size: %v}\n", 60+tc.aft, 30*math.Sin(tc.arc/30), tc.size)
			s := surveyOf(t, "round", ring, `
  - id: disc
    figure: {discs: [{diameter: 10, colour: red}]}
    where: {surface: cylinder, side: both, fs: 60, wl: 0}`, "\nfilm: {field: "+tc.field+"}")
			want := math.Hypot(tc.arc, tc.aft) - 5 - tc.size/2
			c := s.clearance(t, "ring")
			assert.InDelta(t, want, c.Distance.Inches(), 1e-3)
			assert.Zero(t, c.Overlap)
			assert.Empty(t, s.surveyed[1].Clearances, "there is no ring on the right")
			assert.Equal(t, append([]string{}, tc.rules...), worked.Rules(s.findings, layouts.Warn, layouts.Stop))
			// the paint's edge on the line between the centres
			angle := math.Atan2(tc.arc, tc.aft)
			assert.InDelta(t, 60+5*math.Cos(angle), c.Where.FS.Inches(), 0.3)
			assert.InDelta(t, 30*math.Sin(5*math.Sin(angle)/30), c.Where.WL.Inches(), 0.3)
		})
	}
}

// Paint over a fitting: the area of the lens of two circles of radii r and R, their
// centres d apart, is r^2 acos((d^2+r^2-R^2)/2dr) + R^2 acos((d^2+R^2-r^2)/2dR)
// - sqrt((-d+r+R)(d+r-R)(d-r+R)(d+r+R))/2 (Weisstein, Circle-circle intersection;
// from memory, and by its limits: pi r^2 at d = R - r, 0 at d = R + r).
func TestOverlapOnAPlate(t *testing.T) {
	const r, R = 2.0, 5.0
	lens := func(d float64) float64 {
		return r*r*math.Acos((d*d+r*r-R*R)/(2*d*r)) + R*R*math.Acos((d*d+R*R-r*r)/(2*d*R)) -
			math.Sqrt((-d+r+R)*(d+r-R)*(d-r+R)*(d+r+R))/2
	}
	assert.InDelta(t, math.Pi*r*r, lens(R-r+1e-12), 1e-4)
	for d, want := range map[float64]float64{6: lens(6), 4: lens(4), 0: math.Pi * r * r} {
		s := surveyOf(t, "slab", fmt.Sprintf("  - {id: filler, kind: spot, surface: slab, fs: 60, wl: %v, size: 4}\n", 30+d), `
  - id: disc
    figure: {discs: [{diameter: 10, colour: red}]}
    where: {surface: slab, side: left, fs: 60, wl: 30}`, "")
		c := s.clearance(t, "filler")
		assert.Zero(t, c.Distance)
		assert.InDelta(t, want, c.Overlap, 1e-3)
		stops := s.of("obstacle", "disc-left")
		require.Len(t, stops, 1)
		assert.Equal(t, layouts.Stop, stops[0].Level)
	}
}

// An obstacle may ask for more; the shift offered is the least in eighths: the
// disc ends 1 in short of the ring, and 2 in are asked for.
func TestClearKeyAndShift(t *testing.T) {
	s := surveyOf(t, "slab", "  - {id: ring, kind: ring, surface: slab, fs: 60, wl: 38, size: 4, clear: 2}\n", `
  - id: disc
    figure: {discs: [{diameter: 10, colour: red}]}
    where: {surface: slab, side: left, fs: 60, wl: 30}`, "")
	found := s.of("obstacle", "disc-left")
	require.Len(t, found, 1)
	assert.Equal(t, layouts.Warn, found[0].Level)
	assert.Equal(t, "1.00 in", found[0].Measured)
	assert.Contains(t, found[0].Hint, "wl: 29 in (1 in down: keeps 2 in from it")
}

// The edge of a plate, square and at the distance of plain geometry.
func TestEdgeClearance(t *testing.T) {
	for _, tc := range []struct {
		fs, edge string
		hint     string // empty: no finding
		distance float64
	}{
		{"109.7", "", "fs: 109.45 in (0.25 in forward: ", 0.3},
		{"109.5", "", "", 0.5},
		{"109.4", "rules: {date: 1944-06, nation: hcf, edge: 50 mm}\n", "fs: 108.025 in (1.375 in forward: ", 0.6},
	} {
		s := surveyOf(t, "slab", "", `
  - id: disc
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: slab, side: right, fs: `+tc.fs+`, wl: 30}`, "\n"+tc.edge)
		require.NotNil(t, s.surveyed[0].Edge)
		assert.InDelta(t, tc.distance, s.surveyed[0].Edge.Distance.Inches(), 1e-4)
		found := s.of("edge-clearance", "disc-right")
		if tc.hint == "" {
			assert.Empty(t, s.findings)
			continue
		}
		require.Len(t, found, 1)
		assert.Contains(t, found[0].Hint, tc.hint)
	}
	// over the edge the laying of the film stops the job: not told twice
	s := surveyOf(t, "slab", "", `
  - id: disc
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: slab, side: right, fs: 115, wl: 30}`, "")
	assert.Empty(t, s.findings)
}

// The upright of a "1", 2 in wide and 12 in high, beside the aft edge, FS 62, of a
// tape of 4 in about FS 60: on it, the upright's side of 12 in and the ends within
// an eighth; across it, two crossings and no stretch; clear of it, nothing.
func TestTapeEdges(t *testing.T) {
	for _, tc := range []struct {
		fs        string
		length    float64
		crossings int
		hint      string
	}{
		{"63", 12.25, 0, "fs: 63.25 in (0.25 in aft: "},
		{"62", 0, 2, ""},
		{"60", 0, 0, ""},
		{"63.3", 0, 0, ""},
	} {
		s := surveyOf(t, "round", "  - {id: tape, kind: section, surface: cylinder, side: left, fs: 60, size: 4}\n", `
  - id: one
    figure: {text: "1", alphabet: block-6x4, height: 12}
    where: {surface: cylinder, side: left, fs: `+tc.fs+`, wl: 0}
    colours: {text: red}`, "")
		one := s.surveyed[0]
		assert.Equal(t, tc.crossings, one.Crossings, tc.fs)
		if tc.length == 0 {
			assert.Empty(t, one.TapeEdges, tc.fs)
			assert.Empty(t, s.findings, tc.fs)
			continue
		}
		require.Len(t, one.TapeEdges, 1)
		assert.InDelta(t, tc.length, one.TapeEdges[0].Length.Inches(), 0.13)
		assert.InDelta(t, 62, one.TapeEdges[0].Where.FS.Inches(), 0.01)
		found := s.of("tape-edge", "one-left")
		require.Len(t, found, 1)
		assert.Equal(t, layouts.Warn, found[0].Level)
		assert.Contains(t, found[0].Hint, tc.hint)
	}
}

// A border between two paints is one paint edge, not two: where two discs of one
// centre meet the edge of a tape, the inner one's edge counts once.
func TestTapeEdgesCountABorderOnce(t *testing.T) {
	disc := func(discs string) Surveyed {
		return surveyOf(t, "slab", "", "\n  - id: disc\n    figure: {discs: "+discs+"}\n    where: {surface: slab, side: left, fs: 60, wl: 30}", "").surveyed[0]
	}
	assert.Empty(t, disc("[{diameter: 10, colour: red}]").TapeEdges, "a plate has no tape")
	round := func(discs string) Surveyed {
		return surveyOf(t, "round", "  - {id: tape, kind: section, surface: cylinder, side: left, fs: 60, size: 8}\n",
			"\n  - id: disc\n    figure: {discs: "+discs+"}\n    where: {surface: cylinder, side: left, fs: 60, wl: 0}", "").surveyed[0]
	}
	both := round("[{diameter: 14, colour: red}, {diameter: 8, colour: white}]")
	inner := round("[{diameter: 8, colour: red}]")
	require.Len(t, both.TapeEdges, 1)
	require.Len(t, inner.TapeEdges, 1)
	// within an eighth of the tape's edge, from inside, lie two arcs of 2 acos(1 - 1/32) of radius 4
	want := 2 * 4 * 2 * math.Acos(1-0.125/4)
	assert.InDelta(t, want, inner.TapeEdges[0].Length.Inches(), 0.2)
	assert.InDelta(t, want, both.TapeEdges[0].Length.Inches(), 0.2)
	assert.Equal(t, 4, both.Crossings, "the outer circle crosses each edge twice")
}

// A fin with a section: the edges are those of its planform, here a rectangle of 40 by
// 60 in; in plan the disc ends a quarter of an inch below the tip.
func TestEdgeClearanceOfAFin(t *testing.T) {
	fin := func(fs string) standing {
		l := worked.LayoutOf(t, `
name: fin
aircraft:
  name: fin
  datum: FS 0 is the leading edge of the fin, positive aft; WL 0 its root, positive up
  surfaces:
    - {id: fin, kind: foil, leading: [[0, 0], [0, 60]], trailing: [[40, 0], [40, 60]], naca: "0009"}
markings:
  - id: disc
    figure: {discs: [{diameter: 10, colour: red}]}
    where: {surface: fin, side: left, wl: 54.75, fs: `+fs+`}
`+worked.Common)
		laid, _ := lay(t, l)
		surveyed, findings := survey(t, l, laid)
		return standing{laid, surveyed, findings}
	}
	s := fin("20") // 60 - 54.75 - 5
	require.NotNil(t, s.surveyed[0].Edge)
	assert.InDelta(t, 0.25, s.surveyed[0].Edge.Distance.Inches(), 0.005)
	found := s.of("edge-clearance", "disc-left")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Hint, "wl: 54.5 in (0.25 in down: ")
}

// Looking round a marking ends when its context is done: of the shifts that would be
// tried, none is; what remains is the rest of one obstacle, and at most one question for
// each kind of finding.
func TestSurveyEnds(t *testing.T) {
	w := worked.Demo(t)
	for _, one := range w.Laid {
		whole := ended.Never(t.Context())
		_, findings, err := One(whole, w.Layout, one)
		require.NoError(t, err)
		for _, done := range []int{0, 1, whole.Asked / 2, whole.Asked - 1} {
			ctx := &ended.After{Context: t.Context(), Most: done}
			_, _, err := One(ctx, w.Layout, one)
			require.ErrorIs(t, err, context.Canceled, "%s", one.ID())
			assert.LessOrEqual(t, ctx.Asked, done+4+len(findings), "%s ended after %d of %d", one.ID(), done, whole.Asked)
		}
	}
}
