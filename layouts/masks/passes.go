package masks

import (
	"fmt"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Plan is how a marking is painted: its way, and what that means for its edges.
type Plan struct {
	Way     layouts.PaintWay
	Trap    g.Length
	Skirt   g.Length // paper beyond the film
	Edges   []Edge
	Reasons []string
}

// setPlan plans the passes and measures the films.
func (l *Laid) setPlan(paint layouts.PaintSpec) error {
	if err := l.planFilms(paint); err != nil {
		return err
	}
	for i := range l.Masks {
		l.Masks[i].Features = l.FeaturesOf(l.Masks[i])
	}
	return nil
}

// planFilms plans the passes: one mask for each paint, in the order of spraying; a
// paint that the order does not name comes after those it does.
//
// Errors: a boolean or an offset that failed.
func (l *Laid) planFilms(paint layouts.PaintSpec) error {
	regions := inOrder(l.Regions, paint.Order)
	l.Plan = Plan{Way: paint.Spray.Way, Trap: paint.Spray.Trap, Skirt: paint.Spray.Skirt}
	if len(regions) == 1 {
		l.Plan.Way, l.Plan.Trap = layouts.OpenWay, 0
	}
	var err error
	if l.Plan.Way == layouts.KeepDownWay {
		err = l.keepDown(regions)
	} else {
		err = l.openFilms(regions)
	}
	if err != nil {
		return err
	}
	l.countCoats(paint)
	if l.Plan.Edges, err = edgesOf(l.Masks, l.Plan.Way); err != nil {
		return err
	}
	l.Plan.Reasons = l.reasons()
	return nil
}

// inOrder returns the regions in the order of spraying.
func inOrder(regions []layouts.Region, order []string) []layouts.Region {
	var out []layouts.Region
	done := map[string]bool{}
	take := func(paint string) {
		for _, r := range regions {
			if r.Colour == paint && !done[paint] {
				out = append(out, r)
			}
		}
		done[paint] = true
	}
	for _, paint := range order {
		take(paint)
	}
	for _, r := range regions {
		take(r.Colour)
	}
	return out
}

// after returns the union of the regions after each, for each.
func after(regions []layouts.Region) ([]g.Path, error) {
	out := make([]g.Path, len(regions))
	for i := len(regions) - 2; i >= 0; i-- {
		var err error
		if out[i], err = g.Union(regions[i+1].Outline, out[i+1]); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// openFilms plans one film with an opening for each paint. The opening is the
// paint's region and its trap: what lies within the trap's width of it in regions
// of later paints. So no trap lies outside the marking or over an earlier paint,
// and each is covered by the later paint.
func (l *Laid) openFilms(regions []layouts.Region) error {
	later, err := after(regions)
	if err != nil {
		return err
	}
	field := g.Path{g.Rectangle(l.Field)}
	for i, r := range regions {
		opening, err := withTrap(r.Outline, later[i], l.Plan.Trap)
		if err != nil {
			return fmt.Errorf("the trap of %s: %w", r.Colour, err)
		}
		film, err := g.Subtract(field, opening)
		if err != nil {
			return err
		}
		m := Mask{
			Paint: r.Colour, Polarity: OpenFilm, Opening: opening, Shows: r.Outline, Film: film, Stays: film,
			Role: fmt.Sprintf("opening for %s alone; off after this pass", r.Colour),
		}
		if opening.Area()-r.Outline.Area() > g.OutlineTolerance {
			m.Role = fmt.Sprintf("opening for %s, running %v under what is sprayed later; off after this pass", r.Colour, l.Plan.Trap)
		}
		l.add(m, r.Colour)
	}
	return nil
}

// withTrap returns a region with what lies within the trap of it in later; parts
// that do not hang together with the region, beyond a strip of another paint or of
// bare skin, are left out.
func withTrap(region, later g.Path, trap g.Length) (g.Path, error) {
	if trap <= 0 || len(later) == 0 {
		return region, nil
	}
	grown, err := g.Offset(region, trap, g.RoundJoin, g.OutlineTolerance)
	if err != nil {
		return nil, err
	}
	strip, err := g.Intersect(grown, later)
	if err != nil || len(strip) == 0 {
		return region, err
	}
	all, err := g.Union(region, strip)
	if err != nil {
		return nil, err
	}
	var out g.Path
	for _, part := range components(all) {
		common, err := g.Intersect(part, region)
		if err != nil {
			return nil, err
		}
		if len(common) > 0 {
			out = append(out, part...)
		}
	}
	return out, nil
}

// keepDown plans one film with the opening of the whole marking, which stays to
// the end, and pieces over each paint but the last. Pieces lap film that lies
// already, at the marking's edge and on earlier pieces, by the trap's width, and
// never what is still to be painted: edge to edge they would leave a hairline.
func (l *Laid) keepDown(regions []layouts.Region) error {
	later, err := after(regions)
	if err != nil {
		return err
	}
	field := g.Path{g.Rectangle(l.Field)}
	surround, err := g.Subtract(field, l.Painted)
	if err != nil {
		return err
	}
	l.add(Mask{
		Paint: regions[0].Colour, Polarity: OpenFilm, Opening: l.Painted, Shows: regions[0].Outline, Film: surround, Stays: surround,
		Role: "surround with the opening of the whole marking; stays to the end",
	}, "surround")
	for i, r := range regions[1:] {
		kept := regions[i]
		pieces := kept.Outline
		if l.Plan.Trap > 0 {
			grown, err := g.Offset(kept.Outline, l.Plan.Trap, g.RoundJoin, g.OutlineTolerance)
			if err != nil {
				return fmt.Errorf("the keep-down film of %s: %w", kept.Colour, err)
			}
			if pieces, err = g.Subtract(grown, later[i]); err != nil {
				return err
			}
		}
		stays, err := g.Subtract(field, later[i])
		if err != nil {
			return err
		}
		l.add(Mask{
			Paint: r.Colour, Polarity: KeepDown, Keeps: kept.Colour, Opening: later[i], Shows: r.Outline, Film: pieces, Stays: stays,
			Role: fmt.Sprintf("keeps %s down; laid when it is dry to tape, stays to the end", kept.Colour),
		}, "keep-"+kept.Colour)
	}
	return nil
}

// add adds a mask with its number, its name and the count of its pieces.
func (l *Laid) add(m Mask, name string) {
	m.Pass = len(l.Masks) + 1
	m.ID = fmt.Sprintf("%s-pass-%d-%s", l.ID(), m.Pass, name)
	m.Pieces = countPieces(m.Film)
	l.Masks = append(l.Masks, m)
}

// countCoats fills in the coats of each pass and how many are sprayed while each
// film is on: its own, or with keep-down films all from its own to the last.
func (l *Laid) countCoats(paint layouts.PaintSpec) {
	for i := range l.Masks {
		m := &l.Masks[i]
		m.Coats, m.Under = paint.CoatsOf(m.Paint), paint.UnderCoatsOf(m.Paint)
	}
	on := 0
	for i := len(l.Masks) - 1; i >= 0; i-- {
		m := &l.Masks[i]
		if l.Plan.Way == layouts.OpenWay {
			on = 0
		}
		on += m.Coats + m.Under
		m.Sprays = on
	}
}

// reasons says why the plan is as it is.
func (l Laid) reasons() []string {
	if len(l.Masks) == 1 {
		return []string{"one paint: one film, nothing to run under"}
	}
	order := l.Masks[0].Paint
	for _, m := range l.Masks[1:] {
		order += ", then " + m.Paint
	}
	out := []string{"sprayed in the order of paint: order:, " + order + "; where the ridges of original paint show another order, write that"}
	if l.Plan.Way == layouts.KeepDownWay {
		return append(out,
			"keep-down: what is kept is covered where it lies, so that the paints need no register with one another; the films are on for all later coats and must bear every thinner (common practice, no source)",
			"keep-down pieces lap film that lies already by "+l.Plan.Trap.String()+", never what is still to be painted")
	}
	return append(out,
		"open: each film is on for its own paint alone; the paints meet by their registration marks (common practice, no source)",
		"each paint runs "+l.Plan.Trap.String()+" under those sprayed later, so that a film off by less leaves no hairline (1/16 to 1/8 in is common practice, no source)")
}
