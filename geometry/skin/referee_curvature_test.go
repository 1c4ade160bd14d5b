package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// defects returns the sum of the angle defects of the nodes inside a net that goes
// once round a closed section, and that of the turning at its two borders.
func defects(n *Net) (inside, border float64) {
	m := newMesh(n)
	sums := make([]float64, n.nodes())
	for f, t := range n.triangles() {
		for k, w := range t.n {
			sums[w] += m.angle(f, k)
		}
	}
	for i := 0; i < n.nu(); i++ {
		for j := 0; j+1 < n.nv(); j++ {
			sum := sums[n.node(i, j)]
			if j == 0 { // the last line is the first again
				sum += sums[n.node(i, n.nv()-1)]
			}
			if i == 0 || i == n.nu()-1 {
				border += math.Pi - sum
			} else {
				inside += 2*math.Pi - sum
			}
		}
	}
	return
}

// The defects of a band round a body and the turning of its two borders sum to
// nothing, however coarse the net (Gauss and Bonnet: a band has no Euler
// characteristic). With finer nets the defects near the curvature of the band:
// since a parallel of radius r turns by 2 pi dr/ds, and dr/ds is minus the axial part
// of the normal, that is 2 pi times the difference of that part between the borders
// (derived; on a sphere, of the sines of the latitudes).
func TestDefectsOfBands(t *testing.T) {
	for _, c := range []struct {
		name string
		s    Surface
		u    [2]float64
	}{
		{"sphere", barrel{30, 30, 29}, [2]float64{-10, 24}},
		{"spheroid", spheroid{30, 90}, [2]float64{-30, 70}},
		{"barrel", barrel{30, 200, 80}, [2]float64{-60, 70}},
		{"outer torus", barrel{40, 10, 9.5}, [2]float64{-7, 7}}, // 0.7 of its 4 pi
		{"inner torus", waist{20, 10, 9.5}, [2]float64{-7, 7}},  // 0.7 of its -4 pi
		{"cone", cone30to10(t), [2]float64{10, 110}},
	} {
		last := 0.0
		for level := 0; level < 4; level++ {
			n := newNet(c.s, window{c.u[0], c.u[1], -math.Pi, math.Pi}, 12, fineness{level, level})
			inside, border := defects(n)
			require.InDelta(t, 0, inside+border, 1e-8, c.name)
			// nodes inside stand for the skin up to half a cell short of the borders
			axial := func(i, j int) float64 {
				u := UV{(n.us[i] + n.us[j]) / 2, 1}
				_, m := c.s.At(u, u)
				return m.X
			}
			want := 2 * math.Pi * (axial(n.nu()-2, n.nu()-1) - axial(0, 1))
			off := math.Abs(inside - want)
			t.Logf("%s: %d nodes, %.6f of %.6f, off %.2g, order %.2f", c.name, n.nodes(), inside, want, off, math.Log2(last/off))
			if level == 3 && off > 1e-7 {
				require.Greater(t, math.Log2(last/off), 1.8, "%s: order", c.name)
			}
			if level == 3 {
				require.InDelta(t, want, inside, 2e-3*math.Abs(want)+1e-7, c.name)
			}
			last = off
		}
	}
}
