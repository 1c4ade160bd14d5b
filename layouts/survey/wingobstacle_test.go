package survey

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// flatWing is an aircraft of one wing that is all but a plane, without its obstacles.
const flatWing = `name: t
units: in
aircraft:
  name: flat wing
  datum: FS 0 at the nose
  surfaces:
    - {id: wing, kind: wing, leading: [[0, 0], [0, 200]], trailing: [[100, 0], [100, 200]], wl: 0, dihedral: 0 deg, incidence: 0 deg, naca: 0001}
`

// surveyed lays the markings of a text and returns what was found about their places.
func surveyed(t *testing.T, text string) []layouts.Finding {
	t.Helper()
	l := worked.LayoutOf(t, text)
	laid, _ := lay(t, l)
	_, findings := survey(t, l, laid)
	return findings
}

// On a wing all but flat, a disc of 30 in diameter laid at the middle of a slot covers
// of it what plane geometry says: the integral of the chords of the circle.
func TestObstaclesOnAWing(t *testing.T) {
	const text = flatWing + `  obstacles:
    - {id: gap, kind: opening, surface: wing, points: [[60, 20], [61, 20], [61, 180], [60, 180]]}
    - {id: plate, kind: ring, surface: wing, face: lower, fs: 50, bl: 70, size: 4 in}
    - {id: rib, kind: section, surface: wing, bl: 100, size: 2 in}
markings:
  - id: above
    figure: {discs: [{diameter: 30 in, colour: black}]}
    where: {surface: wing, face: upper, side: FACE, fs: 50, bl: 80}
  - id: below
    figure: {discs: [{diameter: 20 in, colour: black}]}
    where: {surface: wing, face: lower, side: FACE, fs: 48, bl: 80}
paint: {order: [black], colours: {black: {name: black, hex: "#000000"}}}
`
	for _, side := range []g.Side{g.Left, g.Right} {
		job := surveyed(t, strings.ReplaceAll(text, "FACE", side.String()))
		var covered, plate *layouts.Finding
		for _, f := range job {
			switch {
			case strings.Contains(f.Message, "above-"+side.String()+": paint covers") && strings.Contains(f.Message, "gap"):
				covered = &f
			case strings.Contains(f.Message, "plate"):
				require.Contains(t, f.Message, "below-", "the plate is on the lower face alone")
				plate = &f
			}
		}
		require.NotNil(t, covered)
		require.NotNil(t, plate)
		half := func(x float64) float64 { return x*math.Sqrt(225-x*x) + 225*math.Asin(x/15) } // twice the integral of a chord's half
		want := half(11) - half(10)
		area, err := strconv.ParseFloat(strings.TrimSuffix(covered.Measured, " in2"), 64)
		require.NoError(t, err)
		require.InDelta(t, want, area, 0.01*want, "%s", covered.Message)
		require.Equal(t, layouts.Stop, plate.Level, "the ring of 4 in lies on the edge of the disc of 20 in")
		require.Contains(t, plate.Message, "FS 50 BL 70, 4 in across")
	}
}

// A marking that spans a gap on purpose, as roundels over ailerons did (common practice,
// no source), is noted and no more.
func TestOverAnOpening(t *testing.T) {
	const text = flatWing + `  obstacles:
    - {id: gap, kind: opening, surface: wing, over: yes, points: [[60, 20], [61, 20], [61, 180], [60, 180]]}
markings:
  - id: disc
    figure: {discs: [{diameter: 30 in, colour: black}]}
    where: {surface: wing, face: upper, side: left, fs: 50, bl: BL}
paint: {order: [black], colours: {black: {name: black, hex: "#000000"}}}
`
	f := findingOf(t, surveyed(t, strings.ReplaceAll(text, "BL}", "80}")), "obstacle")
	require.Equal(t, layouts.Note, f.Level)
	require.Contains(t, f.Message, "as the layout has it")
	require.Contains(t, f.Hint, "neutral")
	for _, f := range surveyed(t, strings.ReplaceAll(strings.ReplaceAll(text, "BL}", "80}"), "fs: 50", "fs: 44.8")) { // 0.2 in from it
		require.NotEqual(t, "obstacle", f.Rule)
	}
}

// A shift on a wing is told by fs: and bl:.
func TestShiftOnAWing(t *testing.T) {
	const text = flatWing + `  obstacles:
    - {id: plate, kind: ring, surface: wing, fs: 50, bl: 92, size: 4 in}
markings:
  - id: disc
    figure: {discs: [{diameter: 20 in, colour: black}]}
    where: {surface: wing, face: upper, side: right, fs: 50, bl: 80}
paint: {order: [black], colours: {black: {name: black, hex: "#000000"}}}
`
	for _, f := range surveyed(t, text) {
		if f.Rule == "obstacle" {
			require.Contains(t, f.Message, "0.00 in from the plate (FS 50 BL 92, 4 in across), less than 0.5 in")
			require.Contains(t, f.Hint, "bl: 79.5 in (0.5 in inwards: keeps 0.5 in from it")
			return
		}
	}
	t.Fatal("the disc touches the plate, and nothing was found")
}

// Film is laid out from 3 % of the chord aft, here from FS 3. A disc of 10 in whose paint
// begins at FS 3.5 has film as far as its field of 1.5 in: 1 in over the edge, which is
// told; an inch farther aft nothing is; paint over the edge is told as such alone.
func TestFilmOverTheLeadingEdge(t *testing.T) {
	for fs, over := range map[string]float64{"8.5": 1, "9.25": 0.25, "9.6": 0, "6": -1} {
		_, found := lay(t, worked.LayoutOf(t, flatWing+`markings:
  - id: disc
    figure: {discs: [{diameter: 10 in, colour: black}]}
    where: {surface: wing, face: upper, side: left, fs: `+fs+`, bl: 80}
film: {field: 1.5 in, least-field: 1.5 in}
paint: {order: [black], colours: {black: {name: black, hex: "#000000"}}}
`))
		var told *layouts.Finding
		for _, f := range found {
			if f.Rule == "film-over-edge" {
				told = &f
			}
		}
		if over <= 0 {
			require.Nil(t, told, fs)
			continue
		}
		require.NotNil(t, told, fs)
		require.Equal(t, layouts.Warn, told.Level)
		measured, err := strconv.ParseFloat(strings.TrimSuffix(told.Measured, " in over"), 64)
		require.NoError(t, err)
		require.InDelta(t, over, measured, 0.06, "the film lies along the profile")
		require.Contains(t, told.Message, "leading edge")
	}
}
