package export

import (
	"bytes"
	"fmt"
	"strings"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Dossier writes the record of the job as Markdown: what was decided and why, per
// marking its rule, readings and evidence, the paints with their standards, what is
// known only from memory or guessed, and what was found.
func Dossier(l *layouts.Layout, findings []layouts.Finding) []byte {
	var b bytes.Buffer
	s := l.Spec
	fmt.Fprintf(&b, "# Dossier: %s\n\n%s\n\nFrame: %s\n\n", s.Name, s.Aircraft.Name, s.Aircraft.Datum)
	if s.Rules.Date != "" || s.Rules.Nation != "" {
		fmt.Fprintf(&b, "Target: %s\n\n", strings.TrimSpace("as of "+s.Rules.Date+", "+s.Rules.Nation))
	}
	known := map[string]layouts.EvidenceSpec{}
	for _, e := range s.Evidence {
		known[e.ID] = e
	}
	for i := range s.Markings {
		m := &s.Markings[i]
		fmt.Fprintf(&b, "## %s\n\n", m.ID)
		for _, p := range l.Placed {
			if p.Marking == m {
				dossierFigure(&b, p)
				break
			}
		}
		fmt.Fprintf(&b, "- place: %s, side %s, lengths true %s\n", strings.Join(m.Where.Surfaces, " and "), m.Where.Side, m.True)
		for _, p := range l.Placed {
			if p.Marking == m {
				fmt.Fprintf(&b, "- %s: anchor at %v\n", p.Side, p.Anchor)
			}
		}
		for _, id := range m.Evidence {
			fmt.Fprintf(&b, "- evidence %s, class %s: %s\n", id, known[id].Class, known[id].What)
		}
		if len(m.Evidence) == 0 {
			b.WriteString("- evidence: none on file. A guess stays a guess until there is some.\n")
		}
		b.WriteString("\n")
	}
	if readings := layouts.Readings(l); len(readings) > 0 {
		b.WriteString("## How texts read\n\nThe left side reads from the nose, the right side from the tail; characters are never mirrored.\n\n")
		for _, r := range readings {
			fmt.Fprintf(&b, "- %s\n", r)
		}
		b.WriteString("\n")
	}
	b.WriteString("## Paints\n\n")
	for _, c := range s.Paint.Colours {
		standard := c.Standard
		if standard == "" {
			standard = "no standard named"
		}
		fmt.Fprintf(&b, "- %s: %s, %s. The chip governs, not the picture.\n", c.ID, c.Name, standard)
	}
	b.WriteString("\n## Evidence on file\n\n")
	if len(s.Evidence) == 0 {
		b.WriteString("None.\n")
	}
	for _, e := range s.Evidence {
		fmt.Fprintf(&b, "- %s, class %s: %s\n", e.ID, e.Class, e.What)
	}
	b.WriteString("\nClasses (common practice, no source): E1 original paint on this airframe, E2 drawing or order in force, E3 measured photograph of this airframe, E4 sister ship, E5 habit of the unit or type, E6 inferred from a nominal size, E7 guess.\n\n## Findings\n\n")
	if len(findings) == 0 {
		b.WriteString("None.\n")
	}
	for _, f := range findings {
		fmt.Fprintf(&b, "- %s: %s: %s (source: %s)\n", f.Level, f.Rule, f.Message, f.Source)
	}
	b.WriteString("\n## Cautions\n\n")
	for _, c := range sheet.Cautions {
		fmt.Fprintf(&b, "- %s\n", c)
	}
	return b.Bytes()
}

// MemoryWords says in words which date or number of a rule is meant, such as
// "valid_from" or "stripe.centre".
func MemoryWords(what string) string {
	switch what {
	case "valid_from":
		return "the day it came into force"
	case "valid_to":
		return "the day it ceased"
	}
	if part, number, ok := strings.Cut(what, "."); ok {
		return number + " of the " + part
	}
	return what
}

// dossierFigure says what is drawn, and by which rule.
func dossierFigure(b *bytes.Buffer, p layouts.Placement) {
	f := p.Marking.Figure
	switch rule := p.Figure.Rule; {
	case rule != nil:
		fmt.Fprintf(b, "- figure: rule %s, %s, size %s in\n- rule: %s; %s\n- known: %s\n", rule.ID, rule.Name, g.FormatNumber(f.Size.Inches(), 4), RuleSource(rule), RuleDates(rule), KnownText(rule.Provenance))
		for _, o := range rule.Options {
			taken := o.Default + " (default: " + o.Why + ")"
			for _, pick := range f.Options {
				if pick.Option == o.Name {
					taken = pick.Choice
				}
			}
			fmt.Fprintf(b, "- reading of %s: %s\n", o.Name, taken)
		}
		for _, m := range rule.Provenance.Memory {
			fmt.Fprintf(b, "- from memory, %s confidence: %s\n", m.Confidence, MemoryWords(m.What))
		}
	case f.Text != "":
		fmt.Fprintf(b, "- figure: text %q, alphabet %s, %s in high\n", f.Text, f.Alphabet, g.FormatNumber(f.Height.Inches(), 4))
		for _, r := range p.Figure.Lettering {
			fmt.Fprintf(b, "- held against: rule %s, %s; %s; %s; %s\n", r.ID, r.Name, RuleSource(r), RuleDates(r), KnownText(r.Provenance))
		}
		if s := p.Figure.Setting; s != nil && s.Licence != nil {
			fmt.Fprintf(b, "- licence of the font: %s\n", s.Licence)
		}
	default:
		b.WriteString("- figure: plain discs; no rule was followed\n")
	}
}
