package masks

import (
	"math"

	g "maskloft/geometry"
)

// A registration mark is cut as two triangles point to point, in all half an inch
// long; their middle is the mark. The points leave film between them, or the knife
// would part it there. On a seam each tile has the triangle of its own side, across the
// seam (common practice, no source).
const (
	MarkRadius = 0.25     // inches from the mark to the base of a triangle
	MarkHalf   = 0.15     // half of the base
	MarkTip    = 1.0 / 32 // from the mark to the point of a triangle
)

// Window is what is cut in one tile for a registration mark.
type Window struct {
	Mark      int         // index into Tiling.Marks
	Triangles []g.Contour // two, or one on a seam; each starts at its point
}

// Windows returns what is cut in a tile for its registration marks, in their order.
func (t Tiling) Windows(c Cell) []Window {
	var out []Window
	for _, i := range c.Marks {
		p := t.Marks[i].Film
		w := Window{Mark: i}
		switch seamSide(c, p) {
		case leftSide:
			w.Triangles = []g.Contour{triangle(p, g.Vec{X: 1})}
		case rightSide:
			w.Triangles = []g.Contour{triangle(p, g.Vec{X: -1})}
		case lowSide:
			w.Triangles = []g.Contour{triangle(p, g.Vec{Y: 1})}
		case topSide:
			w.Triangles = []g.Contour{triangle(p, g.Vec{Y: -1})}
		default:
			w.Triangles = BowTie(p)
		}
		out = append(out, w)
	}
	return out
}

// BowTie returns two triangles whose points lie level on both sides of p.
func BowTie(p g.Point) []g.Contour {
	return []g.Contour{triangle(p, g.Vec{X: -1}), triangle(p, g.Vec{X: 1})}
}

// triangle returns the triangle that points at p from the direction d, of length one.
func triangle(p g.Point, d g.Vec) g.Contour {
	base, half := p.Add(d.Scale(MarkRadius)), d.Perp().Scale(MarkHalf)
	return g.Polygon(p.Add(d.Scale(MarkTip)), base.Add(half.Scale(-1)), base.Add(half))
}

// seamSide returns the side of a cell on which a point stands, where another tile
// follows; -1 for none.
func seamSide(c Cell, p g.Point) int {
	for side, off := range [4]float64{p.X - c.Rect.Min.X, p.X - c.Rect.Max.X, p.Y - c.Rect.Min.Y, p.Y - c.Rect.Max.Y} {
		if !c.open[side] && math.Abs(off) < g.SnapTolerance {
			return side
		}
	}
	return -1
}
