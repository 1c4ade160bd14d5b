package layouts

import (
	"fmt"
	"slices"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts/standards"
)

// Rules of the findings on uses.
const (
	UseRule  = "use"          // the form did not stand there then
	SizeRule = "size-offered" // the size is none that is told for the form there
)

// PlaceWord says in a word of the list where a placement stands: by the name of its
// surface where that is such a word, else by its kind; empty where it spans several.
func (l *Layout) PlaceWord(p Placement) string {
	switch p.Face() {
	case UpperFace:
		return "upper wing " + p.Side.String()
	case LowerFace:
		return "lower wing " + p.Side.String()
	}
	var words []string
	for _, id := range p.Marking.Where.Surfaces {
		if t, err := standards.Word("place", id); err == nil {
			words = append(words, t.Term)
			continue
		}
		for _, s := range l.Spec.Aircraft.Surfaces {
			switch {
			case s.ID != id:
			case s.Kind == Plate || s.Kind == Foil:
				words = append(words, map[bool]string{true: "rudder", false: "fin"}[s.Control || s.Hinge != nil])
			default:
				words = append(words, "fuselage side")
			}
		}
	}
	switch {
	case slices.Contains(words, "fin") && slices.Contains(words, "rudder"):
		return "fin and rudder"
	case len(words) == 0:
		return ""
	case words[0] == "fuselage":
		return "fuselage side"
	}
	return words[0]
}

// Uses holds the form of each marking against what stood at its place on the date of
// the layout, and its size against those told for the form there. Without a date
// nothing is asked; without a nation that of the form is taken.
//
// Findings: stop, warn or note, as the source of what stood there may do; a note where
// a date is known to the month or the year only, within the months about a change, or
// where nothing is known.
func (l *Layout) Uses() []Finding {
	var out []Finding
	seen := map[string]bool{}
	for _, p := range l.Placed {
		place := l.PlaceWord(p)
		if seen[p.Marking.ID+"/"+place] {
			continue
		}
		seen[p.Marking.ID+"/"+place] = true
		for _, r := range p.Figure.Rules() {
			if f, bad := l.sizeOffered(p, r, place); bad {
				out = append(out, f)
			}
			q := l.Spec.Rules.Question(r)
			if q.On == "" || r.Lettering != nil && q.Nation != r.Nation {
				continue // proportions of lettering are taken from anywhere
			}
			q.Place, q.Kind = place, r.Kind
			a, err := standards.Ask(q)
			if err != nil {
				continue // the reader looked at the date and the words
			}
			if f, bad := useFinding(p, r, a); bad {
				out = append(out, f)
			}
		}
	}
	return out
}

// Question asks what the layout says of date, nation, service, finish and types, for a
// rule.
func (s RulesSpec) Question(r *standards.Rule) standards.Question {
	q := standards.Question{Nation: s.Nation, Service: s.Service, Finish: s.Finish, Types: s.Types, On: standards.Date(s.Date)}
	if q.Nation == "" {
		q.Nation = r.Nation
	}
	return q
}

// useFinding reports a form that is not the usual one there.
func useFinding(p Placement, r *standards.Rule, a standards.Answer) (Finding, bool) {
	is := func(u *standards.Use) bool { return u.Rule == r || u.Rule != nil && u.Rule.SameAs == r.ID }
	follows := a.Follows != nil && slices.ContainsFunc(a.Follows.Forms, is)
	if slices.ContainsFunc(a.Forms, is) || follows || slices.ContainsFunc(a.Beside, is) {
		return Finding{}, false
	}
	f := Finding{
		Level: Note, Rule: UseRule, Marking: p.Marking.ID, Where: p.Anchor,
		Measured: r.ID, Expected: "unknown", Tolerance: "none", Source: "uses of " + a.Question.Nation,
	}
	said := fmt.Sprintf("%s: %s on the %s, %s", p.Marking.ID, r.ID, a.Question.Place, a.Question.On)
	for _, list := range [][]*standards.Use{a.Also, a.Conditional} {
		for _, u := range list {
			if is(u) {
				f.Expected, f.Source = r.ID, u.Provenance.Where
				f.Message = fmt.Sprintf("%s: also right where it is found%s, %s", said, onTypes(u), u.DatesText())
				f.Hint = "say what this one rests on: evidence: [a photograph]"
				return f, true
			}
		}
	}
	right := a.None
	what := ""
	switch {
	case len(a.Forms) > 0:
		right = a.Forms[0]
		var ids []string
		for _, u := range a.Forms {
			ids = append(ids, u.Rule.ID)
		}
		what = strings.Join(ids, " or ")
	case a.None != nil:
		what = "none: " + a.None.What
	default:
		f.Message = said + ": nothing is known of that kind there on that date"
		f.Hint = "a photograph decides: evidence: [its id]; maskloft rules --on " + string(a.Question.On) + " --nation " + a.Question.Nation + " lists what is known"
		return f, true
	}
	f.Expected, f.Source = what, right.Provenance.Where
	if f.Source == "" {
		f.Source = "memory, " + right.Provenance.Confidence + " confidence"
	}
	f.Message = fmt.Sprintf("%s: what stood there is %s, %s (%s)", said, what, right.DatesText(), right.Provenance.Class())
	f.Hint = "take the form of the date, correct rules:, or say in evidence: what this one rests on"
	near, ok := r.AboutThen(a.Question, standards.TransitionMonths)
	switch {
	case a.Certainty != standards.Sure:
		f.Message += "; a date of it is known to the month or year only"
	case ok:
		f.Message += fmt.Sprintf("; the other stood %s, and both were met for %d months about a change", near.DatesText(), standards.TransitionMonths)
	case len(p.Marking.Evidence) == 0 || len(a.Decides()) == 0:
		f.Level = map[standards.Force]Level{standards.MayNote: Note, standards.MayWarn: Warn, standards.MayStop: Stop}[right.Provenance.Force()]
	}
	if f.Level == Stop && len(p.Marking.Evidence) > 0 {
		f.Level = Warn
	}
	return f, true
}

func onTypes(u *standards.Use) string {
	if len(u.Types) == 0 {
		return ""
	}
	return " on " + strings.Join(u.Types, ", ")
}

// sizeOffered reports a governing size that is none of those told for the form at the
// place.
func (l *Layout) sizeOffered(p Placement, r *standards.Rule, place string) (Finding, bool) {
	size := p.Marking.Figure.Size.Inches()
	sizes, known := r.OfferedAt(place, l.Spec.Rules.Types)
	if size <= 0 || len(sizes) == 0 || r.Lettering != nil { // lettering is measured as it is cut
		return Finding{}, false
	}
	const hand = g.Inch / 16 // of a painter with a rule (common practice, no source)
	var list []string
	nearest := sizes[0]
	for _, s := range sizes {
		if s-size <= hand.Inches() && size-s <= hand.Inches() {
			return Finding{}, false
		}
		if absolute(s-size) < absolute(nearest-size) {
			nearest = s
		}
		list = append(list, p.Read.Number(g.Length(s), 2))
	}
	write := Proposal{Path: p.Marking.Path("figure", "size"), Value: l.Spec.Write(g.Length(nearest)), Why: "the nearest size published"}
	u, told := p.Read, strings.Join(list, ", ")+" "+p.Read.Word()
	f := Finding{
		Level: map[standards.Force]Level{standards.MayNote: Note, standards.MayWarn: Warn, standards.MayStop: Stop}[known.Force()],
		Rule:  SizeRule, Marking: p.Marking.ID, Where: p.Anchor,
		Message: fmt.Sprintf("%s: size is %s; %s on the %s is published in %s (%s)", p.Marking.ID, u.Length(g.Length(size), 3), r.ID, place, told, known.Class()),
		Hint:    write.String() + "; or say in evidence: what this one rests on", Proposals: []Proposal{write},
		Measured: u.Length(g.Length(size), 3), Expected: told, Tolerance: u.Fraction(1.0/16, 16), Source: known.Where,
	}
	if f.Source == "" {
		f.Source = "memory, " + known.Confidence + " confidence"
	}
	switch { // what is known of this airframe weighs more
	case len(p.Marking.Evidence) > 0 && f.Level == Stop:
		f.Level = Warn
	case len(p.Marking.Evidence) > 0:
		f.Level = Note
	}
	return f, true
}

func absolute(v float64) float64 { return max(v, -v) }
