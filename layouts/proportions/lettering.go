package proportions

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// Characters is the part that the dimensions of lettering are named by:
// characters.width and so on.
const Characters = layouts.CharactersPart

// lettered is one character as it came off the film, stood upright.
type lettered struct {
	rune  rune
	line  int
	turn  float64 // of its baseline, radians
	paint geometry.Path
	box   geometry.Rect
}

// OfLettering holds the characters of a text, as they come off the film, against a rule
// for lettering: height, width, stroke and the gap to the next. The regions are what
// each paint shows, in any frame that is not turned or scaled against the figure's.
// Height and width are those of a character's extents, upright; strokes are measured
// between straight edges, but not of text that bridges or ties cut through; the gap is
// the least between the extents of neighbours on one straight baseline. A width of [standards.WidthException] that is "at most" and a gap
// conform on one side of their number.
//
// Errors: a character has no outline where it was set, so that the two are not of one
// frame.
func OfLettering(fig layouts.Figure, rule *standards.Rule, regions []layouts.Region, o Options) ([]Check, error) {
	chars, err := charactersOf(fig, regions)
	if err != nil {
		return nil, err
	}
	h := fig.Setting.Bridged
	o.Size = 0 // a text is set by its height
	return heldTo(chars, letteringCheck{rule: rule, o: o, whole: h == nil || len(h.Bridges) == 0})
}

// heldToLettering holds characters, upright and whole, against a rule.
func heldToLettering(chars []lettered, rule *standards.Rule, o Options) ([]Check, error) {
	return heldTo(chars, letteringCheck{rule: rule, o: o, whole: true})
}

func heldTo(chars []lettered, l letteringCheck) ([]Check, error) {
	l.high = middleHeight(chars)
	if !(l.high > 0) {
		return nil, nil
	}
	l.heights(chars)
	l.size()
	for i, c := range chars {
		if err := l.character(c); err != nil {
			return nil, err
		}
		if i == 0 || chars[i-1].line != c.line || chars[i-1].turn != 0 || c.turn != 0 {
			continue
		}
		if err := l.gap(chars[i-1], c); err != nil {
			return nil, err
		}
	}
	return l.checks, nil
}

// charactersOf gives each character of a figure the outlines that stand in its cell.
func charactersOf(fig layouts.Figure, regions []layouts.Region) ([]lettered, error) {
	var all geometry.Path
	for _, r := range regions {
		if !slices.ContainsFunc(r.Parts, ofLettering) && len(r.Parts) > 0 {
			continue
		}
		sum, err := geometry.Union(all, r.Outline)
		if err != nil {
			return nil, err
		}
		all = sum
	}
	if fig.Setting == nil || len(fig.Characters) == 0 || len(all) == 0 {
		return nil, fmt.Errorf("figure %s: it is no lettering that was set", fig.ID)
	}
	var drawn geometry.Path
	for _, l := range fig.Layers {
		if ofLettering(l.Part) {
			drawn = append(drawn, l.Outline...)
		}
	}
	shift := all.Bounds().Centre().Sub(drawn.Bounds().Centre())
	out := make([]lettered, len(fig.Characters))
	cells := make([]geometry.Rect, len(out))
	for i, c := range fig.Characters {
		g := fig.Setting.Lettering.Glyphs[i]
		out[i] = lettered{rune: c.Rune, line: g.Line, turn: g.Angle}
		cells[i] = geometry.Rect{Min: c.Cell.Min.Add(shift), Max: c.Cell.Max.Add(shift)}
	}
	for _, c := range all {
		i := cellOf(cells, c.Bounds().Centre())
		out[i].paint = append(out[i].paint, c)
	}
	for i := range out {
		c := &out[i]
		if len(c.paint) == 0 {
			return nil, fmt.Errorf("character %d of %q has no outline where it was set: its width cannot be measured", i+1, fig.ID)
		}
		if c.turn != 0 {
			sin, cos := same.Sincos(-c.turn)
			c.paint = c.paint.Map(func(p geometry.Point) geometry.Point {
				return geometry.Point{X: float64(p.X*cos) - float64(p.Y*sin), Y: float64(p.X*sin) + float64(p.Y*cos)}
			})
		}
		c.box = c.paint.Bounds()
	}
	return out, nil
}

// ofLettering tells whether a part is the characters, or an edge within them: not a
// border round them or a shade.
func ofLettering(part string) bool {
	return part == "text" || strings.HasPrefix(part, layouts.EdgePart)
}

// cellOf returns the cell that holds p, else the one whose middle is nearest.
func cellOf(cells []geometry.Rect, p geometry.Point) int {
	best, nearest := 0, math.Inf(1)
	for i, r := range cells {
		d := r.Centre().Dist(p)
		if !r.Grown(geometry.SnapTolerance).Contains(p) {
			d += 1e6 // a cell that holds it comes first
		}
		if d < nearest {
			best, nearest = i, d
		}
	}
	return best
}

// isProportioned tells whether the rules speak of a character: a letter or a figure.
func isProportioned(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// middleHeight is the median height of the letters and figures: a hyphen, or one that
// rises over the line, does not decide it.
func middleHeight(chars []lettered) float64 {
	var all []float64
	for _, c := range chars {
		if isProportioned(c.rune) {
			all = append(all, c.box.Height())
		}
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// letteringCheck gathers the checks of one text against one rule.
type letteringCheck struct {
	rule   *standards.Rule
	o      Options
	high   float64 // inches, of a character
	whole  bool    // no bridge cuts through the strokes
	checks []Check
}

// bound says on which side of its number a dimension conforms.
type bound int

const (
	exactly bound = iota
	atMost
	atLeast
)

// add holds one measured length against a number of the rule, both in inches. Beyond
// the drawing's hand, a film may be off by its two edges.
func (l *letteringCheck) add(name, what string, f standards.Formula, got, want float64, b bound, line [2]geometry.Point) {
	tolerance := float64(l.o.tolerance()*math.Abs(want)) + 2*geometry.OutlineTolerance
	c := Check{
		Marking: l.o.Marking, Part: Characters, Name: name, What: what, Unit: l.rule.Unit, Formula: f,
		Measured: geometry.Length(got), Expected: geometry.Length(want), Difference: geometry.Length(got - want), Tolerance: geometry.Length(tolerance),
		Ratio: got / l.high, ExpectedRatio: want / l.high, Text: citation(l.rule), CanStop: l.rule.CanStop(name), CanWarn: l.rule.Force(name) >= standards.MayWarn, Line: line, Verdict: Conforms,
	}
	c.Evidence = evidenceFor(l.o.Explains, c.Dimension())
	off := got - want
	bad := math.Abs(off) > tolerance
	switch b {
	case atMost:
		bad = off > tolerance
	case atLeast:
		bad = off < -tolerance
	}
	if bad {
		c.Verdict = Unexplained
		if len(c.Evidence) > 0 {
			c.Verdict = OnFile
		}
	}
	l.checks = append(l.checks, c)
}

// heights holds the height against the sizes that the rule offers, and each character
// against the others, which may warn and no more.
func (l *letteringCheck) heights(chars []lettered) {
	var first lettered
	for _, c := range chars {
		if isProportioned(c.rune) && math.Abs(c.box.Height()-l.high) < geometry.OutlineTolerance {
			first = c
			break
		}
	}
	upright := [2]geometry.Point{first.box.Min, {X: first.box.Min.X, Y: first.box.Max.Y}}
	nearest, on := math.NaN(), ""
	for _, s := range l.rule.Sizes {
		for _, v := range s.Inches {
			if !(math.Abs(v-l.high) >= math.Abs(nearest-l.high)) {
				nearest, on = v, s.Provenance.Note
			}
		}
	}
	if !math.IsNaN(nearest) {
		what := "height of the characters; nearest of the sizes offered"
		if on != "" {
			what += ": " + on
		}
		l.add("height", what, "", l.high, nearest, exactly, upright)
		offered := &l.checks[len(l.checks)-1]
		force := l.sizeForce(nearest)
		offered.CanStop, offered.CanWarn = force == standards.MayStop, force >= standards.MayWarn
	}
	for _, c := range chars {
		if h := c.box.Height(); isProportioned(c.rune) && math.Abs(h-l.high) > float64(l.o.tolerance()*l.high)+2*geometry.OutlineTolerance {
			l.add("height", fmt.Sprintf("height of %c, against that of the others", c.rune), "", h, l.high, exactly, [2]geometry.Point{{X: c.box.Min.X, Y: c.box.Min.Y}, {X: c.box.Min.X, Y: c.box.Max.Y}})
			uneven := &l.checks[len(l.checks)-1] // no document that was read says it
			uneven.CanStop, uneven.CanWarn, uneven.Text = false, true, "common practice, no source"
		}
	}
}

// size holds the height against the one that was said.
func (l *letteringCheck) size() {
	if l.o.Size > 0 {
		l.add("size", "height of the characters, as it should be", "", l.high, l.o.Size.Inches(), exactly, [2]geometry.Point{})
		c := &l.checks[len(l.checks)-1]
		c.CanStop, c.CanWarn = true, true
	}
}

// sizeForce is what a height other than the nearest that is offered may do.
func (l *letteringCheck) sizeForce(v float64) standards.Force {
	for _, s := range l.rule.Sizes {
		if slices.Contains(s.Inches, v) {
			return s.Provenance.Force()
		}
	}
	return l.rule.Force("height")
}

// character holds width and strokes of one character against the rule.
func (l *letteringCheck) character(c lettered) error {
	if !isProportioned(c.rune) {
		return nil
	}
	rule := l.rule.Lettering
	width, b, what := rule.Width, exactly, fmt.Sprintf("width of %c", c.rune)
	force := l.rule.Force("width")
	for _, e := range rule.Exceptions {
		if e.Character == string(c.rune) {
			if width = e.Width; e.AtMost {
				b, what = atMost, what+", at most"
			}
			force = e.Provenance.Force()
		}
	}
	at := c.box.Max.Y
	if err := l.ratio("width", what, width, c.box.Width(), b, [2]geometry.Point{{X: c.box.Min.X, Y: at}, {X: c.box.Max.X, Y: at}}); err != nil {
		return err
	}
	if width != "" {
		one := &l.checks[len(l.checks)-1]
		one.CanStop, one.CanWarn = force == standards.MayStop, force >= standards.MayWarn
	}
	if !l.whole {
		return nil
	}
	m := glyphs.Measure(c.paint, c.rune, geometry.Length(l.high))
	for _, s := range []struct {
		what  string
		ratio float64
	}{{"upright stroke", m.StrokeV}, {"level stroke", m.StrokeH}} {
		if s.ratio > 0 {
			if err := l.ratio("stroke", fmt.Sprintf("%s of %c", s.what, c.rune), rule.Stroke, s.ratio*l.high, exactly, [2]geometry.Point{}); err != nil {
				return err
			}
		}
	}
	return nil
}

// gap holds the space between two neighbours against the rule, a part of the usual
// width.
func (l *letteringCheck) gap(a, b lettered) error {
	rule := l.rule.Lettering
	if rule.Gap == "" || rule.Width == "" {
		return nil
	}
	gap, err := rule.Gap.Eval(nil)
	if err != nil {
		return err
	}
	width, err := rule.Width.Eval(nil)
	if err != nil {
		return err
	}
	y := (b.box.Min.Y + b.box.Max.Y) / 2
	l.add("gap", fmt.Sprintf("gap between %c and %c, at least", a.rune, b.rune), "", b.box.Min.X-a.box.Max.X, gap*width*l.high, atLeast,
		[2]geometry.Point{{X: a.box.Max.X, Y: y}, {X: b.box.Min.X, Y: y}})
	return nil
}

// ratio holds a length against a number of heights; without a number it says nothing.
func (l *letteringCheck) ratio(name, what string, f standards.Formula, got float64, b bound, line [2]geometry.Point) error {
	if f == "" {
		return nil
	}
	v, err := f.Eval(nil)
	if err != nil {
		return err
	}
	l.add(name, what, f, got, v*l.high, b, line)
	return nil
}
