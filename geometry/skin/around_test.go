package skin

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// No way round is shorter than its bound. On a tube, where the way is a line of the
// unrolled sheet, the bound is what chords are short by: eight of 45 degrees 2.6 %.
func TestNoWayIsShorterThanItsBound(t *testing.T) {
	numbers := rand.New(rand.NewPCG(3, 4))
	tube := &RoundSkin{sections: []RoundSection{{FS: 0, Radius: 40}, {FS: 700, Radius: 40}}, u: []float64{0, 700}}
	for range 50 {
		a, b := UV{700 * numbers.Float64(), 2 * numbers.Float64()}, UV{700 * numbers.Float64(), -2 * numbers.Float64()}
		exact := math.Hypot(b.U-a.U, 40*(b.V-a.V))
		bound := way{a: a, b: b}.atLeast(tube, 2*exact)
		require.LessOrEqual(t, bound, exact)
		require.Equal(t, 0.5*exact, way{a: a, b: b}.atLeast(tube, 0.5*exact), "no more than is asked for")
		require.GreaterOrEqual(t, bound, 0.974*exact)
	}
	cone := &RoundSkin{sections: []RoundSection{{FS: 0, Radius: 40, WL: 3}, {FS: 100, Radius: 25}, {FS: 200, Radius: 5, WL: 20}}, u: []float64{0, 100, 200}}
	for _, s := range []Surface{cone, fairedMixed(t, Fairing{}), fairedMixed(t, Fairing{Law: Natural})} {
		lo, hi := Extent(s)
		_, _, period := s.Breaks()
		for range 50 {
			place := func() UV {
				return UV{lo + (hi-lo)*(0.02+0.96*numbers.Float64()), period * (numbers.Float64() - 0.5)}
			}
			a, b := place(), place()
			y := way{a: a, b: b}
			y.walk(s)
			for _, most := range []float64{0.5, 1, 1.1, 2, math.Inf(1)} {
				require.LessOrEqual(t, y.atLeast(s, most*y.length), y.length*(1+coarse), "%v to %v", a, b)
			}
		}
	}
}
