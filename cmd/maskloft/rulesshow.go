package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"maskloft/export"
	"maskloft/geometry"
	"maskloft/layouts/standards"
)

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

func showRule(w io.Writer, r *standards.Rule) error {
	fmt.Fprintf(w, "%s: %s\n%s\n%s\n", ruleID(r), r.Name, export.RuleSource(r), export.RuleDates(r))
	if r.Orientation != "" {
		fmt.Fprintf(w, "orientation: %s\n", r.Orientation)
	}
	if r.Described != "" {
		fmt.Fprintf(w, "in words: %s\n", r.Described)
	}
	if r.NotDrawn != "" {
		fmt.Fprintf(w, "not drawn: %s\n", r.NotDrawn)
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
	} else if len(r.Parts) > 0 {
		values, err := r.ValuesAt(r.OwnSize(), nil)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "numbers in %s\n", map[standards.Unit]string{standards.Radius: "radii of the governing disc (R)", standards.Diameter: "governing sizes (D)", standards.Inches: "inches"}[r.Unit])
		for _, v := range values {
			fmt.Fprintf(w, "  %-28s %-24s %-12s %s\n", v.Part+"."+v.Name, v.Formula, v.Text(), export.NumberKnown(r.Known(v.Part+"."+v.Name)))
		}
	}
	for _, s := range r.Sizes {
		var list []string
		for _, v := range s.Inches {
			list = append(list, geometry.FormatNumber(v, 3))
		}
		where := ""
		if words := slices.Concat(s.Places, s.Types); len(words) > 0 {
			where = " on " + strings.Join(words, ", ")
		}
		fmt.Fprintf(w, "sizes%s: %s in; %s\n", where, strings.Join(list, ", "), export.KnownText(s.Provenance))
	}
	for _, s := range r.SizesSaid {
		fmt.Fprintf(w, "sizes, in words: %s\n", s)
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
	for _, o := range r.Options {
		fmt.Fprintf(w, "reading of %s, default %s: %s\n", o.Name, o.Default, o.Why)
		for _, c := range o.Choices {
			fmt.Fprintf(w, "  %s: %s; %s\n", c.Name, c.Text, export.KnownText(c.Provenance))
		}
	}
	for _, e := range r.Errata {
		fmt.Fprintf(w, "misprint: %s.%s printed %s in %s, corrected by %s; %s\n", e.Part, e.Number, e.Printed, e.PrintedIn, e.CorrectedBy, export.KnownText(e.Provenance))
	}
	uses, err := standards.UsesOf(r)
	if err != nil {
		return err
	}
	for _, u := range uses {
		fmt.Fprintf(w, "use: %s\n", export.UseText(u))
	}
	for _, d := range r.Disputes {
		fmt.Fprintf(w, "sources differ: %s\n", d)
	}
	for _, n := range r.Notes {
		fmt.Fprintf(w, "note: %s\n", n)
	}
	fmt.Fprintf(w, "known: %s\n", export.KnownText(r.Provenance))
	for _, m := range r.Provenance.Memory {
		fmt.Fprintf(w, "  from memory, %s confidence: %s\n", m.Confidence, export.MemoryWords(m.What))
	}
	return nil
}
