package geometry

import "math"

// Rect is an axis-parallel rectangle with Min below and left of Max.
type Rect struct{ Min, Max Point }

// Width returns the extent in x.
func (r Rect) Width() float64 { return r.Max.X - r.Min.X }

// Height returns the extent in y.
func (r Rect) Height() float64 { return r.Max.Y - r.Min.Y }

// Centre returns the middle of r.
func (r Rect) Centre() Point { return r.Min.Lerp(r.Max, 0.5) }

// Grown returns r with every edge moved out by d.
func (r Rect) Grown(d float64) Rect {
	d = float64(d) // a product that is given is rounded by itself
	return Rect{Point{r.Min.X - d, r.Min.Y - d}, Point{r.Max.X + d, r.Max.Y + d}}
}

// Contains tells whether p lies in r or on its edge.
func (r Rect) Contains(p Point) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}

// Touches tells whether r and q have a point in common, or stand no further than
// reach from each other in x and in y.
func (r Rect) Touches(q Rect, reach float64) bool {
	return r.Min.X <= q.Max.X+reach && q.Min.X <= r.Max.X+reach &&
		r.Min.Y <= q.Max.Y+reach && q.Min.Y <= r.Max.Y+reach
}

// Nearest returns the point of r nearest to p: p itself inside.
func (r Rect) Nearest(p Point) Point {
	return Point{max(r.Min.X, min(r.Max.X, p.X)), max(r.Min.Y, min(r.Max.Y, p.Y))}
}

// Union returns the smallest rectangle that holds r and q.
func (r Rect) Union(q Rect) Rect {
	return Rect{
		Point{min(r.Min.X, q.Min.X), min(r.Min.Y, q.Min.Y)},
		Point{max(r.Max.X, q.Max.X), max(r.Max.Y, q.Max.Y)},
	}
}

// emptyRect is the identity of Union.
func emptyRect() Rect {
	inf := math.Inf(1)
	return Rect{Point{inf, inf}, Point{-inf, -inf}}
}

// BoundsOf returns the smallest rectangle that holds the points.
func BoundsOf(points ...Point) Rect {
	r := emptyRect()
	for _, p := range points {
		r = r.Union(Rect{p, p})
	}
	return r
}

// Area returns the signed area of closed c: positive counter-clockwise, y up.
// It is exact for lines and cubics (Green's theorem on the polynomial).
func (c Contour) Area() float64 { return c.areaAbout(Point{}) }

// areaAbout is Area with o as the origin: about a point near by, a far one costs no digits.
func (c Contour) areaAbout(o Point) float64 {
	back := Vec{-o.X, -o.Y}
	sum := 0.0
	a := c.Start.Add(back)
	for _, s := range c.Segments {
		b := s.End.Add(back)
		if s.Kind == Line {
			sum += (float64(a.X*b.Y) - float64(a.Y*b.X)) / 2
		} else {
			sum += sectorOfCubic(a, s.C1.Add(back), s.C2.Add(back), b)
		}
		a = b
	}
	return sum
}

// sectorOfCubic returns the area between a cubic and the origin, positive where it runs
// counter-clockwise round it: the integral of (x dy - y dx)/2 over a Bernstein cubic.
// Derived.
func sectorOfCubic(a, c1, c2, b Point) float64 {
	x, y := [4]float64{a.X, c1.X, c2.X, b.X}, [4]float64{a.Y, c1.Y, c2.Y, b.Y}
	w := func(i, j int) float64 { return float64(x[i]*y[j]) - float64(x[j]*y[i]) }
	return (float64(6*w(0, 1)) + float64(3*w(0, 2)) + w(0, 3) + float64(3*w(1, 2)) + float64(3*w(1, 3)) + float64(6*w(2, 3))) / 20
}

// Area returns the area of the region: outer contours less holes.
func (p Path) Area() float64 {
	sum := 0.0
	for _, c := range p {
		sum += c.Area()
	}
	return sum
}

// Bounds returns the tight bounds of c, extremes of cubics included.
func (c Contour) Bounds() Rect {
	r := Rect{c.Start, c.Start}
	for i, s := range c.Segments {
		r = r.Union(Rect{s.End, s.End})
		if s.Kind != Cubic {
			continue
		}
		a := c.From(i)
		for _, v := range [2][4]float64{{a.X, s.C1.X, s.C2.X, s.End.X}, {a.Y, s.C1.Y, s.C2.Y, s.End.Y}} {
			ts, n := cubicExtremes(&v)
			for _, t := range ts[:n] {
				q := c.At(i, t)
				r = r.Union(Rect{q, q})
			}
		}
	}
	return r
}

// cubicExtremes returns the parameters in (0, 1) where the derivative of a cubic, by its
// control values, vanishes, in order, and how many.
func cubicExtremes(v *[4]float64) (ts [2]float64, n int) {
	all, m := twoRoots(-v[0]+float64(3*v[1])-float64(3*v[2])+v[3], 2*(v[0]-2*v[1]+v[2]), v[1]-v[0])
	if m == 2 && all[0] > all[1] {
		all[0], all[1] = all[1], all[0]
	}
	for _, t := range all[:m] {
		if t > 0 && t < 1 {
			ts[n] = t
			n++
		}
	}
	return ts, n
}

// Bounds returns the tight bounds of all contours; zero for an empty path.
func (p Path) Bounds() Rect {
	if len(p) == 0 {
		return Rect{}
	}
	r := p[0].Bounds()
	for _, c := range p[1:] {
		r = r.Union(c.Bounds())
	}
	return r
}

// Length returns the length of c, cubics by Gauss-Legendre quadrature, 16
// points a half: within 1e-9 of it for the gentle cubics of an outline.
func (c Contour) Length() float64 {
	sum := 0.0
	for i, s := range c.Segments {
		if s.Kind == Line {
			sum += c.From(i).Dist(s.End)
			continue
		}
		speed := func(t float64) float64 { return c.Velocity(i, t).Norm() }
		sum += Integrate(speed, 0, 0.5) + Integrate(speed, 0.5, 1)
	}
	return sum
}

// Length returns the length of all contours of p.
func (p Path) Length() float64 {
	sum := 0.0
	for _, c := range p {
		sum += c.Length()
	}
	return sum
}

// Contains tells whether q lies inside p by the even-odd rule, curves taken as
// chords within tolerance. A point on the outline may answer either way.
func (p Path) Contains(q Point, tolerance float64) bool {
	in := false
	for _, c := range p {
		var first, last Point
		begun := false
		c.sample(tolerance, func(s Sample) {
			if !begun {
				first, begun = s.Point, true
			} else if RayCrosses(q, s.Point, last) {
				in = !in
			}
			last = s.Point
		})
		if RayCrosses(q, first, last) {
			in = !in
		}
	}
	return in
}

// Inside tells whether q lies inside closed polygons by the even-odd rule. A point
// on a side may answer either way.
func Inside(q Point, rings ...[]Point) bool {
	in := false
	for _, r := range rings {
		for i, j := 0, len(r)-1; i < len(r); j, i = i, i+1 {
			if RayCrosses(q, r[i], r[j]) {
				in = !in
			}
		}
	}
	return in
}

// RayCrosses tells whether the ray from q to the right crosses the side ab, the
// lower end of a side taken to it and the upper one not: q lies inside the outlines
// whose sides it crosses an odd number of times.
func RayCrosses(q, a, b Point) bool {
	return (a.Y > q.Y) != (b.Y > q.Y) && q.X < (b.X-a.X)*(q.Y-a.Y)/(b.Y-a.Y)+a.X
}

// Distance returns the distance from q to the nearest point of the outlines of
// p, curves taken as chords within tolerance; +Inf for an empty path.
func (p Path) Distance(q Point, tolerance float64) float64 {
	best := math.Inf(1)
	for _, c := range p {
		last := c.Start
		c.sample(tolerance, func(s Sample) {
			best = LeastDistance(best, q, last, s.Point)
			last = s.Point
		})
		if c.Closed() {
			best = LeastDistance(best, q, last, c.Start)
		}
	}
	return best
}

// NearestOnSegment returns the point of the straight from a to b nearest to q.
func NearestOnSegment(q, a, b Point) Point {
	d := b.Sub(a)
	n := d.Dot(d)
	if n == 0 {
		return a
	}
	return a.Lerp(b, max(0, min(1, q.Sub(a).Dot(d)/n)))
}

// SegmentDistance returns the distance from q to the straight from a to b.
func SegmentDistance(q, a, b Point) float64 { return q.Dist(NearestOnSegment(q, a, b)) }

// LeastDistance returns a distance, or that from q to the straight from a to b where that
// is less.
func LeastDistance(best float64, q, a, b Point) float64 {
	d := NearestOnSegment(q, a, b).Sub(q)
	if further(d, best) {
		return best
	}
	return min(best, d.Norm())
}

// further tells that a vector is longer than a length, without its root; it may say that
// of none that is longer by less than rounding.
func further(v Vec, length float64) bool {
	const slack = 1e-9 // inches
	return v.Dot(v) > (length+slack)*(length+slack)
}

// Centroid returns the centre of area of polygons and their signed area, holes
// clockwise; the origin where they enclose nothing. It is taken about the first
// point, so that a far origin costs no digits.
func Centroid(rings ...[]Point) (centre Point, area float64) {
	var o Point
	if len(rings) > 0 && len(rings[0]) > 0 {
		o = rings[0][0]
	}
	var sum Vec
	for _, r := range rings {
		for i, p := range r {
			u, v := p.Sub(o), r[(i+1)%len(r)].Sub(o)
			cross := u.Cross(v)
			area += cross / 2
			sum = sum.Add(u.Add(v).Scale(cross / 6))
		}
	}
	if area == 0 {
		return Point{}, 0
	}
	return o.Add(sum.Scale(1 / area)), area
}

// Nodes and weights of 16-point Gauss-Legendre quadrature on [-1, 1], positive
// half (Abramowitz and Stegun, table 25.4; from memory, checked by test).
var gauss16 = [8][2]float64{
	{0.0950125098376374, 0.1894506104550685},
	{0.2816035507792589, 0.1826034150449236},
	{0.4580167776572274, 0.1691565193950025},
	{0.6178762444026438, 0.1495959888165767},
	{0.7554044083550030, 0.1246289712555339},
	{0.8656312023878318, 0.0951585116824928},
	{0.9445750230732326, 0.0622535239386479},
	{0.9894009349916499, 0.0271524594117541},
}

// Integrate returns the integral of f over [a, b] by 16-point Gauss-Legendre
// quadrature, exact for polynomials of degree 31.
func Integrate(f func(float64) float64, a, b float64) float64 {
	m, h := (a+b)/2, (b-a)/2
	sum := 0.0
	for _, g := range gauss16 {
		sum += float64(g[1] * (f(m-float64(h*g[0])) + f(m+float64(h*g[0]))))
	}
	return sum * h
}
