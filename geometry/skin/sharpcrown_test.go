package skin

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mathext"

	g "maskloft/geometry"
)

// Tapes over the sharp crown and keel of elliptic cylinders, between random points of
// both sides. The cylinder unrolls, so the tape is the hypotenuse of the way along
// and the arc of the ellipse; the arc is an incomplete elliptic integral of the second
// kind (Carlson's forms, gonum's mathext: held against tables there).
func TestTapeOverSharpCrown(t *testing.T) {
	const seed, tapes, limit = 1931, 100, 0.001
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 1))
	for _, c := range []struct{ breadth, height float64 }{{4, 20}, {3, 15}, {2, 10}, {2, 20}, {20, 4}} {
		tube := EllipseSection{HalfBreadth: g.Length(c.breadth), HalfHeight: g.Length(c.height)}
		s := faired(t, Fairing{}, FairedSection{0, tube}, FairedSection{100, tube})
		long, short := math.Max(c.breadth, c.height), math.Min(c.breadth, c.height)
		m := 1 - short*short/(long*long)
		quarter := long * mathext.CompleteE(m)
		arc := func(p g.Vec3) float64 {
			// by the angle from the end of the short half axis
			x, y := p.Y, p.Z
			if c.height > c.breadth {
				x, y = p.Z, p.Y
			}
			e := long * mathext.EllipticE(math.Atan(math.Abs(x)*short/(long*math.Abs(y))), m)
			if y < 0 {
				e = 2*quarter - e
			}
			return math.Copysign(e, x)
		}
		worst := 0.0
		for range tapes {
			a := UV{5 + 90*random.Float64(), -2 * random.Float64()}
			b := UV{5 + 90*random.Float64(), 2 * random.Float64()}
			if random.IntN(8) == 0 {
				b.V = -b.V // on one side
			}
			p, err := Tape(s, a, b, limit)
			require.NoError(t, err)
			d := math.Abs(arc(PointAt(s, b)) - arc(PointAt(s, a)))
			d = math.Min(d, 4*quarter-d)
			want := math.Hypot(b.U-a.U, d)
			e := math.Abs(p.Length.Inches() - want)
			worst = math.Max(worst, e)
			require.LessOrEqual(t, e, limit, "half axes %g x %g: from %v to %v", c.breadth, c.height, a, b)
		}
		t.Logf("half axes %g x %g: %d tapes, worst %.6f in", c.breadth, c.height, tapes, worst)
	}
}
