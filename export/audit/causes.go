package audit

import "math"

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

// causeWithin is how near a factor must be to that of a cause, as a fraction: the
// causes lie 0.4 percent apart at the nearest (0.9375 and 0.9412).
const causeWithin = 0.0015

// CauseOf names the mistake behind a factor of size along both axes; false where
// none of the known ones fits.
func CauseOf(along, up float64) (Cause, bool) {
	mean := math.Sqrt(along * up)
	if spread := math.Abs(along/up - 1); spread > 0.002 {
		if spread < 0.02 {
			return Cause{mean, "the two axes differ by less than 2 percent: feed calibration, or film that stretched", "calibrate the cutter's feed again, and cut shorter panels"}, true
		}
		return Cause{mean, "the two axes are scaled apart: stretched to a page or a box", "keep the proportions and export at 100 percent"}, true
	}
	best, found := Cause{}, false
	for _, c := range Causes {
		d := math.Abs(mean/c.Factor - 1)
		if d <= causeWithin && (!found || d < math.Abs(mean/best.Factor-1)) {
			best, found = c, true
		}
	}
	if found {
		return best, true
	}
	if u := 1 / mean; u > 1.5 && math.Abs(u/math.Round(u)-1) <= causeWithin {
		return Cause{mean, "the user unit of a PDF ignored", "ask for files in tiles, without a user unit"}, true
	}
	return Cause{}, false
}
