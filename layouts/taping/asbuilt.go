package taping

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/adjust"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// TapeReading is one length as measured on the aircraft, on the mark as painted or
// the film as laid: a tape from a hardpoint, or one of the other ways of the list.
type TapeReading struct {
	Place    layouts.Place // in the file that it was typed into
	Point    string        // id of a checkpoint
	From     string        // id of a hardpoint, or what an [Offset] is measured from
	Kind     TapeKind      // of an Offset; of a tape it may be empty
	Printed  g.Length      // the length that the list gave; NaN where the file has none
	Measured g.Length      // the tape's start taken off
	Typed    float64       // the number as typed, in Unit; 0: Measured in inches
	Unit     g.Length
}

// BuiltPoint is a checkpoint that was measured to. Vectors are in the flat of the
// marking: x to the reader's right, y up the drawing.
type BuiltPoint struct {
	ID       string
	Film     g.Point    // where it was meant to be
	Off      g.Vec      // from there to where the film has it
	Real     g.Position // on the skin; the zero position where that lies beyond the patch
	Readings int        // how many count
}

// BuiltReading is one reading beside the film as it lies.
type BuiltReading struct {
	TapeReading
	Used   bool
	Fitted g.Length // what it would read by the others and itself; of one left out, by the others
	Left   g.Length // read less Fitted
	W      float64  // that in its own deviations
	Share  float64  // of an error of this reading that shows in Left, 0 to 1
	// Seen and Named are the smallest errors that the test would find in 80 of 100 cases
	// (minimal detectable blunder), and for which this very reading would be named in 99;
	// +Inf where there are none.
	Seen, Named g.Length
}

// Movement is how a film lies: its shift and turn in the flat, without stretch.
type Movement struct {
	Offset   g.Vec    // of the drawing's held point
	Error    Ellipse  // of Offset
	Turn     float64  // degrees, to the left; 0 where one point alone was measured to
	TurnSD   float64  // its standard deviation
	Farthest g.Length // how far the corner of the paint that moved most lies off
	FarSD    g.Length // standard deviation of that
}

// BuiltMask is a marking as measured.
type BuiltMask struct {
	Marking string
	Movement
	All      *Movement // with all readings, where some were left out or corrected
	Points   []BuiltPoint
	Readings []BuiltReading
	Wrong    []BuiltWrong
	Chi2     float64 // of the readings used, against
	Spare    int     // as many readings over those needed
	Limit    float64 // of the size of W
	Seen     g.Length
	Named    g.Length // the largest of the readings' own
}

// printedWithin is how far a printed length may differ from the present one before
// the file belongs to another layout, in inches: it is printed to 0.0001.
const printedWithin = 0.001

// PlacingLimit is how far the corner of the paint that lies farthest off may lie from
// where it was meant, where the user says nothing (common practice, no source).
const PlacingLimit = g.Inch / 4

// AsBuilt returns where the markings really are: all readings of a film in one
// adjustment, each tested for being wrong. See [adjust.Problem.Search].
//
// Errors name the place in the file: a reading of a point or a tape that the list
// does not have, one that is there twice, a length printed for another layout.
// Findings: built-few, built-wrong, built-open, built-weak, built-misfit,
// built-outside.
func AsBuilt(tape layouts.TapeSpec, tilings []masks.Tiling, points []Checkpoint, given []TapeReading, limit g.Length) ([]BuiltMask, []layouts.Finding, error) {
	readings, err := matched(tape.Units, points, given)
	if err != nil {
		return nil, nil, err
	}
	var out []BuiltMask
	var findings []layouts.Finding
	for k := range tilings {
		var own []filmReading
		for _, r := range readings {
			if r.point.Marking == tilings[k].Laid.ID() {
				own = append(own, r)
			}
		}
		if len(own) == 0 {
			continue
		}
		m, found, ok := built(tape, &tilings[k], own, limit)
		findings = append(findings, found...)
		if ok {
			out = append(out, m)
		}
	}
	return out, findings, nil
}

// matched finds the point and the tape or way of each reading.
func matched(u g.Units, points []Checkpoint, given []TapeReading) ([]filmReading, error) {
	at := map[string]int{}
	for i, p := range points {
		at[p.ID] = i
	}
	seen := map[[3]string]bool{}
	var out []filmReading
	for _, r := range given {
		i, known := at[r.Point]
		if !known {
			return nil, fmt.Errorf("%v: there is no point %q in this layout: measure with the list that `maskloft tape --csv` prints for it", r.Place, r.Point)
		}
		p := &points[i]
		one := filmReading{TapeReading: r, point: p}
		if one.Unit == 0 {
			one.Unit, one.Typed = g.Inch, r.Measured.Inches()
		}
		length := g.Length(math.NaN())
		if tape, ok := p.tape(r.From); ok && (r.Kind == "" || r.Kind == tape.Kind) {
			one.tape, length = &tape, tape.Length
		} else {
			if one.offset = p.offset(r); one.offset != nil {
				one.From, length = one.offset.From, one.offset.Length
			}
			if one.offset == nil {
				what := "tape"
				if _, ok := p.tape(r.From); ok || r.Kind != "" && r.Kind != OnSkin && r.Kind != Straight {
					what = fmt.Sprintf("reading of the kind %q", r.Kind)
				}
				return nil, fmt.Errorf("%v: point %s has no %s from %q: it has %s", r.Place, r.Point, what, r.From, p.tapeNames())
			}
		}
		if math.Abs(float64(r.Printed-length)) > printedWithin {
			return nil, fmt.Errorf("%v: %s from %s is printed as %s and is %s in this layout: the file belongs to another one", r.Place, r.Point, r.From, u.Fixed(r.Printed, 4), u.Fixed(length, 4))
		}
		key := [3]string{r.Point, one.From, ""}
		if one.offset != nil {
			key[2] = string(r.Kind)
		}
		if seen[key] {
			return nil, fmt.Errorf("%v: %s from %s was measured twice: keep one line", r.Place, r.Point, r.From)
		}
		seen[key] = true
		out = append(out, one)
	}
	return out, nil
}

// built adjusts the readings of one film; false where they do not place it.
func built(tape layouts.TapeSpec, t *masks.Tiling, readings []filmReading, limit g.Length) (BuiltMask, []layouts.Finding, bool) {
	m, u := BuiltMask{Marking: t.Laid.ID()}, tape.Units
	var findings []layouts.Finding
	say := func(level layouts.Level, rule string, where g.Position, measured, expected, tolerance, hint, format string, args ...any) {
		findings = append(findings, layouts.Finding{
			Level: level, Rule: rule, Marking: m.Marking, Where: where, Message: m.Marking + ": " + fmt.Sprintf(format, args...),
			Hint: hint, Measured: measured, Expected: expected, Tolerance: tolerance, Source: "derived",
		})
	}
	here := readings[0].point.Mark.Skin
	f := newFilm(tape, readings)
	answer, err := f.problem.Search()
	if err != nil {
		say(layouts.Stop, "built-few", here, g.Counted(len(readings), "reading"), "two that cross, and a third elsewhere on the film", "none",
			"measure more points of it, each from two hardpoints that lie in different directions", "%s do not place the film: %v", g.Counted(len(readings), "reading"), err)
		return m, findings, false
	}
	s := answer.Kept
	m.Movement = f.movement(s, t)
	m.Chi2, m.Spare, m.Limit = s.Chi2, s.Spare, adjust.TestLimit(answer.Tests)
	count := map[string]int{}
	reliability := s.Reliability(answer.Tests)
	for i, r := range readings {
		fit := s.Rows[i]
		b := BuiltReading{TapeReading: r.TapeReading, Used: fit.Used, Left: g.Length(fit.Left + answer.Fixed[i]), W: fit.W(), Share: fit.Share, Seen: g.Length(reliability[i].Detectable), Named: g.Length(reliability[i].Named)}
		b.Fitted = r.Measured - b.Left
		m.Readings = append(m.Readings, b)
		if fit.Used {
			m.Seen, m.Named = max(m.Seen, b.Seen), max(m.Named, b.Named)
			count[r.Point]++
		}
	}
	told := map[string]bool{}
	for _, r := range readings {
		if told[r.Point] {
			continue
		}
		told[r.Point] = true
		p := BuiltPoint{ID: r.Point, Film: r.point.Mark.Film, Readings: count[r.Point]}
		p.Off, _ = f.moved(s, p.Film)
		if pos, ok := t.Laid.Map.PositionOf(p.Film.Add(p.Off)); ok {
			p.Real = pos
		}
		m.Points = append(m.Points, p)
	}
	if len(answer.Verdicts) > 0 && answer.All != nil {
		all := f.movement(answer.All, t)
		m.All = &all
	}
	for _, v := range answer.Verdicts {
		w := f.wrong(v, readings)
		m.Wrong = append(m.Wrong, w)
		where := here
		if len(v.Rows) > 0 {
			where = readings[v.Rows[0]].point.Mark.Skin
		}
		level, rule := layouts.Warn, "built-wrong"
		if v.Open {
			level, rule = layouts.Stop, "built-open"
		}
		say(level, rule, where, w.Measured, "what the other readings say", "1 set in 1000 by chance", w.Hint, "%s", w.Text)
	}
	if way, most, least := f.weakest(s); most > 10*least && most > 0.1 {
		say(layouts.Warn, "built-weak", here, "plus or minus "+u.Fixed(g.Length(most), 2), u.Fixed(g.Length(least), 2)+", as the other way", "10 times",
			"measure a point farther out, or from a hardpoint that lies in another direction", "the readings hardly hold it against %s: the likely error is %s", f.inWords(way), u.Fixed(g.Length(most), 2))
	}
	if p := adjust.ChiTail(s.Chi2, max(1, s.Spare)); s.Spare > 0 && p < adjust.FalseAlarm && len(answer.Verdicts) == 0 {
		say(layouts.Warn, "built-misfit", here, fmt.Sprintf("chi-square %.1f", s.Chi2), fmt.Sprintf("about %d", s.Spare), "1 in 1000",
			"give tape: reading: and the sigma: of hardpoints as they are; look whether the film was stretched", "its readings fit worse than their plus or minus allows, and no single one is to blame: expect more of all that is said")
	}
	open := false // then it may lie anywhere
	for _, v := range answer.Verdicts {
		open = open || v.Open
	}
	if m.Farthest > limit && !open {
		say(layouts.Stop, "built-outside", here, u.Fixed(m.Farthest, 3), "0", u.Length(limit, 4),
			"lift it and lay it again, or give the limit that you accept with --limit", "a corner of its paint lies %s from where it was meant (likely error %s)", u.Fixed(m.Farthest, 3), u.FixedNumber(m.FarSD, 3))
	}
	return m, findings, true
}

// movement returns how the film lies.
func (f *film) movement(s *adjust.Solution, t *masks.Tiling) Movement {
	offset, c := f.moved(s, g.Point{})
	m := Movement{Offset: offset, Error: c.ellipse()}
	if f.turns {
		m.Turn, m.TurnSD = s.X[turn]*180/math.Pi, math.Sqrt(s.Q[turn][turn])*180/math.Pi
	}
	box := t.Laid.Painted.Bounds()
	for _, x := range []float64{box.Min.X, box.Max.X} {
		for _, y := range []float64{box.Min.Y, box.Max.Y} {
			d, c := f.moved(s, g.Point{X: x, Y: y})
			if l := g.Length(d.Norm()); l > m.Farthest {
				m.Farthest, m.FarSD = l, g.Length(math.Sqrt(c.along(d.Unit())))
			}
		}
	}
	return m
}

// tape returns the tape of a checkpoint from a hardpoint, the closure included.
func (c Checkpoint) tape(from string) (Taping, bool) {
	for _, t := range c.all() {
		if t.From.ID == from {
			return t, true
		}
	}
	return Taping{}, false
}

// offset returns the reading of another way that was taken; where the list was printed in
// other units its name is another, and kind and length tell.
func (c Checkpoint) offset(r TapeReading) *Offset {
	for _, named := range []bool{true, false} {
		for k := range c.Offsets {
			o := &c.Offsets[k]
			if o.Kind == r.Kind && (o.From == r.From || !named && math.Abs(float64(r.Printed-o.Length)) <= printedWithin) {
				return o
			}
		}
	}
	return nil
}

// all returns the tapes of a checkpoint, the closure last.
func (c Checkpoint) all() []Taping {
	out := c.Tapes[:len(c.Tapes):len(c.Tapes)]
	if c.Closure != nil {
		out = append(out, *c.Closure)
	}
	return out
}

func (c Checkpoint) tapeNames() string {
	var names []string
	for _, t := range c.all() {
		names = append(names, t.From.ID)
	}
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, ", ")
}

// lengthTo returns the length of the tape to another point of the flat, in inches,
// and the direction in which it leaves there. Along the skin the hardpoint lies in
// the unfolded flat, a length along the bearing away; a straight tape's lies above
// the flat by what its bearing lacks. Exact where the skin unrolls between both,
// else right to the second order of the movement.
func (t Taping) lengthTo(from, p g.Point) (float64, g.Vec) {
	l := t.Length.Inches()
	to := from.Add(t.Bearing.Scale(l)).Sub(p)
	above := math.Max(0, l*l*(1-t.Bearing.Dot(t.Bearing)))
	d := math.Sqrt(to.Dot(to) + above)
	return d, to.Scale(1 / d)
}
