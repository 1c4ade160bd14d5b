package drawing

import (
	"math"

	g "maskloft/geometry"
)

// Lines that are joined, of the drawing's larger extent: how near their ends must be, and
// how thin they are; a wide line is paint of its own.
const (
	linesMeet = 1e-6
	thinLine  = 1e-3
)

// Joined returns the items of all layers in the order in which the file paints them, open
// thin lines of one layer and one pen joined where their ends meet: outlines that were
// taken apart into lines and arcs are whole again. A joined line stands where the first
// line of its pen stood, and has its name.
func (d Drawing) Joined() []DrawnItem {
	type pen struct {
		layer, stroke string
		width         float64
	}
	layers := make([]string, d.painted)
	var all g.Rect
	first := true
	for _, l := range d.Layers {
		for _, it := range l.Items {
			layers[it.order] = l.Name
			if box := it.Path.Bounds(); first {
				all, first = box, false
			} else {
				all = all.Union(box)
			}
		}
	}
	extent := math.Max(all.Width(), all.Height())
	items := d.Painted()
	lines := map[pen]g.Path{}
	of := func(it DrawnItem) (pen, bool) {
		open := it.Paint.Fill == "" && len(it.Path) == 1 && !it.Path[0].Closed() && it.Clip == nil && it.Paint.Width < thinLine*extent
		return pen{layers[it.order], it.Paint.Stroke, it.Paint.Width}, open
	}
	for _, it := range items {
		if p, open := of(it); open {
			lines[p] = append(lines[p], it.Path[0])
		}
	}
	var out []DrawnItem
	for _, it := range items {
		p, open := of(it)
		if !open {
			out = append(out, it)
			continue
		}
		for _, c := range g.Chained(lines[p], linesMeet*extent) {
			it.Path = g.Path{c}
			out = append(out, it)
		}
		delete(lines, p) // its other lines are there already
	}
	return out
}
