package layouts

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// lineOnSkin draws strips beside a line through points of the skin.
type lineOnSkin struct {
	figure Figure
	points []skin.UV
	smooth bool
	along  [][2]skin.UV // of a smooth line that is cut: two places near each point, in the line's direction
	strips []strip
	covers Lies
}

// InFlat implements [SkinDrawing]: straight stretches are the shortest way along the
// skin from point to point, a smooth line is the cubic spline through them in the flat.
// Of a smooth line that is cut, each piece is made of cubics through its points in the
// line's direction there, so that two pieces meet in one point and one direction.
func (l lineOnSkin) InFlat(m *skin.FlatMap, tolerance float64) (Figure, float64, error) {
	var err error
	flat := func(uv skin.UV) g.Point {
		q, ok := m.ToFlat(uv)
		if !ok && err == nil {
			err = offPatch{g.PositionOf(skin.PointAt(m.Surface(), uv))}
		}
		return q
	}
	var pts []g.Point
	var ways []g.Vec
	for _, uv := range l.points {
		pts = append(pts, flat(uv))
	}
	for _, ends := range l.along {
		ways = append(ways, flat(ends[1]).Sub(flat(ends[0])).Unit())
	}
	if err != nil {
		return Figure{}, 0, err
	}
	c := g.Polyline(pts...)
	switch {
	case len(ways) > 0:
		c = g.CubicsThrough(pts, ways)
	case l.smooth:
		c = g.SplineThrough(pts)
	}
	// strips are counted downwards: to the left of a line that runs to the reader's left
	if c.End().X > c.Start.X {
		c = c.Reversed()
	}
	outlines, err := stripsBeside(c, l.strips, nil)
	if err != nil {
		return Figure{}, 0, err
	}
	l.figure.Layers = inLayers(l.strips, outlines)
	switch l.covers {
	case LiesAbove:
		l.figure.Bare, err = sideOf(c)
	case LiesBelow:
		l.figure.Bare, err = sideOf(c.Reversed())
	}
	return l.figure, 0, err
}

// sideOf returns all that lies to the left of a line in the flat which goes straight on
// at both ends, farther than any film reaches.
func sideOf(c g.Contour) (g.Path, error) {
	start, end := c.StartTangent(0).Unit(), c.EndTangent(len(c.Segments)-1).Unit()
	far := 4*c.Bounds().Width() + 4*c.Bounds().Height() + 200 // inches
	up := c.End().Sub(c.Start).Unit().Perp().Scale(far)
	from, to := c.Start.Add(start.Scale(-far)), c.End().Add(end.Scale(far))
	b := g.MoveTo(from)
	b.LineTo(c.Start)
	b.Follow(c.Segments)
	b.LineTo(to)
	b.LineTo(to.Add(up))
	b.LineTo(from.Add(up))
	return g.Filled(g.Path{b.Close()})
}

// placeLine places the strips along a line on one side, in as many pieces as it is cut
// into.
func placeLine(a *Airframe, m *MarkingSpec, fig Figure, side g.Side) ([]Placement, error) {
	spec := m.Figure.Line
	s, err := a.Surface(m.Where.Surfaces, side)
	if err != nil {
		return nil, err
	}
	d := lineOnSkin{figure: Figure{ID: fig.ID, Handed: fig.Handed}, smooth: spec.Smooth, covers: spec.Covers}
	total := 0.0
	for _, p := range spec.Strips {
		total += p.Width.Inches()
	}
	from := map[Lies]float64{LiesBelow: 0, LiesAbove: -total, LiesCentred: -total / 2}[spec.Lies]
	if d.strips, err = stripsByWidth(inPaintsOf(spec.Strips, fig.Layers), from); err != nil {
		return nil, err
	}
	for i, w := range spec.Points {
		w.Surfaces = m.Where.Surfaces
		uv, err := a.anchor(s, w, side)
		if err != nil {
			return nil, fmt.Errorf("point %d of the line: %w", i+1, err)
		}
		if i > 0 && math.Abs(uv.U-d.points[i-1].U) < 1e-6 && math.Abs(uv.V-d.points[i-1].V) < 1e-9 {
			return nil, fmt.Errorf("point %d of the line is the one before it: take it out", i+1)
		}
		d.points = append(d.points, uv)
	}
	if len(d.points) < 2 {
		return nil, fmt.Errorf("a line needs two points or more, got %d", len(d.points))
	}
	pieces, err := d.cut(s, side, spec.Cuts)
	if err != nil {
		return nil, err
	}
	var out []Placement
	for i, piece := range pieces {
		one := *m
		if len(pieces) > 1 {
			one.ID = fmt.Sprintf("%s-%d", m.ID, i+1)
		}
		p, err := placePiece(a, s, &one, piece, fig, total, side)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// placePiece places one piece of a line, whose strips are so wide together, inches.
func placePiece(a *Airframe, s skin.Surface, m *MarkingSpec, d lineOnSkin, fig Figure, width float64, side g.Side) (Placement, error) {
	var seen []g.Point
	for _, uv := range d.points {
		q := skin.PointAt(s, uv)
		seen = append(seen, g.Point{X: q.X, Y: q.Z})
	}
	box := g.BoundsOf(seen...)
	middle := alongPolyline(seen, 0.5)
	w := &m.Where
	w.FS, w.WL, w.Height = g.Station(middle.X), g.Waterline(middle.Y), HeightWaterline
	w.Align, w.Hold = AlignWaterline, HoldCentre
	p, err := place(a, m, roomFor(fig, box.Width(), box.Height()+2*width), side)
	p.Drawn = d
	return p, err
}

// alongPolyline returns the point a part of the way along chords.
func alongPolyline(pts []g.Point, part float64) g.Point {
	left := part * g.Polyline(pts...).Length()
	for i := 1; i < len(pts); i++ {
		d := pts[i-1].Dist(pts[i])
		if d >= left && d > 0 {
			return pts[i-1].Lerp(pts[i], left/d)
		}
		left -= d
	}
	return pts[len(pts)-1]
}

// softFindings says what to do about the edges of a line that is sprayed soft.
func softFindings(m *MarkingSpec, at g.Position) []Finding {
	if m.Figure.Line == nil || !m.Figure.Line.Soft {
		return nil
	}
	return []Finding{{
		Level: Note, Rule: "soft-edge", Marking: m.ID, Where: at,
		Message:  m.ID + ": its edge is soft: raise the edge of the film on rolled tape so that the spray fades under it, or spray free-hand along the film",
		Hint:     "try the width of the fade on scrap first",
		Measured: "soft", Expected: "soft", Tolerance: "none", Source: "common practice, no source",
	}}
}
