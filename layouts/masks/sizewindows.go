package masks

import (
	g "maskloft/geometry"
)

// sizeSpans are the distances, in inches, of the windows by which the size of a film is
// checked: the first that a film has room for.
var sizeSpans = []float64{10, 5, 2}

// SizeSpan returns how far apart the windows of [SizeWindows] stand.
func SizeSpan(at []g.Point) g.Length {
	if len(at) < 2 {
		return 0
	}
	return g.Length(at[0].Dist(at[1]))
}

// SetSizeWindows gives one film of a run the windows by which its size is checked
// before the rest is cut: 10 in apart along and up, clear of its own paint. It is the
// first along the run that has room for them; where none has, for windows 5 in apart,
// then 2. Pieces are in any order, each with its tiling and its mask.
func SetSizeWindows(tilings []Tiling, cut []Mask, tiles []Tile) {
	order := make([]int, len(tiles)+1)
	for i := range order {
		order[i] = -1
	}
	for i, p := range tiles {
		if p.Number > 0 && p.Number < len(order) {
			order[p.Number] = i
		}
	}
	for _, span := range sizeSpans {
		for _, i := range order {
			if i < 0 {
				continue
			}
			if at, ok := sizeWindows(tilings[i], cut[i], tiles[i], span); ok {
				tiles[i].Size = at
				return
			}
		}
	}
}

// sizeWindows returns a corner and the places at a distance along and up from it, all
// clear of the paint of the mask, of marks, slits and the edge of the film.
func sizeWindows(t Tiling, m Mask, p Tile, span float64) ([]g.Point, bool) {
	s := setter{t: &t, paint: chordsOf(m.EdgeOfPaint()), free: map[g.Point]float64{}}
	r := p.Cell.Rect.Grown(-armHalf)
	if r.Width() < span || r.Height() < span {
		return nil, false
	}
	clear := func(q g.Point) bool {
		for _, m := range t.Marks {
			if m.Film.Dist(q) < markApart {
				return false
			}
		}
		return r.Contains(q) && s.room(q) >= MarkRadius+markClearance
	}
	const step = 0.25
	for y := r.Min.Y; y <= r.Max.Y-span; y += step {
		for x := r.Min.X; x <= r.Max.X-span; x += step {
			at := []g.Point{{X: x, Y: y}, {X: x + span, Y: y}, {X: x, Y: y + span}}
			if clear(at[0]) && clear(at[1]) && clear(at[2]) {
				return at, true
			}
		}
	}
	return nil, false
}
