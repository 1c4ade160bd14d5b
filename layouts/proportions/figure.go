package proportions

import (
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// OfFigure holds the outlines of a figure as they come off the film against the
// figure's rule. The regions are what each paint shows; they may be the figure's
// own or come back from a file. Nothing else of the figure but its rule is looked
// at. A figure without a rule has no checks.
//
// Errors: those of [Recognise].
func OfFigure(fig layouts.Figure, regions []layouts.Region, o Options) ([]Check, error) {
	if fig.Rule == nil || !Measurable(fig.Rule) {
		return nil, nil
	}
	var drawing geometry.Path
	for _, r := range regions {
		drawing = append(drawing, r.Outline...)
	}
	rec, err := Recognise(drawing, fig.Rule, o)
	if err != nil {
		return nil, err
	}
	return rec.Checks, nil
}

// Measurable tells whether the parts of a rule can be found in a drawing. Stripes that
// fill a surface cannot: their place hangs on its outline, not on the rule.
func Measurable(r *standards.Rule) bool { return len(r.Parts) > 0 && !r.FollowsField() }

// OptionsOf returns what a layout says of a marking that concerns its
// proportions: size, readings of the rule and evidence.
func OptionsOf(m *layouts.MarkingSpec) Options {
	o := Options{Marking: m.ID, Size: m.Figure.Size, Explains: m.Explains}
	for _, p := range m.Figure.Options {
		o.Picks = append(o.Picks, standards.Pick(p))
	}
	return o
}
