package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// hollow is a trough along the body: half of its section, on the right, is a
// circular arc of radius r that is hollow outwards. V is the angle from its
// middle.
type hollow struct{ r float64 }

func (h hollow) Breaks() (u, v []float64, period float64) {
	return []float64{0, 100}, []float64{-1, 1}, 0
}
func (h hollow) Contains(uv UV) bool { return math.Abs(uv.V) <= 1 }
func (h hollow) At(uv, _ UV) (g.Vec3, g.Vec3) {
	sin, cos := math.Sincos(uv.V)
	return g.Vec3{X: uv.U, Y: 60 - h.r*cos, Z: -h.r * sin}, g.Vec3{Y: cos, Z: sin}
}

// A hollow of 20 degrees and radius 30: pressed 10.471976, taut its chord
// 10.418891. A joggle of two sides, 1 along and 0.25 in: 2.061553 and 2 (closed
// forms).
func TestTautOverHollows(t *testing.T) {
	s := hollow{30}
	p, err := Tape(s, UV{50, -10 * math.Pi / 180}, UV{50, 10 * math.Pi / 180}, 1e-6)
	require.NoError(t, err)
	require.InDelta(t, 10.471976, float64(p.Length), 1e-6)
	taut := PullTaut(s, p)
	require.InDelta(t, 10.418891, float64(taut.Length), 2e-5)
	require.Len(t, taut.Spans, 1)
	require.InDelta(t, 30*(1-math.Cos(math.Pi/18)), float64(taut.Spans[0].Gap), 1e-3)

	// a side with a valley 0.25 in deep, 1 in either way
	sec := func(fs float64) StringerSection {
		return StringerSection{FS: g.Station(fs), Points: []g.Position{{BL: 0, WL: 10}, {BL: 10, WL: 10}, {BL: 10, WL: 1}, {BL: 9.75, WL: 0}, {BL: 10, WL: -1}, {BL: 10, WL: -10}, {BL: 0, WL: -10}}}
	}
	valley, err := NewStringerSkin([]StringerSection{sec(0), sec(60)})
	require.NoError(t, err)
	p, err = Tape(valley, UV{30, 2}, UV{30, 4}, 1e-6)
	require.NoError(t, err)
	require.InDelta(t, 2.061553, float64(p.Length), 1e-6)
	taut = PullTaut(valley, p)
	require.InDelta(t, 2, float64(taut.Length), 1e-6)
	require.InDelta(t, 0.25, float64(taut.Spans[0].Gap), 1e-6)
	require.InDelta(t, 1, taut.Spans[0].From.WL.Inches(), 1e-6)

	// over a valley slantwise: 1 in either way unrolled is sqrt(1.0625), so that
	// 3 in along gives hypot(3, 2.061553) pressed and hypot(3, 2) taut
	p, err = Tape(valley, UV{30, 2}, UV{33, 4}, 1e-6)
	require.NoError(t, err)
	require.InDelta(t, math.Hypot(3, 2.061553), float64(p.Length), 1e-5)
	require.InDelta(t, math.Hypot(3, 2), float64(PullTaut(valley, p).Length), 2e-3)
}

// On a full body nothing lifts: taut is pressed.
func TestTautOnFullBodies(t *testing.T) {
	for _, c := range []struct {
		s    Surface
		a, b UV
	}{
		{cone30to10(t), UV{24, -0.8}, UV{84, 0.9}},
		{kittock(t), UV{168, 4.3}, UV{120, 6}},
		{spheroid{30, 90}, UV{0, 0}, UV{60, 1}},
		{cylinder30(t), UV{50, 0}, UV{50, 3}},
	} {
		p, err := Tape(c.s, c.a, c.b, 1e-5)
		require.NoError(t, err)
		taut := PullTaut(c.s, p)
		require.InDelta(t, float64(p.Length), float64(taut.Length), 1e-6)
		require.Empty(t, taut.Spans)
	}
}
