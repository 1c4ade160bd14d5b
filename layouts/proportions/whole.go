package proportions

import (
	"fmt"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts/standards"
)

// whole is a drawing held against all of a rule's drawing at a pose: borders that
// lack, areas of another paint, and what is drawn besides.
type whole struct {
	*ruleDrawing
	followed
	m        *matched
	scene    *scene
	drawing  geometry.Path // bare outlines in the unit frame
	items    []int         // of each contour of it, among the bare items
	bare     []Drawn
	lattice  *lattice
	mostly   []string // of each layer, the fill that it shows most of
	farthest float64  // of the places found
	areas    []shownArea
	missing  []string           // parts of which nothing was found by their edges
	colours  bool               // the figure is filled: its paints are compared
	grown    float64            // by which the drawing is larger than the pose has it, once slips are taken off
	puzzled  bool               // no few slips explain where the drawing lies
	lacking  [][]geometry.Point // lines of borders that lack, unit frame
	ringed   []float64          // radii of circles round the figure that are none of the rule's, unit frame
	besides  [][]geometry.Point // lines of outlines that are none of the rule's
}

// What may lack, and what may be there besides.
const (
	leastThere  = 0.95 // of the length of a border, and of the area of a part
	round       = 0.35 // governing radii about a figure that are looked at
	gridStep    = 0.045
	besideDepth = 0.012 // how far beside a border its paints are compared
	fewestBare  = 4     // places: of fewer nothing is said
	extraLength = 0.12  // of outline that is none of the rule's, governing radii
	onLine      = 0.02  // a place whose line lies this near what is drawn is not lacking but out of place
)

// holds compares a drawing with the rule at the pose that was found.
func (m *matched) holds(s *ruleDrawing, sc *scene) *whole {
	w := m.followed(s, sc)
	for i, list := range m.dimensions() {
		if len(list) == 0 && m.inSight(i) {
			w.missing = append(w.missing, m.rule.Parts[i].ID)
		}
	}
	w.look()
	return w
}

// followed follows the borders of the rule in a drawing, and looks at no paint.
func (m *matched) followed(s *ruleDrawing, sc *scene) *whole {
	w := &whole{ruleDrawing: s, m: m, scene: sc, bare: sc.bare}
	unit := func(p geometry.Point) geometry.Point { return m.unit(p) }
	box := s.box.Grown(round)
	for i, d := range w.bare {
		for _, c := range d.Path {
			if u := c.Map(unit); u.Bounds().Touches(box, 0) {
				w.drawing, w.items = append(w.drawing, u), append(w.items, i)
			}
		}
	}
	w.mostly = w.mostFills()
	w.lattice = newLattice(w.drawing, box)
	w.followed = s.follow(w.lattice, m.grain, w.sees, w.owns, w.scene.known)
	for k, off := range w.off {
		if w.found[k] {
			w.farthest = math.Max(w.farthest, math.Abs(off))
		}
	}
	return w
}

// sees tells whether a chord of the drawing is seen at q, unit frame: paints differ
// on its two sides, or it is a line of its own.
func (w *whole) sees(q geometry.Point, chord int) bool {
	if !w.scene.known {
		return true
	}
	if w.bare[w.items[w.lattice.of[chord]]].Fill == "" {
		return true
	}
	side := w.lattice.b[chord].Sub(w.lattice.a[chord]).Unit().Perp().Scale(sightStep)
	return w.shown(q.Add(side)) != w.shown(q.Add(side.Scale(-1)))
}

// owns tells whether a part's own paint is filled in at q, unit frame.
func (w *whole) owns(q geometry.Point, part int) bool {
	if !w.scene.known {
		return false
	}
	layer := slices.Index(w.parts, part)
	if layer < 0 || w.paints[layer] == standards.Unpainted {
		return false
	}
	fill := w.shown(q)
	if most := w.mostly[layer]; most != "" && !agrees(most, w.paints[layer]) {
		return sameHue(fill, most)
	}
	return fill != "" && agrees(fill, w.paints[layer])
}

// wellInside is how far, governing radii, a cell of a part lies from all borders where the
// part's paint is looked for.
const wellInside = 0.04

// someRight is the share of a part in its own paint from which on that paint tells it.
const someRight = 0.25

// mostFills returns the fill that each layer shows most of, well within its borders, where
// little of it is in its own paint.
func (w *whole) mostFills() []string {
	out := make([]string, len(w.paints))
	if !w.scene.known {
		return out
	}
	counts := make([]map[string]int, len(w.paints))
	right, all := make([]int, len(w.paints)), make([]int, len(w.paints))
	for _, c := range w.plane() {
		if c.layer < 0 || c.clear < wellInside {
			continue
		}
		if counts[c.layer] == nil {
			counts[c.layer] = map[string]int{}
		}
		fill := w.shown(c.Point)
		counts[c.layer][fill]++
		if all[c.layer]++; fill != "" && agrees(fill, w.paints[c.layer]) {
			right[c.layer]++
		}
		if n, most := counts[c.layer][fill], out[c.layer]; n > counts[c.layer][most] || n == counts[c.layer][most] && fill < most {
			out[c.layer] = fill
		}
	}
	for i := range out {
		if float64(right[i]) > someRight*float64(all[i]) {
			out[i] = ""
		}
	}
	return out
}

// shown returns the fill that shows at a point of the unit frame.
func (w *whole) shown(q geometry.Point) string { return w.scene.at(w.m.drawn(q)) }

// shownArea is a piece of the figure's plane: what the rule shows there and what the
// drawing does.
type shownArea struct {
	geometry.Point
	layer int // -1: nothing of the rule
	fill  string
	area  float64
}

// look compares paints beside every border, where it was found, and on a grid away
// from them.
func (w *whole) look() {
	if !w.scene.known {
		return
	}
	for _, b := range w.besideBorders(besideDepth + w.band) {
		e, at := w.samples[b.sample], b.Point
		if moved := at.Add(e.out.Scale(w.off[b.sample])); w.found[b.sample] && (b.layer >= 0 || w.top(moved) < 0) {
			at = moved // what is beside an edge too far in is not outside the figure
		}
		w.areas = append(w.areas, shownArea{b.Point, b.layer, w.shown(at), e.weight * 2 * besideDepth})
	}
	clear := same.Hypot(2*besideDepth+w.farthest, borderStep/2)
	for _, c := range w.plane() {
		if c.clear >= clear {
			w.areas = append(w.areas, shownArea{c.Point, c.layer, w.shown(c.Point), gridStep * gridStep})
		}
	}
	w.colours = w.filled() >= leastFilled
}

// leastFilled is the share of a figure that must be filled for its paints to be
// compared: in a drawing of outlines only arrows and lettering are.
const leastFilled = 0.2

// filled returns how much of the parts that are not white is filled.
func (w *whole) filled() float64 {
	all, filled := 0.0, 0.0
	for _, a := range w.areas {
		if a.layer < 0 || agrees("", w.paints[a.layer]) {
			continue
		}
		if all += a.area; a.fill != "" {
			filled += a.area
		}
	}
	if all == 0 {
		return 1
	}
	return filled / all
}

// gap is a stretch of a border that the drawing lacks.
type gap struct {
	border int
	line   []geometry.Point // unit frame
	length float64
}

// gaps returns the stretches of borders that lack, where more than a twentieth of
// the border does. Ends of a border that a neighbour drawn out of place has cut off do not
// count.
func (w *whole) gaps() []gap {
	var out []gap
	for i, b := range w.borders {
		if len(b.samples) == 0 || w.elsewhere(b) {
			continue
		}
		all, there := 0.0, 0.0
		var own []gap
		open := false
		for _, k := range b.samples {
			e := w.samples[k]
			if all += e.weight; w.found[k] || w.hidden[k] || w.atEnd(b, e) {
				there, open = there+e.weight, false
				continue
			}
			if !open {
				own, open = append(own, gap{border: i}), true
			}
			g := &own[len(own)-1]
			along := e.out.Perp().Scale(e.weight / 2)
			if len(g.line) == 0 {
				g.line = append(g.line, e.Add(along))
			}
			g.line, g.length = append(g.line, e.Point, e.Add(along.Scale(-1))), g.length+e.weight
		}
		if there < leastThere*all {
			out = append(out, own...)
		}
	}
	return out
}

// atEnd tells whether a place is so near an end of its border that a neighbour out of
// place may have cut it off.
func (w *whole) atEnd(b border, e sample) bool {
	if b.arc && b.a.Dist(b.b) < 1e-6 {
		return false
	}
	near := 0.0
	if w.farthest > 2*w.band {
		near = float64(1.5*w.farthest) + w.band
	}
	near = math.Max(near, 2*w.band)
	return math.Min(e.Dist(b.a), e.Dist(b.b)) < near
}

// elsewhere tells whether the edges that the numbers are measured by were found for a
// border, so far off that it is not followed.
func (w *whole) elsewhere(b border) bool {
	middle := w.samples[b.samples[len(b.samples)/2]]
	for i, f := range w.m.features {
		if f.part != b.part {
			continue
		}
		if l, ok := w.m.circles[i]; ok && f.circle && b.arc && b.centre.Dist(geometry.Point{}) < sameEdge && math.Abs(f.radius-b.radius) < sameEdge {
			return math.Abs(l.radius-f.radius) > followReach-w.band
		}
		if g, ok := w.m.lines[i]; ok && !f.circle && !b.arc && math.Abs(f.dir.Cross(middle.Sub(f.a))) < sameEdge && math.Abs(f.dir.Dot(middle.out)) < angleFar {
			return math.Abs(g.offset(middle.Point)) > followReach-w.band
		}
	}
	return false
}

// extra is an outline of the drawing within the figure that is none of the rule's, and
// encloses something.
type extra struct {
	line   []geometry.Point
	length float64
}

// extras returns the closed outlines within the figure, or that an area joined to it has, of
// which more is none of the rule's than its accuracy allows.
func (w *whole) extras() []extra {
	var out []extra
	tolerance := math.Max(w.band, math.Min(w.farthest, followReach)) + w.band
	within := w.box.Grown(w.band)
	for k, c := range w.drawing {
		if open := !c.Closed() && c.Start.Dist(c.End()) >= closeEnough; open || !c.Bounds().Touches(within, 0) {
			continue
		}
		item := w.bare[w.items[k]]
		var x extra
		all := 0.0
		pts := c.Flattened(chordAccuracy)
		for i := 1; i < len(pts); i++ {
			a, b := pts[i-1], pts[i]
			n := geometry.Steps(a.Dist(b), borderStep)
			piece := a.Dist(b) / float64(n)
			for j := range n {
				q := a.Lerp(b, (float64(j)+0.5)/float64(n))
				all += piece
				if w.top(q) < 0 || w.accounts(q, b.Sub(a).Unit(), tolerance) {
					continue
				}
				if side := b.Sub(a).Unit().Perp().Scale(sightStep); w.scene.known && item.Fill != "" && w.shown(q.Add(side)) == w.shown(q.Add(side.Scale(-1))) {
					continue // covered
				}
				x.length += piece
				x.line = append(x.line, q.Add(a.Sub(b).Unit().Scale(piece/2)), q.Add(b.Sub(a).Unit().Scale(piece/2)))
			}
		}
		if most := x.length > 0.5*all; x.length > extraLength && (item.Fill != "" || most || !w.scene.known) || most && x.length > extraLength/4 {
			out = append(out, x)
		}
	}
	return out
}

// accounts tells whether an outline of the drawing at q, running along dir, lies on a
// line or circle of the rule or of an edge that was measured.
func (w *whole) accounts(q geometry.Point, dir geometry.Vec, tolerance float64) bool {
	for _, b := range w.borders {
		if b.radius >= 0 && b.reaches(q, tolerance) {
			along := b.b.Sub(b.a).Unit()
			if b.arc {
				along = q.Sub(b.centre).Unit().Perp()
			}
			if math.Abs(along.Cross(dir)) < math.Max(sinFar, 3*w.m.grain/borderStep) {
				return true
			}
		}
	}
	for _, g := range w.m.lines {
		if math.Abs(g.offset(q)) < onLine {
			return true
		}
	}
	for _, l := range w.m.circles {
		if math.Abs(q.Dist(geometry.Point{})-l.radius) < onLine {
			return true
		}
	}
	return slices.ContainsFunc(w.borders, func(b border) bool { return b.radius < 0 }) && w.nearSample(q, tolerance)
}

// nearSample tells whether q lies beside a border that is no line and no arc.
func (w *whole) nearSample(q geometry.Point, tolerance float64) bool {
	return slices.ContainsFunc(w.samples, func(e sample) bool { return e.Dist(q) < same.Hypot(tolerance, borderStep) })
}

// nameOf says which border of its part one is, in words.
func (w *whole) nameOf(b border) string {
	name := "edge"
	var middle geometry.Point
	var out geometry.Vec
	for _, k := range b.samples {
		middle = middle.Add(geometry.Vec(w.samples[k].Point).Scale(1 / float64(len(b.samples))))
		out = out.Add(w.samples[k].out)
	}
	out = out.Unit()
	switch {
	case b.arc && b.sweep > 6:
		return "circle"
	case b.arc:
		name = "arc"
	case out.Y > 0.95:
		name = "upper edge"
	case out.Y < -0.95:
		name = "lower edge"
	case out.X > 0.95:
		name = "right edge"
	case out.X < -0.95:
		name = "left edge"
	}
	if n := whereabouts(middle); n != "" {
		name += " " + n
	}
	return name
}

// whereabouts says where a place lies from the centre.
func whereabouts(q geometry.Point) string {
	high, wide := "", ""
	switch {
	case q.Y > 0.15:
		high = "above"
	case q.Y < -0.15:
		high = "below"
	}
	switch {
	case q.X > 0.15:
		wide = "right"
	case q.X < -0.15:
		wide = "left"
	}
	switch {
	case high == "" && wide == "":
		return ""
	case wide == "":
		return high + " the centre"
	case high == "":
		return wide + " of the centre"
	}
	return high + " and " + wide + " of the centre"
}

// part returns the part of a layer.
func (w *whole) partOf(layer int) standards.Part { return w.rule.Parts[w.parts[layer]] }

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }
