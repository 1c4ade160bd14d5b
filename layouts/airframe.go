package layouts

import (
	"context"
	"fmt"
	"math"
	"strings"
	"sync"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
)

// Airframe is an aircraft whose surfaces can be computed on.
type Airframe struct {
	Spec   AircraftSpec
	Notes  []Finding               // what building the surfaces showed
	Taped  []HardpointTape         // distances between hardpoints, after the fit to them
	bodies map[string]skin.Surface // surfaces with both sides in one
	fitted map[hardpointKey]Hardpoint

	solid      sync.Once
	solidParts []solid // see solids
}

// Hardpoint is a point of the structure on one side of the aircraft.
type Hardpoint struct {
	ID, Name string
	At       g.Position // as measured on this airframe where that was done, else as drawn
	Drawn    g.Position
	Measured bool
	Sigma    g.Length // standard deviation of At along each axis
}

// NewAirframe builds the surfaces of an aircraft, until ctx is done. Errors name the
// place in the file.
func NewAirframe(ctx context.Context, spec AircraftSpec) (*Airframe, error) {
	a := &Airframe{Spec: spec, bodies: map[string]skin.Surface{}}
	for _, s := range spec.Surfaces {
		var err error
		switch s.Kind {
		case Stringers:
			var sections []skin.StringerSection
			for _, sec := range s.Sections {
				one := skin.StringerSection{FS: sec.FS}
				for _, p := range sec.Points {
					one.Points = append(one.Points, g.Position{FS: sec.FS, BL: p.BL, WL: p.WL})
				}
				sections = append(sections, one)
			}
			var body *skin.StringerSkin
			if body, err = skin.NewStringerSkin(sections); err == nil {
				a.bodies[s.ID] = body.WithSag(s.Sag)
			}
		case Round:
			var sections []skin.RoundSection
			for _, sec := range s.Sections {
				sections = append(sections, skin.RoundSection{FS: sec.FS, Radius: sec.Radius, WL: sec.WL})
			}
			a.bodies[s.ID], err = skin.NewRoundSkin(sections)
		case Faired:
			a.bodies[s.ID], err = fairedSkin(s)
		case Foil:
			_, err = finSkin(s, g.Left)
		case Wing:
			_, err = a.WingSurface(s.ID, g.Left, UpperFace)
		case Scanned:
			var notes []Finding
			a.bodies[s.ID], notes, err = scanSkin(ctx, spec.Read, s)
			a.Notes = append(a.Notes, notes...)
		}
		if err != nil {
			return nil, fmt.Errorf("%v: surface %s: %w", s.Place, s.ID, err)
		}
	}
	if err := a.fitTapes(); err != nil {
		return nil, err
	}
	a.Notes = append(a.Notes, a.onePoint()...)
	a.Notes = append(a.Notes, a.withinSolid()...)
	return a, nil
}

// SurfaceSpec returns the surface of that id.
func (a *Airframe) SurfaceSpec(id string) (SurfaceSpec, bool) {
	for _, s := range a.Spec.Surfaces {
		if s.ID == id {
			return s, true
		}
	}
	return SurfaceSpec{}, false
}

// Surface returns what a marking on one side sits on: a body, or one face of one
// or several plates that lie in one plane, such as a fin and its rudder.
//
// Errors: an unknown name, with the known ones; several surfaces that are not
// plates of one thickness.
func (a *Airframe) Surface(names []string, side g.Side) (skin.Surface, error) {
	if len(names) == 1 {
		if s, ok := a.bodies[names[0]]; ok {
			return s, nil
		}
		if s, ok := a.SurfaceSpec(names[0]); ok && s.Kind == Foil {
			return finSkin(s, side)
		}
	}
	var outlines [][]g.SidePosition
	var thickness g.Length
	for i, name := range names {
		s, ok := a.SurfaceSpec(name)
		if !ok {
			var known []string
			for _, k := range a.Spec.Surfaces {
				known = append(known, k.ID)
			}
			return nil, fmt.Errorf("unknown surface %q: the aircraft has %s", name, strings.Join(known, ", "))
		}
		if s.Kind != Plate {
			return nil, fmt.Errorf("surface %s is not flat: only plates that lie in one plane can carry one marking together", name)
		}
		if i > 0 && math.Abs(float64(s.Thickness-thickness)) > g.SayDifference {
			return nil, g.Errorf("surfaces %s and %s differ in thickness (%v, %v): film over both would step", names[0], name, thickness, s.Thickness)
		}
		thickness = s.Thickness
		outlines = append(outlines, s.Outline)
	}
	return skin.NewPlateSkin(side, thickness, outlines...)
}

// GroundAngle returns the angle of the parked aircraft to the level one, nose
// up, in radians; false where the ground line is not given.
func (a *Airframe) GroundAngle() (float64, bool) {
	gr := a.Spec.Ground
	if gr == nil {
		return 0, false
	}
	return same.Atan2(float64(gr.Tail.WL-gr.Main.WL), float64(gr.Tail.FS-gr.Main.FS)), true
}

// fairedSkin builds a faired body.
func fairedSkin(s SurfaceSpec) (skin.Surface, error) {
	laws := map[Fairing]skin.FairingLaw{RuledAlong: skin.Ruled, MonotoneAlong: skin.Monotone, NaturalAlong: skin.Natural, ClampedAlong: skin.Clamped}
	var sections []skin.FairedSection
	for _, sec := range s.Sections {
		var points []skin.SectionPoint
		for _, p := range sec.Points {
			points = append(points, skin.SectionPoint{BL: p.BL, WL: p.WL})
		}
		var curve skin.SectionCurve
		switch sec.Shape {
		case CircleShape:
			curve = skin.CircleSection{Radius: sec.Radius, WL: sec.WL}
		case EllipseShape:
			curve = skin.EllipseSection{HalfBreadth: sec.HalfBreadth, HalfHeight: sec.HalfHeight, WL: sec.WL}
		case SuperellipseShape:
			curve = skin.SuperellipseSection{HalfBreadth: sec.HalfBreadth, HalfHeight: sec.HalfHeight, WL: sec.WL, Exponent: sec.Exponent}
		case RoundedShape:
			curve = skin.RoundedRectangleSection{HalfBreadth: sec.HalfBreadth, Top: sec.Top, Bottom: sec.Bottom, CornerRadius: sec.Radius}
		case SplineShape:
			for _, c := range sec.Corners {
				points[c-1].Corner = true
			}
			curve = skin.SplineSection{Points: points}
		case PointsShape:
			curve = skin.PolylineSection{Points: points}
		}
		sections = append(sections, skin.FairedSection{FS: sec.FS, Curve: curve})
	}
	return skin.NewFairedSkin(sections, skin.Fairing{Law: laws[s.Along], BreakFrames: s.Breaks})
}

// finSkin builds one side of a fin or rudder.
func finSkin(s SurfaceSpec, side g.Side) (skin.Surface, error) {
	edge := func(points []g.SidePosition) []skin.PlanPoint {
		var out []skin.PlanPoint
		for _, p := range points {
			out = append(out, skin.PlanPoint{FS: p.FS, Span: p.WL.Inches()})
		}
		return out
	}
	profile, err := profileOf(s)
	if err != nil {
		return nil, err
	}
	return skin.NewFinSkin(side, skin.Planform{Leading: edge(s.Leading), Trailing: edge(s.Trailing)}, profile)
}

// profileOf returns the section of a foil or wing.
func profileOf(s SurfaceSpec) (skin.Profile, error) {
	if s.NACA != "" {
		return skin.ParseNACA4(s.NACA)
	}
	return skin.NewOrdinates(s.Ordinates)
}

// WingSurface returns one face of a wing or tailplane on one side.
func (a *Airframe) WingSurface(id string, side g.Side, face Face) (*skin.LiftingSkin, error) {
	s, ok := a.SurfaceSpec(id)
	if !ok || s.Kind != Wing {
		return nil, fmt.Errorf("%q is no wing", id)
	}
	edge := func(points []PlanPosition) []skin.PlanPoint {
		var out []skin.PlanPoint
		for _, p := range points {
			out = append(out, skin.PlanPoint{FS: p.FS, Span: p.BL.Inches()})
		}
		return out
	}
	profile, err := profileOf(s)
	if err != nil {
		return nil, err
	}
	of := skin.Upper
	if face == LowerFace {
		of = skin.Lower
	}
	return skin.NewWingSkin(side, of, skin.Planform{Leading: edge(s.Span.Leading), Trailing: edge(s.Span.Trailing)}, profile, skin.WingSetting{
		WL: s.Span.WL, Dihedral: s.Span.Dihedral * math.Pi / 180, Incidence: s.Span.Incidence * math.Pi / 180,
	})
}
