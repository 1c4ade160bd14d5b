package main

import (
	"maskloft/export"
	"maskloft/layouts/standards"
)

// rulesReport is what rules --json prints.
type rulesReport struct {
	Rules []ruleReport       `json:"rules"`
	Lines []successionReport `json:"lines,omitempty"`
}

type ruleReport struct {
	ID        string         `json:"id"`
	Document  string         `json:"document"`
	Clause    string         `json:"clause,omitempty"`
	Nation    string         `json:"nation"`
	Name      string         `json:"name"`
	Unit      string         `json:"unit"`
	ValidFrom string         `json:"valid_from,omitempty"`
	ValidTo   string         `json:"valid_to,omitempty"`
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
}

type successionReport struct {
	Nation  string        `json:"nation"`
	Line    string        `json:"line"`
	Before  string        `json:"before,omitempty"`
	InForce []string      `json:"in_force"`
	After   string        `json:"after,omitempty"`
	Doubts  []doubtReport `json:"doubts"`
}

type doubtReport struct {
	Rule  string `json:"rule"`
	What  string `json:"what"`
	Also  string `json:"also"`
	Known string `json:"known"`
}

func (c ruleChoice) report() rulesReport {
	r := rulesReport{Rules: []ruleReport{}}
	for _, x := range c.rules {
		one := ruleReport{
			ID: ruleID(x), Document: x.Document.Title, Clause: x.Clause, Nation: x.Nation, Name: x.Name, Unit: string(x.Unit),
			ValidFrom: string(x.ValidFrom), ValidTo: string(x.ValidTo), Known: export.KnownText(x.Provenance), Sizes: x.Offered(1e9),
		}
		if values, err := x.Values(nil); err == nil {
			for _, v := range values {
				one.Numbers = append(one.Numbers, numberReport{v.Part, v.Name, string(v.Formula), round9(v.Value), x.CanStop(v.Part + "." + v.Name)})
			}
		}
		r.Rules = append(r.Rules, one)
	}
	id := func(x *standards.Rule) string {
		if x == nil {
			return ""
		}
		return ruleID(x)
	}
	for _, l := range c.lines {
		one := successionReport{Nation: l.Nation, Line: l.Line, Before: id(l.Before), After: id(l.After), InForce: []string{}, Doubts: []doubtReport{}}
		for _, x := range l.InForce {
			one.InForce = append(one.InForce, ruleID(x))
		}
		for _, d := range l.Doubts {
			one.Doubts = append(one.Doubts, doubtReport{ruleID(d.Rule), d.Other.What, string(d.Other.Also), export.KnownText(d.Other.Provenance)})
		}
		r.Lines = append(r.Lines, one)
	}
	return r
}
