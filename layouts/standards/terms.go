package standards

import (
	_ "embed"
	"fmt"
	"slices"
	"sort"
	"strings"
	"sync"
)

//go:embed terms.yaml
var termsText []byte

// Term is a word of a closed list: a nation, a service, a place on the aircraft, a
// finish, a type of aircraft or a kind of marking.
type Term struct {
	Term  string   // as it is written
	Means string   // in plain words
	Of    []string // terms it is part of
	Also  []string // other words taken for it
	Hex   string   // a finish: a colour near to it, for pictures; empty: several, or none
}

// Terms is one closed list.
type Terms struct {
	what string // of the list, in messages
	list []Term
	at   map[string]int // by plain word
}

// vocabulary is all lists.
type vocabulary struct{ nations, services, places, finishes, types, kinds Terms }

// words reads the lists once. An error is a fault of the file.
var words = sync.OnceValues(func() (vocabulary, error) {
	var f struct{ Nations, Services, Places, Finishes, Types, Kinds []Term }
	if err := decode("terms.yaml", termsText, &f); err != nil {
		return vocabulary{}, fmt.Errorf("terms.yaml: %w", err)
	}
	var v vocabulary
	for _, l := range []struct {
		to   *Terms
		what string
		list []Term
	}{
		{&v.nations, "nation", f.Nations}, {&v.services, "service", f.Services}, {&v.places, "place", f.Places},
		{&v.finishes, "finish", f.Finishes}, {&v.types, "type of aircraft", f.Types}, {&v.kinds, "kind of marking", f.Kinds},
	} {
		t, err := newTerms(l.what, l.list)
		if err != nil {
			return vocabulary{}, fmt.Errorf("terms.yaml: %w", err)
		}
		*l.to = t
	}
	return v, nil
})

func newTerms(what string, list []Term) (Terms, error) {
	t := Terms{what: what, list: list, at: map[string]int{}}
	for i, term := range list {
		for _, w := range append([]string{term.Term}, term.Also...) {
			w = plain(w)
			if j, taken := t.at[w]; taken && j != i {
				return t, fmt.Errorf("%s: %q means both %s and %s", what, w, list[j].Term, term.Term)
			}
			t.at[w] = i
		}
	}
	for _, term := range list {
		for _, of := range term.Of {
			if i, ok := t.at[plain(of)]; !ok || list[i].Term != of {
				return t, fmt.Errorf("%s: %s is part of %q, which is not in the list", what, term.Term, of)
			}
		}
	}
	return t, nil
}

// plain writes a word in lower case, with blanks for hyphens and underscores.
func plain(s string) string {
	return strings.Join(strings.Fields(strings.ToLower(strings.NewReplacer("-", " ", "_", " ").Replace(s))), " ")
}

// find returns the term for a word.
//
// Errors: a word that is not in the list, with those nearest to it.
func (t Terms) find(word string) (Term, error) {
	p := plain(word)
	for _, w := range []string{p, strings.TrimSuffix(p, "s"), p + "s"} {
		if i, ok := t.at[w]; ok && w != "" {
			return t.list[i], nil
		}
	}
	var known []string
	for w := range t.at {
		known = append(known, w)
	}
	sort.Strings(known)
	var near []string
	for _, w := range nearest(p, known, 6) {
		if term := t.list[t.at[w]].Term; !slices.Contains(near, term) {
			near = append(near, term)
		}
	}
	return Term{}, fmt.Errorf("unknown %s %q: write %s; rules --terms %s lists them", t.what, word, orList(near), strings.Fields(t.what)[0])
}

func orList(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " or " + list[len(list)-1]
}

// above returns how many steps up from a lead to b: 0 where they are the same;
// false where b is not above a.
func (t Terms) above(a, b string) (int, bool) {
	if a == b {
		return 0, true
	}
	i, ok := t.at[plain(a)]
	if !ok {
		return 0, false
	}
	best, found := 0, false
	for _, of := range t.list[i].Of {
		if n, ok := t.above(of, b); ok && (!found || n+1 < best) {
			best, found = n+1, true
		}
	}
	return best, found
}

// nearness of a term of a use to one that is asked for: 0 the same, then the steps
// between them up or down; false where neither is part of the other.
func (t Terms) nearness(use, asked string) (int, bool) {
	if n, ok := t.above(asked, use); ok {
		return n, true
	}
	return t.above(use, asked)
}

// nearestOf returns the nearness of the nearest of several terms of a use; an empty
// list is any, which fits last.
func (t Terms) nearestOf(use []string, asked string) (int, bool) {
	if len(use) == 0 || asked == "" {
		return anyDistance, true
	}
	best, found := anyDistance, false
	for _, u := range use {
		if n, ok := t.nearness(u, asked); ok && (!found || n < best) {
			best, found = n, true
		}
	}
	return best, found
}

// anyDistance ranks a use that names no term behind all that name one.
const anyDistance = 100

// Words returns the words of a list, in the order of the file: nation, service,
// place, finish, type or kind.
func Words(list string) ([]Term, error) {
	v, err := words()
	if err != nil {
		return nil, err
	}
	t, ok := v.lists()[list]
	if !ok {
		return nil, fmt.Errorf("no list of words called %q", list)
	}
	return slices.Clone(t.list), nil
}

func (v vocabulary) lists() map[string]Terms {
	return map[string]Terms{"nation": v.nations, "service": v.services, "place": v.places, "finish": v.finishes, "type": v.types, "kind": v.kinds}
}

// Word returns the term of a list for a word, an adjective or another name: the
// nation us for "American".
//
// Errors: a word that is not in the list, with those nearest to it.
func Word(list, word string) (Term, error) {
	v, err := words()
	if err != nil {
		return Term{}, err
	}
	t, ok := v.lists()[list]
	if !ok {
		return Term{}, fmt.Errorf("no list of words called %q", list)
	}
	return t.find(word)
}
