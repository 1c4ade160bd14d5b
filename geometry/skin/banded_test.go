package skin

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// drawn is a random positive definite matrix and a right-hand side.
func drawn(size, k int) (h, rhs []float64) {
	draw := rand.New(rand.NewPCG(1, uint64(size)))
	h, rhs = make([]float64, size*(k+1)), make([]float64, size)
	for i := range h {
		h[i] = draw.NormFloat64() / float64(k+1)
	}
	for i := range rhs {
		h[i*(k+1)], rhs[i] = 4, draw.NormFloat64()
	}
	return h, rhs
}

// The factor and the solution are those of LAPACK's routines but for rounding, with bands
// narrower and wider than what is taken at once, and sizes that it does not divide.
func TestBandedAsLAPACK(t *testing.T) {
	for _, c := range [][2]int{{1, 0}, {2, 1}, {5, 0}, {7, 2}, {9, 3}, {10, 4}, {11, 9}, {30, 5}, {203, 17}, {400, 61}} {
		size, k := c[0], c[1]
		h, x := drawn(size, k)
		want, y := append([]float64{}, h...), append([]float64{}, x...)
		chol, ok := lapack64.Pbtrf(blas64.SymmetricBand{Uplo: blas.Upper, N: size, K: k, Stride: k + 1, Data: want})
		require.True(t, ok)
		lapack64.Pbtrs(chol, blas64.General{Rows: size, Cols: 1, Stride: 1, Data: y})
		m := banded{h, size, k}
		require.True(t, m.factorise())
		for i := range size {
			assert.InDeltaSlice(t, want[i*(k+1):][:min(k, size-1-i)+1], m.row(i)[:min(k, size-1-i)+1], 1e-13, "%d wide %d, row %d", size, k, i)
		}
		m.solve(x)
		assert.InDeltaSlice(t, y, x, 1e-13, "%d wide %d", size, k)
	}
}

func TestBandedNotDefinite(t *testing.T) {
	for _, bad := range []float64{0, -1, math.NaN()} {
		h, _ := drawn(11, 3)
		h[9*4] = bad
		assert.False(t, banded{h, 11, 3}.factorise(), "%v", bad)
	}
}

// The factorisation and solution of a step of a net of 2,000 nodes in a square: 4,000
// unknowns, 277 above the diagonal. .ci/bench ratios holds it against SciPy.
func BenchmarkBanded_4000x277(b *testing.B) {
	const size, k = 4000, 277
	for b.Loop() {
		b.StopTimer()
		h, rhs := drawn(size, k)
		b.StartTimer()
		m := banded{h, size, k}
		if !m.factorise() {
			b.Fatal("not positive definite")
		}
		m.solve(rhs)
	}
}
