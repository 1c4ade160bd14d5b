package proportions

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// Inspection is what was found on a page that was held against a rule.
type Inspection struct {
	Found   []*Recognition // every insignia of the rule, the plainest first
	Beside  []string       // what else of about their size is drawn, in words
	Colours bool           // paints were compared; else the drawing has none that tell
	Film    bool           // it is a film of one paint
}

// mostInsignia bounds the insignia that are looked for on one page.
const mostInsignia = 60

// Inspect finds every insignia of a rule in a drawing, holds every number of the rule
// against what is drawn, and the whole of the drawing against the whole of the rule:
// what lacks, what is of another paint, and what is there besides. Slips that explain
// what deviates are told instead of what follows from them.
//
// Errors: as [Recognise].
func Inspect(drawing []Drawn, rule *standards.Rule, o Options) (*Inspection, error) {
	sc, err := newScene(drawing)
	if err != nil {
		return nil, err
	}
	runs := trace(outlines(sc.bare))
	if rule.FollowsField() {
		return inspectField(sc, runs, rule, o)
	}
	out := &Inspection{Colours: true}
	for len(out.Found) < mostInsignia && (len(runs) > 0 || len(out.Found) == 0) {
		j, err := judgeRule(sc, runs, rule, o)
		if err != nil {
			return nil, err
		}
		if j.doubtful() && (len(out.Found) == 0 || !j.known) {
			better, err := j.better(sc, runs, o)
			if err != nil {
				return nil, err
			}
			if len(out.Found) > 0 {
				if better != nil {
					out.Beside = append(out.Beside, fmt.Sprintf("%s (%s)", better.ID, better.Name))
				} else {
					out.Beside = append(out.Beside, remains(o.Units, sc, runs, out.Found[0].Radius)...)
				}
				break
			}
			if better != nil || !j.known {
				return nil, &NotRecognised{Rule: rule, Found: j.found, Missing: j.lacking(), Better: better, Rough: j.rough}
			}
		}
		if !j.known {
			break
		}
		j.penned(o)
		out.Colours = out.Colours && j.Colours
		j.Marks, j.Outlines = j.whole.marks(), j.whole.overlay()
		out.Found = append(out.Found, j.Recognition)
		runs = j.left(runs)
	}
	return out, nil
}

// judgement is an attempt with the whole of the drawing held against the whole of the
// rule.
type judgement struct {
	attempt
	whole *whole
}

// judgeRule holds a drawing against a rule at its best pose.
//
// Errors: those of the rule's figure.
func judgeRule(sc *scene, runs []run, rule *standards.Rule, o Options) (judgement, error) {
	a, err := recognise(runs, rule, o)
	if err != nil {
		return judgement{}, err
	}
	j, err := judgeAttempt(a, sc, o)
	if err != nil || !j.known || j.clear() {
		return j, err
	}
	return j.refined(sc, runs, o)
}

// clear tells whether so little is wrong that the pose need not be doubted.
func (j judgement) clear() bool { return j.wrong() < suspicious && !j.whole.puzzled }

// clearer tells whether less is wrong than in another judgement, or as much but explained.
func (j judgement) clearer(o judgement) bool {
	return j.wrong() < o.wrong() || j.wrong() == o.wrong() && o.whole.puzzled && !j.whole.puzzled
}

// suspicious is how many checks fail that the pose itself may be wrong.
const suspicious = 2

// judgeAttempt adds to an attempt what the whole of the drawing tells.
func judgeAttempt(a attempt, sc *scene, o Options) (judgement, error) {
	if err := o.ended(); err != nil {
		return judgement{}, err
	}
	rule := a.Rule
	if a.match == nil || !a.known {
		return judgement{attempt: a}, nil
	}
	s, err := drawingOf(rule, a.match.picks, a.match.size)
	if err != nil {
		return judgement{}, err
	}
	j := judgement{attempt: a, whole: a.match.holds(s, sc)}
	said := j.whole.checks(o)
	if far := a.match.farOff(); far != nil {
		if drawn, err := newRuleDrawing(far, a.match.picks, a.match.size); err == nil { // else numbers so wrong make no figure
			w := a.match.holds(drawn, sc)
			if s := w.checks(o); len(s) < len(said) {
				j.whole, said = w, s
			}
		}
	}
	if w, list := j.whole.upright(said, o); w != j.whole {
		j.whole, said = w, list
	}
	j.Checks = j.whole.slipChecks(j.Checks, o)
	j.Checks = append(j.Checks, said...)
	j.Checks = j.whole.withoutMistaken(withoutCut(j.Checks))
	j.Colours = j.whole.colours
	return j, nil
}

// withoutMistaken says of numbers that deviate, of a part whose borders all are where the
// rule has them, that another line was taken for one of its edges, where there is something
// else that deviates: what lacks or is there besides.
func (w *whole) withoutMistaken(checks []Check) []Check {
	told := slices.ContainsFunc(checks, func(c Check) bool { return c.deviates() && c.Said != "" })
	for i := range checks {
		c := &checks[i]
		if !told || !c.deviates() || c.Said != "" || c.Name == "size" || c.absent() || c.Measured == 0 {
			continue
		}
		part := slices.IndexFunc(w.rule.Parts, func(p standards.Part) bool { return p.ID == c.Part })
		if far := math.Abs(c.Difference.Inches()) / w.m.scale; part >= 0 && far > mistaken && w.inPlace(part) {
			c.Verdict, c.Follows, c.Hint = Following, "another line was taken for its edge", ""
		}
	}
	return checks
}

// mistaken is how far a number must be off, governing radii, that a border could not lie
// where the rule has it.
const mistaken = 0.01

// inPlace tells whether all borders of a part were found where the rule has them.
func (w *whole) inPlace(part int) bool {
	all, there := 0.0, 0.0
	for k, e := range w.samples {
		if e.part != part || w.hidden[k] {
			continue
		}
		if all += e.weight; w.found[k] && math.Abs(w.off[k]) <= w.band {
			there += e.weight
		}
	}
	return all > 0 && there >= leastThere*all
}

// withoutCut says once that a piece of a part lacks: its outline says so, with its area; its
// numbers and the places of its edges follow.
func withoutCut(checks []Check) []Check {
	lacks, area := map[string]int{}, map[string]string{}
	for _, c := range checks {
		if c.deviates() && (c.Name == OutlineCheck || c.Name == AreaCheck) {
			if lacks[c.Part]++; c.Name == AreaCheck {
				area[c.Part] = c.Said
			}
		}
	}
	var out []Check
	for _, c := range checks {
		if lacks[c.Part] == 2 && c.deviates() && !c.absent() {
			switch {
			case c.Name == AreaCheck:
				continue
			case c.Name == OutlineCheck:
				c.Said += "; " + area[c.Part]
				c.What = c.Said
			case c.Name == ShapeCheck && strings.HasPrefix(c.Said, "its "):
				continue
			case c.Said == "" && c.Name != "size":
				c.Verdict, c.Follows, c.Hint = Following, "a piece of it is not there", ""
			}
		}
		out = append(out, c)
	}
	return out
}

// sound tells whether nothing of a drawing deviates from the rule.
func (j judgement) sound() bool {
	return j.known && len(j.Missing) == 0 && !slices.ContainsFunc(j.Checks, func(c Check) bool { return c.deviates() && c.Name != "size" })
}

// doubtful tells whether another rule may fit better.
func (j judgement) doubtful() bool { return j.attempt.doubtful() || j.known && !j.sound() }

// left returns the runs that are none of the insignia's: those not within what it
// covers, nor of a circle round it that was told.
func (j judgement) left(runs []run) []run {
	box := j.whole.box.Grown(leftMargin)
	return slices.DeleteFunc(slices.Clone(runs), func(r run) bool {
		for _, radius := range j.whole.ringed {
			if !slices.ContainsFunc(r.nodes, func(q geometry.Point) bool {
				return math.Abs(j.match.unit(q).Dist(geometry.Point{})-radius) > roundOff
			}) {
				return true
			}
		}
		within := 0
		for _, q := range r.nodes {
			if box.Contains(j.match.unit(q)) {
				within++
			}
		}
		return 2*within > len(r.nodes)
	})
}

const (
	leftMargin  = 0.12 // governing radii about an insignia that are its own
	besideLeast = 0.5  // governing radii: what is smaller is no second insignia
)

// remains says what is left of a drawing that is large enough to be another insignia:
// painted areas and arcs; frames and lines are none.
func remains(u geometry.Units, sc *scene, runs []run, radius geometry.Length) []string {
	for _, r := range runs {
		if r.arc && r.turn > 1 && r.length/r.turn > besideLeast*radius.Inches() {
			at := r.nodes[len(r.nodes)/2]
			return []string{fmt.Sprintf("an outline of %s about x %s, y %s that is no whole insignia of the rule", u.Length(geometry.Length(r.length), 4), u.FixedNumber(geometry.Length(at.X), 2), u.Fixed(geometry.Length(at.Y), 2))}
		}
		if at := r.line.middle(); sc.known && r.straight && !r.arc && r.length > besideLeast*radius.Inches() {
			side := r.line.dir.Perp().Scale(1e-3 * radius.Inches())
			if a, b := sc.at(at.Add(side)), sc.at(at.Add(side.Scale(-1))); a != b && (a != "" || b != "") {
				return []string{fmt.Sprintf("an area with an edge at x %s, y %s that is no whole insignia of the rule", u.FixedNumber(geometry.Length(at.X), 2), u.Fixed(geometry.Length(at.Y), 2))}
			}
		}
	}
	return nil
}

// Pens: what half their width may be, governing radii.
const (
	penNoted = 0.001
	penStops = 0.004
)

// penned tells where outlines are drawn with a pen so wide that it matters which side
// of it is meant.
func (j *judgement) penned(o Options) {
	widest := pens(j.whole.bare)
	if j.Colours || len(widest) == 0 {
		return
	}
	pen := widest[0]
	half := pen.Inches() / 2 / j.match.scale
	if half < penNoted {
		return
	}
	c := j.whole.told(o, "", PenCheck, o.Units.Sprintf("outlines are lines %s wide, not edges of areas: measured along their middle", pen), "convert lines to outlines, or say that the middle is meant by drawing them thin")
	c.Measured, c.Tolerance, c.Difference = pen/2, geometry.Length(penStops*j.match.scale), pen/2
	c.CanStop = half > penStops
	j.Checks = append(j.Checks, c)
}

// better returns a rule that the drawing fits without a deviation where j's is not
// met, or that leaves less of it unclaimed; nil where none is known.
func (j judgement) better(sc *scene, runs []run, o Options) (*standards.Rule, error) {
	least := 1.05
	if !j.sound() {
		least = 0.95
	}
	rules, err := rulesWithParts()
	if err != nil {
		return nil, err
	}
	near, err := nearest(runs, rules, o)
	if err != nil {
		return nil, err
	}
	near = slices.DeleteFunc(near, func(a attempt) bool {
		return !a.whole() || a.Rule == j.Rule || a.claimed <= least*math.Max(j.claimed, 1e-12)
	})
	most := 0.0
	for _, a := range near {
		most = math.Max(most, a.claimed)
	}
	slices.SortStableFunc(near, func(a, b attempt) int { return a.rest(most) - b.rest(most) })
	for _, a := range near {
		b, err := judgeAttempt(a, sc, Options{Tolerance: o.Tolerance})
		if err != nil {
			return nil, err
		}
		if b.sound() {
			return b.Rule, nil
		}
	}
	return nil, nil
}

// farWrong is how far a number must be off, governing radii, that the drawing is held
// against the rule's with the number as found: its edges are then where it has them,
// and the number is told once.
const farWrong = 0.05

// farOff returns the rule with those numbers as found that are far off; nil where none
// is.
func (m *matched) farOff() *standards.Rule {
	list, err := m.rule.ValuesAt(m.size, m.picks)
	if err != nil {
		return nil
	}
	var out *standards.Rule
	for i, dims := range m.dimensions() {
		done := map[string]bool{}
		for _, d := range dims {
			want := d.raw(m.values)
			far := math.Abs(d.found - want)
			if d.arm > 0 {
				far *= d.arm
			}
			if d.exact || d.absent || done[d.name] || far < farWrong || want == d.base {
				continue
			}
			done[d.name] = true
			for _, v := range list {
				if v.Part != d.part || v.Name != d.name {
					continue
				}
				if out == nil {
					rule := *m.rule
					rule.Parts = slices.Clone(rule.Parts)
					for k := range rule.Parts {
						rule.Parts[k].Numbers = slices.Clone(rule.Parts[k].Numbers)
					}
					out = &rule
				}
				for k, n := range out.Parts[i].Numbers {
					if n.Name == d.name {
						out.Parts[i].Numbers[k].Formula = standards.Formula(strconv.FormatFloat(v.Value*(d.found-d.base)/(want-d.base), 'f', 9, 64))
					}
				}
			}
		}
	}
	return out
}
