package taping

import (
	"context"

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
	Baseline *StringOffset        // nil where no string runs clear of the skin
	Girth    *layouts.GirthLength // nil where the surface is no body
	Offsets  []Offset             // other ways to measure it, once it is marked or laid
	Refused  []Refusal            // tapes that cannot be used
	Ways     []Way                // to find it, one a method, the one of least expected error first
}

// Checklist returns the checkpoints of every marking in working order. Tapes from
// every hardpoint of the side are computed, those that would run through a skin
// refused, and of all pairs the one taken that places the point with the least
// error, by each tape's own deviation and that of its hardpoint. The best of the
// rest is the closure. A side without two hardpoints has points without tapes.
//
// Errors: ctx is done.
func Checklist(ctx context.Context, l *layouts.Layout, tilings []masks.Tiling, tolerance float64) ([]Checkpoint, error) {
	type job struct {
		*taper
		strings []stretched
		step    int
		masks.Spot
	}
	var jobs []job
	for i := range tilings {
		p := tilings[i].Laid.Placement
		hooks := hooksOn(l.Airframe, p)
		t := &taper{layout: l, laid: &tilings[i].Laid, hooks: hooks, stops: stopsOn(l, tilings[i].Laid.Placement), tolerance: tolerance}
		lines := stringsOf(l.Airframe, p)
		for k, s := range tilings[i].Spots() {
			jobs = append(jobs, job{t, lines, k + 1, s})
		}
	}
	twin := make([]int, len(jobs)) // an earlier point that is this one's mirror image; -1: none
	for i := range jobs {
		j := &jobs[i]
		twin[i] = -1
		for k := range i {
			if o := &jobs[k]; j.taper != o.taper && sameMirrored(j.Mark, o.Mark) && j.mirrors(o.taper) {
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
		return nil, err
	}
	for i, j := range jobs {
		if twin[i] >= 0 {
			found[i] = found[twin[i]].mirrored(j.hooks)
		}
	}
	out := make([]Checkpoint, len(jobs))
	err = parallel.Each(ctx, len(jobs), func(i int) error { // none fails
		j := jobs[i]
		c := j.locate(j.Spot, found[i])
		c.Step, c.Baseline = j.step, offsetFrom(j.strings, j.Mark.Skin)
		c.Offsets = offsetsOf(l, j.laid, c)
		c.Ways = waysTo(l.Spec.Tape, c)
		out[i] = c
		return nil
	})
	return out, err
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
