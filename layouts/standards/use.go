package standards

import "fmt"

// Use says where and when a form stood: on which aircraft of whom, at which place,
// from when to when. A form has many uses. A use without a rule is an absence: of
// its kind nothing stood there.
type Use struct {
	Rule   *Rule  // the form; nil: an absence
	What   string // of an absence, in words
	OfRule *Rule  // of an absence: shuts out this form only; nil: all of the kind
	Kind   string // of marking

	Nation   string
	Services []string // empty: every military service, never civil
	Places   []string // empty: anywhere
	OneOf    bool     // one of the places is enough
	Finishes []string // empty: every finish, or not said
	Types    []string // of aircraft; empty: all, or not said
	NotTypes []string

	From, To Date // first day in force, first day no longer in force; To empty: the end is not known
	Open     bool // without To: the source says that it is in force
	Months   int  // about a change in which both forms were met; 0: not said
	Horizon  Date // with no To: to here the use is sure, after it possible
	Role     Role
	Document string // that ordered it; empty: not known

	Provenance Provenance
	FromKnown  string // official, copy, secondary, tertiary, memory or derived: how From is known
	ToKnown    string
}

// Role says how a use stands beside others at its place.
type Role string

// Roles. Only a usual form is asked for.
const (
	Usual       Role = "usual"
	Alternative Role = "alternative" // also right where it is found
	Transition  Role = "transition"  // right on aircraft not yet repainted, or ahead of the order
	Beside      Role = "beside"      // carried together with another at the place
)

// Certainty of a use at a time.
type Certainty int

// Certainties: no, possible where a date is known to the month or the year only or
// an end is not known, sure.
const (
	Out Certainty = iota
	Possible
	Sure
)

// At returns how sure it is that the use was in force during all of d.
func (u *Use) At(d Date) Certainty {
	first, last, err := d.Span()
	if err != nil {
		return Out
	}
	start, startEnd := always, always
	if u.From != "" {
		start, startEnd, _ = u.From.Span() // the loader checked it
	}
	endStart, end := never, never // the first day on which it may have ended, and must have
	switch {
	case u.To != "":
		endStart, end, _ = u.To.Span()
	case !u.Open && u.Horizon != "":
		endStart, _, _ = u.Horizon.Span()
	}
	if !startEnd.Equal(start) {
		startEnd = startEnd.AddDate(0, 0, 1) // known to a month or year: sure after it
	}
	if u.To != "" && !end.Equal(endStart) {
		end = end.AddDate(0, 0, 1)
	}
	switch {
	case last.Before(start), !first.Before(end):
		return Out
	case !first.Before(startEnd) && last.Before(endStart):
		return Sure
	}
	return Possible
}

// Near tells whether d is within some months about the use.
func (u *Use) Near(d Date, months int) bool {
	first, last, err := d.Span()
	if err != nil {
		return false
	}
	from, to := always, never
	if u.From != "" {
		from, _, _ = u.From.Span()
		from = from.AddDate(0, -months, 0)
	}
	if u.To != "" {
		_, to, _ = u.To.Span()
		to = to.AddDate(0, months, 0)
	}
	return !last.Before(from) && !first.After(to)
}

// DatesText says from when to when, and what of it is not known.
func (u *Use) DatesText() string { return datesText(u.From, u.To, u.Open) }

// Text is DatesText of the whole time.
func (s Standing) Text() string { return datesText(s.From, s.To, s.Open) }

func datesText(from, to Date, open bool) string {
	switch {
	case to != "":
		return fmt.Sprintf("from %s to %s", from, to)
	case open:
		return fmt.Sprintf("from %s, in force", from)
	}
	return fmt.Sprintf("from %s, end unknown", from)
}

// Standing is the whole time in which a form is known to have stood somewhere.
type Standing struct {
	From, To           Date // To empty: the end is not known, or it is in force
	Open               bool
	FromKnown, ToKnown string
}

// Stood returns from when to when the form stood in all of its uses; false where it
// has none.
func (r *Rule) Stood() (Standing, bool) {
	uses, err := UsesOf(r)
	if err != nil || len(uses) == 0 {
		return Standing{}, false
	}
	var s Standing
	for i, u := range uses {
		if i == 0 || u.From < s.From {
			s.From, s.FromKnown = u.From, u.fromKnown()
		}
		if i == 0 || s.To != "" && (u.To == "" || u.To > s.To) {
			s.To, s.ToKnown = u.To, u.toKnown()
		}
		s.Open = s.Open || u.Open
	}
	return s, true
}

func (u *Use) fromKnown() string {
	if u.FromKnown != "" {
		return u.FromKnown
	}
	return u.Provenance.Class()
}

func (u *Use) toKnown() string {
	if u.ToKnown != "" {
		return u.ToKnown
	}
	return u.Provenance.Class()
}

// Class is the class of a source in one word: official, copy, secondary, tertiary,
// memory, derived or invented.
func (p Provenance) Class() string {
	if p.Kind == Read {
		return p.Grade
	}
	return string(p.Kind)
}
