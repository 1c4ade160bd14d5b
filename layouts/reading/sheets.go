package reading

import (
	"maskloft/geometry"
	"maskloft/layouts"
)

// sheets reads the units and the paper of what people read; millimetres go on A4 where
// no paper is named.
func (v value) sheets() layouts.SheetSpec {
	s := layouts.SheetsIn(geometry.ReadInches)
	if !v.Written() {
		return s
	}
	f := v.fields("sheets", "", "units paper")
	s = layouts.SheetsIn(choice(f.at("units"), s.Units, geometry.ReadInches, geometry.ReadMillimetres))
	s.Paper = choice(f.at("paper"), s.Paper, layouts.LetterPaper, layouts.A4Paper)
	return s
}
