package adjust

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// leveled returns the problem of heights from differences: of from, to (1 and up; 0
// and below: fixed, its height in fixed), difference, deviation.
func leveled(unknowns int, fixed map[int]float64, lines [][4]float64) Problem {
	p := Problem{Unknowns: make([]Unknown, unknowns), Readings: make([]Reading, len(lines)), Zero: -1, Scale: -1}
	rows := make([]Row, len(lines))
	for i, l := range lines {
		r := Row{Terms: make([]float64, unknowns), Out: l[2], Sigma: l[3]}
		for _, end := range []struct {
			at   int
			sign float64
		}{{int(l[0]), -1}, {int(l[1]), 1}} {
			if end.at > 0 {
				r.Terms[end.at-1] = end.sign
			} else {
				r.Out -= end.sign * fixed[end.at]
			}
		}
		rows[i] = r
		p.Readings[i] = Reading{From: -1, Point: i}
	}
	p.Model = linear(rows)
	return p
}

func solved(t *testing.T, p Problem) *Solution {
	t.Helper()
	used := make([]bool, len(p.Readings))
	for i := range used {
		used[i] = true
	}
	s, err := p.Solve(used, make([]float64, len(p.Unknowns)))
	require.NoError(t, err)
	return s
}

func near(t *testing.T, want, got []float64, within float64) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		assert.InDelta(t, want[i], got[i], within, "%d", i)
	}
}

func of(s *Solution, f func(Fitted) float64) []float64 {
	var out []float64
	for _, r := range s.Rows {
		out = append(out, f(r))
	}
	return out
}

// A levelling net with data snooping (Z. Siki, OSGeoLab tutorials, level_net; more
// figures worked outside this project in Python). Heights and differences in m,
// deviations 0.7 mm a km as published.
func TestPublishedLevelNet(t *testing.T) {
	lines := [][4]float64{{1, 2, -.749, 1.1}, {1, 3, -1.274, 1.8}, {1, 0, -2.890, 1.4}, {2, 3, -.530, 1.5}, {2, 0, -2.141, 1.9}, {3, 0, -1.614, .9}}
	for i := range lines {
		lines[i][3] *= 0.7e-3
	}
	p := leveled(3, map[int]float64{0: 101.345}, lines)
	s := solved(t, p)
	near(t, []float64{104.2350, 103.4868, 102.9588}, s.X, 5e-5)
	near(t, []float64{1.8798, -2.0853, .0044, 2.5918, -.7224, .5903}, of(s, func(f Fitted) float64 { return -f.W() }), 5e-5) // published v is fitted less read
	near(t, []float64{.3140, .6865, .5112, .5466, .7073, .2344}, of(s, func(f Fitted) float64 { return f.Share }), 5e-5)
	assert.InDelta(t, 8.21705, s.Chi2, 5e-6)
	assert.Equal(t, 3, s.Spare)
	e := s.Reliability(6)
	for i, mm := range []float64{5.678, 6.284, 5.664, 5.869, 6.534, 5.377} {
		assert.InDelta(t, mm, 1e3*e[i].Detectable, 5e-4)
	}
	for i, mm := range []float64{2.178, 1.313, 2.768, 1.900, 1.912, 4.117} {
		worst := 0.0
		for _, m := range e[i].Moves {
			worst = math.Max(worst, math.Abs(m))
		}
		assert.InDelta(t, mm, 1e3*worst, 5e-4)
	}

	without, err := p.Solve([]bool{true, true, true, false, true, true}, make([]float64, 3))
	require.NoError(t, err)
	near(t, []float64{104.2345, 103.4856, 102.9593}, without.X, 5e-5)
	assert.InDelta(t, 1.49966, without.Chi2, 6e-6)
	assert.InDelta(t, s.Chi2-math.Pow(s.Rows[3].W(), 2), without.Chi2, 1e-9, "chi-square falls by the square of the test")

	lines[4][2] += .020
	bad := leveled(3, map[int]float64{0: 101.345}, lines)
	near(t, []float64{-4.081, -.684, 4.687, 7.790, -13.370, 6.552}, of(solved(t, bad), func(f Fitted) float64 { return -f.W() }), 5e-4)
	a, err := bad.Search()
	require.NoError(t, err)
	require.Len(t, a.Verdicts, 1)
	assert.Equal(t, []int{4}, a.Verdicts[0].Rows)
	assert.InDelta(t, .02114, a.Verdicts[0].Amount, 5e-6)
}

// Levelling there and back (sample output of GNU Gama; r worked outside): 5 mm each.
func TestPublishedThereAndBack(t *testing.T) {
	var lines [][4]float64
	for _, l := range [][3]float64{{0, 3, -1.225}, {3, 2, -.848}, {2, 1, 1.342}, {1, 0, .720}, {0, 1, -.724}, {1, 2, -1.335}, {2, 3, .842}, {3, 0, 1.231}} {
		lines = append(lines, [4]float64{l[0], l[1], l[2], .005})
	}
	s := solved(t, leveled(3, map[int]float64{0: 1000}, lines))
	near(t, []float64{999.27487, 997.93325, 998.77513}, s.X, 1e-5)
	assert.InDelta(t, 5.42, 5*math.Sqrt(s.Chi2/float64(s.Spare)), 5e-3)
	for _, f := range s.Rows {
		assert.InDelta(t, .625, f.Share, 1e-12)
	}
	assert.InDelta(t, 1.6760, math.Abs(s.Rows[5].W()), 5e-5)
}

// The net of Strang and Borre (as run in a surveyors' forum) and that of Ghilani's
// weighted levels (data in course slides, answer worked outside).
func TestPublishedWeightedNets(t *testing.T) {
	km := func(v float64) float64 { return .006 * math.Sqrt(v) }
	s := solved(t, leveled(2, map[int]float64{0: 10.021, -1: 10.321, -2: 11.002}, [][4]float64{
		{0, 1, .732, km(.97)}, {0, 2, 1.978, km(1.002)}, {-1, 1, .420, km(1.07)}, {-2, 2, .988, km(1.11)}, {1, 2, 1.258, km(.89)},
	}))
	near(t, []float64{10.7445, 11.9976}, s.X, 5e-5)
	assert.InDelta(t, 4.636, s.Chi2, 5e-4)
	near(t, []float64{.6141, .6182, .6502, .6553, .4622}, of(s, func(f Fitted) float64 { return f.Share }), 5e-5)
	near(t, []float64{-1.835, -.292, .700, 1.489, -1.269}, of(s, func(f Fitted) float64 { return -f.W() }), 5e-4)

	lines := [][4]float64{{0, 1, 10.509, .006}, {1, 2, 5.360, .004}, {2, 3, -8.523, .005}, {3, 0, -7.348, .003}, {1, 3, -3.167, .004}, {0, 2, 15.881, .012}}
	s = solved(t, leveled(3, map[int]float64{0: 437.596}, lines))
	near(t, []float64{448.1087, 453.4685, 444.9436}, s.X, 5e-5)
	assert.InDelta(t, 1.27212, s.Chi2, 5e-6)
	lines[4][2] -= .050
	near(t, []float64{5.33, -5.24, -5.17, 5.07, 8.94, .17}, of(solved(t, leveled(3, map[int]float64{0: 437.596}, lines)), func(f Fitted) float64 { return -f.W() }), 5e-3)
}

// Quantiles: the numbers of Baarda, and published tables of chi-square.
func TestTails(t *testing.T) {
	for z := -8.0; z < 30; z += 0.125 {
		assert.InEpsilon(t, math.Erfc(z/math.Sqrt2)/2, Tail(z), 2e-11, "%v", z)
	}
	assert.InDelta(t, 3.290527, TailAt(.0005), 5e-7)
	assert.InDelta(t, 4.132148, baarda, 5e-7)
	for _, c := range []struct {
		p    float64
		df   int
		want float64
	}{{.001, 1, 10.828}, {.001, 2, 13.816}, {.001, 3, 16.266}, {.01, 3, 11.345}, {.05, 10, 18.307}, {.05, 5, 11.070}, {.001, 20, 45.315}} {
		// the table's last digit is within 0.002 of the value that is exceeded with chance p
		assert.Greater(t, ChiTail(c.want-2e-3, c.df), c.p, "%v", c)
		assert.Less(t, ChiTail(c.want+2e-3, c.df), c.p, "%v", c)
	}
}
