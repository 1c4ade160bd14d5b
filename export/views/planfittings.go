package views

import (
	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// onFace calls f with every obstacle of a face of the wings, on each side that has it.
func onFace(l *layouts.Layout, face layouts.Face, f func(o layouts.ObstacleSpec, side g.Side)) {
	for _, o := range l.Airframe.Spec.Obstacles {
		if !o.OnWing || !o.OnFace(face) {
			continue
		}
		for _, side := range o.Side.List() {
			f(o, side)
		}
	}
}

// mirrored returns a point of an obstacle, given in plan with BL outwards, on a side.
func (v Plan) mirrored(q g.Point, side g.Side) g.Point { return v.at(q.X, q.Y*side.Sign()) }

// corners returns those of an opening on a side.
func (v Plan) corners(o layouts.ObstacleSpec, side g.Side) []g.Point {
	var out []g.Point
	for _, q := range o.Corners() {
		out = append(out, v.mirrored(q, side))
	}
	return out
}

// fittings draws the obstacles of a face and the edges of its rib tapes, and the
// hardpoints that lie within a wing; it keeps their places clear of words.
func (v Plan) fittings(l *layouts.Layout, face layouts.Face, words *viewLabels) []sheet.Item {
	var out []sheet.Item
	onFace(l, face, func(o layouts.ObstacleSpec, side g.Side) {
		switch o.Kind {
		case layouts.Ring, layouts.Spot:
			c, r := v.mirrored(o.Middle(), side), o.Size.Inches()/2*v.Scale
			out = append(out, edged(InkStructure, g.Circle(c, r))...)
			words.keep(c, g.BoundsOf(c).Grown(r))
		case layouts.Opening:
			out = append(out, edged(InkStructure, g.Polygon(v.corners(o, side)...))...)
		case layouts.Around:
			if s, ok := l.Airframe.SurfaceSpec(o.Surface); ok {
				for _, edge := range []float64{-0.5, 0.5} {
					for _, c := range upright(v.outline(s, side.Sign()), v.mirrored(g.Point{Y: o.BL.Inches() + float64(edge*o.Size.Inches())}, side).X) {
						out = append(out, sheet.Item{Path: g.Path{g.Polyline(c[0], c[1])}, Ink: inkTapeEdge})
					}
				}
			}
		}
	})
	v.hooks(l, func(_ string, c g.Point) {
		out = append(out, edged(sheet.InkPoint, hookSymbol(c)...)...)
		words.keep(c, g.BoundsOf(c).Grown(1.6*HookRadius))
	})
	return out
}

// hooks calls f with every hardpoint that lies within the outline of a wing.
func (v Plan) hooks(l *layouts.Layout, f func(id string, c g.Point)) {
	for _, side := range []g.Side{g.Left, g.Right} {
		for _, h := range l.Airframe.Hardpoints(side) {
			c := v.at(h.At.FS.Inches(), h.At.BL.Inches())
			for _, s := range l.Airframe.Spec.Surfaces {
				if s.Kind == layouts.Wing && (g.Path{g.Polygon(v.outline(s, side.Sign())...)}).Contains(c, g.FlattenTolerance) {
					f(h.ID, c)
					break
				}
			}
		}
	}
}

// names sets the names of obstacles and hardpoints.
func (v Plan) names(l *layouts.Layout, face layouts.Face, words *viewLabels) {
	v.hooks(l, func(id string, c g.Point) { words.word(id, 0.12, c, HookRadius, sheet.InkTextPoint) })
	onFace(l, face, func(o layouts.ObstacleSpec, side g.Side) {
		switch o.Kind {
		case layouts.Ring, layouts.Spot:
			words.word(o.ID, 0.1, v.mirrored(o.Middle(), side), o.Size.Inches()/2*v.Scale, sheet.InkTextSoft)
		case layouts.Opening:
			b := g.BoundsOf(v.corners(o, side)...)
			words.word(o.ID, 0.1, b.Centre(), b.Height()/2, sheet.InkTextSoft)
		}
	})
}
