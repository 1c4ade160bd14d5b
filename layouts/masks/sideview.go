package masks

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// seenFromSide returns the figure in the flat such that the drawing is what is
// seen in side elevation: each point is cast along the butt line onto the skin,
// then carried to the flat. It also returns the largest deviation of the fitted
// outlines, in inches.
//
// Outlines are broken where they cross a hard line, because the cast kinks
// there; between, they are fitted to the tolerance.
func seenFromSide(p layouts.Placement, m *skin.FlatMap, tolerance float64) (layouts.Figure, float64, error) {
	sin, cos := same.Sincos(p.Marking.Where.Angle * math.Pi / 180 * -p.Side.Reading())
	locate := func(q g.Point) (skin.UV, error) {
		x, y := float64(q.X*cos)-float64(q.Y*sin), float64(q.X*sin)+float64(q.Y*cos)
		return skin.LocateSide(p.Surface, p.Side, g.SidePosition{
			FS: p.Anchor.FS + g.Station(p.Side.Reading()*x), WL: p.Anchor.WL + g.Waterline(y),
		})
	}
	cast := func(q g.Point) (g.Point, error) {
		uv, err := locate(q)
		if err != nil {
			return g.Point{}, err
		}
		flat, ok := m.ToFlat(uv)
		if !ok {
			return g.Point{}, g.Errorf("%v lies outside the patch laid flat", g.PositionOf(skin.PointAt(p.Surface, uv)))
		}
		return flat, nil
	}
	return carried(p.Figure, tolerance, func(c g.Contour) (g.Contour, error) {
		if err := torn(p.Surface, c, locate); err != nil {
			return c, err
		}
		return breakAtHardLines(p.Surface, c, locate)
	}, cast)
}

// breakAtHardLines returns c with a node wherever it crosses a grid line of the
// surface.
func breakAtHardLines(s skin.Surface, c g.Contour, locate func(g.Point) (skin.UV, error)) (g.Contour, error) {
	panel := func(uv skin.UV) [2]int { return skin.Panel(s, uv) }
	out := g.Contour{Start: c.Start}
	for i := range c.Segments {
		// parameters where the panel changes, found by halving
		var cuts []float64
		const n = 64
		t0 := 0.0
		uv, err := locate(c.At(i, 0))
		if err != nil {
			return c, err
		}
		last := panel(uv)
		for k := 1; k <= n; k++ {
			t := float64(k) / n
			if uv, err = locate(c.At(i, t)); err != nil {
				return c, err
			}
			if now := panel(uv); now != last {
				lo, hi := t0, t
				for hi-lo > 1e-12 {
					mid := (lo + hi) / 2
					if uv, err = locate(c.At(i, mid)); err != nil {
						return c, err
					}
					if panel(uv) == last {
						lo = mid
					} else {
						hi = mid
					}
				}
				if hi > 1e-6 && hi < 1-1e-6 {
					cuts = append(cuts, hi)
				}
				last = now
			}
			t0 = t
		}
		out.Segments = append(out.Segments, c.SplitAt(i, cuts...).Segments[i:i+len(cuts)+1]...)
	}
	return out, nil
}
