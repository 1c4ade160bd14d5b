package layouts

import (
	"fmt"
	"math"

	"maskloft/geometry"
)

// cross returns an upright straight cross about the origin: two bars of one width
// and length at right angles.
func cross(span, width float64) (geometry.Path, error) {
	if width >= span {
		return nil, fmt.Errorf("the arms of the cross are %v in wide, not less than its span of %v in", width, span)
	}
	s, w := span/2, width/2
	at := func(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }
	return geometry.Path{geometry.Polygon(
		at(s, -w), at(s, w), at(w, w), at(w, s), at(-w, s), at(-w, w), at(-s, w), at(-s, -w), at(-w, -w), at(-w, -s), at(w, -s), at(w, -w),
	)}, nil
}

// sector returns the part of a disc between two directions, in degrees
// counter-clockwise from x, from the first to the second.
func sector(radius, from, to float64) (geometry.Path, error) {
	sweep := to - from
	if !(sweep > 0 && sweep < 360) {
		return nil, fmt.Errorf("the sector runs from %v to %v degrees: it must be above 0 and below 360 wide", from, to)
	}
	n := int(math.Ceil(sweep * geometry.CircleCubics / 360))
	step := sweep / float64(n)
	k := 4.0 / 3 * math.Tan(step*math.Pi/180/4)
	b := geometry.MoveTo(geometry.Point{}).LineTo(polar(radius, from))
	for i := range n {
		p, q := polar(radius, from+step*float64(i)), polar(radius, from+step*float64(i+1))
		b.CubicTo(p.Add(geometry.Vec{X: -p.Y, Y: p.X}.Scale(k)), q.Add(geometry.Vec{X: q.Y, Y: -q.X}.Scale(k)), q)
	}
	return geometry.Path{b.Close()}, nil
}

// ngon returns a regular polygon about the origin, one corner at the angle first in
// degrees.
func ngon(points int, radius, first float64) (geometry.Path, error) {
	if points < 3 {
		return nil, fmt.Errorf("a polygon of %d corners is none", points)
	}
	var corners []geometry.Point
	for i := range points {
		corners = append(corners, polar(radius, first+360*float64(i)/float64(points)))
	}
	return geometry.Path{geometry.Polygon(corners...)}, nil
}
