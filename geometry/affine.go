package geometry

import (
	"math"

	"maskloft/geometry/same"
)

// Affine is the map x' = a x + c y + e, y' = b x + d y + f, kept as a b c d e f:
// the order of both SVG's matrix() and PDF's cm.
type Affine [6]float64

var Identity = Affine{1, 0, 0, 1, 0, 0}

func (m Affine) Apply(p Point) Point {
	return Point{
		X: float64(m[0]*p.X) + float64(m[2]*p.Y) + m[4],
		Y: float64(m[1]*p.X) + float64(m[3]*p.Y) + m[5],
	}
}

// After returns the map that does n first and m after it.
func (m Affine) After(n Affine) Affine {
	return Affine{
		float64(m[0]*n[0]) + float64(m[2]*n[1]), float64(m[1]*n[0]) + float64(m[3]*n[1]),
		float64(m[0]*n[2]) + float64(m[2]*n[3]), float64(m[1]*n[2]) + float64(m[3]*n[3]),
		float64(m[0]*n[4]) + float64(m[2]*n[5]) + m[4], float64(m[1]*n[4]) + float64(m[3]*n[5]) + m[5],
	}
}

// Inverse returns the map that undoes m, which must not be flat.
func (m Affine) Inverse() Affine {
	d := float64(m[0]*m[3]) - float64(m[1]*m[2])
	a := Affine{m[3] / d, -m[1] / d, -m[2] / d, m[0] / d, 0, 0}
	at := a.Apply(Point{X: m[4], Y: m[5]})
	a[4], a[5] = -at.X, -at.Y
	return a
}

// Upright tells whether m keeps axis-parallel rectangles axis-parallel.
func (m Affine) Upright() bool {
	return (m[1] == 0 && m[2] == 0) || (m[0] == 0 && m[3] == 0)
}

// EllipseArc adds an arc of the ellipse that m makes of the unit circle, from
// angle start through sweep (radians of that circle), in cubics of at most an
// eighth of it. An affine map of a cubic is the cubic of the mapped points, so
// the error stays below 4.2e-6 of the longer half axis, as it is for a circle.
func EllipseArc(b *Builder, m Affine, start, sweep float64) {
	n := int(max(1, math.Ceil(math.Abs(sweep)/(2*math.Pi/CircleCubics)-1e-9)))
	step := sweep / float64(n)
	k := 4.0 / 3 * same.Tan(step/4)
	for i := 0; i < n; i++ {
		s0, c0 := same.Sincos(start + float64(step*float64(i)))
		s1, c1 := same.Sincos(start + float64(step*float64(i+1)))
		b.CubicTo(
			m.Apply(Point{X: c0 - float64(k*s0), Y: s0 + float64(k*c0)}),
			m.Apply(Point{X: c1 + float64(k*s1), Y: s1 - float64(k*c1)}),
			m.Apply(Point{X: c1, Y: s1}))
	}
}
