package proportions

import (
	"errors"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// Film is what was found of one paint of a rule on a film to cut.
type Film struct {
	*Inspection
	Paint string          // role of the paint
	Slack geometry.Length // edges were held to within this, where the paint runs under others; 0: to the tolerances
}

// filmSlack is how far edges of a film may lie out where its paint runs under those
// sprayed later: a trap of 1/16 in moves the point of a star by that over the sine of 18
// degrees, and the radius that all is measured by with it.
const filmSlack = 0.3

// InspectFilm holds the outlines of a film, which has one paint of several, against a
// rule: the parts of the other paints are taken as not painted, so that the edges in
// sight are those of the one. Of the rule's paints that one is taken of which least
// deviates. A paint that runs under others is held to within the slack alone.
//
// Errors: as [Inspect], of the paint that fits best.
func InspectFilm(drawing []Drawn, rule *standards.Rule, o Options) (*Film, error) {
	var best *Film
	var failed error
	least, most := math.MaxInt, geometry.Length(0)
	for _, paint := range paintsOfRule(rule) {
		in, err := Inspect(drawing, rule.OfPaint(paint), o)
		var none *NotRecognised
		if errors.As(err, &none) {
			if failed == nil {
				none.Rule, none.Better, failed = rule, nil, none
			}
			continue
		}
		if err != nil {
			return nil, err
		}
		for _, slack := range []geometry.Length{0, filmSlack} {
			f := &Film{Inspection: in, Paint: paint, Slack: slack}
			n, claimed := f.allow(), geometry.Length(0)
			for _, r := range in.Found {
				r.Rule = rule
				claimed += geometry.Length(r.Claimed)
			}
			if slack > 0 {
				n++ // one that needs no slack goes before
			}
			if n < least || n == least && claimed > most {
				best, least, most = f, n, claimed
			}
		}
	}
	if best == nil {
		return nil, failed
	}
	best.settle()
	best.Film = true
	return best, nil
}

// allow counts the checks that deviate by more than the slack.
func (f *Film) allow() int {
	n := 0
	for _, r := range f.Found {
		for _, c := range r.Checks {
			if c.deviates() && !f.within(c) {
				n++
			}
		}
	}
	return n
}

// within tells whether a check of a place or a length is off by no more than the slack.
func (f *Film) within(c Check) bool {
	switch {
	case f.Slack == 0 || c.Name == OutlineCheck || c.absent():
		return false
	case c.Name == ExtraCheck: // edges between the trap and what it runs under
		return true
	}
	return math.Abs(c.Difference.Inches()) <= f.Slack.Inches()
}

// settle takes off what the slack allows.
func (f *Film) settle() {
	for _, r := range f.Found {
		r.Checks = slices.DeleteFunc(r.Checks, func(c Check) bool { return c.Said != "" && c.deviates() && f.within(c) })
		for i := range r.Checks {
			c := &r.Checks[i]
			if c.Verdict == Following || c.deviates() && f.within(*c) {
				c.Verdict, c.Follows, c.Hint = Conforms, "", ""
				c.Tolerance = max(c.Tolerance, f.Slack)
			}
		}
	}
}

// paintsOfRule returns the roles of the parts that are painted, in their order.
func paintsOfRule(rule *standards.Rule) []string {
	var out []string
	for _, p := range rule.Parts {
		if p.Colour != standards.Unpainted && !slices.Contains(out, p.Colour) {
			out = append(out, p.Colour)
		}
	}
	return out
}
