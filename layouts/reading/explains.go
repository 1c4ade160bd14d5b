package reading

import (
	"slices"
	"strings"

	"maskloft/layouts"
	"maskloft/layouts/document"
	"maskloft/layouts/standards"
)

// explains reads dimension: [evidence]. Where the marking follows a known rule
// the dimensions must be its own.
func (r *layoutReader) explains(v value, figure layouts.FigureSpec) []layouts.Explained {
	if !v.Written() {
		return nil
	}
	if figure.Rule == "" && len(figure.As) == 0 && (figure.Text != "" || len(figure.Discs) > 0) {
		v.Fail("take explains out, or write figure: {rule: ..., size: ...}", "explains is for the dimensions of a published rule, and this figure follows none")
		return nil
	}
	known, rule := dimensionNames(figure.Rule), figure.Rule
	if len(figure.As) > 0 {
		known, rule = layouts.LetteringDimensions, figure.As[0]
	}
	var out []layouts.Explained
	list, _ := v.entries()
	for _, e := range list {
		x := layouts.Explained{Dimension: e.key.Text()}
		if len(known) > 0 && x.Dimension != "" && !slices.Contains(known, x.Dimension) {
			hint := "write one of " + strings.Join(known, ", ")
			if k := nearest(x.Dimension, known); k != "" {
				hint = "write " + k
			}
			e.key.Fail(hint, "the rule %s has no dimension %q", rule, document.Shorten(x.Dimension))
		}
		for _, id := range e.value.items("evidence") {
			x.Evidence = append(x.Evidence, r.evidence.refer(id))
		}
		if e.value.IsList() && len(x.Evidence) == 0 {
			e.value.Fail("write "+e.key.Name+": [E-1]", "%s names no evidence", document.Shorten(e.key.Name))
		}
		out = append(out, x)
	}
	return out
}

// dimensionNames returns the dimensions of a rule in its order, each part before
// its numbers; none for a rule that is not known, which is reported elsewhere.
func dimensionNames(id string) []string {
	rule, err := standards.Find(id)
	if err != nil {
		return nil
	}
	out := []string{"size"}
	for _, p := range rule.Parts {
		out = append(out, p.ID)
		for _, n := range p.Numbers {
			out = append(out, p.ID+"."+n.Name)
		}
	}
	return out
}
