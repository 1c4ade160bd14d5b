package proportions

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// values are the numbers of a rule in the unit frame, by "part.number": lengths
// and radii in governing radii, angles in degrees.
type values map[string]float64

// valuesOf computes the numbers of a rule at a governing size, inches, with the
// given readings.
func valuesOf(rule *standards.Rule, picks []standards.Pick, size float64) (values, error) {
	list, err := rule.ValuesAt(size, picks)
	if err != nil {
		return nil, err
	}
	v := values{}
	for _, x := range list {
		v[x.Part+"."+x.Name] = inUnit(x, rule.Unit, size)
	}
	return v, nil
}

// inUnit returns a number of a rule in the unit frame.
func inUnit(x standards.Value, unit standards.Unit, size float64) float64 {
	scaled := x.Scaled(unit, size)
	if x.Dimension.IsLength() {
		return scaled / (size / 2)
	}
	return scaled
}

// feature is one edge that a rule's part has: a circle about the centre, or a
// straight edge from a to b. Unit frame.
type feature struct {
	part   int
	name   string // "bars.top"
	circle bool
	radius float64
	a, b   geometry.Point
	seen   [][2]float64 // stretches, from a, along the edge, with another paint on either side
	order  int          // features of one order above 0 are matched across, in their order

	dir    geometry.Vec // from a to b
	length float64
	sight  float64             // length in sight; 0: the edge is not in the drawing
	ends   [][2]geometry.Point // of the edge and of its stretches in sight
	reach  float64             // length of the line that adjoining parts make of it
}

// template is a rule as edges.
type template struct {
	rule     *standards.Rule
	picks    []standards.Pick
	values   values
	features []feature
	byName   map[string]int
	layers   []layer // of the rule's own drawing, in painter's order, one for each part
	govern   int     // feature: the circle that gives the size; -1: none
	size     float64 // governing size, inches, at which the numbers were computed
	fixed    bool    // the numbers hang on the size, which the drawing is to tell
	changes  *changes
}

// layer is what one part of a rule covers.
type layer struct {
	paint string // standards.Unpainted: none
	rings [][]geometry.Point
}

// layerTolerance bounds the chords of the rule's own drawing in the unit frame;
// it serves to tell inside from outside at [sightStep] beside an edge.
const (
	layerTolerance = 1e-4
	sightStep      = 2e-3
	sightPoints    = 64
	circlePoints   = 180
)

// templates keeps the rules traced at the nominal size: all rules are tried on one
// drawing after another. A template is not changed once it is made.
var templates sync.Map

type templateKey struct {
	rule  *standards.Rule
	picks string
	size  float64
}

func keyOf(rule *standards.Rule, picks []standards.Pick, size float64) templateKey {
	return templateKey{rule, fmt.Sprint(picks), size}
}

// templateOf returns the rule's template at a governing size in inches.
//
// Errors: as [newTemplate].
func templateOf(rule *standards.Rule, picks []standards.Pick, size float64) (*template, error) {
	key := keyOf(rule, picks, size)
	if t, ok := templates.Load(key); ok {
		return t.(*template), nil
	}
	t, err := newTemplate(rule, picks, size)
	if err == nil && math.Mod(size, standards.NominalSize) == 0 {
		templates.Store(key, t)
	}
	return t, err
}

// atTrueSize returns the template for a drawing that has its size.
func (t template) atTrueSize() *template {
	t.fixed = true
	return &t
}

// newTemplate traces the rule's parts at a governing size in inches.
//
// Errors: a rule for lettering; an option the rule does not have.
func newTemplate(rule *standards.Rule, picks []standards.Pick, size float64) (*template, error) {
	t := &template{rule: rule, picks: picks, byName: map[string]int{}, size: size}
	var err error
	if t.values, err = valuesOf(rule, picks, size); err != nil {
		return nil, err
	}
	if err := t.paint(); err != nil {
		return nil, err
	}
	t.changes = &changes{}
	if slices.ContainsFunc(rule.Parts, func(p standards.Part) bool { return kindOf(rule, p).drawn }) {
		if t.changes.drawing, err = newRuleDrawing(rule, picks, size); err != nil {
			return nil, err
		}
	}
	for i, p := range rule.Parts {
		kindOf(rule, p).trace(tracing{template: t, part: i, Part: p})
	}
	t.govern = slices.IndexFunc(t.features, func(f feature) bool {
		return f.circle && math.Abs(f.radius-1) < 1e-9 && rule.Parts[f.part].Kind != standards.Border
	})
	for i := range t.features {
		if f := &t.features[i]; f.circle {
			t.seeCircle(f)
		} else {
			t.see(f)
			f.ends = endsOf(*f)
		}
	}
	t.adjoin()
	return t, nil
}

// paint draws the rule. A part that is left out before anything is painted covers
// nothing.
func (t *template) paint() error {
	var options []layouts.OptionChoice
	for _, p := range t.picks {
		options = append(options, layouts.OptionChoice(p))
	}
	fig, err := layouts.InsigniaFigure(t.rule, geometry.Length(t.size), options)
	if err != nil {
		return err
	}
	t.layers = make([]layer, len(t.rule.Parts))
	for _, l := range fig.Layers {
		i := slices.IndexFunc(t.rule.Parts, func(p standards.Part) bool { return p.ID == l.Part })
		t.layers[i].paint = l.Colour
		for _, c := range l.Outline {
			pts := c.Flattened(layerTolerance * t.size / 2)
			for k, q := range pts {
				pts[k] = geometry.Point{}.Add(q.Sub(geometry.Point{}).Scale(2 / t.size))
			}
			t.layers[i].rings = append(t.layers[i].rings, pts)
		}
	}
	return nil
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
	t.put(feature{part: t.part, name: t.ID + "." + name, a: a, b: b, order: order, dir: b.Sub(a).Unit(), length: a.Dist(b), reach: a.Dist(b)})
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
