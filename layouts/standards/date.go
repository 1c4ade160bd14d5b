package standards

import (
	"fmt"
	"time"
)

// Date is a day, a month or a year: "1947-01-16", "1943-07", "1937".
type Date string

// Span returns the first and the last day of d, UTC.
func (d Date) Span() (first, last time.Time, err error) {
	for _, f := range []struct {
		layout              string
		years, months, days int
	}{{"2006-01-02", 0, 0, 1}, {"2006-01", 0, 1, 0}, {"2006", 1, 0, 0}} {
		if len(d) != len(f.layout) {
			continue
		}
		if t, err := time.Parse(f.layout, string(d)); err == nil {
			return t, t.AddDate(f.years, f.months, f.days).AddDate(0, 0, -1), nil
		}
	}
	return time.Time{}, time.Time{}, fmt.Errorf("%q is not a date: write 1943-06-28, 1943-06 or 1943", string(d))
}

// The earliest and latest days, where none is named.
var (
	always = time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC)
	never  = time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC)
)

// TransitionMonths is how long before and after a change the other form was met: a
// mismatch within it is no more than a note (read, secondary: Bowers, at
// legendsintheirowntime.com, speaks of several months).
const TransitionMonths = 6
