package camera

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// way is how a camera is moved to fit: what its unknowns are.
type way interface {
	count() int
	// slopes returns how the pixel of a position changes with each unknown; false
	// where it is not seen.
	slopes(c Camera, p g.Position) (x, y [unknowns]float64, ok bool)
	moved(c Camera, d [unknowns]float64) Camera
	// stays tells whether the last unknown is at its end and the step goes beyond;
	// reaches whether the step can be made in full.
	stays(c Camera, d [unknowns]float64) bool
	reaches(c Camera, d [unknowns]float64) bool
	// small tells whether a step moves the camera by nothing that matters.
	small(d [unknowns]float64, c Camera) bool
	// plain returns the derivatives of the unknowns of plain, with the logarithm of
	// the principal distance for a seventh, by those of this way: rows by columns.
	plain(c Camera) [][]float64
}

// still is a camera of known principal distance: its unknowns are the three angles of
// [Camera.Turned] and its position.
type still struct {
	near g.Vec3 // the middle of the sights
}

func (still) count() int { return 6 }

func (still) stays(Camera, [unknowns]float64) bool { return false }

func (still) reaches(Camera, [unknowns]float64) bool { return true }

func (still) moved(c Camera, d [unknowns]float64) Camera {
	c = c.Turned(g.Vec3{X: d[0], Y: d[1], Z: d[2]})
	c.At = g.PositionOf(c.At.Vec().Add(g.Vec3{X: d[3], Y: d[4], Z: d[5]}))
	return c
}

// small: 1e-9 rad, and 1e-9 of the distance.
func (w still) small(d [unknowns]float64, c Camera) bool {
	far := 1 + math.Abs(c.in(g.PositionOf(w.near)).Z)
	for i, x := range d[:6] {
		if i >= 3 {
			x /= far
		}
		if math.Abs(x) > 1e-9 {
			return false
		}
	}
	return true
}

func (still) slopes(c Camera, p g.Position) (x, y [unknowns]float64, ok bool) {
	q := c.in(p)
	if !(q.Z > leastDepth) {
		return x, y, false
	}
	xs, ys := c.byDirection(q)
	for i, e := range [3]g.Vec3{{X: 1}, {Y: 1}, {Z: 1}} {
		// of the point in the camera's axes, as the camera turns and as it moves
		for k, d := range [2]g.Vec3{e.Cross(q), {X: -c.Right.Dot(e), Y: -c.Down.Dot(e), Z: -c.Ahead.Dot(e)}} {
			x[i+3*k], y[i+3*k] = xs.Dot(d), ys.Dot(d)
		}
	}
	return x, y, true
}

func (still) plain(Camera) [][]float64 {
	out := make([][]float64, 6)
	for i := range out {
		out[i] = make([]float64, 6)
		out[i][i] = 1
	}
	return out
}

// byDirection returns the gradients of both pixel coordinates by the place q of a
// point in the camera's axes.
func (c Camera) byDirection(q g.Vec3) (x, y g.Vec3) {
	u, v := q.X/q.Z, q.Y/q.Z
	k := 1 + float64(c.K1*(float64(u*u)+float64(v*v)))
	// pixel by (u, v)
	xu, xv := float64(c.turn()*c.Focal*(k+float64(2*c.K1*u*u))), float64(c.turn()*c.Focal*2*c.K1*u*v)
	yu, yv := c.Focal*2*c.K1*u*v, c.Focal*(k+float64(2*c.K1*v*v))
	return g.Vec3{X: xu / q.Z, Y: xv / q.Z, Z: -(float64(xu*u) + float64(xv*v)) / q.Z}, g.Vec3{X: yu / q.Z, Y: yv / q.Z, Z: -(float64(yu*u) + float64(yv*v)) / q.Z}
}

// about is a camera of unknown principal distance f. Moving off by d and f growing with
// it hardly change the picture, so its unknowns are those that the picture tells apart:
// three angles about the middle of the sights, the place in pixels of that middle (two),
// the logarithm of the scale s = f/d there in pixels an inch, and k = 1/d. The pixel
// is then (s r + m)/(1 + k r3), with r from the middle in the camera's axes: regular
// at k = 0, a camera endlessly far off, which no choice of f and d is.
type about struct {
	middle g.Vec3
	reach  float64 // of the sights from it, in inches
}

// farthest is the distance in inches at which a camera counts as endlessly far off:
// 40 in of depth then move a point by 4e-6 of its way from the middle of the picture.
const farthest = 1e7

func (about) count() int { return 7 }

func (w about) stays(c Camera, d [unknowns]float64) bool {
	return c.in(g.PositionOf(w.middle)).Z > farthest*(1-1e-6) && d[6] < 0
}

func (w about) reaches(c Camera, d [unknowns]float64) bool {
	return 1/c.in(g.PositionOf(w.middle)).Z+d[6] > 1/farthest
}

func (w about) moved(c Camera, d [unknowns]float64) Camera {
	q := c.in(g.PositionOf(w.middle))
	s := c.Focal / q.Z
	mx, my := float64(s*q.X)+d[3], float64(s*q.Y)+d[4]
	s *= same.Exp(math.Max(-1, math.Min(1, d[5])))
	// a step takes at most four fifths of the way to the middle, or to the farthest
	k := math.Max(1/farthest, math.Min(5/q.Z+1/(20*w.reach), 1/q.Z+d[6]))
	c = c.Turned(g.Vec3{X: d[0], Y: d[1], Z: d[2]})
	c.Focal = s / k
	c.At = g.PositionOf(w.middle.Sub(c.Right.Scale(mx / s)).Sub(c.Down.Scale(my / s)).Sub(c.Ahead.Scale(1 / k)))
	return c
}

// small: 1e-9 rad, 1e-6 of a pixel, 1e-9 of the scale, and as much by 1/distance.
func (w about) small(d [unknowns]float64, _ Camera) bool {
	for i, unit := range [unknowns]float64{1, 1, 1, 1e3, 1e3, 1, 1 / w.reach} {
		if math.Abs(d[i]) > 1e-9*unit {
			return false
		}
	}
	return true
}

func (w about) slopes(c Camera, p g.Position) (x, y [unknowns]float64, ok bool) {
	q, q0 := c.in(p), c.in(g.PositionOf(w.middle))
	if !(q.Z > leastDepth) || !(q0.Z > leastDepth) {
		return x, y, false
	}
	xs, ys := c.byDirection(q)
	r := q.Sub(q0)
	for i, e := range [3]g.Vec3{{X: 1}, {Y: 1}, {Z: 1}} {
		d := e.Cross(r)
		x[i], y[i] = xs.Dot(d), ys.Dot(d)
	}
	s := c.Focal / q0.Z
	x[3], y[3] = xs.X/s, ys.X/s
	x[4], y[4] = xs.Y/s, ys.Y/s
	// by the principal distance itself, times it
	u, v := q.X/q.Z, q.Y/q.Z
	k := c.Focal * (1 + float64(c.K1*(float64(u*u)+float64(v*v))))
	fx, fy := float64(c.turn()*k*u), float64(k*v)
	back := g.Vec3{X: q0.X, Y: q0.Y} // m / s
	x[5], y[5] = fx-xs.Dot(back), fy-ys.Dot(back)
	ahead := g.Vec3{Z: q0.Z * q0.Z}
	x[6], y[6] = -xs.Dot(ahead)-float64(fx*q0.Z), -ys.Dot(ahead)-float64(fy*q0.Z)
	return x, y, true
}

func (w about) plain(c Camera) [][]float64 {
	q := c.in(g.PositionOf(w.middle))
	s := c.Focal / q.Z
	out := make([][]float64, unknowns)
	for i := range out {
		out[i] = make([]float64, unknowns)
	}
	at := func(k int, d g.Vec3) { out[3][k], out[4][k], out[5][k] = d.X, d.Y, d.Z }
	world := func(d g.Vec3) g.Vec3 { return c.Right.Scale(d.X).Add(c.Down.Scale(d.Y)).Add(c.Ahead.Scale(d.Z)) }
	for i, e := range [3]g.Vec3{{X: 1}, {Y: 1}, {Z: 1}} {
		out[i][i] = 1
		at(i, world(e.Cross(q)))
	}
	at(3, c.Right.Scale(-1/s))
	at(4, c.Down.Scale(-1/s))
	at(5, world(g.Vec3{X: q.X, Y: q.Y}))
	at(6, c.Ahead.Scale(q.Z*q.Z))
	out[6][5], out[6][6] = 1, -q.Z
	return out
}
