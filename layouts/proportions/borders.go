package proportions

import (
	"math"
	"sync"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// border is a straight edge or an arc of a part's own outline, with the places
// along it that are in sight. Unit frame.
type border struct {
	part    int
	a, b    geometry.Point
	arc     bool // about centre
	centre  geometry.Point
	radius  float64
	sweep   float64 // radians
	length  float64
	samples []int // of the rule's drawing, those in sight
}

// sample is a place on a border: what is drawn there is measured across it.
type sample struct {
	geometry.Point
	out    geometry.Vec // across the border, out of the part
	along  float64      // from -1 to 1 along an edge; radians about the centre of an arc
	weight float64      // length of border that it stands for
	border int
	part   int
	way    place // on the outline of its layer
}

// place is a point of a layer's outline.
type place struct {
	layer, contour, segment int
	t                       float64
}

// ruleDrawing is a rule as it is drawn: what each part covers, and the borders that
// are in sight. It is made of the outlines of the rule's figure, whatever the
// kinds of its parts.
type ruleDrawing struct {
	rule     *standards.Rule
	outlines []geometry.Path // of the layers, unit frame
	parts    []int           // of each layer
	paints   []string        // of each layer
	rings    [][][]geometry.Point
	extents  []geometry.Rect // of the rings of each layer
	borders  []border
	samples  []sample
	box      geometry.Rect
	picks    []standards.Pick
	at       float64 // governing size, inches

	once  sync.Once
	slips []slip

	underOnce sync.Once
	under     []int // of each place: a place beside it on the border of a later layer that the border lies on; -1: none

	turnsOnce sync.Once
	turns     []float64
	apart     []bool // of each turn: paints are then others somewhere

	planeOnce  sync.Once
	cells      []cell
	besideOnce sync.Once
	besides    []beside

	driftsOnce sync.Once
	drifts     [][][]float64 // of each border, what each of its starts is at its places
}

const (
	borderStep   = 0.03 // between places, governing radii
	fewestPlaces = 5
	mostPlaces   = 240
	oneCircle    = 1e-3 // of a radius: cubics nearer than that to a circle are arcs of it
	oneLine      = 1e-9 // sine of the turn between edges that are one
)

// unitFigure returns the layers of a rule in the unit frame.
//
// Errors: those of [layouts.InsigniaFigure].
func unitFigure(rule *standards.Rule, picks []standards.Pick, size float64) ([]layouts.Layer, error) {
	var options []layouts.OptionChoice
	for _, p := range picks {
		options = append(options, layouts.OptionChoice(p))
	}
	fig, err := layouts.InsigniaFigure(rule, geometry.Length(size), options)
	if err != nil {
		return nil, err
	}
	for i := range fig.Layers {
		fig.Layers[i].Outline = fig.Layers[i].Outline.Map(func(p geometry.Point) geometry.Point {
			return geometry.Point{X: p.X * 2 / size, Y: p.Y * 2 / size}
		})
	}
	return fig.Layers, nil
}

// newRuleDrawing draws a rule at a governing size in inches.
//
// Errors: those of [layouts.InsigniaFigure].
func newRuleDrawing(rule *standards.Rule, picks []standards.Pick, size float64) (*ruleDrawing, error) {
	layers, err := unitFigure(rule, picks, size)
	if err != nil {
		return nil, err
	}
	s := &ruleDrawing{rule: rule, picks: picks, at: size}
	var all geometry.Path
	for _, l := range layers {
		part := 0
		for i, p := range rule.Parts {
			if p.ID == l.Part {
				part = i
			}
		}
		var rings [][]geometry.Point
		for _, c := range l.Outline {
			rings = append(rings, c.Flattened(layerTolerance))
		}
		s.outlines, s.parts, s.paints, s.rings = append(s.outlines, l.Outline), append(s.parts, part), append(s.paints, l.Colour), append(s.rings, rings)
		s.extents = append(s.extents, l.Outline.Bounds())
		all = append(all, l.Outline...)
	}
	s.box = all.Bounds()
	for i, path := range s.outlines {
		for k, c := range path {
			s.trace(i, k, c)
		}
	}
	return s, nil
}

// top returns the layer that shows at q; -1 for none.
func (s *ruleDrawing) top(q geometry.Point) int {
	for i := len(s.rings) - 1; i >= 0; i-- {
		if s.extents[i].Contains(q) && geometry.Inside(q, s.rings[i]...) {
			return i
		}
	}
	return -1
}

// paint returns the role that shows under a layer index; empty for the ground.
func (s *ruleDrawing) paint(layer int) string {
	if layer < 0 || s.paints[layer] == standards.Unpainted {
		return ""
	}
	return s.paints[layer]
}

// piece is one segment of a contour as an edge or an arc.
type borderPiece struct {
	border
	segments []int
}

// trace cuts a contour into borders: edges in one line and arcs of one circle that
// follow each other are one.
func (s *ruleDrawing) trace(layer, contour int, c geometry.Contour) {
	var pieces []borderPiece
	for i, g := range c.Segments {
		p := borderPiece{border: border{part: s.parts[layer], a: c.From(i), b: g.End}, segments: []int{i}}
		p.length = c.SubSegment(i, 0, 1).Length()
		if g.Kind == geometry.Cubic {
			p.arc, p.centre, p.radius = circleOfCubic(c, i)
			if p.arc {
				p.sweep = p.length / p.radius
			}
		}
		if n := len(pieces); n > 0 && pieces[n-1].goesOn(p) {
			last := &pieces[n-1]
			last.b, last.length, last.sweep, last.segments = p.b, last.length+p.length, last.sweep+p.sweep, append(last.segments, i)
			continue
		}
		if p.length > 1e-9 {
			pieces = append(pieces, p)
		}
	}
	if n := len(pieces); n > 1 && pieces[n-1].goesOn(pieces[0]) {
		first, last := &pieces[0], pieces[n-1]
		first.a, first.length, first.sweep, first.segments = last.a, first.length+last.length, first.sweep+last.sweep, append(last.segments, first.segments...)
		pieces = pieces[:n-1]
	}
	for _, p := range pieces {
		s.put(layer, contour, c, p)
	}
}

// goesOn tells whether q goes on along the line or circle of p.
func (p borderPiece) goesOn(q borderPiece) bool {
	if p.arc != q.arc {
		return false
	}
	if p.arc {
		return p.centre.Dist(q.centre) < oneCircle*p.radius && math.Abs(p.radius-q.radius) < oneCircle*p.radius
	}
	if p.radius != 0 || q.radius != 0 {
		return false
	}
	u, v := p.b.Sub(p.a).Unit(), q.b.Sub(q.a).Unit()
	return math.Abs(u.Cross(v)) < oneLine && u.Dot(v) > 0
}

// circleOfCubic returns the circle that a cubic is an arc of; false, and radius -1,
// where it is none.
func circleOfCubic(c geometry.Contour, i int) (bool, geometry.Point, float64) {
	var pts []geometry.Point
	for k := range 9 {
		pts = append(pts, c.At(i, float64(k)/8))
	}
	f, ok := circleThrough(pts)
	if !ok || f.rms > oneCircle*f.radius || f.radius > 100 {
		return false, geometry.Point{}, -1
	}
	return true, f.centre, f.radius
}

// put adds a border with its places in sight.
func (s *ruleDrawing) put(layer, contour int, c geometry.Contour, p borderPiece) {
	n := min(max(int(math.Ceil(p.length/borderStep)), fewestPlaces), mostPlaces)
	b := p.border
	index := len(s.borders)
	middle := b.a.Lerp(b.b, 0.5)
	half := b.b.Sub(b.a).Scale(0.5)
	for k := range n {
		at := (float64(k) + 0.5) / float64(n) * p.length
		for _, i := range p.segments {
			length := c.SubSegment(i, 0, 1).Length()
			if at > length && i != p.segments[len(p.segments)-1] {
				at -= length
				continue
			}
			t := math.Min(1, at/length)
			q, side := c.At(i, t), c.Velocity(i, t).Unit().Perp()
			left, right := q.Add(side.Scale(sightStep)), q.Add(side.Scale(-sightStep))
			out := side
			if geometry.Inside(left, s.rings[layer]...) {
				out = side.Scale(-1)
			}
			l, r := s.top(left), s.top(right)
			if l > layer && r > layer || s.paint(l) == s.paint(r) {
				break // covered, or nothing to be seen
			}
			e := sample{Point: q, out: out, weight: p.length / float64(n), border: index, part: b.part, way: place{layer, contour, i, t}}
			switch {
			case b.arc:
				e.along = same.Atan2(q.Y-b.centre.Y, q.X-b.centre.X)
			case half.Norm() > 0:
				e.along = q.Sub(middle).Dot(half) / half.Dot(half)
			}
			b.samples = append(b.samples, len(s.samples))
			s.samples = append(s.samples, e)
			break
		}
	}
	s.borders = append(s.borders, b)
}

// sight returns the length of a border in sight.
func (s *ruleDrawing) sight(b border) float64 {
	sum := 0.0
	for _, k := range b.samples {
		sum += s.samples[k].weight
	}
	return sum
}

// reaches tells whether the line or circle of a border passes q within a distance.
func (b border) reaches(q geometry.Point, within float64) bool {
	if b.arc {
		return math.Abs(q.Dist(b.centre)-b.radius) <= within
	}
	u := b.b.Sub(b.a).Unit()
	return math.Abs(u.Cross(q.Sub(b.a))) <= within
}
