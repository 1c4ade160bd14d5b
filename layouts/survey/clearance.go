package survey

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// leastOverlap is the area in square inches below which paint and an obstacle
// touch and do not overlap.
const leastOverlap = 1e-4

// Clearance is how far the edge of the paint is from an obstacle, along the skin.
type Clearance struct {
	Obstacle string
	Kind     layouts.ObstacleKind // empty for an edge of the surface
	Distance g.Length             // 0 where they overlap
	Limit    g.Length
	Overlap  float64    // square inches of the obstacle under paint
	Where    g.Position // of the paint's edge, where they come nearest
	Within   []rune     // characters in whose rectangle a ring or spot stands, in part at least
}

// clearances measures the distance to everything that paint keeps clear of, as far
// as the patch reaches it.
func (gr *surroundings) clearances() ([]Clearance, error) {
	var out []Clearance
	for _, t := range gr.obstacles {
		if !t.Keeps() {
			continue
		}
		if err := gr.ctx.Err(); err != nil {
			return nil, err
		}
		c, near, err := gr.clearance(t)
		if err != nil {
			return nil, fmt.Errorf("%s: obstacle %s: %w", gr.laid.ID(), t.ID, err)
		}
		if near {
			out = append(out, c)
		}
	}
	return out, nil
}

func (gr *surroundings) clearance(t flatObstacle) (Clearance, bool, error) {
	c := Clearance{Obstacle: t.ID, Kind: t.Kind, Limit: t.Clear}
	if t.round() && !t.inside {
		return c, false, nil
	}
	var q g.Point
	var d float64
	if t.round() {
		d, q = nearestPaint(gr.paint, [][]g.Point{{t.centre, t.centre}})
		d -= t.half()
		for _, k := range gr.laid.Characters {
			if t.centre.Dist(k.Cell.Nearest(t.centre)) < t.half() {
				c.Within = append(c.Within, k.Rune)
			}
		}
	} else {
		if d, q = nearestPaint(gr.paint, t.runs); d > gr.reach() {
			return c, false, nil // what lies beyond the patch may be nearer
		}
	}
	var err error
	if d <= 0 || gr.swallows(t) {
		if c.Overlap, err = gr.overlapWith(t); err != nil {
			return c, false, err
		}
	}
	if c.Distance = g.Length(math.Max(0, d)); c.Overlap > 0 {
		c.Distance = 0
	}
	c.Where, _ = gr.laid.Map.PositionOf(q)
	return c, true, nil
}

// swallows tells whether one of paint and obstacle lies within the other, or the
// paint between the two edges of a gap.
func (gr *surroundings) swallows(t flatObstacle) bool {
	start := gr.paint[0].Start
	pos, ok := gr.laid.Map.PositionOf(start)
	switch {
	case t.round():
		return gr.paint.Contains(t.centre, g.FlattenTolerance)
	case gr.paint.Contains(t.runs[0][0], g.FlattenTolerance):
		return true
	case t.Kind == layouts.HingeAt:
		return ok && pos.FS > t.ObstacleSpec.At.FS && pos.FS < t.To
	}
	return ok && t.outline().Contains(t.Seen(pos), g.FlattenTolerance)
}

// outline returns an opening in the view that it is given in.
func (t flatObstacle) outline() g.Path { return g.Path{g.Polygon(t.Corners()...)} }

// overlapWith returns the area of an obstacle that paint covers.
func (gr *surroundings) overlapWith(t flatObstacle) (float64, error) {
	var region g.Path
	p := gr.laid.Placement
	switch {
	case t.round():
		region = g.Path{g.Circle(t.centre, t.half())}
	case t.Kind == layouts.HingeAt && len(t.runs) == 2:
		ring := append([]g.Point(nil), t.runs[0]...)
		for i := len(t.runs[1]) - 1; i >= 0; i-- {
			ring = append(ring, t.runs[1][i])
		}
		region = g.Path{g.Polygon(ring...)}
	case t.Kind == layouts.Opening:
		// the part of it that is seen where the paint is seen
		var seen []g.Point
		for _, c := range gr.paint {
			for _, q := range c.Flattened(g.FlattenTolerance) {
				if pos, ok := gr.laid.Map.PositionOf(q); ok {
					seen = append(seen, t.Seen(pos))
				}
			}
		}
		part, err := g.Intersect(t.outline(), g.Path{g.Rectangle(g.BoundsOf(seen...))})
		if err != nil {
			return 0, err
		}
		for _, c := range part {
			var flat []g.Point
			for i := range c.Segments {
				for k := range 8 {
					q := c.At(i, float64(k)/8)
					uv, err := t.Locate(p.Surface, p.Side, q)
					if err != nil {
						continue // an opening may reach beyond the skin
					}
					if f, ok := gr.laid.Map.ToFlat(uv); ok {
						flat = append(flat, f)
					}
				}
			}
			if len(flat) > 2 {
				region = append(region, g.Polygon(flat...))
			}
		}
	}
	if len(region) == 0 {
		return 0, nil
	}
	both, err := g.Intersect(gr.paint, region)
	if area := both.Area(); err == nil && area > leastOverlap {
		return area, nil
	}
	return 0, err
}

// nearestPaint returns the least distance of paint outlines from runs, and the
// point of the outline there.
func nearestPaint(paint g.Path, runs [][]g.Point) (float64, g.Point) {
	best, at := math.Inf(1), g.Point{}
	for _, c := range paint {
		last := c.Start
		for _, s := range c.Segments {
			for _, r := range runs {
				for i := 1; i < len(r); i++ {
					// of places equally near the first is taken, on every machine
					if d, q := betweenSegments(last, s.End, r[i-1], r[i]); d < best-1e-9 {
						best, at = d, q
					}
				}
			}
			last = s.End
		}
	}
	return best, at
}

// betweenSegments returns the distance between the segments ab and cd, and the
// nearest point of ab.
func betweenSegments(a, b, c, d g.Point) (float64, g.Point) {
	v, w := b.Sub(a), d.Sub(c)
	if den := v.Cross(w); den != 0 {
		s, t := c.Sub(a).Cross(w)/den, c.Sub(a).Cross(v)/den
		if s >= 0 && s <= 1 && t >= 0 && t <= 1 {
			return 0, a.Lerp(b, s)
		}
	}
	best, at := math.Inf(1), a
	for _, q := range [2]g.Point{a, b} {
		if e := g.SegmentDistance(q, c, d); e < best {
			best, at = e, q
		}
	}
	for _, q := range [2]g.Point{c, d} {
		if p := g.NearestOnSegment(q, a, b); p.Dist(q) < best {
			best, at = p.Dist(q), p
		}
	}
	return best, at
}
