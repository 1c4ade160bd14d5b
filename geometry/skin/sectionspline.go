package skin

import (
	"math"

	g "maskloft/geometry"
)

// SplineSection is a smooth outline through points of the right half, crown to
// keel: cubic in the length along the outline, with continuous curvature, and
// closed over crown and keel as the outline of the whole symmetrical section.
// A point tagged Corner is never smoothed across: there, and at a crown or keel so
// tagged, the outline ends without curvature on either side.
//
// Landmarks: crown, the points with a name or a corner, keel. All but a smooth
// crown and keel are grid lines.
type SplineSection struct{ Points []SectionPoint }

func (c SplineSection) half() (halfSection, error) {
	if err := checkHalf(c.Points); err != nil {
		return halfSection{}, err
	}
	pts, last := c.Points, len(c.Points)-1
	h := halfSection{names: []string{"crown"}, smooth: []bool{!pts[0].Corner}}
	var arcs []smoothArc // since the last landmark
	for from := 0; from < last; {
		to := from + 1
		for to < last && !pts[to].Corner {
			to++
		}
		run, err := splineRun(pts[from:to+1], from == 0 && !pts[0].Corner, to == last && !pts[last].Corner)
		if err != nil {
			return halfSection{}, err
		}
		for i, arc := range run {
			arcs = append(arcs, arc)
			p := pts[from+i+1]
			if from+i+1 < last && p.Name == "" && !p.Corner {
				continue
			}
			h.names = append(h.names, landmarkName(p, from+i+1, last))
			h.smooth = append(h.smooth, from+i+1 == last && !p.Corner)
			h.pieces = append(h.pieces, newGirthTable(arcs))
			arcs = nil
		}
		from = to
	}
	return h, nil
}

// splineRun returns the curves between the points of a run without corners. At
// an end on the plane of symmetry that is no corner, the outline's mirror image
// continues it: no curvature in BL, no slope in WL.
//
// The spline's parameter is brought to the length along it by repetition, first
// by chords; it has settled when no length changes by more than 1e-9 of itself,
// or else is left after 30 rounds: it goes through the points in any case.
func splineRun(pts []SectionPoint, symFirst, symLast bool) ([]smoothArc, error) {
	n := len(pts)
	x, y, s := make([]float64, n), make([]float64, n), make([]float64, n)
	for i, p := range pts {
		x[i], y[i] = p.BL.Inches(), p.WL.Inches()
		if i > 0 {
			s[i] = s[i-1] + p.plane().Dist(pts[i-1].plane())
		}
	}
	var sx, sy cubicSpline
	arcs := make([]smoothArc, n-1)
	for round := 0; round < 30; round++ {
		sx = newCubicSpline(s, x, splineEnd{}, splineEnd{})
		sy = newCubicSpline(s, y, splineEnd{clamped: symFirst}, splineEnd{clamped: symLast})
		next := make([]float64, n)
		moved := 0.0
		for i := range arcs {
			arcs[i] = smoothArc{splineCurve(sx, sy, i), s[i], s[i+1]}
			l := arcs[i].arcLength(s[i], s[i+1])
			moved = max(moved, math.Abs(l/(s[i+1]-s[i])-1))
			next[i+1] = next[i] + l
		}
		if moved < 1e-9 {
			break
		}
		s = next
	}
	for i, arc := range arcs {
		for k := 0; k <= 16; k++ {
			p, _ := arc.f(arc.q0 + (arc.q1-arc.q0)*float64(k)/16)
			if p.X < -1e-9 {
				return nil, g.Errorf("the outline crosses BL 0 between BL %v WL %v and BL %v WL %v: give points nearer together there, or tag a corner", pts[i].BL, pts[i].WL, pts[i+1].BL, pts[i+1].WL)
			}
		}
	}
	return arcs, nil
}

func splineCurve(sx, sy cubicSpline, i int) func(q float64) (g.Point, g.Vec) {
	return func(q float64) (g.Point, g.Vec) {
		x, dx := sx.in(i, q)
		y, dy := sy.in(i, q)
		return g.Point{X: x, Y: y}, g.Vec{X: dx, Y: dy}
	}
}
