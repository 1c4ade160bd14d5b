package camera

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// Camera is a pinhole camera: it takes the straight line through a point and its
// centre to the picture, with a distortion that is symmetric about the principal
// point. Positions are aircraft inches; see the package for both frames.
type Camera struct {
	At                 g.Position // the centre of projection
	Right, Down, Ahead g.Vec3     // unit vectors, right-handed: Right x Down = Ahead
	Focal              float64    // principal distance in pixels
	Principal          g.Point    // principal point in pixels
	// K1 is the radial distortion: a point at the true radius r, in units of the
	// principal distance, is seen at r (1 + K1 r^2). Below zero lines bulge outwards
	// (Brown, Decentering Distortion of Lenses, Photogrammetric Engineering 32,
	// 1966, first term; from memory).
	K1       float64
	Mirrored bool // the picture is printed from the wrong side of the negative: x is turned over about the principal point
}

// turn is the sign of a picture's x.
func (c Camera) turn() float64 {
	if c.Mirrored {
		return -1
	}
	return 1
}

// in returns a position in the camera's own axes, inches: right, down, ahead.
func (c Camera) in(p g.Position) g.Vec3 {
	d := p.Vec().Sub(c.At.Vec())
	return g.Vec3{X: c.Right.Dot(d), Y: c.Down.Dot(d), Z: c.Ahead.Dot(d)}
}

// Depth returns how far ahead of the camera a position lies, in inches along its
// axis; negative behind it.
func (c Camera) Depth(p g.Position) float64 { return c.in(p).Z }

// leastDepth is how far ahead of the camera, in inches, a point must lie to be seen.
const leastDepth = 1e-3

// Project returns the pixel at which a position is seen; false where it lies
// behind the camera, or so far out that the distortion turns the picture back.
func (c Camera) Project(p g.Position) (g.Point, bool) {
	q := c.in(p)
	if !(q.Z > leastDepth) {
		return g.Point{}, false
	}
	x, y := q.X/q.Z, q.Y/q.Z
	r2 := float64(x*x) + float64(y*y)
	if 1+float64(3*c.K1*r2) <= 0 { // the seen radius grows no more
		return g.Point{}, false
	}
	k := c.Focal * (1 + float64(c.K1*r2))
	return g.Point{X: c.Principal.X + float64(c.turn()*k*x), Y: c.Principal.Y + float64(k*y)}, true
}

// Ray returns the direction, of unit length in aircraft axes, in which a pixel was
// seen: the sight ray is At + t Ray, t in inches. False for a pixel farther out
// than the distortion can have put one.
func (c Camera) Ray(pixel g.Point) (g.Vec3, bool) {
	q, ok := c.sight(pixel)
	if !ok {
		return g.Vec3{}, false
	}
	return c.Right.Scale(q.X).Add(c.Down.Scale(q.Y)).Add(c.Ahead.Scale(q.Z)), true
}

// sight returns the unit direction of a pixel in the camera's own axes.
func (c Camera) sight(pixel g.Point) (g.Vec3, bool) {
	x, y := c.turn()*(pixel.X-c.Principal.X)/c.Focal, (pixel.Y-c.Principal.Y)/c.Focal
	seen := same.Hypot(x, y)
	if c.K1 == 0 || seen == 0 {
		return g.Vec3{X: x, Y: y, Z: 1}.Unit(), true
	}
	r := seen // Newton on r (1 + K1 r^2) = seen
	for range 50 {
		slope := 1 + float64(3*c.K1*r*r)
		if slope <= 0.05 {
			return g.Vec3{}, false
		}
		step := (float64(r*(1+float64(c.K1*r*r))) - seen) / slope
		if r -= step; math.Abs(step) < 1e-15*(1+r) {
			break
		}
	}
	if math.Abs(float64(r*(1+float64(c.K1*r*r)))-seen) > 1e-9*(1+seen) {
		return g.Vec3{}, false
	}
	return g.Vec3{X: x * r / seen, Y: y * r / seen, Z: 1}.Unit(), true
}

// Turned returns the camera turned by small angles in radians about its own axes
// Right, Down and Ahead: a point of the scene at c, in those axes, is then at
// c + w x c, to first order.
func (c Camera) Turned(w g.Vec3) Camera {
	angle := w.Norm()
	if angle == 0 {
		return c
	}
	axis := w.Unit()
	sin, cos := same.Sincos(angle)
	rows := [3]g.Vec3{c.Right, c.Down, c.Ahead}
	var out [3]g.Vec3
	for i, e := range [3]g.Vec3{{X: 1}, {Y: 1}, {Z: 1}} {
		// row i of the rotation by angle about axis (Rodrigues 1840), transposed onto e
		r := e.Scale(cos).Sub(axis.Cross(e).Scale(sin)).Add(axis.Scale(axis.Dot(e) * (1 - cos)))
		out[i] = rows[0].Scale(r.X).Add(rows[1].Scale(r.Y)).Add(rows[2].Scale(r.Z))
	}
	// squared up again, so that many turns do not add rounding
	c.Ahead = out[2].Unit()
	c.Right = out[0].Sub(c.Ahead.Scale(c.Ahead.Dot(out[0]))).Unit()
	c.Down = c.Ahead.Cross(c.Right)
	return c
}
