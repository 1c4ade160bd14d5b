package reading

import (
	"maskloft/geometry"
	"maskloft/layouts"
)

// sheets reads the units and the paper of what people read. What is not written follows
// from the unit of the file's bare numbers, metric or not; millimetres go on A4.
func (v value) sheets(units string) layouts.SheetSpec {
	s := layouts.SheetsIn(geometry.ReadInches)
	switch units {
	case "mm", "cm", "m":
		s = layouts.SheetsIn(geometry.ReadMillimetres)
	}
	if !v.Written() {
		return s
	}
	f := v.block("sheets")
	s = layouts.SheetsIn(choice(f.at("units"), s.Units, geometry.ReadInches, geometry.ReadMillimetres))
	paper := f.at("paper")
	s.Paper, s.Given = choice(paper, s.Paper, layouts.LetterPaper, layouts.A4Paper), paper.Written()
	return s
}
