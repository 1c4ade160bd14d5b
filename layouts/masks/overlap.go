package masks

import (
	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts"
)

// wasteClear is how far from paint the wider overlap of the waste ends, in inches
// (common practice, no source).
const wasteClear = 1.0 / 2

// setReach sets what each tile of a film covers. With a butt seam that is its cell and
// its arms. With an overlap the upper tile reaches down over a level seam and the left
// tile to the right over an upright one: by the overlap, and by that of the waste where
// no paint lies within half an inch of the strip. Where four tiles meet, the upper left
// one covers the corner too. Laid on the aircraft from the last to the first, each
// comes to lie over the edges of those before it. At a registration mark on a seam both
// tiles end at the seam, so that the mark is seen.
func (t *Tiling) setReach(film int, s layouts.SeamSpec) error {
	paint := t.Laid.bareOfFilm()
	cells := t.Films[film].Cells
	for i := range cells {
		c := &cells[i]
		r := c.Rect
		grown := r
		right, down := !c.open[rightSide], !c.open[lowSide]
		if right {
			grown.Max.X += s.Overlap.Inches()
		}
		if down {
			grown.Min.Y -= s.Overlap.Inches()
		}
		var strips []g.Rect
		if s.Waste > s.Overlap {
			waste := s.Waste.Inches()
			if right {
				strips = append(strips, wasteStrips(paint, g.Rect{Min: g.Point{X: r.Max.X, Y: grown.Min.Y}, Max: g.Point{X: r.Max.X + waste, Y: r.Max.Y}}, false)...)
			}
			if down {
				strips = append(strips, wasteStrips(paint, g.Rect{Min: g.Point{X: r.Min.X, Y: r.Min.Y - waste}, Max: g.Point{X: grown.Max.X, Y: r.Min.Y}}, true)...)
			}
		}
		var err error
		if c.Reach, err = filledRects(append(append(strips, grown), c.Arms...)...); err != nil {
			return err
		}
		if s.Overlap <= 0 {
			continue
		}
		for _, m := range c.Marks {
			notch, ok := seamNotch(*c, t.Marks[m].Film, s.Reach().Inches())
			if !ok {
				continue
			}
			if c.Reach, err = g.Subtract(c.Reach, g.Path{g.Rectangle(notch)}); err != nil {
				return err
			}
		}
	}
	return nil
}

// seamNotch returns what is cut out of the overlap of a cell round a mark that stands
// on one of the seams that it reaches over.
func seamNotch(c Cell, p g.Point, reach float64) (g.Rect, bool) {
	const half = MarkRadius + markLand
	out := g.BoundsOf(p).Grown(half)
	switch seamSide(c, p) {
	case rightSide:
		out.Min.X, out.Max.X = p.X, p.X+reach+markLand
	case lowSide:
		out.Min.Y, out.Max.Y = p.Y-reach-markLand, p.Y
	default:
		return out, false
	}
	return out, true
}

// wasteStrips returns the parts of a strip beside a seam that lie clear of paint, in
// steps of a quarter of an inch; level tells that the strip runs along x.
func wasteStrips(paint *g.Chords, strip g.Rect, level bool) []g.Rect {
	const step = 0.25
	length := strip.Height()
	if level {
		length = strip.Width()
	}
	part := func(from, to float64) g.Rect {
		q := strip
		if level {
			q.Min.X, q.Max.X = strip.Min.X+from, strip.Min.X+to
		} else {
			q.Min.Y, q.Max.Y = strip.Min.Y+from, strip.Min.Y+to
		}
		return q
	}
	var out []g.Rect
	begin := -1.0
	for at := 0.0; at < length; at += step {
		end := min(length, at+step)
		q := part(at, end)
		// half the diagonal of the part is farther than any point of it from its middle
		half := same.Hypot(q.Width(), q.Height()) / 2
		free := !paint.Contains(q.Centre()) && paint.Distance(q.Centre()) >= wasteClear+half
		if free && begin < 0 {
			begin = at
		}
		if !free && begin >= 0 {
			out, begin = append(out, part(begin, at)), -1
		}
	}
	if begin >= 0 {
		out = append(out, part(begin, length))
	}
	return out
}
