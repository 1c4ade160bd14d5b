package skin

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// CircleSection is a circle about BL 0 and WL. Landmarks: crown, beam, keel.
type CircleSection struct {
	Radius g.Length
	WL     g.Waterline // of the centre
}

// EllipseSection is an ellipse about BL 0 and WL. Landmarks: crown, beam, keel.
type EllipseSection struct {
	HalfBreadth, HalfHeight g.Length
	WL                      g.Waterline // of the centre
}

// SuperellipseSection is the curve |BL/HalfBreadth|^n + |(z-WL)/HalfHeight|^n = 1
// (Lamé 1818), n >= 1: 1 a rhombus, 2 an ellipse, above that ever squarer.
// Landmarks: crown, beam, keel; grid lines unless n is 2, 4, 6 and so on, since
// for other n its curvature is not smooth there.
type SuperellipseSection struct {
	HalfBreadth, HalfHeight g.Length
	WL                      g.Waterline // of the centre
	Exponent                float64
}

// RoundedRectangleSection has straight sides, crown and keel, joined by arcs.
// Landmarks: crown, top tangent, upper side tangent, lower side tangent, bottom
// tangent, keel; the tangent points are grid lines.
type RoundedRectangleSection struct {
	HalfBreadth  g.Length
	Top, Bottom  g.Waterline
	CornerRadius g.Length
}

// PolylineSection is straight between points of the right half, crown to keel.
// Every point is a landmark and a corner.
type PolylineSection struct{ Points []SectionPoint }

// SectionPoint is a point of the right half of a section, BL >= 0.
type SectionPoint struct {
	BL g.ButtLine
	WL g.Waterline
	// Name makes the point a landmark: the same line in every section.
	Name string
	// Corner makes the point a landmark over which nothing is smoothed.
	Corner bool
}

func (p SectionPoint) plane() g.Point { return g.Point{X: p.BL.Inches(), Y: p.WL.Inches()} }

func (c CircleSection) half() (halfSection, error) {
	if !(c.Radius > 0) {
		return halfSection{}, g.Errorf("radius %v: it must be above 0", c.Radius)
	}
	arc := func(a float64) girthPiece {
		return arcPiece{g.Point{Y: c.WL.Inches()}, float64(c.Radius), a, math.Pi / 2}
	}
	return oval(arc(0), arc(math.Pi/2), true), nil
}

func (c EllipseSection) half() (halfSection, error) {
	return SuperellipseSection{c.HalfBreadth, c.HalfHeight, c.WL, 2}.half()
}

func (c SuperellipseSection) half() (halfSection, error) {
	a, b, n := float64(c.HalfBreadth), float64(c.HalfHeight), c.Exponent
	if !(a > 0) || !(b > 0) {
		return halfSection{}, g.Errorf("half-breadth %v and half-height %v must be above 0", c.HalfBreadth, c.HalfHeight)
	}
	if !(n >= 1) || n > 100 {
		return halfSection{}, fmt.Errorf("superellipse exponent %s must lie between 1 and 100: 2 is an ellipse, 2.5 a little squarer", g.FormatNumber(n, 3))
	}
	wl := c.WL.Inches()
	var arcs []smoothArc
	if n == 2 {
		arcs = []smoothArc{{func(q float64) (g.Point, g.Vec) {
			sin, cos := same.Sincos(q)
			return g.Point{X: a * sin, Y: wl + float64(b*cos)}, g.Vec{X: a * cos, Y: -b * sin}
		}, 0, math.Pi / 2}}
	} else {
		// by breadth as far as the corner, by height after it: neither half has
		// an infinite slope
		corner := same.Pow(2, -1/n)
		arcs = []smoothArc{{func(q float64) (g.Point, g.Vec) {
			f, d := lame(q, n)
			return g.Point{X: a * q, Y: wl + float64(b*f)}, g.Vec{X: a, Y: b * d}
		}, 0, corner}, {func(q float64) (g.Point, g.Vec) {
			f, d := lame(-q, n)
			return g.Point{X: a * f, Y: wl - float64(b*q)}, g.Vec{X: -a * d, Y: -b}
		}, -corner, 0}}
	}
	quarter := newGirthTable(arcs)
	return oval(quarter, mirroredPiece{quarter, wl}, math.Mod(n, 2) == 0), nil
}

// lame returns (1 - |x|^n)^(1/n) and its derivative.
func lame(x, n float64) (f, d float64) {
	x1 := same.Pow(math.Abs(x), n-1)
	rest := 1 - float64(x1*math.Abs(x))
	f = same.Pow(rest, 1/n)
	return f, -math.Copysign(x1*f/rest, x)
}

func oval(upper, lower girthPiece, smooth bool) halfSection {
	return halfSection{[]girthPiece{upper, lower}, []string{"crown", "beam", "keel"}, []bool{smooth, smooth, smooth}}
}

func (c RoundedRectangleSection) half() (halfSection, error) {
	b, r, top, bottom := float64(c.HalfBreadth), float64(c.CornerRadius), c.Top.Inches(), c.Bottom.Inches()
	if !(b > 0) || !(top > bottom) {
		return halfSection{}, g.Errorf("half-breadth %v must be above 0, and the top WL %v above the bottom WL %v", c.HalfBreadth, c.Top, c.Bottom)
	}
	if !(r > 0) {
		return halfSection{}, g.Errorf("corner radius %v must be above 0: give sharp corners as a polyline", c.CornerRadius)
	}
	if limit := min(b, (top-bottom)/2); r >= limit {
		return halfSection{}, g.Errorf("corner radius %v is too large: it must be below %v, half the breadth and half the height", c.CornerRadius, g.Length(limit))
	}
	at := func(x, y float64) g.Point { return g.Point{X: x, Y: y} }
	return halfSection{
		pieces: []girthPiece{
			linePiece{at(0, top), at(b-r, top)},
			arcPiece{at(b-r, top-r), r, 0, math.Pi / 2},
			linePiece{at(b, top-r), at(b, bottom+r)},
			arcPiece{at(b-r, bottom+r), r, math.Pi / 2, math.Pi / 2},
			linePiece{at(b-r, bottom), at(0, bottom)},
		},
		names:  []string{"crown", "top tangent", "upper side tangent", "lower side tangent", "bottom tangent", "keel"},
		smooth: []bool{true, false, false, false, false, true},
	}, nil
}

func (c PolylineSection) half() (halfSection, error) {
	if err := checkHalf(c.Points); err != nil {
		return halfSection{}, err
	}
	h := halfSection{}
	last := len(c.Points) - 1
	for i, p := range c.Points {
		h.names = append(h.names, landmarkName(p, i, last))
		h.smooth = append(h.smooth, false)
		if i > 0 {
			h.pieces = append(h.pieces, linePiece{c.Points[i-1].plane(), p.plane()})
		}
	}
	h.smooth[0] = c.Points[0].WL == c.Points[1].WL
	h.smooth[last] = c.Points[last].WL == c.Points[last-1].WL
	return h, nil
}

// landmarkName returns a point's name; the ends are crown and keel.
func landmarkName(p SectionPoint, i, last int) string {
	switch i {
	case 0:
		return "crown"
	case last:
		return "keel"
	}
	return p.Name
}

// checkHalf refuses points that are no right half from crown to keel.
func checkHalf(points []SectionPoint) error {
	n := len(points)
	if n < 2 {
		return fmt.Errorf("a section needs two points or more from crown to keel, got %d", n)
	}
	for i, p := range points {
		if !(p.BL >= 0) || math.IsInf(float64(p.BL), 0) || math.IsNaN(float64(p.WL)) || math.IsInf(float64(p.WL), 0) {
			return g.Errorf("point %d (BL %v WL %v) is not on the right side: give the right half, BL 0 or more", i+1, p.BL, p.WL)
		}
	}
	for _, i := range []int{0, n - 1} {
		if points[i].BL != 0 {
			return g.Errorf("point %d has BL %v: the first point (crown) and the last (keel) must lie on BL 0", i+1, points[i].BL)
		}
	}
	if points[0].WL <= points[n-1].WL {
		return g.Errorf("the points run from WL %v to WL %v: give them from the crown down to the keel", points[0].WL, points[n-1].WL)
	}
	for i := 1; i < n; i++ {
		a, b := points[i-1].plane(), points[i].plane()
		if a.Dist(b) < g.SnapTolerance {
			return g.Errorf("points %d and %d are the same (BL %v WL %v): take one out", i, i+1, points[i].BL, points[i].WL)
		}
		if i > 1 {
			before := a.Sub(points[i-2].plane())
			if after := b.Sub(a); before.Dot(after) < -0.9998*before.Norm()*after.Norm() { // within 1.1 degrees
				return g.Errorf("the outline turns back on itself at point %d (BL %v WL %v): the order of the points is wrong there", i, points[i-1].BL, points[i-1].WL)
			}
		}
	}
	return nil
}
