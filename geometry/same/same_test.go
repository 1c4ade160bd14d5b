package same

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

var special = []float64{0, math.Copysign(0, -1), 1, -1, 0.5, -0.5, 2, math.Inf(1), math.Inf(-1), math.NaN(), 1e-300, 1e300, math.Pi, -math.Pi / 2, 710, -746}

// near tells whether two results are the same but for a few units of the last place.
func near(t *testing.T, name string, want, got float64, args ...float64) {
	t.Helper()
	if math.IsNaN(want) && math.IsNaN(got) || want == got && math.Signbit(want) == math.Signbit(got) {
		return
	}
	units, least := 2.0, 1e-300
	switch name {
	case "Pow", "Expm1": // a logarithm's last bit times the exponent
		units = 50
	case "Asin", "Acos": // the last bit of 1 - x*x
		least = max(1, 1/math.Sqrt(1-float64(args[0]*args[0])))
	}
	assert.InDelta(t, want, got, units*0x1p-52*math.Max(math.Abs(want), least), "%s%v", name, args)
}

// The functions are those of package math but for the last bits.
func TestAsMath(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 2))
	ones := []struct {
		name      string
		want, got func(float64) float64
		most      float64
	}{
		{"Sin", math.Sin, Sin, 100}, {"Cos", math.Cos, Cos, 100}, {"Tan", math.Tan, Tan, 100},
		{"Atan", math.Atan, Atan, 5}, {"Asin", math.Asin, Asin, 1}, {"Acos", math.Acos, Acos, 1},
		{"Exp", math.Exp, Exp, 50}, {"Expm1", math.Expm1, Expm1, 3}, {"Log", math.Log, Log, 1e6}, {"Log10", math.Log10, Log10, 1e6},
	}
	for _, f := range ones {
		for _, x := range special {
			if f.most == 100 && math.Abs(x) > mostAngle {
				continue // their angle is rounded
			}
			near(t, f.name, f.want(x), f.got(x), x)
		}
		for range 20000 {
			x := f.most * (2*draw.Float64() - 1)
			near(t, f.name, f.want(x), f.got(x), x)
		}
	}
	twos := []struct {
		name      string
		want, got func(a, b float64) float64
		most      float64
	}{{"Atan2", math.Atan2, Atan2, 10}, {"Hypot", math.Hypot, Hypot, 10}, {"Pow", math.Pow, Pow, 4}}
	for _, f := range twos {
		for _, x := range special {
			for _, y := range special {
				if f.name != "Pow" || x >= 0 && math.Abs(y) < 1e3 {
					near(t, f.name, f.want(x, y), f.got(x, y), x, y)
				}
			}
		}
		for range 20000 {
			x, y := f.most*(2*draw.Float64()-1), f.most*(2*draw.Float64()-1)
			if f.name == "Pow" {
				x = math.Abs(x)
			}
			near(t, f.name, f.want(x, y), f.got(x, y), x, y)
		}
	}
}

// One sum of all bits, found on amd64, is what every processor must find.
func TestBits(t *testing.T) {
	draw := rand.New(rand.NewPCG(3, 4))
	sum := fnv.New64a()
	put := func(vs ...float64) {
		for _, v := range vs {
			b := math.Float64bits(v)
			sum.Write([]byte{byte(b), byte(b >> 8), byte(b >> 16), byte(b >> 24), byte(b >> 32), byte(b >> 40), byte(b >> 48), byte(b >> 56)})
		}
	}
	for range 10000 {
		x, y := draw.Float64(), float64(20*draw.Float64())-10
		put(Sin(y), Cos(y), Tan(y), Atan(y), Atan2(x, y), Asin(x), Acos(x), Hypot(x, y), Exp(y), Expm1(-x), Log(x), Pow(x, y))
	}
	assert.Equal(t, uint64(0xa04a1745ce2dbeb3), sum.Sum64())
}
