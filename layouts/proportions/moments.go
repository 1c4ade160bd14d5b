package proportions

import (
	"math"

	"maskloft/geometry/same"
)

// moments holds prefix sums over a row of nodes, so that the best line and the
// best circle of any stretch cost the same few operations. Coordinates are taken
// from the row's middle and in its extent, which keeps the sums well scaled.
type moments struct {
	sums []sums // sums[i] is over the first i nodes
}

type sums struct{ n, x, y, xx, xy, yy, xz, yz, zz float64 }

func newMoments(xs, ys []float64) moments {
	m := moments{sums: make([]sums, len(xs)+1)}
	for i, x := range xs {
		y, s := ys[i], m.sums[i]
		z := float64(x*x) + float64(y*y)
		m.sums[i+1] = sums{s.n + 1, s.x + x, s.y + y, s.xx + float64(x*x), s.xy + float64(x*y), s.yy + float64(y*y), s.xz + float64(x*z), s.yz + float64(y*z), s.zz + float64(z*z)}
	}
	return m
}

// stretch is nodes i to j, both taken, about their own mean.
type stretch struct{ n, mx, my, xx, xy, yy, xz, yz, zz float64 }

func (m moments) stretch(i, j int) stretch {
	a, b := m.sums[i], m.sums[j+1]
	n := b.n - a.n
	x, y := (b.x-a.x)/n, (b.y-a.y)/n
	xx, xy, yy := b.xx-a.xx, b.xy-a.xy, b.yy-a.yy
	xz, yz, zz := b.xz-a.xz, b.yz-a.yz, b.zz-a.zz
	cxx, cxy, cyy := xx-float64(n*x*x), xy-float64(n*x*y), yy-float64(n*y*y)
	// z about the mean: with u = x - mx, v = y - my, w = u^2 + v^2 = z - 2 mx x
	// - 2 my y + q, q = mx^2 + my^2.
	q := float64(x*x) + float64(y*y)
	sz := xx + yy
	sw := sz - float64(n*q)
	uw := xz - float64(2*x*xx) - float64(2*y*xy) + float64(q*n*x) - float64(x*sw)
	vw := yz - float64(2*x*xy) - float64(2*y*yy) + float64(q*n*y) - float64(y*sw)
	ww := zz + float64(4*x*x*xx) + float64(4*y*y*yy) + float64(n*q*q) + float64(8*x*y*xy) - float64(4*x*xz) - float64(4*y*yz) + float64(2*q*sz) - float64(4*q*n*q)
	return stretch{n, x, y, cxx, cxy, cyy, uw, vw, ww - sw*sw/n}
}

// line returns the sum of squared distances to the best line (the lesser
// eigenvalue of the scatter: total least squares).
func (s stretch) line() float64 {
	h := same.Hypot((s.xx-s.yy)/2, s.xy)
	return math.Max(0, (s.xx+s.yy)/2-h)
}

// circle returns the sum of squared distances to the circle of the algebraic fit
// (I. Kasa, IEEE Trans. Instrum. Meas. 25, 1976, from memory; derived anew: least
// squares of u^2 + v^2 - a u - b v - c), and its radius; false where the nodes lie
// on a line.
func (s stretch) circle() (ss, radius float64, ok bool) {
	det := float64(s.xx*s.yy) - float64(s.xy*s.xy)
	if s.n < 4 || det <= 1e-12*(s.xx+s.yy)*(s.xx+s.yy) {
		return 0, 0, false
	}
	a := (float64(s.xz*s.yy) - float64(s.yz*s.xy)) / det
	b := (float64(s.yz*s.xx) - float64(s.xz*s.xy)) / det
	r2 := (float64(a*a)+float64(b*b))/4 + (s.xx+s.yy)/s.n
	rest := s.zz - float64(a*s.xz) - float64(b*s.yz)
	// w - r^2 is 2 r times the distance, to first order.
	return math.Max(0, rest) / (4 * r2), math.Sqrt(r2), true
}
