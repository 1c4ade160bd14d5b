package skin

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// StringerSection is a cross-section of a stringer fuselage: points on the named
// lines from crown to keel, right side, BL >= 0.
type StringerSection struct {
	FS     g.Station
	Points []g.Position // FS of each is ignored
}

// StringerSkin is fabric over straight stringers: between two sections every
// line is straight, and between two neighbouring lines the fabric is the ruled
// (bilinear) bay that straight threads from line to line make. Bays are flat
// unless the two lines are skew; a twisted bay is always saddle-shaped and
// cannot be unrolled, which the strain of its flat map reports.
//
// With sag the fabric hangs hollow between the lines: a parabola across each bay,
// as deep as sag in the widest bay at the widest section, elsewhere by the square
// of the width, as fabric of even tension does (derived). A bay of even width is
// then a trough that can still be unrolled.
//
// V = k on line k, from the crown (0) down the right side to the keel (n), and
// up the left side to 2n, the crown again.
type StringerSkin struct {
	sections []StringerSection
	u, v     []float64
	loop     int     // lines round the whole section
	hollow   float64 // sag over the square of the widest bay
}

// NewStringerSkin returns the skin through at least two sections in order of FS,
// each with the same number, at least two, of points. Errors name the section.
func NewStringerSkin(sections []StringerSection) (*StringerSkin, error) {
	if len(sections) < 2 {
		return nil, fmt.Errorf("a skin needs two sections or more, got %d", len(sections))
	}
	n := len(sections[0].Points)
	if n < 2 {
		return nil, fmt.Errorf("a section needs two lines or more, got %d", n)
	}
	s := &StringerSkin{sections: sections, loop: 2 * (n - 1)}
	for i, sec := range sections {
		if len(sec.Points) != n {
			return nil, g.Errorf("section FS %v has %d points, the first has %d", sec.FS, len(sec.Points), n)
		}
		if i > 0 && sec.FS <= sections[i-1].FS {
			return nil, g.Errorf("section FS %v does not lie aft of FS %v", sec.FS, sections[i-1].FS)
		}
		s.u = append(s.u, sec.FS.Inches())
	}
	if err := checkStringers(sections); err != nil {
		return nil, err
	}
	for k := 0; k <= s.loop; k++ {
		s.v = append(s.v, float64(k))
	}
	return s, nil
}

// WithSag returns the same skin with its fabric hollow by the given depth in the
// widest bay.
func (s *StringerSkin) WithSag(sag g.Length) *StringerSkin {
	widest := 0.0
	for _, sec := range s.sections {
		for k := 1; k < len(sec.Points); k++ {
			a, b := sec.Points[k-1], sec.Points[k]
			widest = max(widest, same.Hypot(float64(b.BL-a.BL), float64(b.WL-a.WL)))
		}
	}
	out := *s
	out.hollow = sag.Inches() / (widest * widest)
	return &out
}

// Breaks lists the sections and the lines round the fuselage.
func (s *StringerSkin) Breaks() (u, v []float64, period float64) {
	return s.u, s.v, float64(s.loop)
}

// Contains tells whether uv lies between the first and the last section.
func (s *StringerSkin) Contains(uv UV) bool {
	return uv.U >= s.u[0]-1e-9 && uv.U <= s.u[len(s.u)-1]+1e-9
}

// Line returns the point of line k of the right side at a station; k counts from
// the crown. Negative sign gives the left side.
func (s *StringerSkin) Line(k int, fs g.Station, side g.Side) g.Position {
	i := cellOf(s.u, fs.Inches())
	p, _ := s.onLine(i, k, fs.Inches())
	p.Y *= side.Sign()
	return g.PositionOf(p)
}

// onLine returns the point and the derivative by station of line k (counted
// round the loop) in bay i.
func (s *StringerSkin) onLine(i, k int, u float64) (p, du g.Vec3) {
	k = ((k % s.loop) + s.loop) % s.loop
	sign := 1.0
	if k > s.loop/2 {
		k, sign = s.loop-k, -1
	}
	a, b := s.sections[i], s.sections[i+1]
	span := float64(b.FS - a.FS)
	t := (u - a.FS.Inches()) / span
	pa, pb := a.Points[k], b.Points[k]
	y0, y1 := float64(sign*pa.BL.Inches()), float64(sign*pb.BL.Inches())
	z0, z1 := pa.WL.Inches(), pb.WL.Inches()
	return g.Vec3{X: u, Y: y0 + float64(t*(y1-y0)), Z: z0 + float64(t*(z1-z0))},
		g.Vec3{X: 1, Y: (y1 - y0) / span, Z: (z1 - z0) / span}
}

// At returns the point of the bay that holds in, and its normal.
func (s *StringerSkin) At(uv, in UV) (g.Vec3, g.Vec3) {
	i, k := cellOf(s.u, in.U), int(math.Floor(in.V))
	a, da := s.onLine(i, k, uv.U)
	b, db := s.onLine(i, k+1, uv.U)
	t := uv.V - float64(k)
	p, su, sv := a.Lerp(b, t), da.Lerp(db, t), b.Sub(a)
	if s.hollow != 0 {
		// inwards and square to the bay's chord c in the section, times |c|
		c, dc := b.Sub(a), db.Sub(da)
		width := c.Norm()
		in, din := g.Vec3{Y: c.Z, Z: -c.Y}, g.Vec3{Y: dc.Z, Z: -dc.Y}
		q := in.Scale(width)
		dq := in.Scale(c.Dot(dc) / width).Add(din.Scale(width))
		deep := 4 * t * (1 - t) * s.hollow
		p, su = p.Add(q.Scale(deep)), su.Add(dq.Scale(deep))
		sv = sv.Add(q.Scale(4 * (1 - 2*t) * s.hollow))
	}
	return p, su.Cross(sv).Unit()
}
