package standards

import (
	"sort"
	"strings"
	"time"
)

// Succession is one line of rules that followed one another, looked at on a date.
type Succession struct {
	Nation, Line string
	InForce      []*Rule // usually one; more where the sources overlap
	Before       *Rule   // the last that ended before the date; nil: none is known
	After        *Rule   // the next to begin after it; nil: none is known
	Doubts       []Doubt // where sources disagree on the dates of those
}

// Doubt is a date on which sources disagree.
type Doubt struct {
	Rule  *Rule
	Other OtherDate
}

// Timeline returns, for every line of succession of a nation, the rules in force on
// a date, those before and after, and where sources disagree on their dates. An
// empty nation means all. Lines come by nation and name.
//
// Errors: a date that is none.
func Timeline(d Date, nation string) ([]Succession, error) {
	first, last, err := d.Span()
	if err != nil {
		return nil, err
	}
	rules, err := lines(nation)
	if err != nil {
		return nil, err
	}
	var out []Succession
	for _, list := range rules {
		s := Succession{Nation: list.nation, Line: list.line}
		var ended time.Time // the last day of s.Before
		for _, r := range list.rules {
			from, to := r.bounds()
			if next := superseding(r, list.rules, first); next != nil {
				to, _ = next.bounds()
				to = to.AddDate(0, 0, -1)
			}
			switch {
			case to.Before(first):
				if s.Before == nil || !ended.After(to) {
					s.Before, ended = r, to
				}
			case from.After(last):
				if s.After == nil {
					s.After = r
				}
			default:
				s.InForce = append(s.InForce, r)
			}
		}
		for _, r := range append(append([]*Rule{s.Before}, s.InForce...), s.After) {
			if r == nil {
				continue
			}
			for _, o := range r.Dates {
				s.Doubts = append(s.Doubts, Doubt{Rule: r, Other: o})
			}
		}
		out = append(out, s)
	}
	return out, nil
}

// superseding returns the next revision of r among the rules, where it began before
// or on a day; nil where there is none.
func superseding(r *Rule, rules []*Rule, day time.Time) *Rule {
	start, _ := r.bounds()
	var next *Rule
	for _, q := range rules {
		from, _ := q.bounds()
		if q.ID == r.ID && from.After(start) && !from.After(day) && next == nil {
			next = q
		}
	}
	return next
}

// line is the rules of one succession.
type line struct {
	nation, line string
	rules        []*Rule
}

// lines returns the rules of every line of a nation, each by start and end. Of
// several revisions of one rule all are kept: they followed one another.
func lines(nation string) ([]line, error) {
	docs, err := Documents()
	if err != nil {
		return nil, err
	}
	by := map[[2]string][]*Rule{}
	for _, d := range docs {
		for _, r := range d.Rules {
			if nation != "" && !strings.EqualFold(nation, r.Nation) {
				continue
			}
			for _, l := range r.Lines {
				key := [2]string{r.Nation, l}
				by[key] = append(by[key], r)
			}
		}
	}
	var keys [][2]string
	for k := range by {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(i, j int) bool {
		return keys[i][0] < keys[j][0] || keys[i][0] == keys[j][0] && keys[i][1] < keys[j][1]
	})
	var out []line
	for _, k := range keys {
		list := by[k]
		sort.SliceStable(list, func(i, j int) bool {
			a, ae := list[i].bounds()
			b, be := list[j].bounds()
			return a.Before(b) || a.Equal(b) && ae.Before(be)
		})
		out = append(out, line{k[0], k[1], list})
	}
	return out, nil
}

// Nations returns the nations that have rules, by name.
func Nations() ([]string, error) {
	docs, err := Documents()
	if err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	var out []string
	for _, d := range docs {
		for _, r := range d.Rules {
			if !seen[r.Nation] {
				seen[r.Nation] = true
				out = append(out, r.Nation)
			}
		}
	}
	sort.Strings(out)
	return out, nil
}

// The earliest and latest days, where a rule names none.
var (
	always = time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC)
	never  = time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC)
)

// bounds returns the first and the last day of the rule.
func (r *Rule) bounds() (from, to time.Time) {
	from, to = always, never
	if r.ValidFrom != "" {
		from, _, _ = r.ValidFrom.Span() // the loader checked it
	}
	if r.ValidTo != "" {
		_, to, _ = r.ValidTo.Span()
	}
	return from, to
}

// TransitionMonths is how long before and after a change the other form was met: a
// mismatch within it is no more than a note (read, secondary: Bowers, at
// legendsintheirowntime.com, speaks of several months).
const TransitionMonths = 6

// InForceWithin tells whether the rule was in force on some day of d or within
// months of it.
func (r *Rule) InForceWithin(d Date, months int) (bool, error) {
	first, last, err := d.Span()
	if err != nil {
		return false, err
	}
	from, to := r.bounds()
	if from != always {
		from = from.AddDate(0, -months, 0)
	}
	if to != never {
		to = to.AddDate(0, months, 0)
	}
	return !last.Before(from) && !first.After(to), nil
}
