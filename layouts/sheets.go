package layouts

import "maskloft/geometry"

// SheetSpec is how everything that people read is written: lists, views, tickets, cards
// and what the console says.
type SheetSpec struct {
	Units geometry.Units
	Paper PaperName
	Given bool // the paper is the user's: it stays whatever the units
}

// PaperName is a paper that documents are printed on.
type PaperName string

// Values of PaperName.
const (
	LetterPaper PaperName = "letter"
	A4Paper     PaperName = "a4"
)

// SheetsIn are the sheets usual with a unit: inches on letter, millimetres on A4.
func SheetsIn(u geometry.Units) SheetSpec {
	if u.Metric() {
		return SheetSpec{Units: u, Paper: A4Paper}
	}
	return SheetSpec{Units: u, Paper: LetterPaper}
}

// In are the sheets in other units, on the paper usual with these unless it was given.
func (s SheetSpec) In(u geometry.Units) SheetSpec {
	if s.Given {
		s.Units = u
		return s
	}
	return SheetsIn(u)
}
