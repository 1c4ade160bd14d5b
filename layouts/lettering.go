package layouts

import (
	"fmt"
	"strings"

	"maskloft/layouts/standards"
)

// CharactersPart is the part by which the dimensions of lettering are named.
const CharactersPart = "characters"

// LetteringDimensions are the dimensions of a rule for lettering.
var LetteringDimensions = []string{CharactersPart + ".height", CharactersPart + ".width", CharactersPart + ".stroke", CharactersPart + ".gap"}

// Rules returns the published rules that a figure follows or is held against.
func (f Figure) Rules() []*standards.Rule {
	if f.Rule != nil {
		return append([]*standards.Rule{f.Rule}, f.Lettering...)
	}
	return f.Lettering
}

// LetteringRules finds rules for lettering by their ids.
//
// Errors: an id that is not known; a rule that draws an insignia.
func LetteringRules(ids []string) ([]*standards.Rule, error) {
	var out []*standards.Rule
	for _, id := range ids {
		rule, err := standards.Find(id)
		if err != nil {
			return nil, err
		}
		if rule.Lettering == nil {
			return nil, fmt.Errorf("rule %s is for an insignia, not for lettering: write figure: {rule: %s, size: ...}", id, id)
		}
		out = append(out, rule)
	}
	return out, nil
}

// LetteringWords says in one line what lettering is held against; empty where nothing.
func (f Figure) LetteringWords() string {
	var out []string
	for _, r := range f.Lettering {
		out = append(out, r.ID+", "+r.Name)
	}
	return strings.Join(out, "; ")
}
