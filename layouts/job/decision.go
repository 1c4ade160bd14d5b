package job

import (
	"slices"
	"strings"

	"maskloft/layouts"
)

// Decision is a finding above a note, told once for both sides.
type Decision struct {
	Level    layouts.Level
	Head     string   // the marking and its sides, in words; empty: of the whole job
	Markings []string // their ids, a side each; empty: of the whole job
	Message  string
	Hint     string
	Offers   []Offer    // what check --take can write
	Kind     string     // in words
	Also     []Decision // of other markings the same, after their own hints
}

// NoteKind is one kind of note and how often it is met, both sides as one.
type NoteKind struct {
	Kind  string
	Count int
}

// Decided sorts findings for a person: what is to be decided, the gravest first, and the
// kinds of the notes, the commonest first. A finding of the one side is told with that of
// the other, rule by rule and in turn. Offers are those of check.
func Decided(findings []layouts.Finding, offers []Offer) ([]Decision, []NoteKind) {
	type key struct {
		level         layouts.Level
		rule, marking string
		turn          int
	}
	type seen struct{ rule, marking string }
	place, turns, sides := map[key]int{}, map[seen]int{}, map[int][]string{}
	var groups [][]layouts.Finding
	for _, f := range findings {
		base, side := OfSide(f.Marking)
		s := seen{f.Rule, f.Marking}
		k := key{f.Level, f.Rule, base, turns[s]}
		turns[s]++
		i, known := place[k]
		if !known || side == "" {
			i = len(groups)
			place[k] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], f)
		if side != "" {
			sides[i] = append(sides[i], side)
		}
	}
	var out []Decision
	var notes []NoteKind
	for _, level := range []layouts.Level{layouts.Stop, layouts.Warn, layouts.Note} {
		for i, group := range groups {
			f := group[0]
			if f.Level != level {
				continue
			}
			if level == layouts.Note {
				at := slices.IndexFunc(notes, func(n NoteKind) bool { return n.Kind == f.Kind() })
				if at < 0 {
					at = len(notes)
					notes = append(notes, NoteKind{Kind: f.Kind()})
				}
				notes[at].Count++
				continue
			}
			out = append(out, decisionOf(group, sides[i], offers))
		}
	}
	out = gathered(out)
	slices.SortStableFunc(notes, func(a, b NoteKind) int { return b.Count - a.Count })
	return out, notes
}

// gathered tells decisions of one kind, of which nothing can be written into the layout,
// once: the first in full, of the others the marking, each once.
func gathered(all []Decision) []Decision {
	var out []Decision
	for _, d := range all {
		at := slices.IndexFunc(out, func(o Decision) bool {
			return o.Kind == d.Kind && o.Level == d.Level && o.Head != "" && d.Head != "" && len(o.Offers)+len(d.Offers) == 0
		})
		if at < 0 {
			out = append(out, d)
			continue
		}
		if d.Head != out[at].Head && !slices.ContainsFunc(out[at].Also, func(o Decision) bool { return o.Head == d.Head }) {
			out[at].Also = append(out[at].Also, d)
		}
	}
	return out
}

func decisionOf(group []layouts.Finding, sides []string, offers []Offer) Decision {
	f := group[0]
	d := Decision{Level: f.Level, Message: f.Message, Hint: f.Hint, Kind: f.Kind()}
	if rest, ok := strings.CutPrefix(f.Message, f.Marking+": "); ok && f.Marking != "" {
		base, _ := OfSide(f.Marking)
		d.Head, d.Message = base, rest
		switch len(sides) {
		case 0:
		case 1:
			d.Head += ", " + sides[0]
		default:
			d.Head += ", both sides"
		}
	}
	for _, f := range group {
		if f.Marking != "" && !slices.Contains(d.Markings, f.Marking) {
			d.Markings = append(d.Markings, f.Marking)
		}
		for _, p := range f.Proposals {
			at := slices.IndexFunc(offers, func(o Offer) bool {
				return o.Proposal == p && o.Finding.Rule == f.Rule && o.Finding.Marking == f.Marking
			})
			if at >= 0 && !slices.ContainsFunc(d.Offers, func(o Offer) bool { return o.Path == p.Path && o.Value == p.Value }) {
				d.Offers = append(d.Offers, offers[at])
			}
		}
	}
	return d
}

// OfSide parts the id of a marking on a side; the side is empty where it has none.
func OfSide(id string) (base, side string) {
	for _, side := range []string{"left", "right"} {
		if base, ok := strings.CutSuffix(id, "-"+side); ok {
			return base, side
		}
	}
	return id, ""
}
