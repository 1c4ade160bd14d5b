package tapelist

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Reading writes what to look for on the tape for a length: to the nearest
// graduation, midway to the even one (NIST Handbook 44 section 10.3), the mark
// held at the hardpoint added, with its unit.
func Reading(t layouts.TapeSpec, l g.Length) string {
	l += t.Start()
	if t.Units.Metric() {
		step := t.Reading.Millimetres()
		return g.FormatNumber(math.RoundToEven(l.Millimetres()/step)*step, 1) + " mm"
	}
	return l.Fraction(int(math.Round(1/t.Reading.Inches()))) + " in"
}

// decimals writes a length in the tape's unit with decimals, nothing added.
func decimals(t layouts.TapeSpec, l g.Length) string {
	if t.Units.Metric() {
		return fmt.Sprintf("%.1f", zeroed(l.Millimetres(), 0.05))
	}
	return fmt.Sprintf("%.3f", zeroed(l.Inches(), 0.0005))
}

// zeroed returns v, 0 where it would print as one, so that no "-0.000" is written.
func zeroed(v, half float64) float64 {
	if math.Abs(v) < half {
		return 0
	}
	return v
}

// signed is decimals of so many inches, with its sign.
func signed(t layouts.TapeSpec, v float64) string {
	if s := decimals(t, g.Length(v)); s[0] == '-' {
		return s
	}
	return "+" + decimals(t, g.Length(v))
}

// degrees writes an angle with its sign.
func degrees(v float64) string { return fmt.Sprintf("%+.3f", zeroed(v, 0.0005)) }

// amount is decimals with the unit.
func amount(t layouts.TapeSpec, l g.Length) string { return decimals(t, l) + " " + string(t.Units) }
