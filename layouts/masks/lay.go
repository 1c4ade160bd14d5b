package masks

import (
	"context"
	"fmt"
	"math"

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
	Field      g.Rect              // outer rectangle of every mask
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
// [layouts.MissingRule]. Tolerance bounds both the movement of the net's answer and the
// fit of outlines, in inches. Progress is called, from several goroutines, with the id
// of each one begun.
//
// Errors: ctx is done.
func Lay(ctx context.Context, l *layouts.Layout, tolerance float64, progress func(id string)) ([]Laid, []layouts.Finding, error) {
	all, failed := make([]Laid, len(l.Placed)), make([]error, len(l.Placed))
	err := parallel.Each(ctx, len(l.Placed), func(i int) error {
		progress(l.Placed[i].ID())
		all[i], failed[i] = LayOne(l, l.Placed[i], tolerance)
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
	laid := Laid{Placement: p}
	margin := l.Spec.Film.Field.Inches()
	reach := math.Max(margin, l.Clearest(p).Inches()) + 0.25
	fig := p.Figure
	need, film := fig.Bounds().Grown(reach), fieldAround(fig.Bounds(), margin)
	for try := 0; ; try++ {
		m, err := skin.Flatten(p.Surface, p.Frame, film, need, tolerance)
		if err != nil {
			return Laid{}, err
		}
		laid.Map = m
		var bend func(layouts.Placement, *skin.FlatMap, float64) (layouts.Figure, float64, error)
		switch {
		case p.Marking.True == layouts.TrueSide:
			bend = seenFromSide
		case p.Marking.Where.Baseline == layouts.WaterlineBaseline:
			bend = alongWaterline
		}
		if bend == nil {
			break // the film is the drawing
		}
		seen, deviation, err := bend(p, m, tolerance/2)
		if err == nil {
			fig, laid.Deviation = seen, deviation
			b, field := fig.Bounds().Grown(reach), fieldAround(fig.Bounds(), margin)
			own := sameRect(film, field, tolerance) || m.Exact(film) // the flat is that of this very film
			if (need.Union(b) == need && own) || try == 6 {
				break
			}
			need, film = need.Union(b), field
			continue
		}
		if try == 6 {
			return Laid{}, err
		}
		need = need.Grown(0.15 * math.Max(need.Width(), need.Height()))
	}
	regions, err := fig.Regions()
	if err != nil {
		return Laid{}, err
	}
	laid.Regions, laid.Characters = regions, fig.Characters
	for _, r := range regions {
		if laid.Painted, err = g.Union(laid.Painted, r.Outline); err != nil {
			return Laid{}, err
		}
	}
	if len(laid.Painted) == 0 {
		return Laid{}, fmt.Errorf("nothing of it is left to paint: make it larger")
	}
	laid.setHeights()
	laid.Field = fieldAround(fig.Bounds(), margin)
	laid.Strain = laid.Map.Strain(laid.Field)
	if laid.Exact = laid.Map.Exact(laid.Field); !laid.Exact {
		laid.Range = laid.Map.StrainRange(laid.Field, laid.Strain)
		laid.Outline = laid.Map.OutlineError()
	}
	laid.Bands = l.Spec.Film.Strain
	laid.Advice = Advise(laid.Strain, laid.Bands)
	laid.setSlits()
	return laid, laid.setPlan(l.Spec.Paint)
}

// sameRect tells whether the sides of two rectangles lie within a tolerance.
func sameRect(a, b g.Rect, tolerance float64) bool {
	return a.Min.Dist(b.Min) <= tolerance && a.Max.Dist(b.Max) <= tolerance
}

// fieldAround returns the outer rectangle of the film: the paint's bounds grown
// by the margin, each side moved out to make the width and height whole eighths
// of an inch.
func fieldAround(b g.Rect, margin float64) g.Rect {
	r := b.Grown(margin)
	grow := func(v float64) float64 { return (math.Ceil(v*8-1e-6)/8 - v) / 2 }
	dx, dy := grow(r.Width()), grow(r.Height())
	return g.Rect{
		Min: g.Point{X: r.Min.X - dx, Y: r.Min.Y - dy},
		Max: g.Point{X: r.Max.X + dx, Y: r.Max.Y + dy},
	}
}
