package sheet

import (
	"math"

	g "maskloft/geometry"
)

// Room finds free places in a tile for rectangles of furniture: clear of paint,
// of the tile's edge, and of what was put there before.
type Room struct {
	bounds g.Rect
	rings  [][]g.Point // outlines of the paint, as chords
	Chords [][2]g.Point
	taken  []g.Rect
	band   [][2]g.Point // of the row last asked for, to be filled again
}

// gap is the space kept round furniture, in inches.
const gap = 0.1

func NewRoom(tile g.Rect, paint g.Path) *Room {
	r := &Room{bounds: tile.Grown(-gap)}
	for _, c := range paint {
		pts := c.Flattened(0.01)
		r.rings = append(r.rings, pts)
		for i := range pts {
			a, b := pts[i], pts[(i+1)%len(pts)]
			if Overlap(g.BoundsOf(a, b), tile) {
				r.Chords = append(r.Chords, [2]g.Point{a, b})
			}
		}
	}
	return r
}

// Clear tells whether nothing was put into b yet and no paint enters it.
func (r *Room) Clear(b g.Rect) bool {
	for _, t := range r.taken {
		if Overlap(t, b) {
			return false
		}
	}
	for _, c := range r.Chords {
		if chordTouches(c, b) {
			return false
		}
	}
	return !r.painted(b.Centre())
}

func (r *Room) Take(b g.Rect) { r.taken = append(r.taken, b) }

// Find returns the lower left corner of a free rectangle of width w and height
// h, and takes it: the free place lowest in the tile, then the one most to the
// left.
func (r *Room) Find(w, h float64) (g.Point, bool) {
	const step = 0.125
	for y := r.bounds.Min.Y; y+h <= r.bounds.Max.Y; y += step {
		row := r.row(y-gap, y+h+gap)
		for x := r.bounds.Min.X; x+w <= r.bounds.Max.X; {
			b := g.Rect{Min: g.Point{X: x, Y: y}, Max: g.Point{X: x + w, Y: y + h}}
			past, free := r.blocked(b, row)
			if free {
				r.Take(b.Grown(gap))
				return b.Min, true
			}
			x = max(x+step, past)
		}
	}
	return g.Point{}, false
}

// row returns the parts of chords that lie between two heights, good until the next.
func (r *Room) row(low, high float64) [][2]g.Point {
	band := g.Rect{Min: g.Point{X: r.bounds.Min.X - 2*gap, Y: low}, Max: g.Point{X: r.bounds.Max.X + 2*gap, Y: high}}
	out := r.band[:0]
	for _, c := range r.Chords {
		if c[0].Y < low && c[1].Y < low || c[0].Y > high && c[1].Y > high {
			continue
		}
		if part, ok := ClipChord(c, band); ok {
			out = append(out, part)
		}
	}
	r.band = out
	return out
}

// blocked tells whether b is free, row being the parts of chords at its height; if
// not, past is where to try next along x.
func (r *Room) blocked(b g.Rect, row [][2]g.Point) (past float64, free bool) {
	for _, t := range r.taken {
		if Overlap(t, b) {
			return t.Max.X, false
		}
	}
	grown := b.Grown(gap)
	for _, c := range row {
		if chordTouches(c, grown) {
			// every place up to the far end of the part meets it as well
			return max(c[0].X, c[1].X) + gap, false
		}
	}
	if !r.painted(b.Centre()) {
		return 0, true
	}
	past = math.Inf(1) // the paint ends at the next chord, if at any
	for _, c := range row {
		if x := min(c[0].X, c[1].X); x > b.Centre().X {
			past = min(past, x)
		}
	}
	return past, false
}

// painted tells whether paint covers p, by the even-odd rule.
func (r *Room) painted(p g.Point) bool {
	return g.Inside(p, r.rings...)
}

func Overlap(a, b g.Rect) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// chordTouches tells whether a chord enters the rectangle.
func chordTouches(c [2]g.Point, r g.Rect) bool {
	a, b := c[0], c[1]
	if a.X < r.Min.X && b.X < r.Min.X || a.X > r.Max.X && b.X > r.Max.X || a.Y < r.Min.Y && b.Y < r.Min.Y || a.Y > r.Max.Y && b.Y > r.Max.Y {
		return false
	}
	_, ok := ClipChord(c, r)
	return ok
}

// ClipChord returns the part of a chord inside the rectangle, false where there is
// none (Liang and Barsky 1984).
func ClipChord(c [2]g.Point, r g.Rect) ([2]g.Point, bool) {
	d := c[1].Sub(c[0])
	t0, t1 := 0.0, 1.0
	for _, e := range [4][2]float64{
		{-d.X, c[0].X - r.Min.X}, {d.X, r.Max.X - c[0].X}, {-d.Y, c[0].Y - r.Min.Y}, {d.Y, r.Max.Y - c[0].Y},
	} {
		switch {
		case e[0] == 0:
			if e[1] < 0 {
				return c, false
			}
		case e[0] < 0:
			t0 = max(t0, e[1]/e[0])
		default:
			t1 = min(t1, e[1]/e[0])
		}
	}
	return [2]g.Point{c[0].Lerp(c[1], t0), c[0].Lerp(c[1], t1)}, t0 <= t1
}
