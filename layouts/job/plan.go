// Package job computes what is asked of one layout, and keeps it.
//
// The path goes one way:
//
//	Layout -> Laid -> Surveyed
//	            \ --> Tilings -> Run
//	             \          \--> Tapes
//	              \--> Figures
//
// Each stage is computed when it is first asked for, once, with those before it. A
// marking that cannot be placed, laid or tiled is left out of what follows and is a
// finding of level stop under [layouts.MissingRule]; all others go on.
//
// [New] is a job of a layout that was read. [Open] is a layout that stays open: [File.Set]
// changes one value of its text by the path of the value and returns the splice that it
// made, [File.Job] is the job of the text as it stands, and what the change did not touch
// is not computed anew. Every stage takes a context and ends with its error: a stage, the
// marking that it works on, at its next step.
package job

import (
	"context"
	"slices"
	"sync"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/survey"
	"maskloft/layouts/taping"
)

// Progress returns a function to call with the name of each piece of work of a stage as
// it begins, from several goroutines.
type Progress func(stage string) func(name string)

// Job is one layout, and what was computed of it so far. It is safe for several
// goroutines. What it returns is shared: nobody may change it.
type Job struct {
	Spec *layouts.Spec

	say      Progress
	kept     *kept
	frames   *kept // airframes, perhaps of other jobs too
	once     sync.Once
	base     string // content of what every placement depends on
	layout   stage[*layouts.Layout]
	laid     stage[[]masks.Laid]
	surveyed stage[[]survey.Surveyed]
	tilings  stage[[]masks.Tiling]
	run      stage[masks.Run]
	tapes    stage[taping.TapeList]
	figures  stage[survey.PaintFigures]
}

// New returns the job of a layout as read; nothing is computed yet.
func New(spec *layouts.Spec, say Progress) *Job {
	if say == nil {
		say = func(string) func(string) { return func(string) {} }
	}
	k := newKept()
	return &Job{Spec: spec, say: say, kept: k, frames: k}
}

// Airframes are what several jobs share: an aircraft that their layouts name by the same
// file is built once. The zero value is ready; it is safe for several goroutines.
type Airframes struct {
	once sync.Once
	kept *kept
}

// New is [New] for a job that shares its airframe with others.
func (a *Airframes) New(spec *layouts.Spec, say Progress) *Job {
	a.once.Do(func() { a.kept = newKept() })
	j := New(spec, say)
	j.frames = a.kept
	return j
}

// Layout is the aircraft with every marking in its place.
//
// Errors: an aircraft that cannot be built.
func (j *Job) Layout(ctx context.Context) (*layouts.Layout, error) {
	return j.layout.get(ctx, func() (*layouts.Layout, []layouts.Finding, error) {
		frame, err := keep(j.frames, "airframe", placedContentOf(j.Spec.Aircraft), func() (*layouts.Airframe, error) {
			return layouts.NewAirframe(ctx, j.Spec.Aircraft)
		})
		if err != nil {
			return nil, nil, err
		}
		layout, findings := layouts.ResolveOn(frame, j.Spec, j.figure) // figures, places
		return layout, findings, nil
	})
}

// figure is the drawing of a marking: one that is moved keeps it.
func (j *Job) figure(m *layouts.MarkingSpec) (layouts.Figure, error) {
	return keep(j.kept, "drawn", contentOf(m.Figure, m.Handed), func() (layouts.Figure, error) { return layouts.FigureOf(m) })
}

// Laid is every marking laid flat, in the order of the layout.
func (j *Job) Laid(ctx context.Context) ([]masks.Laid, error) {
	return j.laid.get(ctx, func() ([]masks.Laid, []layouts.Finding, error) {
		layout, err := j.Layout(ctx)
		if err != nil {
			return nil, nil, err
		}
		begins := j.say("laying flat")
		laid, missing, err := masks.Lay(ctx, layout, func(p layouts.Placement) (masks.Laid, error) { // skin to film
			begins(p.ID())
			return j.lay(ctx, layout, p)
		})
		return laid, append(missing, survey.Inspect(laid)...), err
	})
}

// Surveyed is what stands round each marking and lies under it, in the order of Laid.
func (j *Job) Surveyed(ctx context.Context) ([]survey.Surveyed, error) {
	return j.surveyed.get(ctx, func() ([]survey.Surveyed, []layouts.Finding, error) {
		layout, laid, err := j.upToLaid(ctx)
		if err != nil {
			return nil, nil, err
		}
		return survey.Survey(ctx, layout, laid, func(one masks.Laid) (survey.Surveyed, []layouts.Finding, error) { return j.survey(ctx, layout, one) })
	})
}

// Tilings is the film of every marking cut to the web, with registration marks, in the
// order of Laid.
func (j *Job) Tilings(ctx context.Context) ([]masks.Tiling, error) {
	return j.tilings.get(ctx, func() ([]masks.Tiling, []layouts.Finding, error) {
		layout, laid, err := j.upToLaid(ctx)
		if err != nil {
			return nil, nil, err
		}
		return masks.TileEach(ctx, laid, func(one masks.Laid) (masks.Tiling, []layouts.Finding, error) { return j.tile(layout, one) })
	})
}

// Run is all films on the web.
func (j *Job) Run(ctx context.Context) (masks.Run, error) {
	return j.run.get(ctx, func() (masks.Run, []layouts.Finding, error) {
		tilings, err := j.Tilings(ctx)
		if err != nil {
			return masks.Run{}, nil, err
		}
		return masks.Split(masks.Nest(masks.Films(tilings), j.Spec.Film), j.Spec.Film), nil, nil
	})
}

// Tapes is how to find the points of every film on the aircraft, and how well.
func (j *Job) Tapes(ctx context.Context) (taping.TapeList, error) {
	return j.tapes.get(ctx, func() (taping.TapeList, []layouts.Finding, error) {
		layout, err := j.Layout(ctx)
		if err != nil {
			return taping.TapeList{}, nil, err
		}
		tilings, err := j.Tilings(ctx)
		if err != nil {
			return taping.TapeList{}, nil, err
		}
		return taping.Tapes(ctx, layout, tilings, geometry.NetTolerance)
	})
}

// Figures is areas to paint, quantities and weights.
func (j *Job) Figures(ctx context.Context) (survey.PaintFigures, error) {
	return j.figures.get(ctx, func() (survey.PaintFigures, []layouts.Finding, error) {
		layout, laid, err := j.upToLaid(ctx)
		if err != nil {
			return survey.PaintFigures{}, nil, err
		}
		return survey.FiguresOf(layout, laid)
	})
}

func (j *Job) upToLaid(ctx context.Context) (*layouts.Layout, []masks.Laid, error) {
	layout, err := j.Layout(ctx)
	if err != nil {
		return nil, nil, err
	}
	laid, err := j.Laid(ctx)
	return layout, laid, err
}

// Findings returns what the stages computed so far have found, in the order of the path;
// markings that are missing come first.
func (j *Job) Findings() []layouts.Finding {
	return missingFirst(slices.Concat(j.layout.found(), j.laid.found(), j.surveyed.found(), j.tilings.found(), j.tapes.found(), j.figures.found()))
}

// Checked is Findings up to Surveyed: those that a check of the layout tells, whatever
// was computed beyond.
func (j *Job) Checked() []layouts.Finding {
	return missingFirst(slices.Concat(j.layout.found(), j.laid.found(), j.surveyed.found()))
}

// Placed is Findings of what placing stands on, up to Tapes and without the survey:
// those that a tape list tells, whatever else was computed.
func (j *Job) Placed() []layouts.Finding {
	return missingFirst(slices.Concat(j.layout.found(), j.laid.found(), j.tilings.found(), j.tapes.found()))
}

func missingFirst(all []layouts.Finding) []layouts.Finding {
	slices.SortStableFunc(all, func(a, b layouts.Finding) int {
		return order(a) - order(b)
	})
	return all
}

func order(f layouts.Finding) int {
	if f.Rule == layouts.MissingRule {
		return 0
	}
	return 1
}

// Whole is every stage of a job.
type Whole struct {
	Layout   *layouts.Layout
	Laid     []masks.Laid
	Surveyed []survey.Surveyed // in the order of Laid
	Tilings  []masks.Tiling    // in the order of Laid
	Run      masks.Run
	Tapes    taping.TapeList
	Figures  survey.PaintFigures
	Findings []layouts.Finding
	Checked  []layouts.Finding // as [Job.Checked]
}

// Whole computes every stage.
func (j *Job) Whole(ctx context.Context) (*Whole, error) {
	var w Whole
	var err error
	if w.Layout, err = j.Layout(ctx); err != nil {
		return nil, err
	}
	if w.Laid, err = j.Laid(ctx); err != nil {
		return nil, err
	}
	if w.Surveyed, err = j.Surveyed(ctx); err != nil {
		return nil, err
	}
	if w.Tilings, err = j.Tilings(ctx); err != nil {
		return nil, err
	}
	if w.Run, err = j.Run(ctx); err != nil {
		return nil, err
	}
	if w.Tapes, err = j.Tapes(ctx); err != nil {
		return nil, err
	}
	if w.Figures, err = j.Figures(ctx); err != nil {
		return nil, err
	}
	w.Findings, w.Checked = j.Findings(), j.Checked()
	return &w, nil
}
