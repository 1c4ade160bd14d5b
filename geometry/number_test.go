package geometry

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Numbers are those of strconv, which rounds exactly, without trailing zeros and without
// "-0": drawn at every size, and beside the halves between two of so many decimals.
func TestFormatNumberRoundsExactly(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 1))
	for range 200000 {
		decimals := draw.IntN(9)
		v := draw.NormFloat64() * math.Pow(10, float64(draw.IntN(22)-8))
		if draw.IntN(2) == 0 {
			step := math.Pow(10, -float64(decimals))
			v = (math.Floor(draw.Float64()*1e4) + 0.5) * step
			for range draw.IntN(4) {
				v = math.Nextafter(v, v+1-2*float64(draw.IntN(2)))
			}
			v *= 1 - 2*float64(draw.IntN(2))
		}
		want := strconv.FormatFloat(v, 'f', decimals, 64)
		if decimals > 0 {
			want = strings.TrimSuffix(strings.TrimRight(want, "0"), ".")
		}
		if want == "-0" {
			want = "0"
		}
		require.Equal(t, want, FormatNumber(v, decimals), "%v with %d decimals", v, decimals)
	}
	for v, want := range map[float64]string{math.Inf(1): "+Inf", math.NaN(): "NaN", math.Copysign(0, -1): "0"} {
		require.Equal(t, want, FormatNumber(v, 3))
	}
}
