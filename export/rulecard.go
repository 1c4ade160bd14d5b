package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// RuleCard draws a rule for the dossier: the figure, what every number is and how
// it is known, readings, errata, dates and sources. Picks are the readings taken.
//
// Errors: a pick the rule does not have.
func RuleCard(paper sheet.Paper, rule *standards.Rule, picks []layouts.OptionChoice) ([]sheet.Sheet, error) {
	p := sheet.NewPages(paper, rule.ID)
	p.Text(sheet.SetTitle, rule.Name)
	p.Text(sheet.SetSoft, RuleSource(rule))
	p.Text(sheet.SetBody, RuleDates(rule))
	switch {
	case rule.InWords():
		p.Text(sheet.SetBody, "Known in words only, not drawn ("+rule.NotDrawn+"): "+rule.Described)
	case rule.Lettering == nil:
		fig, err := layouts.InsigniaFigure(rule, g.Length(rule.OwnSize()), picks)
		if err != nil {
			return nil, err
		}
		items, err := figureIn(fig, p.Block(3.3).Grown(-0.15))
		if err != nil {
			return nil, err
		}
		p.Draw(items...)
		if err := ruleNumbers(p, rule, picks); err != nil {
			return nil, err
		}
	default:
		letteringNumbers(p, rule)
	}
	ruleSizes(p, rule)
	ruleReadings(p, rule)
	for _, e := range rule.Errata {
		p.Heading("Misprint", 0.3)
		p.Text(sheet.SetBody, fmt.Sprintf("%s of %s: %s printed %s; %s corrected it. %s", e.Number, e.Part, e.PrintedIn, e.Printed, e.CorrectedBy, KnownText(e.Provenance)))
	}
	if err := ruleColours(p, rule); err != nil {
		return nil, err
	}
	if err := ruleUses(p, rule); err != nil {
		return nil, err
	}
	p.Heading("How it is known", 0.3)
	p.Text(sheet.SetBody, KnownText(rule.Provenance))
	for _, d := range rule.Disputes {
		p.Bullet(sheet.SetBody, "–", "sources differ: "+d, 0.14)
	}
	for _, m := range rule.Provenance.Memory {
		p.Bullet(sheet.SetBody, "–", fmt.Sprintf("%s: from memory, %s confidence: a mismatch is a note", MemoryWords(m.What), m.Confidence), 0.14)
	}
	return p.Sheets(), nil
}

// figureIn draws the regions of a figure, filled, in the middle of a box.
func figureIn(fig layouts.Figure, box g.Rect) ([]sheet.Item, error) {
	regions, err := fig.Regions()
	if err != nil {
		return nil, err
	}
	_, place := sheet.Fitted(fig.Bounds(), box, math.Inf(1))
	var out []sheet.Item
	for _, r := range regions {
		out = append(out, sheet.Item{Path: r.Outline.Map(place), Ink: sheet.Ink{Fill: roleHex(r.Colour), Stroke: "#1a1a1a", Width: 0.006}})
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
	if r.Document.Collected {
		return r.Document.Title + ": " + KnownText(r.Provenance)
	}
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

// NumberKnown says in a few words how a number is known, and what a mismatch with it
// may do.
func NumberKnown(p standards.Provenance) string {
	s := p.Class()
	if p.Confidence != "" && (p.Confidence != "high" || p.Kind == standards.Memory) {
		s += ", " + p.Confidence
	}
	return s + ": " + p.Force().Text()
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

func ruleNumbers(p *sheet.Pages, rule *standards.Rule, picks []layouts.OptionChoice) error {
	var taken []standards.Pick
	for _, o := range picks {
		taken = append(taken, standards.Pick(o))
	}
	values, err := rule.ValuesAt(rule.OwnSize(), taken)
	if err != nil {
		return err
	}
	p.Heading("Numbers, in "+unitWords[rule.Unit], 0.6)
	t := sheet.Table{Columns: []sheet.Column{{Head: "part", Share: 1.3, Align: 0}, {Head: "number", Share: 1.2, Align: 0}, {Head: "as written", Share: 2, Align: 0}, {Head: "value", Share: 1, Align: 1}, {Head: "known", Share: 1.3, Align: 0}}}
	last := ""
	for _, v := range values {
		part := ""
		if v.Part != last {
			part, last = v.Part, v.Part
		}
		known := NumberKnown(rule.Known(v.Part+"."+v.Name, taken...))
		t.Rows = append(t.Rows, sheet.Words(part, v.Name, string(v.Formula), v.Text(), known))
	}
	p.Table(t)
	return nil
}

var unitWords = map[standards.Unit]string{
	standards.Radius: "radii of the governing disc", standards.Diameter: "diameters of the governing disc", standards.Height: "heights of a character",
	standards.Inches: "inches",
}

func letteringNumbers(p *sheet.Pages, rule *standards.Rule) {
	l := rule.Lettering
	if l.Width == "" && l.Stroke == "" && l.Gap == "" {
		return
	}
	p.Heading("Proportions, in heights of a character", 0.6)
	t := sheet.Table{Columns: []sheet.Column{{Head: "what", Share: 2, Align: 0}, {Head: "as written", Share: 2, Align: 0}}}
	for _, x := range []struct {
		what string
		f    standards.Formula
	}{{"width of a character", l.Width}, {"stroke", l.Stroke}, {"least gap, in widths", l.Gap}} {
		if x.f != "" {
			t.Rows = append(t.Rows, sheet.Words(x.what, string(x.f)))
		}
	}
	for _, e := range l.Exceptions {
		how := string(e.Width)
		if e.AtMost {
			how = "up to " + how
		}
		t.Rows = append(t.Rows, sheet.Words("width of "+e.Character, how))
	}
	p.Table(t)
}

// ruleSizes prints what sizes a document offers and how a marking fits.
func ruleSizes(p *sheet.Pages, rule *standards.Rule) {
	if len(rule.Sizes) == 0 && rule.Fit == nil {
		return
	}
	p.Heading("Sizes", 0.4)
	for _, s := range rule.Sizes {
		var list []string
		for _, v := range s.Inches {
			list = append(list, g.FormatNumber(v, 3))
		}
		where := ""
		if words := slices.Concat(s.Places, s.Types); len(words) > 0 {
			where = " on " + strings.Join(words, ", ")
		}
		p.Bullet(sheet.SetBody, "–", fmt.Sprintf("%s in%s. %s", strings.Join(list, ", "), where, KnownText(s.Provenance)), 0.14)
	}
	if f := rule.Fit; f != nil {
		how := []string{}
		if f.Height != "" {
			how = append(how, fmt.Sprintf("at most %s of the height of the surface", f.Height))
		}
		if f.FromTip != "" {
			how = append(how, fmt.Sprintf("on a wing %s of the way from the tip to the fuselage", f.FromTip))
		}
		p.Bullet(sheet.SetBody, "–", fmt.Sprintf("%s. %s", strings.Join(how, "; "), KnownText(f.Provenance)), 0.14)
	}
}

func ruleReadings(p *sheet.Pages, rule *standards.Rule) {
	for _, o := range rule.Options {
		p.Heading("Reading: "+o.Name, 0.5)
		p.Text(sheet.SetBody, fmt.Sprintf("default %s: %s", o.Default, o.Why))
		for _, c := range o.Choices {
			p.Bullet(sheet.SetBody, "–", fmt.Sprintf("%s: %s. %s", c.Name, c.Text, KnownText(c.Provenance)), 0.14)
		}
	}
}

// FigureSheet draws a figure alone, at its size, one region a paint.
func FigureSheet(fig layouts.Figure, title string) (sheet.Sheet, error) {
	regions, err := fig.Regions()
	if err != nil {
		return sheet.Sheet{}, err
	}
	const margin = 1.0
	b := fig.Bounds().Grown(margin)
	s := sheet.Sheet{Title: title, Width: b.Width(), Height: b.Height()}
	for _, r := range regions {
		s.Layers = append(s.Layers, sheet.Layer{Name: r.Colour, Items: []sheet.Item{{
			ID: r.Colour, Path: r.Outline.Moved(g.Vec{X: -b.Min.X, Y: -b.Min.Y}), Ink: sheet.Ink{Fill: roleHex(r.Colour), Stroke: "#1a1a1a", Width: 0.02},
		}}})
	}
	return s, nil
}
