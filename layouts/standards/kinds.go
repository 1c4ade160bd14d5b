package standards

// PartKind says what shape a part is.
type PartKind string

// Kinds of part. Any of them is cut to other parts by in:, a list of their ids.
const (
	Disc       PartKind = "disc"        // about the centre: radius (unit R) or diameter (unit D)
	Ring       PartKind = "ring"        // about the centre: outer and inner radius
	Star       PartKind = "star"        // points, outer and inner radius, first: degrees of one point, counter-clockwise from x
	Bars       PartKind = "bars"        // a pair, joined behind the disc; start: where the length is counted from, length, width, top: y of the upper edge
	Stripe     PartKind = "stripe"      // along bars, from end to end; width, centre: height of its middle above theirs
	Border     PartKind = "border"      // around parts, under them; width, with mitred corners
	Box        PartKind = "box"         // an upright rectangle: left, right, bottom, top
	Cross      PartKind = "cross"       // upright and straight, about the centre: span, width of its arms
	Saltire    PartKind = "saltire"     // a cross turned by 45 degrees
	Sector     PartKind = "sector"      // of a disc: radius, from, to: degrees counter-clockwise from x
	RingSector PartKind = "ring-sector" // of a ring: outer, inner, from, to
	Ngon       PartKind = "ngon"        // a regular polygon about the centre: points, radius to its corners, first: degrees of one of them
	Triangle   PartKind = "triangle"    // x1, y1, x2, y2, x3, y3: its corners
	Bar        PartKind = "bar"         // one bar: x, y of its middle, length, width, angle: degrees of its length, counter-clockwise from x
	Chevron    PartKind = "chevron"     // opens aft; apex: x of its point, arm: length of the forward edge of an arm, width, angle: degrees between the arms; ends cut square
	Letters    PartKind = "letters"     // text and alphabet; height, x, y of the middle of the line
	Field      PartKind = "field"       // what stripes fill: the outline that a layout names, such as a rudder; else an upright rectangle about the centre: width, height
	Band       PartKind = "band"        // one strip straight across the parts in: names; from, to: parts of their extent; along
	Bands      PartKind = "bands"       // of count equal strips across the parts in: names the one of number first, and every so many-th after it; along
	Strip      PartKind = "strip"       // one strip at true width across the parts in: names; start: from where strips are counted, width; along
)

// The number along of a band, bands or a strip is the direction in which its edges
// run, degrees counter-clockwise from x. Places are counted across it, from its left
// to its right: along 90, edges upright, from the fore end aft; along 0, edges level,
// from the top down. The edge of the field on that side is where counting begins. In
// a field that a layout names, up is the hinge line or the datum's upright, as the
// layout says.

// Dimension says how a number scales.
type Dimension int

// Dimensions. Numbers of circles are radii in unit R and diameters in unit D.
const (
	Circular Dimension = iota
	Linear
	Position // a length from the centre or from an edge, of either sign
	Degrees
	Count
	Fraction // of an extent, 0 to 1
)

// IsLength tells whether a number of the dimension is a length.
func (d Dimension) IsLength() bool { return d == Circular || d == Linear || d == Position }

// kindRow says what one kind of part has.
type kindRow struct {
	numbers []string // a name "a|b" is a in unit R and b in unit D
	dims    []Dimension
	of      string     // key of the list of other parts; empty: none
	ofKinds []PartKind // that the list may name; empty: any
	fills   bool       // it has in:
	words   bool       // it has text: and alphabet:
}

// partKinds lists the numbers of each kind of part.
var partKinds = map[PartKind]kindRow{
	Disc:       {numbers: []string{"radius|diameter"}, dims: []Dimension{Circular}},
	Ring:       {numbers: []string{"outer", "inner"}, dims: []Dimension{Circular, Circular}},
	Star:       {numbers: []string{"points", "outer", "inner", "first"}, dims: []Dimension{Count, Circular, Circular, Degrees}},
	Bars:       {numbers: []string{"start", "length", "width", "top"}, dims: []Dimension{Linear, Linear, Linear, Position}},
	Stripe:     {numbers: []string{"width", "centre"}, dims: []Dimension{Linear, Position}, of: "along", ofKinds: []PartKind{Bars}},
	Border:     {numbers: []string{"width"}, dims: []Dimension{Linear}, of: "around"},
	Box:        {numbers: []string{"left", "right", "bottom", "top"}, dims: []Dimension{Position, Position, Position, Position}},
	Cross:      {numbers: []string{"span", "width"}, dims: []Dimension{Linear, Linear}},
	Saltire:    {numbers: []string{"span", "width"}, dims: []Dimension{Linear, Linear}},
	Sector:     {numbers: []string{"radius", "from", "to"}, dims: []Dimension{Circular, Degrees, Degrees}},
	RingSector: {numbers: []string{"outer", "inner", "from", "to"}, dims: []Dimension{Circular, Circular, Degrees, Degrees}},
	Ngon:       {numbers: []string{"points", "radius", "first"}, dims: []Dimension{Count, Circular, Degrees}},
	Triangle:   {numbers: []string{"x1", "y1", "x2", "y2", "x3", "y3"}, dims: []Dimension{Position, Position, Position, Position, Position, Position}},
	Bar:        {numbers: []string{"x", "y", "length", "width", "angle"}, dims: []Dimension{Position, Position, Linear, Linear, Degrees}},
	Chevron:    {numbers: []string{"apex", "arm", "width", "angle"}, dims: []Dimension{Position, Linear, Linear, Degrees}},
	Letters:    {numbers: []string{"height", "x", "y"}, dims: []Dimension{Linear, Position, Position}, words: true},
	Field:      {numbers: []string{"width", "height"}, dims: []Dimension{Linear, Linear}},
	Band:       {numbers: []string{"from", "to", "along"}, dims: []Dimension{Fraction, Fraction, Degrees}, fills: true},
	Bands:      {numbers: []string{"count", "first", "every", "along"}, dims: []Dimension{Count, Count, Count, Degrees}, fills: true},
	Strip:      {numbers: []string{"start", "width", "along"}, dims: []Dimension{Position, Linear, Degrees}, fills: true},
}

// FollowsField tells whether the rule fills an outline that the layout names.
func (r *Rule) FollowsField() bool {
	for _, p := range r.Parts {
		if p.Kind == Field {
			return true
		}
	}
	return false
}
