package job

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"maskloft/layouts"
	"maskloft/layouts/document"
)

// Offer is a proposal of a finding with its number in the list of all of them.
type Offer struct {
	Number  int // from 1, in the order of the findings
	Finding layouts.Finding
	layouts.Proposal
}

// Name is how an offer is named beside its number: insignia/obstacle.
func (o Offer) Name() string { return o.Finding.Marking + "/" + o.Finding.Rule }

// Offers lists what findings propose.
func Offers(findings []layouts.Finding) []Offer {
	var out []Offer
	for _, f := range findings {
		for _, p := range f.Proposals {
			out = append(out, Offer{len(out) + 1, f, p})
		}
	}
	return out
}

// ListMark is a short checksum of a list of offers. Numbers hold for the list with
// their mark.
func ListMark(offers []Offer) string {
	var all []any
	for _, o := range offers {
		all = append(all, o.Finding.Marking, o.Finding.Rule, o.Path, o.Value)
	}
	return contentOf(all...)[:6]
}

// Taken is an offer that was written into the text.
type Taken struct {
	Offer
	Change, Undo document.Splice
}

// Take writes the offers that are named into the text, one after the other: a word is a
// number, 3, or a name, insignia/obstacle, or insignia-left/obstacle for one side. find
// returns the findings of a job. Each is then looked at: its finding must be gone, and
// no finding of level stop may have come. mark is that of the list that the numbers were
// read from; empty: the list as it is.
//
// Errors: a word that names nothing, a list that has changed, a change that does not do
// what it should. The text is then as it was.
func (f *File) Take(ctx context.Context, words []string, mark string, find func(context.Context, *Job) ([]layouts.Finding, error)) (taken []Taken, err error) {
	look := func() ([]layouts.Finding, error) {
		j, err := f.Job()
		if err != nil {
			return nil, err
		}
		return find(ctx, j)
	}
	defer func() {
		if err != nil {
			for len(taken) > 0 {
				_ = f.Apply(taken[len(taken)-1].Undo) // the inverse of what was just made
				taken = taken[:len(taken)-1]
			}
			taken = nil
		}
	}()
	findings, err := look()
	if err != nil {
		return nil, err
	}
	offers := Offers(findings)
	if is := ListMark(offers); mark != "" && mark != is {
		return nil, fmt.Errorf("the list of what can be taken has changed since it was printed (%s, now %s): look at it again, and take from the new one", mark, is)
	}
	var chosen []Offer
	for _, word := range words {
		o, err := choose(offers, word)
		if err != nil {
			return nil, err
		}
		chosen = append(chosen, o)
	}
	for _, o := range chosen {
		if len(taken) > 0 && !offered(Offers(findings), o) {
			return taken, fmt.Errorf("%s: %s is no longer offered once %s is written: take them one by one", o.Name(), o.Path, taken[len(taken)-1].Path)
		}
		change, undo, err := f.Set(o.Path, o.Value)
		if err != nil {
			return taken, err
		}
		taken = append(taken, Taken{o, change, undo})
		after, err := look()
		if err != nil {
			return taken, fmt.Errorf("%s: with %s: %s the layout cannot be computed: %w", o.Name(), o.Path, o.Value, err)
		}
		if count(after, o.Finding) >= count(findings, o.Finding) {
			return taken, fmt.Errorf("%s: %s: %s does not make it go away; nothing was written: change it by hand", o.Name(), o.Path, o.Value)
		}
		for _, x := range after {
			if x.Level == layouts.Stop && count(after, x) > count(findings, x) {
				return taken, fmt.Errorf("%s: %s: %s would bring another stop, %s: %s; nothing was written: change it by hand", o.Name(), o.Path, o.Value, x.Rule, x.Message)
			}
		}
		findings = after
	}
	return taken, nil
}

// choose returns the offer of a number or of a name; of several of one name the first.
func choose(offers []Offer, word string) (Offer, error) {
	if n, err := strconv.Atoi(word); err == nil {
		if n < 1 || n > len(offers) {
			return Offer{}, fmt.Errorf("there is no number %d: %s", n, known(offers))
		}
		return offers[n-1], nil
	}
	for _, o := range offers {
		side := strings.TrimSuffix(strings.TrimSuffix(o.Finding.Marking, "-left"), "-right")
		if word == o.Name() || word == side+"/"+o.Finding.Rule {
			return o, nil
		}
	}
	return Offer{}, fmt.Errorf("nothing is offered under %q: %s", document.Shorten(word), known(offers))
}

func known(offers []Offer) string {
	if len(offers) == 0 {
		return "no finding proposes a value"
	}
	var names []string
	for _, o := range offers {
		names = append(names, fmt.Sprintf("%d (%s)", o.Number, o.Name()))
	}
	return "there are " + strings.Join(names, ", ")
}

// offered tells whether a list still has an offer, under whatever number.
func offered(offers []Offer, o Offer) bool {
	for _, x := range offers {
		if x.Proposal == o.Proposal && x.Name() == o.Name() {
			return true
		}
	}
	return false
}

// count is how often a rule is reported of a marking; notes count only where the finding
// is one itself.
func count(findings []layouts.Finding, like layouts.Finding) (n int) {
	for _, f := range findings {
		if f.Rule == like.Rule && f.Marking == like.Marking && (f.Level != layouts.Note || like.Level == layouts.Note) {
			n++
		}
	}
	return n
}
