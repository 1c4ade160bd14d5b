package geometry

import (
	"fmt"
	"math"
)

// Units says in what people read lengths, areas and amounts. All figures are inches,
// square inches, pounds and US fluid ounces inside; Units only writes them. The zero
// value writes inches.
type Units string

// Values of Units.
const (
	ReadInches      Units = "in"
	ReadMillimetres Units = "mm"
)

// Metric tells whether millimetres are written.
func (u Units) Metric() bool { return u == ReadMillimetres }

// Word is the unit of a length: in, or mm.
func (u Units) Word() string {
	if u.Metric() {
		return "mm"
	}
	return "in"
}

// Name is the unit of a length in full: inches, or millimetres.
func (u Units) Name() string {
	if u.Metric() {
		return "millimetres"
	}
	return "inches"
}

// in turns a length into the unit, and the decimals of inches into those that say about
// as much: one less of millimetres (a thousandth of an inch is 1/40 mm).
func (u Units) in(l Length, decimals int) (float64, int) {
	if u.Metric() {
		return l.Millimetres(), max(0, decimals-1)
	}
	return l.Inches(), decimals
}

// Number writes a length without its unit, trailing zeros cut; decimals are those of
// inches.
func (u Units) Number(l Length, decimals int) string {
	v, d := u.in(l, decimals)
	return FormatNumber(v, d)
}

// Length writes a length with its unit: 14.125 in, 358.78 mm.
func (u Units) Length(l Length, decimals int) string { return u.Number(l, decimals) + " " + u.Word() }

// Fixed writes a length with its unit and all its decimals: 2.30 in, 58.4 mm.
func (u Units) Fixed(l Length, decimals int) string {
	return u.FixedNumber(l, decimals) + " " + u.Word()
}

// Signed is Fixed with its sign: +0.125 in, -3.18 mm.
func (u Units) Signed(l Length, decimals int) string {
	if s := u.Fixed(l, decimals); s[0] == '-' {
		return s
	}
	return "+" + u.Fixed(l, decimals)
}

// FixedNumber is Fixed without the unit.
func (u Units) FixedNumber(l Length, decimals int) string {
	v, d := u.in(l, decimals)
	return fixed(v, d)
}

// fixed writes all decimals, and never -0.
func fixed(v float64, decimals int) string {
	s := fmt.Sprintf("%.*f", decimals, v)
	if s[0] == '-' && FormatNumber(v, decimals) == "0" {
		return s[1:]
	}
	return s
}

// Size writes a width and a height: 14.125 x 14.125 in; to a tenth of a millimetre at the
// finest, as a rule is read: 358.8 x 358.8 mm.
func (u Units) Size(width, height Length, decimals int) string {
	if u.Metric() {
		decimals = min(decimals, 2)
	}
	return u.Number(width, decimals) + " x " + u.Length(height, decimals)
}

// Fraction writes inches with the nearest fraction, see [Length.Fraction], millimetres
// to a tenth: 1-1/4 in, 31.8 mm.
func (u Units) Fraction(l Length, denominator int) string {
	if u.Metric() {
		return u.Length(l, 2)
	}
	return l.Fraction(denominator) + " in"
}

// About writes a length of advice, a whole number of inches, as round in millimetres as it
// is in inches: 1 in, 25 mm; 12 in, 300 mm. What is measured or cut is written by [Units.Length].
func (u Units) About(l Length) string {
	if !u.Metric() {
		return u.Length(l, 2)
	}
	step := 5.0
	if l.Millimetres() >= 100 {
		step = 20
	}
	return FormatNumber(math.Round(l.Millimetres()/step)*step, 0) + " mm"
}

// Position writes a point of the aircraft: FS 134 BL -11.42 WL 38.81.
func (u Units) Position(p Position) string {
	return fmt.Sprintf("FS %s BL %s WL %s", u.Number(Length(p.FS), 3), u.Number(Length(p.BL), 3), u.Number(Length(p.WL), 3))
}

// At writes one coordinate of the aircraft, to a thousandth of an inch or a hundredth of
// a millimetre.
func (u Units) At(v float64) string { return u.Number(Length(v), 3) }

// Long writes a length of film or of a body, in feet or metres: 13.2 ft, 4.0 m.
func (u Units) Long(l Length) string {
	if u.Metric() {
		return fixed(l.Millimetres()/1000, 1) + " m"
	}
	return fixed(l.Inches()/12, 1) + " ft"
}

// SmallArea writes square inches or square centimetres.
func (u Units) SmallArea(squareInches float64, decimals int) string {
	v, decimals := u.smallArea(squareInches, decimals)
	return FormatNumber(v, decimals) + " " + u.SmallAreaWord()
}

// FixedSmallArea is the number of SmallArea with all its decimals, for the columns of a
// table that SmallAreaWord heads.
func (u Units) FixedSmallArea(squareInches float64, decimals int) string {
	return fixed(u.smallArea(squareInches, decimals))
}

// SmallAreaWord is the unit of SmallArea.
func (u Units) SmallAreaWord() string {
	if u.Metric() {
		return "cm2"
	}
	return "in2"
}

func (u Units) smallArea(squareInches float64, decimals int) (float64, int) {
	if u.Metric() {
		return squareInches * 2.54 * 2.54, max(0, decimals-1)
	}
	return squareInches, decimals
}

// Area writes square feet, or square metres (1 ft is 0.3048 m exactly): 2.00 ft2, 0.186 m2.
func (u Units) Area(squareFeet float64) string {
	if u.Metric() {
		return fixed(squareFeet*0.3048*0.3048, 3) + " m2"
	}
	return fixed(squareFeet, 2) + " ft2"
}

// Volume writes US fluid ounces, or millilitres and from a litre on litres (1 US fl oz is
// 1/128 of 231 in3, 29.5735 ml).
func (u Units) Volume(fluidOunces float64) string {
	if !u.Metric() {
		return fixed(fluidOunces, 0) + " US fl oz"
	}
	ml := fluidOunces * (231 * 2.54 * 2.54 * 2.54 / 128)
	if ml < 999.5 {
		return fixed(ml, 0) + " ml"
	}
	return fixed(ml/1000, 2) + " l"
}

// Weight writes pounds, or grams (1 lb is 453.59237 g exactly), from low to high.
func (u Units) Weight(low, high float64) string {
	if u.Metric() {
		return fmt.Sprintf("%s to %s g", fixed(low*453.59237, 1), fixed(high*453.59237, 1))
	}
	return fmt.Sprintf("%s to %s lb", fixed(low, 3), fixed(high, 3))
}

// Moment writes inch-pounds, or newton millimetres (1 lbf is 4.4482216 N), from low to
// high.
func (u Units) Moment(low, high float64) string {
	const newton = 0.45359237 * 9.80665
	if u.Metric() {
		return fmt.Sprintf("%s to %s N mm", fixed(low*25.4*newton, 1), fixed(high*25.4*newton, 1))
	}
	return fmt.Sprintf("%s to %s in-lb", fixed(low, 2), fixed(high, 2))
}
