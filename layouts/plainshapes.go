package layouts

import (
	"fmt"
	"math"

	"maskloft/geometry"
)

// mostLength bounds every length of a figure: see [largestDisc].
const mostLength = largestDisc

// ShapesFigure returns plain shapes, each over those before it. The origin is the
// figure's middle, from which at: is counted.
//
// Errors name the shape by its number: no shape at all; a length that is not above
// zero or above 100 ft; lengths that do not go together.
func ShapesFigure(shapes []ShapeSpec) (Figure, error) {
	f := Figure{ID: "shapes", Handed: Handed}
	if len(shapes) == 0 {
		return Figure{}, fmt.Errorf("shapes: none given: write shapes: [{shape: disc, diameter: 20 in, paint: a paint}]")
	}
	for i, s := range shapes {
		outline, err := s.outline()
		if err != nil {
			return Figure{}, fmt.Errorf("shape %d, a %s: %w", i+1, s.Kind, err)
		}
		if s.Turn != 0 {
			outline = turned(outline, s.Turn)
		}
		f.Layers = append(f.Layers, Layer{Part: fmt.Sprintf("%s-%d", s.Kind, i+1), Colour: s.Paint, Outline: outline.Moved(geometry.Vec(s.At))})
	}
	return f, nil
}

// outline returns the shape about its own middle.
func (s ShapeSpec) outline() (geometry.Path, error) {
	for _, l := range []struct {
		name string
		is   geometry.Length
		of   []ShapeKind
	}{
		{"length", s.Length, []ShapeKind{OvalShape, RectangleShape, ArrowShape, TriangleShape, BarShape}},
		{"height", s.Height, []ShapeKind{OvalShape, RectangleShape, TriangleShape}},
		{"diameter", s.Diameter, []ShapeKind{DiscShape, RingShape}},
		{"inner", s.Inner, []ShapeKind{RingShape}},
		{"width", s.Width, []ShapeKind{ArrowShape, ChevronShape, BarShape, CrossShape}},
		{"span", s.Span, []ShapeKind{ArrowShape, CrossShape}},
		{"head", s.Head, []ShapeKind{ArrowShape}},
		{"arm", s.Arm, []ShapeKind{ChevronShape}},
	} {
		for _, k := range l.of {
			if k == s.Kind && !(l.is > 0 && l.is <= mostLength) {
				return nil, geometry.Errorf("%s is %v, must be above 0 and at most %v", l.name, l.is, mostLength)
			}
		}
	}
	length, height, width, span := s.Length.Inches(), s.Height.Inches(), s.Width.Inches(), s.Span.Inches()
	at := func(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }
	switch s.Kind {
	case DiscShape:
		return geometry.Path{geometry.Circle(at(0, 0), s.Diameter.Inches()/2)}, nil
	case RingShape:
		if s.Inner >= s.Diameter {
			return nil, geometry.Errorf("inner is %v, must be below the diameter of %v", s.Inner, s.Diameter)
		}
		return geometry.Path{geometry.Circle(at(0, 0), s.Diameter.Inches()/2), geometry.Circle(at(0, 0), s.Inner.Inches()/2).Reversed()}, nil
	case OvalShape:
		return geometry.Path{geometry.Circle(at(0, 0), 1)}.Map(func(p geometry.Point) geometry.Point { return at(p.X*length/2, p.Y*height/2) }), nil
	case RectangleShape:
		return rounded(length, height, s.Corner.Inches())
	case PolygonShape:
		return polygon(s.Points...)
	case ArrowShape:
		if s.Head >= s.Length || s.Span <= s.Width {
			return nil, geometry.Errorf("a head of %v by %v on an arrow %v long and %v wide: the head must be shorter than the arrow and wider than the shaft", s.Head, s.Span, s.Length, s.Width)
		}
		neck := s.Head.Inches() - length/2
		return polygon(at(-length/2, 0), at(neck, -span/2), at(neck, -width/2), at(length/2, -width/2), at(length/2, width/2), at(neck, width/2), at(neck, span/2))
	case TriangleShape:
		return polygon(at(-length/2, -height/2), at(length/2, -height/2), at(0, height/2))
	case ChevronShape:
		p, err := chevron(0, s.Arm.Inches(), width, s.Angle)
		if err != nil {
			return nil, err
		}
		b := p.Bounds()
		return p.Moved(geometry.Vec{X: -b.Centre().X}), nil
	case BarShape:
		if s.Round {
			return rounded(length, width, min(length, width)/2)
		}
		return bar(at(0, 0), length, width, 0), nil
	case CrossShape:
		return cross(span, width)
	}
	return nil, fmt.Errorf("unknown shape")
}

// rounded returns a rectangle about the origin with round corners.
func rounded(length, height, radius float64) (geometry.Path, error) {
	x, y := length/2, height/2
	if radius < 0 || radius > min(x, y)+geometry.SnapTolerance {
		return nil, geometry.Errorf("corners of radius %v do not fit a height of %v and a length of %v: write at most half the smaller",
			geometry.Length(radius), geometry.Length(height), geometry.Length(length))
	}
	if radius == 0 {
		return bar(geometry.Point{}, length, height, 0), nil
	}
	at := func(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }
	b := geometry.MoveTo(at(-x+radius, -y))
	for _, c := range []struct{ start, centre geometry.Point }{
		{at(x-radius, -y), at(x-radius, -y+radius)}, {at(x, y-radius), at(x-radius, y-radius)},
		{at(-x+radius, y), at(-x+radius, y-radius)}, {at(-x, -y+radius), at(-x+radius, -y+radius)},
	} {
		b.LineTo(c.start).ArcTo(c.centre, math.Pi/2)
	}
	return geometry.Settle(geometry.Path{b.Close()})
}
