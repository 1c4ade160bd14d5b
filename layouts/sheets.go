package layouts

import "maskloft/geometry"

// SheetSpec is how everything that people read is written: lists, views, tickets, cards
// and what the console says.
type SheetSpec struct {
	Units geometry.Units
	Paper PaperName
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
		return SheetSpec{u, A4Paper}
	}
	return SheetSpec{u, LetterPaper}
}
