package skin

import (
	"math"
	"sort"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// Sighting is a skin made ready for lines of sight: each panel as a grid of points
// close enough that its triangles lie near it. A line of sight is first held against
// the triangles, then moved onto the true skin.
type Sighting struct {
	s      Surface
	panels []sightPanel
}

// sightPanel is one panel: its points row by row of V, and a ball round them.
type sightPanel struct {
	in     UV
	us, vs []float64
	points []g.Vec3
	centre g.Vec3
	radius float64
}

// NewSighting returns the skin with eight cells along each panel, and one for every
// eighth of a radian that its normal turns.
func NewSighting(s Surface) *Sighting {
	ub, vb, _ := s.Breaks()
	q := &Sighting{s: s}
	for i := 0; i+1 < len(ub); i++ {
		for k := 0; k+1 < len(vb); k++ {
			q.panels = append(q.panels, newSightPanel(s, ub[i], ub[i+1], vb[k], vb[k+1]))
		}
	}
	return q
}

func newSightPanel(s Surface, u0, u1, v0, v1 float64) sightPanel {
	p := sightPanel{in: UV{(u0 + u1) / 2, (v0 + v1) / 2}}
	turn := 0.0
	_, last := s.At(UV{u0, p.in.V}, p.in)
	for k := 1; k <= 4; k++ {
		_, now := s.At(UV{u0 + (u1-u0)*float64(k)/4, p.in.V}, p.in)
		turn, last = turn+same.Acos(max(-1, min(1, now.Dot(last)))), now
	}
	nu, nv := max(8, int(math.Ceil(turn*8))), max(4, searchSteps(s, p.in.U, v0, v1))
	for i := 0; i <= nu; i++ {
		p.us = append(p.us, u0+(u1-u0)*float64(i)/float64(nu))
	}
	for k := 0; k <= nv; k++ {
		p.vs = append(p.vs, v0+(v1-v0)*float64(k)/float64(nv))
	}
	lo, hi := g.Vec3{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}, g.Vec3{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)}
	for _, v := range p.vs {
		for _, u := range p.us {
			x, _ := s.At(UV{u, v}, p.in)
			p.points = append(p.points, x)
			lo = g.Vec3{X: min(lo.X, x.X), Y: min(lo.Y, x.Y), Z: min(lo.Z, x.Z)}
			hi = g.Vec3{X: max(hi.X, x.X), Y: max(hi.Y, x.Y), Z: max(hi.Z, x.Z)}
		}
	}
	p.centre, p.radius = lo.Lerp(hi, 0.5), hi.Sub(lo).Norm()/2
	return p
}

// SightHit is where a line of sight meets a skin.
type SightHit struct {
	UV       UV
	Point    g.Vec3
	Distance float64 // inches along the line
	Cosine   float64 // of the angle between the line, looked back along, and the outward normal: below 0 the inside is seen
}

// Meets returns where the half-line from a point in a direction of unit length
// meets the skin, nearest first, to 1e-9 in. A line that grazes the skin within
// a few hundredths of an inch may pass it by.
func (q *Sighting) Meets(from, dir g.Vec3) []SightHit {
	var out []SightHit
	q.triangles(from, dir, func(p *sightPanel, uv UV, _ float64) bool {
		if hit, ok := q.onto(p, from, dir, uv); ok && q.s.Contains(hit.UV) {
			out = append(out, hit)
		}
		return true
	})
	sort.SliceStable(out, func(i, j int) bool { return out[i].Distance < out[j].Distance })
	kept := out[:0]
	for i, h := range out { // two triangles may both be met on their edge
		if i == 0 || h.Distance-kept[len(kept)-1].Distance > 0.01 {
			kept = append(kept, h)
		}
	}
	return kept
}

// Hides tells whether skin stands between two points, nearer to the first than to
// within slack, in inches, of the second.
func (q *Sighting) Hides(from, to g.Vec3, slack float64) bool {
	d := to.Sub(from)
	far := d.Norm()
	if far <= slack {
		return false
	}
	hidden := false
	q.triangles(from, d.Scale(1/far), func(_ *sightPanel, uv UV, t float64) bool {
		hidden = t < far-slack && q.s.Contains(uv)
		return !hidden
	})
	return hidden
}

// triangles calls use for every triangle that a half-line meets, with the
// parameters there, until use returns false.
func (q *Sighting) triangles(from, dir g.Vec3, use func(p *sightPanel, uv UV, t float64) bool) {
	for i := range q.panels {
		p := &q.panels[i]
		d := p.centre.Sub(from)
		along := d.Dot(dir)
		if along < -p.radius || d.Dot(d)-float64(along*along) > float64(p.radius*p.radius*1.0001)+1e-9 {
			continue
		}
		n := len(p.us)
		for k := 0; k+1 < len(p.vs); k++ {
			for m := 0; m+1 < n; m++ {
				c := [4]g.Vec3{p.points[k*n+m], p.points[k*n+m+1], p.points[(k+1)*n+m+1], p.points[(k+1)*n+m]}
				for half := range 2 {
					a, b := c[1+half], c[2+half]
					t, x, y, ok := meetsTriangle(from, dir, c[0], a, b)
					if !ok {
						continue
					}
					// corner 0 is (0, 0); 1 is (1, 0), 2 is (1, 1), 3 is (0, 1) of the cell
					fu, fv := x+y, y
					if half == 1 {
						fu, fv = x, x+y
					}
					uv := UV{p.us[m] + float64(fu*(p.us[m+1]-p.us[m])), p.vs[k] + float64(fv*(p.vs[k+1]-p.vs[k]))}
					if !use(p, uv, t) {
						return
					}
				}
			}
		}
	}
}

// meetsTriangle returns how far along a half-line a triangle is met, and the
// shares of b and c there (Moeller and Trumbore, Fast, Minimum Storage
// Ray/Triangle Intersection, 1997; from memory).
func meetsTriangle(from, dir, a, b, c g.Vec3) (t, x, y float64, ok bool) {
	e, f := b.Sub(a), c.Sub(a)
	h := dir.Cross(f)
	det := e.Dot(h)
	if det == 0 {
		return 0, 0, 0, false
	}
	const slack = 1e-9 // so that no line slips between two triangles
	s := from.Sub(a)
	x = s.Dot(h) / det
	if x < -slack || x > 1+slack {
		return 0, 0, 0, false
	}
	k := s.Cross(e)
	y = dir.Dot(k) / det
	if y < -slack || x+y > 1+slack {
		return 0, 0, 0, false
	}
	t = f.Dot(k) / det
	return t, x, y, t > 0
}

// onto moves a hit from the triangle onto the true skin of its panel, by Newton's
// steps across the line; false where the line leaves the panel.
func (q *Sighting) onto(p *sightPanel, from, dir g.Vec3, uv UV) (SightHit, bool) {
	// two directions across the line
	e := dir.Cross(g.Vec3{X: 1})
	if math.Abs(dir.X) > 0.9 {
		e = dir.Cross(g.Vec3{Y: 1})
	}
	e = e.Unit()
	f := dir.Cross(e)
	off := func(uv UV) g.Point {
		x, _ := q.s.At(uv, p.in)
		d := x.Sub(from)
		return g.Point{X: d.Dot(e), Y: d.Dot(f)}
	}
	du, dv := p.us[len(p.us)-1]-p.us[0], p.vs[len(p.vs)-1]-p.vs[0]
	for range 20 {
		at := off(uv)
		if same.Hypot(at.X, at.Y) < 1e-10 {
			break
		}
		hu, hv := float64(du*1e-6), float64(dv*1e-6)
		a := off(UV{uv.U + hu, uv.V}).Sub(off(UV{uv.U - hu, uv.V})).Scale(0.5 / hu)
		b := off(UV{uv.U, uv.V + hv}).Sub(off(UV{uv.U, uv.V - hv})).Scale(0.5 / hv)
		det := a.Cross(b)
		if det == 0 {
			return SightHit{}, false
		}
		r := g.Vec{X: -at.X, Y: -at.Y}
		uv.U += r.Cross(b) / det
		uv.V += a.Cross(r) / det
	}
	// a line met on the edge of a panel's triangles may meet the true skin just beyond
	const over = 0.01
	if uv.U < p.us[0]-float64(over*du) || uv.U > p.us[len(p.us)-1]+float64(over*du) || uv.V < p.vs[0]-float64(over*dv) || uv.V > p.vs[len(p.vs)-1]+float64(over*dv) {
		return SightHit{}, false
	}
	x, n := q.s.At(uv, p.in)
	at := off(uv)
	if same.Hypot(at.X, at.Y) > 1e-7 {
		return SightHit{}, false
	}
	t := x.Sub(from).Dot(dir)
	return SightHit{UV: uv, Point: x, Distance: t, Cosine: -n.Dot(dir)}, t > 0
}
