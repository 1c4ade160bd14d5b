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
