package export

import (
	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts/masks"
)

var inkSeam = sheet.Ink{Stroke: sheet.InkRegister.Stroke, Width: 0.01, Dash: []float64{0.12, 0.06}}

// drawTicks draws the seams that a tile reaches over, and the parts of match ticks that lie on a tile, each with its number
// beside it on the tile's own side of the seam.
func drawTicks(film masks.TiledFilm, tile masks.Tile, shift g.Vec) []sheet.Item {
	out := drawSeams(tile, shift)
	for _, i := range tile.Cell.Ticks {
		k := film.Ticks[i]
		c, ok := sheet.ClipChord([2]g.Point{k.From, k.To}, tile.Cell.Bounds())
		if !ok || c[0].Dist(c[1]) < g.OutlineTolerance {
			continue
		}
		out = append(out, sheet.Item{ID: "tick-" + k.ID, Path: g.Path{g.Polyline(c[0].Add(shift), c[1].Add(shift))}, Ink: sheet.InkRegister})
		text, w := glyphs.Label(k.ID, sheet.TickCap, false)
		b := tickLabel(k, tile.Cell.Rect, w)
		out = append(out, sheet.Item{Path: text.Moved(g.Vec(b.Min).Add(shift)), Ink: sheet.Ink{Fill: sheet.InkRegister.Stroke}})
	}
	return out
}

// drawSeams draws, on a tile that reaches over its seams, where those are: the edge of
// the tile beneath comes to lie there.
func drawSeams(tile masks.Tile, shift g.Vec) []sheet.Item {
	r, b := tile.Cell.Rect, tile.Cell.Bounds()
	var out []sheet.Item
	line := func(id string, p, q g.Point) {
		out = append(out, sheet.Item{ID: id, Path: g.Path{g.Polyline(p, q)}.Moved(shift), Ink: inkSeam})
	}
	right, down := tile.Cell.Laps()
	if right {
		line("seam-upright", r.Max, g.Point{X: r.Max.X, Y: b.Min.Y})
	}
	if down {
		line("seam-level", r.Min, g.Point{X: b.Max.X, Y: r.Min.Y})
	}
	return out
}

// tickLabel returns where the number of a tick stands in a tile: beside the half of
// the tick that lies on it, on the side nearer the tile's middle.
func tickLabel(k masks.MatchTick, r g.Rect, width float64) g.Rect {
	half := k.From
	if !r.Contains(half) {
		half = k.To
	}
	at := k.At.Lerp(half, 0.55) // the middle of the number
	beside := g.Vec{X: 0.05 + width/2}
	if k.From.X != k.To.X { // a tick that lies level has its number above or below
		beside = g.Vec{Y: 0.05 + sheet.TickCap/2}
	}
	if c := r.Centre(); beside.X > 0 && at.X > c.X || beside.Y > 0 && at.Y > c.Y {
		beside = beside.Scale(-1)
	}
	at = at.Add(beside)
	return g.Rect{Min: g.Point{X: at.X - width/2, Y: at.Y - sheet.TickCap/2}, Max: g.Point{X: at.X + width/2, Y: at.Y + sheet.TickCap/2}}
}

// takeTicks keeps furniture off the match ticks of a tile and their numbers.
func takeTicks(r *sheet.Room, film masks.TiledFilm, tile masks.Tile) {
	for _, i := range tile.Cell.Ticks {
		k := film.Ticks[i]
		w := glyphs.LabelWidth(k.ID, sheet.TickCap, false)
		r.Take(g.BoundsOf(k.From, k.To).Union(tickLabel(k, tile.Cell.Rect, w)).Grown(0.05))
	}
}
