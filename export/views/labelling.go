package views

import (
	"math"

	"maskloft/export/sheet"
	"maskloft/geometry/same"
	"maskloft/layouts"

	g "maskloft/geometry"
	"maskloft/glyphs"
)

// labelling puts labels beside points so that they lie on no point and on no other
// label, as far as there is room.
type labelling struct {
	sheet g.Rect
	taken []g.Rect
	items []sheet.Item
}

// keepClear names a rectangle on which no label shall lie.
func (l *labelling) keepClear(r g.Rect) { l.taken = append(l.taken, r) }

// put sets a label with a light edge beside a point with a mark of radius r: at the
// first of sixteen places, near ones to the right first, that is free; else where
// least is covered.
func (l *labelling) put(text string, at g.Point, r, cap float64, ink sheet.Ink) {
	width := glyphs.LabelWidth(text, cap, false)
	best, least := g.Point{}, math.Inf(1)
	for _, far := range []float64{1, 2.2} {
		for k := range 8 {
			turn := [8]float64{1, -1, 3, -3, 0, 4, 2, -2}[k] * math.Pi / 4
			sin, cos := same.Sincos(turn)
			gap := far * (r + 0.5*cap)
			// the corner or middle of the label's side that looks to the point
			p := g.Point{X: at.X + float64(gap*cos) - width*(1-cos)/2, Y: at.Y + float64(gap*sin) - cap*(1-sin)/2}
			box := g.Rect{Min: p, Max: g.Point{X: p.X + width, Y: p.Y + cap}}.Grown(0.3 * cap)
			covered := 0.0
			for _, o := range l.taken {
				covered += overlapArea(box, o)
			}
			if in := l.sheet; box.Min.X < in.Min.X || box.Min.Y < in.Min.Y || box.Max.X > in.Max.X || box.Max.Y > in.Max.Y {
				covered += float64(box.Width() * box.Height())
			}
			if covered < least-1e-12 {
				best, least = p, covered
			}
		}
	}
	l.taken = append(l.taken, g.Rect{Min: best, Max: g.Point{X: best.X + width, Y: best.Y + cap}}.Grown(0.3*cap))
	outline, _ := glyphs.Label(text, cap, false)
	placed := outline.Moved(g.Vec(best))
	l.items = append(l.items, sheet.Item{Path: placed, Ink: halo(0.4 * cap)}, sheet.Item{Path: placed, Ink: ink})
}

func overlapArea(a, b g.Rect) float64 {
	w := math.Min(a.Max.X, b.Max.X) - math.Max(a.Min.X, b.Min.X)
	h := math.Min(a.Max.Y, b.Max.Y) - math.Max(a.Min.Y, b.Min.Y)
	if w < 0 || h < 0 {
		return 0
	}
	return float64(w*h) + 1e-9
}

// WingWord says which face of a wing, or that it is a side.
func WingWord(p layouts.Placement) string {
	if f := p.Face(); f != layouts.NoFace {
		return "wing, " + string(f) + " face"
	}
	return "side"
}
