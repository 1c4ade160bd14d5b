package geometry

import "math"

// Point is a position in a plane, in inches; x to the reader's right, y up.
type Point struct{ X, Y float64 }

// Vec is a displacement in a plane.
type Vec struct{ X, Y float64 }

// Add returns p displaced by v.
func (p Point) Add(v Vec) Point { return Point{p.X + v.X, p.Y + v.Y} }

// Sub returns the displacement from q to p.
func (p Point) Sub(q Point) Vec { return Vec{p.X - q.X, p.Y - q.Y} }

// Dist returns the distance from p to q.
func (p Point) Dist(q Point) float64 { return p.Sub(q).Norm() }

// Lerp returns the point a fraction t of the way from p to q.
func (p Point) Lerp(q Point, t float64) Point {
	return Point{p.X + float64(t*(q.X-p.X)), p.Y + float64(t*(q.Y-p.Y))}
}

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y} }

// Scale returns k times v, each product rounded by itself, as in [Vec.Cross].
func (v Vec) Scale(k float64) Vec { return Vec{float64(k * v.X), float64(k * v.Y)} }

// Dot returns the scalar product.
func (v Vec) Dot(w Vec) float64 { return float64(v.X*w.X) + float64(v.Y*w.Y) }

// Cross returns v.X*w.Y - v.Y*w.X: positive when w lies to the left of v, y up.
// Each product is rounded by itself, so that the sign agrees on every machine.
func (v Vec) Cross(w Vec) float64 { return float64(v.X*w.Y) - float64(v.Y*w.X) }

// Norm returns the length of v: [math.Hypot], but the same to the last bit on every
// machine.
func (v Vec) Norm() float64 {
	x, y := math.Abs(v.X), math.Abs(v.Y)
	long := max(x, y)
	if !(long > 0 && long <= math.MaxFloat64) {
		return long
	}
	part := min(x, y) / long
	return float64(long * math.Sqrt(1+float64(part*part)))
}

// Unit returns v over its length; the zero vector stays zero.
func (v Vec) Unit() Vec {
	n := v.Norm()
	if n == 0 {
		return Vec{}
	}
	return Vec{v.X / n, v.Y / n}
}

// Perp returns v turned a quarter left.
func (v Vec) Perp() Vec { return Vec{-v.Y, v.X} }

// Vec3 is a point or a displacement in aircraft axes: x aft, y right, z up.
type Vec3 struct{ X, Y, Z float64 }

// Add returns a + b.
func (a Vec3) Add(b Vec3) Vec3 { return Vec3{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub returns a - b.
func (a Vec3) Sub(b Vec3) Vec3 { return Vec3{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Scale returns k times a.
func (a Vec3) Scale(k float64) Vec3 {
	return Vec3{float64(k * a.X), float64(k * a.Y), float64(k * a.Z)}
}

// Dot returns the scalar product.
func (a Vec3) Dot(b Vec3) float64 {
	return float64(a.X*b.X) + float64(a.Y*b.Y) + float64(a.Z*b.Z)
}

// Cross returns the right-handed vector product.
func (a Vec3) Cross(b Vec3) Vec3 {
	return Vec3{
		float64(a.Y*b.Z) - float64(a.Z*b.Y),
		float64(a.Z*b.X) - float64(a.X*b.Z),
		float64(a.X*b.Y) - float64(a.Y*b.X),
	}
}

// Norm returns the length of a.
func (a Vec3) Norm() float64 { return math.Sqrt(a.Dot(a)) }

// Unit returns a over its length; the zero vector stays zero.
func (a Vec3) Unit() Vec3 {
	n := a.Norm()
	if n == 0 {
		return Vec3{}
	}
	return a.Scale(1 / n)
}

// Lerp returns the point a fraction t of the way from a to b.
func (a Vec3) Lerp(b Vec3, t float64) Vec3 { return a.Add(b.Sub(a).Scale(t)) }
