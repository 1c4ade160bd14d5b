package reading

import (
	"strconv"
	"strings"

	"maskloft/layouts"
	"maskloft/layouts/document"

	g "maskloft/geometry"
)

// sectionShapes are the shapes of a section of a faired body.
var sectionShapes = []layouts.SectionShape{layouts.CircleShape, layouts.EllipseShape, layouts.SuperellipseShape, layouts.RoundedShape, layouts.SplineShape, layouts.PointsShape}

// fairedSection reads one section: fs, and one of the shapes.
func fairedSection(v value) layouts.SectionSpec {
	var words []string
	given := -1
	for i, k := range sectionShapes {
		words = append(words, string(k))
		if v.peek(string(k)).Written() {
			if given >= 0 {
				v.Fail("keep one of them", "the section is both %s and %s", sectionShapes[given], k)
			}
			given = i
		}
	}
	f := v.block("section")
	s := layouts.SectionSpec{Place: v.Place(), FS: f.at("fs").station()}
	if given < 0 {
		v.Fail("write one of "+strings.Join(words, ":, ")+":", "the section has no shape")
		return s
	}
	s.Shape = sectionShapes[given]
	shape := f.at(string(s.Shape))
	if s.Shape == layouts.PointsShape {
		s.Points = sectionPoints(shape)
		return s
	}
	g := shape.block(string(s.Shape))
	switch s.Shape {
	case layouts.CircleShape:
		s.Radius, s.WL = g.at("radius").positive(), g.at("wl").waterline()
	case layouts.EllipseShape, layouts.SuperellipseShape:
		s.HalfBreadth, s.HalfHeight, s.WL = g.at("half-breadth").positive(), g.at("half-height").positive(), g.at("wl").waterline()
		if s.Shape == layouts.SuperellipseShape {
			s.Exponent = exponent(g.at("exponent"))
		}
	case layouts.RoundedShape:
		s.HalfBreadth, s.Top, s.Bottom, s.Radius = g.at("half-breadth").positive(), g.at("top").waterline(), g.at("bottom").waterline(), g.at("radius").positive()
	case layouts.SplineShape:
		s.Points = sectionPoints(g.at("points"))
		for _, c := range g.at("corners").items("corner") {
			text := c.Text()
			n, err := strconv.Atoi(text)
			if text != "" && (err != nil || n < 1 || n > len(s.Points)) {
				c.Fail("count the points from 1", "corner %s is not the number of one of the %d points", document.Shorten(text), len(s.Points))
			}
			s.Corners = append(s.Corners, n)
		}
	}
	return s
}

func sectionPoints(v value) []layouts.SectionPoint {
	var out []layouts.SectionPoint
	for _, p := range v.items("point") {
		a, b, _ := readPair(p, "[bl, wl]")
		a.Name, b.Name = p.Name+" bl", p.Name+" wl"
		out = append(out, layouts.SectionPoint{BL: a.buttLine(), WL: b.waterline()})
	}
	if v.IsList() && (len(out) < 2 || len(out) > mostPoints) {
		v.Fail("write [bl, wl] for each point from crown to keel, right side", "the section has %s, wanted 2 to %d", g.Counted(len(out), "point"), mostPoints)
	}
	return out
}

// exponent reads the exponent of a superellipse.
func exponent(v value) float64 {
	text := v.Text()
	n, err := strconv.ParseFloat(text, 64)
	if text != "" && (err != nil || !(n >= 1 && n <= 100)) {
		v.Fail("write 2 for an ellipse, 2.5 to 4 for squarer sections", "the exponent %s is not a number from 1 to 100", document.Shorten(text))
		return 2
	}
	return n
}
