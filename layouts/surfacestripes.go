package layouts

import (
	"fmt"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
)

// filling is the outline of a surface, and the directions in it.
type filling struct {
	bounds   [][]skinLine // of each surface, closed
	fore, up [2]skin.UV   // from the first to the second: along the fore edge, and upright
	right    bool         // the drawing's fore end is at its right
}

// inFlat returns the outline in the flat, the angles of its upright and of its fore
// edge there, radians counter-clockwise from x, and how far the fit lies from it.
func (f filling) inFlat(m *skin.FlatMap, tolerance float64) (field g.Path, upright, hinge, worst float64, err error) {
	for _, lines := range f.bounds {
		p, off, err := closedInFlat(m, lines, tolerance)
		if err != nil {
			return nil, 0, 0, 0, err
		}
		worst = math.Max(worst, off)
		if field, err = g.Union(field, p); err != nil {
			return nil, 0, 0, 0, err
		}
	}
	angle := func(ends [2]skin.UV) float64 {
		a, ok1 := m.ToFlat(ends[0])
		b, ok2 := m.ToFlat(ends[1])
		if !ok1 || !ok2 {
			err = offPatch{g.PositionOf(skin.PointAt(m.Surface(), ends[0]))}
		}
		return same.Atan2(b.Y-a.Y, b.X-a.X)
	}
	upright, hinge = angle(f.up), angle(f.fore)
	return field, upright, hinge, worst, err
}

// stripesOnSkin draws strips across the outline of a surface, straight in the flat.
type stripesOnSkin struct {
	filling
	figure Figure
	along  StripesAlong
	angle  float64 // degrees that the edges lean, counter-clockwise in the drawing
	strips []StripSpec
}

// InFlat implements [SkinDrawing].
func (d stripesOnSkin) InFlat(m *skin.FlatMap, tolerance float64) (Figure, float64, error) {
	field, up, hinge, worst, err := d.inFlat(m, tolerance)
	if err != nil {
		return Figure{}, 0, err
	}
	if d.along == AlongHinge {
		up = hinge
	}
	along := up*180/math.Pi + d.angle // edges run up: strips are counted to the reader's right
	switch {
	case d.along == AlongLevel:
		along -= 90 // edges run to the right: strips are counted downwards
	case d.right:
		along += 180 // edges run down: strips are counted to the left, which is aft
	}
	outlines, err := cutStrips(field, along, d.strips)
	if err != nil {
		return Figure{}, 0, err
	}
	var list []strip
	for i, s := range d.strips {
		list = append(list, strip{part: fmt.Sprintf("stripe-%d", i+1), paint: s.Paint})
	}
	d.figure.Layers = inLayers(list, outlines)
	if len(d.figure.Layers) == 0 {
		return Figure{}, 0, fmt.Errorf("no stripe lies within the outline")
	}
	return d.figure, worst, nil
}

// ruleOnSkin draws a rule whose field is the outline of a surface.
type ruleOnSkin struct {
	filling
	figure  Figure // with its rule, and the paints of its parts
	size    g.Length
	options []OptionChoice
}

// InFlat implements [SkinDrawing].
func (d ruleOnSkin) InFlat(m *skin.FlatMap, tolerance float64) (Figure, float64, error) {
	field, up, hinge, worst, err := d.inFlat(m, tolerance)
	if err != nil {
		return Figure{}, 0, err
	}
	// the rule is drawn upright and as on the left side
	mirror := func(p g.Point) g.Point { return p }
	if d.right && d.figure.Handed == Handed {
		mirror = func(p g.Point) g.Point { return g.Point{X: 0 - p.X, Y: p.Y} }
		up, hinge = math.Pi-up, math.Pi-hinge
	}
	tilt := up*180/math.Pi - 90
	size := d.size
	own := turned(field.Map(mirror), -tilt)
	if size == 0 {
		size = g.Length(own.Bounds().Height())
	}
	fig, err := InsigniaWithin(d.figure.Rule, size, d.options, own, (hinge-up)*180/math.Pi)
	if err != nil {
		return Figure{}, 0, err
	}
	d.figure.Dimensions = fig.Dimensions
	paints := map[string]string{}
	for _, l := range d.figure.Layers {
		paints[l.Part] = l.Colour
	}
	d.figure.Layers = nil
	for _, l := range fig.Layers {
		l.Colour, l.Outline = paints[l.Part], turned(l.Outline, tilt).Map(mirror)
		d.figure.Layers = append(d.figure.Layers, l)
	}
	return d.figure, worst, nil
}

// cutStrips cuts strips by their widths or by their parts.
func cutStrips(field g.Path, along float64, specs []StripSpec) ([]g.Path, error) {
	if slices.ContainsFunc(specs, func(s StripSpec) bool { return s.Part > 0 }) {
		var parts []float64
		for _, s := range specs {
			parts = append(parts, s.Part)
		}
		return StripesByPart(field, along, parts)
	}
	var widths []g.Length
	for _, s := range specs {
		widths = append(widths, s.Width)
	}
	return StripesByWidth(field, along, widths)
}

// sideLine is the straight from one point of a plate's outline to the next.
func sideLine(s skin.Surface, a, b g.SidePosition) skinLine {
	return skinLine{on: s, at: func(t float64) (skin.UV, error) {
		return skin.UV{U: a.FS.Inches() + float64(t*float64(b.FS-a.FS)), V: a.WL.Inches() + float64(t*float64(b.WL-a.WL))}, nil
	}}
}

// boundsOf returns the edges of the surfaces that a marking stands on, each closed.
//
// Errors: a body, which has no outline.
func (a *Airframe) boundsOf(s skin.Surface, on []string) ([][]skinLine, error) {
	if l, ok := s.(*skin.LiftingSkin); ok {
		_, vb, _ := l.Breaks()
		return [][]skinLine{wholeChords.outlineOf(l, vb[0], vb[len(vb)-1])}, nil
	}
	var out [][]skinLine
	for _, name := range on {
		spec, ok := a.SurfaceSpec(name)
		if !ok || spec.Kind != Plate {
			return nil, fmt.Errorf("%s has no outline to put stripes in: stripes fill a fin, a rudder or a face of a wing; round a body goes a band", name)
		}
		var lines []skinLine
		for i, p := range spec.Outline {
			lines = append(lines, sideLine(s, p, spec.Outline[(i+1)%len(spec.Outline)]))
		}
		out = append(out, lines)
	}
	return out, nil
}

// placeStripes places stripes, or a rule that fills a field, over the whole of a
// surface: about the middle of its extents, or of its middle chord.
func placeStripes(a *Airframe, m *MarkingSpec, fig Figure, side g.Side) (Placement, error) {
	one := *m
	w := &one.Where
	var s skin.Surface
	var err error
	if w.Face != NoFace {
		s, err = a.WingSurface(w.Surfaces[0], side, w.Face)
	} else {
		s, err = a.Surface(w.Surfaces, side)
	}
	if err != nil {
		return Placement{}, err
	}
	bounds, err := a.boundsOf(s, w.Surfaces)
	if err != nil {
		return Placement{}, err
	}
	us, vs, _ := s.Breaks()
	box := g.Rect{Min: g.Point{X: us[0], Y: vs[0]}, Max: g.Point{X: us[len(us)-1], Y: vs[len(vs)-1]}}
	at := box.Centre()
	if l, ok := s.(*skin.LiftingSkin); ok {
		at.X = midChord(l, at.Y)
	} else if at, err = inside(s, bounds, at); err != nil {
		return Placement{}, err
	}
	d := filling{bounds: bounds, right: side == g.Right && w.Face == NoFace}
	const e = 0.25 // inches of the axes that directions are taken over
	w.FS, w.Hold, w.Align, w.Angle = g.Station(at.X), HoldCentre, AlignWaterline, 0
	room := roomFor(fig, box.Width(), box.Height())
	var p Placement
	if w.Face != NoFace {
		w.BL = g.ButtLine(math.Abs(at.Y))
		d.up = [2]skin.UV{{U: at.X + e, V: at.Y}, {U: at.X - e, V: at.Y}} // forward
		room = roomFor(fig, box.Height(), box.Width())
		p, err = placeOnWing(a, &one, room, side)
	} else {
		w.Height, w.WL = HeightWaterline, g.Waterline(at.Y)
		d.up = [2]skin.UV{{U: at.X, V: at.Y - e}, {U: at.X, V: at.Y + e}}
		p, err = place(a, &one, room, side)
	}
	if err != nil {
		return Placement{}, err
	}
	if d.fore, err = a.hingeLine(s, w, at, e); err != nil {
		return Placement{}, err
	}
	p.ToEdge = true
	if spec := m.Figure.Stripes; spec != nil {
		angle := -spec.Angle
		if w.Face == NoFace {
			angle *= side.Reading()
		}
		p.Drawn = stripesOnSkin{filling: d, figure: Figure{ID: fig.ID, Handed: fig.Handed}, along: spec.Along, angle: angle, strips: inPaintsOf(spec.Strips, fig.Layers)}
		return p, nil
	}
	p.Drawn = ruleOnSkin{filling: d, figure: fig, size: m.Figure.Size, options: m.Figure.Options}
	return p, nil
}

// hingeLine returns two points, from the lower to the upper, or from aft forward, that
// lie in the direction of the fore edge of a surface at the height of a point.
func (a *Airframe) hingeLine(s skin.Surface, w *WhereSpec, at g.Point, e float64) ([2]skin.UV, error) {
	if l, ok := s.(*skin.LiftingSkin); ok {
		f0, _ := l.Chord(at.Y - e)
		f1, _ := l.Chord(at.Y + e)
		d := f1 - f0
		return [2]skin.UV{{U: at.X - d/2, V: at.Y - e}, {U: at.X + d/2, V: at.Y + e}}, nil
	}
	edge, err := a.foreEdge(*w, skin.UV{U: at.X, V: at.Y})
	if err != nil {
		return [2]skin.UV{}, err
	}
	d := edge.Scale(e / edge.Norm())
	return [2]skin.UV{{U: at.X - d.X, V: at.Y - d.Z}, {U: at.X + d.X, V: at.Y + d.Z}}, nil
}

// inside returns a point of the skin near the one given, on its waterline: the middle
// of the widest stretch that lies in the outline.
func inside(s skin.Surface, bounds [][]skinLine, at g.Point) (g.Point, error) {
	if s.Contains(skin.UV{U: at.X, V: at.Y}) {
		return at, nil
	}
	us, _, _ := s.Breaks()
	lo, hi := us[0], us[len(us)-1]
	best, from := g.Point{}, math.NaN()
	width := 0.0
	const steps = 400
	for i := 0; i <= steps; i++ {
		u := lo + (hi-lo)*float64(i)/steps
		in := s.Contains(skin.UV{U: u, V: at.Y})
		if in && math.IsNaN(from) {
			from = u
		}
		if (!in || i == steps) && !math.IsNaN(from) {
			if u-from > width {
				best, width = g.Point{X: (from + u) / 2, Y: at.Y}, u-from
			}
			from = math.NaN()
		}
	}
	if width == 0 {
		return at, g.Errorf("no skin at WL %v, the middle of the outline", g.Waterline(at.Y))
	}
	return best, nil
}
