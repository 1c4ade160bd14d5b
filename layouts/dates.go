package layouts

import (
	"fmt"
	"time"

	g "maskloft/geometry"
	"maskloft/layouts/standards"
)

// transition is in months.
const transition = standards.TransitionMonths

// dateWindow is the time between two days in which something applied.
type dateWindow struct {
	who      string
	from, to time.Time // zero: open
	memory   bool      // one of the two days is from memory
	said     string
}

// Dates looks whether the forms of all markings stood at one time; [Layout.Uses] asks
// for the date of the layout.
//
// Findings: warn for two windows that do not meet, with the months between them;
// note where that is no more than six months.
func (l *Layout) Dates() []Finding {
	var windows []dateWindow
	seen := map[string]bool{}
	for _, p := range l.Placed {
		if seen[p.Marking.ID] {
			continue
		}
		seen[p.Marking.ID] = true
		for _, r := range p.Figure.Rules() {
			if w, ok := windowOf(p.Marking.ID, r); ok {
				windows = append(windows, w)
			}
		}
	}
	var out []Finding
	for i, a := range windows {
		for _, b := range windows[i+1:] {
			if f, found := apartInTime(a, b); found {
				out = append(out, f)
			}
		}
	}
	return out
}

// windowOf is the time in which a marking's form stood anywhere; false where no use of
// it is known.
func windowOf(who string, r *standards.Rule) (dateWindow, bool) {
	s, ok := r.Stood()
	if !ok {
		return dateWindow{}, false
	}
	w := dateWindow{who: who, memory: s.FromKnown == "memory" || s.ToKnown == "memory", said: fmt.Sprintf("(rule %s) stood %s", r.ID, s.Text())}
	w.from, _, _ = s.From.Span()
	if s.To != "" {
		_, w.to, _ = s.To.Span()
	}
	if w.memory {
		w.said += ", from memory"
	}
	return w, true
}

// apartInTime reports two windows that do not meet.
func apartInTime(a, b dateWindow) (Finding, bool) {
	first, last := a, b
	if !a.to.IsZero() && !b.from.IsZero() && a.to.Before(b.from) {
	} else if !b.to.IsZero() && !a.from.IsZero() && b.to.Before(a.from) {
		first, last = b, a
	} else {
		return Finding{}, false
	}
	f := Finding{
		Level: Warn, Rule: "date-window", Marking: b.who,
		Message: fmt.Sprintf("%s %s; %s %s: they were never in use together, %s apart", a.who, a.said, b.who, b.said,
			daysAndMonths(first.to, last.from)),
		Hint:     "choose rules of one time, or correct rules: date:",
		Measured: daysAndMonths(first.to, last.from), Expected: "one time for all", Tolerance: fmt.Sprintf("%d months", transition),
		Source: "windows: the rules' own documents; six months of transition: Bowers, legendsintheirowntime.com (read)",
	}
	if !first.to.AddDate(0, transition, 0).Before(last.from) {
		f.Level = Note
		f.Hint = "old markings were still seen for months after a change; write the evidence: for this one"
	}
	return f, true
}

// daysAndMonths writes the time from one day to a later one: days up to two
// months, else whole months.
func daysAndMonths(from, to time.Time) string {
	days := int(to.Sub(from).Hours()/24 + 0.5)
	months := 0
	for !from.AddDate(0, months+1, 0).After(to) {
		months++
	}
	if months < 2 {
		return g.Counted(days, "day")
	}
	return g.Counted(months, "month")
}
