package proportions

import (
	"fmt"

	"maskloft/layouts/standards"
)

// text is another text or reading that a dimension may conform to.
type text struct {
	verdict Verdict
	values  values
	part    string // the only number it is about; empty: any
	number  string
	words   string
	rule    *standards.Rule // whose number is quoted; nil: words say it
}

// value returns what the text says of a dimension; false where it says nothing.
func (t text) value(d dimension) (float64, bool) {
	if t.part != "" && (t.part != d.part || t.number != d.name) {
		return 0, false
	}
	v := d.raw(t.values)
	return v, v != 0 && !d.exact
}

// says names the text, with its number where that is not in the words.
func (t text) says(d dimension) string {
	if t.rule == nil {
		return t.words
	}
	p, _ := t.rule.Part(d.part)
	return fmt.Sprintf("%s (%s %s)", t.words, p.Number(d.name), t.rule.Unit)
}

// texts returns the other readings of a rule, its misprints, and what other
// revisions of its document say, in that order. A text that agrees with the rule
// does no harm: it is asked only where the rule is not met.
//
// Errors: those of the rule's values.
func texts(rule *standards.Rule, picks []standards.Pick, size float64) ([]text, error) {
	var out []text
	readings := [][]standards.Pick{picks}
	for _, o := range rule.Options {
		for _, ch := range o.Choices {
			if ch.Name == taken(o, picks) {
				continue
			}
			other := withPick(picks, standards.Pick{Option: o.Name, Choice: ch.Name})
			v, err := valuesOf(rule, other, size)
			if err != nil {
				return nil, err
			}
			out = append(out, text{verdict: Conforms, values: v, words: fmt.Sprintf("the reading %s: %s: %s", o.Name, ch.Name, ch.Text)})
			readings = append(readings, other)
		}
	}
	for _, e := range rule.Errata {
		printed, err := e.Printed.Eval(nil)
		if err != nil {
			return nil, err
		}
		scaled, err := scaledNumber(rule, e.Part, e.Number, printed, size)
		if err != nil {
			return nil, err
		}
		for _, r := range readings {
			v, err := valuesOf(rule, r, size)
			if err != nil {
				return nil, err
			}
			v[e.Part+"."+e.Number] = scaled
			out = append(out, text{verdict: Superseded, values: v, part: e.Part, number: e.Number,
				words: fmt.Sprintf("%s (%s %s), corrected by %s", e.PrintedIn, e.Printed, rule.Unit, e.CorrectedBy)})
		}
	}
	docs, err := standards.Documents()
	if err != nil {
		return nil, err
	}
	for _, d := range docs {
		if d.Family != rule.Document.Family || d.ID == rule.Document.ID {
			continue
		}
		for _, r := range d.Rules {
			v, err := valuesOf(r, nil, size)
			if err != nil || len(r.Parts) == 0 {
				continue
			}
			out = append(out, text{verdict: Superseded, values: v, words: citation(r), rule: r})
		}
	}
	return out, nil
}

// scaledNumber returns a printed number in the unit frame.
func scaledNumber(rule *standards.Rule, part, number string, printed, size float64) (float64, error) {
	list, err := rule.ValuesAt(size, nil)
	if err != nil {
		return 0, err
	}
	for _, v := range list {
		if v.Part == part && v.Name == number {
			v.Value = printed
			return inUnit(v, rule.Unit, size), nil
		}
	}
	return 0, fmt.Errorf("rule %s has no %s.%s", rule.ID, part, number)
}

func taken(o standards.Option, picks []standards.Pick) string {
	for _, p := range picks {
		if p.Option == o.Name {
			return p.Choice
		}
	}
	return o.Default
}

func withPick(picks []standards.Pick, with standards.Pick) []standards.Pick {
	out := []standards.Pick{with}
	for _, p := range picks {
		if p.Option != with.Option {
			out = append(out, p)
		}
	}
	return out
}
