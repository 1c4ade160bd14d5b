package geometry

import "fmt"

// Station is a position along the fuselage (FS): inches aft of the datum plane.
type Station float64

// ButtLine is a position across the aircraft (BL): inches to the pilot's right
// of the plane of symmetry; negative on the left.
type ButtLine float64

// Waterline is a position in height (WL): inches above the base plane.
type Waterline float64

// Inches returns the place as a number.
func (s Station) Inches() float64 { return float64(s) }

// Inches returns the place as a number.
func (b ButtLine) Inches() float64 { return float64(b) }

// Inches returns the place as a number.
func (w Waterline) Inches() float64 { return float64(w) }

// To returns the length from s aft to t.
func (s Station) To(t Station) Length { return Length(t - s) }

// Plus returns the station a length aft of s.
func (s Station) Plus(l Length) Station { return s + Station(l) }

// To returns the length from w up to v.
func (w Waterline) To(v Waterline) Length { return Length(v - w) }

// Plus returns the waterline a length above w.
func (w Waterline) Plus(l Length) Waterline { return w + Waterline(l) }

// Position is a point of the aircraft in its own axes.
type Position struct {
	FS Station
	BL ButtLine
	WL Waterline
}

// Vec returns p in aircraft axes: x aft, y right, z up, in inches.
func (p Position) Vec() Vec3 { return Vec3{p.FS.Inches(), p.BL.Inches(), p.WL.Inches()} }

// PositionOf returns the position of a vector in aircraft axes.
func PositionOf(v Vec3) Position {
	return Position{FS: Station(v.X), BL: ButtLine(v.Y), WL: Waterline(v.Z)}
}

// Mirrored returns p on the other side of the plane of symmetry.
func (p Position) Mirrored() Position { p.BL = -p.BL; return p }

// To returns the straight distance, in air, from p to q.
func (p Position) To(q Position) Length { return Length(q.Vec().Sub(p.Vec()).Norm()) }

func (p Position) String() string {
	return fmt.Sprintf("FS %s BL %s WL %s", FormatNumber(p.FS.Inches(), 3), FormatNumber(p.BL.Inches(), 3), FormatNumber(p.WL.Inches(), 3))
}

// SidePosition is a point of the side view.
type SidePosition struct {
	FS Station
	WL Waterline
}

// Side is a side of the aircraft, as the pilot sits.
type Side int

// The two sides.
const (
	Left Side = iota
	Right
)

// Sign returns the sign of a butt line on that side: -1 left, +1 right.
func (s Side) Sign() float64 {
	if s == Left {
		return -1
	}
	return 1
}

// Reading returns the direction of FS in which a reader outside the skin reads:
// +1 (aft) on the left side, whose reader has the nose at his left hand, and -1
// on the right side.
func (s Side) Reading() float64 { return -s.Sign() }

// Other returns the opposite side.
func (s Side) Other() Side { return 1 - s }

func (s Side) String() string {
	if s == Left {
		return "left"
	}
	return "right"
}
