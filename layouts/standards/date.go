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

// InForce tells whether the rule was in force on some day of d. A rule whose
// dates are not known is in force at any time. Marks of the day before were
// still seen for months after a change (read: Bowers, at
// legendsintheirowntime.com), so this alone stops nothing.
func (r *Rule) InForce(d Date) (bool, error) {
	first, last, err := d.Span()
	if err != nil {
		return false, err
	}
	if r.ValidFrom != "" {
		from, _, err := r.ValidFrom.Span()
		if err != nil || last.Before(from) {
			return false, err
		}
	}
	if r.ValidTo != "" {
		_, to, err := r.ValidTo.Span()
		if err != nil || first.After(to) {
			return false, err
		}
	}
	return true, nil
}
