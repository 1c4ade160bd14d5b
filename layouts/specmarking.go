package layouts

import (
	"slices"

	"maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts/standards"
)

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
	Stencil  bool // it stands under stencils: list:, not under markings:
	Figure   FigureSpec
	Where    WhereSpec
	True     Truth
	Handed   Handedness
	Colours  []ColourUse // in the order written
	Evidence []string
	Explains []Explained // in the order written
	Over     []string    // ids of the markings that it is meant to cover in part or whole
}

// CoversOn tells whether the marking is meant to lie over another.
func (m *MarkingSpec) CoversOn(id string) bool { return slices.Contains(m.Over, id) }

// FigureSpec is what is drawn: a figure of a published rule, a run of characters,
// plain shapes, or what follows the skin: stripes, a band, a line.
type FigureSpec struct {
	Place Place

	Rule    string          // id of a rule in layouts/standards
	Size    geometry.Length // governing size: the diameter of the disc; 0: that of the surface which the rule fills
	Options []OptionChoice  // named readings of the rule, in the order written

	Text     string           // of a block, its lines with breaks between them
	Alphabet string           // a name, or a font or alphabet file beside the layout
	Letters  *glyphs.Alphabet // from that file; nil: by name, or a font
	Height   geometry.Length
	Gap      *geometry.Length // nil: the alphabet's own
	As       []string         // ids of rules for lettering that the text is held against
	Setting  SettingSpec

	Discs []DiscSpec // largest first

	Shapes  []ShapeSpec
	Drawing *DrawingSpec
	Stripes *StripesSpec
	Band    *BandSpec
	Line    *LineSpec

	Borders []BorderSpec // along the outline of any figure drawn in a plane
	Shade   *ShadeSpec   // nil: none
}

// FollowsSkin tells whether the figure is drawn on the skin and brings its own place,
// so that where: names the surface and side alone.
func (f FigureSpec) FollowsSkin() bool {
	if f.Stripes != nil || f.Band != nil || f.Line != nil {
		return true
	}
	rule, err := standards.Find(f.Rule)
	return f.Rule != "" && err == nil && rule.FollowsField()
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
	Least   geometry.Length // the narrowest field that is taken where that saves a seam or a film
	Marks   MarkStyle       // how registration marks stand on the film
	Longest geometry.Length // longest tile along the web
	Strain  StrainBands     // how much strain of the film asks for what
	Seam    SeamSpec        // how tiles meet and lie on the web
}

// UsualLeastField is the narrowest field of a layout that does not say: it holds a
// registration mark of half an inch and as much film beside it (common practice, no
// source).
const UsualLeastField = 1 * geometry.Inch

// MarkStyle says how registration marks stand on the film.
type MarkStyle string

// Values of MarkStyle.
const (
	CutMarks   MarkStyle = "cut"  // windows in the film, for every cutter
	DrawnMarks MarkStyle = "draw" // drawn in the proof alone: for a cutter with a pen, or by hand
)

// PaintSpec is the paint shop's part.
type PaintSpec struct {
	Place   Place
	Order   []string // paints in the order of spraying
	Colours []ColourSpec
	Spray   SpraySpec // how it is sprayed
	Skin    SkinColours
}

// SkinColours is the colour of the skin under the markings, "#rrggbb": for pictures only.
type SkinColours struct {
	All  string            // empty: not said
	Only map[string]string // of single surfaces, by their ids
}

// ColourSpec is one paint.
type ColourSpec struct {
	Place    Place
	ID       string
	Stencil  bool // it stands under stencils: list:, not under markings:
	Name     string
	Hex      string // "#rrggbb": for pictures only
	Standard string
	Coats    int // 0: as many as usual
}

// RulesSpec names the documents that apply and the date.
type RulesSpec struct {
	Place Place
	Date  string // a day, a month or a year
	// Words of the lists; empty: not said.
	Nation, Service, Finish string
	Types                   []string
	Edge                    geometry.Length // that paint keeps from the edges of its surface
}

// EvidenceSpec is one source of a decision.
type EvidenceSpec struct {
	Place Place
	ID    string
	Class string // E1 (original paint on this airframe) to E7 (guess)
	What  string
}

// Explained says which evidence explains that a dimension of a marking is not as
// its rule has it. A dimension is named part.number, bars.length; a part that is
// left out by its own name, border; the size of the whole is size.
type Explained struct {
	Dimension string
	Evidence  []string
}
