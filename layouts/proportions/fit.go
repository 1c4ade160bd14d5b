package proportions

import (
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// circleFit is a circle and the scatter of the nodes about it.
type circleFit struct {
	centre geometry.Point
	radius float64
	rms    float64
}

// circleThrough fits a circle: the algebraic fit as a start, then Gauss-Newton on
// the distances themselves, which frees short arcs of the algebraic fit's pull
// towards small radii. False where the points lie on a line.
func circleThrough(pts []geometry.Point) (circleFit, bool) {
	n := float64(len(pts))
	if n < 3 {
		return circleFit{}, false
	}
	var mx, my, size float64
	for _, p := range pts {
		mx, my = mx+p.X/n, my+p.Y/n
	}
	for _, p := range pts {
		size = math.Max(size, same.Hypot(p.X-mx, p.Y-my))
	}
	var xx, xy, yy, xz, yz float64
	for _, p := range pts {
		u, v := (p.X-mx)/size, (p.Y-my)/size
		z := float64(u*u) + float64(v*v)
		xx, xy, yy, xz, yz = xx+float64(u*u), xy+float64(u*v), yy+float64(v*v), xz+float64(u*z), yz+float64(v*z)
	}
	det := float64(xx*yy) - float64(xy*xy)
	if !(det > 1e-12*(xx+yy)*(xx+yy)) {
		return circleFit{}, false
	}
	a, b := (float64(xz*yy)-float64(yz*xy))/det/2, (float64(yz*xx)-float64(xz*xy))/det/2
	f := circleFit{centre: geometry.Point{X: mx + float64(a*size), Y: my + float64(b*size)}}
	for range 8 {
		m, rms := aboutCentre(pts, f.centre)
		f.radius, f.rms = m, rms
		d, ok := centreStep(pts, f.centre, m)
		if !ok || d.Norm() > size {
			break
		}
		if f.centre = f.centre.Add(d); d.Norm() < 1e-10*size {
			break
		}
	}
	f.radius, f.rms = aboutCentre(pts, f.centre)
	return f, true
}

// aboutCentre returns the mean distance of the points from c and its scatter.
func aboutCentre(pts []geometry.Point, c geometry.Point) (mean, rms float64) {
	n := float64(len(pts))
	for _, p := range pts {
		mean += p.Dist(c) / n
	}
	for _, p := range pts {
		d := p.Dist(c) - mean
		rms += d * d / n
	}
	return mean, math.Sqrt(rms)
}

// centreStep is one Gauss-Newton step of the centre with the radius left free.
func centreStep(pts []geometry.Point, c geometry.Point, radius float64) (geometry.Vec, bool) {
	var s normal
	s.add(pts, c, radius)
	return s.solve()
}

// normal gathers the normal equations of a common centre over arcs of any radii.
type normal struct{ uu, uv, vv, ur, vr float64 }

func (s *normal) add(pts []geometry.Point, c geometry.Point, radius float64) {
	n := float64(len(pts))
	var mu, mv float64
	for _, p := range pts {
		d := p.Sub(c).Unit()
		mu, mv = mu+d.X/n, mv+d.Y/n
	}
	for _, p := range pts {
		d, r := p.Sub(c).Unit(), p.Dist(c)-radius
		u, v := d.X-mu, d.Y-mv
		s.uu, s.uv, s.vv, s.ur, s.vr = s.uu+float64(u*u), s.uv+float64(u*v), s.vv+float64(v*v), s.ur+float64(u*r), s.vr+float64(v*r)
	}
}

func (s *normal) solve() (geometry.Vec, bool) {
	det := float64(s.uu*s.vv) - float64(s.uv*s.uv)
	if !(det > 1e-12*(s.uu+s.vv)*(s.uu+s.vv)) {
		return geometry.Vec{}, false
	}
	return geometry.Vec{X: (float64(s.ur*s.vv) - float64(s.vr*s.uv)) / det, Y: (float64(s.vr*s.uu) - float64(s.ur*s.uv)) / det}, true
}

// lineFit is a straight line: a point on it, its direction, the scatter of the
// nodes about it, their number and their spread along it.
type lineFit struct {
	at     geometry.Point
	dir    geometry.Vec
	rms    float64
	own    float64 // independent nodes
	spread float64 // standard deviation along the line
	from   float64 // ends along dir, from at
	to     float64
}

// lineThrough fits a line by total least squares. The weights of the points are
// 1; false where they are one point.
func lineThrough(pts []geometry.Point, own int) (lineFit, bool) {
	n := float64(len(pts))
	if n < 2 {
		return lineFit{}, false
	}
	var mx, my, xx, xy, yy float64
	for _, p := range pts {
		mx, my = mx+p.X/n, my+p.Y/n
	}
	for _, p := range pts {
		u, v := p.X-mx, p.Y-my
		xx, xy, yy = xx+float64(u*u), xy+float64(u*v), yy+float64(v*v)
	}
	if !(xx+yy > 0) {
		return lineFit{}, false
	}
	sin, cos := same.Sincos(same.Atan2(2*xy, xx-yy) / 2)
	f := lineFit{at: geometry.Point{X: mx, Y: my}, dir: geometry.Vec{X: cos, Y: sin}, own: math.Max(2, float64(own))}
	h := same.Hypot((xx-yy)/2, xy)
	f.rms = math.Sqrt(math.Max(0, (xx+yy)/2-h) / n)
	f.spread = math.Sqrt(((xx+yy)/2 + h) / n)
	for _, p := range pts {
		t := p.Sub(f.at).Dot(f.dir)
		f.from, f.to = math.Min(f.from, t), math.Max(f.to, t)
	}
	return f, true
}

// offset returns the distance of q from the line, positive to the left of dir.
func (f lineFit) offset(q geometry.Point) float64 { return f.dir.Cross(q.Sub(f.at)) }

// middle returns the middle of the line's points.
func (f lineFit) middle() geometry.Point { return f.at.Add(f.dir.Scale((f.from + f.to) / 2)) }

// foot returns the point of the line nearest to q.
func (f lineFit) foot(q geometry.Point) geometry.Point {
	return f.at.Add(f.dir.Scale(q.Sub(f.at).Dot(f.dir)))
}

// errorAt returns the standard error of the line's place across, at the point of
// the line nearest to q, for a scatter of the nodes (textbook regression).
func (f lineFit) errorAt(q geometry.Point, scatter float64) float64 {
	t := q.Sub(f.at).Dot(f.dir) / math.Max(f.spread, 1e-12)
	return scatter * math.Sqrt((1+float64(t*t))/f.own)
}

// errorOfAngle returns the standard error of the direction, radians.
func (f lineFit) errorOfAngle(scatter float64) float64 {
	return scatter / (math.Max(f.spread, 1e-12) * math.Sqrt(f.own))
}

// crossing returns where two lines meet; false where they hardly do.
func crossing(a, b lineFit) (geometry.Point, bool) {
	d := a.dir.Cross(b.dir)
	if math.Abs(d) < 0.05 {
		return geometry.Point{}, false
	}
	return a.at.Add(a.dir.Scale(b.at.Sub(a.at).Cross(b.dir) / d)), true
}

// crossingError returns the standard error of where two lines meet, in any one
// direction (the worst, derived: the across errors over the sine between).
func crossingError(a, b lineFit, q geometry.Point, scatter float64) float64 {
	return same.Hypot(a.errorAt(q, scatter), b.errorAt(q, scatter)) / math.Abs(a.dir.Cross(b.dir))
}
