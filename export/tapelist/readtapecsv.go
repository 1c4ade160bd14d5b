package tapelist

import (
	"errors"
	"fmt"
	"io"
	"math"

	g "maskloft/geometry"
	"maskloft/layouts/taping"
)

// ReadTapeCSV reads a tape list into whose last column readings were typed:
// measured_in, or measured_mm. Lengths are bare numbers in that unit, with a decimal
// point or comma, or written with a unit: 50-11/16, 50.69, 50,69, 1287 mm. Lines
// without one are left out. What is held at the hardpoint, starts_at, is taken off.
// The table may be as any spreadsheet saves it; see [openTable].
//
// Errors name file, line and column, and say what to type.
func ReadTapeCSV(name string, in io.Reader) ([]taping.TapeReading, error) {
	t, err := openTable(name, in)
	if err != nil {
		return nil, err
	}
	unit, measured := g.Inch, "measured_in"
	if _, ok := t.columns["measured_mm"]; ok {
		unit, measured = g.Millimetre, "measured_mm"
	}
	for _, need := range []string{"point", "from", measured} {
		if _, ok := t.columns[need]; !ok {
			return nil, fmt.Errorf("%s:1:1: there is no column %s: keep the first line of what `maskloft tape --csv` prints", name, need)
		}
	}
	var out []taping.TapeReading
	for {
		row, err := t.row()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		text, at := t.cell(row, measured)
		if text == "" {
			continue
		}
		one := taping.TapeReading{Place: at, Printed: g.Length(math.NaN()), Unit: unit}
		one.Point, _ = t.cell(row, "point")
		one.From, _ = t.cell(row, "from")
		kind, _ := t.cell(row, "kind")
		one.Kind = taping.TapeKind(kind)
		if one.Measured, err = lengthOf(text, unit); err != nil {
			return nil, fmt.Errorf("%v: %s: %w", at, measured, err)
		}
		one.Typed = float64(one.Measured / unit)
		for _, c := range []struct {
			name string
			use  func(g.Length)
		}{
			{"length_", func(l g.Length) { one.Printed = l }},
			{"starts_at_", func(l g.Length) { one.Measured -= l }},
		} {
			name, in := c.name+"mm", g.Millimetre
			if _, ok := t.columns[name]; !ok { // measured_mm may stand beside lengths in inches
				name, in = c.name+"in", g.Inch
			}
			text, at := t.cell(row, name)
			if text == "" {
				continue
			}
			l, err := lengthOf(text, in)
			if err != nil {
				return nil, fmt.Errorf("%v: %s: %w", at, name, err)
			}
			c.use(l)
		}
		if one.Measured < 0 || one.Measured == 0 && one.Printed != 0 {
			return nil, fmt.Errorf("%v: %s: %s leaves no length: write what the tape reads", at, measured, text)
		}
		out = append(out, one)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s: the column %s is empty: type what the tape reads on each line, and leave out what you did not measure", name, measured)
	}
	return out, nil
}
