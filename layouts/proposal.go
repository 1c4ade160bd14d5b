package layouts

import (
	"math"

	"maskloft/geometry"
	"maskloft/layouts/document"
)

// Proposal is one value of the layout file that a finding puts forward. Written
// there, the finding is likely gone; whether it is, is known when the layout is
// computed with it.
type Proposal struct {
	Path  string // of the value: markings[insignia].where.fs, see document.Path
	Value string // as the file has it, with its unit: 136.125 in
	Why   string // what it does: "2.125 in aft: keeps 1/2 in from the tape"
}

// String writes the proposal as one line.
func (p Proposal) String() string {
	s := p.Path + ": " + p.Value
	if p.Why != "" {
		s += " (" + p.Why + ")"
	}
	return s
}

// Units are the names of the units that a file may measure bare numbers in.
var Units = map[string]geometry.Length{
	"in": geometry.Inch, "ft": geometry.Foot,
	"mm": geometry.Millimetre, "cm": geometry.Centimetre, "m": geometry.Metre,
}

// unitDecimals are the decimals that write a sixteenth of an inch, 1.5875 mm, without
// rounding.
var unitDecimals = map[string]int{"mm": 4, "cm": 5, "m": 7}

// Write writes a length with its unit, in the unit of the file: 136.125 in,
// 3457.575 mm; where that is feet, feet and inches: 11 ft 4.125 in.
func (s *Spec) Write(l geometry.Length) string {
	unit, known := unitDecimals[s.Units]
	switch {
	case known:
		return geometry.FormatNumber(float64(l/Units[s.Units]), unit) + " " + s.Units
	case s.Units == "ft" && l >= geometry.Foot:
		feet := math.Floor(float64(l / geometry.Foot))
		if inches := geometry.FormatNumber(float64(l)-float64(12*feet), 4); inches != "0" {
			return geometry.FormatNumber(feet, 0) + " ft " + inches + " in"
		}
		return geometry.FormatNumber(feet, 0) + " ft"
	}
	return l.String()
}

// Path is the path of a value of the marking in the layout file.
func (m *MarkingSpec) Path(keys ...string) string {
	list := document.Path{}.Key("markings")
	if m.Stencil {
		list = document.Path{}.Key("stencils", "list")
	}
	return list.ID(m.ID).Key(keys...).String()
}
