package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

func TestTapeOnDevelopables(t *testing.T) {
	// Cone 30 to 10 over 120, from 20 % of its length at -45 degrees to 70 % at
	// +54 degrees: straight chord of the unrolled sector (closed form).
	p, err := Tape(cone30to10(t), UV{24, -math.Pi / 4}, UV{84, 54 * math.Pi / 180}, 1e-6)
	require.NoError(t, err)
	require.InEpsilon(t, 70.24003148330385, float64(p.Length), 1e-6)
	// Helix of radius 30, 99 degrees, rise 60 (closed form).
	p, err = Tape(cylinder30(t), UV{24, -math.Pi / 4}, UV{84, 54 * math.Pi / 180}, 1e-6)
	require.NoError(t, err)
	require.InEpsilon(t, 79.2906034672241, float64(p.Length), 1e-6)
	far := way{a: UV{24, -math.Pi / 4}, b: UV{84, -306 * math.Pi / 180}}
	far.walk(cylinder30(t))
	require.InEpsilon(t, math.Hypot(60, 30*261*math.Pi/180), far.length, 1e-6)
	require.LessOrEqual(t, float64(p.Around), far.length, "a length that the way exceeds")
	require.Greater(t, p.Around, p.Length*(1+nearTie))
	// 3-4-5 cone (radius 3, height 4, slant 5): from a base point to half slant
	// opposite: 6.24303010239208 (unrolled chord). The apex is cut off at 0.1 %.
	s, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: 3}, {FS: 3.996, Radius: 0.003}})
	require.NoError(t, err)
	p, err = Tape(s, UV{0, 0}, UV{2, math.Pi}, 1e-5)
	require.NoError(t, err)
	require.InEpsilon(t, 6.24303010239208, float64(p.Length), 1e-5)
}

// A tape inside one flat bay is straight; over a fold it is straight in the
// unfolded plane. Here: two flat sides of a square tube, 10 in each way from the
// corner line, 24 in along: hypotenuse of 20 and 24 (unfolding).
func TestTapeOverFold(t *testing.T) {
	sec := func(fs float64) StringerSection {
		return StringerSection{FS: g.Station(fs), Points: []g.Position{{BL: 0, WL: 10}, {BL: 10, WL: 10}, {BL: 10, WL: -10}, {BL: 0, WL: -10}}}
	}
	s, err := NewStringerSkin([]StringerSection{sec(0), sec(60)})
	require.NoError(t, err)
	p, err := Tape(s, UV{10, 0}, UV{34, 1.5}, 1e-7)
	require.NoError(t, err)
	require.InDelta(t, math.Hypot(20, 24), float64(p.Length), 1e-6)
}

// Straight distances of the invented demo aircraft, and the tape along the skin:
// never shorter, and hardly longer.
func TestTapeOnDemo(t *testing.T) {
	s := kittock(t)
	hard := map[string]UV{"P1": {240, 6}, "P2": {120, 6}, "P3": {240, 2}, "P4": {120, 2}}
	for _, c := range []struct {
		at       UV
		from     string
		straight float64
	}{
		{UV{168, 4}, "P1", 72.468}, {UV{168, 4}, "P2", 50.694}, {UV{168, 4}, "P3", 72.867},
		{UV{180, 4}, "P1", 60.423}, {UV{180, 4}, "P2", 62.385}, {UV{180, 4}, "P3", 60.822},
		{UV{192, 3}, "P1", 48.871}, {UV{192, 3}, "P2", 75.367}, {UV{192, 3}, "P3", 48.343},
	} {
		a, b := PointAt(s, c.at), PointAt(s, hard[c.from])
		require.InDelta(t, c.straight, b.Sub(a).Norm(), 0.0006)
		p, err := Tape(s, c.at, hard[c.from], 1e-4)
		require.NoError(t, err)
		require.GreaterOrEqual(t, float64(p.Length), c.straight-0.0006)
		require.InDelta(t, c.straight, float64(p.Length), 0.2)
		back, err := Tape(s, hard[c.from], c.at, 1e-4)
		require.NoError(t, err)
		require.InDelta(t, float64(p.Length), float64(back.Length), 2e-4)
		// the path drawn is as long as the length printed: chords over its points
		sum := 0.0
		for i := 1; i < len(p.Points); i++ {
			sum += PointAt(s, p.Points[i]).Sub(PointAt(s, p.Points[i-1])).Norm()
		}
		require.InDelta(t, float64(p.Length), sum, 0.01)
	}
}

func BenchmarkTape_stringers_50in_tol0p001(b *testing.B) {
	s := kittock(b)
	for i := 0; i < b.N; i++ {
		if _, err := Tape(s, UV{168, 4.3}, UV{120, 6}, 1e-3); err != nil {
			b.Fatal(err)
		}
	}
}

// Ends that share a station but for rounding (1e-8 in) once left slivers in the net,
// and the search hung.
func TestTapeBetweenNearlyEqualStations(t *testing.T) {
	s := cylinder30(t)
	for _, d := range []float64{0, 2e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-3} {
		p, err := Tape(s, UV{60 - d, 1.3976260296894005}, UV{60, 1.4370647373849739}, 1e-5)
		require.NoError(t, err)
		require.InDelta(t, math.Hypot(d, 30*(1.4370647373849739-1.3976260296894005)), float64(p.Length), 1e-5, "%g", d)
		p, err = Tape(s, UV{40, 1.4 - d/30}, UV{60, 1.4}, 1e-5)
		require.NoError(t, err)
		require.InDelta(t, math.Hypot(20, d), float64(p.Length), 1e-5, "%g", d)
	}
}
