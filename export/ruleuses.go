package export

import (
	"fmt"
	"strings"

	"maskloft/export/sheet"
	"maskloft/layouts/standards"
)

// ruleColours prints what is known of the paint of each role of a rule, with standards
// of its time alone.
func ruleColours(p *sheet.Pages, rule *standards.Rule) error {
	palette, err := standards.Palette()
	if err != nil {
		return err
	}
	until := standards.Date("") // the last day on which the form stood
	if s, ok := rule.Stood(); ok && !s.Open {
		until = s.To
	}
	headed := false
	for _, c := range palette {
		var parts []string
		for _, part := range rule.Parts {
			if part.Colour == c.Role {
				parts = append(parts, part.ID)
			}
		}
		if len(parts) == 0 {
			continue
		}
		if !headed {
			p.Heading("Colours", 0.4)
			headed = true
		}
		standard := c.StandardAt(until)
		if standard == "" {
			standard = "no standard known for its time"
		}
		p.Bullet(sheet.SetBody, "–", fmt.Sprintf("%s: %s; %s; picture only %s", strings.Join(parts, ", "), c.Name, standard, strings.ToLower(c.Hex)), 0.14)
	}
	return nil
}

// ruleUses prints where and when the form stood.
func ruleUses(p *sheet.Pages, rule *standards.Rule) error {
	uses, err := standards.UsesOf(rule)
	if err != nil || len(uses) == 0 {
		return err
	}
	p.Heading("Where and when", 0.4)
	for _, u := range uses {
		p.Bullet(sheet.SetBody, "–", UseText(u), 0.14)
	}
	return nil
}

// UseText says in one line where and when a form stood, and how that is known.
func UseText(u *standards.Use) string {
	scope := append([]string{u.Nation}, u.Services...)
	places := u.Places
	if len(places) == 0 {
		places = []string{"any place"}
	}
	for _, w := range append(append([]string{}, u.Finishes...), u.Types...) {
		scope = append(scope, "on "+w)
	}
	s := fmt.Sprintf("%s; %s; %s", strings.Join(places, ", "), strings.Join(scope, ", "), u.DatesText())
	if u.Role != standards.Usual {
		s += "; " + string(u.Role)
	}
	return s + "; " + KnownText(u.Provenance)
}
