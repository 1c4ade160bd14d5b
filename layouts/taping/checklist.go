package taping

import (
	"context"
	"fmt"
	"math"

	"maskloft/geometry/parallel"
	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Checkpoint is one point of a marking to find on the aircraft: by two tapes,
// checked by a third, and by a string or along the section besides.
type Checkpoint struct {
	ID       string // the marking's id, the side and the mark's letter or the tick's name
	Marking  string
	Step     int // in the working order of its marking, from 1
	Role     masks.Role
	Label    string                 // for people: "level tick, fore"
	Mark     masks.RegistrationMark // the point, on the film and on the skin
	Tapes    []Taping               // two, or none where no two tapes can be pulled that cross
	Crossing float64                // degrees between the two tapes at the point, 0 to 180
	Grade    Grade
	Closure  *Taping  // nil where no third tape can be pulled
	Misses   g.Length // standard deviation by which the closure misses the printed length
	Error    PointError
	Baseline *StringOffset     // nil where no string runs clear of the skin
	Girth    *layouts.GirthRun // nil where the surface is no body
	Offsets  []Offset          // other ways to measure it, once it is marked or laid
	Refused  []Refusal         // tapes that cannot be used
}

// Checklist returns the checkpoints of every marking in working order. Tapes from
// every hardpoint of the side are computed, those that would run through a skin
// refused, and of all pairs the one taken that places the point with the least
// error, by each tape's own deviation and that of its hardpoint. The best of the
// rest is the closure.
//
// The films of a side with fewer than two hardpoints have no points.
//
// Errors: ctx is done.
// Findings: a side without hardpoints, and what to measure; points that no two tapes place well; tapes that are nearly as long the
// other way round.
func Checklist(ctx context.Context, l *layouts.Layout, tilings []masks.Tiling, tolerance float64) ([]Checkpoint, []layouts.Finding, error) {
	type job struct {
		*taper
		strings []stretched
		step    int
		masks.Spot
	}
	var jobs []job
	var findings []layouts.Finding
	bare := map[string]bool{}
	for i := range tilings {
		p := tilings[i].Laid.Placement
		hooks := hooksOn(l.Airframe, p)
		if len(hooks) < 2 {
			f := noHardpoints(l, p, len(hooks))
			if !bare[f.Message] {
				bare[f.Message] = true
				findings = append(findings, f)
			}
			continue
		}
		t := &taper{layout: l, laid: &tilings[i].Laid, hooks: hooks, stops: stopsOn(l, tilings[i].Laid.Placement), tolerance: tolerance}
		lines := stringsOf(l.Airframe, p)
		for k, s := range tilings[i].Spots() {
			jobs = append(jobs, job{t, lines, k + 1, s})
		}
	}
	twin := make([]int, len(jobs)) // an earlier point that is this one's mirror image; -1: none
	for i, j := range jobs {
		twin[i] = -1
		for k := range i {
			if o := jobs[k]; j.taper != o.taper && sameMirrored(j.Mark, o.Mark) && j.mirrors(o.taper) {
				twin[i] = k
				break
			}
		}
	}
	found := make([]taped, len(jobs))
	err := parallel.Each(ctx, len(jobs), func(i int) error { // none fails
		if twin[i] < 0 {
			found[i] = jobs[i].tape(jobs[i].Mark)
		}
		return nil
	})
	if err != nil {
		return nil, nil, err
	}
	out := make([]Checkpoint, len(jobs))
	for i, j := range jobs {
		if twin[i] >= 0 {
			found[i] = found[twin[i]].mirrored(j.hooks)
		}
		out[i] = j.locate(j.Spot, found[i])
		out[i].Step, out[i].Baseline = j.step, offsetFrom(j.strings, j.Mark.Skin)
		out[i].Offsets = offsetsOf(l, j.laid, out[i])
	}
	for i := range tilings {
		findings = append(findings, inspectPoints(tilings[i].Laid, out)...)
	}
	return out, findings, nil
}

// noHardpoints says that films on one side cannot be placed by tapes, and what to
// measure so that they can.
func noHardpoints(l *layouts.Layout, p layouts.Placement, n int) layouts.Finding {
	from := p.Side.String() + " side"
	if f := p.Face(); f != layouts.NoFace {
		from = string(f) + " face of the " + p.Side.String() + " wing"
	}
	return layouts.Finding{
		Level: layouts.Warn, Rule: "no-hardpoints", Marking: p.ID(), Where: p.Anchor,
		Message:  fmt.Sprintf("%v: no tape list for the %s: it has %s, a point needs tapes from two", l.Spec.Aircraft.Place, from, g.Counted(n, "hardpoint")),
		Hint:     "measure two or more places where a tape hooks, apart by about the length of a marking and well to one side of it (a bolt, a corner of a fitting), and write them under hardpoints: {id: P1, name: ..., fs: ..., bl: ..., wl: ...}",
		Measured: fmt.Sprint(n), Expected: "2", Tolerance: "none", Source: "derived",
	}
}

// locate chooses among the tapes to one point.
func (t *taper) locate(s masks.Spot, found taped) Checkpoint {
	p := t.laid.Placement
	c := Checkpoint{ID: t.laid.ID() + "-" + s.Mark.ID, Marking: t.laid.ID(), Role: s.Role, Label: s.Label, Mark: s.Mark, Grade: Poor, Refused: found.refused}
	tapes := found.tapes
	if run, ok := t.layout.Airframe.GirthTo(p, s.Mark.UV); ok {
		c.Girth = &run
	}
	a, b, ok := pairOf(tapes)
	if !ok {
		return c
	}
	c.Tapes = []Taping{tapes[a], tapes[b]}
	c.Crossing = crossingOf(tapes[a], tapes[b])
	c.Grade = GradeOf(c.Crossing)
	c.Error = pointError(t.layout.Spec.Tape, tapes[a], tapes[b])
	if third := closureOf(tapes, a, b); third >= 0 {
		c.Closure = &tapes[third]
		c.Misses = closureSigma(t.layout.Spec.Tape, c.Error, tapes[third])
	}
	return c
}

// inspectPoints looks at the checkpoints of one marking.
func inspectPoints(l masks.Laid, points []Checkpoint) []layouts.Finding {
	var findings []layouts.Finding
	var none, poor, open []Checkpoint
	for _, c := range points {
		if c.Marking != l.ID() {
			continue
		}
		switch {
		case len(c.Tapes) < 2:
			none = append(none, c)
		case c.Grade == Poor:
			poor = append(poor, c)
		}
		if len(c.Tapes) == 2 && c.Closure == nil {
			open = append(open, c)
		}
		for _, tape := range c.Tapes {
			if f, tie := TapeTie(c.Marking, c.Mark, tape); tie {
				findings = append(findings, f)
			}
		}
	}
	report := func(level layouts.Level, rule string, c Checkpoint, measured, expected, format string, args ...any) {
		findings = append(findings, layouts.Finding{
			Level: level, Rule: rule, Marking: l.ID(), Where: c.Mark.Skin, Message: l.ID() + ": " + fmt.Sprintf(format, args...),
			Hint:     "add a hardpoint under hardpoints:, or place these points by the string or the girth that the tape list gives",
			Measured: measured, Expected: expected, Tolerance: "none", Source: "practice, not a standard",
		})
	}
	if n := len(none); n > 0 {
		report(layouts.Warn, "no-tapes", none[0], "0 pairs", "1", "%d of its points, first %s, cannot be placed by tapes: %s", n, none[0].Mark.ID, refusals(none[0]))
	}
	if n := len(poor); n > 0 {
		worst, level := poor[0], layouts.Note
		for _, c := range poor {
			if c.Baseline == nil && c.Girth == nil {
				level = layouts.Warn // nothing else places it
			}
			if math.Abs(c.Crossing-90) > math.Abs(worst.Crossing-90) {
				worst = c
			}
		}
		report(level, "poor-crossing", worst, g.FormatNumber(worst.Crossing, 1)+" deg", "40 to 140 deg",
			"the best two tapes to %d of its points cross badly, worst at %s: %.0f deg, expected error %.3f in", n, worst.Mark.ID, worst.Crossing, worst.Error.Ellipse.RMS().Inches())
	}
	if n := len(open); n > 0 {
		report(layouts.Note, "no-closure", open[0], "2 tapes", "3", "%d of its points, first %s, have no third tape to check by%s", n, open[0].Mark.ID, because(open[0]))
	}
	return findings
}

func because(c Checkpoint) string {
	if len(c.Refused) == 0 {
		return ""
	}
	return ": " + refusals(c)
}

// refusals says which tapes cannot be pulled.
func refusals(c Checkpoint) string {
	if len(c.Refused) == 0 {
		return "no two tapes cross there"
	}
	text := ""
	for i, r := range c.Refused {
		if i > 0 {
			text += "; "
		}
		text += r.Why
	}
	return text
}
