package export

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// RuleCard draws a rule for the dossier: the figure, what every number is and how
// it is known, readings, errata, dates and sources. Picks are the readings taken.
//
// Errors: a pick the rule does not have.
func RuleCard(paper Paper, rule *standards.Rule, picks []layouts.OptionChoice) ([]Sheet, error) {
	p := newPages(paper, rule.ID)
	p.text(setTitle, rule.Name)
	p.text(setSoft, RuleSource(rule))
	p.text(setBody, RuleDates(rule))
	switch {
	case rule.InWords():
		p.text(setBody, "Known in words only, not drawn ("+rule.NotDrawn+"): "+rule.Described)
	case rule.Lettering == nil:
		fig, err := layouts.InsigniaFigure(rule, 20*g.Inch, picks)
		if err != nil {
			return nil, err
		}
		items, err := figureIn(fig, p.block(3.3).Grown(-0.15))
		if err != nil {
			return nil, err
		}
		p.draw(items...)
		if err := p.ruleNumbers(rule, picks); err != nil {
			return nil, err
		}
	default:
		p.letteringNumbers(rule)
	}
	p.ruleSizes(rule)
	p.ruleReadings(rule)
	for _, e := range rule.Errata {
		p.heading("Misprint", 0.3)
		p.text(setBody, fmt.Sprintf("%s of %s: %s printed %s; %s corrected it. %s", e.Number, e.Part, e.PrintedIn, e.Printed, e.CorrectedBy, KnownText(e.Provenance)))
	}
	p.heading("How it is known", 0.3)
	p.text(setBody, KnownText(rule.Provenance))
	for _, m := range rule.Provenance.Memory {
		p.bullet(setBody, "–", fmt.Sprintf("%s: from memory, %s confidence: may warn, never stop", MemoryWords(m.What), m.Confidence), 0.14)
	}
	return p.Sheets(), nil
}

// figureIn draws the regions of a figure, filled, in the middle of a box.
func figureIn(fig layouts.Figure, box g.Rect) ([]Item, error) {
	regions, err := fig.Regions()
	if err != nil {
		return nil, err
	}
	_, place := fitted(fig.Bounds(), box, math.Inf(1))
	var out []Item
	for _, r := range regions {
		out = append(out, Item{Path: r.Outline.Map(place), Ink: Ink{Fill: roleHex(r.Colour), Stroke: "#1a1a1a", Width: 0.006}})
	}
	return out, nil
}

// roleHex is the colour of a role for pictures, grey where none was read.
func roleHex(role string) string {
	palette, err := standards.Palette()
	if err == nil {
		for _, c := range palette {
			if c.Role == role && c.Hex != "" {
				return strings.ToLower(c.Hex)
			}
		}
	}
	return "#9aa0a3"
}

// RuleSource names the document of a rule: title, revision and clause.
func RuleSource(r *standards.Rule) string {
	s := r.Document.Title
	if words := strings.ReplaceAll(r.Document.Revision, "-", " "); words != "" && !strings.Contains(strings.ToLower(s), words) {
		s += ", " + words
	}
	if r.Clause != "" {
		s += ", " + r.Clause
	}
	return s
}

// RuleDates says from when to when a form is known to have stood, at any place.
func RuleDates(r *standards.Rule) string {
	s, ok := r.Stood()
	if !ok {
		return "no use of it is known"
	}
	return "stood " + s.Text()
}

// KnownText says how something is known, in words.
func KnownText(p standards.Provenance) string {
	s := ""
	switch p.Kind {
	case standards.Read:
		s = "read, " + map[string]string{"official": "official text", "copy": "copy of an official text", "secondary": "secondary work", "tertiary": "tertiary page"}[p.Grade]
		if p.Confidence != "" && p.Confidence != "high" {
			s += ", " + p.Confidence + " confidence"
		}
	case standards.Memory:
		s = "from memory, " + p.Confidence + " confidence"
	default:
		s = string(p.Kind)
	}
	if p.Where != "" {
		s += ": " + p.Where
	}
	if p.Note != "" {
		s += " (" + p.Note + ")"
	}
	return s
}

func (p *pages) ruleNumbers(rule *standards.Rule, picks []layouts.OptionChoice) error {
	var taken []standards.Pick
	for _, o := range picks {
		taken = append(taken, standards.Pick(o))
	}
	values, err := rule.Values(taken)
	if err != nil {
		return err
	}
	p.heading("Numbers, in "+unitWords[rule.Unit], 0.6)
	t := table{columns: []column{{"part", 1.3, 0}, {"number", 1.2, 0}, {"as written", 2, 0}, {"value", 1, 1}, {"known", 1.3, 0}}}
	last := ""
	for _, v := range values {
		part := ""
		if v.Part != last {
			part, last = v.Part, v.Part
		}
		known := "read or derived"
		if !rule.CanStop(v.Part + "." + v.Name) {
			known = "from memory"
		}
		t.rows = append(t.rows, words(part, v.Name, string(v.Formula), v.Text(), known))
	}
	p.table(t)
	return nil
}

var unitWords = map[standards.Unit]string{
	standards.Radius: "radii of the governing disc", standards.Diameter: "diameters of the governing disc", standards.Height: "heights of a character",
	standards.Inches: "inches",
}

func (p *pages) letteringNumbers(rule *standards.Rule) {
	l := rule.Lettering
	if l.Width == "" && l.Stroke == "" && l.Gap == "" {
		return
	}
	p.heading("Proportions, in heights of a character", 0.6)
	t := table{columns: []column{{"what", 2, 0}, {"as written", 2, 0}}}
	for _, x := range []struct {
		what string
		f    standards.Formula
	}{{"width of a character", l.Width}, {"stroke", l.Stroke}, {"least gap, in widths", l.Gap}} {
		if x.f != "" {
			t.rows = append(t.rows, words(x.what, string(x.f)))
		}
	}
	for _, e := range l.Exceptions {
		how := string(e.Width)
		if e.AtMost {
			how = "up to " + how
		}
		t.rows = append(t.rows, words("width of "+e.Character, how))
	}
	p.table(t)
}

// ruleSizes prints what sizes a document offers and how a marking fits.
func (p *pages) ruleSizes(rule *standards.Rule) {
	if len(rule.Sizes) == 0 && rule.Fit == nil {
		return
	}
	p.heading("Sizes", 0.4)
	for _, s := range rule.Sizes {
		var list []string
		for _, v := range s.Inches {
			list = append(list, g.FormatNumber(v, 3))
		}
		p.bullet(setBody, "–", fmt.Sprintf("%s in. %s", strings.Join(list, ", "), KnownText(s.Provenance)), 0.14)
	}
	if f := rule.Fit; f != nil {
		how := []string{}
		if f.Height != "" {
			how = append(how, fmt.Sprintf("at most %s of the height of the surface", f.Height))
		}
		if f.FromTip != "" {
			how = append(how, fmt.Sprintf("on a wing %s of the way from the tip to the fuselage", f.FromTip))
		}
		p.bullet(setBody, "–", fmt.Sprintf("%s. %s", strings.Join(how, "; "), KnownText(f.Provenance)), 0.14)
	}
}

func (p *pages) ruleReadings(rule *standards.Rule) {
	for _, o := range rule.Options {
		p.heading("Reading: "+o.Name, 0.5)
		p.text(setBody, fmt.Sprintf("default %s: %s", o.Default, o.Why))
		for _, c := range o.Choices {
			p.bullet(setBody, "–", fmt.Sprintf("%s: %s. %s", c.Name, c.Text, KnownText(c.Provenance)), 0.14)
		}
	}
}

// FigureSheet draws a figure alone, at its size, one region a paint.
func FigureSheet(fig layouts.Figure, title string) (Sheet, error) {
	regions, err := fig.Regions()
	if err != nil {
		return Sheet{}, err
	}
	const margin = 1.0
	b := fig.Bounds().Grown(margin)
	s := Sheet{Title: title, Width: b.Width(), Height: b.Height()}
	for _, r := range regions {
		s.Layers = append(s.Layers, Layer{Name: r.Colour, Items: []Item{{
			ID: r.Colour, Path: r.Outline.Moved(g.Vec{X: -b.Min.X, Y: -b.Min.Y}), Ink: Ink{Fill: roleHex(r.Colour), Stroke: "#1a1a1a", Width: 0.02},
		}}})
	}
	return s, nil
}
