package job

import (
	"context"
	"slices"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// PreviewTolerance is that of an outline that follows a hand on a screen, in inches.
const PreviewTolerance = 0.1

// Outline is the outlines of one paint of a marking on the skin.
type Outline struct {
	ID    string // of the marking, with its side
	Paint string
	Lines [][]g.Position // closed
}

// Preview is the outlines of one marking on each of its sides, to within
// [PreviewTolerance] of the true ones, without the films; id is that of the marking in
// the layout. What has no place on the skin is left out.
//
// Errors: an aircraft that cannot be built; ctx is done.
func (j *Job) Preview(ctx context.Context, id string) ([]Outline, error) {
	layout, err := j.Layout(ctx)
	if err != nil {
		return nil, err
	}
	var out []Outline
	for _, p := range layout.Of(id) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		all, err := keep(j.kept, "preview", j.placementKey(p), func() ([]Outline, error) { return previewOf(ctx, p) })
		if err == nil {
			out = append(out, all...)
		}
	}
	return slices.Clip(out), ctx.Err()
}

func previewOf(ctx context.Context, p layouts.Placement) ([]Outline, error) {
	m, fig, err := masks.Sketch(ctx, p, PreviewTolerance)
	if err != nil {
		return nil, err
	}
	var out []Outline
	for _, layer := range fig.Layers {
		o := Outline{ID: p.ID(), Paint: layer.Colour}
		for _, c := range layer.Outline {
			var line []g.Position
			for _, q := range c.Flattened(PreviewTolerance) {
				if at, ok := m.PositionOf(q); ok {
					line = append(line, at)
				}
			}
			if len(line) > 2 {
				o.Lines = append(o.Lines, line)
			}
		}
		out = append(out, o)
	}
	return out, nil
}
