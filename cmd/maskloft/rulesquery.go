package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// ruleQuery is what rules is asked for, in the words as typed.
type ruleQuery struct {
	on, nation, service, place, finish, kind string
	types                                    []string
}

// asking are the options of a query.
var asking = []string{"on", "nation", "service", "place", "finish", "kind", "type"}

// ruleChoice is what was found: rules, and with a date what stood where.
type ruleChoice struct {
	rules   []*standards.Rule
	answers []standards.Answer
	on      string
}

// choose finds the rules that were asked for.
//
// Errors: words that are not known; a rule and a query together.
func (k ruleQuery) choose(args []string) (ruleChoice, error) {
	q, err := k.question()
	if err != nil {
		return ruleChoice{}, err
	}
	if len(args) > 0 {
		if k.on != "" || k.nation != "" {
			return ruleChoice{}, errors.New("give a rule, or --on and --nation, not both")
		}
		rule, err := standards.Find(args[0])
		return ruleChoice{rules: []*standards.Rule{rule}}, err
	}
	if k.on == "" {
		if k.service != "" || k.place != "" || k.finish != "" || len(k.types) > 0 {
			return ruleChoice{}, errors.New("--service, --place, --finish and --type go with a date: write --on 1935-06")
		}
		docs, err := standards.Documents()
		var c ruleChoice
		for _, d := range docs {
			for _, r := range d.Rules {
				if (q.Nation == "" || q.Nation == r.Nation) && (q.Kind == "" || q.Kind == r.Kind) {
					c.rules = append(c.rules, r)
				}
			}
		}
		return c, err
	}
	nations := []string{q.Nation}
	if q.Nation == "" {
		if nations, err = standards.Nations(); err != nil {
			return ruleChoice{}, err
		}
	}
	c := ruleChoice{on: k.on}
	for _, n := range nations {
		one := q
		one.Nation = n
		answers, err := standards.PlaceByPlace(one)
		if err != nil {
			return ruleChoice{}, fmt.Errorf("--on: %w", err)
		}
		c.answers = append(c.answers, answers...)
	}
	for _, a := range c.answers {
		for _, u := range slices.Concat(a.Forms, a.Beside, a.Also, a.Conditional) {
			if u.Rule != nil && !slices.Contains(c.rules, u.Rule) {
				c.rules = append(c.rules, u.Rule)
			}
		}
	}
	return c, nil
}

// question finds the words in the lists.
func (k ruleQuery) question() (standards.Question, error) {
	q := standards.Question{On: standards.Date(k.on)}
	for _, w := range []struct {
		list, word string
		to         *string
	}{{"nation", k.nation, &q.Nation}, {"service", k.service, &q.Service}, {"place", k.place, &q.Place}, {"finish", k.finish, &q.Finish}, {"kind", k.kind, &q.Kind}} {
		if w.word == "" {
			continue
		}
		t, err := standards.Word(w.list, w.word)
		if err != nil {
			return q, fmt.Errorf("--%s: %w", w.list, err)
		}
		*w.to = t.Term
	}
	for _, w := range k.types {
		t, err := standards.Word("type", w)
		if err != nil {
			return q, fmt.Errorf("--type: %w", err)
		}
		q.Types = append(q.Types, t.Term)
	}
	return q, nil
}

func listTerms(w io.Writer, list string) error {
	terms, err := standards.Words(list)
	if err != nil {
		return fmt.Errorf("--terms: %w: write nation, service, place, finish, type or kind", err)
	}
	for _, t := range terms {
		s := t.Means
		if len(t.Of) > 0 {
			s += "; part of " + strings.Join(t.Of, ", ")
		}
		if len(t.Also) > 0 {
			s += "; also " + strings.Join(t.Also, ", ")
		}
		fmt.Fprintf(w, "  %-28s %s\n", t.Term, s)
	}
	fmt.Fprintf(w, "\n%s\n", geometry.Counted(len(terms), "word"))
	return nil
}
