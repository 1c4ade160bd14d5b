package views

import (
	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts/masks"
)

const (
	axisTickLength = 0.5  // inches
	axisTickAside  = 0.06 // from the tick to its word
)

// AxisTicks draws the ends of the level and the upright line of a marking that lie on
// a tile: a tick from the edge of the film inwards, with a word. One that would lie in
// the paint, or whose word has no room, is left out. They take their place in room.
func AxisTicks(room *sheet.Room, t masks.Tiling, cell masks.Cell, shift g.Vec) []sheet.Item {
	var out []sheet.Item
	for _, tick := range t.AxisTicks() {
		to := tick.At.Add(tick.Inward.Scale(axisTickLength))
		line := g.BoundsOf(tick.At, to)
		if !cell.Rect.Contains(tick.At) || !cell.Rect.Contains(to) || !room.Clear(line.Grown(0.02)) {
			continue
		}
		word := "LEVEL"
		if tick.Role == masks.UprightTick {
			word = "STATION"
		}
		text, w := glyphs.Label(word, sheet.TickCap, false)
		for _, at := range wordsBeside(line, w) {
			b := g.Rect{Min: at, Max: g.Point{X: at.X + w, Y: at.Y + sheet.TickCap}}
			if !room.Clear(b) || !cell.Rect.Grown(-0.02).Contains(b.Min) || !cell.Rect.Grown(-0.02).Contains(b.Max) {
				continue
			}
			room.Take(line.Union(b).Grown(0.05))
			out = append(out, sheet.Item{ID: "axis-" + tick.ID, Path: g.Path{g.Polyline(tick.At, to)}.Moved(shift), Ink: sheet.InkRegister},
				sheet.Item{Path: text.Moved(g.Vec(at).Add(shift)), Ink: sheet.Ink{Fill: sheet.InkRegister.Stroke}})
			break
		}
	}
	return out
}

// wordsBeside returns where a word of width w may stand beside a tick: its lower left
// corners, the best first.
func wordsBeside(tick g.Rect, w float64) []g.Point {
	c := tick.Centre()
	if tick.Height() < tick.Width() {
		x := tick.Min.X // a level tick: above it or below it
		return []g.Point{
			{X: x + 0.05, Y: c.Y + axisTickAside}, {X: x + 0.05, Y: c.Y - axisTickAside - sheet.TickCap},
			{X: tick.Max.X - w - 0.05, Y: c.Y + axisTickAside}, {X: tick.Max.X - w - 0.05, Y: c.Y - axisTickAside - sheet.TickCap},
		}
	}
	y := c.Y - sheet.TickCap/2 // an upright one: to its right or to its left
	return []g.Point{{X: c.X + axisTickAside, Y: y}, {X: c.X - axisTickAside - w, Y: y}}
}
