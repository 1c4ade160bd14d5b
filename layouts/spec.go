package layouts

import (
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/scan"
	"maskloft/geometry/skin"
	"maskloft/layouts/document"
)

// Spec is a layout file as it was written: one Go field for each key, in the
// words of the trade, nothing computed. [Load] reads it, [Resolve] computes.
type Spec struct {
	File     string
	Name     string
	Job      string // the job's own id, under which ticks and readings are kept; empty: none
	Units    string // of bare numbers: in, ft, mm, cm or m; empty: they are not allowed
	Aircraft AircraftSpec
	Markings []MarkingSpec
	Film     FilmSpec
	Paint    PaintSpec
	Rules    RulesSpec
	Evidence []EvidenceSpec
	Tape     TapeSpec
	Sheets   SheetSpec
	Photos   []PhotoSpec
}

// AircraftSpec is the aircraft: its frame, its surfaces, and what one can hook a
// tape on.
type AircraftSpec struct {
	Place      Place
	Name       string
	Datum      string // the sentence that says where FS 0 and WL 0 are
	Surfaces   []SurfaceSpec
	Hardpoints []HardpointSpec
	Obstacles  []ObstacleSpec
	Ground     *GroundSpec
	Profile    []ProfileSpec
	LevelPegs  []PegSpec
	Taped      []HardpointTapeSpec
	Read       geometry.Units // what findings of it are written in
}

// SurfaceKind says how a surface is given.
type SurfaceKind string

// Kinds of surface.
const (
	Stringers SurfaceKind = "stringers" // sections as points on named lines, flat fabric bays between
	Round     SurfaceKind = "round"     // sections as circles, ruled between
	Faired    SurfaceKind = "faired"    // sections of many shapes, faired along the body
	Scanned   SurfaceKind = "scan"      // a body measured as a mesh, brought into the aircraft's axes
	Wing      SurfaceKind = "wing"      // a wing or tailplane, both sides alike
	Foil      SurfaceKind = "foil"      // one fin or rudder with a section: planform and profile
	Plate     SurfaceKind = "plate"     // a flat surface of constant thickness, given by its outline
)

// SurfaceSpec is one surface a marking can sit on.
type SurfaceSpec struct {
	Place     Place
	ID        string
	Kind      SurfaceKind
	Lines     []string           // names of the lines from crown to keel (stringers)
	Hard      []string           // those of Lines that are longerons: hard edges
	Sag       geometry.Length    // hollow of the fabric in the widest bay (stringers)
	Sections  []SectionSpec      // in order of FS (stringers, round, faired)
	Along     Fairing            // how lines run from section to section (faired)
	Breaks    []geometry.Station // frames where slopes may jump (faired)
	Thickness geometry.Length
	Outline   []geometry.SidePosition // closed by itself (plate)
	Ribs      []geometry.Waterline
	Scan      *ScanSpec               // (scan)
	Leading   []geometry.SidePosition // edges along the span (foil)
	Trailing  []geometry.SidePosition
	Span      SpanSpec        // how it stands (wing)
	NACA      string          // four digits (foil)
	Ordinates []skin.Ordinate // fractions of the chord (foil)

	Control bool              // it moves: its balance is checked after painting
	Hinge   *geometry.Station // of its hinge line; nil: not written
}

// SpanSpec is a wing or tailplane: its edges as stations over butt lines, and how
// it stands.
type SpanSpec struct {
	Leading, Trailing []PlanPosition // from root to tip, right side
	WL                geometry.Waterline
	Dihedral          float64 // degrees, tips up
	Incidence         float64 // degrees, nose up
	Ribs              []geometry.ButtLine
}

// PlanPosition is a point of the plan view.
type PlanPosition struct {
	FS geometry.Station
	BL geometry.ButtLine
}

// Face is a face of a wing; empty for what stands upright.
type Face string

// The faces of a wing.
const (
	NoFace    Face = ""
	UpperFace Face = "upper"
	LowerFace Face = "lower"
)

// ScanSpec is a body given by a scan.
type ScanSpec struct {
	Place   Place
	File    string
	Unit    geometry.Length  // of the scan's coordinates
	Step    geometry.Length  // spacing of the sections taken from it; 0: the scan's own
	Matches []scan.ScanMatch // three points or more, known on both
	Mesh    *scan.Scan
}

// Fairing says how the lines of a faired body run from section to section.
type Fairing string

// Values of Fairing.
const (
	RuledAlong    Fairing = "ruled"    // straight: sheet metal between frames
	MonotoneAlong Fairing = "monotone" // smooth, and a taper never turns back
	NaturalAlong  Fairing = "natural"  // splines with continuous curvature, none at the ends
	ClampedAlong  Fairing = "clamped"  // splines with continuous curvature, end slopes from the sections
)

// SectionShape says how a section of a faired body is given.
type SectionShape string

// Values of SectionShape.
const (
	CircleShape       SectionShape = "circle"
	EllipseShape      SectionShape = "ellipse"
	SuperellipseShape SectionShape = "superellipse"
	RoundedShape      SectionShape = "rounded" // straight sides, rounded corners
	SplineShape       SectionShape = "spline"  // a smooth curve through points
	PointsShape       SectionShape = "points"  // straight between points
)

// SectionSpec is one cross-section.
type SectionSpec struct {
	Place  Place
	FS     geometry.Station
	Points []SectionPoint     // right side, BL >= 0, crown to keel (stringers; spline, points)
	Radius geometry.Length    // (round, circle), or of the corners (rounded)
	WL     geometry.Waterline // height of the centre (round, circle, ellipse, superellipse)

	Shape       SectionShape // (faired)
	HalfBreadth geometry.Length
	HalfHeight  geometry.Length
	Exponent    float64
	Top, Bottom geometry.Waterline
	Corners     []int // numbers, from 1, of the points that are corners (spline)
}

// SectionPoint is a point of a cross-section.
type SectionPoint struct {
	BL geometry.ButtLine
	WL geometry.Waterline
}

// Sides says on which sides of the aircraft something is.
type Sides string

// Values of Sides.
const (
	LeftSide  Sides = "left"
	RightSide Sides = "right"
	BothSides Sides = "both"
)

// List returns the sides meant, left first.
func (s Sides) List() []geometry.Side {
	switch s {
	case LeftSide:
		return []geometry.Side{geometry.Left}
	case RightSide:
		return []geometry.Side{geometry.Right}
	}
	return []geometry.Side{geometry.Left, geometry.Right}
}

// Find returns the surface of that name.
func (a AircraftSpec) Find(id string) (SurfaceSpec, bool) {
	i := slices.IndexFunc(a.Surfaces, func(s SurfaceSpec) bool { return id != "" && s.ID == id })
	if i < 0 {
		return SurfaceSpec{}, false
	}
	return a.Surfaces[i], true
}

type (
	// Place is where in a file a value was written: line and column count from one.
	Place = document.Place

	// Problem is one mistake in a layout file.
	Problem = document.Problem

	// Problems is everything wrong with a layout, in the order of the file, the layout
	// before its aircraft file.
	Problems = document.Problems
)
