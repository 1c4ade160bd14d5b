package geometry

import (
	"math"
)

// FitReport says how a fitted outline came out.
type FitReport struct {
	Nodes        int     // segments
	MaxDeviation float64 // the largest distance measured between the fit and what it stands for, either way, inches
}

// fitter fits one smooth chain of samples.
type fitter struct {
	pts    []Point
	tan    []Vec     // unit tangents
	checks [][]Point // points of the true curve between sample k and k+1; may be nil
	s      []float64 // length along the chords
}

// fit returns the segments of the chain and the largest deviation measured.
func (f *fitter) fit(tolerance float64) ([]Segment, float64) {
	if len(f.pts) < 2 {
		return nil, 0
	}
	f.s = make([]float64, len(f.pts))
	for i := 1; i < len(f.pts); i++ {
		f.s[i] = f.s[i-1] + f.pts[i].Dist(f.pts[i-1])
	}
	last := len(f.pts) - 1
	if end := f.pts[last]; end != f.pts[0] {
		if dev := f.lineDeviation(); dev <= tolerance {
			return []Segment{{Kind: Line, End: end}}, dev
		}
	}
	within := 0.95 * tolerance
	var segments []Segment
	var dev float64
	for range 5 { // the measure is finer than the samples: ask for less until it agrees
		pieces := f.spread(within)
		segments, dev = segments[:0], 0
		for _, p := range pieces {
			segments = append(segments, Segment{Cubic, p.k.c1, p.k.c2, p.k.b})
			dev = max(dev, f.measure(p))
		}
		if dev <= tolerance {
			break
		}
		within *= 0.7
	}
	return segments, dev
}

func (f *fitter) lineDeviation() float64 {
	a, b := f.pts[0], f.pts[len(f.pts)-1]
	dev := 0.0
	for i, p := range f.pts {
		dev = max(dev, SegmentDistance(p, a, b))
		if i < len(f.checks) {
			for _, q := range f.checks[i] {
				dev = max(dev, SegmentDistance(q, a, b))
			}
		}
	}
	return dev
}

// fitted is a cubic over samples i to j, with the parameter of each.
type fitted struct {
	k    sourceCurve
	i, j int
	u    []float64
}

// spread returns the cubics of the chain: as few as taking the longest at every
// step gives, then with the tolerance lowered as far as their number allows, so
// that the last is not a stub and the error is spread over all.
func (f *fitter) spread(tolerance float64) []fitted {
	best := f.greedy(tolerance, math.MaxInt)
	if len(best) == 1 {
		return best
	}
	lo, hi := 0.0, tolerance
	for range 5 {
		mid := (lo + hi) / 2
		if g := f.greedy(mid, len(best)); g != nil {
			best, hi = g, mid
		} else {
			lo = mid
		}
	}
	return best
}

// greedy covers the chain with cubics, each over as many samples as it can; nil
// when more than limit are needed.
func (f *fitter) greedy(tolerance float64, limit int) []fitted {
	var out []fitted
	last := len(f.pts) - 1
	step := last
	for i := 0; i < last; {
		if len(out) == limit {
			return nil
		}
		// The longest reach lies between good (fits) and bad (does not).
		good, bad := i, last+1
		var found fitted
		for j := min(i+step, last); bad-good > 1; j = (good + bad) / 2 {
			if j == good {
				break
			}
			if k, ok := f.cubic(i, j, tolerance); ok {
				if good, found = j, k; good == last {
					break
				}
				if good-i < step/2 || bad <= last {
					continue
				}
				// Nothing failed yet: look twice as far.
				if j2 := min(i+2*(good-i), last); j2 > good {
					if k, ok := f.cubic(i, j2, tolerance); ok {
						good, found = j2, k
					} else {
						bad = j2
					}
				}
				continue
			}
			bad = j
		}
		if good == i { // neighbours: the cubic through them by their tangents
			good = i + 1
			found, _ = f.cubic(i, good, math.Inf(1))
		}
		step = good - i
		out = append(out, found)
		i = good
	}
	return out
}

// cubic fits one cubic to samples i to j with the tangents at the two, and tells
// whether all samples lie within tolerance. The two lengths of handle are found
// by Gauss-Newton on the distances across the curve, the parameters following
// by Newton steps (the scheme of P. J. Schneider, Graphics Gems, 1990, from
// memory, with the distance taken along the normal, which converges faster).
func (f *fitter) cubic(i, j int, tolerance float64) (fitted, bool) {
	r := fitted{i: i, j: j, u: make([]float64, j-i+1)}
	a, b, ta, tb := f.pts[i], f.pts[j], f.tan[i], f.tan[j]
	length := f.s[j] - f.s[i]
	for m := range r.u {
		r.u[m] = (f.s[i+m] - f.s[i]) / length
	}
	p, q := length/3, length/3
	// On a stretch nearly straight the handles are all but free: they stand on a grid, so
	// that the last digits of the samples do not show in them.
	grid := length / (1 << 17)
	handles := func() {
		p, q := OnGrid(p, grid), OnGrid(q, grid)
		r.k = sourceCurve{kind: Cubic, a: a, c1: a.Add(ta.Scale(p)), c2: b.Add(tb.Scale(-q)), b: b}
	}
	if handles(); j-i < 2 {
		return r, true
	}
	stride := max(1, (j-i)/40)
	was := math.Inf(1)
	for round := range 12 {
		if round > 0 && stride > 1 && was <= tolerance {
			stride = 1 // good on a few samples: look at all
		}
		var c11, c12, c22, x1, x2, worst float64
		for m := stride; m < len(r.u)-1; m += stride {
			s := f.pts[i+m]
			r.u[m] = step(&r.k, s, step(&r.k, s, r.u[m]))
			u := r.u[m]
			v, off := 1-u, s.Sub(r.k.at(u))
			normal := r.k.velocity(u).Unit().Perp()
			worst = max(worst, off.Norm())
			j1, j2, e := 3*v*v*u*ta.Dot(normal), -3*v*u*u*tb.Dot(normal), off.Dot(normal)
			c11, c12, c22 = c11+float64(j1*j1), c12+float64(j1*j2), c22+float64(j2*j2)
			x1, x2 = x1+float64(j1*e), x2+float64(j2*e)
		}
		if worst <= tolerance && stride == 1 {
			return r, true
		}
		if round >= 4 && worst > tolerance && worst > 0.9*was {
			return r, false
		}
		was = worst
		// A little damping: on a stretch nearly straight the handles are free.
		c11, c22 = float64(c11*(1+1e-9))+1e-15, float64(c22*(1+1e-9))+1e-15
		if det := float64(c11*c22) - float64(c12*c12); det > 0 {
			p += (float64(x1*c22) - float64(x2*c12)) / det
			q += (float64(c11*x2) - float64(c12*x1)) / det
		}
		p = max(0.02*length, min(1.5*length, p))
		q = max(0.02*length, min(1.5*length, q))
		handles()
	}
	return r, false
}

// step is one Newton step of the parameter towards the point nearest to q.
func step(k *sourceCurve, q Point, t float64) float64 {
	r, v := k.at(t).Sub(q), k.velocity(t)
	g, h := r.Dot(v), v.Dot(v)+r.Dot(k.acceleration(t))
	if h <= 0 {
		return t
	}
	return max(0, min(1, t-g/h))
}

// measure returns the largest distance between a fitted piece and its stretch of
// the chain: from the samples and the points between them to the piece, and from
// the piece to the chain.
func (f *fitter) measure(p fitted) float64 {
	dev := 0.0
	chain, us := []Point{f.pts[p.i]}, []float64{0}
	see := func(q Point, u float64) {
		u = p.k.project(q, u)
		dev = max(dev, p.k.at(u).Dist(q))
		chain, us = append(chain, q), append(us, max(u, us[len(us)-1]))
	}
	for m := p.i; m < p.j; m++ {
		u0, u1 := p.u[m-p.i], p.u[m-p.i+1]
		if m < len(f.checks) {
			for n, q := range f.checks[m] {
				see(q, u0+float64(float64(n+1)/float64(len(f.checks[m])+1)*(u1-u0)))
			}
		}
		see(f.pts[m+1], u1)
	}
	us[len(us)-1] = 1
	for i := 1; i < len(chain); i++ { // and back, at thirds of every chord
		for _, x := range []float64{1.0 / 3, 2.0 / 3} {
			q := p.k.at(us[i-1] + float64(x*(us[i]-us[i-1])))
			best := math.Inf(1)
			for j := max(1, i-2); j < min(len(chain), i+3); j++ {
				best = min(best, SegmentDistance(q, chain[j-1], chain[j]))
			}
			dev = max(dev, best)
		}
	}
	return dev
}
