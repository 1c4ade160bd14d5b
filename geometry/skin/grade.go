package skin

import "math"

// turnCell is the most, in radians, that the skin turns across a cell of the first net
// of a flat: cubics then err by about a thousandth of an inch, so that the first halving
// mostly settles it.
const turnCell = 1.0 / 7

// leastCell and widestCell bound the width of a cell of a first net, in inches.
const (
	leastCell  = 0.5
	widestCell = 6.0
)

// grading is how closely grid lines of one direction stand: no further apart along the
// skin than cap inches, and closer where the skin turns, see [turnCell].
type grading struct {
	s      Surface
	cap    float64
	times  float64 // how many times as many cells as that
	alongU bool
}

// graded is a surface that wants more or fewer cells along U and V than its turning
// asks for.
type graded interface{ cells() (u, v float64) }

// gradeSteps is how many pieces of a panel the grading looks at.
const gradeSteps = 16

// lines cuts every piece between neighbouring lines into cells of equal weight, 2^level
// times as many as the grading asks for; panel is the first and last line of the panel of
// each cell.
func (r grading) lines(breaks []float64, across []float64, level, least int) (out []float64, panel [][2]int) {
	out = []float64{breaks[0]}
	for k := 0; k+1 < len(breaks); k++ {
		a, b := breaks[k], breaks[k+1]
		weights := r.weights(a, b, across)
		m := max(least, int(math.Ceil(weights[gradeSteps]-1e-6))) << level
		first := len(out) - 1
		for i, j := 1, 0; i < m; i++ {
			want := weights[gradeSteps] * float64(i) / float64(m)
			for weights[j+1] < want {
				j++
			}
			t := (float64(j) + (want-weights[j])/(weights[j+1]-weights[j])) / gradeSteps
			out = append(out, a+float64((b-a)*t))
		}
		out = append(out, b)
		for range m {
			panel = append(panel, [2]int{first, first + m})
		}
	}
	return out, panel
}

// weights returns how many cells the grading asks for from a to each of the steps to b:
// the most that the skin asks for on a few lines of each panel across.
func (r grading) weights(a, b float64, across []float64) (sums [gradeSteps + 1]float64) {
	at := func(x, y float64) UV {
		if r.alongU {
			return UV{x, y}
		}
		return UV{y, x}
	}
	var most [gradeSteps]float64
	for j := 0; j+1 < len(across); j++ {
		in := at((a+b)/2, (across[j]+across[j+1])/2)
		for _, f := range [3]float64{0, 0.5, 1} {
			y := across[j] + float64(f*(across[j+1]-across[j]))
			p, n := r.s.At(at(a, y), in)
			for i := range most {
				q, m := r.s.At(at(a+(b-a)*float64(i+1)/gradeSteps, y), in)
				d := q.Sub(p).Norm()
				cell := max(d/r.cap, min(turning(n, m)/turnCell, d/leastCell))
				most[i] = max(most[i], cell*r.times)
				p, n = q, m
			}
		}
	}
	even, sum := most[0], 0.0
	for _, w := range most {
		even, sum = max(even, w), sum+w
	}
	for i, w := range most {
		if even*gradeSteps < 1.1*sum {
			w = even // the panel asks for nearly the same everywhere: its cells are alike
		}
		sums[i+1] = sums[i] + w
	}
	return sums
}
