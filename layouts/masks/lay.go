package masks

import (
	"context"
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
	Bare       g.Path              // beyond them, where no film lies: film covers one side of a line
	Characters []layouts.Character // of a text, in the flat
	Field      g.Rect              // what holds the fields of all masks
	Strain     skin.Strain         // of the film, which is the field as one sheet, free all round
	Range      skin.StrainRange    // of its peaks over the film's law
	Outline    skin.OutlineError   // by how much the outline may differ on the skin
	Exact      bool                // the film unrolls: no strain, and the outline is that of the drawing
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
// [layouts.MissingRule]. What lays one placement, as a rule [LayOne], is called from
// several goroutines.
//
// Errors: ctx is done.
func Lay(ctx context.Context, l *layouts.Layout, lay func(layouts.Placement) (Laid, error)) ([]Laid, []layouts.Finding, error) {
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
			missing = append(missing, layouts.Missing(p.Read, p.ID(), p.Marking.Place, p.Anchor, failed[i]))
			continue
		}
		out = append(out, all[i])
	}
	return out, missing, nil
}

// LayOne lays one placement of a layout, until ctx is done. Tolerance bounds both the
// movement of the net's answer and the fit of outlines, in inches. What cuts the figure,
// as it falls in the flat, is as a rule [CutOf]. The flat belongs to the film that is cut:
// where that turns out to be another than the one laid, and the skin does not unroll, it
// is laid again. Flats keeps those of the placement's surface for its other side; may be
// nil.
func LayOne(ctx context.Context, l *layouts.Layout, p layouts.Placement, tolerance float64, flats skin.Keep, cut func(layouts.Figure) (Cut, error)) (Laid, error) {
	filmOf := func(paint g.Rect) g.Rect { film, _ := fieldFor(paint, l.Spec.Film); return film }
	var c Cut
	var err error
	drawn := bendOf(p) == nil
	if drawn {
		if c, err = cut(p.Figure); err != nil {
			return Laid{}, err
		}
		filmOf = func(g.Rect) g.Rect { return c.Field }
	}
	reach := max(l.Spec.Film.Field.Inches(), l.Clearest(p).Inches()) + 0.25
	for try := 0; ; try++ {
		m, fig, deviation, film, err := laidFlat(ctx, p, filmOf, reach, tolerance, flats)
		if err != nil {
			return Laid{}, err
		}
		if !drawn {
			if c, err = cut(fig); err != nil {
				return Laid{}, err
			}
		}
		if drawn || try == 2 || sameRect(film, c.Field, m.Spare(tolerance)) || m.Exact(c.Field) {
			return assembled(l, p, m, fig, deviation, c), nil
		}
		filmOf = func(g.Rect) g.Rect { return c.Field }
	}
}

// assembled puts together what was laid and cut.
func assembled(l *layouts.Layout, p layouts.Placement, m *skin.FlatMap, fig layouts.Figure, deviation float64, c Cut) Laid {
	laid := Laid{Placement: p, Map: m, Deviation: deviation}
	laid.Regions, laid.Characters, laid.Painted, laid.Bare, laid.Field, laid.Plan = c.Regions, fig.Characters, c.Painted, c.Bare, c.Field, c.Plan
	laid.Masks = slices.Clone(c.Masks)
	for i := range laid.Masks {
		m := &laid.Masks[i]
		m.ID = laid.ID() + "-" + m.ID
		m.Features = m.Features.on(laid.Map)
	}
	laid.setHeights()
	laid.Strain = laid.Map.Strain(laid.Field)
	if laid.Exact = laid.Map.Exact(laid.Field); !laid.Exact {
		laid.Range = laid.Map.StrainRange(laid.Field, laid.Strain)
		laid.Outline = laid.Map.OutlineError()
	}
	laid.Bands = l.Spec.Film.Strain
	laid.Advice = Advise(laid.Strain, laid.Bands)
	laid.setSlits()
	return laid
}

// Sketch is a placement laid flat within a tolerance, in inches, without its film: the
// map of the skin, and the figure on it. Flats is as in [LayOne].
func Sketch(ctx context.Context, p layouts.Placement, tolerance float64, flats skin.Keep) (*skin.FlatMap, layouts.Figure, error) {
	m, fig, _, _, err := laidFlat(ctx, p, func(paint g.Rect) g.Rect { return paint }, tolerance, tolerance, flats)
	return m, fig, err
}

// sameRect tells whether the corners of two rectangles lie within a tolerance.
func sameRect(a, b g.Rect, tolerance float64) bool {
	return a.Min.Dist(b.Min) <= tolerance && a.Max.Dist(b.Max) <= tolerance
}

// bendOf returns what brings a figure that is true in another view into the flat; nil
// where the film is the drawing.
func bendOf(p layouts.Placement) func(layouts.Placement, *skin.FlatMap, float64) (layouts.Figure, float64, error) {
	switch {
	case p.Drawn != nil:
		return func(p layouts.Placement, m *skin.FlatMap, tolerance float64) (layouts.Figure, float64, error) {
			return p.Drawn.InFlat(m, tolerance)
		}
	case p.Marking.True == layouts.TrueSide:
		return seenFromSide
	case p.Marking.Where.Baseline == layouts.WaterlineBaseline:
		return alongWaterline
	}
	return nil
}

// needSlack is how much more skin than a figure reaches is laid, in inches, once it was
// seen where the figure falls.
const needSlack = 0.25

// laidFlat lays the film that filmOf puts round a figure flat, and the skin as far as
// reach round the figure, and returns the figure as it falls there: bent, where it is
// true in another view. The film returned is that of the flat.
func laidFlat(ctx context.Context, p layouts.Placement, filmOf func(paint g.Rect) g.Rect, reach, tolerance float64, flats skin.Keep) (*skin.FlatMap, layouts.Figure, float64, g.Rect, error) {
	bend := bendOf(p)
	need, film := p.Figure.Bounds().Grown(reach), filmOf(p.Figure.Bounds())
	first := tolerance
	if bend != nil { // where the figure falls is found on coarser nets
		first = coarser * tolerance
	}
	for try := 0; ; try++ {
		m, err := skin.FlattenKept(ctx, p.Surface, p.Frame, film, need.Union(film), first, flats)
		if err != nil || bend == nil { // the film is the drawing
			return m, p.Figure, 0, film, err
		}
		seen, deviation, err := bend(p, m, tolerance/2)
		switch {
		case err == nil:
			b, own := seen.Bounds().Grown(reach), filmOf(seen.Bounds())
			if need.Union(b) == need && (sameRect(film, own, m.Spare(tolerance)) || m.Exact(film)) || try >= 7 {
				if first = tolerance; m.Settled().Moved <= first || try >= 7 {
					return m, seen, deviation, film, nil
				}
				continue
			}
			if need.Union(b) != need { // the figure moves a little from one flat to the next
				need = need.Union(b.Grown(needSlack))
			}
			film = own
		case try >= 7:
			return nil, seen, 0, film, err
		default:
			need = need.Grown(0.15 * max(need.Width(), need.Height()))
		}
	}
}

// coarser is how much coarser than its answer a flat may be on which a figure is looked
// for.
const coarser = 16
