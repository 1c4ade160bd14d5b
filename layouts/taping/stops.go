package taping

import (
	"math"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// stopDepth is how deep in an opening or a solid part a tape must run, or a hardpoint
// stand, to be refused, in inches: places are drawn to a sixteenth (common practice, no
// source).
const stopDepth = 1.0 / 16

// stop is an opening or a solid part: no tape along the skin crosses it, and none hooks
// on inside it.
type stop struct {
	layouts.ObstacleSpec
	region g.Path // in the view that its place is given in
	box    g.Rect
}

// stopsOn returns the openings and solid parts on the surfaces and the side of a
// placement.
func stopsOn(l *layouts.Layout, p layouts.Placement) []stop {
	var out []stop
	for _, o := range l.Spec.Aircraft.Obstacles {
		if !o.Under(p) || !o.StopsTapes() {
			continue
		}
		s := stop{ObstacleSpec: o}
		if o.Kind == layouts.Opening {
			s.region = g.Path{g.Polygon(o.Corners()...)}
		} else {
			s.region = g.Path{g.Circle(o.Middle(), o.Size.Inches()/2)}
		}
		s.box = s.region.Bounds()
		out = append(out, s)
	}
	return out
}

// holds tells whether a place of the skin lies in it.
func (s stop) holds(at g.Position) bool { return s.deep(s.Seen(at)) }

func (s stop) deep(q g.Point) bool {
	return s.box.Contains(q) && s.region.Contains(q, g.FlattenTolerance) && s.region.Distance(q, g.FlattenTolerance) > stopDepth
}

// crosses tells whether a path along the skin runs through it.
func (s stop) crosses(path []g.Position) bool {
	for i := 1; i < len(path); i++ {
		a, b := s.Seen(path[i-1]), s.Seen(path[i])
		if r := g.BoundsOf(a, b); r.Min.X > s.box.Max.X || r.Max.X < s.box.Min.X || r.Min.Y > s.box.Max.Y || r.Max.Y < s.box.Min.Y {
			continue
		}
		n := int(math.Ceil(a.Dist(b) / stopDepth))
		for k := 0; k <= n; k++ {
			if s.deep(a.Lerp(b, float64(k)/float64(max(n, 1)))) {
				return true
			}
		}
	}
	return false
}
