package views

import (
	"math"

	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// Measures of dimension lines, in inches of the sheet (the proportions of ASME
// Y14.2: arrowheads three times as long as wide; from memory).
const (
	arrowLong   = 0.11
	arrowHalf   = 0.018
	extendGap   = 0.04 // from what is measured to its extension line
	extendOver  = 0.05 // of the extension line beyond the dimension line
	dimensCap   = 0.10
	dimensTail  = 0.17 // of a dimension line outside, where there is no room within
	dimensFirst = 0.22 // of the nearest dimension line from what is measured
	dimensStep  = 0.17
)

// alongside is where the text of an upright dimension stands that has no room within:
// at the side of its line.
const alongside = 2

var inkDimension = sheet.Ink{Stroke: "#1f5f7a", Width: 0.006}

// dimension is a distance between two points of a view, along x or along y.
type dimension struct {
	a, b    g.Point // what is measured between
	upright bool    // along y
	text    string
	away    float64 // where there is no room between them, the text stands to the left of them or below (-1), or to the right or above; 0: either
}

// at draws the dimension on a line at a height, or at an x where it is upright. Boxes
// are what must be free for it: the line, and its text.
func (d dimension) at(level float64) (items []sheet.Item, boxes [2]g.Rect) {
	turn := func(p g.Point) g.Point { return p } // along x and back
	if d.upright {
		turn = func(p g.Point) g.Point { return g.Point{X: p.Y, Y: p.X} }
	}
	a, b := turn(d.a), turn(d.b)
	if a.X > b.X {
		a, b = b, a
	}
	set := sheet.Lettering{Cap: dimensCap, Ink: sheet.Ink{Fill: inkDimension.Stroke}}
	wide, high := set.Width(d.text)+0.1, dimensCap+0.07
	along := wide
	if d.upright {
		along, high = high, wide
	}
	span := b.X - a.X
	var lines, heads g.Path
	line := func(x0, x1 float64) {
		if math.Abs(x1-x0) > 1e-3 {
			lines = append(lines, g.Polyline(turn(g.Point{X: x0, Y: level}), turn(g.Point{X: x1, Y: level})))
		}
	}
	head := func(x, way float64) { // its point at x, its tail that way
		heads = append(heads, g.Polygon(turn(g.Point{X: x, Y: level}), turn(g.Point{X: x + float64(way*arrowLong), Y: level + arrowHalf}), turn(g.Point{X: x + float64(way*arrowLong), Y: level - arrowHalf})))
	}
	for _, p := range []g.Point{a, b} {
		way := math.Copysign(1, level-p.Y)
		if math.Abs(level-p.Y) > extendGap+1e-3 {
			lines = append(lines, g.Polyline(turn(g.Point{X: p.X, Y: p.Y + float64(way*extendGap)}), turn(g.Point{X: p.X, Y: level + float64(way*extendOver)})))
		}
	}
	var mid, lo, hi float64
	if span >= along+2*arrowLong+0.06 {
		mid, lo, hi = (a.X+b.X)/2, a.X, b.X
		head(a.X, 1)
		head(b.X, -1)
		line(a.X, mid-along/2)
		line(mid+along/2, b.X)
	} else if d.away == alongside && span >= 2*arrowLong+0.02 {
		mid, lo, hi = (a.X+b.X)/2, a.X, b.X
		head(a.X, 1)
		head(b.X, -1)
		line(a.X, b.X)
	} else { // arrows from outside, the text beyond the second
		head(a.X, -1)
		head(b.X, 1)
		line(a.X-dimensTail, a.X)
		line(b.X, b.X+dimensTail)
		mid = b.X + dimensTail + along/2
		lo, hi = a.X-dimensTail, b.X+dimensTail+along
		switch {
		case d.away == alongside:
			mid, hi = (a.X+b.X)/2, b.X+dimensTail
		case d.away < 0:
			mid = a.X - dimensTail - along/2
			lo, hi = a.X-dimensTail-along, b.X+dimensTail
		}
		if span > 0.02 {
			line(a.X, b.X)
		}
	}
	across := level // of the text
	if d.away == alongside && span < along+2*arrowLong+0.06 {
		across += math.Copysign(wide/2+0.01, level-a.Y)
	}
	c := turn(g.Point{X: mid, Y: across})
	items = append(items, sheet.Item{Path: lines, Ink: inkDimension}, sheet.Item{Path: heads, Ink: sheet.Ink{Fill: inkDimension.Stroke}})
	if d.text != "" {
		items = append(items, Haloed(set.At(d.text, c.X, c.Y-dimensCap/2, 0.5))...)
	}
	of := func(x0, x1, y, half float64) g.Rect {
		return g.BoundsOf(turn(g.Point{X: x0, Y: y - half}), turn(g.Point{X: x1, Y: y + half}))
	}
	return items, [2]g.Rect{of(lo, hi, level, 0.05), of(mid-along/2, mid+along/2, across, high/2)}
}

// dimension sets a dimension on the first free one of the levels on either side of the
// what is measured: below first, or at the right where it is upright. Its text crosses a line of
// the structure only where there is no other place.
func (v *viewLabels) dimension(d dimension, low, high float64) {
	const levels = 12
	aways := []float64{1, -1}
	switch {
	case d.away != 0:
		aways = []float64{d.away}
	case d.upright:
		aways = []float64{alongside, 1, -1}
	}
	for k := range 4 * levels {
		off := dimensFirst + float64(dimensStep*float64(k/2%levels))
		level := high + off
		if (k%2 == 0) != d.upright {
			level = low - off
		}
		for _, d.away = range aways {
			items, boxes := d.at(level)
			if !v.free(boxes[0], true) || !v.free(boxes[1], k >= 2*levels) {
				continue
			}
			v.hard.Take(boxes[0])
			v.hard.Take(boxes[1])
			v.items = append(v.items, items...)
			return
		}
	}
	// no place for line and text together: the text on a leader
	text := d.text
	d.text = ""
	for k := range 2 * levels {
		level := high + dimensFirst + float64(dimensStep*float64(k/2))
		if (k%2 == 0) != d.upright {
			level = low - dimensFirst - float64(dimensStep*float64(k/2))
		}
		if items, boxes := d.at(level); v.free(boxes[0], true) {
			v.hard.Take(boxes[0])
			v.items = append(v.items, items...)
			v.word(text, dimensCap, boxes[0].Centre(), 0.02, sheet.Ink{Fill: inkDimension.Stroke})
			return
		}
	}
}
