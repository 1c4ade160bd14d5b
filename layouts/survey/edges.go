package survey

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// pointEnd is the girth in inches below which a body ends in a point or a post
// and not in an open edge.
const pointEnd = 1.0

// surfaceEdges returns the edges of the surface in the flat: the ends of a body,
// the outlines of plates without the edges of a hinge gap. Those of a wing or fin
// with a section are measured in plan, see edgeClearance.
func (gr *surroundings) surfaceEdges() [][]g.Point {
	p := gr.laid.Placement
	us, vs, period := p.Surface.Breaks()
	var out [][]g.Point
	if period > 0 {
		for _, u := range []float64{us[0], us[len(us)-1]} {
			if skin.Girth(p.Surface, g.Station(u), vs[0], vs[len(vs)-1]) > pointEnd {
				out = append(out, gr.section(u)...)
			}
		}
		return out
	}
	if _, plate := p.Surface.(*skin.PlateSkin); !plate {
		return nil
	}
	for _, name := range p.Marking.Where.Surfaces {
		spec, _ := gr.layout.Airframe.SurfaceSpec(name)
		for i, a := range spec.Outline {
			b := spec.Outline[(i+1)%len(spec.Outline)]
			if gr.alongHinge(a) && gr.alongHinge(b) {
				continue
			}
			out = append(out, gr.line(same.Hypot(float64(b.FS-a.FS), float64(b.WL-a.WL)), func(t float64) (skin.UV, bool) {
				return skin.UV{U: a.FS.Inches() + float64(t*float64(b.FS-a.FS)), V: a.WL.Inches() + float64(t*float64(b.WL-a.WL))}, true
			})...)
		}
	}
	return out
}

// alongHinge tells whether a point of an outline stands at a hinge gap.
func (gr *surroundings) alongHinge(q g.SidePosition) bool {
	for _, t := range gr.obstacles {
		if t.Kind == layouts.HingeAt && q.FS >= t.ObstacleSpec.At.FS-g.SnapTolerance && q.FS <= t.To+g.SnapTolerance {
			return true
		}
	}
	return false
}

// edgeClearance returns the distance of the paint from the nearest edge of the
// surface; nil where none lies as near as the patch reaches. The edges of a wing or of a fin with a
// section are measured in plan, square to the edge.
func (gr *surroundings) edgeClearance() *Clearance {
	if gr.laid.Placement.ToEdge {
		return nil
	}
	c := Clearance{Obstacle: "the edge of " + gr.laid.Placement.On, Limit: gr.layout.Spec.Rules.Edge}
	d, q := nearestPaint(gr.paint, gr.edges)
	if d > gr.reach() {
		d = math.Inf(1)
	}
	if e, at := gr.planEdge(g.Vec{}); e < d {
		d, q = e, at
	}
	if math.IsInf(d, 1) {
		return nil
	}
	c.Distance = g.Length(d)
	c.Where, _ = gr.laid.Map.PositionOf(q)
	return &c
}

// planEdge returns the distance, in plan, of paint displaced by v from the edges of
// a wing or of a fin with a section, and the point of the paint; +Inf on others.
func (gr *surroundings) planEdge(v g.Vec) (float64, g.Point) {
	best, at := math.Inf(1), g.Point{}
	s, ok := gr.laid.Placement.Surface.(*skin.LiftingSkin)
	if !ok {
		return best, at
	}
	eachOutlinePoint(gr.laid, runStep, func(_ layouts.Region, q g.Point, _ float64) {
		d := 0.0
		if uv, on := gr.laid.Map.ToSkin(q.Add(v)); on && s.Contains(uv) {
			d = s.Clearance(uv).Inches()
		}
		if d < best {
			best, at = d, q
		}
	})
	return best, at
}

// edgeFinding reports paint too near an edge of its surface. Paint beyond the edge
// is told when the film is laid.
func edgeFinding(gr *surroundings, s Surveyed) (layouts.Finding, bool) {
	if s.Edge == nil || s.Edge.Distance >= s.Edge.Limit-g.SnapTolerance {
		return layouts.Finding{}, false
	}
	if _, off := offSkin(gr.laid); off {
		return layouts.Finding{}, false
	}
	u := gr.laid.Placement.Read
	f := layouts.Finding{
		Level: layouts.Warn, Rule: "edge-clearance", Where: s.Edge.Where,
		Message:  fmt.Sprintf("%s: at %s the paint is %s from %s, less than %s", s.ID, u.Position(s.Edge.Where), u.Fixed(s.Edge.Distance, 2), s.Edge.Obstacle, u.Length(s.Edge.Limit, 4)),
		Hint:     "move it with where: fs: and wl:, make it smaller, or write another limit under rules: edge:",
		Measured: u.Fixed(s.Edge.Distance, 2), Expected: u.Length(s.Edge.Limit, 4) + " or more", Tolerance: "none",
		Source: "common practice, no source",
	}
	if aft, up, ok := gr.shift(func(v g.Vec) bool { return gr.clears(v, false) }); ok {
		f.Proposals = append(f.Proposals, gr.move(aft, up, "keeps "+u.Length(s.Edge.Limit, 4)+" from it"))
		f.Hint = hintOf(f.Proposals, "write another limit under rules: edge:")
	}
	return f, true
}
