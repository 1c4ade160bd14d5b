package drawing

import (
	"math"

	g "maskloft/geometry"
)

// ellipse returns a whole ellipse; nothing where a half axis is not above 0.
func ellipse(cx, cy, rx, ry float64) g.Path {
	if !(rx > 0 && ry > 0) {
		return nil
	}
	b := g.MoveTo(g.Point{X: cx + rx, Y: cy})
	g.EllipseArc(b, g.Affine{rx, 0, 0, ry, cx, cy}, 0, 2*math.Pi)
	return ClosedExactly(b)
}

// rectangle returns a rectangle with its lower x and y at x and y, its corners
// rounded by quarters of an ellipse where rx and ry are above 0 (SVG 1.1 clause
// 9.2); nothing where a side is not above 0.
func rectangle(x, y, width, height, rx, ry float64) g.Path {
	if !(width > 0 && height > 0) {
		return nil
	}
	rx, ry = math.Min(rx, width/2), math.Min(ry, height/2)
	if !(rx > 0 && ry > 0) {
		return g.Path{g.Rectangle(g.Rect{Min: g.Point{X: x, Y: y}, Max: g.Point{X: x + width, Y: y + height}})}
	}
	b := g.MoveTo(g.Point{X: x + rx, Y: y})
	corner := func(toX, toY, cx, cy, start float64) {
		if p := (g.Point{X: toX, Y: toY}); b.Open().End().Dist(p) > 1e-9 {
			b.LineTo(p)
		}
		g.EllipseArc(b, g.Affine{rx, 0, 0, ry, cx, cy}, start, math.Pi/2)
	}
	corner(x+width-rx, y, x+width-rx, y+ry, -math.Pi/2)
	corner(x+width, y+height-ry, x+width-rx, y+height-ry, 0)
	corner(x+rx, y+height, x+rx, y+height-ry, math.Pi/2)
	corner(x, y+ry, x+rx, y+ry, math.Pi)
	return ClosedExactly(b)
}

// ClosedExactly sets the end of the contour, which reaches its start but for
// rounding, on it.
func ClosedExactly(b *g.Builder) g.Path {
	c := b.Open()
	c.Segments[len(c.Segments)-1].End = c.Start
	return g.Path{c}
}
