package proportions

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// kindOf returns the row of a part. One that has none of its own in kinds, or is cut to
// another, has its outline for edges, and its numbers are what brings these to where
// they were found.
func kindOf(rule *standards.Rule, p standards.Part) kind {
	row, ok := kinds[p.Kind]
	plain := func(id string) bool {
		q, _ := rule.Part(id)
		return q.Kind == standards.Disc || q.Kind == standards.Bars
	}
	if !ok || len(p.In) > 0 || p.Kind == standards.Border && !slices.ContainsFunc(p.Of, plain) {
		return kind{trace: traceDrawn, measure: measureDrawn, drawn: true}
	}
	return row
}

const (
	leastDrawnEdge = 0.03 // governing radii: shorter edges of an outline tell nothing
	mostDrawnEdges = 80
	drawnFound     = 0.5 // of a part's edges in sight: with fewer it is not in the drawing
	unmoved        = 1e-6
)

// traceDrawn puts the straight edges of a part's outline, and its arcs about the
// centre as circles.
func traceDrawn(t tracing) {
	n := 0
	var radii []float64
	for _, b := range t.outlined().borders {
		switch {
		case b.part != t.part || len(b.samples) == 0 || n >= mostDrawnEdges:
		case b.arc && b.centre.Dist(geometry.Point{}) < sameEdge:
			if !slices.ContainsFunc(radii, func(r float64) bool { return math.Abs(r-b.radius) < sameEdge }) {
				radii = append(radii, b.radius)
				t.circle(fmt.Sprintf("arc%d", len(radii)), b.radius)
			}
		case !b.arc && b.radius == 0 && b.length > leastDrawnEdge:
			t.edge(fmt.Sprintf("edge%d", n), b.a, b.b, alone)
			n++
		}
	}
}

// changes keeps how the edges of a rule move with its numbers.
type changes struct {
	once    sync.Once
	drawing *ruleDrawing
	by      map[string][]feature // features with one number changed, by "part.number"
	steps   map[string]float64
}

// outlined returns the rule's own drawing.
func (t *template) outlined() *ruleDrawing { return t.changes.drawing }

// moved returns the features with one number changed and by how much.
func (t *template) moved(p standards.Part, name string) ([]feature, float64) {
	t.changes.once.Do(func() {
		t.changes.by, t.changes.steps = map[string][]feature{}, map[string]float64{}
		for i, q := range t.rule.Parts {
			if !kindOf(t.rule, q).drawn {
				continue
			}
			for k, n := range q.Numbers {
				rule := changedRule(t.rule, i, k)
				u, err := newTemplate(rule, t.picks, t.size)
				key := q.ID + "." + n.Name
				if err != nil || len(u.features) != len(t.features) {
					continue
				}
				t.changes.by[key], t.changes.steps[key] = u.features, u.values[key]-t.values[key]
			}
		}
	})
	key := p.ID + "." + name
	return t.changes.by[key], t.changes.steps[key]
}

// changedRule returns a rule with one number a thousandth larger.
func changedRule(r *standards.Rule, part, number int) *standards.Rule {
	rule := *r
	rule.Parts = slices.Clone(r.Parts)
	p := &rule.Parts[part]
	p.Numbers = slices.Clone(p.Numbers)
	n := &p.Numbers[number]
	n.Formula = "(" + n.Formula + ") * 1.001 + 0.000001"
	return &rule
}

// measureDrawn measures the numbers of a part by what they do to its edges: least
// squares of all of them over the edges found. Numbers that move no edge in sight are
// left out.
func measureDrawn(m *matched, p standards.Part) []dimension {
	type edge struct {
		feature int
		at      geometry.Point
		n       geometry.Vec
	}
	var edges []edge
	var off []float64
	all, found := 0, 0
	rms := 0.0
	part := slices.IndexFunc(m.rule.Parts, func(q standards.Part) bool { return q.ID == p.ID })
	for i, f := range m.features {
		if f.part != part || f.sight == 0 {
			continue
		}
		all++
		if f.circle {
			if l, ok := m.circles[i]; ok {
				found++
				edges, off, rms = append(edges, edge{i, geometry.Point{}, geometry.Vec{}}), append(off, l.radius-f.radius), math.Max(rms, l.rms)
			}
			continue
		}
		g, ok := m.lines[i]
		if !ok {
			continue
		}
		found++
		rms = math.Max(rms, g.rms)
		n := f.dir.Perp()
		for _, q := range []geometry.Point{f.a, f.b} {
			edges, off = append(edges, edge{i, q, n}), append(off, n.Dot(g.foot(q).Sub(q)))
		}
	}
	if all == 0 || float64(found) < drawnFound*float64(all) {
		return nil
	}
	var names []string
	var columns [][]float64
	for _, n := range p.Numbers {
		features, step := m.moved(p, n.Name)
		if step == 0 || len(features) != len(m.features) {
			continue
		}
		column := make([]float64, len(edges))
		most := 0.0
		for k, e := range edges {
			f, g := m.features[e.feature], features[e.feature]
			if f.circle {
				column[k] = (g.radius - f.radius) / step
			} else {
				// how far the changed line lies from where it was
				d := g.dir
				column[k] = d.Perp().Dot(g.a.Sub(e.at)) / step
			}
			most = math.Max(most, math.Abs(column[k]))
		}
		if most > unmoved {
			names, columns = append(names, n.Name), append(columns, column)
		}
	}
	if len(names) == 0 {
		d := dimension{part: p.ID, name: "outline", what: "largest displacement of its edges", exact: true, raw: func(values) float64 { return 0 }, over: 1, rms: rms, err: m.scatter}
		for _, v := range off {
			d.found = math.Max(d.found, math.Abs(v))
		}
		return []dimension{d}
	}
	var rows [][]float64
	for k := range edges {
		row := make([]float64, len(columns))
		for j := range columns {
			row[j] = columns[j][k]
		}
		rows = append(rows, row)
	}
	weights := make([]float64, len(rows))
	for i := range weights {
		weights[i] = 1
	}
	for j := range columns { // what no edge tells stays as it is
		row := make([]float64, len(columns))
		row[j] = 1
		rows, off, weights = append(rows, row), append(off, 0), append(weights, 1e-6)
	}
	by, ok := leastSquares(rows, off, weights)
	if !ok {
		return nil
	}
	var out []dimension
	box := m.outlined().boxOf(part)
	for j, name := range names {
		d := one(p, name, wordsOf(name))
		raw := d.raw
		if isAngle(m.rule, p, name) {
			d.raw = func(v values) float64 { return raw(v) * math.Pi / 180 }
			d.arm = math.Max(box.Width(), box.Height()) / 2
			by[j] *= math.Pi / 180
			d.over = 1
		}
		d.found = d.raw(m.values) + by[j]
		weight := 0.0
		for k := range edges {
			weight += float64(columns[j][k] * columns[j][k])
		}
		d.err, d.rms = m.scatter/math.Sqrt(weight), rms
		if d.arm == 0 {
			d.over = math.Max(math.Abs(d.raw(m.values)), math.Max(box.Width(), box.Height())/2)
		}
		out = append(out, d)
	}
	return out
}

func isAngle(r *standards.Rule, p standards.Part, name string) bool {
	list, _ := r.Values(nil)
	for _, v := range list {
		if v.Part == p.ID && v.Name == name {
			return v.Dimension == standards.Degrees
		}
	}
	return false
}

// wordsOf says a number's name in words.
func wordsOf(name string) string {
	switch name {
	case "x":
		return "place, right of the centre"
	case "y":
		return "place, above the centre"
	}
	return name
}

// boxOf returns the bounds of what is seen of a part.
func (s *ruleDrawing) boxOf(part int) geometry.Rect {
	var pts []geometry.Point
	for _, e := range s.samples {
		if e.part == part {
			pts = append(pts, e.Point)
		}
	}
	if len(pts) == 0 {
		return geometry.Rect{}
	}
	return geometry.BoundsOf(pts...)
}
