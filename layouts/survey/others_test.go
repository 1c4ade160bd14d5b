package survey

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
	"maskloft/layouts/reading"
	"maskloft/layouts/worked"
)

// lens is the area common to two discs of one radius whose centres are d apart (closed
// form).
func lens(r, d float64) float64 {
	return 2*r*r*math.Acos(d/(2*r)) - d/2*math.Sqrt(4*r*r-d*d)
}

// Two discs of 10 in on a slab, their middles so far apart: the area told is that of the
// lens within a twentieth of a disc, the same spot stops, and what only touches, or is
// named under over:, is not told.
func TestPaintOnPaint(t *testing.T) {
	const disc = "\n  - id: %s\n    figure: {discs: [{diameter: 10, colour: %s}]}\n    where: {surface: slab, side: left, fs: %v, wl: 30}\n"
	for _, c := range []struct {
		d     float64
		more  string
		level layouts.Level
	}{
		{0.1, "", layouts.Stop}, {3, "", layouts.Warn}, {6, "", layouts.Warn}, {9.5, "", layouts.Warn},
		{10.01, "", ""}, {25, "", ""}, {3, "    over: [first]\n", ""}, {0.1, "    over: [first]\n", ""}, {6, "    over: [third]\n", layouts.Warn},
	} {
		third := fmt.Sprintf(disc, "third", "white", 100)
		s := surveyOf(t, "slab", "", fmt.Sprintf(disc, "first", "white", 60)+fmt.Sprintf(disc, "second", "blue", 60+c.d)+c.more+third, "")
		found := s.of("paint-on-paint", "second-left")
		if c.level == "" {
			require.Empty(t, found, "%v", c)
			continue
		}
		require.Len(t, found, 1, "%v", c)
		require.Equal(t, c.level, found[0].Level, "%v", c)
		percent, err := strconv.ParseFloat(strings.Fields(found[0].Measured)[0], 64)
		require.NoError(t, err)
		require.InDelta(t, 100*lens(5, c.d)/(25*math.Pi), percent, 5, "%v", c)
	}
	s := surveyOf(t, "slab", "", fmt.Sprintf(disc, "first", "white", 60)+fmt.Sprintf(disc, "second", "blue", 66)+"    over: [first]\n", "")
	require.Empty(t, s.of("paint-on-paint", "second-left"))
}

// On a cylinder of radius 30 about WL 0 left and right meet over the crown: discs of 20 in whose
// middles stand 5 in of girth from it overlap, at 15 in they do not.
func TestPaintOnPaintOverTheCrown(t *testing.T) {
	for girth, want := range map[float64]int{5: 1, 15: 0} {
		wl := 30 * math.Cos(girth/30)
		s := surveyOf(t, "round", "", fmt.Sprintf("\n  - id: disc\n    figure: {discs: [{diameter: 20, colour: white}]}\n    where: {surface: cylinder, side: both, fs: 60, wl: %v}\n", wl), "")
		found := s.of("paint-on-paint", "disc-right")
		require.Len(t, found, want, "%v in of girth", girth)
	}
}

// The balls that tell which markings may meet hold all paint of theirs, on flat skin and
// on round.
func TestRoundsHoldThePaint(t *testing.T) {
	laid, _ := lay(t, worked.Resolved(t, reading.DemoFiles(), reading.DemoName))
	for _, l := range laid {
		balls := roundsOf(l)
		require.NotEmpty(t, balls)
		eachOutlinePoint(l, runStep, func(_ layouts.Region, q g.Point, _ float64) {
			uv, ok := l.Map.ToSkin(q)
			require.True(t, ok)
			p := skin.PointAt(l.Placement.Surface, uv)
			require.True(t, slices.ContainsFunc(balls, func(b round) bool { return b.at.Sub(p).Norm() <= b.radius }), "%s at %v", l.ID(), q)
		})
	}
}
