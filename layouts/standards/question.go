package standards

import (
	"slices"
	"strings"
)

// Question asks what stood at one place. Words are terms of the lists; an empty one
// is not said.
type Question struct {
	Nation, Service, Place, Finish, Kind string
	Types                                []string
	On                                   Date
}

// Answer is what the uses say. Unknown is not none: none needs an absence.
type Answer struct {
	Question    Question
	Forms       []*Use    // the usual form; several where what was not said decides
	None        *Use      // the absence that says so
	Beside      []*Use    // carried together with it
	Also        []*Use    // also right where it is found
	Conditional []*Use    // on some types of aircraft, none being said
	Certainty   Certainty // of Forms or None
	Before      *Use      // the usual form before it there; nil: none is known
	After       *Use      // and the next
	Follows     *Answer   // where the form is that of another nation: what that was
}

// Unknown tells that nothing known fits.
func (a Answer) Unknown() bool { return len(a.Forms) == 0 && a.None == nil }

// Decides names what was not said and would choose between the forms.
func (a Answer) Decides() []string {
	if len(a.Forms) < 2 {
		return nil
	}
	var out []string
	differ := func(what, said string, of func(*Use) []string) {
		for _, u := range a.Forms[1:] {
			if said == "" && !slices.Equal(of(u), of(a.Forms[0])) {
				out = append(out, what)
				return
			}
		}
	}
	differ("service", a.Question.Service, func(u *Use) []string { return u.Services })
	differ("finish", a.Question.Finish, func(u *Use) []string { return u.Finishes })
	differ("type", strings.Join(a.Question.Types, ""), func(u *Use) []string { return u.Types })
	return out
}

// rank orders the uses that fit: type first, then place, then finish, the nearer the
// better, and one that names a term before one that does not.
type rank [3]int

func (r rank) compare(s rank) int { return slices.Compare(r[:], s[:]) }

// fit is a use that answers, with its rank and how sure it is at the time.
type fit struct {
	use         *Use
	rank        rank
	certainty   Certainty
	conditional bool // it names types and none was said
}

// Ask finds the form at a place on a date: what does not fit is dropped; sure goes
// before possible; of what is left the nearest by type, place and finish, an absence
// before a use of the same rank. Several forms left depend on what was not said.
//
// Errors: a date that is none; a word that is in no list.
func Ask(q Question) (Answer, error) {
	l, err := load()
	if err != nil {
		return Answer{}, err
	}
	v, err := words()
	if err != nil {
		return Answer{}, err
	}
	if _, _, err := q.On.Span(); err != nil {
		return Answer{}, err
	}
	return l.ask(q, v), nil
}

func (l library) ask(q Question, v vocabulary) Answer {
	var fits []fit
	var shutOut *Use
	for _, u := range l.uses {
		if f, ok := u.fits(q, v); ok {
			fits = append(fits, f)
		}
	}
	for _, f := range fits {
		if f.use.OfRule != nil && f.certainty == Sure && !f.conditional {
			shutOut = f.use
			fits = slices.DeleteFunc(slices.Clone(fits), func(g fit) bool { return g.use.Rule == shutOut.OfRule })
		}
	}
	a := Answer{Question: q}
	var usual []fit
	for _, f := range fits {
		switch {
		case f.use.OfRule != nil:
		case f.conditional:
			a.Conditional = appendForm(a.Conditional, f.use)
		case f.use.Role == Beside:
			a.Beside = appendForm(a.Beside, f.use)
		case f.use.Role == Usual:
			usual = append(usual, f)
		default:
			a.Also = appendForm(a.Also, f.use)
		}
	}
	slices.SortStableFunc(usual, func(f, g fit) int {
		if f.certainty != g.certainty {
			return int(g.certainty) - int(f.certainty)
		}
		if c := f.rank.compare(g.rank); c != 0 {
			return c
		}
		return absenceFirst(f.use) - absenceFirst(g.use)
	})
	for _, f := range usual {
		best := usual[0]
		if f.certainty != best.certainty || f.rank != best.rank || a.None != nil {
			if f.use.Rule != nil {
				a.Also = appendLater(a, f, best)
			}
			continue
		}
		a.Certainty = f.certainty
		if f.use.Rule == nil {
			a.None = f.use
			continue
		}
		a.Forms = appendForm(a.Forms, f.use)
	}
	if a.Unknown() && shutOut != nil {
		a.None, a.Certainty = shutOut, Sure
	}
	drop := func(list []*Use, of ...*Use) []*Use {
		return slices.DeleteFunc(list, func(u *Use) bool {
			return slices.ContainsFunc(of, func(o *Use) bool { return o.Rule == u.Rule })
		})
	}
	a.Beside, a.Also = drop(a.Beside, a.Forms...), drop(a.Also, a.Forms...)
	a.Conditional = drop(a.Conditional, a.Forms...)
	if len(a.Forms) > 0 && a.Forms[0].Rule.Follows != "" && a.Forms[0].Rule.Follows != q.Nation {
		other := q
		other.Nation, other.Service = a.Forms[0].Rule.Follows, ""
		b := l.ask(other, v)
		a.Follows = &b
	}
	return a
}

func absenceFirst(u *Use) int {
	if u.Rule == nil {
		return 0
	}
	return 1
}

// appendLater keeps a usual form that is only possible at the time beside one that is
// not sure either: both may be right.
func appendLater(a Answer, f, best fit) []*Use {
	if f.certainty == Possible && f.rank == best.rank {
		return appendForm(a.Also, f.use)
	}
	return a.Also
}

// appendForm adds a use unless its form is there.
func appendForm(list []*Use, u *Use) []*Use {
	if u.Rule != nil && slices.ContainsFunc(list, func(o *Use) bool { return o.Rule == u.Rule }) {
		return list
	}
	return append(list, u)
}

// fits tells whether the use answers the question, and how near.
func (u *Use) fits(q Question, v vocabulary) (fit, bool) {
	f := fit{use: u, certainty: u.At(q.On)}
	if u.Nation != q.Nation || f.certainty == Out || q.Kind != "" && u.Kind != q.Kind {
		return f, false
	}
	if len(u.Services) == 0 && q.Service == "civil" {
		return f, false
	}
	if _, ok := v.services.nearestOf(u.Services, q.Service); !ok {
		return f, false
	}
	for _, t := range q.Types {
		for _, not := range u.NotTypes {
			if _, ok := v.types.above(t, not); ok {
				return f, false
			}
		}
	}
	f.rank[0] = anyDistance
	if len(q.Types) == 0 {
		f.conditional = len(u.Types) > 0
	} else if len(u.Types) > 0 {
		found := false
		for _, t := range q.Types {
			if n, ok := v.types.nearestOf(u.Types, t); ok {
				found, f.rank[0] = true, min(n, f.rank[0])
			}
		}
		if !found {
			return f, false
		}
	}
	var place, finish bool
	f.rank[1], place = v.places.nearestOf(u.Places, q.Place)
	f.rank[2], finish = v.finishes.nearestOf(u.Finishes, q.Finish)
	return f, place && finish
}
