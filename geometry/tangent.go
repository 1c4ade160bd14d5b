package geometry

import "maskloft/geometry/same"

// Velocity returns the derivative of segment i of c by its parameter, at t in [0, 1].
// It vanishes at an end that a control point lies on: see [Contour.StartTangent].
func (c Contour) Velocity(i int, t float64) Vec {
	s, a := c.Segments[i], c.From(i)
	if s.Kind == Line {
		return s.End.Sub(a)
	}
	u := 1 - t
	return s.C1.Sub(a).Scale(3 * u * u).Add(s.C2.Sub(s.C1).Scale(6 * u * t)).Add(s.End.Sub(s.C2).Scale(3 * t * t))
}

// StartTangent returns the direction in which segment i of c leaves, of any length:
// towards the first of its other points that is not its start.
func (c Contour) StartTangent(i int) Vec {
	s, a := c.Segments[i], c.From(i)
	for _, p := range [2]Point{s.C1, s.C2} {
		if s.Kind == Cubic && p.Dist(a) > SnapTolerance {
			return p.Sub(a)
		}
	}
	return s.End.Sub(a)
}

// EndTangent returns the direction in which segment i of c arrives, of any length.
func (c Contour) EndTangent(i int) Vec {
	s, a := c.Segments[i], c.From(i)
	for _, p := range [2]Point{s.C2, s.C1} {
		if s.Kind == Cubic && p.Dist(s.End) > SnapTolerance {
			return s.End.Sub(p)
		}
	}
	return s.End.Sub(a)
}

// Turn returns the angle by which closed c turns where segment i ends, in radians
// from -pi to pi: left is positive.
func (c Contour) Turn(i int) float64 {
	in, out := c.EndTangent(i), c.StartTangent((i+1)%len(c.Segments))
	return same.Atan2(in.Cross(out), in.Dot(out))
}
