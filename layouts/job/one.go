package job

import (
	"context"
	"errors"

	"maskloft/geometry"
	"maskloft/geometry/parallel"
	"maskloft/geometry/skin"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/survey"
)

// One is one marking on one side, computed up to its tiles.
type One struct {
	Laid     masks.Laid
	Surveyed survey.Surveyed
	Tiling   masks.Tiling
	Findings []layouts.Finding // of its survey and its tiles
}

// Of computes one marking on each of its sides and no other; id is that of the marking
// in the layout. What it computes is kept, and is not computed again for all of them.
//
// Errors: an aircraft that cannot be built; a marking that cannot be laid or divided;
// ctx is done.
func (j *Job) Of(ctx context.Context, id string) ([]One, error) {
	layout, err := j.Layout(ctx)
	if err != nil {
		return nil, err
	}
	placed := layout.Of(id)
	out := make([]One, len(placed))
	err = parallel.Each(ctx, len(placed), func(i int) (err error) {
		out[i], err = j.one(ctx, layout, placed[i])
		return err
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// one computes one placement up to its tiles.
func (j *Job) one(ctx context.Context, layout *layouts.Layout, p layouts.Placement) (one One, err error) {
	if one.Laid, err = j.lay(ctx, layout, p); err != nil {
		return one, err
	}
	if err = goOn(ctx); err != nil {
		return one, err
	}
	if one.Surveyed, one.Findings, err = j.survey(ctx, layout, one.Laid); err != nil {
		return one, err
	}
	if err = goOn(ctx); err != nil {
		return one, err
	}
	var found []layouts.Finding
	if one.Tiling, found, err = j.tile(layout, one.Laid); err != nil {
		return one, err
	}
	one.Findings = append(one.Findings[:len(one.Findings):len(one.Findings)], found...)
	return one, goOn(ctx)
}

// goOn lets in what waits, and is the error of work that was called off.
func goOn(ctx context.Context) error {
	parallel.Turn()
	return ctx.Err()
}

// Regions are the visible regions of the drawing of a placement; one that is moved keeps
// them. See [layouts.Figure.Regions].
func (j *Job) Regions(p layouts.Placement) ([]layouts.Region, error) {
	return keep(j.kept, "regions", contentOf(p.Figure.Layers), p.Figure.Regions)
}

// Contents are checksums of all that each placed marking depends on, by its id with its
// side, and of what every marking depends on. Where one is as it was, so is what is
// computed of the marking by itself.
//
// Errors: an aircraft that cannot be built.
func (j *Job) Contents(ctx context.Context) (markings map[string]string, all string, err error) {
	layout, err := j.Layout(ctx)
	if err != nil {
		return nil, "", err
	}
	markings = map[string]string{}
	for _, p := range layout.Placed {
		markings[p.ID()] = j.placementKey(p)
	}
	return markings, j.baseKey(), nil
}

// Keep returns a value of one placed marking that another package computes of it, kept
// under a word of its own as everything of the marking is.
func Keep[T any](j *Job, word string, p layouts.Placement, compute func() (T, error)) (T, error) {
	return keep(j.kept, word, j.placementKey(p), compute)
}

func (j *Job) lay(ctx context.Context, layout *layouts.Layout, p layouts.Placement) (masks.Laid, error) {
	one, err := keep(j.kept, "laid", j.placementKey(p), func() (masks.Laid, error) {
		if left, ok := leftOf(layout, p); ok {
			_, _ = j.lay(ctx, layout, left) // who asks for it hears of an error
		}
		return masks.LayOne(ctx, layout, p, geometry.NetTolerance, j.flats(p), func(fig layouts.Figure) (masks.Cut, error) {
			// the two sides, and a marking that is moved, share it
			return keep(j.kept, "cut", contentOf(j.Spec.Sheets.Units, fig.Layers, fig.Characters, fig.Bare, j.Spec.Paint, j.Spec.Film), func() (masks.Cut, error) {
				return masks.CutOf(j.Spec.Sheets.Units, fig, j.Spec.Paint, j.Spec.Film)
			})
		})
	})
	one.Placement = p
	return one, err
}

// flats keeps flats of a marking: both sides of a body share them where they are mirror
// images.
func (j *Job) flats(p layouts.Placement) skin.Keep {
	return func(key string, flatten func() (*skin.FlatMap, error)) (*skin.FlatMap, error) {
		kept, err := keep(j.kept, "flat", j.baseKey()+contentOf(p.Marking, p.On)+key, func() (flatOr, error) {
			m, err := flatten()
			if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
				return flatOr{}, err
			}
			return flatOr{m, err}, nil
		})
		if err != nil {
			return nil, err
		}
		return kept.flat, kept.refused
	}
}

// flatOr is a flat, or why there is none: that costs as much to find out as a flat, and
// depends on the same.
type flatOr struct {
	flat    *skin.FlatMap
	refused error
}

// leftOf is the placement of the same marking on the left side of a body where p is on
// the right, so that the flats of p may be made from its own: see [skin.FlattenKept].
func leftOf(layout *layouts.Layout, p layouts.Placement) (layouts.Placement, bool) {
	if p.Side != geometry.Right || !skin.TwoSided(p.Surface) {
		return p, false
	}
	for _, q := range layout.Placed { // parts of one line have ids of their own
		if q.Side == geometry.Left && q.On == p.On && q.Marking.ID == p.Marking.ID {
			return q, true
		}
	}
	return p, false
}

func (j *Job) survey(ctx context.Context, layout *layouts.Layout, one masks.Laid) (survey.Surveyed, []layouts.Finding, error) {
	s, err := keep(j.kept, "surveyed", j.placementKey(one.Placement), func() (s surveyedOne, err error) {
		s.value, s.findings, err = survey.One(ctx, layout, one)
		return s, err
	})
	return s.value, s.findings, err
}

func (j *Job) tile(layout *layouts.Layout, one masks.Laid) (masks.Tiling, []layouts.Finding, error) {
	t, err := keep(j.kept, "tiled", j.placementKey(one.Placement), func() (t tiledOne, err error) {
		t.value, t.findings, err = masks.TileOne(layout, one)
		return t, err
	})
	t.value.Laid = one
	return t.value, t.findings, err
}
