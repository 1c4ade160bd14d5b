package masks

import (
	g "maskloft/geometry"
	"maskloft/layouts"
)

// Seen returns the painted regions in the view in which the drawing is true: on the
// film where lengths are true along the skin, and as seen from the side, x to the
// reader's right and y up, where the side view is what is true. Film that follows a
// waterline is returned as drawn, before it was bent.
func (l Laid) Seen() []layouts.Region {
	m := l.Placement.Marking
	switch {
	case m.True == layouts.TrueSide:
		out := make([]layouts.Region, len(l.Regions))
		for i, r := range l.Regions {
			out[i] = r
			out[i].Outline = l.fromSide(r.Outline)
		}
		return out
	case m.Where.Baseline == layouts.WaterlineBaseline:
		if drawn, err := l.Placement.Figure.Regions(); err == nil {
			return drawn
		}
	}
	return l.Regions
}

// fromSide carries outlines of the film to the skin and looks at them along the
// butt lines, as chords within FlattenTolerance.
func (l Laid) fromSide(p g.Path) g.Path {
	reading := l.Placement.Side.Reading()
	var out g.Path
	for _, c := range p {
		var pts []g.Point
		for _, q := range c.Flattened(g.FlattenTolerance) {
			if at, ok := l.Map.PositionOf(q); ok {
				pts = append(pts, g.Point{X: at.FS.Inches() * reading, Y: at.WL.Inches()})
			}
		}
		if len(pts) > 2 {
			out = append(out, g.Polygon(pts...))
		}
	}
	return out
}
