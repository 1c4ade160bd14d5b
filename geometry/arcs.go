package geometry

import (
	"math"

	"maskloft/geometry/same"
)

// CircleCubics is the number of cubics of a full circle. With control length
// 4/3 tan(angle/4) eight cubics leave the circle by at most 4.2e-6 of its
// radius (derived; checked by test), four by 2.7e-4: too much for film.
const CircleCubics = 8

// Circle returns the counter-clockwise circle about centre, eight cubics,
// starting at angle zero.
func Circle(centre Point, radius float64) Contour {
	b := MoveTo(Point{centre.X + radius, centre.Y})
	b.ArcTo(centre, 2*math.Pi)
	c := b.c
	c.Segments[len(c.Segments)-1].End = c.Start
	return c
}

// ArcTo adds a circular arc about centre from where the contour stands through
// the given sweep (radians, positive counter-clockwise), in cubics of at most
// an eighth of a circle.
func (b *Builder) ArcTo(centre Point, sweep float64) *Builder {
	n := int(math.Ceil(math.Abs(sweep)/(2*math.Pi/CircleCubics) - 1e-9))
	if n < 1 {
		return b
	}
	v := b.c.End().Sub(centre)
	radius, angle := v.Norm(), same.Atan2(v.Y, v.X)
	step := sweep / float64(n)
	k := 4.0 / 3 * same.Tan(step/4) * radius
	for i := 0; i < n; i++ {
		a0, a1 := angle+float64(step*float64(i)), angle+float64(step*float64(i+1))
		s0, c0 := same.Sincos(a0)
		s1, c1 := same.Sincos(a1)
		end := Point{centre.X + float64(radius*c1), centre.Y + float64(radius*s1)}
		b.CubicTo(b.c.End().Add(Vec{-s0, c0}.Scale(k)), end.Add(Vec{s1, -c1}.Scale(k)), end)
	}
	return b
}
