package skin

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// The factorisation and solution of a step of a net of 2,000 nodes in a square: 4,000
// unknowns, 277 above the diagonal. .ci/bench ratios holds it against SciPy.
func BenchmarkBanded_4000x277(b *testing.B) {
	const size, k = 4000, 277
	draw := rand.New(rand.NewPCG(1, 1))
	h, rhs := make([]float64, size*(k+1)), make([]float64, size)
	for b.Loop() {
		b.StopTimer()
		for i := range h {
			h[i] = draw.NormFloat64() / k
		}
		for i := range rhs {
			h[i*(k+1)], rhs[i] = 4, draw.NormFloat64()
		}
		b.StartTimer()
		chol, ok := lapack64.Pbtrf(blas64.SymmetricBand{Uplo: blas.Upper, N: size, K: k, Stride: k + 1, Data: h})
		if !ok {
			b.Fatal("not positive definite")
		}
		lapack64.Pbtrs(chol, blas64.General{Rows: size, Cols: 1, Stride: 1, Data: rhs})
	}
}
