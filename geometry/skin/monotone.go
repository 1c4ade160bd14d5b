package skin

import (
	"math"

	g "maskloft/geometry"
)

// The monotone law gives a landmark line at each section the harmonic mean of the
// slopes d0, d1 of the bays before and behind, or 0 where their signs differ
// (Fritsch and Butland 1980, 1984; from memory). It is never above twice either,
// which keeps the cubic between sections monotone (Fritsch and Carlson 1980).
//
// Written as w d0 + (1-w) d1 with w = |d1|/(|d0|+|d1|) it is both cases at once
// (derived). Between two landmarks w is blended, not computed anew: a mean that
// switches to 0 from line to line would crease the skin along the body. So the
// skin is smooth round the body, and a straight body stays straight.

// weigh computes w at the inner sections of a run for every landmark.
func (r *fairingRun) weigh(halves []halfSection) {
	n := len(halves[0].pieces)
	corner := func(i, k int) g.Point { // landmark k of section i of the run
		h := halves[r.first+i]
		if k == n {
			p, _ := h.pieces[n-1].at(1)
			return p
		}
		p, _ := h.pieces[k].at(0)
		return p
	}
	r.before = make([][]g.Vec, len(r.u))
	for i := 1; i+1 < len(r.u); i++ {
		h0, h1 := r.u[i]-r.u[i-1], r.u[i+1]-r.u[i]
		var dx, dy [2][]float64 // slopes by landmark
		for k := 0; k <= n; k++ {
			d0, d1 := corner(i, k).Sub(corner(i-1, k)), corner(i+1, k).Sub(corner(i, k))
			dx[0], dx[1] = append(dx[0], math.Abs(d0.X/h0)), append(dx[1], math.Abs(d1.X/h1))
			dy[0], dy[1] = append(dy[0], math.Abs(d0.Y/h0)), append(dy[1], math.Abs(d1.Y/h1))
		}
		even := h1 / (h0 + h1) // of the parabola through the three sections
		wx, wy := harmonicParts(dx[0], dx[1], even), harmonicParts(dy[0], dy[1], even)
		for k := range wx {
			r.before[i] = append(r.before[i], g.Vec{X: wx[k], Y: wy[k]})
		}
	}
}

// harmonicParts returns w by landmark from the sizes of the slopes before and
// behind. A line that is level on both sides, as BL at the crown, takes the mean
// of its neighbours that are not; where all are level, w does not matter.
func harmonicParts(d0, d1 []float64, even float64) []float64 {
	most := 0.0
	for k := range d0 {
		most = max(most, d0[k]+d1[k])
	}
	w := make([]float64, len(d0))
	level := func(k int) bool { return d0[k]+d1[k] <= 1e-9*(1+most) }
	for k := range w {
		if !level(k) {
			w[k] = d1[k] / (d0[k] + d1[k])
		}
	}
	for k := range w {
		if !level(k) {
			continue
		}
		sum, count := 0.0, 0.0
		for _, j := range []int{k - 1, k + 1} {
			if j >= 0 && j < len(w) && !level(j) {
				sum, count = sum+w[j], count+1
			}
		}
		if w[k] = even; count > 0 {
			w[k] = sum / count
		}
	}
	return w
}

// valueV is a value and its derivative by V.
type valueV struct{ f, d float64 }

func (a valueV) plus(b valueV, w float64) valueV {
	return valueV{a.f + float64(w*b.f), a.d + float64(w*b.d)}
}
func (a valueV) times(b valueV) valueV  { return valueV{a.f * b.f, float64(a.f*b.d) + float64(a.d*b.f)} }
func (a valueV) scale(w float64) valueV { return valueV{a.f * w, a.d * w} }

// monotone returns the cubic Hermite curve of bay i of the run at fraction b.
func (r *fairingRun) monotone(line *fairedLine, i int, b float64) loft {
	piece, t := line.piece, line.t
	var x, y [4]valueV // sections i-1 to i+2
	var h [3]float64   // bays i-1 to i+1; 0 where there is none
	lo, hi := max(0, i-1), min(len(r.u)-1, i+2)
	for j := lo; j <= hi; j++ {
		p, d := line.section(r.first + j)
		x[j-i+1], y[j-i+1] = valueV{p.X, d.X}, valueV{p.Y, d.Y}
		if j > lo {
			h[j-i] = r.u[j] - r.u[j-1]
		}
	}
	// blended with no slope and no bend at either landmark
	blend := valueV{t * t * t * (10 + float64(t*(float64(6*t)-15))), 30 * t * t * (1 - t) * (1 - t)}
	var wx, wy [2]valueV
	for e := range wx {
		if w := r.before[i+e]; w != nil {
			a, c := w[piece], w[piece+1]
			wx[e], wy[e] = valueV{f: a.X}.plus(blend, c.X-a.X), valueV{f: a.Y}.plus(blend, c.Y-a.Y)
		}
	}
	var l loft
	l.p.X, l.du.X, l.dv.X = hermiteBay(&x, &h, &wx, b)
	l.p.Y, l.du.Y, l.dv.Y = hermiteBay(&y, &h, &wy, b)
	return l
}

// hermiteBay returns value, slope and derivative by V of one coordinate in the
// middle one of three bays of length h, at fraction b; w is the part of the bay
// before at either end. Where an outer bay does not exist (h 0), the line ends
// without curvature: slope (3 d - m)/2, monotone again since m lies between 0
// and 2 d.
func hermiteBay(y *[4]valueV, h *[3]float64, w *[2]valueV, b float64) (f, du, dv float64) {
	slope := func(k int) valueV { return y[k+1].plus(y[k], -1).scale(1 / h[k]) }
	mean := func(d0, d1, w valueV) valueV { return d1.plus(w.times(d0.plus(d1, -1)), 1) }
	d := slope(1)
	m0, m1 := d, d
	if h[0] > 0 {
		m0 = mean(slope(0), d, w[0])
	}
	if h[2] > 0 {
		m1 = mean(d, slope(2), w[1])
	}
	if h[0] == 0 {
		m0 = d.scale(1.5).plus(m1, -0.5)
	}
	if h[2] == 0 {
		m1 = d.scale(1.5).plus(m0, -0.5)
	}
	// y0 + h (b d + a b (a (m0-d) - b (m1-d)))
	a := 1 - b
	e0, e1 := m0.plus(d, -1), m1.plus(d, -1)
	v := y[1].plus(d.scale(b).plus(e0, a*a*b).plus(e1, -a*b*b), h[1])
	du = d.f + float64(e0.f*a*(a-2*b)) + float64(e1.f*b*(b-2*a))
	return v.f, du, v.d
}
