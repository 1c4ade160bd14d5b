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

// Explaining a drawing, of the size of a part (at most the governing radius).
const (
	settledAt  = 0.0022 // root mean square of a border about what explains it
	settledMin = 0.0009 // governing radii
	slipLeast  = 0.0034 // largest displacement of a slip that is told
	slipMin    = 0.0015 // governing radii
	mostSlips  = 4
	noiseShare = 2.5 // standard errors of a border's place
	asGood     = 1.5 // times the residual of the best: as good an explanation
)

// explained is a slip with its amounts.
type explained struct {
	slip
	amounts []float64
	largest float64 // displacement, governing radii
}

// fitting fits the pose of a rule's drawing anew, together with slips taken one after
// the other: what is left of the displacements after each. Columns are made square to
// those before them (Gram and Schmidt, by the weights of the places), so that one more
// costs a pass over the places.
type fitting struct {
	w     *whole
	at    []int // places found
	root  []float64
	basis [][]float64
	left  []float64 // times the root of the weight
}

func (w *whole) fitting() *fitting {
	f := &fitting{w: w}
	for k, e := range w.samples {
		if w.found[k] {
			f.at, f.root, f.left = append(f.at, k), append(f.root, math.Sqrt(e.weight)), append(f.left, math.Sqrt(e.weight)*w.off[k])
		}
	}
	for _, of := range []func(e sample) float64{
		func(e sample) float64 { return e.out.X }, func(e sample) float64 { return e.out.Y },
		func(e sample) float64 { return e.out.Dot(geometry.Vec(e.Point)) }, func(e sample) float64 { return e.out.Dot(geometry.Vec(e.Point).Perp()) },
	} {
		f.take([][]float64{w.column(-1, of)})
	}
	return f
}

// square returns columns made square to the basis and to each other; what then hardly
// stands apart is left out.
func (f *fitting) square(columns [][]float64) [][]float64 {
	var out [][]float64
	for _, c := range columns {
		v := make([]float64, len(f.at))
		before := 0.0
		for i, k := range f.at {
			v[i] = f.root[i] * c[k]
			before += float64(v[i] * v[i])
		}
		for _, list := range [][][]float64{f.basis, out} {
			for _, b := range list {
				dot := 0.0
				for i := range v {
					dot += float64(v[i] * b[i])
				}
				for i := range v {
					v[i] -= float64(dot * b[i])
				}
			}
		}
		after := 0.0
		for _, x := range v {
			after += float64(x * x)
		}
		if after < notApart*before || after == 0 {
			continue
		}
		for i := range v {
			v[i] /= math.Sqrt(after)
		}
		out = append(out, v)
	}
	return out
}

// notApart is the share of a column that must stand apart from those before it.
const notApart = 1e-6

// without returns what is left with more columns.
func (f *fitting) without(square [][]float64) []float64 {
	left := slices.Clone(f.left)
	for _, b := range square {
		dot := 0.0
		for i := range left {
			dot += float64(left[i] * b[i])
		}
		for i := range left {
			left[i] -= float64(dot * b[i])
		}
	}
	return left
}

func (f *fitting) take(columns [][]float64) {
	square := f.square(columns)
	f.left, f.basis = f.without(square), append(f.basis, square...)
}

// spread returns what is left by the places of the rule's drawing.
func (f *fitting) spread(left []float64) []float64 {
	out := make([]float64, len(f.w.samples))
	for i, k := range f.at {
		out[k] = left[i] / f.root[i]
	}
	return out
}

// solve returns the amounts of slips, fitted together with the pose: how far it moves,
// grows and turns.
func (w *whole) solve(list []slip) (left, pose, amounts []float64, ok bool) {
	var rows [][]float64
	var want, weights []float64
	var at []int
	for k, e := range w.samples {
		if !w.found[k] {
			continue
		}
		row := []float64{e.out.X, e.out.Y, e.out.Dot(geometry.Vec(e.Point)), e.out.Dot(geometry.Vec(e.Point).Perp())}
		for _, x := range list {
			for _, c := range x.columns {
				row = append(row, c[k])
			}
		}
		rows, want, weights, at = append(rows, row), append(want, w.off[k]), append(weights, e.weight), append(at, k)
	}
	if len(rows) == 0 {
		return nil, nil, nil, false
	}
	for i := range 4 { // a turn of discs is told by nothing
		row := make([]float64, len(rows[0]))
		row[i] = 1
		rows, want, weights = append(rows, row), append(want, 0), append(weights, 1e-6)
	}
	solved, ok := leastSquares(rows, want, weights)
	if !ok {
		return nil, nil, nil, false
	}
	left = make([]float64, len(w.samples))
	for i, k := range at {
		left[k] = want[i]
		for j, v := range rows[i] {
			left[k] -= float64(v * solved[j])
		}
	}
	return left, solved[:4], solved[4:], true
}

// size returns the extent of a border's part that its accuracy is a share of.
func (s *ruleDrawing) size(part int) float64 {
	box := s.boxOf(part)
	return math.Min(1, math.Max(box.Width(), box.Height())/2)
}

// misfit returns the largest root mean square of what is left along a border, as a
// part of what may be left; 1 and less explains the drawing.
func (w *whole) misfit(left []float64) (worst float64, border int) {
	border = -1
	for i, b := range w.borders {
		ss, n, sum := 0.0, 0.0, 0.0
		for _, k := range b.samples {
			if w.found[k] {
				e := w.samples[k]
				ss, n, sum = ss+float64(e.weight*left[k]*left[k]), n+1, sum+e.weight
			}
		}
		if n < fewestPlaces-2 {
			continue
		}
		allowed := math.Max(settledMin, settledAt*w.size(b.part)) + noiseShare*w.m.grain/math.Sqrt(math.Max(1, n/4))
		if r := math.Sqrt(ss/sum) / allowed; r > worst {
			worst, border = r, i
		}
	}
	return worst, border
}

// slipTrial is a slip with what it would leave.
type slipTrial struct {
	x      slip
	left   []float64
	misfit float64
	rest   float64
}

// explain returns the fewest slips that explain where the drawing lies; nil where it
// needs none, and ok false where no few of them do. Worst is then the border farthest
// from its place.
func (w *whole) explain() (list []explained, worst int, ok bool) {
	f := w.fitting()
	if len(f.at) == 0 {
		return nil, -1, true
	}
	misfit, worst := w.misfit(f.spread(f.left))
	if misfit <= 1 {
		return nil, -1, true
	}
	all := slices.Clone(w.allSlips())
	var taken []slip
	for range mostSlips {
		var trials []slipTrial
		for _, x := range all {
			square := f.square(x.columns)
			if len(square) == 0 {
				continue
			}
			t := slipTrial{x: x, left: f.without(square)}
			for _, v := range t.left {
				t.rest += float64(v * v)
			}
			trials = append(trials, t)
		}
		if len(trials) == 0 {
			return nil, worst, false
		}
		slices.SortStableFunc(trials, func(a, b slipTrial) int { return cmp.Compare(a.cost(), b.cost()) })
		trials = trials[:min(len(trials), slipsWeighed)]
		for i := range trials {
			trials[i].misfit, _ = w.misfit(f.spread(trials[i].left))
		}
		// Of those that explain all, the plainest; else the one that leaves least.
		best := slices.MinFunc(trials, func(a, b slipTrial) int { return cmp.Compare(a.misfit, b.misfit) })
		if best.misfit <= 1 {
			for _, t := range trials {
				if t.misfit <= math.Min(1, math.Max(asGood*best.misfit, 0.35)) && t.x.plainer(best.x) {
					best = t
				}
			}
			taken = append(taken, best.x)
			return w.amounts(w.needed(taken)), worst, true
		}
		taken = append(taken, trials[0].x)
		f.take(trials[0].x.columns)
		all = slices.DeleteFunc(all, trials[0].x.same)
	}
	return nil, worst, false
}

// slipsWeighed is how many slips, of those that leave least, are looked at border by
// border.
const slipsWeighed = 40

// same tells whether two slips are one.
func (x slip) same(y slip) bool {
	return x.kind == y.kind && x.part == y.part && x.number == y.number && x.border == y.border && x.side == y.side
}

// cost is what a slip leaves; one more amount has to save a tenth.
func (t slipTrial) cost() float64 { return t.rest * same.Pow(1.1, float64(len(t.x.columns))) }

// plainer tells whether a slip is believed before another.
func (x slip) plainer(y slip) bool {
	if len(x.columns) != len(y.columns) && (x.kind > slipStretch || y.kind > slipStretch) {
		return len(x.columns) < len(y.columns)
	}
	return x.kind < y.kind
}

// needed leaves out slips without which the drawing is explained as well.
func (w *whole) needed(list []slip) []slip {
	for i := 0; i < len(list) && len(list) > 1; {
		rest := slices.Delete(slices.Clone(list), i, i+1)
		if left, _, _, ok := w.solve(rest); ok {
			if f, _ := w.misfit(left); f <= 1 {
				list = rest
				continue
			}
		}
		i++
	}
	return list
}

// amounts returns slips with what they amount to.
func (w *whole) amounts(list []slip) []explained {
	_, pose, solved, ok := w.solve(list)
	if !ok {
		return nil
	}
	w.grown = pose[2]
	var out []explained
	for _, x := range list {
		e := explained{slip: x, amounts: solved[:len(x.columns)]}
		solved = solved[len(x.columns):]
		for k := range w.samples {
			d := 0.0
			for j, c := range x.columns {
				d += float64(c[k] * e.amounts[j])
			}
			e.largest = math.Max(e.largest, math.Abs(d))
		}
		out = append(out, e)
	}
	return out
}

// ShapeCheck is a slip of shape or place: oval, skewed, moved, turned, one edge.
const ShapeCheck = "shape"

// slipChecks explains checks that fail by the fewest slips: those that follow from
// another are said to, and slips of shape are added. Other texts that a number
// conforms to stay.
func (w *whole) slipChecks(checks []Check, o Options) []Check {
	list, worst, ok := w.explain()
	if w.puzzled = !ok; !ok {
		if worst >= 0 && !slices.ContainsFunc(checks, Check.deviates) {
			return append(checks, w.outOfPlace(worst, o))
		}
		return checks
	}
	var said []Check
	kept := map[string]bool{}
	moved := map[string]bool{} // parts off their place: not about the centre, but there
	var names []string
	for _, x := range list {
		part := 1.0
		if x.part >= 0 {
			part = w.size(x.part)
		}
		if x.largest < math.Max(slipMin, slipLeast*part) || x.part >= 0 && w.absent(w.rule.Parts[x.part].ID) && w.there(x.part) < mostThere {
			continue // a part that is not there is not off its place
		}
		if x.kind == slipNumber {
			key := w.rule.Parts[x.part].ID + "." + x.number
			if slices.ContainsFunc(checks, func(c Check) bool { return c.Dimension() == key && c.fails() }) {
				kept[key] = true
				names = append(names, key)
				continue
			}
		}
		c := w.shape(x, o)
		moved[c.Part] = moved[c.Part] || x.kind == slipMove || x.kind == slipArc
		said, names = append(said, c), append(names, c.Said)
	}
	for _, x := range list {
		if x.part < 0 && (x.kind == slipStretch || x.kind == slipOval) && slices.Contains(names, w.shape(x, o).Said) {
			for i := range checks {
				checks[i] = checks[i].inStretched(w.grown, same.Hypot(x.amounts[0], x.amounts[1]), names[0])
			}
		}
	}
	var numbers []string
	for _, c := range checks {
		if c.deviates() && c.Said == "" && c.Name != "size" && !slices.Contains(numbers, c.Dimension()) {
			numbers = append(numbers, c.Dimension())
		}
	}
	if len(names) == 0 || len(numbers) > 0 && len(said) > 0 && len(names) > max(1, len(numbers)) {
		return checks // they are as few themselves
	}
	for i := range checks {
		c := &checks[i]
		if c.absent() && c.deviates() && moved[c.Part] {
			c.Verdict, c.Follows, c.Hint = Following, strings.Join(names, "; "), ""
		}
		if c.deviates() && c.Said == "" && c.Name != "size" && !c.absent() && c.Measured != 0 && !kept[c.Dimension()] {
			c.Verdict, c.Follows, c.Hint = Following, strings.Join(names, "; "), ""
		}
	}
	return append(checks, said...)
}

// inStretched is the check of the size of a figure that is stretched: its mean size, which
// follows from the stretch where one of its extents is right.
func (c Check) inStretched(grown, stretch float64, said string) Check {
	if c.Name != "size" || c.Part != "" {
		return c
	}
	c.Measured = geometry.Length(c.Measured * geometry.Length(1+grown))
	c.Difference, c.Ratio = c.Measured-c.Expected, float64(c.Measured/c.Expected)
	switch off := math.Abs(float64(c.Difference)); {
	case off <= float64(c.Tolerance):
		c.Verdict, c.Hint = Conforms, ""
	case c.deviates() && off <= float64(c.Tolerance)+float64(stretch/2*float64(c.Expected)):
		c.Verdict, c.Follows, c.Hint = Following, said, ""
	}
	return c
}

// mostThere is the share of a part's borders that must be found for it to be off its place
// and not missing.
const mostThere = 0.5

// there returns the share of a part's borders in sight that were found.
func (w *whole) there(part int) float64 {
	all, found := 0.0, 0.0
	for k, e := range w.samples {
		if e.part != part {
			continue
		}
		if all += e.weight; w.found[k] {
			found += e.weight
		}
	}
	return found / math.Max(all, 1e-12)
}

// fails tells whether a check does not plainly conform.
func (c Check) fails() bool { return c.Verdict != Conforms || c.Other != "" }

// deviates tells whether a check fails and no text or evidence stands for it.
func (c Check) deviates() bool { return c.Verdict == Unexplained || c.Verdict == OnFile }

// outOfPlace tells of a border that lies off its place in no way that has a name.
func (w *whole) outOfPlace(border int, o Options) Check {
	b := w.borders[border]
	most, at := 0.0, geometry.Point{}
	for _, k := range b.samples {
		if w.found[k] && math.Abs(w.off[k]) > most {
			most, at = math.Abs(w.off[k]), w.samples[k].Point
		}
	}
	length := geometry.Length(most * w.m.scale)
	c := w.told(o, w.rule.Parts[b.part].ID, ShapeCheck, o.Units.Sprintf("its %s is off its place by up to %s", w.nameOf(b), length), "draw it anew")
	c.Measured, c.Difference, c.Tolerance = length, length, geometry.Length(slipLeast*w.size(b.part)*w.m.scale)
	q := w.m.drawn(at)
	c.Line = [2]geometry.Point{q, q}
	return c
}

// shape says a slip in words, with its amount.
func (w *whole) shape(x explained, o Options) Check {
	part, name := "", "the figure"
	if x.part >= 0 {
		part = w.rule.Parts[x.part].ID
		name = "it"
	}
	if x.side != "" {
		name = "what is " + x.side
	}
	length := func(v float64) string { return o.Units.Length(geometry.Length(math.Abs(v)*w.m.scale), 4) }
	degrees := func(v float64) string { return geometry.FormatNumber(math.Abs(v)*180/math.Pi, 2) + " deg" }
	ratio := func(v float64) string { return geometry.FormatNumber(100*math.Abs(v), 2) + " %" }
	measured := x.largest
	said, hint := "", ""
	switch a := x.amounts; x.kind {
	case slipNumber:
		c, ok := w.numberCheck(x, o)
		if ok {
			return c
		}
		said, hint = fmt.Sprintf("its %s is off by %s", x.number, length(x.largest)), "draw it by the rule"
	case slipStretch, slipOval:
		wide, skew := w.onPage(a[0], a[1])
		said, hint = stretched(name, wide, skew, w.allRound(x.part))
	case slipMove, slipArc:
		measured = same.Hypot(a[0], a[1])
		said, hint = fmt.Sprintf("%s is off its place by %s, %s", w.subject(x, name), length(measured), towards(a[0], a[1], length)), "move it back"
	case slipTurn, slipSideTurn:
		way := "counter-clockwise"
		if (a[0] < 0) != w.m.mirrored {
			way = "clockwise"
		}
		said, hint = fmt.Sprintf("%s is turned by %s %s", name, degrees(a[0]), way), "turn it back"
	case slipScale:
		said, hint = fmt.Sprintf("%s is %s too %s", name, ratio(a[0]), word(a[0], "large", "small")), "scale it by "+geometry.FormatNumber(1/(1+a[0]), 4)
	case slipEdge:
		measured = math.Abs(a[0])
		said, hint = fmt.Sprintf("its %s is %s too far %s", w.edgeName(x), length(a[0]), word(a[0], "out", "in")), "move that edge"
	case slipTilt:
		b := w.borders[x.border]
		said, hint = fmt.Sprintf("its %s is off by %s in angle", w.edgeName(x), degrees(2*a[1]/b.length)), "draw that edge at its angle"
	case slipRound:
		e := 2 * same.Hypot(a[0], a[1]) / w.borders[x.border].radius
		said, hint = fmt.Sprintf("its %s is oval by %s", w.edgeName(x), ratio(e)), "draw it round"
	case slipWide:
		said, hint = fmt.Sprintf("%s is %s too %s", name, ratio(a[0]), word(a[0], "long", "short")), "draw it as long as the other"
	case slipHigh:
		said, hint = fmt.Sprintf("%s is %s too %s", name, ratio(a[0]), word(a[0], "wide", "narrow")), "draw it as wide as the other"
	case slipSideX:
		said, hint = fmt.Sprintf("%s is %s too far to the %s", name, length(a[0]), word(a[0], "right", "left")), "move it back"
	case slipSideY:
		said, hint = fmt.Sprintf("%s is %s too %s", name, length(a[0]), word(a[0], "high", "low")), "move it back"
	}
	c := w.told(o, part, ShapeCheck, said, hint)
	c.Measured = geometry.Length(measured * w.m.scale)
	c.Difference = c.Measured
	extent := 1.0
	if x.part >= 0 {
		extent = w.size(x.part)
	}
	c.Tolerance = geometry.Length(math.Max(slipMin, slipLeast*extent) * w.m.scale)
	return c
}

// numberCheck is the check of a number that the edges taken alone did not tell.
func (w *whole) numberCheck(x explained, o Options) (Check, bool) {
	p := w.rule.Parts[x.part]
	key := p.ID + "." + x.number
	want, ok := w.m.values[key]
	if !ok {
		return Check{}, false
	}
	list, err := w.rule.ValuesAt(w.m.size, w.m.picks)
	if err != nil {
		return Check{}, false
	}
	c := w.told(o, p.ID, x.number, "", "")
	c.Said, c.What, c.Formula, c.CanStop = "", x.number, p.Number(x.number), w.rule.CanStop(key, w.m.picks...)
	for _, v := range list {
		if v.Part != p.ID || v.Name != x.number {
			continue
		}
		if v.Dimension == standards.Degrees {
			said := fmt.Sprintf("its %s is %s deg, must be %s deg", x.number, geometry.FormatNumber(want+x.amounts[0], 2), geometry.FormatNumber(want, 2))
			c = w.told(o, p.ID, ShapeCheck, said, "draw it at "+geometry.FormatNumber(want, 2)+" deg")
			c.Measured, c.Difference = geometry.Length(x.largest*w.m.scale), geometry.Length(x.largest*w.m.scale)
			return c, true
		}
	}
	c.Measured, c.Expected = geometry.Length((want+x.amounts[0])*w.m.scale), geometry.Length(want*w.m.scale)
	c.Difference, c.Tolerance = c.Measured-c.Expected, geometry.Length(o.tolerance()*math.Max(math.Abs(want), slipMin)*w.m.scale)
	c.Unit = ""
	return c, true
}

func word(v float64, above, below string) string {
	if v < 0 {
		return below
	}
	return above
}

// subject names what was moved.
func (w *whole) subject(x explained, name string) string {
	if x.border >= 0 {
		return "its " + w.edgeName(x)
	}
	return name
}

func (w *whole) edgeName(x explained) string {
	n := w.nameOf(w.borders[x.border])
	if x.side != "" && !strings.Contains(n, x.side) {
		n += " " + x.side
	}
	return n
}

// allRound tells whether all that is seen of a part is arcs, of which one says oval.
func (w *whole) allRound(part int) bool {
	return !slices.ContainsFunc(w.borders, func(b border) bool { return len(b.samples) > 0 && (part < 0 || b.part == part) && !b.arc })
}

// nearSquare is how near, radians, a drawing that is stretched or skewed is found to
// standing square on its page.
const nearSquare = 0.03

// onPage returns a stretch as it is along the page, where the drawing stands square on it
// and the stretch is level or upright there and not in the rule's own frame: a star in a
// disc stands alike at five turns.
func (w *whole) onPage(wide, skew float64) (onWide, onSkew float64) {
	square := slices.ContainsFunc(w.symmetries(), func(a float64) bool { return math.Abs(math.Remainder(w.m.turn+a, math.Pi/2)) < nearSquare })
	if math.Abs(skew) < 0.25*math.Abs(wide) || w.m.mirrored || !square {
		return wide, skew
	}
	sin, cos := same.Sincos(2 * w.m.turn)
	u, v := float64(wide*cos)-float64(skew*sin), float64(wide*sin)+float64(skew*cos)
	if math.Abs(v) < 0.25*math.Abs(u) {
		return u, v
	}
	return wide, skew
}

// stretched says a stretch: wide is by how much it is wider than high, skew the shear,
// of the size.
func stretched(name string, wide, skew float64, rounded bool) (said, hint string) {
	e := geometry.FormatNumber(100*same.Hypot(wide, skew), 2) + " %"
	oval := ""
	if rounded {
		oval = "oval: "
	}
	switch {
	case math.Abs(skew) < 0.25*math.Abs(wide):
		return fmt.Sprintf("%s is %s%s %s than %s", name, oval, geometry.FormatNumber(100*ofShorter(wide), 2)+" %", word(wide, "wider", "higher"), word(wide, "high", "wide")), "scale one direction alone back"
	case math.Abs(wide) < 0.25*math.Abs(skew) && !rounded:
		return fmt.Sprintf("%s is skewed by %s deg: what should stand square does not", name, geometry.FormatNumber(same.Atan(math.Abs(skew))*180/math.Pi, 2)), "take the skew out"
	}
	turn := geometry.FormatNumber(math.Mod(same.Atan2(skew, wide)*90/math.Pi+180, 180), 0)
	if rounded {
		return fmt.Sprintf("%s is oval by %s, longest at %s deg from level", name, e, turn), "draw it round"
	}
	return fmt.Sprintf("%s is stretched by %s along %s deg from level", name, e, turn), "take the stretch out"
}

// ofShorter returns by how much the longer of two extents is longer, that differ by e of
// their mean.
func ofShorter(e float64) float64 { return math.Abs(e) / (1 - math.Abs(e)/2) }

// towards says which way something lies off.
func towards(x, y float64, length func(float64) string) string {
	var out []string
	far := same.Hypot(x, y)
	if math.Abs(x) > 0.1*far {
		out = append(out, fmt.Sprintf("%s to the %s", length(x), word(x, "right", "left")))
	}
	if math.Abs(y) > 0.1*far {
		out = append(out, fmt.Sprintf("%s %s", length(y), word(y, "up", "down")))
	}
	return strings.Join(out, " and ")
}
