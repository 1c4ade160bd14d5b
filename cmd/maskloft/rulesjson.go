package main

import (
	"maskloft/export"
	"maskloft/layouts/standards"
)

// rulesReport is what rules --json prints.
type rulesReport struct {
	Rules   []ruleReport   `json:"rules"`
	Answers []answerReport `json:"answers,omitempty"`
}

type ruleReport struct {
	ID        string         `json:"id"`
	Document  string         `json:"document"`
	Clause    string         `json:"clause,omitempty"`
	Nation    string         `json:"nation"`
	Name      string         `json:"name"`
	Unit      string         `json:"unit"`
	Kind      string         `json:"kind"`
	Stood     string         `json:"stood,omitempty"`
	Described string         `json:"described,omitempty"`
	Numbers   []numberReport `json:"numbers,omitempty"`
	Sizes     []float64      `json:"sizes_in,omitempty"` // as offered, largest first
	Known     string         `json:"known"`
}

type numberReport struct {
	Part    string  `json:"part"`
	Number  string  `json:"number"`
	Formula string  `json:"formula"`
	Value   float64 `json:"value"`
	CanStop bool    `json:"can_stop"`
	Known   string  `json:"known"`
}

func (c ruleChoice) report() rulesReport {
	r := rulesReport{Rules: []ruleReport{}}
	for _, x := range c.rules {
		one := ruleReport{
			ID: ruleID(x), Document: x.Document.Title, Clause: x.Clause, Nation: x.Nation, Name: x.Name, Unit: string(x.Unit),
			Kind: x.Kind, Stood: stoodText(x), Described: x.Described, Known: export.KnownText(x.Provenance), Sizes: x.Offered(1e9),
		}
		if values, err := x.ValuesAt(x.OwnSize(), nil); err == nil {
			for _, v := range values {
				one.Numbers = append(one.Numbers, numberReport{v.Part, v.Name, string(v.Formula), round9(v.Value), x.CanStop(v.Part + "." + v.Name), x.Known(v.Part + "." + v.Name).Class()})
			}
		}
		r.Rules = append(r.Rules, one)
	}
	for _, a := range c.answers {
		r.Answers = append(r.Answers, reportAnswer(a))
	}
	return r
}

func stoodText(r *standards.Rule) string {
	s, ok := r.Stood()
	if !ok {
		return ""
	}
	return s.Text()
}
