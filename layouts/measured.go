package layouts

import (
	"maskloft/geometry"
)

// MeasuredSpec is a hardpoint as it was measured on this airframe, in the axes of
// the drawing: [geometry.Left] and [geometry.Right]; nil where only drawn. BL is a
// magnitude, as in the drawing.
type MeasuredSpec [2]*MeasuredPoint

// MeasuredPoint is one measured position, BL >= 0 on either side.
type MeasuredPoint struct {
	Place Place
	FS    geometry.Station
	At    SectionPoint
}

// Standard deviations of a hardpoint along each axis where its sigma: is not
// written. Light fabric types are built within about 1/8 in of the drawing (common
// practice, no source), which is taken as twice the deviation; a point measured on
// the airframe is good to half of that.
const (
	DrawnSigma    = geometry.Inch / 16
	MeasuredSigma = geometry.Inch / 32
)

// HardpointTapeSpec is a straight distance between two hardpoints as measured on
// this airframe.
type HardpointTapeSpec struct {
	Place    Place
	From, To string
	Side     TapedSide
	Length   geometry.Length
}

// TapedSide says between which sides a tape was pulled.
type TapedSide string

// Values of TapedSide.
const (
	TapedLeft   TapedSide = "left"
	TapedRight  TapedSide = "right"
	TapedAcross TapedSide = "across" // from the left side to the right
)

// Ends returns the sides of both ends.
func (s TapedSide) Ends() (from, to geometry.Side) {
	switch s {
	case TapedLeft:
		return geometry.Left, geometry.Left
	case TapedRight:
		return geometry.Right, geometry.Right
	}
	return geometry.Left, geometry.Right
}

// PegSpec is a point of the structure on which a level is laid.
type PegSpec struct {
	Place Place
	ID    string
	Side  Sides
	At    geometry.SidePosition
}

// TapeClass is the accuracy that a tape was bought to.
type TapeClass string

// Values of TapeClass.
const (
	TapeUS  TapeClass = "us"   // NIST Handbook 44 section 5.52
	TapeEU1 TapeClass = "eu-1" // European class I
	TapeEU2 TapeClass = "eu-2" // European class II
)

// TapeSpec is the tape in hand and how it is read.
type TapeSpec struct {
	Place   Place
	Class   TapeClass
	Units   geometry.Units  // what it is divided into, and its list is written in
	Reading geometry.Length // distance of two graduations
	Burn    bool            // held at its 1 in (100 mm) mark instead of the hook
}

// UsualTape returns the tape of a layout that names none.
func UsualTape() TapeSpec {
	return TapeSpec{Class: TapeUS, Units: geometry.ReadInches, Reading: geometry.Inch / 16}
}

// Metric returns the tape divided into millimetres. Graduations in parts of an
// inch become whole millimetres.
func (t TapeSpec) Metric() TapeSpec {
	if !t.Units.Metric() {
		t.Units, t.Reading = geometry.ReadMillimetres, geometry.Millimetre
	}
	return t
}

// Start returns the mark of the tape that is held at the hardpoint: 0, or the 1 in
// (100 mm) mark where the hook is not trusted (common practice: a bent hook is the
// commonest fault of a tape).
func (t TapeSpec) Start() geometry.Length {
	switch {
	case !t.Burn:
		return 0
	case t.Units.Metric():
		return 100 * geometry.Millimetre
	}
	return geometry.Inch
}
