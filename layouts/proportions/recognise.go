package proportions

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts/standards"
)

// Recognition is a rule found in a drawing.
type Recognition struct {
	Rule     *standards.Rule
	Centre   geometry.Point
	Radius   geometry.Length    // governing radius that most dimensions agree on
	Turn     float64            // degrees, counter-clockwise, of the rule's drawing; 0 where circles only
	Mirrored bool               // about the rule's y axis, before the turn
	Checks   []Check            // the size if it was said, then by part and number
	Missing  []string           // parts that are not in the drawing
	Marks    []Mark             // what lacks and what is there besides, of [Inspect]
	Outlines [][]geometry.Point // of the rule's parts at the pose found, of [Inspect]
	Colours  bool               // paints were compared
	Claimed  float64            // length of outline that is the rule's, inches
}

// NotRecognised is the error of a drawing that does not hold a rule.
type NotRecognised struct {
	Rule    *standards.Rule
	Found   []string        // parts
	Missing []string        // parts
	Better  *standards.Rule // a rule that the drawing conforms to; nil: none known
	Rough   geometry.Length // scatter of the edges found, where the drawing is too rough to measure; or 0
}

func (e *NotRecognised) Error() string { return e.In(geometry.ReadInches) }

// In is the text in units.
func (e *NotRecognised) In(u geometry.Units) string {
	list := func(s []string) string {
		if len(s) == 0 {
			return "nothing"
		}
		return strings.Join(s, ", ")
	}
	s := fmt.Sprintf("cannot recognise %s in the drawing: found %s", e.Rule.ID, list(e.Found))
	switch {
	case len(e.Missing) > 0 || len(e.Found) == 0:
		s += "; missing or far from the rule: " + list(e.Missing)
	case e.Better == nil:
		s += ", and with it edges that are not part of the rule"
	}
	if e.Rough > 0 {
		s += u.Sprintf("; the edges found scatter by %s, more than %g %% of the governing radius: too rough to measure", e.Rough, 100*roughest)
	}
	if e.Better != nil {
		s += fmt.Sprintf("; it is drawn to %s (%s)", e.Better.ID, e.Better.Name)
	}
	return s
}

// What is still the rule's insignia, if a wrong one.
const (
	farOff       = 0.15 // of a dimension: beyond it a number is not taken for a slip
	leastNear    = 0.5  // of the numbers, nearer than that
	leastConform = 0.65 // of the numbers: a rule that has more of them wrong explains nothing of a drawing
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
			return nil, &NotRecognised{Rule: rule, Found: r.found, Missing: r.lacking(), Better: better, Rough: r.rough}
		}
	}
	return r.Recognition, nil
}

// trace cuts the contours of a drawing, the largest, into runs.
func trace(drawing geometry.Path) []run {
	type outline struct {
		geometry.Contour
		extent float64
	}
	var all []outline
	for _, c := range drawing {
		b := c.Bounds()
		all = append(all, outline{c, same.Hypot(b.Width(), b.Height())})
	}
	slices.SortStableFunc(all, func(a, b outline) int { return cmp.Compare(b.extent, a.extent) })
	var rows []row
	var out []run
	for _, c := range all {
		if len(rows) == mostContours {
			break
		}
		if r := rowOf(c.Contour); len(r.nodes) > 1 && !slices.ContainsFunc(rows, r.same) {
			rows = append(rows, r)
			out = append(out, runsOf(r)...)
		}
	}
	return out
}

// attempt is a rule held against a drawing, with how well it went.
type attempt struct {
	*Recognition
	match     *matched // nil: no pose was found
	known     bool
	found     []string
	far       []string // numbers far from the rule
	deviating int      // numbers
	ignored   int
	claimed   float64         // length of outline that is the rule's, inches
	explained float64         // of it, as much as the share of numbers that are the rule's
	rough     geometry.Length // scatter of the edges, where it is too large to measure; or 0
}

// recognise holds a rule against a drawing at its best pose.
func recognise(runs []run, rule *standards.Rule, o Options) (attempt, error) {
	if err := o.ended(); err != nil {
		return attempt{}, err
	}
	best, err := fitted(runs, rule, o)
	if err != nil {
		return attempt{}, err
	}
	if best == nil {
		a := attempt{Recognition: &Recognition{Rule: rule}}
		for _, p := range rule.Parts {
			a.Missing = append(a.Missing, p.ID)
		}
		return a, nil
	}
	best.grained(runs)
	others, err := texts(rule, o.Picks, best.size)
	if err != nil {
		return attempt{}, err
	}
	a := best.attempt(o, others)
	a.known = a.known && best.byItself(runs)
	return a, nil
}

// attempt turns what was found into checks.
func (m *matched) attempt(o Options, others []text) attempt {
	a := attempt{Recognition: &Recognition{
		Rule: m.rule, Centre: m.centre, Radius: geometry.Length(m.scale), Mirrored: m.mirrored,
		Claimed: m.claimed * m.scale,
	}, match: m, ignored: m.ignored, claimed: m.claimed * m.scale}
	if m.hasEdges() {
		a.Turn = math.Mod(m.turn*180/math.Pi+720, 360)
	}
	if c, ok := m.sizeCheck(o); ok {
		a.Checks = append(a.Checks, c)
	}
	near, conforming, numbers := 0, 0, 0
	var slips []Check
	for i, list := range m.dimensions() {
		p := m.rule.Parts[i]
		if len(list) == 0 && !m.inSight(i) {
			continue // not painted, and nothing painted ends on it
		}
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
			wrong := c.Verdict == Unexplained || c.Verdict == OnFile
			if (d.exact || d.absent) && wrong {
				slips = append(slips, c)
			}
			if seen[d.name] || d.exact || d.absent {
				continue
			}
			seen[d.name] = true
			numbers++
			if !wrong {
				conforming++
			}
			switch {
			case !wrong || math.Abs(c.Difference.Inches()) <= farOff*math.Max(math.Abs(c.Expected.Inches()), d.over*m.scale):
				near++
			default:
				a.far = append(a.far, c.Dimension())
			}
			if wrong && !slices.ContainsFunc(slips, func(b Check) bool { return sameSlip(b, c) }) {
				slips = append(slips, c)
			}
		}
	}
	a.deviating = len(slips)
	if share := float64(conforming) / math.Max(1, float64(numbers+len(a.Missing))); share >= leastConform {
		a.explained = a.claimed * share
	}
	spare := 0
	if len(m.rule.Parts) >= partsToSpare {
		spare = 1
	}
	if m.scatter > roughest {
		a.rough = geometry.Length(m.scatter * m.scale)
	}
	a.known = a.rough == 0 && len(a.Missing) <= spare && float64(near) >= leastNear*float64(numbers) && numbers > 0
	return a
}

// sameSlip tells whether two checks fail by one edge that their parts share.
func sameSlip(a, b Check) bool {
	return a.Part != b.Part && math.Abs(a.Measured.Inches()-b.Measured.Inches()) < sameEdge*math.Abs(a.Measured.Inches()) &&
		math.Abs(a.Expected.Inches()-b.Expected.Inches()) < sameEdge*math.Abs(a.Expected.Inches())
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
