package proportions

import (
	"fmt"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// values are the numbers of a rule in the unit frame, by "part.number": lengths
// and radii in governing radii, angles in degrees.
type values map[string]float64

// valuesOf computes the numbers of a rule with the given readings.
func valuesOf(rule *standards.Rule, picks []standards.Pick) (values, error) {
	list, err := rule.Values(picks)
	if err != nil {
		return nil, err
	}
	v := values{}
	for _, x := range list {
		v[x.Part+"."+x.Name] = x.Scaled(rule.Unit, 2)
	}
	return v, nil
}

// feature is one edge that a rule's part has: a circle about the centre, or a
// straight edge from a to b. Unit frame.
type feature struct {
	part   int
	name   string // "bars.top"
	circle bool
	radius float64
	a, b   geometry.Point
	seen   [][2]float64 // stretches, from a, along the edge, that no other part covers
	order  int          // features of one order above 0 are matched across, in their order

	dir    geometry.Vec // from a to b
	length float64
	sight  float64 // length in sight
}

// template is a rule as edges.
type template struct {
	rule     *standards.Rule
	picks    []standards.Pick
	values   values
	features []feature
	byName   map[string]int
	layers   [][][]geometry.Point // of the rule's own drawing, in painter's order
	govern   int                  // the part that gives the size
}

// layerTolerance bounds the chords of the rule's own drawing in the unit frame;
// it serves to tell inside from outside at [sightStep] beside an edge.
const (
	layerTolerance = 1e-4
	sightStep      = 2e-3
	sightPoints    = 64
)

// newTemplate traces the rule's parts.
//
// Errors: a rule for lettering; an option the rule does not have; a kind of part
// without a row in kinds.
func newTemplate(rule *standards.Rule, picks []standards.Pick) (*template, error) {
	t := &template{rule: rule, picks: picks, byName: map[string]int{}}
	var err error
	if t.values, err = valuesOf(rule, picks); err != nil {
		return nil, err
	}
	var options []layouts.OptionChoice
	for _, p := range picks {
		options = append(options, layouts.OptionChoice(p))
	}
	fig, err := layouts.InsigniaFigure(rule, 2*geometry.Inch, options)
	if err != nil {
		return nil, err
	}
	for _, l := range fig.Layers {
		var rings [][]geometry.Point
		for _, c := range l.Outline {
			rings = append(rings, c.Flattened(layerTolerance))
		}
		t.layers = append(t.layers, rings)
	}
	for i, p := range rule.Parts {
		row, ok := kinds[p.Kind]
		if !ok {
			return nil, fmt.Errorf("rule %s: %s: a part of kind %s cannot be measured yet", rule.ID, p.ID, p.Kind)
		}
		row.trace(tracing{template: t, part: i, Part: p})
	}
	t.govern = t.governing()
	for i := range t.features {
		if !t.features[i].circle {
			t.see(&t.features[i])
		}
	}
	return t, nil
}

// governing returns the part whose circle has radius 1, the first of the rule's
// discs if several; -1 for a rule without.
func (t *template) governing() int {
	for i, p := range t.rule.Parts {
		if p.Kind == standards.Disc && math.Abs(t.radiusOf(p)-1) < 1e-9 {
			return i
		}
	}
	return -1
}

// radiusOf returns the radius of a disc, which its rule gives as such or as a
// diameter in D: in the unit frame the same.
func (t *template) radiusOf(p standards.Part) float64 {
	return t.values[p.ID+"."+circleName(p)]
}

func circleName(p standards.Part) string {
	if p.Number("diameter") != "" {
		return "diameter"
	}
	return "radius"
}

// tracing adds the features of one part.
type tracing struct {
	*template
	part int
	standards.Part
}

func (t tracing) get(name string) float64 { return t.values[t.ID+"."+name] }

func (t tracing) circle(name string, radius float64) {
	t.put(feature{part: t.part, name: t.ID + "." + name, circle: true, radius: radius})
}

func (t tracing) edge(name string, a, b geometry.Point, order int) {
	t.put(feature{part: t.part, name: t.ID + "." + name, a: a, b: b, order: order, dir: b.Sub(a).Unit(), length: a.Dist(b)})
}

func (t tracing) put(f feature) {
	t.byName[f.name] = len(t.features)
	t.features = append(t.features, f)
}

// box adds the four edges of a rectangle; edges of one order are matched across.
func (t tracing) box(prefix string, r geometry.Rect, order int) {
	at := func(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }
	t.edge(prefix+"top", at(r.Min.X, r.Max.Y), at(r.Max.X, r.Max.Y), order)
	t.edge(prefix+"bottom", at(r.Min.X, r.Min.Y), at(r.Max.X, r.Min.Y), order)
	t.edge(prefix+"left", at(r.Min.X, r.Min.Y), at(r.Min.X, r.Max.Y), order)
	t.edge(prefix+"right", at(r.Max.X, r.Min.Y), at(r.Max.X, r.Max.Y), order)
}

// polygon adds the edges of a closed polygon, named by prefix and number.
func (t tracing) polygon(prefix string, corners []geometry.Point, order int) {
	for i, a := range corners {
		t.edge(fmt.Sprintf("%s%d", prefix, i), a, corners[(i+1)%len(corners)], order)
	}
}

// covers tells whether q lies in a part of the rule's own drawing.
func (t *template) covers(q geometry.Point) bool {
	return slices.ContainsFunc(t.layers, func(l [][]geometry.Point) bool { return inside(l, q) })
}

// see finds the stretches of an edge in sight: where its own part ends and no
// later part covers both sides.
func (t *template) see(f *feature) {
	length, side := f.length, f.dir.Perp().Scale(sightStep)
	open := false
	for k := range sightPoints {
		q := f.a.Lerp(f.b, (float64(k)+0.5)/sightPoints)
		left, right := q.Add(side), q.Add(side.Scale(-1))
		sees := inside(t.layers[f.part], left) != inside(t.layers[f.part], right)
		for _, l := range t.layers[f.part+1:] {
			sees = sees && !(inside(l, left) && inside(l, right))
		}
		if !sees {
			open = false
			continue
		}
		if !open {
			f.seen, open = append(f.seen, [2]float64{float64(k) / sightPoints * length, 0}), true
		}
		f.seen[len(f.seen)-1][1] = float64(k+1) / sightPoints * length
		f.sight += length / sightPoints
	}
}

// inside tells whether q lies in a layer, by the even-odd rule.
func inside(rings [][]geometry.Point, q geometry.Point) bool {
	in := false
	for _, pts := range rings {
		for i, j := 0, len(pts)-1; i < len(pts); j, i = i, i+1 {
			if (pts[i].Y > q.Y) != (pts[j].Y > q.Y) && q.X < (pts[j].X-pts[i].X)*(q.Y-pts[i].Y)/(pts[j].Y-pts[i].Y)+pts[i].X {
				in = !in
			}
		}
	}
	return in
}
