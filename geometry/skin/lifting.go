package skin

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// PlanPoint is a point of a planform's edge.
type PlanPoint struct {
	FS g.Station
	// Span is the waterline of a fin or rudder; the distance from BL 0 of a wing
	// or tailplane, on either side.
	Span float64
}

// Planform is the outline of a lifting surface: its leading and its trailing edge
// as polylines from root to tip, or tip to root. The surface reaches as far as
// both do.
type Planform struct{ Leading, Trailing []PlanPoint }

// WingFace is a face of a wing or tailplane.
type WingFace int

// The two faces.
const (
	Upper WingFace = iota
	Lower
)

// WingSetting is how a wing or tailplane stands on the aircraft. Its sections
// stand in planes of constant butt line.
type WingSetting struct {
	WL        g.Waterline // of the leading edge on BL 0, or extended to it
	Dihedral  float64     // radians, tips up: the slope of the leading edge seen from ahead
	Incidence float64     // radians, nose up, about the leading edge
}

// LiftingSkin is one face of a fin, rudder, wing or tailplane: a profile of one
// shape, and in thickness one part of the chord, set over a planform. It is
// developable in each panel between corners of straight edges (a cone); across such a
// corner only where the edges do not bend.
//
// U is the station; V is the waterline of a fin or rudder, the butt line of a
// wing or tailplane, in inches. A round leading edge has no slope by station, so
// the skin ends a little behind it: see [LeadingEdgeLimit] and
// [LiftingSkin.Outside]. At goes on beyond the edges, unrollable where the skin
// is, for nets are cut square to the axes; only what [LiftingSkin.Contains] says
// is skin.
type LiftingSkin struct {
	le, te   planEdge
	face     *chordFace
	vertical bool
	mirror   float64 // sign of V per span: -1 on a left wing
	outward  float64 // sign of the normal's part across the chord
	wl, rise float64 // leading edge of a wing: wl + rise span
	u, v     []float64
}

// planEdge is the station of an edge by span, linear between points.
type planEdge struct{ span, fs []float64 }

func (e planEdge) at(span float64) (fs, slope float64) {
	i := cellOf(e.span, span)
	slope = (e.fs[i+1] - e.fs[i]) / (e.span[i+1] - e.span[i])
	return e.fs[i] + float64(slope*(span-e.span[i])), slope
}

// NewFinSkin returns one side of a vertical surface on BL 0. The right side is the
// profile's upper face.
//
// Errors: the edges do not run one way along the span, or do not overlap; the
// leading edge does not lie ahead of the trailing edge; the profile's own errors.
func NewFinSkin(side g.Side, p Planform, profile Profile) (*LiftingSkin, error) {
	s := &LiftingSkin{vertical: true, mirror: 1, outward: side.Sign()}
	if err := s.build(p, profile, side.Sign(), 0, "WL"); err != nil {
		return nil, err
	}
	return s, nil
}

// NewWingSkin returns one face of a wing or tailplane on one side.
//
// Errors: as [NewFinSkin]; a span below 0; dihedral or incidence beyond 45 degrees.
func NewWingSkin(side g.Side, face WingFace, p Planform, profile Profile, w WingSetting) (*LiftingSkin, error) {
	for _, a := range []struct {
		name  string
		angle float64
	}{{"dihedral", w.Dihedral}, {"incidence", w.Incidence}} {
		if !(math.Abs(a.angle) <= math.Pi/4) {
			return nil, fmt.Errorf("%s %s degrees: it must lie within 45 degrees", a.name, g.FormatNumber(a.angle*180/math.Pi, 2))
		}
	}
	sign := 1.0
	if face == Lower {
		sign = -1
	}
	s := &LiftingSkin{mirror: side.Sign(), outward: sign, wl: w.WL.Inches(), rise: same.Tan(w.Dihedral)}
	if err := s.build(p, profile, sign, w.Incidence, "BL"); err != nil {
		return nil, err
	}
	if s.le.span[0] < 0 || s.te.span[0] < 0 {
		return nil, g.Errorf("BL %v: give the span of a wing from BL 0 outwards, above 0 on both sides", g.ButtLine(min(s.le.span[0], s.te.span[0])))
	}
	return s, nil
}

func (s *LiftingSkin) build(p Planform, profile Profile, side, incidence float64, axis string) error {
	if profile == nil {
		return fmt.Errorf("the surface has no profile")
	}
	if err := profile.check(); err != nil {
		return err
	}
	var err error
	if s.face, err = newChordFace(profile, side, incidence); err != nil {
		return err
	}
	if s.le, err = newPlanEdge("leading edge", axis, p.Leading); err != nil {
		return err
	}
	if s.te, err = newPlanEdge("trailing edge", axis, p.Trailing); err != nil {
		return err
	}
	return s.outline(axis)
}

// alongSpan returns what makes a coordinate along the span, BL or WL, one that [g.Errorf] writes.
func alongSpan(axis string) func(float64) any {
	if axis == "WL" {
		return func(v float64) any { return g.Waterline(v) }
	}
	return func(v float64) any { return g.ButtLine(v) }
}

// outline finds the range of the surface and the lines at corners of its edges.
func (s *LiftingSkin) outline(axis string) error {
	along := alongSpan(axis)
	last := func(x []float64) float64 { return x[len(x)-1] }
	lo := max(s.le.span[0], s.te.span[0])
	hi := min(last(s.le.span), last(s.te.span))
	if !(lo < hi) {
		return g.Errorf("leading edge (%s %v to %v) and trailing edge (%s %v to %v) do not lie side by side", axis,
			along(s.le.span[0]), along(last(s.le.span)), axis, along(s.te.span[0]), along(last(s.te.span)))
	}
	spans := []float64{lo}
	for _, e := range []planEdge{s.le, s.te} {
		for _, x := range e.span {
			if x > lo+1e-9 && x < hi-1e-9 {
				spans = insertLine(spans, x)
			}
		}
	}
	spans = append(spans, hi)
	u0, u1 := math.Inf(1), math.Inf(-1)
	for i, x := range spans {
		a, _ := s.le.at(x)
		b, _ := s.te.at(x)
		if end := i == 0 || i == len(spans)-1; b < a || b < a+1e-3 && !end {
			return g.Errorf("at %s %v the leading edge (FS %v) does not lie ahead of the trailing edge (FS %v)", axis, along(x), g.Station(a), g.Station(b))
		}
		u0, u1 = min(u0, a), max(u1, b)
	}
	s.u, s.v = []float64{u0, u1}, spans
	if s.mirror < 0 {
		s.v = make([]float64, len(spans))
		for i, x := range spans {
			s.v[len(spans)-1-i] = -x
		}
	}
	return nil
}

// newPlanEdge returns an edge with its span ascending.
func newPlanEdge(name, axis string, points []PlanPoint) (planEdge, error) {
	n := len(points)
	if n < 2 {
		return planEdge{}, fmt.Errorf("the %s needs two points or more, got %d", name, n)
	}
	e := planEdge{}
	for i := range points {
		p := points[i]
		if points[0].Span > points[n-1].Span {
			p = points[n-1-i]
		}
		if i > 0 && !(p.Span > e.span[i-1]+1e-9) {
			return planEdge{}, fmt.Errorf("the %s turns back at %s %s: its points must run one way along the span", name, axis, g.FormatNumber(p.Span, 3))
		}
		e.span, e.fs = append(e.span, p.Span), append(e.fs, p.FS.Inches())
	}
	return e, nil
}

// Breaks returns the range of stations, and the spans where an edge has a corner.
func (s *LiftingSkin) Breaks() (u, v []float64, period float64) { return s.u, s.v, 0 }

// Contains tells whether uv lies on the planform, clear of its round edges.
func (s *LiftingSkin) Contains(uv UV) bool { return s.Outside(uv) == nil }

// Outside returns nil where there is skin at uv, otherwise what is there instead:
// beyond root or tip, ahead of the leading edge, behind the trailing edge, or on
// the round of an edge, which cannot be laid out by station.
func (s *LiftingSkin) Outside(uv UV) error {
	axis := "BL"
	if s.vertical {
		axis = "WL"
	}
	along := alongSpan(axis)
	if lo, hi := s.v[0], s.v[len(s.v)-1]; uv.V < lo-1e-9 || uv.V > hi+1e-9 {
		return g.Errorf("%s %v lies off the surface: it runs from %s %v to %s %v", axis, along(uv.V), axis, along(lo), axis, along(hi))
	}
	le, te, fore, aft := s.chord(uv.V)
	at := g.Station(uv.U)
	switch {
	case uv.U < le-1e-9:
		return g.Errorf("FS %v lies ahead of the leading edge (FS %v at %s %v)", at, g.Station(le), axis, along(uv.V))
	case uv.U < fore-1e-9:
		return g.Errorf("FS %v lies on the round of the leading edge (FS %v at %s %v): keep aft of FS %v", at, g.Station(le), axis, along(uv.V), g.Station(fore))
	case uv.U > te+1e-9:
		return g.Errorf("FS %v lies behind the trailing edge (FS %v at %s %v)", at, g.Station(te), axis, along(uv.V))
	case uv.U > aft+1e-9:
		return g.Errorf("FS %v lies on the round of the trailing edge (FS %v at %s %v): keep forward of FS %v", at, g.Station(te), axis, along(uv.V), g.Station(aft))
	}
	return nil
}

// Chord returns the first and the last station of the skin at a butt line, or at a
// waterline of a fin, within its span: behind the round of the leading edge and ahead
// of that of the trailing edge.
func (s *LiftingSkin) Chord(v float64) (fore, aft float64) {
	_, _, fore, aft = s.chord(v)
	return fore, aft
}

// chord returns the stations of the leading and the trailing edge, and those of [LiftingSkin.Chord].
func (s *LiftingSkin) chord(v float64) (le, te, fore, aft float64) {
	le, _ = s.le.at(s.mirror * v)
	te, _ = s.te.at(s.mirror * v)
	lo, hi := s.face.contained(te - le)
	return le, te, le + lo, le + hi
}

// Clearance returns the distance, in plan, from uv to the nearest edge of the
// skin: along the span to root or tip, square to the leading and trailing edge.
func (s *LiftingSkin) Clearance(uv UV) g.Length {
	span := s.mirror * uv.V
	le, dle := s.le.at(span)
	te, dte := s.te.at(span)
	lo, hi := s.face.contained(te - le)
	fore := math.Abs(uv.U-le-lo) / same.Hypot(1, dle)
	aft := math.Abs(uv.U-le-hi) / same.Hypot(1, dte)
	return g.Length(min(min(fore, aft), min(math.Abs(uv.V-s.v[0]), math.Abs(uv.V-s.v[len(s.v)-1]))))
}

// At returns the point of the face at station U and span V in the panel that
// holds in, and the normal, by the derivatives of the surface.
func (s *LiftingSkin) At(uv, in UV) (g.Vec3, g.Vec3) {
	le, dle, c, dc := s.panelChord(uv.V, in.V)
	h, ha, hc := s.face.height(uv.U-le, c)
	return s.place(uv.U, uv.V, h, ha, float64(-ha*dle)+float64(hc*dc))
}

// panelChord returns the leading edge and the chord at v, and their derivatives by the
// span, as they run in the panel that holds in.
func (s *LiftingSkin) panelChord(v, in float64) (le, dle, c, dc float64) {
	span := float64(s.mirror * v)
	i := cellOf(s.v, in)
	mid := s.mirror * (s.v[i] + s.v[i+1]) / 2
	le, dle = s.le.at(mid)
	te, dte := s.te.at(mid)
	le, te = le+float64(dle*(span-mid)), te+float64(dte*(span-mid))
	return le, dle, max(te-le, 1e-9), dte - dle
}

// place returns the point at a station and span whose height over the chord line is h,
// and the normal, from the derivatives of h by station and by span.
func (s *LiftingSkin) place(u, v, h, hu, hs float64) (g.Vec3, g.Vec3) {
	if s.vertical {
		return g.Vec3{X: u, Y: h, Z: v}, g.Vec3{X: -hu, Y: 1, Z: -hs}.Scale(s.outward).Unit()
	}
	h += s.wl + float64(s.rise*s.mirror*v)
	hs = s.mirror * (hs + s.rise)
	return g.Vec3{X: u, Y: v, Z: h}, g.Vec3{X: -hu, Y: -hs, Z: 1}.Scale(s.outward).Unit()
}

// LocatePlan returns the point of the skin seen at a station and butt line from
// above or below.
//
// Error: there is no skin; see [LiftingSkin.Outside]. A fin is not seen from
// above.
func (s *LiftingSkin) LocatePlan(fs g.Station, bl g.ButtLine) (UV, error) {
	if s.vertical {
		return UV{}, g.Errorf("a fin or rudder is seen from the side: give a waterline, not BL %v", bl)
	}
	uv := UV{fs.Inches(), bl.Inches()}
	return uv, s.Outside(uv)
}

// ForwardAt returns the frame at uv whose up is forward along the skin, leaning by
// angle radians towards the drawing's left: for marks on wings, read from above
// with the nose up (on an upper face).
//
// Error: the skin stands square to the fuselage axis there.
func ForwardAt(s Surface, uv UV, angle float64) (Frame, error) {
	f, err := FrameUp(s, uv, g.Vec3{X: -1}, angle)
	if err != nil {
		return f, fmt.Errorf("the skin stands across the aircraft there, so forward has no direction along it")
	}
	return f, nil
}

// LeadingEdge returns the station of the foremost point of the section at a span,
// V of the surface: where a square held to the edge touches it.
func (s *LiftingSkin) LeadingEdge(v float64) g.Station {
	fs, _ := s.le.at(s.mirror * v)
	return g.Station(fs)
}
