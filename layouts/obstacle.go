package layouts

import (
	"fmt"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
)

// Distances that paint keeps from obstacles and from the edges of a surface where
// the file says nothing (common practice, no source).
const (
	UsualClear      = geometry.Inch / 2
	UsualHingeClear = geometry.Inch / 4 // a gap of lettering that spans a hinge is seldom wider than 1-1/3 in
)

// Obstacle is an obstacle on the surface of a marking, on its side.
type Obstacle struct {
	ObstacleSpec
	At skin.UV // centre (ring, spot)
	V  float64 // of the line (tape)
}

// Keeps tells whether paint must keep off the obstacle: it may lie over tape.
func (o ObstacleSpec) Keeps() bool { return o.Kind != FinishingTape && o.Kind != Around }

// StopsTapes tells whether no tape along the skin can cross the obstacle: a hole, or a
// part that stands off the skin.
func (o ObstacleSpec) StopsTapes() bool { return o.Kind == Opening || o.Solid > 0 }

// ObstaclesOn returns the obstacles on the surfaces and the side of a placement,
// in the order of the file; of a wing, those of its face.
//
// Findings: a ring or spot that does not lie on the skin.
func (l *Layout) ObstaclesOn(p Placement) ([]Obstacle, []Finding) {
	var out []Obstacle
	var findings []Finding
	for _, spec := range l.Spec.Aircraft.Obstacles {
		if !spec.Under(p) {
			continue
		}
		o := Obstacle{ObstacleSpec: spec}
		var err error
		switch spec.Kind {
		case Ring, Spot:
			o.At, err = spec.Locate(p.Surface, p.Side, spec.Middle())
		case FinishingTape:
			o.V, err = l.Airframe.lineV(p.Surface, []string{spec.Surface}, spec.Line, p.Side)
		}
		if err != nil {
			findings = append(findings, Finding{
				Level: Warn, Rule: "obstacle-off-skin", Marking: p.ID(), Where: geometry.Position{FS: spec.At.FS, BL: spec.BL * geometry.ButtLine(p.Side.Sign()), WL: spec.At.WL},
				Message: fmt.Sprintf("%s: the obstacle %s cannot be placed on %s, so nothing keeps clear of it: %s", p.ID(), spec.ID, spec.Surface, geometry.ErrorIn(p.Read, err)),
				Hint:    "correct its place under obstacles:", Source: "derived",
			})
			continue
		}
		out = append(out, o)
	}
	return out, findings
}

// Under tells whether the obstacle is on the surface, the side and the face of a
// placement.
func (o ObstacleSpec) Under(p Placement) bool {
	return slices.Contains(o.Side.List(), p.Side) && slices.Contains(p.Marking.Where.Surfaces, o.Surface) && o.OnFace(p.Face())
}

// OnFace tells whether the obstacle is on a face of a wing: on both, or on that one.
func (o ObstacleSpec) OnFace(face Face) bool { return o.Face == NoFace || o.Face == face }

// Middle is the place of a ring or spot in the view that it is given in: x is the
// station, y the waterline or, on a wing, the butt line outwards.
func (o ObstacleSpec) Middle() geometry.Point {
	if o.OnWing {
		return geometry.Point{X: o.At.FS.Inches(), Y: o.BL.Inches()}
	}
	return geometry.Point{X: o.At.FS.Inches(), Y: o.At.WL.Inches()}
}

// Corners are those of an opening, in the frame of [ObstacleSpec.Middle].
func (o ObstacleSpec) Corners() []geometry.Point {
	var out []geometry.Point
	for _, q := range o.Points {
		out = append(out, geometry.Point{X: q.FS.Inches(), Y: q.WL.Inches()})
	}
	for _, q := range o.Plan {
		out = append(out, geometry.Point{X: q.FS.Inches(), Y: q.BL.Inches()})
	}
	return out
}

// Seen returns a position of the skin in the frame of [ObstacleSpec.Middle].
func (o ObstacleSpec) Seen(at geometry.Position) geometry.Point {
	if o.OnWing {
		return geometry.Point{X: at.FS.Inches(), Y: math.Abs(at.BL.Inches())}
	}
	return geometry.Point{X: at.FS.Inches(), Y: at.WL.Inches()}
}

// Locate returns the point of the skin that a point of that frame is.
//
// Error: there is no skin.
func (o ObstacleSpec) Locate(s skin.Surface, side geometry.Side, q geometry.Point) (skin.UV, error) {
	if wing, ok := s.(*skin.LiftingSkin); ok && o.OnWing {
		return wing.LocatePlan(geometry.Station(q.X), geometry.ButtLine(q.Y*side.Sign()))
	}
	return skin.LocateSide(s, side, geometry.SidePosition{FS: geometry.Station(q.X), WL: geometry.Waterline(q.Y)})
}

// Moved returns a placement shifted on the skin: aft by a length of station, and up
// by a length of waterline, or of girth where its height is given by one; on a wing,
// outwards by a length of butt line.
//
// Errors: there is no skin; the height is given by two lines and cannot be
// shifted.
func (l *Layout) Moved(p Placement, aft, up geometry.Length) (Placement, error) {
	m := *p.Marking
	if up != 0 && m.Where.Height == HeightBetween {
		return p, fmt.Errorf("%s cannot be shifted so", p.ID())
	}
	m.Where.FS += geometry.Station(aft)
	var uv skin.UV
	var err error
	if wing, ok := p.Surface.(*skin.LiftingSkin); ok && p.Face() != NoFace {
		m.Where.BL += geometry.ButtLine(up)
		if uv, p.Frame, err = onWing(wing, m.Where, p.Side); err != nil {
			return p, err
		}
	} else {
		m.Where.WL += geometry.Waterline(up)
		m.Where.Down -= up
		if uv, err = l.Airframe.anchor(p.Surface, m.Where, p.Side); err != nil {
			return p, err
		}
		if !p.Surface.Contains(uv) {
			return p, fmt.Errorf("%s: no skin there", p.ID())
		}
		if p.Frame, err = l.Airframe.frame(p.Surface, m.Where, uv, p.Side); err != nil {
			return p, err
		}
	}
	p.Marking, p.Anchor = &m, geometry.PositionOf(skin.PointAt(p.Surface, uv))
	return p, nil
}

// Clearest returns the largest distance that a marking keeps from an edge, or from
// a gap or opening that its figure can come near: what is laid flat round it reaches
// so far. Rings are measured wherever they stand.
func (l *Layout) Clearest(p Placement) geometry.Length {
	most := l.Spec.Rules.Edge
	b := p.Figure.Bounds()
	far := same.Hypot(math.Max(-b.Min.X, b.Max.X), math.Max(-b.Min.Y, b.Max.Y))
	for _, o := range l.Spec.Aircraft.Obstacles {
		fore, aft := o.At.FS, o.To
		switch o.Kind {
		case Opening:
			box := geometry.BoundsOf(o.Corners()...)
			fore, aft = geometry.Station(box.Min.X), geometry.Station(box.Max.X)
		case HingeAt:
		default:
			continue
		}
		reach := geometry.Station(far) + geometry.Station(o.Clear)
		if slices.Contains(p.Marking.Where.Surfaces, o.Surface) && p.Anchor.FS > fore-reach && p.Anchor.FS < aft+reach {
			most = max(most, o.Clear)
		}
	}
	return most
}
