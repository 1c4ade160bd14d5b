package layouts

import (
	"fmt"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// Stripes round a ring, such as a cowling, run fore and aft between two stations. By
// parts or count they share the way round the body at every station, from the crown down
// the right side and up the left one, so that a pattern by turns goes on round it; by
// width they stand from the crown down, alike on both sides, each as wide along its
// section at every station.

// ringStripe is what one side shows of a stripe: between two lines along the body, and
// the sections at its fore and its aft end.
type ringStripe struct {
	part, paint string
	upper       int // indices of lines
	lower       int
	fore, aft   skinLine // from the upper line down
}

// ringStripes draws stripes along a body.
type ringStripes struct {
	figure  Figure
	lines   []skinLine // each from the fore end aft; a line is shared by its neighbours
	stripes []ringStripe
}

// InFlat implements [SkinDrawing].
func (d ringStripes) InFlat(m *skin.FlatMap, tolerance float64) (Figure, float64, error) {
	lines := make([]g.Contour, len(d.lines))
	worst := 0.0
	fit := func(l skinLine) (g.Contour, error) {
		c, off, err := l.inFlat(m, tolerance)
		worst = math.Max(worst, off)
		return c, err
	}
	var err error
	for i, l := range d.lines {
		if lines[i], err = fit(l); err != nil {
			return Figure{}, 0, err
		}
	}
	for _, s := range d.stripes {
		fore, err := fit(s.fore)
		if err != nil {
			return Figure{}, 0, err
		}
		aft, err := fit(s.aft)
		if err != nil {
			return Figure{}, 0, err
		}
		upper, lower := lines[s.upper], lines[s.lower].Reversed()
		c := g.Contour{Start: upper.Start}
		corners := []g.Point{upper.End(), lower.Start, lower.End(), upper.Start} // where all sides end, but for rounding
		for k, side := range []g.Contour{upper, aft, lower, fore.Reversed()} {
			c.Segments = append(c.Segments, side.Segments...)
			c.Segments[len(c.Segments)-1].End = corners[k]
		}
		if c.Area() < 0 {
			c = c.Reversed()
		}
		outline, err := g.Settle(g.Path{c})
		if err != nil {
			return Figure{}, 0, err
		}
		d.figure.Layers = append(d.figure.Layers, Layer{Part: s.part, Colour: s.paint, Outline: outline})
	}
	return d.figure, worst, nil
}

// ringStretch is a strip of one side from one place of the section to another: parts of
// the way from the crown to the keel, or inches from the crown.
type ringStretch struct {
	strip    int
	from, to float64
}

// ringStretches returns the painted strips that one side shows, from the crown down.
func ringStretches(strips []StripSpec, byPart bool, side g.Side) ([]ringStretch, error) {
	var out []ringStretch
	if !byPart {
		list, err := stripsByWidth(strips, 0)
		if err != nil {
			return nil, err
		}
		for i, s := range list {
			if s.paint != "" {
				out = append(out, ringStretch{i, s.from, s.to})
			}
		}
		return out, nil
	}
	parts, err := shares(strips)
	if err != nil {
		return nil, err
	}
	for k := range strips {
		i, from, to := k, 2*parts[k], 2*parts[k+1] // of half the way round
		if side == g.Left {
			i = len(strips) - 1 - k
			from, to = 2-2*parts[i+1], 2-2*parts[i]
		}
		if to = math.Min(to, 1); strips[i].Paint != "" && to-from > 1e-9 {
			out = append(out, ringStretch{i, from, to})
		}
	}
	return out, nil
}

// ring is a body between two stations, on one side.
type ring struct {
	on          skin.Surface
	crown, keel float64 // lines of it
	fore, aft   float64
	byPart      bool // places of a section are parts of the way from crown to keel, else inches from the crown
}

// half returns the way from crown to keel at a station, inches.
func (r ring) half(u float64) float64 {
	return math.Abs(skin.Girth(r.on, g.Station(u), r.crown, r.keel).Inches())
}

// all is the last place of a section, the keel.
func (r ring) all(u float64) float64 {
	if r.byPart {
		return 1
	}
	return r.half(u)
}

// at returns the skin at a station and a place of its section.
func (r ring) at(u, d float64) (skin.UV, error) {
	switch all := r.all(u); {
	case d == 0:
		return skin.UV{U: u, V: r.crown}, nil
	case math.Abs(d-all) < 1e-9:
		return skin.UV{U: u, V: r.keel}, nil
	case d > all:
		return skin.UV{}, g.Errorf("the stripes are %v wide together, and the skin runs %v from crown to keel at FS %v: make them narrower", g.Length(d), g.Length(all), g.Station(u))
	case r.byPart:
		d *= r.half(u)
	}
	return skin.AtGirth(r.on, skin.UV{U: u, V: r.crown}, g.Length(math.Copysign(d, r.keel-r.crown)))
}

// line is the line along the body through one place of every section.
func (r ring) line(d float64) skinLine {
	return alongBody(r.on, r.fore, r.aft, func(u float64) (skin.UV, error) { return r.at(u, d) })
}

// section is the section at a station from one place down to another.
func (r ring) section(u, from, to float64) (skinLine, error) {
	a, err := r.at(u, from)
	if err != nil {
		return skinLine{}, err
	}
	b, err := r.at(u, to)
	return roundBody(r.on, u, a.V, b.V), err
}

// cut returns the places at which the films of a side begin and end: those of its
// stripes, and where the waterlines cut them in the middle between both stations.
func (r ring) cut(stretches []ringStretch, waterlines []float64, side g.Side) ([]float64, error) {
	middle := (r.fore + r.aft) / 2
	out := []float64{stretches[0].from, stretches[len(stretches)-1].to}
	for _, wl := range waterlines {
		uv, err := skin.LocateSide(r.on, side, g.SidePosition{FS: g.Station(middle), WL: g.Waterline(wl)})
		if err != nil {
			return nil, fmt.Errorf("cuts: %w", err)
		}
		d := math.Abs(skin.Girth(r.on, g.Station(middle), r.crown, uv.V).Inches())
		if half := r.half(middle); d > half { // the other way round
			d = 2*half - d
		}
		if r.byPart {
			d /= r.half(middle)
		}
		if d > out[0]+1e-6 && d < out[len(out)-1]-1e-6 {
			out = append(out, d)
			slices.Sort(out)
		}
	}
	return slices.Compact(out), nil
}

// placeRing places the films of the stripes of one side of a body.
func placeRing(a *Airframe, m *MarkingSpec, fig Figure, side g.Side) ([]Placement, error) {
	spec := m.Figure.Stripes
	s, err := a.Surface(m.Where.Surfaces, side)
	if err != nil {
		return nil, err
	}
	r := ring{on: s, fore: spec.Between[0], aft: spec.Between[1], byPart: spec.Strips[0].Part > 0}
	if r.crown, err = a.lineV(s, m.Where.Surfaces, CrownLine, side); err != nil {
		return nil, err
	}
	if r.keel, err = a.lineV(s, m.Where.Surfaces, KeelLine, side); err != nil {
		return nil, err
	}
	if lo, hi := skin.Extent(s); r.fore < lo-1e-9 || r.aft > hi+1e-9 {
		return nil, g.Errorf("the stripes run from FS %v to FS %v: %s runs from FS %v to FS %v", g.Station(r.fore), g.Station(r.aft), m.Where.Surfaces[0], g.Station(lo), g.Station(hi))
	}
	strips := inPaintsOf(spec.Strips, fig.Layers)
	stretches, err := ringStretches(strips, r.byPart, side)
	if err != nil {
		return nil, err
	}
	if len(stretches) == 0 {
		return nil, fmt.Errorf("no stripe lies on this side")
	}
	cuts, err := r.cut(stretches, spec.Cuts, side)
	if err != nil {
		return nil, err
	}
	var out []Placement
	for i := 1; i < len(cuts); i++ {
		one := *m
		if len(spec.Cuts) > 0 {
			one.ID = fmt.Sprintf("%s-%d", m.ID, i)
		}
		d, err := r.drawn(strips, stretches, cuts[i-1], cuts[i])
		if err != nil {
			return nil, err
		}
		if len(d.stripes) == 0 {
			continue
		}
		d.figure = Figure{ID: fig.ID, Handed: fig.Handed}
		middle := (r.fore + r.aft) / 2
		uv, err := r.at(middle, (cuts[i-1]+cuts[i])/2)
		if err != nil {
			return nil, err
		}
		w := &one.Where
		w.FS, w.Height, w.Align, w.Hold = g.Station(middle), HeightGirth, AlignStation, HoldCentre
		w.Line, w.Down = CrownLine, g.Length(math.Abs(skin.Girth(s, w.FS, r.crown, uv.V).Inches()))
		height := cuts[i] - cuts[i-1]
		if r.byPart {
			height *= r.half(middle)
		}
		p, err := place(a, &one, roomFor(fig, r.aft-r.fore, height), side)
		if err != nil {
			return nil, err
		}
		p.Drawn = d
		out = append(out, p)
	}
	return out, nil
}

// drawn returns what stretches show between two places.
func (r ring) drawn(strips []StripSpec, stretches []ringStretch, from, to float64) (ringStripes, error) {
	var d ringStripes
	known := map[float64]int{}
	index := func(x float64) int {
		if _, ok := known[x]; !ok {
			known[x] = len(d.lines)
			d.lines = append(d.lines, r.line(x))
		}
		return known[x]
	}
	for _, st := range stretches {
		st.from, st.to = math.Max(st.from, from), math.Min(st.to, to)
		if st.to-st.from < 1e-9 {
			continue
		}
		one := ringStripe{part: fmt.Sprintf("stripe-%d", st.strip+1), paint: strips[st.strip].Paint, upper: index(st.from), lower: index(st.to)}
		var err error
		if one.fore, err = r.section(r.fore, st.from, st.to); err == nil {
			one.aft, err = r.section(r.aft, st.from, st.to)
		}
		if err != nil {
			return ringStripes{}, err
		}
		d.stripes = append(d.stripes, one)
	}
	return d, nil
}
