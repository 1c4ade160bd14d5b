package scan

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

func scanValue(c []float64, i int, t float64) (v, d float64) {
	w, dw := scanWeights(t)
	for a := 0; a < 4; a++ {
		v, d = v+w[a]*c[i+a], d+dw[a]*c[i+a]
	}
	return
}

// The open spline meets its values, is exact on parabolas, and closes in with
// the fourth power of the step away from the ends and the third at them.
func TestScanOpenSpline(t *testing.T) {
	y := make([]float64, 9)
	for i := range y {
		x := float64(i)
		y[i] = 3 - 2*x + 0.7*x*x
	}
	c := scanOpenSpline(y)
	for i := 0; i < 8; i++ {
		for _, f := range []float64{-0.3, 0, 0.4, 1} {
			x := float64(i) + f
			v, d := scanValue(c, i, f)
			require.InDelta(t, 3-2*x+0.7*x*x, v, 1e-12)
			require.InDelta(t, -2+1.4*x, d, 1e-12)
		}
	}
	last := 0.0
	for _, n := range []int{16, 32, 64} {
		y := make([]float64, n+1)
		for i := range y {
			y[i] = math.Sin(3 * float64(i) / float64(n))
		}
		c, worst := scanOpenSpline(y), 0.0
		for i := 0; i < n; i++ {
			v, _ := scanValue(c, i, 0.37)
			worst = math.Max(worst, math.Abs(v-math.Sin(3*(float64(i)+0.37)/float64(n))))
			at, _ := scanValue(c, i, 0)
			require.InDelta(t, y[i], at, 1e-12)
		}
		if last > 0 {
			require.Greater(t, math.Log2(last/worst), 2.8)
		}
		last = worst
	}
}

func TestScanClosedSpline(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{3, 4, 7, 32} {
		y := make([]float64, n)
		for i := range y {
			y[i] = random.Float64()
		}
		c := append([]float64(nil), y...)
		scanClosedSpline(c)
		for i := range y {
			require.InDelta(t, y[i], (c[(i+n-1)%n]+4*c[i]+c[(i+1)%n])/6, 1e-12)
		}
	}
}

// The smoothed line makes its sum least, keeps straight lines, and halves waves
// of the length it names.
func TestScanSmoothed(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	y, w := make([]float64, 30), make([]float64, 30)
	for i := range y {
		y[i], w[i] = random.NormFloat64(), random.Float64()
	}
	w[7], y[7], w[0] = 0, math.NaN(), 0
	sum := func(x []float64) (s float64) {
		for i := range x {
			if w[i] > 0 {
				s += w[i] * (x[i] - y[i]) * (x[i] - y[i])
			}
			if i >= 2 {
				d := x[i] - 2*x[i-1] + x[i-2]
				s += 20 * d * d
			}
		}
		return
	}
	x := scanSmoothed(y, w, 20)
	best := sum(x)
	for i := range x {
		for _, e := range []float64{-1e-4, 1e-4} {
			x[i] += e
			require.Greater(t, sum(x), best)
			x[i] -= e
		}
	}
	n := 400
	line, wave, ones := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range line {
		line[i], wave[i], ones[i] = 3-0.2*float64(i), math.Cos(2*math.Pi*float64(i)/20), 1
	}
	stiffness := math.Pow(20/(2*math.Pi), 4)
	for i, v := range scanSmoothed(line, ones, stiffness) {
		require.InDelta(t, line[i], v, 1e-9)
	}
	require.InDelta(t, 0.5, scanSmoothed(wave, ones, stiffness)[200], 0.01)
}

func TestScanBridge(t *testing.T) {
	nan := math.NaN()
	y := []float64{nan, 1, 2, nan, nan, 5, 6, nan}
	require.True(t, scanBridge(y, false))
	require.InDeltaSlice(t, []float64{1, 1, 2, 3, 4, 5, 6, 6}, y, 1e-12)
	y = []float64{nan, 4, 4, 4, nan, nan}
	require.True(t, scanBridge(y, true))
	require.InDeltaSlice(t, []float64{4, 4, 4, 4, 4, 4}, y, 1e-12)
	y = []float64{9, 5, 1, nan, nan, nan, 1, 5}
	require.True(t, scanBridge(y, true))
	require.InDeltaSlice(t, []float64{9, 5, 1, 0.5, 0.5, 0.5, 1, 5}, y, 1e-12, "never below half")
	require.False(t, scanBridge([]float64{nan, nan}, true))
}
