package export

import (
	"fmt"
	"maps"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// picture draws a marking with its hardpoints, tapes and numbered points: from the
// side, or from above or below on a wing.
func (w *tapeSheets) picture(l masks.Laid, points []masks.Checkpoint) {
	p := l.Placement
	to := func(q g.Position) g.Point { return g.Point{X: p.Side.Reading() * float64(q.FS), Y: float64(q.WL)} }
	wing := p.Face() != layouts.NoFace
	if wing { // nose up, seen from outside the face
		across := 1.0
		if p.Face() == layouts.LowerFace {
			across = -1
		}
		to = func(q g.Position) g.Point { return g.Point{X: across * float64(q.BL), Y: -float64(q.FS)} }
	}
	var pts []g.Point
	hooks := map[string]g.Point{}
	for _, c := range points {
		pts = append(pts, to(c.Mark.Skin))
		for _, t := range c.Tapes {
			hooks[t.From.ID] = to(t.From.At)
			for _, q := range t.Path {
				pts = append(pts, to(q))
			}
		}
	}
	if len(pts) == 0 {
		return
	}
	bounds := g.BoundsOf(pts...)
	bounds = bounds.Grown(0.03*math.Max(bounds.Width(), bounds.Height()) + 1)
	high := math.Max(1.8, math.Min(3.3, w.width()*bounds.Height()/bounds.Width()))
	const strip = 0.62 // below the picture, for the arrow
	box := w.block(high + strip)
	w.draw(drawRect(box, Ink{Fill: "#f7f7f4", Stroke: "#8a979e", Width: 0.006}))
	w.nose(p, box)
	box.Min.Y += strip
	scale, place := fitted(bounds, box.Grown(-0.15), math.Inf(1))
	at := func(q g.Position) g.Point { return place(to(q)) }
	if !wing {
		w.outlines(box, func(q g.SidePosition) g.Point { return at(g.Position{FS: q.FS, WL: q.WL}) })
	}
	for _, r := range l.Regions {
		var path g.Path
		for _, c := range r.Outline {
			if k := seen(l.Map, c, scale, at); len(k) > 2 {
				path = append(path, g.Polygon(k...))
			}
		}
		if len(path) > 0 {
			w.draw(Item{Path: path, Ink: Ink{Fill: tint(hexOf(w.l.Spec.Paint, r.Colour), 0.35), Stroke: "#5c6b73", Width: 0.006}})
		}
	}
	for _, c := range points {
		for _, t := range c.Tapes {
			var line []g.Point
			for _, q := range t.Path {
				line = append(line, at(q))
			}
			ink := Ink{Stroke: "#d9a79a", Width: 0.005}
			if c.Role == masks.Centre {
				ink = Ink{Stroke: "#a03a1e", Width: 0.014}
			}
			if t.Kind == masks.Straight {
				ink.Dash = []float64{0.06, 0.04}
			}
			if len(line) > 1 && line[0].Dist(line[len(line)-1]) > 1e-3 {
				w.draw(Item{Path: g.Path{g.Polyline(line...)}, Ink: ink})
			}
		}
	}
	taken := w.numbers(points, at, box)
	for _, id := range sortedKeys(hooks) {
		q := place(hooks[id])
		w.draw(Item{Path: g.Path{g.Circle(q, 0.06), g.Polyline(g.Point{X: q.X - 0.1, Y: q.Y}, g.Point{X: q.X + 0.1, Y: q.Y}), g.Polyline(g.Point{X: q.X, Y: q.Y - 0.1}, g.Point{X: q.X, Y: q.Y + 0.1})}, Ink: inkPoint})
		set := setHeading
		set.ink = inkTextPoint
		w.label(set, id, q, box, &taken)
	}
}

// outlines draws the sides of the surfaces, clipped to a box.
func (w *tapeSheets) outlines(box g.Rect, at func(g.SidePosition) g.Point) {
	for _, edge := range silhouettes(w.l) {
		var path g.Path
		for i := range edge {
			a, b := at(edge[i]), at(edge[(i+1)%len(edge)])
			if k, ok := clipChord([2]g.Point{a, b}, box); ok && k[0].Dist(k[1]) > hairOpen {
				path = append(path, g.Polyline(k[0], k[1]))
			}
		}
		if len(path) > 0 {
			w.draw(Item{Path: path, Ink: inkStructure})
		}
	}
}

// numbers sets the number of each point beside it, clear of the others.
func (w *tapeSheets) numbers(points []masks.Checkpoint, at func(g.Position) g.Point, box g.Rect) []g.Rect {
	var taken []g.Rect
	for _, c := range points {
		q := at(c.Mark.Skin)
		w.draw(Item{Path: g.Path{g.Circle(q, 0.025)}, Ink: Ink{Fill: "#1a1a1a"}})
		taken = append(taken, g.BoundsOf(q).Grown(0.025))
	}
	for _, c := range points {
		w.label(setSoftDark, fmt.Sprint(c.Step), at(c.Mark.Skin), box, &taken)
	}
	return taken
}

var setSoftDark = lettering{cap: 9 * pointCap, bold: true, ink: inkText}

// label sets a short text near a point, in the first free place around it, and none
// where all are taken.
func (w *tapeSheets) label(set lettering, text string, q g.Point, box g.Rect, taken *[]g.Rect) {
	wide := set.width(text)
	for _, far := range []float64{0.05, 0.14, 0.24, 0.36} {
		for k := range 8 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 4)
			middle := g.Point{X: q.X + cos*(far+wide/2), Y: q.Y + sin*(far+set.cap/2)}
			r := g.Rect{Min: g.Point{X: middle.X - wide/2, Y: middle.Y - set.cap/2}, Max: g.Point{X: middle.X + wide/2, Y: middle.Y + set.cap/2}}.Grown(0.02)
			free := box.Contains(r.Min) && box.Contains(r.Max)
			for _, t := range *taken {
				free = free && !touches(r, t)
			}
			if free {
				*taken = append(*taken, r)
				w.draw(set.at(text, middle.X, r.Min.Y+0.02, 0.5))
				return
			}
		}
	}
}

// nose draws an arrow towards the nose in a corner of the picture.
func (w *tapeSheets) nose(p layouts.Placement, box g.Rect) {
	dir := g.Vec{X: -p.Side.Reading()}
	if p.Face() != layouts.NoFace {
		dir = g.Vec{Y: 1}
	}
	at := g.Point{X: box.Min.X + 0.12, Y: box.Min.Y + 0.06}
	for _, it := range arrow("NOSE", dir) {
		w.draw(it.Moved(g.Vec(at)))
	}
	w.draw(setSoft.at("heavy: the tapes to point 1", box.Max.X-0.1, box.Min.Y+0.1, 1))
}

// sortedKeys returns the keys of a map in order.
func sortedKeys(m map[string]g.Point) []string {
	return slices.Sorted(maps.Keys(m))
}
