package skin

import (
	"math"

	g "maskloft/geometry"
)

// FairingLaw says how the lines that join the landmarks run from section to
// section. BL and WL follow the law, each as a function of the station.
type FairingLaw int

const (
	// Ruled lines are straight between sections: sheet metal between frames.
	// They pair equal girth fractions, so that between unlike sections the skin
	// is twisted and cannot be unrolled; its strain says so.
	Ruled FairingLaw = iota
	// Monotone lines have a continuous slope, and landmark lines nowhere turn back:
	// between two sections their BL and WL stay between those of the sections.
	// Lines between landmarks follow their neighbours.
	Monotone
	// Natural lines are cubic splines with continuous curvature, none at the ends
	// of a run. They may swing beyond the sections where these change abruptly.
	Natural
	// Clamped lines are cubic splines with continuous curvature whose slope at
	// the ends of a run is that of the parabola through the last three sections.
	Clamped
)

// Fairing is a law along the body and the frames where slopes may jump. Frames
// cut the body into runs, each faired by itself; a run of two sections is ruled.
type Fairing struct {
	Law         FairingLaw
	BreakFrames []g.Station // each the station of a section
}

// fairingRun is a run of sections first to last under one law.
type fairingRun struct {
	law         FairingLaw
	first, last int
	u           []float64 // stations of the run
	// of a cubic: second derivative at section k for a unit at section j
	bend [][]float64
	// of a monotone run: part of the bay before in the slope at section k, landmark
	// by landmark, of BL (X) and WL (Y)
	before [][]g.Vec
}

// newFairingRun returns the run of sections first to last; halves are all sections.
func newFairingRun(law FairingLaw, u []float64, halves []halfSection, first, last int) *fairingRun {
	r := &fairingRun{law: law, first: first, last: last, u: u[first : last+1]}
	n := len(r.u)
	switch {
	case n == 2 || law == Ruled:
		r.law = Ruled
		return r
	case law == Monotone:
		r.weigh(halves)
		return r
	}
	r.bend = make([][]float64, n)
	for k := range r.bend {
		r.bend[k] = make([]float64, n)
	}
	for j := 0; j < n; j++ {
		unit := make([]float64, n)
		unit[j] = 1
		var a, b splineEnd
		if r.law == Clamped {
			a = splineEnd{true, parabolaSlope(r.u[0], r.u[1], r.u[2], unit[0], unit[1], unit[2])}
			b = splineEnd{true, parabolaSlope(r.u[n-1], r.u[n-2], r.u[n-3], unit[n-1], unit[n-2], unit[n-3])}
		}
		for k, m := range secondDerivatives(r.u, unit, a, b) {
			r.bend[k][j] = m
		}
	}
	return r
}

// parabolaSlope returns the slope at x0 of the parabola through three points.
func parabolaSlope(x0, x1, x2, y0, y1, y2 float64) float64 {
	d0, d1 := (y1-y0)/(x1-x0), (y2-y1)/(x2-x1)
	return d0 - float64((d1-d0)/(x2-x0)*(x1-x0))
}

// loft is a point (BL, WL) of a skin and its derivatives by U and by V.
type loft struct {
	p      g.Point
	du, dv g.Vec
}

// at returns the skin on a line of constant V, at station u in the bay between sections
// k and k+1.
func (r *fairingRun) at(line *fairedLine, k int, u float64) loft {
	i := k - r.first
	h := r.u[i+1] - r.u[i]
	b := (u - r.u[i]) / h
	a := 1 - b
	if r.law == Monotone {
		return r.monotone(line, i, b)
	}
	var l loft
	add := func(section int, w, dw float64) {
		p, d := line.section(section)
		l.p.X, l.p.Y = l.p.X+float64(w*p.X), l.p.Y+float64(w*p.Y)
		l.du.X, l.du.Y = l.du.X+float64(dw*p.X), l.du.Y+float64(dw*p.Y)
		l.dv.X, l.dv.Y = l.dv.X+float64(w*d.X), l.dv.Y+float64(w*d.Y)
	}
	if r.law == Ruled {
		add(k, a, -1/h)
		add(k+1, b, 1/h)
		return l
	}
	wa, wb := a*(float64(a*a)-1)*h*h/6, b*(float64(b*b)-1)*h*h/6
	da, db := (1-float64(3*a*a))*h/6, (float64(3*b*b)-1)*h/6
	for j := range r.u {
		ma, mb := r.bend[i][j], r.bend[i+1][j]
		w, dw := float64(wa*ma)+float64(wb*mb), float64(da*ma)+float64(db*mb)
		switch j {
		case i:
			w, dw = w+a, dw-1/h
		case i + 1:
			w, dw = w+b, dw+1/h
		default:
			if (math.Abs(ma)+math.Abs(mb))*h*h < 1e-17 {
				continue // far off: its part is below rounding
			}
		}
		add(r.first+j, w, dw)
	}
	return l
}
