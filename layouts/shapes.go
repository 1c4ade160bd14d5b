package layouts

import (
	"fmt"
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// cross returns an upright straight cross about the origin: two bars of one width
// and length at right angles.
func cross(span, width float64) (geometry.Path, error) {
	if width >= span {
		return nil, geometry.Errorf("the arms of the cross are %v wide, not less than its span of %v", geometry.Length(width), geometry.Length(span))
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
	k := 4.0 / 3 * same.Tan(step*math.Pi/180/4)
	b := geometry.MoveTo(geometry.Point{}).LineTo(polar(radius, from))
	for i := range n {
		p, q := polar(radius, from+float64(step*float64(i))), polar(radius, from+float64(step*float64(i+1)))
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

// turned returns a region turned about the origin, degrees counter-clockwise.
func turned(p geometry.Path, degrees float64) geometry.Path {
	x, y := geometry.Vec(polar(1, degrees)), geometry.Vec(polar(1, degrees)).Perp()
	return p.Map(func(q geometry.Point) geometry.Point { return geometry.Point{}.Add(x.Scale(q.X)).Add(y.Scale(q.Y)) })
}

// ringSector returns the part of a ring between two directions, in degrees
// counter-clockwise from x, from the first to the second.
func ringSector(outer, inner, from, to float64) (geometry.Path, error) {
	sweep := to - from
	switch {
	case !(sweep > 0 && sweep < 360):
		return nil, fmt.Errorf("the ring's part runs from %v to %v degrees: it must be above 0 and below 360 wide", from, to)
	case inner >= outer:
		return nil, geometry.Errorf("the inner radius %v is not below the outer, %v", geometry.Length(inner), geometry.Length(outer))
	}
	rad := sweep * math.Pi / 180
	b := geometry.MoveTo(polar(outer, from)).ArcTo(geometry.Point{}, rad).LineTo(polar(inner, to)).ArcTo(geometry.Point{}, -rad)
	return geometry.Path{b.Close()}, nil
}

// bar returns a straight bar about a point, its length in a direction, degrees
// counter-clockwise from x.
func bar(middle geometry.Point, length, width, angle float64) geometry.Path {
	upright := geometry.Path{geometry.Rectangle(geometry.Rect{Min: geometry.Point{X: -length / 2, Y: -width / 2}, Max: geometry.Point{X: length / 2, Y: width / 2}})}
	if angle == 0 {
		return upright.Moved(geometry.Vec(middle))
	}
	return turned(upright, angle).Moved(geometry.Vec(middle))
}

// polygon returns the region within straight sides through the corners, in either
// order.
//
// Errors: fewer than three corners; sides that cross or enclose nothing.
func polygon(corners ...geometry.Point) (geometry.Path, error) {
	if len(corners) < 3 {
		return nil, fmt.Errorf("a polygon of %d corners is none", len(corners))
	}
	c := geometry.Polygon(corners...)
	if c.Area() < 0 {
		c = c.Reversed()
	}
	p, err := geometry.Settle(geometry.Path{c})
	if err != nil {
		return nil, err
	}
	if len(p) != 1 || math.Abs(p.Area()-c.Area()) > geometry.SnapTolerance {
		return nil, fmt.Errorf("the sides of the polygon cross or enclose nothing: name the corners in order around it")
	}
	return geometry.Path{c}, nil
}
