package main

import (
	"fmt"
	"io"
	"strings"

	"maskloft/export"
	"maskloft/layouts/standards"
)

// showAnswers tells place by place what stood there.
func showAnswers(w io.Writer, c ruleChoice) {
	last, unknown := "", 0
	for i, a := range c.answers {
		if head := a.Question.Nation + ", " + a.Question.Kind; head != last {
			if last != "" {
				fmt.Fprintln(w)
			}
			last = head
			fmt.Fprintln(w, head)
		}
		if a.Unknown() && len(a.Conditional) == 0 {
			unknown++
		}
		if i > 0 && !a.Unknown() && a.Same(c.answers[i-1]) {
			continue // told with it
		}
		places := []string{placeWords(a)}
		for _, b := range c.answers[i+1:] {
			if a.Unknown() || !a.Same(b) {
				break
			}
			places = append(places, placeWords(b))
		}
		showAnswer(w, strings.Join(places, ", "), a)
	}
	if len(c.answers) == 0 {
		fmt.Fprintf(w, "nothing is known that stood there on %s\n", c.on)
	}
	fmt.Fprintf(w, "\nUnknown does not mean that nothing stood there: a photograph decides. %d unknown of %d.\n", unknown, len(c.answers))
}

func placeWords(a standards.Answer) string {
	if a.Question.Place == "" {
		return "any place"
	}
	return a.Question.Place
}

func showAnswer(w io.Writer, place string, a standards.Answer) {
	line := func(what, text string) { fmt.Fprintf(w, "      %-11s %s\n", what, text) }
	switch {
	case len(a.Forms) > 0:
		for _, u := range a.Forms {
			fmt.Fprintf(w, "  %s: %s: %s\n", place, ruleID(u.Rule), u.Rule.Name)
			for _, s := range useLines(u, a) {
				line(s[0], s[1])
			}
			if d := u.Rule.Disputes; len(d) > 0 {
				line("sources", strings.Join(d, "; "))
			}
		}
		if d := a.Decides(); len(d) > 0 {
			line("depends", "on the "+strings.Join(d, " and the "))
		}
	case a.None != nil:
		fmt.Fprintf(w, "  %s: none: %s\n", place, a.None.What)
		for _, s := range useLines(a.None, a) {
			line(s[0], s[1])
		}
	case len(a.Conditional) > 0:
		fmt.Fprintf(w, "  %s: by the type of aircraft\n", place)
	default:
		fmt.Fprintf(w, "  %s: unknown\n", place)
	}
	if f := a.Follows; f != nil {
		for _, u := range f.Forms {
			line("that is", fmt.Sprintf("%s: %s, %s", ruleID(u.Rule), u.Rule.Name, u.DatesText()))
		}
	}
	others := func(what string, list []*standards.Use) {
		for _, u := range list {
			s := "none: " + u.What
			if u.Rule != nil {
				s = ruleID(u.Rule) + ": " + u.Rule.Name
			}
			if len(u.Types) > 0 {
				s = "on " + strings.Join(u.Types, ", ") + ": " + s
			}
			if len(u.Finishes) > 0 && a.Question.Finish == "" {
				s += "; " + strings.Join(u.Finishes, ", ")
			}
			line(what, fmt.Sprintf("%s, %s; %s", s, u.DatesText(), export.KnownText(u.Provenance)))
		}
	}
	others("beside it", a.Beside)
	others("also", a.Also)
	others("", a.Conditional)
	if u := a.Before; u != nil {
		line("before", fmt.Sprintf("%s %s", ruleID(u.Rule), u.DatesText()))
	}
	if u := a.After; u != nil {
		line("after", fmt.Sprintf("%s %s", ruleID(u.Rule), u.DatesText()))
	}
}

// useLines are the lines under a form: when, on what, by which document, how known.
func useLines(u *standards.Use, a standards.Answer) [][2]string {
	var scope []string
	for _, s := range []struct {
		words []string
		said  bool
	}{{u.Services, a.Question.Service != ""}, {u.Finishes, a.Question.Finish != ""}, {u.Types, len(a.Question.Types) > 0}} {
		if len(s.words) > 0 && !s.said {
			scope = append(scope, strings.Join(s.words, ", "))
		}
	}
	when := u.DatesText()
	if a.Certainty == standards.Possible {
		when += "; possible on the date, not sure"
	}
	if len(scope) > 0 {
		when += "; on " + strings.Join(scope, "; ")
	}
	out := [][2]string{{"stood", when}}
	if u.Rule == nil {
		out[0][0] = "absent"
	}
	if u.Document != "" {
		out = append(out, [2]string{"document", u.Document})
	}
	out = append(out, [2]string{"known", export.KnownText(u.Provenance)})
	if u.Rule != nil {
		form := "form: " + export.KnownText(u.Rule.Provenance)
		if u.Rule.InWords() {
			form = "form in words only, not drawn (" + u.Rule.NotDrawn + "): " + u.Rule.Described
		}
		out = append(out, [2]string{"", form})
	}
	return out
}

// answerReport is an answer for --json.
type answerReport struct {
	Nation    string      `json:"nation"`
	Kind      string      `json:"kind"`
	Place     string      `json:"place,omitempty"`
	Forms     []useReport `json:"forms"`
	None      *useReport  `json:"none,omitempty"`
	Unknown   bool        `json:"unknown"`
	Possible  bool        `json:"possible,omitempty"`
	Depends   []string    `json:"depends,omitempty"`
	Beside    []useReport `json:"beside,omitempty"`
	Also      []useReport `json:"also,omitempty"`
	OnTypes   []useReport `json:"on_types,omitempty"`
	Before    string      `json:"before,omitempty"`
	After     string      `json:"after,omitempty"`
	FollowsIs []useReport `json:"follows,omitempty"`
}

type useReport struct {
	Rule     string   `json:"rule,omitempty"`
	What     string   `json:"what,omitempty"`
	From     string   `json:"from"`
	To       string   `json:"to,omitempty"`
	InForce  bool     `json:"in_force,omitempty"`
	Services []string `json:"services,omitempty"`
	Finishes []string `json:"finishes,omitempty"`
	Types    []string `json:"types,omitempty"`
	Document string   `json:"document,omitempty"`
	Known    string   `json:"known"`
}

func reportAnswer(a standards.Answer) answerReport {
	list := func(uses []*standards.Use) []useReport {
		var out []useReport
		for _, u := range uses {
			out = append(out, reportUse(u))
		}
		return out
	}
	r := answerReport{
		Nation: a.Question.Nation, Kind: a.Question.Kind, Place: a.Question.Place, Forms: list(a.Forms), Unknown: a.Unknown(),
		Possible: a.Certainty == standards.Possible, Depends: a.Decides(), Beside: list(a.Beside), Also: list(a.Also), OnTypes: list(a.Conditional),
	}
	if r.Forms == nil {
		r.Forms = []useReport{}
	}
	if a.None != nil {
		none := reportUse(a.None)
		r.None = &none
	}
	if a.Before != nil {
		r.Before = ruleID(a.Before.Rule)
	}
	if a.After != nil {
		r.After = ruleID(a.After.Rule)
	}
	if a.Follows != nil {
		r.FollowsIs = list(a.Follows.Forms)
	}
	return r
}

func reportUse(u *standards.Use) useReport {
	r := useReport{
		What: u.What, From: string(u.From), To: string(u.To), InForce: u.Open, Services: u.Services, Finishes: u.Finishes, Types: u.Types,
		Document: u.Document, Known: export.KnownText(u.Provenance),
	}
	if u.Rule != nil {
		r.Rule = ruleID(u.Rule)
	}
	return r
}
