package layouts

import (
	"maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/glyphs"
)

// Place is where in a file a value was written: line and column count from one.
type Place struct {
	File         string
	Line, Column int
}

// Spec is a layout file as it was written: one Go field for each key, in the
// words of the trade, nothing computed. [Load] reads it, [Resolve] computes.
type Spec struct {
	File     string
	Name     string
	Aircraft AircraftSpec
	Markings []MarkingSpec
	Film     FilmSpec
	Paint    PaintSpec
	Rules    RulesSpec
	Evidence []EvidenceSpec
	Tape     TapeSpec
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
	Matches []skin.ScanMatch // three points or more, known on both
	Mesh    *skin.Scan
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

// Sides says on which sides of the aircraft a thing is.
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

// HardpointSpec is a point of the structure where a tape hooks.
type HardpointSpec struct {
	Place Place
	ID    string
	Name  string
	Side  Sides
	At    SectionPoint // BL >= 0; mirrored for the left side
	FS    geometry.Station

	Measured MeasuredSpec    // on this airframe
	Sigma    geometry.Length // standard deviation along each axis; 0: the usual one
}

// ObstacleKind says what an obstacle is.
type ObstacleKind string

// Kinds of obstacle.
const (
	Ring    ObstacleKind = "ring"    // round: centre and diameter
	Spot    ObstacleKind = "spot"    // a fitting: centre and diameter
	TapeRun ObstacleKind = "tape"    // finishing tape along a named line: width
	HingeAt ObstacleKind = "hinge"   // a gap between two surfaces: from FS to FS
	Around  ObstacleKind = "section" // tape round a station, or along a rib of a wing: FS or BL, and width
	Opening ObstacleKind = "opening" // a slot or window: outline as seen from the side, or a wing's in plan
)

// ObstacleSpec is a thing a marking must clear, or that lies under its film.
type ObstacleSpec struct {
	Place   Place
	ID      string
	Kind    ObstacleKind
	Surface string
	Side    Sides
	At      geometry.SidePosition   // centre (ring, spot); FS of a section tape
	Size    geometry.Length         // diameter or width
	Line    string                  // named line of a tape
	To      geometry.Station        // aft edge of a hinge gap, whose fore edge is At.FS
	Points  []geometry.SidePosition // closed by itself (opening)
	OnWing  bool                    // in plan: BL for WL, Plan for Points
	Face    Face                    // of a wing; NoFace: both
	BL      geometry.ButtLine       // outwards, of a centre or a rib
	Plan    []PlanPosition          // closed by itself (opening)
	Clear   geometry.Length         // that paint keeps from it (not of tapes)
}

// GroundSpec is the ground line: where the wheels touch, aircraft level.
type GroundSpec struct {
	Place Place
	Main  geometry.SidePosition
	Tail  geometry.SidePosition
}

// ProfileSpec is a line of the side view that no marking sits on: drawn only.
type ProfileSpec struct {
	Place  Place
	ID     string
	Points []geometry.SidePosition
	Closed bool
}

// Truth says in which view a drawing keeps its measures.
type Truth string

// Values of Truth.
const (
	TrueSkin Truth = "skin" // the film is the drawing: lengths are true along the skin
	TrueSide Truth = "side" // the drawing is what is seen in side elevation
)

// Handedness says what the right side does with the drawing of the left.
type Handedness string

// Values of Handedness.
const (
	Symmetric Handedness = "symmetric" // the same either way: roundels, stars
	Text      Handedness = "text"      // reads left to right on both sides: never mirrored
	Handed    Handedness = "handed"    // mirrored: points forward on both sides
)

// HoldPoint is the point of a figure that stands at the given FS and WL.
type HoldPoint string

// Values of HoldPoint.
const (
	HoldCentre HoldPoint = "centre" // the figure's own centre
	HoldFore   HoldPoint = "fore"   // mid-height of its edge nearest the nose
	HoldAft    HoldPoint = "aft"    // mid-height of its edge nearest the tail
)

// MarkingSpec is one marking.
type MarkingSpec struct {
	Place    Place
	ID       string
	Figure   FigureSpec
	Where    WhereSpec
	True     Truth
	Handed   Handedness
	Colours  []ColourUse // in the order written
	Evidence []string
	Explains []Explained // in the order written
}

// FigureSpec is what is drawn: a figure of a published rule, or a run of
// characters, or plain discs.
type FigureSpec struct {
	Place Place

	Rule    string          // id of a rule in layouts/standards
	Size    geometry.Length // governing size: the diameter of the disc
	Options []OptionChoice  // named readings of the rule, in the order written

	Text     string           // of a block, its lines with breaks between them
	Alphabet string           // a name, or a font or alphabet file beside the layout
	Letters  *glyphs.Alphabet // from that file; nil: by name, or a font
	Height   geometry.Length
	Gap      *geometry.Length // nil: the alphabet's own
	As       []string         // ids of rules for lettering that the text is held against
	Setting  SettingSpec

	Discs []DiscSpec // largest first
}

// OptionChoice picks a named reading where a rule has more than one.
type OptionChoice struct{ Option, Choice string }

// DiscSpec is one concentric disc.
type DiscSpec struct {
	Place    Place
	Diameter geometry.Length
	Colour   string
}

// ColourUse gives the paint of one part of a figure. Part is a role of the
// rule, or "text".
type ColourUse struct{ Part, Paint string }

// WhereSpec says where a marking goes: a station, and a height given by a
// waterline, by a girth from a named line, or midway between two lines.
type WhereSpec struct {
	Place    Place
	Surfaces []string // one, or several that lie in one plane (fin and rudder)
	Side     Sides
	Face     Face              // of a wing
	FS       geometry.Station  // of two stations written, the one midway
	BL       geometry.ButtLine // outwards, on a wing
	Height   HeightKind
	WL       geometry.Waterline // HeightWaterline
	Line     string             // HeightGirth: the line measured from; HeightBetween: the upper line
	Down     geometry.Length    // HeightGirth: along the skin, positive downwards
	LineTo   string             // HeightBetween: the lower line
	Hold     HoldPoint
	Align    string   // AlignWaterline, AlignStation, AlignLeadingEdge, or the name of a line
	Angle    float64  // degrees that the drawing's up then leans towards the tail; on a wing, to the drawing's right
	Baseline Baseline // what a long drawing follows
}

// HeightKind says how the height of a place is given.
type HeightKind int

// Kinds of height.
const (
	HeightWaterline HeightKind = iota // wl: seen from the side
	HeightGirth                       // from: {line, down or up}: along the section
	HeightBetween                     // between: two lines: midway along the section
)

// What a drawing is aligned to, but for named lines.
const (
	AlignWaterline   = "waterline"    // its x runs level on the skin
	AlignStation     = "station"      // its y runs along the section
	AlignForward     = "forward"      // its y runs forward: on wings
	AlignLeadingEdge = "leading-edge" // its y runs along the fore edge of a plate
)

// Baseline says what the x axis of a drawing follows on the skin.
type Baseline string

// Values of Baseline.
const (
	StraightBaseline  Baseline = "straight"  // the straightest line on the skin, level at the anchor
	WaterlineBaseline Baseline = "waterline" // the waterline of the anchor
)

// Lines that every body has besides those it names.
const (
	CrownLine = "crown"
	KeelLine  = "keel"
)

// FilmSpec is the film and the cutter.
type FilmSpec struct {
	Place   Place
	Web     geometry.Length // width of the roll
	Across  geometry.Length // margin at each edge of the web that the cutter cannot reach
	Lead    geometry.Length // margin before the first cut
	Tail    geometry.Length // margin after the last
	Field   geometry.Length // film kept around the paint; the registration marks stand in it
	Longest geometry.Length // longest tile along the web
	Strain  StrainBands     // how much strain of the film asks for what
	Seam    SeamSpec        // how tiles meet and lie on the web
}

// PaintSpec is the paint shop's part.
type PaintSpec struct {
	Place   Place
	Order   []string // paints in the order of spraying
	Colours []ColourSpec
	Spray   SpraySpec // how it is sprayed
}

// ColourSpec is one paint.
type ColourSpec struct {
	Place    Place
	ID       string
	Name     string
	Hex      string // "#rrggbb": for pictures only
	Standard string
	Coats    int // 0: as many as usual
}

// RulesSpec names the documents that apply and the date.
type RulesSpec struct {
	Place  Place
	Date   string
	Nation string
	Edge   geometry.Length // that paint keeps from the edges of its surface
}

// EvidenceSpec is one source of a decision.
type EvidenceSpec struct {
	Place Place
	ID    string
	Class string // E1 (original paint on this airframe) to E7 (guess)
	What  string
}
