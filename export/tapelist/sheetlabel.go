package tapelist

import (
	"math"

	"maskloft/export/sheet"
	"maskloft/geometry/same"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
)

// take keeps a place of a picture free of labels.
func (pic *picture) take(r g.Rect) { pic.taken = append(pic.taken, r) }

// label sets a name near a point, on white, in the nearest place that is free: in
// sixteen directions, farther and farther out, with a leader where it stands off.
func (pic *picture) label(at g.Point, text string, set sheet.Lettering, start float64) {
	w, h := set.Width(text)+0.08, set.Cap+0.08
	const directions = 16
	for out := start; out < 3; out += 0.06 {
		for k := range directions {
			// up and to the right first, then alternately round
			turn := float64((k+1)/2) * 2 * math.Pi / directions
			if k%2 == 1 {
				turn = -turn
			}
			sin, cos := same.Sincos(math.Pi/4 + turn)
			c := at.Add(g.Vec{X: float64(cos * (out + w/2 - 0.08)), Y: float64(sin * out)})
			box := g.Rect{Min: g.Point{X: c.X - w/2, Y: c.Y - h/2}, Max: g.Point{X: c.X + w/2, Y: c.Y + h/2}}
			if !pic.free(box) {
				continue
			}
			if end := box.Nearest(at); end.Dist(at) > 0.05 {
				pic.items = append(pic.items, sheet.Item{Path: g.Path{g.Polyline(at, end)}, Ink: inkLeader})
			}
			pic.items = append(pic.items, sheet.DrawRect(box, sheet.Ink{Fill: "#ffffff"}), set.At(text, c.X, c.Y-set.Cap/2, 0.5))
			pic.take(box.Grown(0.01))
			return
		}
	}
}

func (pic *picture) free(box g.Rect) bool {
	if in := pic.window.Grown(-0.03); !in.Contains(box.Min) || !in.Contains(box.Max) {
		return false
	}
	for _, t := range pic.taken {
		if sheet.Overlap(t, box) {
			return false
		}
	}
	return true
}

// exit returns where a tape leaves the picture; false where its hardpoint is shown.
func (pic *picture) exit(t taping.Taping) (g.Point, bool) {
	var pts []g.Point
	for _, p := range t.Path {
		pts = append(pts, pic.to(p))
	}
	if len(pts) == 0 || pic.shows(t.From) {
		return g.Point{}, false
	}
	for _, c := range sheet.ClipLine(pts, pic.window) {
		return c.End(), true
	}
	return g.Point{}, false
}
