package layouts

import (
	"fmt"
	"math"
	"slices"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// place finds the anchor on the skin and moves the figure's held point to the
// origin of the drawing.
func place(a *Airframe, m *MarkingSpec, fig Figure, side g.Side) (Placement, error) {
	w := m.Where
	if w.Face != NoFace {
		return placeOnWing(a, m, fig, side)
	}
	on := strings.Join(w.Surfaces, "+")
	s, err := a.Surface(w.Surfaces, side)
	if err != nil {
		return Placement{}, err
	}
	uv, err := a.anchor(s, w, side)
	if err != nil {
		return Placement{}, err
	}
	if !s.Contains(uv) {
		return Placement{}, g.Errorf("%v lies outside the outline of %s", g.PositionOf(skin.PointAt(s, uv)), on)
	}
	frame, err := a.frame(s, w, uv, side)
	if err != nil {
		return Placement{}, err
	}
	fig = fig.For(side)
	if w.Hold != HoldCentre {
		b := fig.Bounds()
		// on the left side the fore edge is at the reader's left hand
		x := b.Min.X
		if (w.Hold == HoldFore) != (side == g.Left) {
			x = b.Max.X
		}
		fig = fig.Moved(g.Vec{X: -x, Y: -(b.Min.Y + b.Max.Y) / 2})
	}
	return Placement{
		Marking: m, Side: side, Surface: s, On: on,
		Frame: frame, Anchor: g.PositionOf(skin.PointAt(s, uv)), Figure: fig,
	}, nil
}

// anchor returns the point of the skin that a place names.
func (a *Airframe) anchor(s skin.Surface, w WhereSpec, side g.Side) (skin.UV, error) {
	switch w.Height {
	case HeightGirth:
		v, err := a.lineV(s, w.Surfaces, w.Line, side)
		if err != nil {
			return skin.UV{}, err
		}
		// V rises from the crown down the right side, and on up the left one
		down := w.Down * g.Length(side.Sign())
		return skin.AtGirth(s, skin.UV{U: w.FS.Inches(), V: v}, down)
	case HeightBetween:
		v0, err := a.lineV(s, w.Surfaces, w.Line, side)
		if err != nil {
			return skin.UV{}, err
		}
		v1, err := a.lineV(s, w.Surfaces, w.LineTo, side)
		if err != nil {
			return skin.UV{}, err
		}
		half := skin.Girth(s, w.FS, v0, v1) / 2
		return skin.AtGirth(s, skin.UV{U: w.FS.Inches(), V: v0}, half*g.Length(math.Copysign(1, v1-v0)))
	}
	return skin.LocateSide(s, side, g.SidePosition{FS: w.FS, WL: w.WL})
}

// LineAt returns the parameter of a named line of a surface on one side: see
// [Airframe.Surface]. Crown and keel are lines of any closed body.
func (a *Airframe) LineAt(s skin.Surface, surface, line string, side g.Side) (float64, error) {
	return a.lineV(s, []string{surface}, line, side)
}

// lineV returns the parameter of a named line on one side: a line of a stringer
// skin, or the crown or keel of any closed body.
func (a *Airframe) lineV(s skin.Surface, surfaces []string, line string, side g.Side) (float64, error) {
	_, vb, period := s.Breaks()
	if period <= 0 {
		return 0, fmt.Errorf("%s has no line %q to measure from: give wl:", strings.Join(surfaces, "+"), line)
	}
	crown := 0.0
	if vb[0] > crown || vb[len(vb)-1] < crown {
		crown = vb[0]
	}
	spec, _ := a.SurfaceSpec(surfaces[0])
	k := slices.Index(spec.Lines, line)
	switch {
	case line == CrownLine:
		return crown, nil
	case line == KeelLine:
		return crown + float64(period/2*side.Sign()), nil
	case k >= 0:
		return crown + float64(float64(k)*side.Sign()), nil
	}
	return 0, fmt.Errorf("%s has no line %q: it has %s", surfaces[0], line, strings.Join(append(slices.Clone(spec.Lines), CrownLine, KeelLine), ", "))
}

// frame returns the direction of a drawing at its anchor.
func (a *Airframe) frame(s skin.Surface, w WhereSpec, uv skin.UV, side g.Side) (skin.Frame, error) {
	// a lean towards the tail is to the drawing's right on the left side
	angle := -w.Angle * math.Pi / 180 * side.Reading()
	switch w.Align {
	case AlignWaterline:
		return skin.UpAt(s, uv, angle)
	case AlignStation:
		const e = 1e-4
		up := skin.PointAt(s, skin.UV{U: uv.U, V: uv.V + e}).Sub(skin.PointAt(s, skin.UV{U: uv.U, V: uv.V - e}))
		if up.Z < 0 {
			up = up.Scale(-1)
		}
		return skin.FrameUp(s, uv, up, angle)
	case AlignLeadingEdge:
		up, err := a.foreEdge(w, uv)
		if err != nil {
			return skin.Frame{}, err
		}
		return skin.FrameUp(s, uv, up, angle)
	}
	v, err := a.lineV(s, w.Surfaces, w.Align, side)
	if err != nil {
		return skin.Frame{}, fmt.Errorf("align: %w; or write waterline, station or leading-edge", err)
	}
	const e = 0.5 // inches of station: a line is straight between sections
	lo, hi := skin.Extent(s)
	u0, u1 := math.Max(lo, uv.U-e), math.Min(hi, uv.U+e)
	along := skin.PointAt(s, skin.UV{U: u1, V: v}).Sub(skin.PointAt(s, skin.UV{U: u0, V: v}))
	return skin.FrameRight(s, uv, along.Scale(side.Reading()), angle)
}

// foreEdge returns the direction, upwards, of the edge of a plate's outline, or of
// a foil's leading edge, that lies forward of the anchor at its height.
func (a *Airframe) foreEdge(w WhereSpec, uv skin.UV) (g.Vec3, error) {
	spec, ok := a.SurfaceSpec(w.Surfaces[0])
	outline := spec.Outline
	if ok && spec.Kind == Foil {
		outline = spec.Leading
	}
	if len(outline) == 0 {
		return g.Vec3{}, fmt.Errorf("align: %s: %s is no fin or rudder and has no leading edge", AlignLeadingEdge, w.Surfaces[0])
	}
	best, edge := math.Inf(-1), g.Vec3{}
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		if (p.WL.Inches() > uv.V) == (q.WL.Inches() > uv.V) {
			continue
		}
		x := p.FS.Inches() + float64(q.FS-p.FS)*(uv.V-p.WL.Inches())/float64(q.WL-p.WL)
		if x <= uv.U && x > best {
			best, edge = x, g.Vec3{X: float64(q.FS - p.FS), Z: float64(q.WL - p.WL)}
		}
	}
	if edge == (g.Vec3{}) {
		return edge, g.Errorf("align: %s: no edge of %s lies forward of FS %v at WL %v", AlignLeadingEdge, w.Surfaces[0], g.Station(uv.U), g.Waterline(uv.V))
	}
	if edge.Z < 0 {
		edge = edge.Scale(-1)
	}
	return edge, nil
}

// onWing returns the point of a wing that a place names, and the frame there.
func onWing(s *skin.LiftingSkin, w WhereSpec, side g.Side) (skin.UV, skin.Frame, error) {
	uv, err := s.LocatePlan(w.FS, w.BL*g.ButtLine(side.Sign()))
	if err != nil {
		return uv, skin.Frame{}, err
	}
	frame, err := skin.ForwardAt(s, uv, -w.Angle*math.Pi/180)
	return uv, frame, err
}

// placeOnWing is place for a face of a wing: the drawing's up is forward, and its
// right is outwards or inwards as one sees it from above the upper face or below
// the lower one.
func placeOnWing(a *Airframe, m *MarkingSpec, fig Figure, side g.Side) (Placement, error) {
	w := m.Where
	if m.True == TrueSide {
		return Placement{}, fmt.Errorf("a wing is not seen from the side: write true: skin")
	}
	s, err := a.WingSurface(w.Surfaces[0], side, w.Face)
	if err != nil {
		return Placement{}, err
	}
	uv, frame, err := onWing(s, w, side)
	if err != nil {
		return Placement{}, err
	}
	fig = fig.For(side)
	if b := fig.Bounds(); w.Hold != HoldCentre {
		y := b.Max.Y // the fore edge is at the top
		if w.Hold == HoldAft {
			y = b.Min.Y
		}
		fig = fig.Moved(g.Vec{X: -(b.Min.X + b.Max.X) / 2, Y: -y})
	}
	return Placement{
		Marking: m, Side: side, Surface: s, On: w.Surfaces[0] + " " + string(w.Face),
		Frame: frame, Anchor: g.PositionOf(skin.PointAt(s, uv)), Figure: fig,
	}, nil
}
