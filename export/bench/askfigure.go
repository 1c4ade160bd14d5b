package bench

import (
	"context"

	"maskloft/export/views"
	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
)

// askMarkings returns every marking as it is written, and where it stands.
func askMarkings(b *Bench, ctx context.Context, _ Request, _ func(Answer)) (any, error) {
	_, l, err := b.layout(ctx)
	if err != nil {
		return nil, err
	}
	out := Markings{Markings: []Marking{}}
	for i := range l.Spec.Markings {
		m := &l.Spec.Markings[i]
		one := markingOf(m)
		for _, p := range l.Of(m.ID) {
			one.Placed = append(one.Placed, placedOf(l.Airframe, p))
		}
		out.Markings = append(out.Markings, one)
	}
	return out, nil
}

func (b *Bench) layout(ctx context.Context) (*job.Job, *layouts.Layout, error) {
	j, err := b.job()
	if err != nil {
		return nil, nil, err
	}
	l, err := j.Layout(ctx)
	return j, l, err
}

// placements are those of a marking.
func (b *Bench) placements(ctx context.Context, id string) (*job.Job, *layouts.Layout, []layouts.Placement, error) {
	j, l, err := b.layout(ctx)
	if err != nil {
		return nil, nil, nil, err
	}
	out := l.Of(id)
	if len(out) == 0 {
		return nil, nil, nil, missingError{"there is no marking " + id + " that has a place"}
	}
	return j, l, out, nil
}

func markingOf(m *layouts.MarkingSpec) Marking {
	f, w := m.Figure, m.Where
	out := Marking{
		ID: m.ID, Path: m.Path(), Line: m.Place.Line, Rule: f.Rule, Text: f.Text, Alphabet: f.Alphabet,
		Size: round6(f.Size.Inches()), Height: round6(f.Height.Inches()), Surfaces: append([]string{}, w.Surfaces...), Side: string(w.Side), Face: string(w.Face),
		True: string(m.True), Hold: string(w.Hold), Align: w.Align, Angle: round6(w.Angle), Baseline: string(w.Baseline),
		FS: round6(w.FS.Inches()), WL: round6(w.WL.Inches()), BL: round6(w.BL.Inches()), From: w.Line, To: w.LineTo,
		Evidence: append([]string{}, m.Evidence...), Placed: []Placed{},
	}
	if f.Drawing != nil {
		out.Height = round6(f.Drawing.Height.Inches())
	}
	switch {
	case f.FollowsSkin():
		out.Held = "own"
	case w.Face != layouts.NoFace:
		out.Held = "bl"
	case w.Height == layouts.HeightGirth:
		out.Held, out.Down = "girth", round6(w.Down.Inches())
	case w.Height == layouts.HeightBetween:
		out.Held = "between"
	default:
		out.Held = "wl"
	}
	for _, k := range []struct {
		name string
		is   bool
	}{{"rule", f.Rule != ""}, {"text", f.Text != ""}, {"discs", len(f.Discs) > 0}, {"shapes", len(f.Shapes) > 0}, {"drawing", f.Drawing != nil},
		{"stripes", f.Stripes != nil}, {"band", f.Band != nil}, {"line", f.Line != nil}} {
		if k.is {
			out.Kind = k.name
			break
		}
	}
	return out
}

func placedOf(a *layouts.Airframe, p layouts.Placement) Placed {
	surface := p.Marking.Where.Surfaces[0]
	spec, _ := a.SurfaceSpec(surface)
	_, n := p.Surface.At(p.Frame.At, p.Frame.At)
	up := p.Frame.Up.Sub(n.Scale(p.Frame.Up.Dot(n))).Unit()
	return Placed{
		ID: p.ID(), Side: p.Side.String(), Skin: skinID(surface, p.Side, p.Face(), spec.Kind), Anchor: point3(p.Anchor.Vec()),
		Right: point3(up.Cross(n)), Up: point3(up), Out: point3(n),
	}
}

// askFigure returns the drawing of a marking on each side.
func askFigure(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	j, l, placed, err := b.placements(ctx, q.Marking)
	if err != nil {
		return nil, err
	}
	out := Figures{Figures: []Figure{}}
	for _, p := range placed {
		regions, err := j.Regions(p)
		if err != nil {
			return nil, err
		}
		out.Figures = append(out.Figures, Figure{
			ID: p.ID(), Marking: q.Marking, Side: p.Side.String(), Regions: regionsOf(l.Spec.Paint, regions), Bounds: boxOf(p.Figure.Bounds()), Characters: charactersOf(p.Figure.Characters),
		})
	}
	return out, nil
}

func regionsOf(paint layouts.PaintSpec, regions []layouts.Region) []Region {
	out := []Region{}
	for _, r := range regions {
		out = append(out, Region{r.Colour, views.HexOf(paint, r.Colour), pathData(r.Outline)})
	}
	return out
}

func charactersOf(all []layouts.Character) []Character {
	out := []Character{}
	for _, c := range all {
		out = append(out, Character{string(c.Rune), boxOf(c.Cell)})
	}
	return out
}

// outlineWithin is how far the chords of exact outlines leave the outline, on the film and
// on the skin, inches.
const outlineWithin = 0.01

// askOutline returns the outlines of a marking on the skin: a sketch at once, or those of
// the film as it is laid.
func askOutline(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	j, l, placed, err := b.placements(ctx, q.Marking)
	if err != nil {
		return nil, err
	}
	out := Outlines{Exact: q.Exact, Outlines: []Outline{}}
	if !q.Exact {
		all, err := j.Preview(ctx, q.Marking)
		if err != nil {
			return nil, err
		}
		out.Within = job.PreviewTolerance
		for _, o := range all {
			out.add(l.Spec.Paint, o.ID, sideOf(placed, o.ID), o.Paint, o.Lines)
		}
		return out, nil
	}
	ones, err := j.Of(ctx, q.Marking)
	if err != nil {
		return nil, err
	}
	out.Within = outlineWithin
	for _, one := range ones {
		for _, r := range one.Laid.Regions {
			var lines [][]g.Position
			for _, c := range r.Outline {
				line := job.OnSkin(one.Laid.Map, c.Flattened(outlineWithin), outlineWithin)
				if len(line) > 2 {
					lines = append(lines, line)
				}
			}
			out.add(l.Spec.Paint, one.Laid.ID(), one.Laid.Placement.Side.String(), r.Colour, lines)
		}
	}
	return out, nil
}

func sideOf(placed []layouts.Placement, id string) string {
	for _, p := range placed {
		if p.ID() == id {
			return p.Side.String()
		}
	}
	return ""
}

func (out *Outlines) add(paint layouts.PaintSpec, id, side, name string, lines [][]g.Position) {
	o := Outline{ID: id, Side: side, Paint: name, Hex: views.HexOf(paint, name), Lines: [][]Point3{}}
	for _, line := range lines {
		points := make([]Point3, len(line))
		for i, p := range line {
			points[i] = point3(p.Vec())
		}
		o.Lines = append(o.Lines, points)
	}
	out.Outlines = append(out.Outlines, o)
}
