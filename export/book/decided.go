package book

import (
	"slices"

	"maskloft/layouts"
	"maskloft/layouts/job"
)

// What the first screen shows, so that its length does not follow the findings.
const (
	mostDecisions = 8
	mostAlso      = 6 // other markings of one decision
)

// Findings are the findings of the first screen; those of a marking stand in full with it.
type Findings struct {
	Decisions []Decision // each once, the worst first
	More      int        // decisions left off
	Kinds     []job.NoteKind
	List      string            // mark of the list that the numbers of offers are of
	Job       []layouts.Finding // of no marking that has a card, the gravest first
}

// Decision is what is to be decided, with the cards where it stands in full.
type Decision struct {
	job.Decision
	Cards   []string // ids of markings; empty: with the whole job
	Also    []string // cards of other markings of which the same is to be decided
	AlsoOff int      // of these left off
}

// Opening is what some of the files are for.
type Opening struct {
	For   string
	Files []string
	And   string // after the files, in words
}

// Decided is the first screen of findings; offers are those of check, has tells which
// markings have a card.
func Decided(findings []layouts.Finding, offers []job.Offer, has func(id string) bool) Findings {
	all, kinds := job.Decided(findings, offers)
	out := Findings{Kinds: kinds, List: job.ListMark(offers)}
	cards := func(d job.Decision) (ids []string) {
		for _, id := range d.Markings {
			if has(id) {
				ids = append(ids, id)
			}
		}
		return ids
	}
	for i, d := range all {
		if i == mostDecisions {
			out.More = len(all) - i
			break
		}
		x := Decision{Decision: d, Cards: cards(d)}
		for _, o := range d.Also {
			x.Also = append(x.Also, cards(o)...)
		}
		if n := len(x.Also) - mostAlso; n > 0 {
			x.Also, x.AlsoOff = x.Also[:mostAlso], n
		}
		out.Decisions = append(out.Decisions, x)
	}
	for i := 1; i < len(out.Decisions); i++ { // a hint of several in a row stands with the last
		if d, next := &out.Decisions[i-1], out.Decisions[i]; d.Hint == next.Hint && len(next.Offers) == 0 {
			d.Hint = ""
		}
	}
	for _, level := range []layouts.Level{layouts.Stop, layouts.Warn, layouts.Note} {
		for _, f := range findings {
			if f.Level == level && !has(f.Marking) {
				out.Job = append(out.Job, f)
			}
		}
	}
	return out
}

// Offered tells whether a decision that is shown has a value to take.
func (f Findings) Offered() bool {
	return slices.ContainsFunc(f.Decisions, func(d Decision) bool { return len(d.Offers) > 0 })
}
