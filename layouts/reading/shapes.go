package reading

import (
	"strings"

	"maskloft/geometry"
	"maskloft/layouts"
)

var shapeKinds = []layouts.ShapeKind{
	layouts.DiscShape, layouts.RingShape, layouts.OvalShape, layouts.RectangleShape, layouts.PolygonShape,
	layouts.ArrowShape, layouts.TriangleShape, layouts.ChevronShape, layouts.BarShape, layouts.CrossShape,
}

// shapeExamples are the examples of the keys of shapes, borders and shades.
var shapeExamples = map[string]string{
	"shapes":         "shapes: [{shape: arrow, length: 12 in, width: 1 in, head: 3 in, span: 3 in, paint: insignia-red}]",
	"shape":          "shape: disc (or ring, ellipse, rectangle, polygon, arrow, triangle, chevron, bar, cross)",
	"inner":          "inner: 12 in, the diameter of the hole",
	"length":         "length: 12 in",
	"width":          "width: 1 in",
	"head":           "head: 3 in, the length of the point",
	"span":           "span: 3 in",
	"arm":            "arm: 10 in, the outer edge of one arm",
	"ends":           "ends: square (or round)",
	"turn":           "turn: 45 deg, counter-clockwise on the left side",
	"shape angle":    "angle: 90 deg, between the arms",
	"shape at":       "at: [0, 4], of its middle, to the right and up",
	"shape corner":   "corner: 1/2 in, the radius",
	"shape points":   "points: [[0, 0], [6, 0], [3, 5]]",
	"border":         "border: {width: 1 in, paint: black}",
	"place":          "place: outside (or inside, centred)",
	"corners":        "corners: mitred (or round)",
	"shade":          "shade: {depth: 1 in, angle: -45 deg, paint: black}",
	"depth":          "depth: 1 in",
	"joined":         "joined: yes (drawn out from the letters), or no (a copy of them, moved)",
	"figure paint":   "paint: insignia-red",
	"shape paint":    "paint: insignia-red",
	"border paint":   "paint: black",
	"shade paint":    "paint: black",
	"shade angle":    "angle: -45 deg, where the shade falls, from the reader's right",
	"shape diameter": "diameter: 20 in",
}

// shapes reads the plain shapes of a figure.
func (r *layoutReader) shapes(v value) []layouts.ShapeSpec {
	var out []layouts.ShapeSpec
	for _, item := range v.items("shape") {
		kind := choice(item.peek("shape"), "", shapeKinds...)
		f := item.block(strings.TrimSpace("shape " + string(kind)))
		s := layouts.ShapeSpec{Place: item.Place(), Kind: choice(f.at("shape"), "", shapeKinds...), Paint: r.paints.refer(f.at("paint"))}
		for _, l := range []struct {
			key string
			to  *geometry.Length
		}{
			{"diameter", &s.Diameter}, {"inner", &s.Inner}, {"length", &s.Length}, {"height", &s.Height}, {"width", &s.Width}, {"span", &s.Span}, {"head", &s.Head}, {"arm", &s.Arm},
		} {
			if at := f.at(l.key); at.Written() {
				*l.to = at.drawn()
			}
		}
		s.Corner = f.at("corner").or(0, func(v value) geometry.Length { return v.atLeastZero("") })
		s.Turn, s.Angle = f.at("turn").degrees(), f.at("angle").degrees()
		s.Round = choice(f.at("ends"), "square", "square", "round") == "round"
		if at := f.at("at"); at.Written() {
			s.At = readPoint(at)
		}
		if points := f.at("points"); points.Written() {
			items := points.items("point")
			if len(items) > mostPoints {
				points.Fail("draw it in a file and write drawing:", "points lists %d, more than %d", len(items), mostPoints)
				items = items[:mostPoints]
			}
			for _, p := range items {
				s.Points = append(s.Points, readPoint(p))
			}
		}
		out = append(out, s)
	}
	if v.IsList() && len(out) == 0 {
		v.Fail("write "+exampleOf("", "shapes"), "shapes is empty")
	}
	return out
}

// readPoint reads [x, y] of a drawing.
func readPoint(v value) geometry.Point {
	a, b, _ := readPair(v, "[x, y]")
	a.Name, b.Name = v.Name+" x", v.Name+" y"
	return geometry.Point{X: a.length().Inches(), Y: b.length().Inches()}
}

// borders reads one border, or a list of them in the order they are made.
func (r *layoutReader) borders(v value) []layouts.BorderSpec {
	if !v.Written() {
		return nil
	}
	items := []value{v}
	if v.IsList() {
		items = v.items("border")
	}
	var out []layouts.BorderSpec
	for _, item := range items {
		f := item.block("border")
		b := layouts.BorderSpec{Place: item.Place(), Width: f.at("width").drawn(), Paint: r.paints.refer(f.at("paint")),
			On: choice(f.at("place"), layouts.OutsideBorder, layouts.OutsideBorder, layouts.InsideBorder, layouts.CentredBorder), Join: geometry.MiterJoin}
		if choice(f.at("corners"), "mitred", "mitred", "round") == "round" {
			b.Join = geometry.RoundJoin
		}
		out = append(out, b)
	}
	if v.IsList() && len(out) == 0 {
		v.Fail("write "+exampleOf("", "border"), "border is an empty list")
	}
	return out
}

// shade reads a drop shade; nil where none is written.
func (r *layoutReader) shade(v value) *layouts.ShadeSpec {
	if !v.Written() {
		return nil
	}
	f := v.block("shade")
	return &layouts.ShadeSpec{Place: v.Place(), Depth: f.at("depth").drawn(), Angle: f.at("angle").degrees(), Paint: r.paints.refer(f.at("paint")), Joined: f.at("joined").yesNo()}
}
