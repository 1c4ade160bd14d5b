package geometry

import "math"

// Sample is a point of a contour with the segment and the parameter it came from.
type Sample struct {
	Point
	Segment int
	T       float64
}

// Sampled cuts c into chords that lie within tolerance of the curve. Every node
// is a sample. The start of each chord is listed; the end of a closed contour is
// its first sample and is not repeated, the end of an open one is.
//
// A cubic is cut into n equal parts of its parameter with n from the bound on
// its second derivative, n = sqrt(M / 8 tolerance), M = 6 max |second difference
// of the control points| (Wang's formula, Graphics Gems style bound; derived),
// so the cost grows with tolerance^-1/2.
func (c Contour) Sampled(tolerance float64) []Sample {
	out := make([]Sample, 0, len(c.Segments)+1)
	c.sample(tolerance, func(s Sample) { out = append(out, s) })
	return out
}

// sample calls put for the points of [Contour.Sampled].
func (c Contour) sample(tolerance float64, put func(Sample)) {
	for i, s := range c.Segments {
		if s.Kind == Line {
			put(Sample{c.From(i), i, 0})
			continue
		}
		n := cubicChords(c.From(i), s, tolerance)
		for k := 0; k < n; k++ {
			t := float64(k) / float64(n)
			put(Sample{c.At(i, t), i, t})
		}
	}
	if !c.Closed() {
		put(Sample{c.End(), len(c.Segments) - 1, 1})
	}
}

func cubicChords(a Point, s Segment, tolerance float64) int {
	d1 := a.Sub(s.C1).Add(s.C2.Sub(s.C1)).Norm()
	d2 := s.C1.Sub(s.C2).Add(s.End.Sub(s.C2)).Norm()
	m := 6 * max(d1, d2)
	return int(max(1, math.Ceil(math.Sqrt(m/(8*tolerance)))))
}

// Flattened returns the points of [Contour.Sampled].
func (c Contour) Flattened(tolerance float64) []Point {
	pts := make([]Point, 0, len(c.Segments)+1)
	c.sample(tolerance, func(s Sample) { pts = append(pts, s.Point) })
	return pts
}
