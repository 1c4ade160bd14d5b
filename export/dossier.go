package export

import (
	"bytes"
	"fmt"
	"strings"

	"maskloft/export/sheet"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// Dossier writes the record of the job as Markdown: what was decided and why, per
// marking its rule, readings and evidence, the paints with their standards, what is
// known only from memory or guessed, and what was found.
//
// Texts of the layout are escaped: see [sheet.Markdown].
func Dossier(l *layouts.Layout, findings []layouts.Finding) []byte {
	var b bytes.Buffer
	s, md, u := l.Spec, sheet.Markdown, l.Spec.Sheets.Units
	fmt.Fprintf(&b, "# Dossier: %s\n\n%s\n\nFrame: %s\n\n", md(s.Name), md(s.Aircraft.Name), md(s.Aircraft.Datum))
	if s.Rules.Date != "" || s.Rules.Nation != "" {
		fmt.Fprintf(&b, "Markings as of %s\n\n", strings.TrimSuffix(s.Rules.Date+", "+s.Rules.Nation, ", "))
	}
	known := map[string]layouts.EvidenceSpec{}
	for _, e := range s.Evidence {
		known[e.ID] = e
	}
	for i := range s.Markings {
		m := &s.Markings[i]
		fmt.Fprintf(&b, "## %s\n\n", m.ID)
		placed := l.Of(m.ID)
		if len(placed) > 0 {
			dossierFigure(&b, placed[0], m.Figure)
		}
		fmt.Fprintf(&b, "- place: %s, side %s, lengths true %s\n", md(strings.Join(m.Where.Surfaces, " and ")), m.Where.Side, m.True)
		for _, p := range placed {
			name := p.Side.String()
			if p.Marking.ID != m.ID { // a piece of a band or a line
				name = p.ID()
			}
			fmt.Fprintf(&b, "- %s: held point at %s\n", name, u.Position(p.Anchor))
		}
		for _, id := range m.Evidence {
			fmt.Fprintf(&b, "- evidence %s, class %s: %s\n", md(id), known[id].Class, md(known[id].What))
		}
		if len(m.Evidence) == 0 {
			b.WriteString("- evidence: none on file: this is a guess\n")
		}
		b.WriteString("\n")
	}
	if readings := layouts.Readings(l); len(readings) > 0 {
		b.WriteString("## How texts read\n\nThe left side reads from the nose, the right side from the tail; characters are never mirrored.\n\n")
		for _, r := range readings {
			fmt.Fprintf(&b, "- %s\n", md(fmt.Sprint(r)))
		}
		b.WriteString("\n")
	}
	b.WriteString("## Paints\n\n")
	for _, c := range s.Paint.Colours {
		standard := c.Standard
		if standard == "" {
			standard = "no standard named"
		}
		fmt.Fprintf(&b, "- %s: %s, %s. Match the chip, not the picture.\n", md(c.ID), md(c.Name), md(standard))
	}
	b.WriteString("\n## Evidence on file\n\n")
	if len(s.Evidence) == 0 {
		b.WriteString("None.\n")
	}
	for _, e := range s.Evidence {
		fmt.Fprintf(&b, "- %s, class %s: %s\n", md(e.ID), e.Class, md(e.What))
	}
	b.WriteString("\nClasses (common practice, no source): E1 original paint on this airframe, E2 drawing or order in force, E3 measured photograph of this airframe, E4 sister ship, E5 habit of the unit or type, E6 inferred from a nominal size, E7 guess.\n\n## Findings\n\n")
	if len(findings) == 0 {
		b.WriteString("None.\n")
	}
	for _, f := range findings {
		fmt.Fprintf(&b, "- %s: %s: %s (source: %s)\n", f.Level, f.Kind(), md(f.Message), md(f.Source))
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
		return "the day it ended"
	}
	if part, number, ok := strings.Cut(what, "."); ok {
		return number + " of the " + part
	}
	return what
}

// dossierFigure says what is drawn, and by which rule.
func dossierFigure(b *bytes.Buffer, p layouts.Placement, f layouts.FigureSpec) {
	md, u := sheet.Markdown, p.Read
	switch rule := p.Figure.Rule; {
	case rule != nil:
		size := "size " + u.Length(f.Size, 4)
		if f.Size == 0 {
			size = "as large as its surface"
		}
		fmt.Fprintf(b, "- figure: rule %s, %s, %s\n- rule: %s; %s\n- source: %s\n", rule.ID, md(rule.Name), size, md(RuleSource(rule)), md(RuleDates(rule)), md(KnownText(rule.Provenance)))
		var picks []standards.Pick
		for _, o := range rule.Options {
			taken := o.Default + " (default: " + o.Why + ")"
			for _, pick := range f.Options {
				if pick.Option == o.Name {
					taken = pick.Choice
					picks = append(picks, standards.Pick(pick))
				}
			}
			fmt.Fprintf(b, "- reading of %s: %s\n", md(o.Name), md(taken))
		}
		for _, d := range p.Figure.Dimensions {
			at, name := u.Length(d.Length, 4), d.Name // of a circle its radius
			switch name {
			case "diameter":
				at = u.Length(2*d.Length, 4)
			case "outer", "inner":
				name += " radius"
			}
			if f.Size == 0 {
				at = "= " + string(d.Formula)
			}
			fmt.Fprintf(b, "- number: %s\n", md(MemoryWords(d.Part+"."+name)+" "+at+", "+NumberKnown(rule.Known(d.Part+"."+d.Name, picks...))))
		}
		for _, m := range rule.Provenance.Memory {
			if !strings.Contains(m.What, ".") { // numbers stand above
				fmt.Fprintf(b, "- from memory, %s confidence: %s\n", m.Confidence, md(MemoryWords(m.What)))
			}
		}
	case f.Text != "":
		fmt.Fprintf(b, "- figure: text %s, alphabet %s, %s high\n", md(fmt.Sprintf("%q", f.Text)), md(f.Alphabet), u.Length(f.Height, 4))
		for _, r := range p.Figure.Lettering {
			fmt.Fprintf(b, "- held against: rule %s, %s; %s; %s; %s\n", r.ID, md(r.Name), md(RuleSource(r)), md(RuleDates(r)), md(KnownText(r.Provenance)))
		}
		if s := p.Figure.Setting; s != nil && s.Licence != nil {
			fmt.Fprintf(b, "- licence of the font: %s\n", md(fmt.Sprint(s.Licence)))
		}
	default:
		fmt.Fprintf(b, "- figure: %s; no rule was followed\n", md(figureWords(f)))
	}
}

// figureWords names the kind of a figure that follows no rule and is no text.
func figureWords(f layouts.FigureSpec) string {
	switch {
	case f.Drawing != nil:
		return "the drawing " + f.Drawing.File
	case f.Stripes != nil:
		return geometry.Counted(len(f.Stripes.Strips), "stripe")
	case f.Band != nil:
		return "a band of " + geometry.Counted(len(f.Band.Strips), "strip")
	case f.Line != nil:
		return "a line through " + geometry.Counted(len(f.Line.Points), "point")
	case len(f.Shapes) > 0:
		return geometry.Counted(len(f.Shapes), "plain shape")
	}
	return geometry.Counted(len(f.Discs), "plain disc")
}
