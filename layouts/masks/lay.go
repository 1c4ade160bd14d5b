package masks

import (
	"context"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/parallel"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// Laid is one marking on one side, laid flat. Coordinates are those of the flat
// map: inches, origin at the anchor, y along the drawing's up, seen from outside.
type Laid struct {
	Placement  layouts.Placement
	Map        *skin.FlatMap
	Regions    []layouts.Region    // the visible region of each paint; disjoint
	Painted    g.Path              // all of them together
	Characters []layouts.Character // of a text, in the flat
	Field      g.Rect              // what holds the fields of all masks
	Strain     skin.Strain         // of the film within the field
	Exact      bool
	Bands      layouts.StrainBands // what the strain is held against
	Advice     Verdict
	Slits      []Slit  // proposed in the waste, counter-clockwise round the field; usually none
	Plan       Plan    // how it is painted
	Masks      []Mask  // one a pass, in the order of spraying
	Deviation  float64 // inches: largest distance of an outline from the true curve

	skinHeight, sideHeight float64 // inches: see Heights
}

// ID is the marking's id and side.
func (l Laid) ID() string { return l.Placement.ID() }

// Lay lays every placement of a layout flat and cuts its masks, in the order of the
// layout; one that cannot be laid is left out, and is a finding under
// [layouts.MissingRule]. Tolerance bounds both the movement of the net's answer and the
// fit of outlines, in inches. Progress is called, from several goroutines, with the id
// of each one begun.
//
// Errors: ctx is done.
func Lay(ctx context.Context, l *layouts.Layout, tolerance float64, progress func(id string)) ([]Laid, []layouts.Finding, error) {
	return LayBy(ctx, l, func(p layouts.Placement) (Laid, error) {
		progress(p.ID())
		return LayOne(l, p, tolerance)
	})
}

// LayBy is [Lay] with what lays one placement given; it is called from several
// goroutines.
func LayBy(ctx context.Context, l *layouts.Layout, lay func(layouts.Placement) (Laid, error)) ([]Laid, []layouts.Finding, error) {
	all, failed := make([]Laid, len(l.Placed)), make([]error, len(l.Placed))
	err := parallel.Each(ctx, len(l.Placed), func(i int) error {
		all[i], failed[i] = lay(l.Placed[i])
		return nil
	})
	if err != nil {
		return nil, nil, err
	}
	var out []Laid
	var missing []layouts.Finding
	for i, p := range l.Placed {
		if failed[i] != nil {
			missing = append(missing, layouts.Missing(p.ID(), p.Marking.Place, p.Anchor, failed[i]))
			continue
		}
		out = append(out, all[i])
	}
	return out, missing, nil
}

// LayOne lays one placement of a layout.
func LayOne(l *layouts.Layout, p layouts.Placement, tolerance float64) (Laid, error) {
	return LayWith(l, p, tolerance, func(fig layouts.Figure) (Cut, error) { return CutOf(fig, l.Spec.Paint, l.Spec.Film) })
}

// LayWith is [LayOne] with what cuts the figure, as it falls in the flat, given.
func LayWith(l *layouts.Layout, p layouts.Placement, tolerance float64, cut func(layouts.Figure) (Cut, error)) (Laid, error) {
	margin := l.Spec.Film.Field.Inches()
	m, fig, deviation, err := laidFlat(p, math.Max(margin, l.Clearest(p).Inches())+0.25, tolerance)
	if err != nil {
		return Laid{}, err
	}
	laid := Laid{Placement: p, Map: m, Deviation: deviation}
	c, err := cut(fig)
	if err != nil {
		return Laid{}, err
	}
	laid.Regions, laid.Characters, laid.Painted, laid.Field, laid.Plan = c.Regions, fig.Characters, c.Painted, c.Field, c.Plan
	laid.Masks = slices.Clone(c.Masks)
	for i := range laid.Masks {
		m := &laid.Masks[i]
		m.ID = laid.ID() + "-" + m.ID
		m.Features = m.Features.on(laid.Map)
	}
	laid.setHeights()
	laid.Strain = laid.Map.Strain(laid.Field)
	laid.Exact = laid.Strain.Exact(g.ExactStrain)
	laid.Bands = l.Spec.Film.Strain
	laid.Advice = Advise(laid.Strain, laid.Bands)
	laid.setSlits()
	return laid, nil
}

// Sketch is a placement laid flat within a tolerance, in inches, without its film: the
// map of the skin, and the figure on it.
func Sketch(p layouts.Placement, tolerance float64) (*skin.FlatMap, layouts.Figure, error) {
	m, fig, _, err := laidFlat(p, tolerance, tolerance)
	return m, fig, err
}

// laidFlat lays the skin under a figure flat, and reach round it, and returns the figure
// as it falls there: bent, where it is true in another view.
func laidFlat(p layouts.Placement, reach, tolerance float64) (*skin.FlatMap, layouts.Figure, float64, error) {
	var bend func(layouts.Placement, *skin.FlatMap, float64) (layouts.Figure, float64, error)
	switch {
	case p.Drawn != nil:
		bend = func(p layouts.Placement, m *skin.FlatMap, tolerance float64) (layouts.Figure, float64, error) {
			return p.Drawn.InFlat(m, tolerance)
		}
	case p.Marking.True == layouts.TrueSide:
		bend = seenFromSide
	case p.Marking.Where.Baseline == layouts.WaterlineBaseline:
		bend = alongWaterline
	}
	need := p.Figure.Bounds().Grown(reach)
	for try := 0; ; try++ {
		m, err := skin.Flatten(p.Surface, p.Frame, need, tolerance)
		if err != nil || bend == nil { // the film is the drawing
			return m, p.Figure, 0, err
		}
		seen, deviation, err := bend(p, m, tolerance/2)
		switch {
		case err == nil:
			b := seen.Bounds().Grown(reach)
			if need.Union(b) == need || try >= 6 {
				return m, seen, deviation, nil
			}
			need = need.Union(b)
		case try == 6:
			return nil, seen, 0, err
		default:
			need = need.Grown(0.15 * math.Max(need.Width(), need.Height()))
		}
	}
}
