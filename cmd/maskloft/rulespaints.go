package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"maskloft/export"
	"maskloft/layouts/standards"
)

// paintReport is what rules --paints finds: names of paints of the time, and the roles
// of the forms that stood then.
type paintReport struct {
	Paints []namedPaint `json:"paints"`
	Roles  []rolePaint  `json:"roles"`
}

type namedPaint struct {
	Nation   string   `json:"nation"`
	Names    []string `json:"names"`
	Use      string   `json:"use,omitempty"`
	From     string   `json:"from"`
	To       string   `json:"to,omitempty"`
	Standard string   `json:"standard,omitempty"`
	Known    string   `json:"known"`
}

type rolePaint struct {
	Role     string   `json:"role"`
	Name     string   `json:"name"`
	Standard string   `json:"standard,omitempty"` // that existed on the date
	Picture  string   `json:"picture"`            // for pictures only
	Rules    []string `json:"rules"`
	Known    string   `json:"known"`
}

// paints lists the paints of the date and the roles of the forms found.
//
// Errors: no date.
func (k ruleQuery) paints(c ruleChoice) (paintReport, error) {
	if k.on == "" {
		return paintReport{}, errors.New("--paints needs a date: write --on 1938-05")
	}
	q, err := k.question()
	if err != nil {
		return paintReport{}, err
	}
	named, err := standards.PaintsOn(q.Nation, q.On)
	if err != nil {
		return paintReport{}, err
	}
	r := paintReport{Paints: []namedPaint{}, Roles: []rolePaint{}}
	for _, p := range named {
		r.Paints = append(r.Paints, namedPaint{p.Nation, p.Names, p.Use, string(p.From), string(p.To), p.Standard, export.KnownText(p.Provenance)})
	}
	palette, err := standards.Palette()
	if err != nil {
		return paintReport{}, err
	}
	for _, colour := range palette {
		one := rolePaint{
			Role: colour.Role, Name: colour.Name, Standard: colour.StandardAt(q.On), Picture: strings.ToLower(colour.Hex), Known: export.KnownText(colour.Provenance),
		}
		for _, rule := range c.rules {
			if slices.ContainsFunc(rule.Parts, func(p standards.Part) bool { return p.Colour == colour.Role }) {
				one.Rules = append(one.Rules, ruleID(rule))
			}
		}
		if len(one.Rules) > 0 {
			r.Roles = append(r.Roles, one)
		}
	}
	return r, nil
}

func showPaints(w io.Writer, on string, r paintReport) {
	fmt.Fprintf(w, "paints by name, %s\n", on)
	for _, p := range r.Paints {
		standard := p.Standard
		if standard == "" {
			standard = "no standard known"
		}
		to := ", end unknown"
		if p.To != "" {
			to = " to " + p.To
		}
		fmt.Fprintf(w, "  %s: %s; from %s%s; %s; %s\n", strings.Join(p.Names, ", "), p.Use, p.From, to, standard, p.Known)
	}
	if len(r.Paints) == 0 {
		fmt.Fprintln(w, "  unknown")
	}
	fmt.Fprintf(w, "\nroles of the forms that stood then\n")
	for _, p := range r.Roles {
		standard := p.Standard
		if standard == "" {
			standard = "no standard known for the time"
		}
		fmt.Fprintf(w, "  %-16s %s; %s; picture only %s\n%-19sin %s; %s\n", p.Role, p.Name, standard, p.Picture, "", strings.Join(p.Rules, ", "), p.Known)
	}
}
