package tapelist

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// ReadTapeCSV reads a tape list into whose last column tapes were typed as they
// read: measured_in, or measured_mm. Lengths are bare numbers in that unit, or
// written with one: 50-11/16, 50.69, 1287 mm. Lines without one are left out. What
// is held at the hardpoint, starts_at_in, is taken off.
//
// Errors name file, line and column, and say what to type.
func ReadTapeCSV(name string, in io.Reader) ([]taping.TapeReading, error) {
	r := csv.NewReader(in)
	r.FieldsPerRecord = -1
	head, err := r.Read()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: the file is empty: fill in the last column of what `maskloft tape --csv` prints", name)
	}
	if err != nil {
		return nil, csvError(name, err)
	}
	columns := map[string]int{}
	for i, h := range head {
		columns[strings.TrimPrefix(strings.TrimSpace(h), "\ufeff")] = i
	}
	unit, measured := g.Inch, "measured_in"
	if _, ok := columns["measured_mm"]; ok {
		unit, measured = g.Millimetre, "measured_mm"
	}
	for _, need := range []string{"point", "from", measured} {
		if _, ok := columns[need]; !ok {
			return nil, fmt.Errorf("%s:1:1: there is no column %s: keep the first line of what `maskloft tape --csv` prints", name, need)
		}
	}
	var out []taping.TapeReading
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, csvError(name, err)
		}
		cell := func(column string) (text string, at layouts.Place) {
			i, ok := columns[column]
			if !ok || i >= len(row) {
				line, col := r.FieldPos(0)
				return "", layouts.Place{File: name, Line: line, Column: col}
			}
			line, col := r.FieldPos(i)
			return strings.TrimSpace(row[i]), layouts.Place{File: name, Line: line, Column: col}
		}
		text, at := cell(measured)
		if text == "" {
			continue
		}
		one := taping.TapeReading{Place: at, Printed: g.Length(math.NaN())}
		one.Point, _ = cell("point")
		one.From, _ = cell("from")
		if one.Measured, err = g.ParseLength(strings.TrimSpace(text), unit); err != nil {
			return nil, fmt.Errorf("%v: %s: %w", at, measured, err)
		}
		for _, c := range []struct {
			name string
			use  func(g.Length)
		}{
			{"length_in", func(l g.Length) { one.Printed = l }},
			{"starts_at_in", func(l g.Length) { one.Measured -= l }},
		} {
			text, at := cell(c.name)
			if text == "" {
				continue
			}
			l, err := g.ParseLength(text, g.Inch)
			if err != nil {
				return nil, fmt.Errorf("%v: %s: %w", at, c.name, err)
			}
			c.use(l)
		}
		if one.Measured <= 0 {
			return nil, fmt.Errorf("%v: %s: %s leaves no length: write what the tape reads", at, measured, text)
		}
		out = append(out, one)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s: the column %s is empty: type what the tape reads on each line, and leave out what you did not measure", name, measured)
	}
	return out, nil
}

// csvError puts the place of a broken line first.
func csvError(name string, err error) error {
	var broken *csv.ParseError
	if errors.As(err, &broken) {
		return fmt.Errorf("%s:%d:%d: %w: save it as comma-separated values again", name, broken.Line, broken.Column, broken.Err)
	}
	return fmt.Errorf("%s: %w", name, err)
}
