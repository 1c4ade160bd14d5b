package audit

import (
	"math"

	"maskloft/export/drawing"
)

// Cause is why a file came out at another size, and what to do in the shop.
type Cause struct {
	Factor float64 // size found over size drawn
	Text   string
	Fix    string
}

// Causes are the mistakes that give a fixed factor (arithmetic of the densities
// that programs assume). They are printed on the ticket and named by the audit.
var Causes = []Cause{
	{0.75, "a 72-per-inch file read at 96", "scale to 133.33 %"},
	{4.0 / 3, "a 96-per-inch file read at 72", "scale to 75 %"},
	{0.9375, "a 90-per-inch file read at 96", "scale to 106.67 %"},
	{16.0 / 15, "a 96-per-inch file read at 90", "scale to 93.75 %"},
	{0.8, "a 72-per-inch file read at 90", "scale to 125 %"},
	{1.25, "a 90-per-inch file read at 72", "scale to 80 %"},
	{8.0 / 8.5, "printed or exported with fit to page", "export at 100 percent, no fitting"},
	{25.4, "millimetres taken for inches", "set the unit of the import"},
	{1 / 25.4, "inches taken for millimetres", "set the unit of the import"},
}

// unitCauses are those that are too large for a bar on film to show: one unit taken for
// another.
var unitCauses = []Cause{
	{2.54, "centimetres taken for inches", "set the unit of the import"},
	{1 / 2.54, "inches taken for centimetres", "set the unit of the import"},
	{10, "centimetres taken for millimetres, or one decimal lost", "set the unit of the import"},
	{0.1, "millimetres taken for centimetres, or one decimal lost", "set the unit of the import"},
	{72, "points taken for inches", "set the unit of the import"},
	{1.0 / 72, "inches taken for points", "set the unit of the import"},
	{96, "pixels taken for inches", "set the unit of the import"},
	{1.0 / 96, "inches taken for pixels", "set the unit of the import"},
	{72 / 25.4, "points taken for millimetres", "set the unit of the import"},
	{25.4 / 72, "millimetres taken for points", "set the unit of the import"},
	{96 / 25.4, "pixels taken for millimetres", "set the unit of the import"},
	{25.4 / 96, "millimetres taken for pixels", "set the unit of the import"},
}

// causeWithin is how near a factor must be to that of a cause, as a fraction: the
// causes lie 0.4 percent apart at the nearest (0.9375 and 0.9412).
const causeWithin = 0.0015

// pageRounding is what a page's size may be rounded by, inches: to a whole unit of 96
// to the inch, or half a millimetre.
const pageRounding = 0.01

// slackOf is how near a factor along one side of a page must be to that of a cause.
func slackOf(side float64) float64 {
	if !(side > 0) {
		return causeWithin
	}
	return math.Min(2*causeWithin, causeWithin+pageRounding/side)
}

// CauseOf names the mistake behind a factor of size along both axes; false where
// none of the known ones fits.
func CauseOf(along, up float64) (Cause, bool) {
	return causeOf(along, up, [2]float64{causeWithin, causeWithin}, drawing.PDF)
}

// causeOf is CauseOf with a slack for each axis and the format of the file: a user unit
// only a PDF has.
func causeOf(along, up float64, slack [2]float64, format drawing.Format) (Cause, bool) {
	mean := math.Sqrt(along * up)
	best, found := Cause{}, false
	for _, list := range [][]Cause{Causes, unitCauses} {
		for _, c := range list {
			d := math.Max(math.Abs(along/c.Factor-1)/slack[0], math.Abs(up/c.Factor-1)/slack[1])
			if d <= 1 && (!found || math.Abs(mean/c.Factor-1) < math.Abs(mean/best.Factor-1)) {
				best, found = c, true
			}
		}
	}
	whole := 1/mean > 1.5 && math.Abs(1/mean/math.Round(1/mean)-1) <= causeWithin
	if found {
		if whole && format == drawing.PDF {
			best.Text += ", or the user unit of a PDF ignored"
			best.Fix += ", or ask for files in tiles, without a user unit"
		}
		return best, true
	}
	if spread := math.Abs(along/up - 1); spread > 0.002 {
		if spread < 0.02 {
			return Cause{mean, "the two axes differ by less than 2 percent: feed calibration, or film that stretched", "calibrate the cutter's feed again, and cut shorter panels"}, true
		}
		return Cause{mean, "the two axes are scaled apart: stretched to a page or a box", "keep the proportions and export at 100 percent"}, true
	}
	if whole && format == drawing.PDF {
		return Cause{mean, "the user unit of a PDF ignored", "ask for files in tiles, without a user unit"}, true
	}
	return Cause{}, false
}
