package views

import (
	"math"

	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// haloColour is that of the light edge of labels and leaders.
const haloColour = "#ffffff"

// halo is the ink of a light edge of so many inches.
func halo(width float64) sheet.Ink {
	return sheet.Ink{Stroke: haloColour, Width: width, Round: true}
}

// edged returns a symbol with a light edge, so that it shows on every skin and paint.
func edged(ink sheet.Ink, path ...g.Contour) []sheet.Item {
	return []sheet.Item{{Path: path, Ink: halo(ink.Width + 0.014)}, {Path: path, Ink: ink}}
}

// Haloed returns a label with a light edge, so that it reads over lines.
func Haloed(it sheet.Item) []sheet.Item {
	return []sheet.Item{{Path: it.Outline(), Ink: halo(0.045)}, it}
}

// viewLabels sets words and dimensions on a view so that none covers another, a
// marking or a fitting. Each takes the first free place of a list; lines of the
// structure are crossed only where there is no other.
type viewLabels struct {
	window g.Rect
	hard   *sheet.Room // what nothing may cover
	lines  *sheet.Room // what had better not be crossed
	points []g.Point   // that have a name
	items  []sheet.Item
}

// newViewLabels begins with the paint and the lines of a view already drawn.
func newViewLabels(window g.Rect, painted, drawn []sheet.Item) *viewLabels {
	var paint g.Path
	for _, it := range painted {
		paint = append(paint, it.Path...)
	}
	v := &viewLabels{window: window, hard: sheet.NewRoom(window, paint), lines: sheet.NewRoom(window, nil)}
	v.cross(drawn)
	return v
}

// cross names lines that had better not be crossed.
func (v *viewLabels) cross(drawn []sheet.Item) {
	for _, it := range drawn {
		if it.Ink.Stroke == "" || it.Ink.Stroke == haloColour {
			continue
		}
		for _, c := range it.Path {
			pts := c.Flattened(0.01)
			for i := 1; i < len(pts); i++ {
				v.lines.Chords = append(v.lines.Chords, [2]g.Point{pts[i-1], pts[i]})
			}
		}
	}
}

// free tells whether a label may stand in b; where it must, over lines.
func (v *viewLabels) free(b g.Rect, overLines bool) bool {
	in := v.window.Contains(b.Min) && v.window.Contains(b.Max)
	return in && v.hard.Clear(b) && (overLines || v.lines.Clear(b))
}

// word sets a label near a point, clear of it by so much, with a leader where it must
// stand farther off. It stands nearer to its own point than to another one that has a
// name, if it can; it is left out where there is no place within three inches.
func (v *viewLabels) word(text string, cap float64, at g.Point, clear float64, ink sheet.Ink) {
	set := sheet.Lettering{Cap: cap, Ink: ink}
	w := set.Width(text)
	const rim = 0.03
	for _, try := range []struct {
		overLines, anyPoint bool
		farthest            float64
	}{{false, false, 0.5}, {true, false, 0.5}, {false, true, 1}, {true, true, 3}} {
		for far := 0.0; far < try.farthest; far += 0.12 {
			d := clear + 0.05 + far
			s := d * math.Sqrt2 / 2
			for _, c := range []g.Point{
				{X: at.X + s, Y: at.Y + s}, {X: at.X - s - w, Y: at.Y + s}, {X: at.X + s, Y: at.Y - s - cap}, {X: at.X - s - w, Y: at.Y - s - cap},
				{X: at.X + d, Y: at.Y - cap/2}, {X: at.X - d - w, Y: at.Y - cap/2}, {X: at.X - w/2, Y: at.Y + d}, {X: at.X - w/2, Y: at.Y - d - cap},
			} {
				b := g.Rect{Min: c, Max: g.Point{X: c.X + w, Y: c.Y + cap}}
				if !v.free(b.Grown(rim), try.overLines) || !try.anyPoint && v.nearerAnother(b, at) {
					continue
				}
				v.hard.Take(b.Grown(rim))
				if far > 0.1 {
					v.leader(at, b.Grown(rim).Nearest(at), clear, ink.Fill)
				}
				v.items = append(v.items, Haloed(set.At(text, c.X, c.Y, 0))...)
				return
			}
		}
	}
}

// nearerAnother tells whether a label stands nearer to another point than to its own.
func (v *viewLabels) nearerAnother(b g.Rect, own g.Point) bool {
	d := b.Nearest(own).Dist(own)
	for _, p := range v.points {
		if p != own && b.Nearest(p).Dist(p) < d {
			return true
		}
	}
	return false
}

// leader draws a thin line from a point, clear of it by so much, to a label.
func (v *viewLabels) leader(from, to g.Point, clear float64, colour string) {
	d := to.Sub(from)
	if d.Norm() <= clear+0.03 {
		return
	}
	line := g.Path{g.Polyline(from.Add(d.Unit().Scale(clear)), to)}
	v.items = append(v.items, sheet.Item{Path: line, Ink: halo(0.022)}, sheet.Item{Path: line, Ink: sheet.Ink{Stroke: colour, Width: 0.006}})
}

// beside sets a word level with a point, to the right of it (way +1) or to the left
// (-1), if that place is free.
func (v *viewLabels) beside(text string, cap float64, at g.Point, way float64, ink sheet.Ink) {
	set := sheet.Lettering{Cap: cap, Ink: ink}
	w := set.Width(text)
	x := at.X + float64(way*0.16)
	if way < 0 {
		x -= w
	}
	b := g.Rect{Min: g.Point{X: x, Y: at.Y - cap/2}, Max: g.Point{X: x + w, Y: at.Y + cap/2}}
	if v.free(b.Grown(0.02), true) {
		v.hard.Take(b.Grown(0.03))
		v.items = append(v.items, Haloed(set.At(text, x, at.Y-cap/2, 0))...)
	}
}

// keep keeps the place of a symbol clear, whose point is to have a name.
func (v *viewLabels) keep(at g.Point, symbol g.Rect) {
	v.points = append(v.points, at)
	v.hard.Take(symbol)
}
