package proportions

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// Names of the checks that hold the whole of a drawing against the whole of a rule.
const (
	OutlineCheck = "outline" // of a part: how much of its borders is there
	AreaCheck    = "area"    // of a part: how much of it shows one paint
	ColourCheck  = "colour"  // of a part: the class of its paint
	ExtraCheck   = "extra"   // what is drawn besides
	PenCheck     = "pen"     // outlines drawn as lines so wide that it is not told which edge is meant
)

// Mark is what to draw over a drawing: a line or a hatch of what lacks, or of what is
// there besides.
type Mark struct {
	Extra bool
	Lines [][]geometry.Point // in the coordinates of the drawing
}

// told returns a check that is said in words, about a part or about all.
func (w *whole) told(o Options, part, name, said, hint string) Check {
	return Check{
		Marking: o.Marking, Part: part, Name: name, What: said, Said: said, Unit: standards.Inches, Text: citation(w.rule), CanStop: true, CanWarn: true,
		Verdict: Unexplained, Hint: hint, Line: [2]geometry.Point{w.m.centre, w.m.centre}, Evidence: evidenceFor(o.Explains, part+"."+name),
	}.excused()
}

// excused returns c with the verdict that its evidence gives it.
func (c Check) excused() Check {
	if c.Verdict == Unexplained && len(c.Evidence) > 0 {
		c.Verdict = OnFile
	}
	return c
}

// checks returns what lacks, what is of another paint and what is there besides.
func (w *whole) checks(o Options) []Check {
	list, lacking := w.outlineChecks(o)
	more, besides := w.extraChecks(o)
	w.lacking, w.besides = lacking, besides
	return append(append(list, w.paintChecks(o)...), more...)
}

// marks returns what to draw over the drawing, after checks.
func (w *whole) marks() (out []Mark) {
	missing, extra := w.hatches()
	for _, m := range []Mark{{false, append(slices.Clone(w.lacking), missing...)}, {true, append(slices.Clone(w.besides), extra...)}} {
		if len(m.Lines) > 0 {
			out = append(out, w.drawnMark(m))
		}
	}
	return out
}

func (w *whole) drawnMark(m Mark) Mark {
	out := Mark{Extra: m.Extra}
	for _, l := range m.Lines {
		pts := make([]geometry.Point, len(l))
		for i, q := range l {
			pts[i] = w.m.drawn(q)
		}
		out.Lines = append(out.Lines, pts)
	}
	return out
}

// outlineChecks tells of each part which of its borders lack.
func (w *whole) outlineChecks(o Options) (list []Check, lines [][]geometry.Point) {
	byPart := map[int][]gap{}
	for _, g := range w.gaps() {
		part := w.borders[g.border].part
		byPart[part] = append(byPart[part], g)
		lines = append(lines, g.line)
	}
	for i, p := range w.rule.Parts {
		gaps := byPart[i]
		if len(gaps) == 0 || w.absent(p.ID) {
			continue // a part that lacks altogether is told as that
		}
		all, lacks := 0.0, 0.0
		for _, b := range w.borders {
			if b.part == i {
				all += w.sight(b)
			}
		}
		var names []string
		for _, g := range gaps {
			lacks += g.length
			if n := w.nameOf(w.borders[g.border]); !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
		if len(names) > 4 {
			names = append(names[:3], fmt.Sprintf("%d more", len(names)-3))
		}
		scale := w.m.scale
		c := w.told(o, p.ID, OutlineCheck, "", "draw all of it")
		c.Measured, c.Expected, c.Difference = geometry.Length((all-lacks)*scale), geometry.Length(all*scale), geometry.Length(-lacks*scale)
		c.Tolerance = geometry.Length((1 - leastThere) * all * scale)
		c.Said = o.Units.Sprintf("%s of its outline is not there, %s of %s: %s", percent(lacks/all), -c.Difference, c.Expected, strings.Join(names, ", "))
		c.What = c.Said
		at := w.m.drawn(gaps[0].line[len(gaps[0].line)/2])
		c.Line = [2]geometry.Point{at, at}
		list = append(list, c)
	}
	return list, lines
}

// absent tells whether nothing of a part was found by its edges.
func (w *whole) absent(part string) bool {
	return slices.Contains(w.missing, part)
}

// paintShare is how much of a part shows a fill.
type paintShare struct {
	fill   string
	area   float64
	places int
}

// shares returns what fills a part shows, the largest share first; alike fills are
// one.
func (w *whole) shares(layer int) (list []paintShare, all float64) {
	for _, a := range w.areas {
		if a.layer != layer {
			continue
		}
		all += a.area
		k := slices.IndexFunc(list, func(s paintShare) bool { return sameHue(s.fill, a.fill) })
		if k < 0 {
			list, k = append(list, paintShare{fill: a.fill}), len(list)
		}
		list[k].area += a.area
		list[k].places++
	}
	slices.SortStableFunc(list, func(a, b paintShare) int { return cmp.Compare(b.area, a.area) })
	return list, all
}

// sameHue tells whether two fills are of one class. What is not filled is white.
func sameHue(a, b string) bool {
	if a == b {
		return true
	}
	if a == "" || b == "" {
		return slices.Contains(huesOf(a+b), White)
	}
	ca, ok1 := rgbOf(a)
	cb, ok2 := rgbOf(b)
	if !ok1 || !ok2 {
		return false
	}
	far := 0.0
	for i := range 3 {
		far = math.Max(far, math.Abs(ca[i]-cb[i]))
	}
	return far < shadeApart && slices.ContainsFunc(huesOf(a), func(h Hue) bool { return slices.Contains(huesOf(b), h) })
}

// shadeApart is how far red, green or blue of two shades of one paint may differ.
const shadeApart = 0.25

// paintChecks holds the paints of each part against its role.
func (w *whole) paintChecks(o Options) []Check {
	if !w.colours {
		return nil
	}
	var out []Check
	for layer, role := range w.paints {
		list, all := w.shares(layer)
		p := w.partOf(layer)
		if len(list) == 0 || role == standards.Unpainted || w.absent(p.ID) {
			continue
		}
		right, places := 0.0, 0
		for _, s := range list {
			if agrees(s.fill, role) {
				right += s.area
			} else {
				places += s.places
			}
		}
		wrong := slices.IndexFunc(list, func(s paintShare) bool { return !agrees(s.fill, role) })
		want := colourName(role)
		switch {
		case wrong < 0:
			if len(list) > 1 && list[1].area > (1-leastThere)*all && list[1].places >= fewestBare {
				out = append(out, w.told(o, p.ID, AreaCheck, fmt.Sprintf("it is drawn in two paints, %s and %s", hueName(list[0].fill), hueName(list[1].fill)), "fill all of it with one paint"))
			}
		case right < (1-leastThere)*all || wrong == 0 && list[0].area > leastThere*all:
			out = append(out, w.told(o, p.ID, ColourCheck, fmt.Sprintf("it is %s, must be %s", hueName(list[wrong].fill), want), "fill it "+want))
		case right < leastThere*all && places >= fewestBare:
			out = append(out, w.told(o, p.ID, AreaCheck, fmt.Sprintf("%s of its area is not %s: there it is %s", percent(1-right/all), want, hueName(list[wrong].fill)), "fill all of it "+want))
		}
	}
	return out
}

// colourName writes a role as words: "insignia blue".
func colourName(role string) string { return strings.ReplaceAll(role, "_", " ") }

// extraChecks tells what is drawn within the figure, or joined to it, besides the
// rule. Open lines, such as a centre line, are none.
func (w *whole) extraChecks(o Options) (list []Check, lines [][]geometry.Point) {
	length := 0.0
	var at geometry.Point
	for _, x := range w.extras() {
		if length == 0 {
			at = x.line[len(x.line)/2]
		}
		length += x.length
		for i := 0; i+1 < len(x.line); i += 2 {
			lines = append(lines, x.line[i:i+2])
		}
	}
	if length > 0 {
		c := w.told(o, "", ExtraCheck, "", "take it out, or say which rule the drawing follows")
		c.Measured = geometry.Length(length * w.m.scale)
		c.Difference = c.Measured
		c.Said = o.Units.Sprintf("%s of outline within the figure is not part of the rule", c.Measured)
		if n := whereabouts(at); n != "" {
			c.Said += ", " + n
		}
		c.What = c.Said
		q := w.m.drawn(at)
		c.Line = [2]geometry.Point{q, q}
		list = append(list, c)
	}
	for _, l := range w.rounds() {
		r := l[0].Sub(geometry.Point{}).Norm()
		c := w.told(o, "", ExtraCheck, o.Units.Sprintf("a circle of %s radius round the figure is not part of the rule", geometry.Length(r*w.m.scale)), "take it out, or say which rule the drawing follows")
		c.Line[0], c.Line[1] = w.m.drawn(l[0]), w.m.drawn(l[0])
		w.ringed, lines, list = append(w.ringed, r), append(lines, l), append(list, c)
	}
	if area, fill := w.joined(); area > 0 {
		c := w.told(o, "", ExtraCheck, fmt.Sprintf("%.4g sq in of %s touch the figure and are not part of the rule", area*w.m.scale*w.m.scale, hueName(fill)), "take it out, or say which rule the drawing follows")
		list = append(list, c)
	}
	return list, lines
}

// Circles round a figure: how near, governing radii, their centre must lie to the figure's.
const (
	roundMost = 3 // governing radii: larger ones are frames
	roundOff  = 0.02
)

// rounds returns the seen circles about the figure's centre that have all of it inside, by
// more than what is the figure's own: then it is the inner part of a larger one.
func (w *whole) rounds() (out [][]geometry.Point) {
	around := w.box.Grown(leftMargin)
	for _, c := range w.drawing {
		box := c.Bounds()
		r := (box.Width() + box.Height()) / 4
		if !c.Closed() || !box.Contains(around.Min) || !box.Contains(around.Max) || r > roundMost || box.Centre().Dist(geometry.Point{}) > roundOff {
			continue
		}
		line := c.Flattened(chordAccuracy)
		circle, seen := true, !w.scene.known
		for i, q := range line {
			away := q.Sub(geometry.Point{})
			circle = circle && math.Abs(away.Norm()-r) < roundOff
			if i > 0 && !seen {
				q, side := q.Lerp(line[i-1], 0.5), away.Unit().Scale(sightStep)
				seen = w.shown(q.Add(side)) != w.shown(q.Add(side.Scale(-1)))
			}
		}
		if circle && seen {
			out = append(out, line)
		}
	}
	return out
}

// joined returns the area beside the figure, and its fill, that is painted with
// another than what lies round it and touches the figure.
func (w *whole) joined() (area float64, fill string) {
	if !w.colours {
		return 0, ""
	}
	var outside []int
	ground := []paintShare{}
	for i, a := range w.areas {
		if a.layer >= 0 {
			continue
		}
		outside = append(outside, i)
		k := slices.IndexFunc(ground, func(s paintShare) bool { return s.fill == a.fill })
		if k < 0 {
			ground, k = append(ground, paintShare{fill: a.fill}), len(ground)
		}
		ground[k].area += a.area
	}
	slices.SortStableFunc(ground, func(a, b paintShare) int { return cmp.Compare(b.area, a.area) })
	if len(ground) < 2 {
		return 0, ""
	}
	near := newPlaces(w.ruleDrawing)
	var reached []int
	for _, i := range outside {
		if w.areas[i].fill != ground[0].fill && near.any(w.areas[i].Point, 3*besideDepth+w.band) {
			reached = append(reached, i)
		}
	}
	touching := len(reached)
	done := map[int]bool{}
	for k := 0; k < len(reached); k++ {
		a := w.areas[reached[k]]
		if done[reached[k]] {
			continue
		}
		done[reached[k]], fill = true, a.fill
		area += a.area
		for _, i := range outside {
			if b := w.areas[i]; !done[i] && b.fill == a.fill && b.Dist(a.Point) < 1.6*gridStep+w.farthest {
				reached = append(reached, i)
			}
		}
	}
	if touching < fewestBare || area < joinedLeast {
		return 0, ""
	}
	return area, fill
}

// joinedLeast is the area beside a figure, in squares of the governing radius, below
// which nothing is said.
const joinedLeast = 0.01

// Hatching, governing radii.
const (
	hatchStep = 0.06
	hatchFine = 0.015
)

// hatches returns lines over what shows another paint than the rule's, rising to the
// right where the rule's lacks, and falling where something is beside it.
func (w *whole) hatches() (missing, extra [][]geometry.Point) {
	if !w.colours {
		return nil, nil
	}
	fills := map[int]bool{} // layers that were blamed
	for layer, role := range w.paints {
		list, all := w.shares(layer)
		right := 0.0
		for _, s := range list {
			if agrees(s.fill, role) {
				right += s.area
			}
		}
		fills[layer] = role != standards.Unpainted && all > 0 && right < leastThere*all
	}
	joined, fill := w.joined()
	box := w.box.Grown(round)
	reach := (box.Width() + box.Height()) / 2
	middle := box.Centre()
	for _, rising := range []bool{true, false} {
		dir := geometry.Vec{X: math.Sqrt2 / 2, Y: math.Sqrt2 / 2}
		if !rising {
			dir.Y = -dir.Y
		}
		for off := -reach; off < reach; off += hatchStep {
			var open []geometry.Point
			for t := -reach; t < reach; t += hatchFine {
				q := middle.Add(dir.Scale(t)).Add(dir.Perp().Scale(off))
				layer := w.top(q)
				bad := false
				switch {
				case rising:
					bad = layer >= 0 && fills[layer] && !agrees(w.shown(q), w.paints[layer])
				default:
					bad = layer < 0 && joined > 0 && w.shown(q) == fill
				}
				if bad {
					open = append(open, q)
					continue
				}
				if len(open) > 1 {
					if line := []geometry.Point{open[0], open[len(open)-1]}; rising {
						missing = append(missing, line)
					} else {
						extra = append(extra, line)
					}
				}
				open = nil
			}
		}
	}
	return missing, extra
}
