package reading

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"

	g "maskloft/geometry"
)

// taped returns the demo aircraft with tapes measured between its hardpoints.
func taped(t testing.TB, tapes ...string) (*layouts.Airframe, error) {
	t.Helper()
	text, err := Starter("")
	require.NoError(t, err)
	text = strings.Replace(text, "\n  obstacles:", "\n  measured-tapes:\n    - "+strings.Join(tapes, "\n    - ")+"\n  obstacles:", 1)
	spec, err := loadText(t, text)
	if err != nil {
		return nil, err
	}
	return layouts.NewAirframe(t.Context(), spec.Aircraft)
}

// Distances of the drawing leave the drawing as it is, and make it surer.
func TestTapesOfTheDrawing(t *testing.T) {
	a, err := taped(t, "{from: P1, to: P2, side: left, length: 121.325041212 in}", "{from: P3, to: P3, side: across, length: 3 in}")
	require.NoError(t, err)
	for _, h := range a.Hardpoints(g.Left) {
		assert.Less(t, h.At.To(h.Drawn).Inches(), 1e-6, h.ID)
		touched := h.ID != "P4"
		assert.Equal(t, touched, h.Measured, h.ID)
		assert.Equal(t, touched, h.Sigma < layouts.DrawnSigma, h.ID)
	}
	require.Len(t, a.Taped, 2)
	assert.InDelta(t, 0, a.Taped[0].Score, 1e-4)
}

// One tape alone, by hand: both ends share the difference by their variances. With
// s = 1/16 in at each end and 0.041 in of the tape, each end takes
// s^2 / (2 s^2 + 0.041^2) of it (generalised least squares, derived).
func TestOneTapeByHand(t *testing.T) {
	a, err := taped(t, "{from: P1, to: P3, side: right, length: 10.25 in}")
	require.NoError(t, err)
	drawn := math.Hypot(10, 0.125)
	s := 1.0 / 16
	share := s * s / (2*s*s + 0.041*0.041) * (10.25 - drawn)
	hard := map[string]layouts.Hardpoint{}
	for _, h := range a.Hardpoints(g.Right) {
		hard[h.ID] = h
	}
	assert.InDelta(t, share, hard["P1"].At.To(hard["P1"].Drawn).Inches(), 1e-6)
	assert.InDelta(t, drawn+2*share, a.Taped[0].After.Inches(), 1e-6)
	assert.Less(t, hard["P1"].At.WL.Inches(), 50.0, "pushed apart")
	// along the tape the variance falls to s^2 - s^4 / (2 s^2 + t^2), across it stays
	along := s*s - s*s*s*s/(2*s*s+0.041*0.041)
	assert.InDelta(t, math.Sqrt((along+2*s*s)/3), hard["P1"].Sigma.Inches(), 1e-6)
	for _, h := range a.Hardpoints(g.Left) {
		assert.Equal(t, h.Drawn, h.At)
		assert.False(t, h.Measured)
	}
}

// All six distances of a side, of a structure that differs from the drawing: the
// fitted shape has those distances nearly, far nearer than the drawing; and of the
// six one that is a foot out is named.
func TestSixTapes(t *testing.T) {
	real := map[string]g.Vec3{"P1": {X: 240.1, Y: 1.4, Z: 50}, "P2": {X: 119.9, Y: 12.6, Z: 36.1}, "P3": {X: 240, Y: 1.5, Z: 60.1}, "P4": {X: 120.1, Y: 13.1, Z: 64.9}}
	names := []string{"P1", "P2", "P3", "P4"}
	for bad := -1; bad < 6; bad++ {
		var lines []string
		for i, p := range names {
			for _, q := range names[i+1:] {
				d := real[p].Sub(real[q]).Norm()
				if len(lines) == bad {
					d += 1
				}
				lines = append(lines, fmt.Sprintf("{from: %s, to: %s, side: left, length: %.4f in}", p, q, d))
			}
		}
		a, err := taped(t, lines...)
		require.NoError(t, err)
		for k, tape := range a.Taped {
			if bad < 0 {
				assert.False(t, tape.Suspect(), "%+v", tape)
				assert.InDelta(t, tape.Spec.Length.Inches(), tape.After.Inches(), 0.05)
			} else if k == bad {
				assert.True(t, tape.Suspect(), "%d: %+v", bad, tape)
				for j, other := range a.Taped {
					assert.True(t, j == bad || math.Abs(other.Score) < math.Abs(tape.Score), "%d against %d", bad, j)
				}
			}
		}
	}
}

func TestMeasuredTapeMistakes(t *testing.T) {
	for text, says := range map[string]string{
		"{from: P1, to: P9, side: left, length: 10 in}": `there is no hardpoint "P9"`,
		"{from: P1, to: P1, side: left, length: 10 in}": "the tape runs from P1 to itself",
		"{from: P1, to: P2, side: both, length: 10 in}": `side is "both", wanted left, right or across`,
		"{from: P1, to: P2, length: 10 in}":             "measured tape has no side",
		"{from: P1, to: P2, side: left, length: 0 in}":  "must be above 0 in",
	} {
		_, err := taped(t, text)
		require.ErrorContains(t, err, says)
	}
}

// One place known to a hundred-thousandth of an inch beside others of which nothing is
// known: the fit has an answer, and the known place stays. 121.4 in from P1 to P2 and
// 122.8 in from P2 to P3 then hold, for nothing else does.
func TestUnlikeSigmas(t *testing.T) {
	text, err := Starter("")
	require.NoError(t, err)
	line := func(id, sigma string) {
		at := strings.Index(text, "{id: "+id+",")
		require.GreaterOrEqual(t, at, 0)
		end := at + strings.Index(text[at:], "}")
		text = text[:end] + ", sigma: " + sigma + text[end:]
	}
	line("P1", "0.00001 in")
	for _, id := range []string{"P2", "P3", "P4"} {
		line(id, "9999 in")
	}
	tapes := []string{"{from: P1, to: P2, side: left, length: 121.4 in}", "{from: P2, to: P3, side: left, length: 122.8 in}", "{from: P4, to: P4, side: across, length: 26 in}"}
	text = strings.Replace(text, "\n  obstacles:", "\n  measured-tapes:\n    - "+strings.Join(tapes, "\n    - ")+"\n  obstacles:", 1)
	spec, err := loadText(t, text)
	require.NoError(t, err)
	a, err := layouts.NewAirframe(t.Context(), spec.Aircraft)
	require.NoError(t, err)
	require.Len(t, a.Taped, 3)
	for _, x := range a.Taped {
		assert.InDelta(t, x.Spec.Length.Inches(), x.After.Inches(), 1e-5, x.Spec.From+x.Spec.To)
	}
	for _, h := range a.Hardpoints(g.Left) {
		if h.ID == "P1" {
			assert.Less(t, h.At.To(h.Drawn).Inches(), 1e-6)
		}
	}
}

// Hardpoints that are one point are told once, both sides and all of them together.
func TestOneHardpoint(t *testing.T) {
	text, err := Starter("")
	require.NoError(t, err)
	at := strings.Index(text, "{id: P1,")
	end := at + strings.Index(text[at:], "}") + 1
	first := text[at:end]
	again := "\n    - " + strings.Replace(first, "id: P1,", "id: P8,", 1) + "\n    - " + strings.Replace(first, "id: P1,", "id: P9,", 1)
	for more, want := range map[string]int{"": 0, again: 1} {
		spec, err := loadText(t, text[:end]+more+text[end:])
		require.NoError(t, err)
		a, err := layouts.NewAirframe(t.Context(), spec.Aircraft)
		require.NoError(t, err)
		require.Len(t, a.Notes, want)
		if want > 0 {
			require.Equal(t, "one-hardpoint", a.Notes[0].Rule)
			require.Contains(t, a.Notes[0].Message, "P1, P8, P9 are one point")
		}
	}
}
