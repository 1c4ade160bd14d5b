package layouts

import (
	"fmt"
	"math"
	"slices"

	"maskloft/geometry"
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
func (o ObstacleSpec) Keeps() bool { return o.Kind != TapeRun && o.Kind != Around }

// ObstaclesOn returns the obstacles on the surfaces and the side of a placement,
// in the order of the file. Obstacles are given as seen from the side, so the
// faces of a wing have none.
//
// Findings: a ring or spot that does not lie on the skin.
func (l *Layout) ObstaclesOn(p Placement) ([]Obstacle, []Finding) {
	if p.Face() != NoFace {
		return nil, nil
	}
	var out []Obstacle
	var findings []Finding
	for _, spec := range l.Spec.Aircraft.Obstacles {
		if !slices.Contains(spec.Side.List(), p.Side) || !slices.Contains(p.Marking.Where.Surfaces, spec.Surface) {
			continue
		}
		o := Obstacle{ObstacleSpec: spec}
		var err error
		switch spec.Kind {
		case Ring, Spot:
			o.At, err = skin.LocateSide(p.Surface, p.Side, spec.At)
		case TapeRun:
			o.V, err = l.Airframe.lineV(p.Surface, []string{spec.Surface}, spec.Line, p.Side)
		}
		if err != nil {
			findings = append(findings, Finding{
				Level: Warn, Rule: "obstacle-off-skin", Marking: p.ID(), Where: geometry.Position{FS: spec.At.FS, WL: spec.At.WL},
				Message: fmt.Sprintf("%s: the obstacle %s cannot be placed on %s, so nothing keeps clear of it: %v", p.ID(), spec.ID, spec.Surface, err),
				Hint:    "correct its fs: and wl:, or its line:, under obstacles:", Source: "derived",
			})
			continue
		}
		out = append(out, o)
	}
	return out, findings
}

// Moved returns a placement shifted on the skin: aft by a length of station, and up
// by a length of waterline, or of girth where its height is given by one.
//
// Errors: there is no skin; the height is given by two lines and cannot be
// shifted; the marking is on a wing.
func (l *Layout) Moved(p Placement, aft, up geometry.Length) (Placement, error) {
	m := *p.Marking
	if p.Face() != NoFace || up != 0 && m.Where.Height == HeightBetween {
		return p, fmt.Errorf("%s cannot be shifted so", p.ID())
	}
	m.Where.FS += geometry.Station(aft)
	m.Where.WL += geometry.Waterline(up)
	m.Where.Down -= up
	uv, err := l.Airframe.anchor(p.Surface, m.Where, p.Side)
	if err != nil {
		return p, err
	}
	if !p.Surface.Contains(uv) {
		return p, fmt.Errorf("%s: no skin there", p.ID())
	}
	if p.Frame, err = l.Airframe.frame(p.Surface, m.Where, uv, p.Side); err != nil {
		return p, err
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
	far := math.Hypot(math.Max(-b.Min.X, b.Max.X), math.Max(-b.Min.Y, b.Max.Y))
	for _, o := range l.Spec.Aircraft.Obstacles {
		fore, aft := o.At.FS, o.To
		switch o.Kind {
		case Opening:
			fore, aft = o.Points[0].FS, o.Points[0].FS
			for _, q := range o.Points {
				fore, aft = min(fore, q.FS), max(aft, q.FS)
			}
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
