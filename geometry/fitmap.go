package geometry

import (
	"fmt"
	"math"
)

// sharpest is the angle, radians, above which two tangents at a node make a
// corner, which is kept: 0.1°, well above the error of a tangent taken from a
// map and too little to be seen on film.
const sharpest = 0.002

// FitCurve fits cubics, or one line, to the smooth curve f over [t0, t1]: an
// open contour within tolerance of it, tangent-continuous, from f(t0) to f(t1)
// exactly. The deviation is measured at points between those fitted.
func FitCurve(f func(t float64) Point, t0, t1 float64, tolerance float64) (Contour, FitReport, error) {
	g := func(t float64) (Point, error) { return f(t0 + float64(t*(t1-t0))), nil }
	chain := &fitter{}
	if err := chain.sample(g, tolerance); err != nil {
		return Contour{}, FitReport{}, err
	}
	segments, dev := chain.fit(tolerance)
	c := Contour{Start: chain.pts[0], Segments: segments}
	if dev > tolerance {
		return c, FitReport{len(segments), dev}, Errorf("curve from %v, %v: the fit leaves it by %v, limit %v", Length(c.Start.X), Length(c.Start.Y), Length(dev).Rounded(6), Length(tolerance).Rounded(6))
	}
	return c, FitReport{len(segments), dev}, nil
}

// FitMap returns the contour c carried through the map m, fitted with lines and
// cubics within tolerance of the true image. The map is smooth inside every
// segment (cut the contour with [Contour.SplitAt] where it is not). A node stays
// where the image has a corner or a straight segment meets a curved one; nodes
// between are placed anew, tangent-continuous. A straight segment whose image is
// straight within tolerance stays one line. Errors are those of m, with the
// segment named, and an image that does not grow smooth as it is cut finer.
func FitMap(c Contour, m func(Point) (Point, error), tolerance float64) (Contour, FitReport, error) {
	n := len(c.Segments)
	parts := make([]*fitter, n)
	for i := range c.Segments {
		f := &fitter{}
		if err := f.sample(func(t float64) (Point, error) { return m(c.At(i, t)) }, tolerance); err != nil {
			return Contour{}, FitReport{}, fmt.Errorf("segment %d: %w", i+1, err)
		}
		if i > 0 { // one node has one image
			f.pts[0] = parts[i-1].end()
		}
		parts[i] = f
	}
	if n == 0 {
		start, err := m(c.Start)
		return Contour{Start: start}, FitReport{}, err
	}
	if c.Closed() {
		last := parts[n-1]
		last.pts[len(last.pts)-1] = parts[0].pts[0]
	}
	// breaks[i] tells whether the node before segment i stays.
	breaks := make([]bool, n)
	first := -1
	for i := range breaks {
		prev := parts[(i+n-1)%n]
		out, in := prev.tan[len(prev.tan)-1], parts[i].tan[0]
		breaks[i] = math.Abs(out.Cross(in)) > sharpest || out.Dot(in) < 0 ||
			c.Segments[i].Kind != c.Segments[(i+n-1)%n].Kind || (i == 0 && !c.Closed())
		if breaks[i] && first < 0 {
			first = i
		}
	}
	if first < 0 {
		first = 0
	}
	out, report := Contour{Start: parts[first].pts[0]}, FitReport{}
	for k := 0; k < n; {
		chain := *parts[(first+k)%n]
		for k++; k < n && !breaks[(first+k)%n]; k++ {
			chain.join(parts[(first+k)%n])
		}
		segments, dev := chain.fit(tolerance)
		out.Segments = append(out.Segments, segments...)
		report.MaxDeviation = max(report.MaxDeviation, dev)
	}
	report.Nodes = len(out.Segments)
	if report.MaxDeviation > tolerance {
		return out, report, Errorf("contour from %v, %v: the fit leaves the image by %v, limit %v: give a larger tolerance", Length(out.Start.X), Length(out.Start.Y), Length(report.MaxDeviation).Rounded(6), Length(tolerance).Rounded(6))
	}
	return out, report, nil
}

func (f *fitter) end() Point { return f.pts[len(f.pts)-1] }

// join appends the samples of g, which starts where f ends.
func (f *fitter) join(g *fitter) {
	f.pts = append(f.pts[:len(f.pts):len(f.pts)], g.pts[1:]...)
	f.tan = append(f.tan[:len(f.tan):len(f.tan)], g.tan[1:]...)
	f.checks = append(f.checks[:len(f.checks):len(f.checks)], g.checks...)
}

// sample fills f with samples of g over [0, 1] so close that the curve leaves no
// chord by more than a fifth of tolerance, with tangents from differences of
// second order, and with checks at a quarter and three quarters between samples
// and halfway.
func (f *fitter) sample(g func(float64) (Point, error), tolerance float64) error {
	const (
		leastDepth, mostDepth = 3, 14 // 8 to 16384 samples
		h                     = 1e-3  // of the tangents' differences
	)
	var failed error
	at := func(t float64) Point {
		p, err := g(t)
		if err != nil && failed == nil {
			failed = err
		}
		if err == nil && bad(p) && failed == nil {
			failed = fmt.Errorf("its image is not a finite point")
		}
		return p
	}
	add := func(t float64, p Point) {
		var v Vec
		switch {
		case t < h:
			v = at(t + h).Sub(p).Scale(4).Sub(at(t + 2*h).Sub(p))
		case t > 1-h:
			v = p.Sub(at(t - h)).Scale(4).Sub(p.Sub(at(t - 2*h)))
		default:
			v = at(t + h).Sub(at(t - h))
		}
		if len(f.pts) > 0 && p == f.end() {
			return
		}
		f.pts, f.tan = append(f.pts, p), append(f.tan, v.Unit())
	}
	var walk func(t0, t1 float64, p0, p1 Point, depth int)
	walk = func(t0, t1 float64, p0, p1 Point, depth int) {
		tm := (t0 + t1) / 2
		pm := at(tm)
		if failed != nil {
			return
		}
		// A jump is a chord that one of its halves has to itself.
		jump := min(pm.Dist(p0), pm.Dist(p1)) < 0.02*p0.Dist(p1) && p0.Dist(p1) > tolerance/5
		if off := SegmentDistance(pm, p0, p1); depth < leastDepth || jump || off > tolerance/5 {
			if depth == mostDepth {
				failed = fmt.Errorf("the image jumps or bends sharply near (%.4f, %.4f): split the outline there", pm.X, pm.Y)
				return
			}
			walk(t0, tm, p0, pm, depth+1)
			walk(tm, t1, pm, p1, depth+1)
			return
		}
		n := len(f.pts)
		add(t1, p1)
		if len(f.pts) > n {
			f.checks = append(f.checks, []Point{at(t0 + 0.25*(t1-t0)), pm, at(t0 + float64(0.75*(t1-t0)))})
		}
	}
	p0, p1 := at(0), at(1)
	add(0, p0)
	walk(0, 1, p0, p1, 0)
	if failed == nil && len(f.pts) < 2 {
		failed = fmt.Errorf("its image is a single point (%.4f, %.4f)", p0.X, p0.Y)
	}
	return failed
}
