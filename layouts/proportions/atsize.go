package proportions

import (
	"math"
	"slices"

	"maskloft/layouts/standards"
)

// Rules whose numbers hang on the governing size. Where the size is not said the
// drawing must be at true size and tells it.
const (
	nearSize    = 0.05  // of a size: what a governing circle may differ from the one tried
	ownScale    = 0.8   // of the score at any scale: so good, and a drawing is at true size
	sizesTried  = 12    // taken from the longest edges and the circles
	sameSize    = 0.005 // of a size: sizes nearer than this are tried once
	sizeRounds  = 2     // of computing the numbers again at the size found
	unlikelyFar = 1200  // inches: no marking is 100 ft across
)

// hangsOnSize tells whether numbers of the rule, in the unit frame, are others at
// another size.
//
// Errors: those of the rule's values.
func hangsOnSize(rule *standards.Rule, picks []standards.Pick) (bool, error) {
	a, err := valuesOf(rule, picks, standards.NominalSize)
	if err != nil {
		return false, err
	}
	b, err := valuesOf(rule, picks, 2*standards.NominalSize)
	if err != nil {
		return false, err
	}
	for what, v := range a {
		if math.Abs(v-b[what]) > 1e-9 {
			return true, nil
		}
	}
	return false, nil
}

// fitted returns the rule at its best pose, at the size that was said or the one
// that the drawing tells; nil where there is none.
//
// Errors: those of the rule's template.
func fitted(runs []run, rule *standards.Rule, o Options) (*matched, error) {
	hangs, err := hangsOnSize(rule, o.Picks)
	if err != nil {
		return nil, err
	}
	size := standards.NominalSize
	if o.Size > 0 && hangs {
		size = o.Size.Inches()
	}
	if !hangs || o.Size > 0 {
		t, err := templateOf(rule, o.Picks, size)
		if err != nil {
			return nil, err
		}
		m, most := t.best(runs, o)
		if !hangs || rule.Unit != standards.Inches {
			return m, nil
		}
		// Inches are inches: the widths do not grow with the height, unless the
		// drawing is at another scale.
		if n, s := t.atTrueSize().best(runs, o); n != nil && s > ownScale*most {
			return n, nil
		}
		return m, nil
	}
	sizes, err := sizesIn(runs, rule, o)
	if err != nil {
		return nil, err
	}
	var best *matched
	most := 0.0
	try := func(size float64) {
		t, err := templateOf(rule, o.Picks, size)
		if err != nil {
			return // the parts do not fit into each other at that size
		}
		if m, s := t.atTrueSize().best(runs, o); m != nil && s > most*(1+1e-9) {
			best, most = m, s
		}
	}
	for _, s := range sizes {
		try(s)
	}
	for range sizeRounds {
		if best == nil {
			break
		}
		most = 0
		try(best.foundSize())
	}
	return best, nil
}

// foundSize returns the governing size, inches, that a match tells: by its circle,
// or by the median of the numbers that are the size, or half of it.
func (m *matched) foundSize() float64 {
	size := 2 * m.scale
	if m.hasCircles() {
		return size
	}
	var told []float64
	for _, list := range m.dimensions() {
		for _, d := range list {
			if want := d.raw(m.values); !d.exact && d.arm == 0 && isSize(want) {
				told = append(told, size*d.found/want)
			}
		}
	}
	if len(told) == 0 {
		return size
	}
	slices.Sort(told)
	return (told[(len(told)-1)/2] + told[len(told)/2]) / 2
}

// isSize tells whether a number in the unit frame is the governing size or half
// of it, on either side of the centre.
func isSize(v float64) bool {
	v = math.Abs(v)
	return math.Abs(v-1) < 1e-9 || math.Abs(v-2) < 1e-9
}

// sizesIn returns the sizes that circles and long edges of a drawing have if they
// are the rule's.
func sizesIn(runs []run, rule *standards.Rule, o Options) ([]float64, error) {
	t, err := templateOf(rule, o.Picks, standards.NominalSize)
	if err != nil {
		return nil, err
	}
	var out []float64
	put := func(size float64) {
		if size > 0 && size < unlikelyFar && len(out) < sizesTried && !slices.ContainsFunc(out, func(o float64) bool { return math.Abs(size/o-1) < sameSize }) {
			out = append(out, size)
		}
	}
	if t.hasCircles() {
		for _, c := range o.centresOf(runs) {
			for _, l := range c.levels {
				put(2 * l.radius)
			}
		}
		return out, nil
	}
	u, err := templateOf(rule, o.Picks, 2*standards.NominalSize)
	if err != nil {
		return nil, err
	}
	longest := 0.0 // of the edges that grow with the size
	for i, f := range t.features {
		if math.Abs(f.length-u.features[i].length) < 1e-9 && f.sight > 0.5*f.length {
			longest = math.Max(longest, f.length)
		}
	}
	for _, r := range edges(runs) {
		put(2 * r.nodes[0].Dist(r.nodes[len(r.nodes)-1]) / longest)
	}
	return out, nil
}
