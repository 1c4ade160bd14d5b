package skin

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// Profile is the section of a lifting surface, [NACA4] or [Ordinates]: a curve in
// fractions of the chord, from the leading edge (q = 0) to the trailing edge (q = 1),
// with q near the fraction of the chord and a vertical tangent at q = 0 only.
type Profile interface {
	check() error
	profile(side, q float64) (g.Point, g.Vec)
	// creases returns the q at which the curve is not smooth, ascending, in (0, 1).
	creases() []float64
}

// Ordinates is a profile by a table: a cubic spline of the ordinate over the
// square root of Xi, run from the trailing edge over the lower face, the nose and
// the upper face as one curve, so that the nose is round.
type Ordinates struct {
	upper, lower cubicSpline
}

// Ordinate is a line of a table of ordinates, in fractions of the chord; Lower is
// negative below the chord line.
type Ordinate struct{ Xi, Upper, Lower float64 }

// NewOrdinates returns the profile through a table from Xi 0 to Xi 1.
//
// Errors name the line: fewer than four; Xi not ascending from 0 to 1; two
// ordinates at the nose; upper below lower; values per cent instead of fractions.
func NewOrdinates(table []Ordinate) (Ordinates, error) {
	n := len(table)
	if n < 4 {
		return Ordinates{}, fmt.Errorf("a table of ordinates needs four lines or more, got %d", n)
	}
	var r, y []float64
	for i := n - 1; i > 0; i-- {
		r, y = append(r, -math.Sqrt(table[i].Xi)), append(y, table[i].Lower)
	}
	for i, o := range table {
		place := fmt.Sprintf("line %d (xi %s)", i+1, g.FormatNumber(o.Xi, 5))
		switch {
		case o.Xi > 1:
			return Ordinates{}, fmt.Errorf("%s: xi is a fraction of the chord and ends at 1: divide per cent by 100", place)
		case i == 0 && (o.Xi != 0 || o.Upper != o.Lower):
			return Ordinates{}, fmt.Errorf("%s: the first line must be the nose: xi 0, with one ordinate for both faces", place)
		case i > 0 && !(o.Xi > table[i-1].Xi):
			return Ordinates{}, fmt.Errorf("%s: xi must grow from line to line", place)
		case !(o.Upper >= o.Lower) || o.Upper == o.Lower && i > 0 && i < n-1:
			return Ordinates{}, fmt.Errorf("%s: upper %s must lie above lower %s", place, g.FormatNumber(o.Upper, 5), g.FormatNumber(o.Lower, 5))
		case i == n-1 && o.Xi != 1:
			return Ordinates{}, fmt.Errorf("%s: the last line must be the trailing edge, xi 1", place)
		}
		r, y = append(r, math.Sqrt(o.Xi)), append(y, o.Upper)
	}
	s := newCubicSpline(r, y, splineEnd{}, splineEnd{})
	upper := cubicSpline{s.x[n-1:], s.y[n-1:], s.m[n-1:]}
	lower := cubicSpline{make([]float64, n), make([]float64, n), make([]float64, n)}
	for i := range lower.x {
		k := n - 1 - i
		lower.x[i], lower.y[i], lower.m[i] = -s.x[k], s.y[k], s.m[k]
	}
	return Ordinates{upper, lower}, nil
}

func (o Ordinates) check() error {
	if len(o.upper.x) == 0 {
		return fmt.Errorf("the table of ordinates is empty: make it with NewOrdinates")
	}
	return nil
}

func (o Ordinates) creases() []float64 { return nil }

func (o Ordinates) profile(side, q float64) (g.Point, g.Vec) {
	s := &o.upper
	if side < 0 {
		s = &o.lower
	}
	r := math.Sqrt(q)
	y, dy := s.at(r)
	return g.Point{X: q, Y: y}, g.Vec{X: 1, Y: dy / (2 * r)}
}

// LeadingEdgeLimit is the part of the chord behind the leading edge that a
// [LiftingSkin] of NACA4 or Ordinates does not contain. At the edge itself the skin
// stands across the station, so that a point is not named by it; at the limit a
// profile 12 % thick slopes by 23 degrees and bends on a radius of 0.14 of the
// chord, which a net of whole inches still follows.
const LeadingEdgeLimit = 0.03

// chordFace is a face of a chord profile at an incidence: the profile is turned
// nose up about its leading edge and stretched so that the chord seen in plan is
// the planform's. In fractions of the chord, height is one function of x, whatever
// the chord: between straight edges the face is a cone and unrolls, and so does
// what goes on beyond the limit and the trailing edge.
type chordFace struct {
	of        Profile
	side, tan float64
	lo, hi    facePoint // at the limit and at the trailing edge
	bend      float64   // second derivative at the limit
}

// facePoint is a point of a face in fractions of the chord, and the slope there.
type facePoint struct{ x, y, slope float64 }

func newChordFace(of Profile, side, incidence float64) (*chordFace, error) {
	f := &chordFace{of: of, side: side, tan: same.Tan(incidence)}
	f.lo, f.hi = f.point(LeadingEdgeLimit), f.point(1)
	last := f.lo.x
	for q := LeadingEdgeLimit * 1.05; q < 1; q *= 1.05 {
		p := f.point(q)
		if !(p.x > last) {
			return nil, fmt.Errorf("the profile turns back at %s of the chord, so a point has no one station: the incidence is too large or the profile too thick", g.FormatNumber(q, 3))
		}
		last = p.x
	}
	const e = 1e-4 * LeadingEdgeLimit
	fore, aft := f.point(LeadingEdgeLimit-e), f.point(LeadingEdgeLimit+e)
	f.bend = (aft.slope - fore.slope) / (aft.x - fore.x)
	return f, nil
}

func (f *chordFace) point(q float64) facePoint {
	p, d := f.of.profile(f.side, q)
	return facePoint{p.X + float64(f.tan*p.Y), p.Y - float64(f.tan*p.X), (d.Y - float64(f.tan*d.X)) / (d.X + float64(f.tan*d.Y))}
}

// over returns the face at x, by Newton in q. Ahead of the limit it goes on with
// the same slope and bend, the bend dying away over the width of the limit; behind
// the trailing edge, along the tangent.
func (f *chordFace) over(x float64) facePoint {
	switch {
	case x < f.lo.x:
		const fade = LeadingEdgeLimit
		s := f.lo.x - x
		e := -same.Expm1(-s / fade)
		return facePoint{x, f.lo.y - float64(f.lo.slope*s) + float64(f.bend*fade*(s-float64(fade*e))), f.lo.slope - float64(f.bend*fade*e)}
	case x > f.hi.x:
		return facePoint{x, f.hi.y + float64(f.hi.slope*(x-f.hi.x)), f.hi.slope}
	}
	q := max(LeadingEdgeLimit/2, min(1, x))
	for i := 0; i < 20; i++ {
		p, d := f.of.profile(f.side, q)
		step := (x - p.X - float64(f.tan*p.Y)) / (d.X + float64(f.tan*d.Y))
		q = max(LeadingEdgeLimit/2, min(1.02, q+step))
		if math.Abs(step) < 1e-15 {
			break
		}
	}
	return f.point(q)
}

// height returns the height h of the face over its chord line, away from the other
// face, at a distance a behind the leading edge of a chord c, in inches, and its
// derivatives by a and by c. Beyond what is contained it goes on smoothly.
func (f *chordFace) height(a, c float64) (h, ha, hc float64) {
	p := f.over(a / c)
	hc = p.y - float64(p.slope*p.x)
	return float64(c*hc) + float64(p.slope*a), p.slope, hc
}

// contained returns the range of a that is skin.
func (f *chordFace) contained(c float64) (lo, hi float64) {
	return float64(c * f.lo.x), float64(c * f.hi.x)
}
