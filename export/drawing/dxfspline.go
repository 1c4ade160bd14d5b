package drawing

import (
	"errors"
	"math"

	g "maskloft/geometry"
)

// Splines.
const (
	mostDegree   = 11
	splineHalved = 12   // at most so often, of a span that is no cubic
	splineOff    = 1e-6 // of the extent of the control points: how far a cubic may lie off a span
)

// spline is a B-spline, its points with their weights.
type spline struct {
	degree  int
	knots   []float64
	points  []g.Point
	weights []float64 // nil: all alike
}

// splineOf returns a spline as cubics. A span of degree 3 and less with weights alike is
// a cubic, and is returned as that; any other is halved until cubics through its ends,
// with its directions there, lie within splineOff of it.
//
// Errors: numbers that do not fit together; more cubics than most.
func splineOf(e dxfEntity, most int) (g.Contour, error) {
	s := spline{degree: int(e.get(71)), knots: e.all(40), points: e.points(10), weights: e.all(41)}
	n := len(s.points)
	switch {
	case n == 0:
		return g.Contour{}, errors.New("it has no control points: save it with them")
	case s.degree < 1 || s.degree > mostDegree || n <= s.degree || len(s.knots) != n+s.degree+1:
		return g.Contour{}, errors.New("its degree, knots and control points do not fit together")
	case len(s.weights) > 0 && len(s.weights) != n:
		return g.Contour{}, errors.New("it has not as many weights as control points")
	}
	for i := 1; i < len(s.knots); i++ {
		if s.knots[i] < s.knots[i-1] {
			return g.Contour{}, errors.New("its knots do not rise")
		}
	}
	alike := true
	for _, w := range s.weights {
		if !(w > 0) {
			return g.Contour{}, errors.New("a weight is not above 0")
		}
		alike = alike && math.Abs(w-s.weights[0]) < 1e-12*w
	}
	if alike {
		s.weights = nil
	}
	box := g.BoundsOf(s.points...)
	off := splineOff * math.Max(box.Width(), box.Height())
	if s.degree <= 3 && s.weights == nil {
		off = math.Inf(1)
	}
	var b *g.Builder
	for k := s.degree; k < n; k++ {
		from, to := s.knots[k], s.knots[k+1]
		if !(to > from) {
			continue
		}
		if b == nil {
			q, _ := s.at(k, from)
			b = g.MoveTo(q)
		}
		if s.span(b, k, from, to, off, splineHalved); len(b.Open().Segments) > most {
			return g.Contour{}, errTooLarge
		}
	}
	if b == nil {
		return g.Contour{}, errors.New("all its knots are one")
	}
	c := b.Open()
	if m := len(c.Segments); c.Segments[m-1].End.Dist(c.Start) < 1e-9*math.Max(box.Width(), box.Height()) {
		c.Segments[m-1].End = c.Start
	}
	return c, nil
}

// span adds the stretch from u to v of span k.
func (s spline) span(b *g.Builder, k int, u, v, off float64, halves int) {
	p, dp := s.at(k, u)
	q, dq := s.at(k, v)
	c1, c2 := p.Add(dp.Scale((v-u)/3)), q.Add(dq.Scale((u-v)/3))
	if halves > 0 && !math.IsInf(off, 1) {
		c := g.MoveTo(p).CubicTo(c1, c2, q).Open()
		for _, t := range []float64{0.25, 0.5, 0.75} {
			if r, _ := s.at(k, u+float64(t*(v-u))); r.Dist(c.At(0, t)) > off {
				m := u + (v-u)/2
				s.span(b, k, u, m, off, halves-1)
				s.span(b, k, m, v, off, halves-1)
				return
			}
		}
	}
	b.CubicTo(c1, c2, q)
}

// at returns the point of span k at u, and its derivative, by de Boor's algorithm on the
// points times their weights (de Boor, A Practical Guide to Splines, chapter X).
func (s spline) at(k int, u float64) (g.Point, g.Vec) {
	var x, y, w [mostDegree + 1]float64
	d := s.degree
	for i := range d + 1 {
		at := k - d + i
		w[i] = 1
		if s.weights != nil {
			w[i] = s.weights[at]
		}
		x[i], y[i] = s.points[at].X*w[i], s.points[at].Y*w[i]
	}
	var dx, dy, dw float64
	for r := 1; r <= d; r++ {
		if r == d { // the two points left span the direction
			by := float64(d) / (s.knots[k+1] - s.knots[k])
			dx, dy, dw = (x[d]-x[d-1])*by, (y[d]-y[d-1])*by, (w[d]-w[d-1])*by
		}
		for i := d; i >= r; i-- {
			low, high := s.knots[k-d+i], s.knots[k+1+i-r]
			a := (u - low) / (high - low)
			x[i], y[i], w[i] = x[i-1]+float64(a*(x[i]-x[i-1])), y[i-1]+float64(a*(y[i]-y[i-1])), w[i-1]+float64(a*(w[i]-w[i-1]))
		}
	}
	q := g.Point{X: x[d] / w[d], Y: y[d] / w[d]}
	return q, g.Vec{X: (dx - float64(q.X*dw)) / w[d], Y: (dy - float64(q.Y*dw)) / w[d]}
}
