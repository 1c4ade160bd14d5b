package geometry

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Length is a distance in inches.
//
// Sixteenths and whole inches are exact. A millimetre is the quotient
// 1/25.4, so 25.4 mm is one inch to one part in 1e16; compare lengths within a
// tolerance, never with ==.
type Length float64

// Units of length, as multiples of an inch (1 in = 25.4 mm exactly, by the
// international yard and pound agreement of 1959).
const (
	Inch       Length = 1
	Foot       Length = 12
	Millimetre Length = 1 / 25.4
	Centimetre Length = 10 / 25.4
	Metre      Length = 1000 / 25.4
)

// Inches returns l in inches.
func (l Length) Inches() float64 { return float64(l) }

// Millimetres returns l in millimetres.
func (l Length) Millimetres() float64 { return float64(l) * 25.4 }

// Fraction writes l as inches with the nearest fraction of the given
// denominator (a power of two), reduced: Fraction(16) of 50.7 is `50-11/16`.
// A length that lies midway goes to the even numerator, as a rule is read
// (NIST Handbook 44 section 10.3).
func (l Length) Fraction(denominator int) string {
	n := int64(math.RoundToEven(float64(l) * float64(denominator)))
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	d := int64(denominator)
	whole, rest := n/d, n%d
	for rest != 0 && rest%2 == 0 {
		rest, d = rest/2, d/2
	}
	switch {
	case rest == 0:
		return fmt.Sprintf("%s%d", sign, whole)
	case whole == 0:
		return fmt.Sprintf("%s%d/%d", sign, rest, d)
	}
	return fmt.Sprintf("%s%d-%d/%d", sign, whole, rest, d)
}

// String writes l in inches with up to four decimals and the unit.
func (l Length) String() string { return FormatNumber(float64(l), 4) + " in" }

var (
	numberText = `(?:\d+(?:\.\d*)?|\.\d+)`
	// amount is a decimal number, or a whole number with a fraction, or a fraction.
	amountText = `(?:(?:(\d+)[\s-]+)?(\d+)\s*/\s*(\d+)|(` + numberText + `))`
	// one term: an amount and its unit.
	termRE   = regexp.MustCompile(`^` + amountText + `\s*([a-zA-Z'"″′]*)`)
	unitOf   = map[string]Length{"in": Inch, "inch": Inch, "inches": Inch, `"`: Inch, "″": Inch, "ft": Foot, "foot": Foot, "feet": Foot, "'": Foot, "′": Foot, "mm": Millimetre, "cm": Centimetre, "m": Metre}
	unitHint = "write 52 in, 20-1/2 in, 5 ft 3 1/4 in or 305 mm"
)

// ParseLength reads a length as people write it: "20-1/2 in", "20 1/2 in",
// "5 ft 3 1/4 in", `5' 3"`, "305 mm", "1.5 m". The amount is a decimal number, a
// fraction, or a whole number and a fraction. A sign may stand in front.
//
// A number without a unit is taken in the bare unit; when bare is zero it is
// refused, because a file opened at the wrong scale is the trade's commonest
// mistake. Errors say what to write instead.
func ParseLength(text string, bare Length) (Length, error) {
	s := strings.TrimSpace(text)
	sign := Length(1)
	if rest, ok := strings.CutPrefix(s, "-"); ok {
		sign, s = -1, strings.TrimSpace(rest)
	} else if rest, ok := strings.CutPrefix(s, "+"); ok {
		s = strings.TrimSpace(rest)
	}
	if s == "" {
		return 0, fmt.Errorf("%q is not a length: %s", text, unitHint)
	}
	var total, last Length
	for first := true; s != ""; first = false {
		m := termRE.FindStringSubmatch(s)
		if m == nil {
			return 0, fmt.Errorf("%q is not a length: %s", text, unitHint)
		}
		amount, err := parseAmount(m)
		if err != nil {
			return 0, fmt.Errorf("%q is not a length: %w", text, err)
		}
		unit, known := unitOf[m[5]]
		rest := strings.TrimSpace(s[len(m[0]):])
		switch {
		case m[5] == "" && first && rest == "" && bare != 0:
			unit = bare
		case m[5] == "" && first && rest == "":
			return 0, fmt.Errorf("%q has no unit: write %s in or %s mm, or give the file `units:`", text, s, s)
		case m[5] == "" || !known:
			return 0, fmt.Errorf("%q: unknown unit %q: %s", text, m[5], unitHint)
		}
		if !first && unit >= last {
			return 0, fmt.Errorf("%q: the larger unit comes first: %s", text, unitHint)
		}
		total += Length(Length(amount) * unit)
		last, s = unit, rest
	}
	if math.IsInf(float64(total), 0) || math.IsNaN(float64(total)) {
		return 0, fmt.Errorf("%q is not a finite length: %s", text, unitHint)
	}
	return sign * total, nil
}

func parseAmount(m []string) (float64, error) {
	if m[4] != "" {
		return strconv.ParseFloat(m[4], 64)
	}
	num, err := strconv.ParseFloat(m[2], 64)
	if err != nil {
		return 0, err
	}
	den, err := strconv.ParseFloat(m[3], 64)
	if err != nil {
		return 0, err
	}
	if den == 0 {
		return 0, fmt.Errorf("a fraction over zero")
	}
	whole := 0.0
	if m[1] != "" {
		if whole, err = strconv.ParseFloat(m[1], 64); err != nil {
			return 0, err
		}
		if num >= den {
			return 0, fmt.Errorf("the fraction %s/%s after a whole number is not below 1", m[2], m[3])
		}
	}
	return whole + num/den, nil
}

// PointsPerInch is the unit of a page in PDF: 72 points to an inch (ISO 32000-1,
// 8.3.2.3).
const PointsPerInch = 72.0
