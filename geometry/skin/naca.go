package skin

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// NACA4 is a section of the NACA four-digit family; all in fractions of the
// chord. Camber 0 is a symmetrical section.
type NACA4 struct {
	Camber    float64 // largest ordinate of the mean line
	CamberAt  float64 // its place
	Thickness float64
	// Closed brings the trailing edge to nothing; as published it is open, 0.0021
	// of the chord either side at 20 % thickness.
	Closed bool
}

// ParseNACA4 reads a four-digit designation such as "0012" or "2412".
//
// Error: not four digits; no thickness; camber without a place or a place without
// camber.
func ParseNACA4(digits string) (NACA4, error) {
	var d [4]float64
	bad := len(digits) != 4
	for i := 0; !bad && i < 4; i++ {
		bad = digits[i] < '0' || digits[i] > '9'
		d[i] = float64(digits[i] - '0')
	}
	if bad {
		return NACA4{}, fmt.Errorf("%q is not a NACA four-digit section: type four digits, such as 0012 or 2412", digits)
	}
	n := NACA4{Camber: d[0] / 100, CamberAt: d[1] / 10, Thickness: (float64(10*d[2]) + d[3]) / 100}
	if err := n.check(); err != nil {
		return NACA4{}, fmt.Errorf("NACA %s: %w", digits, err)
	}
	return n, nil
}

func (n NACA4) check() error {
	if !(n.Thickness > 0 && n.Thickness <= 0.5) {
		return fmt.Errorf("thickness %s of the chord: it must lie above 0 and up to 0.5", g.FormatNumber(n.Thickness, 4))
	}
	if !(n.Camber >= 0 && n.Camber < 0.1) || (n.Camber > 0) != (n.CamberAt > 0) || n.CamberAt >= 1 {
		return fmt.Errorf("camber %s at %s of the chord: both must be 0, or the camber below 0.1 and its place between 0 and 1", g.FormatNumber(n.Camber, 4), g.FormatNumber(n.CamberAt, 4))
	}
	return nil
}

// HalfThickness returns the half thickness at x of the chord and its slope:
//
//	t/0.20 (0.2969 sqrt x - 0.1260 x - 0.3516 x^2 + 0.2843 x^3 - 0.1015 x^4)
//
// (Jacobs, Ward and Pinkerton, NACA Report 460, 1933; Abbott and von Doenhoff,
// Theory of Wing Sections, eq. 6.2; from memory). For a closed trailing edge the
// last figure is 0.1036, which makes the sum 0 at x = 1 (common practice, no
// source).
func (n NACA4) HalfThickness(x float64) (y, slope float64) {
	last := 0.1015
	if n.Closed {
		last = 0.1036
	}
	k, r := n.Thickness/0.20, math.Sqrt(x)
	y = k * (float64(0.2969*r) + float64(x*(-0.1260+float64(x*(-0.3516+float64(x*(0.2843-float64(x*last))))))))
	slope = k * (0.2969/(2*r) - 0.1260 + float64(x*(-2*0.3516+float64(x*(3*0.2843-float64(x*4*last))))))
	return
}

// meanLine returns ordinate, slope and second derivative of the mean line: two
// parabolas that meet level at the largest camber (NACA Report 460; Abbott and von
// Doenhoff, eq. 6.4; from memory).
func (n NACA4) meanLine(x float64) (y, slope, bend float64) {
	if n.Camber == 0 {
		return 0, 0, 0
	}
	m, p := n.Camber, n.CamberAt
	if x < p {
		k := m / (p * p)
		return k * x * (2*p - x), 2 * k * (p - x), -2 * k
	}
	k := m / ((1 - p) * (1 - p))
	return k * (1 - 2*p + float64(x*(2*p-x))), 2 * k * (p - x), -2 * k
}

// creases returns the place of the largest camber, where two parabolas meet.
func (n NACA4) creases() []float64 {
	if n.Camber == 0 {
		return nil
	}
	return []float64{n.CamberAt}
}

// profile returns the point of the upper (side +1) or lower (-1) face that stands
// square to the mean line at q (Abbott and von Doenhoff, eq. 6.1; from memory),
// and its derivative by q.
func (n NACA4) profile(side, q float64) (p g.Point, d g.Vec) {
	yt, dyt := n.HalfThickness(q)
	yc, slope, bend := n.meanLine(q)
	cos := 1 / same.Hypot(1, slope)
	sin := slope * cos
	turn := bend * cos * cos // of the angle, by q
	return g.Point{X: q - float64(side*yt*sin), Y: yc + float64(side*yt*cos)},
		g.Vec{X: 1 - float64(side*(float64(dyt*sin)+float64(yt*cos*turn))), Y: slope + float64(side*(float64(dyt*cos)-float64(yt*sin*turn)))}
}
