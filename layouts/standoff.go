package layouts

import (
	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// standingOff returns the bodies of an obstacle that stands off its skin, one for each
// side and face that it is on: a ring or spot as a cylinder about the skin's normal at
// its middle, what fills an opening as a prism along the line of sight of the view that
// it is given in (butt lines on a body, waterlines on a wing). An obstacle that is not
// on the skin has none: [Layout.ObstaclesOn] tells it.
func (a *Airframe) standingOff(o ObstacleSpec) []func(p g.Vec3, depth float64) bool {
	if !(o.Solid > 0) {
		return nil
	}
	var out []func(p g.Vec3, depth float64) bool
	for _, side := range o.Side.List() {
		for _, face := range o.facesOf() {
			s, err := a.surfaceOf(o, side, face)
			if err != nil {
				continue
			}
			if o.Kind == Opening {
				out = append(out, prismOff(o, s, side, face))
				continue
			}
			uv, err := o.Locate(s, side, o.Middle())
			if err != nil {
				continue
			}
			middle, normal := s.At(uv, uv)
			out = append(out, cylinderOff(middle, normal, o.Size.Inches()/2, o.Solid.Inches()))
		}
	}
	return out
}

// facesOf returns the faces of a wing that an obstacle is on; of a body, none in
// particular.
func (o ObstacleSpec) facesOf() []Face {
	switch {
	case !o.OnWing:
		return []Face{NoFace}
	case o.Face == NoFace:
		return []Face{UpperFace, LowerFace}
	}
	return []Face{o.Face}
}

func (a *Airframe) surfaceOf(o ObstacleSpec, side g.Side, face Face) (skin.Surface, error) {
	if face != NoFace {
		return a.WingSurface(o.Surface, side, face)
	}
	return a.Surface([]string{o.Surface}, side)
}

// cylinderOff tells points deeper than a depth in a cylinder on the skin. Below the
// skin it goes on for an inch, so that nothing lies between both.
func cylinderOff(middle, normal g.Vec3, radius, height float64) func(p g.Vec3, depth float64) bool {
	return func(p g.Vec3, depth float64) bool {
		d := p.Sub(middle)
		up := d.Dot(normal)
		if up < -1 || up > height-depth {
			return false
		}
		return d.Sub(normal.Scale(up)).Norm() < radius-depth
	}
}

// prismOff tells points deeper than a depth in what fills an opening.
func prismOff(o ObstacleSpec, s skin.Surface, side g.Side, face Face) func(p g.Vec3, depth float64) bool {
	region := g.Path{g.Polygon(o.Corners()...)}
	box := region.Bounds()
	off := func(p g.Vec3) float64 { return p.Y * side.Sign() }
	if face != NoFace {
		off = func(p g.Vec3) float64 { return p.Z * map[Face]float64{UpperFace: 1, LowerFace: -1}[face] }
	}
	return func(p g.Vec3, depth float64) bool {
		q := o.Seen(g.PositionOf(p))
		if p.Y*side.Sign() < 0 || !box.Contains(q) || !region.Contains(q, g.FlattenTolerance) || region.Distance(q, g.FlattenTolerance) < depth {
			return false
		}
		uv, err := o.Locate(s, side, q)
		if err != nil {
			return false
		}
		out := off(p) - off(skin.PointAt(s, uv))
		return out > -1 && out < o.Solid.Inches()-depth
	}
}
