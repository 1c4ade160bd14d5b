package sheet

import (
	g "maskloft/geometry"
)

// Clipped returns what of an item lies inside a window: lines are cut at its edges,
// regions are closed along them. Curves become chords. Nothing is returned where
// nothing is left; what an item spells is not kept.
func Clipped(it Item, window g.Rect) []Item {
	var lines, regions g.Path
	for _, c := range it.Path {
		if it.Ink.Fill != "" && c.Closed() {
			if pts := clipRegion(c.Flattened(0.002), window); len(pts) > 2 {
				regions = append(regions, g.Polygon(pts...))
			}
			continue
		}
		pts := c.Flattened(0.002)
		if c.Closed() {
			pts = append(pts, pts[0])
		}
		lines = append(lines, ClipLine(pts, window)...)
	}
	var out []Item
	if len(regions) > 0 {
		out = append(out, Item{Path: regions, Ink: it.Ink})
	}
	if len(lines) > 0 {
		ink := it.Ink
		ink.Fill = ""
		out = append(out, Item{Path: lines, Ink: ink})
	}
	return out
}

// ClipLine returns the runs of a line inside a window, without steps too short to
// be drawn.
func ClipLine(pts []g.Point, window g.Rect) g.Path {
	var out g.Path
	var run []g.Point
	end := func() {
		if n := len(run); n > 2 && run[0].Dist(run[n-1]) < HairOpen {
			run[n-1] = run[0] // it came round, but for the last place
		}
		if len(run) > 1 && run[0].Dist(run[len(run)-1]) > 2*HairOpen || len(run) > 2 {
			out = append(out, g.Polyline(run...))
		}
		run = nil
	}
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		if a.Dist(b) < HairOpen {
			continue
		}
		c, ok := ClipChord([2]g.Point{a, b}, window)
		if !ok || c[0].Dist(c[1]) < HairOpen {
			end()
			continue
		}
		if len(run) == 0 || run[len(run)-1].Dist(c[0]) > HairOpen {
			end()
			run = append(run, c[0])
		}
		run = append(run, c[1])
	}
	end()
	return out
}

// clipRegion returns a polygon cut to a window, edge by edge (Sutherland and Hodgman
// 1974). A hollow one may keep strips of no width along the window's edge.
func clipRegion(pts []g.Point, window g.Rect) []g.Point {
	for _, edge := range []struct {
		from g.Point
		in   g.Vec
	}{
		{window.Min, g.Vec{X: 1}}, {window.Min, g.Vec{Y: 1}}, {window.Max, g.Vec{X: -1}}, {window.Max, g.Vec{Y: -1}},
	} {
		var out []g.Point
		for i, b := range pts {
			a := pts[(i+len(pts)-1)%len(pts)]
			da, db := a.Sub(edge.from).Dot(edge.in), b.Sub(edge.from).Dot(edge.in)
			if (da < 0) != (db < 0) {
				out = append(out, a.Lerp(b, da/(da-db)))
			}
			if db >= 0 {
				out = append(out, b)
			}
		}
		pts = out
	}
	var out []g.Point
	for _, p := range pts {
		if len(out) == 0 || p.Dist(out[len(out)-1]) > HairOpen {
			out = append(out, p)
		}
	}
	if len(out) > 1 && out[0].Dist(out[len(out)-1]) < HairOpen {
		out = out[:len(out)-1]
	}
	return out
}
