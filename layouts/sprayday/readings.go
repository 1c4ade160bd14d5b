package sprayday

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
)

// columns of a file of readings, in any order.
var columns = []string{"time", "air", "rh", "surface"}

// timeLayouts are the ways a time may be written.
var timeLayouts = []string{"15:04", "2006-01-02 15:04", "2006-01-02T15:04"}

// ReadReadings reads comma-separated readings. The first line names the columns
// time, air, rh and surface, in any order; temperatures carry their scale, times
// are 14:30 or 2026-05-02 14:30. Empty lines and lines that begin with # are left
// out.
//
// Errors name the file, line and column.
func ReadReadings(name string, r io.Reader) ([]Reading, error) {
	c := csv.NewReader(r)
	c.Comment, c.TrimLeadingSpace, c.FieldsPerRecord = '#', true, -1
	head, err := c.Read()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: it is empty: the first line is time,air,rh,surface", name)
	} else if err != nil {
		return nil, csvError(name, err)
	}
	at := map[string]int{}
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(h))
		line, col := c.FieldPos(i)
		if !slices.Contains(columns, h) {
			return nil, fmt.Errorf("%s:%d:%d: column %q is unknown: the first line is time,air,rh,surface", name, line, col, h)
		}
		if _, twice := at[h]; twice {
			return nil, fmt.Errorf("%s:%d:%d: column %q stands twice: keep one", name, line, col, h)
		}
		at[h] = i
	}
	for _, want := range columns {
		if _, ok := at[want]; !ok {
			return nil, fmt.Errorf("%s:1: column %q is missing: the first line is time,air,rh,surface", name, want)
		}
	}
	var out []Reading
	for {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, csvError(name, err)
		}
		line, _ := c.FieldPos(0)
		if len(row) != len(head) {
			return nil, fmt.Errorf("%s:%d: %d fields under %d columns: write time,air,rh,surface", name, line, len(row), len(head))
		}
		one := Reading{}
		for _, read := range []struct {
			column string
			parse  func(string) error
		}{
			{"time", func(s string) (err error) { one.At, err = parseTime(s); return }},
			{"air", func(s string) (err error) { one.Air, err = ParseTemperature(s); return }},
			{"rh", func(s string) (err error) { one.Humidity, err = ParseHumidity(s); return }},
			{"surface", func(s string) (err error) { one.Surface, err = ParseTemperature(s); return }},
		} {
			i := at[read.column]
			if err := read.parse(row[i]); err != nil {
				line, col := c.FieldPos(i)
				return nil, fmt.Errorf("%s:%d:%d: %w", name, line, col, err)
			}
		}
		if n := len(out); n > 0 {
			last := out[n-1].At
			line, col := c.FieldPos(at["time"])
			switch {
			case hasDate(last) != hasDate(one.At):
				return nil, fmt.Errorf("%s:%d:%d: time %q: some times have a date and some have none: write all one way", name, line, col, row[at["time"]])
			case !hasDate(one.At) && one.At.Before(last):
				return nil, fmt.Errorf("%s:%d:%d: time %q lies before %s of the reading above: put them in order, or write the dates as well, 2026-05-02 14:30", name, line, col, row[at["time"]], last.Format("15:04"))
			}
		}
		out = append(out, one)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s: it holds no reading: write one line a reading, like 14:30,70F,65%%,68F", name)
	}
	return out, nil
}

// hasDate tells whether a time was written with its date: without one the year is 0.
func hasDate(t time.Time) bool { return t.Year() != 0 }

// csvError puts the place of a broken line first.
func csvError(name string, err error) error {
	var broken *csv.ParseError
	if errors.As(err, &broken) {
		return fmt.Errorf("%s:%d:%d: %w: save it as comma-separated values again", name, broken.Line, broken.Column, broken.Err)
	}
	return fmt.Errorf("%s: %w", name, err)
}

func parseTime(text string) (time.Time, error) {
	for _, l := range timeLayouts {
		if t, err := time.Parse(l, strings.TrimSpace(text)); err == nil {
			return t, nil
		}
	}
	return time.Time{}, fmt.Errorf("time %q: write it like 14:30 or 2026-05-02 14:30", text)
}
