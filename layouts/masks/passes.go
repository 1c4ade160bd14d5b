package masks

import (
	"fmt"
	"slices"

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

// Cut is what is cut of a drawing in the flat: the same wherever the marking stands.
// Its masks are named without their marking, and their features have no place on the
// skin.
type Cut struct {
	Regions []layouts.Region // the visible region of each paint; disjoint
	Painted g.Path           // all of them together
	Bare    g.Path           // beyond them, where no film lies; see [layouts.Figure]
	Field   g.Rect           // outer rectangle of every mask
	Plan    Plan
	Masks   []Mask // one a pass, in the order of spraying
}

// CutOf plans the passes of a drawing and measures the films.
//
// Errors: nothing of it is left to paint; a boolean or an offset that failed.
func CutOf(fig layouts.Figure, paint layouts.PaintSpec, film layouts.FilmSpec) (Cut, error) {
	regions, err := fig.Regions()
	if err != nil {
		return Cut{}, err
	}
	l := Laid{Regions: regions, Characters: fig.Characters, Bare: fig.Bare}
	if l.Painted, err = joined(regions)(0); err != nil {
		return Cut{}, err
	}
	if len(l.Painted) == 0 {
		return Cut{}, fmt.Errorf("nothing of it is left to paint: make it larger")
	}
	if err := l.planFilms(paint, film); err != nil {
		return Cut{}, err
	}
	for i := range l.Masks {
		l.Masks[i].Features = featuresOf(l.Masks[i])
		if len(l.Bare) > 0 { // nothing is weeded beside the line
			l.Masks[i].Features.OpeningPiece, l.Masks[i].Features.OpeningNeck = nil, nil
		}
	}
	return Cut{l.Regions, l.Painted, l.Bare, l.Field, l.Plan, l.Masks}, nil
}

// planFilms plans the passes: one mask for each paint, in the order of spraying; a
// paint that the order does not name comes after those it does. The field of the
// marking is then what holds the fields of all masks.
//
// Errors: a boolean or an offset that failed.
func (l *Laid) planFilms(paint layouts.PaintSpec, film layouts.FilmSpec) error {
	regions := inOrder(l.Regions, paint.Order)
	l.Plan = Plan{Way: paint.Spray.Way, Trap: paint.Spray.Trap, Skirt: paint.Spray.Skirt}
	if len(regions) == 1 {
		l.Plan.Way, l.Plan.Trap = layouts.OpenWay, 0
	}
	var err error
	switch {
	case len(l.Bare) > 0:
		err = l.oneSide(regions[0], film)
	case l.Plan.Way == layouts.KeepDownWay:
		err = l.keepDown(regions, film)
	default:
		err = l.openFilms(regions, film)
	}
	if err != nil {
		return err
	}
	l.Field = l.Masks[0].Field
	for _, m := range l.Masks[1:] {
		l.Field = l.Field.Union(m.Field)
	}
	l.countCoats(paint)
	l.Plan.Edges = edgesOf(l.Masks, l.Plan.Way)
	if len(l.Bare) > 0 { // the paint ends at film along the line alone
		for i, e := range l.Plan.Edges {
			e.Length = g.Length(commonLength(l.Regions[0].Outline, sidesOf(l.Masks[0].Film)))
			l.Plan.Edges[i] = e
		}
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

// stillOpen returns, for each region, what is still to be painted when its turn comes:
// itself and all after it. Of the first that is the whole marking.
func stillOpen(regions []layouts.Region) ([]g.Path, error) {
	out := make([]g.Path, len(regions))
	from := joined(regions)
	for i := range out {
		var err error
		if out[i], err = from(i); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// joined returns what gives the union of some regions from one of them on; it lays them
// over one another once.
func joined(regions []layouts.Region) func(from int) (g.Path, error) {
	outlines := make([]g.Path, len(regions))
	for i, r := range regions {
		outlines[i] = r.Outline
	}
	over, err := g.Overlaid(outlines...)
	return func(from int) (g.Path, error) {
		if err != nil {
			return nil, err
		}
		return over.Region(func(in []bool) bool { return slices.Contains(in[from:], true) })
	}
}

// openFilms plans one film with an opening for each paint. The opening is the
// paint's region and its trap: what lies within the trap's width of it in regions
// of later paints. So no trap lies outside the marking or over an earlier paint,
// and each is covered by the later paint.
func (l *Laid) openFilms(regions []layouts.Region, spec layouts.FilmSpec) error {
	still, err := stillOpen(regions)
	if err != nil {
		return err
	}
	for i, r := range regions {
		opening := r.Outline
		if i < len(regions)-1 && l.Plan.Trap > 0 {
			if opening, err = withTrap(r.Outline, still[i], l.Plan.Trap); err != nil {
				return fmt.Errorf("the trap of %s: %w", r.Colour, err)
			}
		}
		field, width := fieldFor(opening.Bounds(), spec)
		film := outside(field, opening)
		m := Mask{
			Paint: r.Colour, Polarity: OpenFilm, Field: field, FieldWidth: width, Opening: opening, Shows: r.Outline, Film: film, Stays: film,
			Role: fmt.Sprintf("opening for %s alone; off after this pass", r.Colour),
		}
		if opening.Area()-r.Outline.Area() > g.OutlineTolerance {
			m.Role = fmt.Sprintf("opening for %s, running %s under what is sprayed later; off after this pass", r.Colour, l.Placement.Read.Length(l.Plan.Trap, 4))
		}
		l.add(m, r.Colour)
	}
	return nil
}

// withTrap returns a region with what lies within the trap of it in what is still
// open, which holds the region; parts that do not hang together with the region,
// beyond a strip of another paint or of bare skin, are left out.
func withTrap(region, still g.Path, trap g.Length) (g.Path, error) {
	grown, err := g.Offset(region, trap, g.RoundJoin, g.OutlineTolerance)
	if err != nil {
		return nil, err
	}
	all, err := g.Intersect(grown, still)
	if err != nil {
		return nil, err
	}
	parts := components(all)
	if len(parts) == 1 {
		return all, nil
	}
	var inner []g.Point // one just inside each part of the region
	for _, c := range components(region) {
		left := c[0].Velocity(0, 0.5).Unit().Perp()
		inner = append(inner, c[0].At(0, 0.5).Add(left.Scale(g.FlattenTolerance*2)))
	}
	var out g.Path
	for _, part := range parts {
		chords := chordsOf(part)
		if slices.ContainsFunc(inner, func(q g.Point) bool { return chords.Contains(q) }) {
			out = append(out, part...)
		}
	}
	return out, nil
}

// keepDown plans one film with the opening of the whole marking, which stays to
// the end, and pieces over each paint but the last. Pieces lap film that lies
// already, at the marking's edge and on earlier pieces, by the trap's width, and
// never what is still to be painted: edge to edge they would leave a hairline.
func (l *Laid) keepDown(regions []layouts.Region, spec layouts.FilmSpec) error {
	still, err := stillOpen(regions)
	if err != nil {
		return err
	}
	field, width := fieldFor(l.Painted.Bounds(), spec)
	surround := outside(field, l.Painted)
	l.add(Mask{
		Paint: regions[0].Colour, Polarity: OpenFilm, Field: field, FieldWidth: width, Opening: l.Painted, Shows: regions[0].Outline, Film: surround, Stays: surround,
		Role: "surround with the opening of the whole marking; stays to the end",
	}, "surround")
	for i, r := range regions[1:] {
		kept, open := regions[i], still[i+1]
		pieces := kept.Outline
		if l.Plan.Trap > 0 {
			grown, err := g.Offset(kept.Outline, l.Plan.Trap, g.RoundJoin, g.OutlineTolerance)
			if err != nil {
				return fmt.Errorf("the keep-down film of %s: %w", kept.Colour, err)
			}
			if pieces, err = g.Subtract(grown, open); err != nil {
				return err
			}
		}
		carrier, width := fieldFor(pieces.Bounds(), spec)
		l.add(Mask{
			Paint: r.Colour, Polarity: KeepDown, Keeps: kept.Colour, Field: carrier, FieldWidth: width, Opening: open, Shows: r.Outline, Film: pieces, Stays: outside(field, open),
			Role: fmt.Sprintf("keeps %s down; laid when it is dry to tape, stays to the end", kept.Colour),
		}, "keep-"+kept.Colour)
	}
	return nil
}

// add adds a mask with its number, its name and the count of its pieces.
func (l *Laid) add(m Mask, name string) {
	m.Pass = len(l.Masks) + 1
	m.ID = fmt.Sprintf("pass-%d-%s", m.Pass, name)
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
