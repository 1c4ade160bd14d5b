package skin

import (
	"math"

	g "maskloft/geometry"
)

// triaxial is an ellipsoid of semi-axes a along x, b along y, c along z, cut off
// short of its tips. V is the eccentric angle from the crown.
type triaxial struct{ a, b, c float64 }

func (s triaxial) Breaks() (u, v []float64, period float64) {
	return []float64{-0.96 * s.a, 0.96 * s.a}, []float64{-math.Pi, math.Pi}, 2 * math.Pi
}
func (s triaxial) Contains(uv UV) bool { return math.Abs(uv.U) <= 0.96*s.a }
func (s triaxial) At(uv, _ UV) (g.Vec3, g.Vec3) {
	k := math.Sqrt(1 - uv.U*uv.U/(s.a*s.a))
	sin, cos := math.Sincos(uv.V)
	p := g.Vec3{X: uv.U, Y: s.b * k * sin, Z: s.c * k * cos}
	return p, g.Vec3{X: p.X / (s.a * s.a), Y: p.Y / (s.b * s.b), Z: p.Z / (s.c * s.c)}.Unit()
}

// at returns the parameters of a point of the ellipsoid.
func (s triaxial) at(p g.Vec3) UV { return UV{p.X, math.Atan2(p.Y/s.b, p.Z/s.c)} }

// waist is the inner side of a torus about x: hollow along the body, round
// across it. Its radius at station 0 is hoop.
type waist struct{ hoop, meridian, reach float64 }

func (w waist) Breaks() (u, v []float64, period float64) {
	return []float64{-w.reach, w.reach}, []float64{-math.Pi, math.Pi}, 2 * math.Pi
}
func (w waist) Contains(uv UV) bool { return math.Abs(uv.U) <= w.reach+1e-9 }
func (w waist) At(uv, _ UV) (g.Vec3, g.Vec3) {
	c := math.Sqrt(w.meridian*w.meridian - uv.U*uv.U)
	r := w.hoop + w.meridian - c
	sin, cos := math.Sincos(uv.V)
	return g.Vec3{X: uv.U, Y: r * sin, Z: r * cos}, g.Vec3{X: -uv.U / w.meridian, Y: c / w.meridian * sin, Z: c / w.meridian * cos}
}

// strip is a band of a barrel on its left side: U is the length along the meridian, V
// the girth from it, so that windows are nearly rectangles of film. U is not the
// station.
type strip struct{ b barrel }

func (s strip) Breaks() (u, v []float64, period float64) {
	return []float64{-80, 80}, []float64{-40, 40}, 0
}
func (s strip) Contains(uv UV) bool { return math.Abs(uv.U) <= 80 && math.Abs(uv.V) <= 40 }
func (s strip) At(uv, _ UV) (g.Vec3, g.Vec3) {
	sin, cos := math.Sincos(uv.U / s.b.meridian)
	r := s.b.meridian*(cos-1) + s.b.hoop
	q := UV{s.b.meridian * sin, -math.Pi/2 + uv.V/r}
	return s.b.At(q, q)
}

// catenoid is the surface of revolution of the catenary c cosh(x/c), open along
// its keel. U/c is z, V the angle.
type catenoid struct{ c float64 }

func (s catenoid) Breaks() (u, v []float64, period float64) {
	return []float64{-0.5 * s.c, 1.7 * s.c}, []float64{-1.5, 1.5}, 0
}
func (s catenoid) Contains(uv UV) bool { return uv.U >= -0.5*s.c && uv.U <= 1.7*s.c }
func (s catenoid) At(uv, _ UV) (g.Vec3, g.Vec3) {
	z := uv.U / s.c
	sin, cos := math.Sincos(uv.V)
	r := s.c * math.Cosh(z)
	return g.Vec3{X: uv.U, Y: r * sin, Z: r * cos}, g.Vec3{X: -math.Sinh(z), Y: sin, Z: cos}.Scale(1 / math.Cosh(z))
}

// helicoid is the screw surface of pitch 2 pi c about x, U/c the angle of its
// ruling, c sinh V the distance from the axis. Its point U = c angle, V = z is that of
// the catenoid at U = c z, V = angle: the classical isometry (do Carmo, section
// 4-2, from memory).
type helicoid struct{ c float64 }

func (s helicoid) Breaks() (u, v []float64, period float64) {
	return []float64{-1.5 * s.c, 1.5 * s.c}, []float64{-0.5, 1.7}, 0
}
func (s helicoid) Contains(uv UV) bool { return math.Abs(uv.U) <= 1.5*s.c }
func (s helicoid) At(uv, _ UV) (g.Vec3, g.Vec3) {
	sin, cos := math.Sincos(uv.U / s.c)
	sh := math.Sinh(uv.V)
	return g.Vec3{X: uv.U, Y: s.c * sh * sin, Z: s.c * sh * cos},
		g.Vec3{X: -sh, Y: cos, Z: -sin}.Scale(1 / math.Cosh(uv.V))
}

// disc is a round patch, of radius w measured along the skin, of a sphere of
// radius r about the butt line; the parameters are a square of half-side w drawn
// onto it (x = u sqrt(1-v^2/2), y = v sqrt(1-u^2/2); derived), so that nets of
// panels reach its edge. U is not the station, so that only what works on
// parameters alone may be asked of it.
type disc struct{ r, w float64 }

func (d disc) Breaks() (u, v []float64, period float64) {
	return []float64{-d.w, d.w}, []float64{-d.w, d.w}, 0
}
func (d disc) Contains(uv UV) bool { return math.Abs(uv.U) <= d.w && math.Abs(uv.V) <= d.w }
func (d disc) At(uv, _ UV) (g.Vec3, g.Vec3) {
	u, v := uv.U/d.w, uv.V/d.w
	x, y := d.w*u*math.Sqrt(1-v*v/2), d.w*v*math.Sqrt(1-u*u/2)
	a := math.Hypot(x, y) / d.r
	s := 1 / d.r // of sin(a)/(a r) at the middle
	if a > 1e-9 {
		s = math.Sin(a) / (a * d.r)
	}
	n := g.Vec3{X: x * s, Y: -math.Cos(a), Z: y * s}
	return n.Scale(d.r), n
}

// crate is a closed box of the given length along x with a square section of
// half-side half. V runs round it, four to the turn, U from the middle of one end
// over its edge, along the side, over the other edge and to the middle of the
// other end; a pinhole is left in the middle of either. U is not the station.
type crate struct{ length, half float64 }

func (c crate) Breaks() (u, v []float64, period float64) {
	return []float64{0.1, c.half, c.half + c.length, 2*c.half + c.length - 0.1}, []float64{0, 1, 2, 3, 4}, 4
}
func (c crate) Contains(uv UV) bool { return uv.U >= 0.1 && uv.U <= 2*c.half+c.length-0.1 }
func (c crate) At(uv, in UV) (g.Vec3, g.Vec3) {
	x, r, n := 0.0, uv.U, g.Vec3{X: -1}
	side := int(math.Floor(in.V))
	t := 2*(uv.V-float64(side)) - 1 // across the side, -1 to 1
	e := [4][2]g.Vec3{
		{{Z: 1}, {Y: 1}}, {{Y: 1}, {Z: -1}}, {{Z: -1}, {Y: -1}}, {{Y: -1}, {Z: 1}},
	}[((side%4)+4)%4]
	switch {
	case in.U > c.half+c.length:
		x, r, n = c.length, 2*c.half+c.length-uv.U, g.Vec3{X: 1}
	case in.U > c.half:
		x, r, n = uv.U-c.half, c.half, e[0]
	}
	return g.Vec3{X: x}.Add(e[0].Scale(r)).Add(e[1].Scale(r * t)), n
}
