package proportions

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// A rule that fills a surface, such as a rudder, has no outline of its own: the field is
// the outline of all that is painted, and the rule is drawn on it and its paints
// compared place by place.
const (
	fieldCells   = 70   // across the larger extent of the field
	fieldAlike   = 0.8  // of the field in the right paint: less is another form
	fieldWell    = 0.98 // so much of it: no other lean is tried
	mostFieldFor = 60   // painted outlines: a field has few
	leanApart    = 0.5  // degrees between leans that are tried
	mostLean     = 40.0 // degrees, of a hinge line
)

// fieldDrawing is a drawing as the field of a rule.
type fieldDrawing struct {
	*scene
	outline geometry.Path
	box     geometry.Rect
	leans   []float64 // degrees to the left, that edges within may have
}

// fieldOf returns the field of a drawing; false where nothing is painted, or too much.
func fieldOf(sc *scene, runs []run) (fieldDrawing, bool) {
	f := fieldDrawing{scene: sc}
	n := 0
	for _, d := range sc.items {
		if d.Fill == "" {
			continue
		}
		if n += len(d.Path); n > mostFieldFor {
			return f, false
		}
		sum, err := geometry.Union(f.outline, d.Path)
		if err != nil {
			return f, false
		}
		f.outline = sum
	}
	if !sc.known || len(f.outline) == 0 {
		return f, false
	}
	f.box = f.outline.Bounds()
	f.leans = []float64{0}
	straight := edges(runs)
	for _, r := range straight[:min(len(straight), 12)] {
		up := r.line.dir
		if up.Y < 0 {
			up = up.Scale(-1)
		}
		lean := same.Atan2(-up.X, up.Y) * 180 / math.Pi
		near := func(o float64) bool { return math.Abs(o-lean) < leanApart }
		if math.Abs(lean) < mostLean && !slices.ContainsFunc(f.leans, near) {
			f.leans = append(f.leans, lean)
		}
	}
	return f, true
}

// cell of a field: what the drawing shows, and the layer that the rule does.
type fieldCell struct {
	fill  string
	layer int
}

// held holds a field against a rule as it is or mirrored, with edges that lean.
//
// Errors: those of the rule's figure.
func (f fieldDrawing) held(rule *standards.Rule, o Options, mirrored bool, lean float64) (fig layouts.Figure, cells []fieldCell, right float64, err error) {
	side := 1.0
	if mirrored {
		side = -1
	}
	c := f.box.Centre()
	to := func(p geometry.Point) geometry.Point { return geometry.Point{X: side * (p.X - c.X), Y: p.Y - c.Y} }
	var options []layouts.OptionChoice
	for _, p := range o.Picks {
		options = append(options, layouts.OptionChoice(p))
	}
	size := geometry.Length(f.box.Height())
	fig, err = layouts.InsigniaWithin(rule, size, options, f.outline.Map(to), side*lean)
	if err != nil {
		return fig, nil, 0, err
	}
	outlines := make([]*geometry.Chords, len(fig.Layers))
	for i, l := range fig.Layers {
		outlines[i] = geometry.ChordsOf(l.Outline, 1e-3*size.Inches())
	}
	top := func(q geometry.Point) int {
		for i := len(outlines) - 1; i >= 0; i-- {
			if outlines[i].Contains(q) {
				return i
			}
		}
		return -1
	}
	step := math.Max(f.box.Width(), f.box.Height()) / fieldCells
	wide, high := int(f.box.Width()/step)+1, int(f.box.Height()/step)+1
	at := func(i, k int) geometry.Point {
		return geometry.Point{X: f.box.Min.X + float64((float64(i)+0.5)*step), Y: f.box.Min.Y + float64((float64(k)+0.5)*step)}
	}
	layers := make([]int, wide*high)
	for i := range layers {
		layers[i] = top(to(at(i%wide, i/wide)))
	}
	agreeing := 0
	for k := 1; k < high-1; k++ {
		for i := 1; i < wide-1; i++ {
			n := k*wide + i
			layer := layers[n]
			if layer < 0 || layers[n-1] != layer || layers[n+1] != layer || layers[n-wide] != layer || layers[n+wide] != layer {
				continue // beside an edge of the rule
			}
			fill := f.at(at(i, k))
			cells = append(cells, fieldCell{fill, layer})
			if agrees(fill, fig.Layers[layer].Colour) {
				agreeing++
			}
		}
	}
	return fig, cells, float64(agreeing) / math.Max(1, float64(len(cells))), nil
}

// judge holds a field against a rule; false where it is another form.
//
// Errors: those of the rule's figure.
func (f fieldDrawing) judge(rule *standards.Rule, o Options) (*Recognition, bool, error) {
	var fig layouts.Figure
	var cells []fieldCell
	best := -1.0
	mirrored := false
	for _, m := range []bool{false, true} {
		for _, l := range f.leans {
			if best > fieldWell {
				break
			}
			g, list, right, err := f.held(rule, o, m, l)
			if err != nil {
				return nil, false, err
			}
			if right > best+1e-9 {
				fig, cells, best, mirrored = g, list, right, m
			}
		}
	}
	if best < fieldAlike {
		return nil, false, nil
	}
	r := &Recognition{Rule: rule, Centre: f.box.Centre(), Radius: geometry.Length(f.box.Height() / 2), Mirrored: mirrored, Colours: true, Claimed: f.outline.Length()}
	for i, l := range fig.Layers {
		counts := map[string]int{}
		all, right := 0, 0
		most := ""
		for _, c := range cells {
			if c.layer != i {
				continue
			}
			if all++; agrees(c.fill, l.Colour) {
				right++
				continue
			}
			if counts[c.fill]++; counts[c.fill] > counts[most] || counts[c.fill] == counts[most] && c.fill < most {
				most = c.fill
			}
		}
		if all == 0 {
			continue
		}
		share := float64(right) / float64(all)
		c := Check{
			Marking: o.Marking, Part: l.Part, Name: AreaCheck, Unit: standards.Inches, Text: citation(rule), CanStop: true, CanWarn: true, Verdict: Conforms,
			Line: [2]geometry.Point{r.Centre, r.Centre}, Evidence: evidenceFor(o.Explains, l.Part+"."+AreaCheck),
		}
		c.What = fmt.Sprintf("%s of it is %s", percent(share), colourName(l.Colour))
		switch {
		case share < 1-leastThere:
			c.Name, c.Said, c.Hint = ColourCheck, fmt.Sprintf("it is %s, must be %s", hueName(most), colourName(l.Colour)), "fill it "+colourName(l.Colour)
		case share < leastThere:
			c.Said, c.Hint = fmt.Sprintf("%s of its area is not %s: there it is %s", percent(1-share), colourName(l.Colour), hueName(most)), "draw its edges where the rule has them"
		}
		if c.Said != "" {
			c.Verdict, c.What = Unexplained, c.Said
			c = c.excused()
		}
		r.Checks = append(r.Checks, c)
	}
	for _, l := range fig.Layers {
		for _, k := range l.Outline {
			pts := k.Flattened(1e-3 * f.box.Height())
			for i, q := range pts {
				if mirrored {
					q.X = -q.X
				}
				pts[i] = r.Centre.Add(geometry.Vec(q))
			}
			r.Outlines = append(r.Outlines, pts)
		}
	}
	return r, true, nil
}

// fields returns the rules that fill a surface and that a drawing may be of, those that
// fit best first.
func fields(sc *scene, runs []run, o Options) ([]Candidate, error) {
	f, ok := fieldOf(sc, runs)
	if !ok {
		return nil, nil
	}
	rules, err := rulesWithParts()
	if err != nil {
		return nil, err
	}
	var out []Candidate
	for _, rule := range rules {
		if !rule.FollowsField() {
			continue
		}
		r, ok, err := f.judge(rule, Options{Tolerance: o.Tolerance})
		if err != nil {
			return nil, err
		}
		if !ok {
			continue
		}
		c := Candidate{Recognition: r, Number: deviating(r)}
		c.Sound = c.Number == 0
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b Candidate) int { return cmp.Compare(a.Number, b.Number) })
	return out, nil
}

func deviating(r *Recognition) (n int) {
	for _, c := range r.Checks {
		if c.deviates() {
			n++
		}
	}
	return n
}

// inspectField holds a drawing against a rule that fills a surface.
//
// Errors: as [Inspect].
func inspectField(sc *scene, runs []run, rule *standards.Rule, o Options) (*Inspection, error) {
	f, ok := fieldOf(sc, runs)
	if !ok {
		return nil, fmt.Errorf("%s fills a surface and is told by its paints: fill the areas of the drawing, at most %d of them", rule.ID, mostFieldFor)
	}
	r, ok, err := f.judge(rule, o)
	if err != nil {
		return nil, err
	}
	if !ok {
		list, err := fields(sc, runs, o)
		if err != nil {
			return nil, err
		}
		none := &NotRecognised{Rule: rule}
		for _, p := range rule.Parts {
			none.Missing = append(none.Missing, p.ID)
		}
		if len(list) > 0 && list[0].Sound {
			none.Better = list[0].Rule
		}
		return nil, none
	}
	return &Inspection{Found: []*Recognition{r}, Colours: true}, nil
}
