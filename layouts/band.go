package layouts

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// bandOnSkin draws strips beside a line, true along the skin.
type bandOnSkin struct {
	figure Figure // its id
	line   skinLine
	probe  skin.UV // on the side of the line where the strips lie
	strips []strip
	bounds []skinLine // in which the strips lie, closed: edges of a wing, the joins of a body
}

// InFlat implements [SkinDrawing].
func (b bandOnSkin) InFlat(m *skin.FlatMap, tolerance float64) (Figure, float64, error) {
	c, off, err := b.line.inFlat(m, tolerance)
	if err != nil {
		return Figure{}, 0, err
	}
	if c, err = towards(m, c, b.probe); err != nil {
		return Figure{}, 0, err
	}
	within, worst, err := closedInFlat(m, b.bounds, tolerance)
	if err != nil {
		return Figure{}, 0, err
	}
	off = math.Max(off, worst)
	outlines, err := stripsBeside(c, b.strips, within)
	if err != nil {
		return Figure{}, 0, err
	}
	b.figure.Layers = inLayers(b.strips, outlines)
	return b.figure, off, nil
}

// closedInFlat returns the region inside lines that follow one another round it.
func closedInFlat(m *skin.FlatMap, lines []skinLine, tolerance float64) (g.Path, float64, error) {
	var all g.Contour
	worst := 0.0
	for i, l := range lines {
		c, off, err := l.inFlat(m, tolerance)
		if err != nil {
			return nil, 0, err
		}
		worst = math.Max(worst, off)
		if i == 0 {
			all.Start = c.Start
		}
		all.Segments = append(all.Segments, c.Segments...)
	}
	if !all.Closed() { // the last line ends where the first begins, but for rounding
		all.Segments[len(all.Segments)-1].End = all.Start
	}
	if all.Area() < 0 {
		all = all.Reversed()
	}
	p, err := g.Settle(g.Path{all})
	return p, worst, err
}

// betweenLines draws strips between lines that stand where two neighbours meet: the
// first and the last are the edges of the whole.
type betweenLines struct {
	figure Figure
	lines  []skinLine
	strips []StripSpec
}

// InFlat implements [SkinDrawing].
func (b betweenLines) InFlat(m *skin.FlatMap, tolerance float64) (Figure, float64, error) {
	var edges []g.Contour
	worst := 0.0
	for _, l := range b.lines {
		c, off, err := l.inFlat(m, tolerance)
		if err != nil {
			return Figure{}, 0, err
		}
		edges, worst = append(edges, c), math.Max(worst, off)
	}
	for i, s := range b.strips {
		if s.Paint == "" {
			continue
		}
		c := g.Contour{Start: edges[i].Start, Segments: append([]g.Segment(nil), edges[i].Segments...)}
		back := edges[i+1].Reversed()
		c.Segments = append(c.Segments, g.Segment{Kind: g.Line, End: back.Start})
		c.Segments = append(append(c.Segments, back.Segments...), g.Segment{Kind: g.Line, End: c.Start})
		if c.Area() < 0 {
			c = c.Reversed()
		}
		outline, err := g.Settle(g.Path{c})
		if err != nil {
			return Figure{}, 0, err
		}
		b.figure.Layers = append(b.figure.Layers, Layer{Part: fmt.Sprintf("stripe-%d", i+1), Colour: s.Paint, Outline: outline})
	}
	return b.figure, worst, nil
}

// placeBand places the films of a band on one side: of a body one from each join to
// the next, of a wing one on its face.
func placeBand(a *Airframe, m *MarkingSpec, fig Figure, side g.Side) ([]Placement, error) {
	if m.Where.Face != NoFace {
		return placeWingBands(a, m, fig, side)
	}
	s, err := a.Surface(m.Where.Surfaces, side)
	if err != nil {
		return nil, err
	}
	if _, _, period := s.Breaks(); period <= 0 {
		return nil, fmt.Errorf("%s does not close round itself: a band goes round a body, or over a wing by face:", m.Where.Surfaces[0])
	}
	joins, err := a.joinsOf(s, m, side)
	if err != nil {
		return nil, err
	}
	var out []Placement
	for i := 1; i < len(joins); i++ {
		one := *m
		switch {
		case len(m.Figure.Band.Cuts) > 0:
			one.ID = fmt.Sprintf("%s-%d", m.ID, i)
		case len(joins) > 2:
			one.ID = m.ID + "-" + inID(joins[i-1].line) + "-" + inID(joins[i].line)
		}
		p, err := placeBandFilm(a, s, &one, fig, side, joins[i-1], joins[i])
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// bandJoin is where two films of a band meet: a named line, or the line of the skin
// that crosses a waterline in the middle of the band.
type bandJoin struct {
	line string // empty: a waterline
	v    float64
}

// joinsOf returns where the films of a band on one side begin and end, from the crown
// down.
func (a *Airframe) joinsOf(s skin.Surface, m *MarkingSpec, side g.Side) ([]bandJoin, error) {
	spec := m.Figure.Band
	lines := spec.Joins
	if len(lines) == 0 {
		lines = []string{CrownLine, KeelLine}
	}
	var out []bandJoin
	for i, line := range lines {
		v, err := a.lineV(s, m.Where.Surfaces, line, side)
		if err != nil {
			return nil, err
		}
		if i > 0 && (v-out[i-1].v)*side.Sign() <= 0 {
			return nil, fmt.Errorf("joins: %s does not lie below %s: name the lines from the crown down", line, lines[i-1])
		}
		out = append(out, bandJoin{line, v})
	}
	middle := spec.At[0]
	if len(spec.At) == 2 {
		middle = (spec.At[0] + spec.At[1]) / 2
	}
	for _, wl := range spec.Cuts {
		uv, err := skin.LocateSide(s, side, g.SidePosition{FS: g.Station(middle), WL: g.Waterline(wl)})
		if err != nil {
			return nil, fmt.Errorf("cuts: %w", err)
		}
		_, _, period := s.Breaks()
		v := uv.V
		for (v-out[0].v)*side.Sign() < 0 { // the same line one turn on
			v += float64(period * side.Sign())
		}
		k := slices.IndexFunc(out, func(j bandJoin) bool { return (j.v-v)*side.Sign() > 0 })
		if k < 1 || math.Abs(out[k-1].v-v) < 1e-6 || math.Abs(out[k].v-v) < 1e-6 {
			return nil, g.Errorf("cuts: WL %v does not lie within the band, or is a join already: take it out", g.Waterline(wl))
		}
		out = slices.Insert(out, k, bandJoin{v: v})
	}
	return out, nil
}

// placeBandFilm places one film of a band round a body, from one join down to another.
func placeBandFilm(a *Airframe, s skin.Surface, m *MarkingSpec, fig Figure, side g.Side, upper, lower bandJoin) (Placement, error) {
	spec := m.Figure.Band
	v0, v1 := upper.v, lower.v
	lo, hi := skin.Extent(s)
	for _, at := range spec.At {
		if at < lo || at > hi {
			return Placement{}, g.Errorf("FS %v lies off %s: it runs from FS %v to FS %v", g.Station(at), m.Where.Surfaces[0], g.Station(lo), g.Station(hi))
		}
	}
	round := func(fs float64) skinLine {
		return skinLine{on: s, breaks: linesOf(s, v0, v1), at: func(t float64) (skin.UV, error) {
			return a.sectionAt(s, m.Where.Surfaces, fs, v0+float64(t*(v1-v0)), spec.Square)
		}}
	}
	strips := inPaintsOf(spec.Strips, fig.Layers)
	figure := Figure{ID: fig.ID, Handed: fig.Handed}
	width, middle := 0.0, spec.At[0]
	var drawn SkinDrawing
	if len(spec.At) == 1 {
		list, err := stripsByWidth(strips, 0)
		if err != nil {
			return Placement{}, err
		}
		width = list[len(list)-1].to
		if middle += width / 2; spec.At[0]+width > hi {
			return Placement{}, g.Errorf("the band of %v from FS %v runs off %s at FS %v", g.Length(width), g.Station(spec.At[0]), m.Where.Surfaces[0], g.Station(hi))
		}
		edge := round(spec.At[0])
		bounds, err := boundsBetween(s, edge, v0, v1, width)
		if err != nil {
			return Placement{}, err
		}
		drawn = bandOnSkin{figure: figure, line: edge, probe: skin.UV{U: middle, V: (v0 + v1) / 2}, strips: list, bounds: bounds}
	} else {
		parts, err := shares(strips)
		if err != nil {
			return Placement{}, err
		}
		width, middle = spec.At[1]-spec.At[0], (spec.At[0]+spec.At[1])/2
		b := betweenLines{figure: figure, strips: strips}
		for _, t := range parts {
			b.lines = append(b.lines, round(spec.At[0]+float64(t*width)))
		}
		drawn = b
	}
	m.Where.FS, m.Where.Height, m.Where.Line, m.Where.LineTo = g.Station(middle), HeightBetween, upper.line, lower.line
	if upper.line == "" || lower.line == "" {
		half := skin.Girth(s, m.Where.FS, v0, v1) / 2
		uv, err := skin.AtGirth(s, skin.UV{U: middle, V: v0}, half*g.Length(math.Copysign(1, v1-v0)))
		if err != nil {
			return Placement{}, err
		}
		m.Where.Height, m.Where.WL = HeightWaterline, g.Waterline(skin.PointAt(s, uv).Z)
	}
	m.Where.Align, m.Where.Hold = AlignStation, HoldCentre
	girth := skin.Girth(s, m.Where.FS, v0, v1).Inches()
	p, err := place(a, m, roomFor(fig, width, math.Abs(girth)), side)
	p.Drawn = drawn
	return p, err
}

// boundsBetween returns the outline of what lies between two lines of a body, from ahead
// of a line round it to beyond a band of that width behind it.
func boundsBetween(s skin.Surface, edge skinLine, v0, v1, width float64) ([]skinLine, error) {
	const spare = 1.0 // inches
	fore, aft := math.Inf(1), math.Inf(-1)
	for i := range 17 {
		uv, err := edge.at(float64(i) / 16)
		if err != nil {
			return nil, err
		}
		fore, aft = math.Min(fore, uv.U), math.Max(aft, uv.U)
	}
	lo, hi := skin.Extent(s)
	fore, aft = math.Max(lo, fore-spare), math.Min(hi, aft+width+spare)
	along := func(v float64) skinLine {
		return alongBody(s, fore, aft, func(u float64) (skin.UV, error) { return skin.UV{U: u, V: v}, nil })
	}
	return []skinLine{along(v0), roundBody(s, aft, v0, v1), reversedLine(along(v1)), reversedLine(roundBody(s, fore, v0, v1))}, nil
}

// alongBody is a line along a body between two stations, through a place of each.
func alongBody(s skin.Surface, fore, aft float64, at func(u float64) (skin.UV, error)) skinLine {
	l := skinLine{on: s, at: func(t float64) (skin.UV, error) { return at(fore + float64(t*(aft-fore))) }}
	us, _, _ := s.Breaks()
	for _, u := range us {
		if u > fore && u < aft {
			l.breaks = append(l.breaks, (u-fore)/(aft-fore))
		}
	}
	return l
}

// roundBody is the section of a body at a station, from one line of it to another.
func roundBody(s skin.Surface, u, v0, v1 float64) skinLine {
	return skinLine{on: s, breaks: linesOf(s, v0, v1), at: func(t float64) (skin.UV, error) { return skin.UV{U: u, V: v0 + float64(t*(v1-v0))}, nil }}
}

// roomFor returns a figure whose layers take a room about the origin.
func roomFor(fig Figure, width, height float64) Figure {
	room := g.Path{g.Rectangle(g.Rect{Min: g.Point{X: -width / 2, Y: -height / 2}, Max: g.Point{X: width / 2, Y: height / 2}})}
	fig.Layers = append([]Layer(nil), fig.Layers...)
	for i := range fig.Layers {
		fig.Layers[i].Outline = room
	}
	return fig
}

// linesOf returns where the grid lines round a section stand between two of its
// lines, as parts of the way from the first to the second.
func linesOf(s skin.Surface, v0, v1 float64) []float64 {
	_, vb, period := s.Breaks()
	lo, hi := math.Min(v0, v1), math.Max(v0, v1)
	var out []float64
	for _, b := range vb {
		for k := math.Ceil((lo - b) / period); b+float64(k*period) < hi; k++ {
			out = append(out, (b+float64(k*period)-v0)/(v1-v0))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// sectionAt returns the point of a band's edge on line v of a body: at a station, or
// where the plane square to the body's centre line there cuts the skin.
func (a *Airframe) sectionAt(s skin.Surface, on []string, fs, v float64, square bool) (skin.UV, error) {
	if !square {
		return skin.UV{U: fs, V: v}, nil
	}
	crown, err := a.lineV(s, on, CrownLine, g.Right)
	if err != nil {
		return skin.UV{}, err
	}
	keel, err := a.lineV(s, on, KeelLine, g.Right)
	if err != nil {
		return skin.UV{}, err
	}
	middle := func(u float64) g.Vec3 { // halfway from crown to keel
		return skin.PointAt(s, skin.UV{U: u, V: crown}).Lerp(skin.PointAt(s, skin.UV{U: u, V: keel}), 0.5)
	}
	const step = 1.0 // inches
	u0, u1 := skin.Extent(s)
	c := middle(fs)
	d := middle(math.Min(u1, fs+step)).Sub(middle(math.Max(u0, fs-step))).Unit()
	ahead := func(u float64) float64 { return skin.PointAt(s, skin.UV{U: u, V: v}).Sub(c).Dot(d) }
	if ahead(u0) > 0 || ahead(u1) < 0 {
		return skin.UV{}, g.Errorf("the plane square to the centre line at FS %v leaves the body: move the band away from its end, or take square: out", g.Station(fs))
	}
	for range 60 {
		if u := (u0 + u1) / 2; ahead(u) < 0 {
			u0 = u
		} else {
			u1 = u
		}
	}
	return skin.UV{U: (u0 + u1) / 2, V: v}, nil
}

// inID turns the name of a line into a part of an id, which names files.
func inID(line string) string {
	return strings.Trim(notInID.ReplaceAllString(strings.ToLower(line), "-"), "-")
}

var notInID = regexp.MustCompile(`[^a-z0-9]+`)
