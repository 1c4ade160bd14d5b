package proportions

import (
	"math"
	"slices"

	"maskloft/layouts/standards"
)

// better returns a rule that the drawing conforms to where a's is not met, or
// leaves less of it unclaimed; nil where none is known.
func (a attempt) better(runs []run, o Options) (*standards.Rule, error) {
	docs, err := standards.Documents()
	if err != nil {
		return nil, err
	}
	var rules []*standards.Rule
	for _, d := range docs {
		rules = append(rules, d.Rules...)
	}
	near, err := nearest(runs, rules, o)
	if err != nil || len(near) == 0 {
		return nil, err
	}
	for _, b := range near {
		// A simpler rule may be met by a part of the drawing: that is no better.
		switch more := b.claimed / math.Max(a.claimed, 1e-12); {
		case !b.whole() || b.Rule == a.Rule:
		case !a.whole() && more > 0.95, more > 1.05:
			return b.Rule, nil
		}
	}
	return nil, nil
}

// nearest returns the rules that are recognised in a drawing, the best first: by how
// much of the outline they explain, numbers that deviate taken off, then by parts
// missing, numbers that deviate, and edges left over. Rules alike in that stay in
// the order given; rules for lettering are passed over.
//
// Errors: those of a rule's values.
func nearest(runs []run, rules []*standards.Rule, o Options) ([]attempt, error) {
	var out []attempt
	alone := Options{Tolerance: o.Tolerance, Until: o.Until, centres: append([]centre{}, centres(runs, centresTried)...)}
	for _, r := range rules {
		if !Measurable(r) || r.Document.Collected && slices.ContainsFunc(r.Parts, func(p standards.Part) bool { return p.LeftOut != "" }) {
			// a drawing of what is painted alone may be one pass of another form
			continue
		}
		a, err := recognise(runs, r, alone)
		if err != nil {
			return nil, err
		}
		if a.known {
			out = append(out, a)
		}
	}
	most := 0.0
	for _, a := range out {
		most = math.Max(most, a.explained)
	}
	slices.SortStableFunc(out, func(a, b attempt) int {
		for _, d := range []int{a.unexplained(most) - b.unexplained(most), len(a.Missing) - len(b.Missing), a.deviating - b.deviating, a.ignored - b.ignored} {
			if d != 0 {
				return d
			}
		}
		return 0
	})
	return out, nil
}

// asMuch is the part of a length of outline in which two rules explain a drawing
// equally: edges in noise, or shared by two parts, are counted no better.
const asMuch = 0.05

// unexplained returns how much less of a drawing a rule explains than the one that
// explains most of it, in steps of asMuch.
func (a attempt) unexplained(most float64) int {
	return int((1 - a.explained/math.Max(most, 1e-12)) / asMuch)
}
