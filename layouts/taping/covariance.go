package taping

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// covariance is the covariance of a point in the flat of a marking, in square
// inches.
type covariance struct{ xx, xy, yy float64 }

func (c covariance) trace() float64 { return c.xx + c.yy }

func (c covariance) plus(d covariance) covariance {
	return covariance{c.xx + d.xx, c.xy + d.xy, c.yy + d.yy}
}

// outer returns k v v'.
func outer(v g.Vec, k float64) covariance {
	return covariance{float64(k * v.X * v.X), float64(k * v.X * v.Y), float64(k * v.Y * v.Y)}
}

// round returns the covariance of an error alike in all directions.
func round(variance float64) covariance { return covariance{variance, 0, variance} }

// along returns v' C v.
func (c covariance) along(v g.Vec) float64 {
	return float64(c.xx*v.X*v.X) + float64(2*c.xy*v.X*v.Y) + float64(c.yy*v.Y*v.Y)
}

// Ellipse is the error of a point in the flat of its marking: standard deviations
// along its axes.
type Ellipse struct {
	Major, Minor g.Length
	Angle        float64 // degrees of the major axis from the drawing's x, positive to the left, above -90 to 90
}

// in95 is how many standard deviations the axes of the ellipse reach that holds 95
// of 100 points: the root of the chi-square of two degrees of freedom, -2 ln 0.05.
var in95 = math.Sqrt(-2 * same.Log(0.05))

// Within95 returns the half axes of the ellipse that holds 95 of 100 points.
func (e Ellipse) Within95() (major, minor g.Length) {
	return e.Major * g.Length(in95), e.Minor * g.Length(in95)
}

// RMS returns the root mean square distance from the point meant.
func (e Ellipse) RMS() g.Length { return g.Length(same.Hypot(e.Major.Inches(), e.Minor.Inches())) }

// ellipse returns the axes of a covariance: its eigenvalues, in closed form.
func (c covariance) ellipse() Ellipse {
	mean, half := (c.xx+c.yy)/2, same.Hypot((c.xx-c.yy)/2, c.xy)
	e := Ellipse{Major: g.Length(math.Sqrt(mean + half)), Minor: g.Length(math.Sqrt(math.Max(0, mean-half)))}
	if half > 1e-6*mean { // a circle but for rounding has no axis
		e.Angle = same.Atan2(2*c.xy, c.xx-c.yy) / 2 * 180 / math.Pi
		if e.Angle < 1e-6-90 { // an axis has no sense: the last digits must not decide its sign
			e.Angle += 180
		}
	}
	return e
}

// shares returns by how much the point placed by two tapes moves for each inch
// that a tape is too long: the columns of the inverse of the two bearings. False
// where the tapes do not cross.
//
// A tape of length L keeps -bearing . dp = dL for a movement dp of its point
// (the gradient of a distance is the unit vector away from its other end).
func shares(a, b Taping) (pa, pb g.Vec, ok bool) {
	det := a.Bearing.Cross(b.Bearing)
	if math.Abs(det) < 1e-6 {
		return g.Vec{}, g.Vec{}, false
	}
	// rows -a, -b; the inverse of a 2 x 2 matrix
	return g.Vec{X: -b.Bearing.Y, Y: b.Bearing.X}.Scale(1 / det), g.Vec{X: a.Bearing.Y, Y: -a.Bearing.X}.Scale(1 / det), true
}

// variance is that of the length of a tape with its hardpoint, in square inches.
// A hardpoint counts by its error along the tape.
func (t Taping) variance() float64 {
	s, h := t.Sigma.Inches(), t.From.Sigma.Inches()
	return float64(s*s) + float64(h*h)
}

// covarianceOf returns the covariance of a point placed by two tapes.
func covarianceOf(a, b Taping) (covariance, bool) {
	pa, pb, ok := shares(a, b)
	if !ok {
		return covariance{}, false
	}
	return outer(pa, a.variance()).plus(outer(pb, b.variance())), true
}
