package standards

import (
	"slices"
	"strings"
)

// mainPlaces are told of in every answer, also where nothing is known: unknown is an
// answer too.
var mainPlaces = map[string][]string{
	"insignia": {"upper wing", "lower wing", "fuselage side"},
	"rudder":   {"rudder"},
}

// PlaceByPlace answers a question for every place that a use names, and for the main
// ones; a question that names a place or a kind is answered for it. Allied forces are asked
// beside their nations, and marks of international law beside a civil register.
//
// Errors: those of [Ask].
func PlaceByPlace(q Question) ([]Answer, error) {
	l, err := load()
	if err != nil {
		return nil, err
	}
	v, err := words()
	if err != nil {
		return nil, err
	}
	if _, _, err := q.On.Span(); err != nil {
		return nil, err
	}
	var out []Answer
	for _, nation := range v.asked(q.Nation, q.Service) {
		for _, kind := range v.kinds.list {
			if q.Kind != "" && q.Kind != kind.Term {
				continue
			}
			one := q
			one.Nation, one.Kind = nation, kind.Term
			out = append(out, l.places(one, v, nation == q.Nation)...)
		}
	}
	return out, nil
}

// asked returns the nation and those that speak for it too.
func (v vocabulary) asked(nation, service string) []string {
	out := []string{nation}
	for _, t := range v.nations.list {
		if t.Term == nation {
			out = append(out, t.Of...)
		}
	}
	if service == "civil" {
		out = append(out, "icao")
	}
	return out
}

func (l library) places(q Question, v vocabulary, own bool) []Answer {
	anywhere := q
	anywhere.Place = ""
	l.uses = l.fitting(anywhere, v) // in this copy alone
	named := map[string]bool{}
	for _, u := range l.uses {
		if u.At(q.On) == Out {
			continue
		}
		for _, p := range u.Places {
			named[p] = true
		}
		if len(u.Places) == 0 {
			named[""] = true
		}
	}
	if own {
		for _, p := range mainPlaces[q.Kind] {
			named[p] = true
		}
	}
	if q.Place != "" {
		named[q.Place] = true
	}
	var out []Answer
	for _, p := range v.sides(named) {
		if q.Place != "" && (p == "" || !v.places.under(p, q.Place)) || p == "" && len(named) > 1 {
			continue // what stood anywhere is told at each place
		}
		one := q
		one.Place = p
		a := l.ask(one, v)
		known := !a.Unknown() || len(a.Also)+len(a.Beside)+len(a.Conditional) > 0
		if known || own && slices.ContainsFunc(mainPlaces[q.Kind], func(m string) bool { return v.places.under(p, m) }) || own && p == q.Place && q.Kind != "" {
			a.Before, a.After = l.around(a, v)
			out = append(out, a)
		}
	}
	return out
}

// fitting returns the uses that answer the question at some time.
func (l library) fitting(q Question, v vocabulary) []*Use {
	var out []*Use
	for _, u := range l.uses {
		q.On = u.From
		if _, ok := u.fits(q, v); ok {
			out = append(out, u)
		}
	}
	return out
}

// sides lists the places named in the order of the file; where a use names one side of
// a place, both sides stand for it.
func (v vocabulary) sides(named map[string]bool) []string {
	all := map[string]bool{}
	for p := range named {
		all[p] = true
	}
	split := map[string]bool{}
	for _, t := range v.places.list {
		if of, ok := oneSide(t.Term); ok && named[t.Term] {
			split[of] = true
		}
	}
	for of := range split {
		all[of+" left"], all[of+" right"], all[of] = true, true, false
	}
	out := []string{""}
	for _, t := range v.places.list {
		out = append(out, t.Term)
	}
	return slices.DeleteFunc(out, func(p string) bool { return !all[p] })
}

// oneSide returns the place of which this is the left or the right, for wings.
func oneSide(place string) (string, bool) {
	for _, side := range []string{" left", " right"} {
		if of, ok := strings.CutSuffix(place, side); ok && strings.HasSuffix(of, "wing") {
			return of, true
		}
	}
	return "", false
}

// under tells whether a is a part of b.
func (t Terms) under(a, b string) bool {
	_, ok := t.above(a, b)
	return ok
}

// Same tells that two answers rest on the same uses.
func (a Answer) Same(b Answer) bool {
	return a.Question.Nation == b.Question.Nation && a.Question.Kind == b.Question.Kind && a.None == b.None && a.Certainty == b.Certainty &&
		a.Before == b.Before && a.After == b.After && slices.Equal(a.Forms, b.Forms) && slices.Equal(a.Also, b.Also) &&
		slices.Equal(a.Beside, b.Beside) && slices.Equal(a.Conditional, b.Conditional)
}

// nextWithin is how long after the end of one form another that began is told as the
// next one, in years.
const nextWithin = 2

// around returns the usual forms that stood there last before the answer's and next
// after it, within two years of it; nil where none is known.
func (l library) around(a Answer, v vocabulary) (before, after *Use) {
	now := a.None
	if len(a.Forms) > 0 {
		now = a.Forms[0]
	}
	if now == nil {
		return nil, nil
	}
	one := func(on Date, pick func(*Use) bool) *Use {
		q := a.Question
		q.On = on
		for _, u := range l.ask(q, v).Forms {
			if (len(a.Forms) == 0 || u.Rule != a.Forms[0].Rule) && pick(u) {
				return u
			}
		}
		return nil
	}
	start, _, _ := now.From.Span()
	day := Date(start.AddDate(0, 0, -1).Format("2006-01-02"))
	before = one(day, func(u *Use) bool { return u.From < now.From })
	if _, end, err := now.To.Span(); err == nil {
		for _, u := range l.uses {
			from, last, _ := u.From.Span()
			if u.Rule == nil || last.Before(end) || from.After(end.AddDate(nextWithin, 0, 0)) || after != nil && u.From >= after.From {
				continue
			}
			if next := one(Date(last.Format("2006-01-02")), func(n *Use) bool { return n == u }); next != nil {
				after = next
			}
		}
	}
	return before, after
}

// AboutThen returns a use of the form at the place asked for that ended or began within
// some months of the date, so that both forms may have been met.
func (r *Rule) AboutThen(q Question, months int) (*Use, bool) {
	uses, err := UsesOf(r)
	if err != nil {
		return nil, false
	}
	v, err := words()
	if err != nil {
		return nil, false
	}
	for _, u := range uses {
		then := q
		then.On = u.From
		if _, ok := u.fits(then, v); ok && u.At(q.On) == Out && u.Near(q.On, months) {
			return u, true
		}
	}
	return nil, false
}
