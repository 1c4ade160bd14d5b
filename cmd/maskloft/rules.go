package main

import (
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/export"
	"maskloft/export/sheet"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

func rulesCommand(out io.Writer) *cobra.Command {
	var on, nation, dir, paper, serial, specimen string
	var asJSON, alphabets bool
	c := &cobra.Command{
		Use:   "rules [RULE]",
		Short: "list the published documents, show a rule, or say which form was in force on a date",
		Long: `List the published documents known, with their rules; show one rule with its
numbers, readings, dates and sources; or, with --on, say for each line of succession
which form was in force on that date, what came before and after, and where sources
disagree on the dates.

With -o, what is listed is drawn: a card for each rule (PDF) and its figure (SVG).
A rule that was read in a text may stop a job; one from memory may warn and no more.

--alphabets lists the letterforms known, --specimen draws one, your own file included.`,
		Example: "  maskloft rules --on 1943-07-15 --nation us\n  maskloft rules an-i-9b/star-and-bars -o card\n  maskloft rules --call-number 42-50123\n  maskloft rules --specimen block-1940s -o specimen",
		Args:    arguments(0, 1, "rule"),
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 && (serial != "" || alphabets || specimen != "") {
				return errors.New("rules: give a rule, or --call-number, --alphabets or --specimen, not both")
			}
			if err := errors.Join(
				alone(c, "call-number", "alphabets", "specimen", "on", "nation", "out", "json", "paper"),
				alone(c, "alphabets", "specimen", "on", "nation", "out", "json", "paper"),
				alone(c, "specimen", "on", "nation", "json"),
			); err != nil {
				return err
			}
			if serial != "" {
				number, err := standards.CallNumber(serial)
				if err != nil {
					return err
				}
				_, err = fmt.Fprintf(out, "%s\n", number)
				return err
			}
			if alphabets {
				return listAlphabets(out)
			}
			if specimen != "" {
				return drawSpecimen(out, specimen, dir, paper)
			}
			chosen, err := chosenRules(args, on, nation)
			if err != nil {
				return err
			}
			if dir != "" {
				if err := drawRules(dir, paper, chosen.rules); err != nil {
					return err
				}
			}
			switch {
			case asJSON:
				return writeJSON(out, chosen.report())
			case len(args) > 0:
				if err := showRule(out, chosen.rules[0]); err != nil {
					return err
				}
			case on != "":
				showTimeline(out, on, chosen.lines)
			default:
				listRules(out, chosen.rules)
			}
			if dir != "" {
				fmt.Fprintf(out, "\ndrawn in %s\n", dir)
			}
			return nil
		},
	}
	f := c.Flags()
	f.StringVar(&on, "on", "", "date: 1943-07-15, 1943-07 or 1943")
	f.StringVar(&nation, "nation", "", "nation, such as us, uk or france")
	f.StringVarP(&dir, "out", "o", "", "folder to draw the rules in")
	f.StringVar(&paper, "paper", "letter", "paper of the cards: letter or a4")
	f.StringVar(&serial, "call-number", "", "print the radio call number of a United States serial, such as 42-50123")
	f.BoolVar(&alphabets, "alphabets", false, "list the alphabets with their ratios and sources")
	f.StringVar(&specimen, "specimen", "", "draw the specimen sheet of an alphabet, a .yaml file of ratios or a font")
	f.BoolVar(&asJSON, "json", false, "print one JSON document")
	return c
}

// ruleChoice is what was asked for: rules, or lines of succession with theirs.
type ruleChoice struct {
	rules []*standards.Rule
	lines []standards.Succession
}

func chosenRules(args []string, on, nation string) (ruleChoice, error) {
	if nation != "" {
		known, err := standards.Nations()
		if err != nil {
			return ruleChoice{}, err
		}
		found := false
		for _, k := range known {
			found = found || strings.EqualFold(k, nation)
		}
		if !found {
			return ruleChoice{}, fmt.Errorf("--nation %s: there are no rules of it: write one of %s", nation, strings.Join(known, ", "))
		}
	}
	if len(args) > 0 {
		if on != "" || nation != "" {
			return ruleChoice{}, fmt.Errorf("give a rule, or --on and --nation, not both")
		}
		rule, err := standards.Find(args[0])
		return ruleChoice{rules: []*standards.Rule{rule}}, err
	}
	if on == "" {
		docs, err := standards.Documents()
		var c ruleChoice
		for _, d := range docs {
			for _, r := range d.Rules {
				if nation == "" || strings.EqualFold(nation, r.Nation) {
					c.rules = append(c.rules, r)
				}
			}
		}
		return c, err
	}
	lines, err := standards.Timeline(standards.Date(on), nation)
	if err != nil {
		return ruleChoice{}, fmt.Errorf("--on: %w", err)
	}
	c := ruleChoice{lines: lines}
	for _, l := range lines {
		for _, r := range append(append([]*standards.Rule{l.Before}, l.InForce...), l.After) {
			if r != nil {
				c.rules = append(c.rules, r)
			}
		}
	}
	return c, nil
}

// ruleID names the revision as well.
func ruleID(r *standards.Rule) string {
	return r.Document.ID + "/" + strings.TrimPrefix(r.ID, r.Document.Family+"/")
}

func listRules(w io.Writer, rules []*standards.Rule) {
	last := ""
	for _, r := range rules {
		if r.Document.ID != last {
			last = r.Document.ID
			fmt.Fprintf(w, "%s: %s\n", r.Document.ID, r.Document.Title)
		}
		fmt.Fprintf(w, "  %-34s %-12s %s; %s\n", ruleID(r), r.Nation, r.Name, known(r))
	}
	fmt.Fprintf(w, "\n%s. Show one with: maskloft rules RULE\n", geometry.Counted(len(rules), "rule"))
}

// known says in one word or two how a rule is known.
func known(r *standards.Rule) string {
	if r.Provenance.Kind == standards.Memory {
		return "from memory"
	}
	return string(r.Provenance.Kind)
}

func showTimeline(w io.Writer, on string, lines []standards.Succession) {
	for _, l := range lines {
		fmt.Fprintf(w, "%s, %s\n", l.Nation, l.Line)
		say := func(when string, r *standards.Rule) {
			fmt.Fprintf(w, "  %-10s %s: %s\n             %s; %s\n             %s\n", when, ruleID(r), r.Name, export.RuleDates(r), export.RuleSource(r), export.KnownText(r.Provenance))
		}
		if l.Before != nil {
			say("before", l.Before)
		}
		if len(l.InForce) == 0 {
			fmt.Fprintf(w, "  %-10s nothing known on %s\n", "in force", on)
		}
		for _, r := range l.InForce {
			say("in force", r)
		}
		if l.After != nil {
			say("after", l.After)
		}
		for _, d := range l.Doubts {
			fmt.Fprintf(w, "  %-10s %s: %s is also given as %s: %s\n", "sources", ruleID(d.Rule), map[string]string{"valid_from": "the start", "valid_to": "the end"}[d.Other.What], d.Other.Also, export.KnownText(d.Other.Provenance))
		}
		fmt.Fprintln(w)
	}
	fmt.Fprintf(w, "Both forms were met for some months about a change; within %d months of one a mismatch of date is a note and no more.\n", standards.TransitionMonths)
}

func showRule(w io.Writer, r *standards.Rule) error {
	fmt.Fprintf(w, "%s: %s\n%s\n%s\n", ruleID(r), r.Name, export.RuleSource(r), export.RuleDates(r))
	if r.Orientation != "" {
		fmt.Fprintf(w, "orientation: %s\n", r.Orientation)
	}
	if l := r.Lettering; l != nil {
		for _, x := range []struct {
			what string
			f    standards.Formula
		}{{"width of a character, in heights", l.Width}, {"stroke, in heights", l.Stroke}, {"least gap, in widths", l.Gap}} {
			if x.f != "" {
				fmt.Fprintf(w, "  %-34s %s\n", x.what, x.f)
			}
		}
		for _, e := range l.Exceptions {
			how := ""
			if e.AtMost {
				how = "at most "
			}
			fmt.Fprintf(w, "  %-34s %s%s\n", "width of "+e.Character+", in heights", how, e.Width)
		}
	} else {
		values, err := r.Values(nil)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "numbers in %s\n", map[standards.Unit]string{standards.Radius: "radii of the governing disc (R)", standards.Diameter: "governing sizes (D)", standards.Inches: "inches"}[r.Unit])
		for _, v := range values {
			how := ""
			if !r.CanStop(v.Part + "." + v.Name) {
				how = "  from memory"
			}
			fmt.Fprintf(w, "  %-28s %-24s %s%s\n", v.Part+"."+v.Name, v.Formula, v.Text(), how)
		}
	}
	for _, s := range r.Sizes {
		var list []string
		for _, v := range s.Inches {
			list = append(list, geometry.FormatNumber(v, 3))
		}
		fmt.Fprintf(w, "sizes: %s in; %s\n", strings.Join(list, ", "), export.KnownText(s.Provenance))
	}
	if f := r.Fit; f != nil {
		if f.Height != "" {
			fmt.Fprintf(w, "at most %s of the height of the surface\n", f.Height)
		}
		if f.FromTip != "" {
			fmt.Fprintf(w, "on a wing %s of the way from the tip to the fuselage\n", f.FromTip)
		}
		fmt.Fprintf(w, "  %s\n", export.KnownText(f.Provenance))
	}
	for _, p := range r.Places {
		when := ""
		if p.From != "" {
			when += " from " + string(p.From)
		}
		if p.To != "" {
			when += " to " + string(p.To)
		}
		fmt.Fprintf(w, "stood on: %s%s; %s\n", strings.Join(p.Where, ", "), when, export.KnownText(p.Provenance))
	}
	for _, o := range r.Options {
		fmt.Fprintf(w, "reading of %s, default %s: %s\n", o.Name, o.Default, o.Why)
		for _, c := range o.Choices {
			fmt.Fprintf(w, "  %s: %s; %s\n", c.Name, c.Text, export.KnownText(c.Provenance))
		}
	}
	for _, e := range r.Errata {
		fmt.Fprintf(w, "misprint: %s.%s printed %s in %s, corrected by %s; %s\n", e.Part, e.Number, e.Printed, e.PrintedIn, e.CorrectedBy, export.KnownText(e.Provenance))
	}
	for _, d := range r.Dates {
		fmt.Fprintf(w, "also given: %s: %s; %s\n", export.MemoryWords(d.What), d.Also, export.KnownText(d.Provenance))
	}
	fmt.Fprintf(w, "known: %s\n", export.KnownText(r.Provenance))
	for _, m := range r.Provenance.Memory {
		fmt.Fprintf(w, "  from memory, %s confidence: %s\n", m.Confidence, export.MemoryWords(m.What))
	}
	return nil
}

// drawRules writes a card and, where there is one, a figure for each rule.
func drawRules(dir, paper string, rules []*standards.Rule) error {
	on, err := sheet.ParsePaper(paper)
	if err != nil {
		return fmt.Errorf("--paper: %w", err)
	}
	return writeFolder(dir, func() ([]packFile, error) { return ruleFiles(on, rules) })
}

// ruleFiles draws a card and, where there is one, a figure for each rule.
func ruleFiles(on sheet.Paper, rules []*standards.Rule) ([]packFile, error) {
	var files []packFile
	done := map[string]bool{}
	for _, r := range rules {
		name := strings.NewReplacer("/", "-", "@", "-").Replace(ruleID(r))
		if done[name] {
			continue
		}
		done[name] = true
		sheets, err := export.RuleCard(on, r, nil)
		if err != nil {
			return nil, err
		}
		card, err := document(name+".pdf", r.ID, sheets)
		if err != nil {
			return nil, err
		}
		files = append(files, card)
		if r.Lettering == nil {
			figure, err := layouts.InsigniaFigure(r, geometry.Length(standards.NominalSize), nil)
			if err != nil {
				return nil, err
			}
			sheet, err := export.FigureSheet(figure, path.Base(name))
			if err != nil {
				return nil, err
			}
			drawn, err := picture(name+".svg", sheet)
			if err != nil {
				return nil, err
			}
			files = append(files, drawn)
		}
	}
	return files, nil
}
