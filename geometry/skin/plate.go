package skin

import (
	"fmt"
	"math"

	g "maskloft/geometry"
)

// PlateSkin is one face of a flat surface square to the butt line, such as a
// fabric fin or rudder: the plane at half the thickness, inside one or more
// outlines. Film laid over a gap between two outlines (a hinge) spans it
// straight, so both belong to one plate.
//
// V is the waterline.
type PlateSkin struct {
	side     g.Side
	bl       float64
	outlines []*g.Chords
	u, v     []float64
}

// NewPlateSkin returns one face of a plate of the given thickness.
func NewPlateSkin(side g.Side, thickness g.Length, outlines ...[]g.SidePosition) (*PlateSkin, error) {
	if len(outlines) == 0 {
		return nil, fmt.Errorf("a plate needs an outline")
	}
	s := &PlateSkin{side: side, bl: side.Sign() * float64(thickness) / 2}
	all := g.Rect{Min: g.Point{X: math.Inf(1), Y: math.Inf(1)}, Max: g.Point{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, o := range outlines {
		if len(o) < 3 {
			return nil, fmt.Errorf("a plate's outline needs three points or more, got %d", len(o))
		}
		var pts []g.Point
		for _, q := range o {
			pts = append(pts, g.Point{X: q.FS.Inches(), Y: q.WL.Inches()})
		}
		p := g.Path{g.Polygon(pts...)}
		s.outlines = append(s.outlines, g.ChordsOf(p, g.FlattenTolerance))
		all = all.Union(p.Bounds())
	}
	s.u = []float64{all.Min.X, all.Max.X}
	s.v = []float64{all.Min.Y, all.Max.Y}
	return s, nil
}

// Breaks returns the bounds of the outlines.
func (s *PlateSkin) Breaks() (u, v []float64, period float64) { return s.u, s.v, 0 }

// Contains tells whether uv lies inside one of the outlines or on its edge.
func (s *PlateSkin) Contains(uv UV) bool {
	q := g.Point{X: uv.U, Y: uv.V}
	for _, o := range s.outlines {
		if o.Contains(q) || o.Near(q, g.SnapTolerance) {
			return true
		}
	}
	return false
}

// Clearance returns the distance from uv to the nearest edge of the outlines.
func (s *PlateSkin) Clearance(uv UV) g.Length {
	best := math.Inf(1)
	for _, o := range s.outlines {
		best = min(best, o.Distance(g.Point{X: uv.U, Y: uv.V}))
	}
	return g.Length(best)
}

// At returns the point of the plane.
func (s *PlateSkin) At(uv, _ UV) (g.Vec3, g.Vec3) {
	return g.Vec3{X: uv.U, Y: s.bl, Z: uv.V}, g.Vec3{Y: s.side.Sign()}
}
