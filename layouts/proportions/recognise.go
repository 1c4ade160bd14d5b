package proportions

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// Recognition is a rule found in a drawing.
type Recognition struct {
	Rule     *standards.Rule
	Centre   geometry.Point
	Radius   geometry.Length // governing radius that most dimensions agree on
	Turn     float64         // degrees, counter-clockwise, of the rule's drawing; 0 where circles only
	Mirrored bool            // about the rule's y axis, before the turn
	Checks   []Check         // the size if it was said, then by part and number
	Missing  []string        // parts that are not in the drawing
}

// NotRecognised is the error of a drawing that does not hold a rule.
type NotRecognised struct {
	Rule    *standards.Rule
	Found   []string        // parts
	Missing []string        // parts
	Better  *standards.Rule // a rule that the drawing conforms to; nil: none known
}

func (e *NotRecognised) Error() string {
	list := func(s []string) string {
		if len(s) == 0 {
			return "nothing"
		}
		return strings.Join(s, ", ")
	}
	s := fmt.Sprintf("cannot recognise %s in the drawing: found %s; missing or far from the rule: %s", e.Rule.ID, list(e.Found), list(e.Missing))
	if e.Better != nil {
		s += fmt.Sprintf("; it is drawn to %s (%s)", e.Better.ID, e.Better.Name)
	}
	return s
}

// What is still the rule's insignia, if a wrong one.
const (
	farOff       = 0.15 // of a dimension: beyond it a number is not taken for a slip
	leastNear    = 0.5  // of the numbers, nearer than that
	partsToSpare = 3    // a rule of so many parts is told by the rest where one is missing
	centresTried = 2
	levelsTried  = 6
	mostContours = 400 // the largest; lettering of a title block may have thousands
)

// Recognise finds the insignia of a rule among the outlines of a drawing and
// holds every number of the rule against what is drawn. The outlines may run
// either way, overlap, lie twice, be in pieces, and have others among them;
// contours may be open. They are not changed.
//
// Errors: a rule that has no shapes, or a kind of part that cannot be measured;
// [*NotRecognised].
func Recognise(drawing geometry.Path, rule *standards.Rule, o Options) (*Recognition, error) {
	runs := trace(drawing)
	r, err := recognise(runs, rule, o)
	if err != nil {
		return nil, err
	}
	if r.doubtful() {
		better, err := r.better(runs, o)
		if err != nil {
			return nil, err
		}
		if better != nil || !r.known {
			return nil, &NotRecognised{Rule: rule, Found: r.found, Missing: r.lacking(), Better: better}
		}
	}
	return r.Recognition, nil
}

// trace cuts the contours of a drawing, the largest, into runs.
func trace(drawing geometry.Path) []run {
	var rows []row
	for _, c := range drawing {
		r := rowOf(c)
		if len(r.nodes) > 1 && !slices.ContainsFunc(rows, r.same) {
			rows = append(rows, r)
		}
	}
	slices.SortStableFunc(rows, func(a, b row) int { return compare(b.extent, a.extent) })
	var out []run
	for _, r := range rows[:min(len(rows), mostContours)] {
		out = append(out, runsOf(r)...)
	}
	return out
}

// attempt is a rule held against a drawing, with how well it went.
type attempt struct {
	*Recognition
	known     bool
	found     []string
	far       []string // numbers far from the rule
	deviating int      // numbers
	ignored   int
	claimed   float64 // length of outline that is the rule's, inches
}

// recognise holds a rule against a drawing at its best pose.
func recognise(runs []run, rule *standards.Rule, o Options) (attempt, error) {
	t, err := newTemplate(rule, o.Picks)
	if err != nil {
		return attempt{}, err
	}
	others, err := texts(rule, o.Picks)
	if err != nil {
		return attempt{}, err
	}
	best := t.best(runs, o)
	if best == nil {
		a := attempt{Recognition: &Recognition{Rule: rule}}
		for _, p := range rule.Parts {
			a.Missing = append(a.Missing, p.ID)
		}
		return a, nil
	}
	return best.attempt(o, others), nil
}

// best measures the rule out at every pose and returns the one in which most of
// its numbers conform; nil where no pose is to be had.
func (t *template) best(runs []run, o Options) *matched {
	straight := edges(runs)
	var best *matched
	most := 0.0
	try := func(at pose, c *centre) {
		turns := []float64{0}
		if t.hasEdges() {
			turns = t.turns(at, straight)
			if len(turns) == 0 {
				turns = []float64{0}
			}
		}
		for _, turn := range turns {
			at.turn = turn
			m := t.match(at, c, straight)
			if s := m.score(o); s > most*(1+1e-9) {
				best, most = m, s
			}
		}
	}
	mirrors := []bool{false}
	if !t.symmetric() {
		mirrors = append(mirrors, true)
	}
	for _, c := range centres(runs, centresTried) {
		for _, scale := range t.scales(c) {
			for _, mirrored := range mirrors {
				try(pose{centre: c.Point, scale: scale, mirrored: mirrored}, &c)
			}
		}
	}
	return best
}

func (t *template) hasEdges() bool {
	return slices.ContainsFunc(t.features, func(f feature) bool { return !f.circle })
}

// symmetric tells whether the rule's edges are those of its mirror image, about
// either axis: then a mirrored pose is a turned one.
func (t *template) symmetric() bool {
	for _, k := range []geometry.Vec{{X: -1, Y: 1}, {X: 1, Y: -1}} {
		glass := func(p geometry.Point) geometry.Point { return geometry.Point{X: k.X * p.X, Y: k.Y * p.Y} }
		all := true
		for _, f := range t.features {
			if f.circle {
				continue
			}
			a, b := glass(f.a), glass(f.b)
			all = all && slices.ContainsFunc(t.features, func(g feature) bool {
				return !g.circle && (a.Dist(g.a)+b.Dist(g.b) < sameEdge || a.Dist(g.b)+b.Dist(g.a) < sameEdge)
			})
		}
		if all {
			return true
		}
	}
	return false
}

// scales returns the governing radii, inches, that take a circle of the drawing
// for one of the rule. Those of the governing disc come first.
func (t *template) scales(c centre) []float64 {
	found := slices.Clone(c.levels)
	slices.SortStableFunc(found, func(a, b level) int { return compare(b.length, a.length) })
	found = found[:min(len(found), levelsTried)]
	var out []float64
	take := func(radius float64) {
		for _, l := range found {
			s := l.radius / radius
			if !slices.ContainsFunc(out, func(o float64) bool { return math.Abs(s/o-1) < 1e-5 }) {
				out = append(out, s)
			}
		}
	}
	if t.govern >= 0 {
		take(1)
	}
	for _, f := range t.features {
		if f.circle {
			take(f.radius)
		}
	}
	return out
}

// dimensions measures every part. The error of the governing radius, by which all
// is divided, is part of the error of each.
func (m *matched) dimensions() [][]dimension {
	var out [][]dimension
	scale := m.scaleError()
	for _, p := range m.rule.Parts {
		list := kinds[p.Kind].measure(m, p)
		for k := range list {
			if d := &list[k]; d.arm == 0 && !d.exact {
				d.err = math.Hypot(d.err, d.found*scale)
			}
		}
		out = append(out, list)
	}
	return out
}

// score counts the numbers that conform, and some for every number found. The
// governing disc decides a tie.
func (m *matched) score(o Options) float64 {
	sum := 0.0
	for i, list := range m.dimensions() {
		seen := map[string]bool{}
		for _, d := range list {
			if seen[d.name] || d.exact {
				continue
			}
			seen[d.name] = true
			sum += 0.25
			want := d.raw(m.values)
			over := math.Max(d.over, math.Abs(want-d.base))
			tolerance := math.Max(o.tolerance()*over, math.Min(trusted*d.err, 0.02*over))
			if off := math.Abs(d.found - want); off <= tolerance {
				sum++
				if i == m.govern {
					sum += 0.5
				}
			}
		}
	}
	return sum - 0.05*float64(min(m.ignored, 4))
}

// attempt turns what was found into checks.
func (m *matched) attempt(o Options, others []text) attempt {
	a := attempt{Recognition: &Recognition{
		Rule: m.rule, Centre: m.centre, Radius: geometry.Length(m.scale), Mirrored: m.mirrored,
	}, ignored: m.ignored, claimed: m.claimed * m.scale}
	if m.hasEdges() {
		a.Turn = math.Mod(m.turn*180/math.Pi+720, 360)
	}
	if c, ok := m.sizeCheck(o); ok {
		a.Checks = append(a.Checks, c)
	}
	near, numbers := 0, 0
	for i, list := range m.dimensions() {
		p := m.rule.Parts[i]
		if len(list) == 0 {
			a.Missing = append(a.Missing, p.ID)
			a.Checks = append(a.Checks, m.missing(p, o))
			continue
		}
		a.found = append(a.found, p.ID)
		seen := map[string]bool{}
		for _, d := range list {
			c := m.judge(d, o, others)
			a.Checks = append(a.Checks, c)
			if seen[d.name] || d.exact {
				continue
			}
			seen[d.name] = true
			numbers++
			wrong := c.Verdict == Unexplained || c.Verdict == OnFile
			switch {
			case !wrong || math.Abs(c.Difference.Inches()) <= farOff*math.Max(math.Abs(c.Expected.Inches()), d.over*m.scale):
				near++
			default:
				a.far = append(a.far, c.Dimension())
			}
			if wrong {
				a.deviating++
			}
		}
	}
	spare := 0
	if len(m.rule.Parts) >= partsToSpare {
		spare = 1
	}
	a.known = len(a.Missing) <= spare && float64(near) >= leastNear*float64(numbers) && numbers > 0
	return a
}

// doubtful tells whether another rule may fit better.
func (a attempt) doubtful() bool {
	return !a.known || len(a.Missing) > 0 || a.deviating > 1 || a.ignored > 0
}

// whole tells whether the drawing has all of the rule and all as the rule says.
func (a attempt) whole() bool {
	return a.known && len(a.Missing) == 0 && a.deviating == 0
}

func (a attempt) lacking() []string { return append(slices.Clone(a.Missing), a.far...) }

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
		case !b.whole():
		case !a.whole() && more > 0.95, more > 1.05:
			return b.Rule, nil
		}
	}
	return nil, nil
}

// Near is a rule and how well a drawing fits it.
type Near struct {
	Rule      *standards.Rule
	Whole     bool // every part found and every number as the rule says
	Missing   int  // parts
	Deviating int  // numbers
	Ignored   int  // circles and edges of the figure that are none of the rule's
}

// Nearest returns the rules that are recognised in a drawing, the best first: by
// parts missing, numbers that deviate, and edges left over. Rules alike in that
// stay in the order given; rules for lettering are passed over.
//
// Errors: those of a rule's values.
func Nearest(drawing geometry.Path, rules []*standards.Rule) ([]Near, error) {
	list, err := nearest(trace(drawing), rules, Options{})
	var out []Near
	for _, a := range list {
		out = append(out, Near{Rule: a.Rule, Whole: a.whole(), Missing: len(a.Missing), Deviating: a.deviating, Ignored: a.ignored})
	}
	return out, err
}

func nearest(runs []run, rules []*standards.Rule, o Options) ([]attempt, error) {
	var out []attempt
	for _, r := range rules {
		if r.Lettering != nil || slices.ContainsFunc(r.Parts, func(p standards.Part) bool { _, ok := kinds[p.Kind]; return !ok }) {
			continue
		}
		a, err := recognise(runs, r, Options{Tolerance: o.Tolerance})
		if err != nil {
			return nil, err
		}
		if a.known {
			out = append(out, a)
		}
	}
	slices.SortStableFunc(out, func(a, b attempt) int {
		for _, d := range []int{len(a.Missing) - len(b.Missing), a.deviating - b.deviating, a.ignored - b.ignored} {
			if d != 0 {
				return d
			}
		}
		return 0
	})
	return out, nil
}

// sizeCheck holds the governing radius against the size that was said.
func (m *matched) sizeCheck(o Options) (Check, bool) {
	if o.Size <= 0 {
		return Check{}, false
	}
	size := 2 * geometry.Length(m.scale)
	c := Check{
		Marking: o.Marking, Name: "size", What: "size: diameter of the governing disc",
		Measured: size, Expected: o.Size, Difference: size - o.Size,
		Tolerance: geometry.Length(math.Max(o.tolerance(), trusted*m.scaleError())) * o.Size,
		Ratio:     float64(size / o.Size), ExpectedRatio: 1, Text: "the size that was asked for", CanStop: true,
		Line: [2]geometry.Point{m.drawn(at(-1, 0)), m.drawn(at(1, 0))}, Verdict: Conforms, Evidence: evidenceFor(o.Explains, "size"),
	}
	if c.Difference.Inches() > c.Tolerance.Inches() || -c.Difference.Inches() > c.Tolerance.Inches() {
		c.Verdict = Unexplained
		c.Hint = "scale the drawing by " + geometry.FormatNumber(float64(o.Size/size), 6)
		if len(c.Evidence) > 0 {
			c.Verdict = OnFile
		}
	}
	return c, true
}

// missing is the check of a part that is not in the drawing.
func (m *matched) missing(p standards.Part, o Options) Check {
	c := Check{
		Marking: o.Marking, Part: p.ID, What: fmt.Sprintf("the %s is not in the drawing", p.ID),
		Unit: m.rule.Unit, Text: citation(m.rule), Verdict: Unexplained, CanStop: true,
		Line: [2]geometry.Point{m.centre, m.centre}, Hint: "draw it, or say which rule the drawing follows",
	}
	for _, n := range p.Numbers { // the first number that is a length gives its size
		if v, ok := m.values[p.ID+"."+n.Name]; ok && n.Name != "points" && n.Name != "first" && n.Name != "angle" {
			c.Expected, c.Difference = geometry.Length(v*m.scale), geometry.Length(-v*m.scale)
			c.CanStop = m.rule.CanStop(p.ID + "." + n.Name)
			break
		}
	}
	if c.Evidence = evidenceFor(o.Explains, c.Part); len(c.Evidence) > 0 {
		c.Verdict = OnFile
	}
	return c
}

// scaleError returns the relative standard error of the governing radius.
func (m *matched) scaleError() float64 {
	if m.govern < 0 {
		return 0
	}
	p := m.rule.Parts[m.govern]
	l, err, ok := m.circleOf(p.ID + ".edge")
	if !ok {
		return 0
	}
	return err / l.radius
}
