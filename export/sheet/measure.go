package sheet

import (
	"math"

	g "maskloft/geometry"
)

// InkMeasure is the ink of dimension lines.
var InkMeasure = Ink{Stroke: "#1f5f7a", Width: 0.008}

// MeasureLine draws a dimension line between two points of the page, moved to
// its left by off (inches; negative: to its right), with extension lines, arrow
// heads and a text that reads from below or from the right.
func MeasureLine(a, b g.Point, off float64, text string, s Lettering) []Item {
	return MeasureLineAt(a, b, off, 0.5, text, s)
}

// MeasureLineAt is [MeasureLine] with its text at a share of the way from a to b. The text
// is the last item.
func MeasureLineAt(a, b g.Point, off, share float64, text string, s Lettering) []Item {
	d := b.Sub(a)
	length := d.Norm()
	if length < 1e-9 {
		return nil
	}
	along := d.Scale(1 / length)
	left := g.Vec{X: -along.Y, Y: along.X}
	p, q := a.Add(left.Scale(off)), b.Add(left.Scale(off))
	out := []Item{{Path: g.Path{g.Polyline(p, q)}, Ink: InkMeasure}}
	if gap := math.Copysign(0.04, off); math.Abs(off) > 0.08 {
		for _, e := range []g.Point{a, b} {
			out = append(out, Item{Path: g.Path{g.Polyline(e.Add(left.Scale(gap)), e.Add(left.Scale(off+gap)))}, Ink: InkMeasure})
		}
	}
	head := min(0.1, length/4)
	for _, h := range []struct {
		at  g.Point
		dir g.Vec
	}{{p, along}, {q, along.Scale(-1)}} {
		base := h.at.Add(h.dir.Scale(head))
		out = append(out, Item{Path: g.Path{g.Polygon(h.at, base.Add(left.Scale(head/4)), base.Add(left.Scale(-head/4)))}, Ink: Ink{Fill: InkMeasure.Stroke}})
	}
	// the text stands above the line, or to the left of an upright one
	dir := along
	if dir.X < -1e-9 || (math.Abs(dir.X) <= 1e-9 && dir.Y < 0) {
		dir = dir.Scale(-1)
	}
	up := g.Vec{X: -dir.Y, Y: dir.X}
	at := p.Lerp(q, share).Add(up.Scale(0.6 * s.Cap))
	return append(out, s.turned(text, at, dir))
}

// turned sets a line with the middle of its baseline at a point, along a
// direction (a unit vector).
func (s Lettering) turned(text string, at g.Point, dir g.Vec) Item {
	flat := s.At(text, 0, 0, 0.5)
	up := g.Vec{X: -dir.Y, Y: dir.X}
	return Item{Ink: s.Ink, Path: flat.Outline().Map(func(p g.Point) g.Point { return at.Add(dir.Scale(p.X)).Add(up.Scale(p.Y)) })}
}

// Fitted returns the scale and the shift that bring a drawing's bounds into the
// middle of a box, no larger than most times its size.
func Fitted(bounds, box g.Rect, most float64) (scale float64, place func(g.Point) g.Point) {
	scale = min(most, min(box.Width()/bounds.Width(), box.Height()/bounds.Height()))
	from, to := bounds.Centre(), box.Centre()
	return scale, func(p g.Point) g.Point { return to.Add(p.Sub(from).Scale(scale)) }
}

// Shortened cuts a text that is wider than it may be, and shows that it did.
func Shortened(s Lettering, text string, width float64) string {
	if s.Width(text) <= width {
		return text
	}
	r := []rune(text)
	for len(r) > 1 && s.Width(string(r)+"...") > width {
		r = r[:len(r)-1]
	}
	return string(r) + "..."
}
