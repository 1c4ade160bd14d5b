package layouts

import "maskloft/geometry"

// ShapeKind says what a plain shape is.
type ShapeKind string

// Kinds of plain shape. Each stands about its own middle, before it is turned and
// moved; lengths are true lengths of the drawing.
const (
	DiscShape      ShapeKind = "disc"      // diameter
	RingShape      ShapeKind = "ring"      // diameter, inner (diameter)
	OvalShape      ShapeKind = "ellipse"   // length along x, height along y
	RectangleShape ShapeKind = "rectangle" // length, height, corner (radius; square where not written)
	PolygonShape   ShapeKind = "polygon"   // points, from the figure's middle
	ArrowShape     ShapeKind = "arrow"     // length from point to tail, width of the shaft, head (length), span across the head; points forward
	TriangleShape  ShapeKind = "triangle"  // length of the base, height; its middle is that of its extents
	ChevronShape   ShapeKind = "chevron"   // arm (length of an outer edge), width, angle between the arms; points forward
	BarShape       ShapeKind = "bar"       // length, width, ends (square, round)
	CrossShape     ShapeKind = "cross"     // span, width of the arms
)

// ShapeSpec is one plain shape of a figure, in one paint.
type ShapeSpec struct {
	Place Place
	Kind  ShapeKind
	Paint string
	At    geometry.Point // of its middle, inches from the figure's, x to the reader's right on the left side
	Turn  float64        // degrees, counter-clockwise on the left side

	Diameter, Inner geometry.Length
	Length, Width   geometry.Length
	Height, Corner  geometry.Length
	Span, Head, Arm geometry.Length
	Angle           float64 // degrees between the arms
	Round           bool    // ends of a bar
	Points          []geometry.Point
}

// BorderPlace says on which side of the outline a border lies.
type BorderPlace string

// Values of BorderPlace.
const (
	OutsideBorder BorderPlace = "outside" // around what is there, earlier borders with it
	InsideBorder  BorderPlace = "inside"  // taken from it
	CentredBorder BorderPlace = "centred" // half and half
)

// BorderSpec is an edge of one paint along the outline of a figure.
type BorderSpec struct {
	Place Place
	Width geometry.Length
	Paint string
	On    BorderPlace
	Join  geometry.Join // at corners
}

// ShadeSpec is the drop shade of a figure: what lies under it, moved or drawn out in
// one direction.
type ShadeSpec struct {
	Place  Place
	Depth  geometry.Length
	Angle  float64 // degrees counter-clockwise from the reader's right, on the left side; of a text on both
	Paint  string
	Joined bool // drawn out from the figure, as if it were thick; false: a copy of it, moved
}

// StripSpec is one strip of stripes, a band or a line: by its width, or by its part
// of the whole.
type StripSpec struct {
	Place Place
	Paint string // empty: left bare
	Width geometry.Length
	Part  float64 // of the sum of all parts; 0: by width
}

// StripesSpec are strips across the outline of what the marking stands on: a rudder, a
// fin, a face of a wing; or along a body between two stations, such as a cowling.
type StripesSpec struct {
	Place   Place
	Between []float64 // of a body: its two stations; then Along says nothing
	Along   StripesAlong
	Angle   float64 // degrees that the edges then lean towards the tail
	Strips  []StripSpec
	Cuts    []float64 // of a body: waterlines at which its film is parted
}

// StripesAlong says how the edges of stripes run.
type StripesAlong string

// Values of StripesAlong.
const (
	AlongHinge   StripesAlong = "hinge"   // with the fore edge of the surface, from it aft
	AlongUpright StripesAlong = "upright" // square to the datum, from the fore end aft
	AlongLevel   StripesAlong = "level"   // with the datum, from the top down
)

// BandSpec is a band round a body or chordwise over a wing.
type BandSpec struct {
	Place  Place
	At     []float64 // one: the fore edge, from which widths are counted along the skin; two: between them
	Square bool      // of a body: square to its centre line and not to the datum
	Strips []StripSpec
	Cuts   []float64 // where its film is parted further: waterlines round a body, stations over a wing
	Joins  []string  // named lines at which the films of one side meet, from the crown down; none: crown and keel
}

// LineSpec is a line along the skin through given points, with strips beside it.
type LineSpec struct {
	Place  Place
	Points []WhereSpec
	Smooth bool // a curve through the points; false: straight along the skin from one to the next
	Soft   bool // its edge is sprayed soft
	Lies   Lies
	Covers Lies // film on this side of the line alone, above or below; the other is sprayed. Empty: film round the strips
	Strips []StripSpec
	Cuts   []float64 // stations at which its film is parted into pieces laid each by itself
}

// Lies says on which side of a line its strips lie.
type Lies string

// Values of Lies.
const (
	LiesBelow   Lies = "below"
	LiesAbove   Lies = "above"
	LiesCentred Lies = "centred" // half of all widths above, half below
)
