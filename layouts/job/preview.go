package job

import (
	"context"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
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
		all, err := keep(j.kept, "preview", j.placementKey(p), func() ([]Outline, error) { return previewOf(ctx, p, j.flats(p)) })
		if err == nil {
			out = append(out, all...)
		}
	}
	return slices.Clip(out), ctx.Err()
}

func previewOf(ctx context.Context, p layouts.Placement, flats skin.Keep) ([]Outline, error) {
	m, fig, err := masks.Sketch(ctx, p, PreviewTolerance, flats)
	if err != nil {
		return nil, err
	}
	var out []Outline
	for _, layer := range fig.Layers {
		o := Outline{ID: p.ID(), Paint: layer.Colour}
		for _, c := range layer.Outline {
			line := OnSkin(m, c.Flattened(PreviewTolerance/3), PreviewTolerance/3) // the net takes the rest
			if len(line) > 2 {
				o.Lines = append(o.Lines, line)
			}
		}
		out = append(out, o)
	}
	return out, nil
}

// OnSkin are the points of a closed line of a film where they lie on the skin, and between
// them as many as it takes for the chords to follow it within a distance: a straight line
// of the drawing bends with its skin.
func OnSkin(m *skin.FlatMap, line []g.Point, within float64) []g.Position {
	const mostHalvings = 8
	var out []g.Position
	var between func(a, b g.Point, pa, pb g.Position, left int)
	between = func(a, b g.Point, pa, pb g.Position, left int) {
		mid := a.Lerp(b, 0.5)
		p, ok := m.PositionOf(mid)
		if !ok || left == 0 {
			return
		}
		// the first halves are looked at in any case: a line that bends both ways may
		// have its middle on the chord
		if left < mostHalvings && p.Vec().Sub(pa.Vec().Add(pb.Vec()).Scale(0.5)).Norm() <= within {
			return
		}
		between(a, mid, pa, p, left-1)
		out = append(out, p)
		between(mid, b, p, pb, left-1)
	}
	for i, a := range line {
		pa, ok := m.PositionOf(a)
		if !ok {
			continue
		}
		out = append(out, pa)
		b := line[(i+1)%len(line)]
		if a.Dist(b) <= straightLooked {
			continue
		}
		if pb, ok := m.PositionOf(b); ok {
			between(a, b, pa, pb, mostHalvings)
		}
	}
	return out
}

// straightLooked is the length of a chord, inches, above which the skin beneath it is
// looked at: shorter ones stray by less than 0.01 in where it is round by 3.2 in or more.
const straightLooked = 0.5
