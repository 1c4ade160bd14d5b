package masks

import (
	g "maskloft/geometry"
)

// Sides of a cell: indices of Cell.open.
const (
	leftSide = iota
	rightSide
	lowSide
	topSide
)

// EdgeOfPaint returns the outlines along which the knife parts paint from film: of an
// open film its opening, of a keep-down film its pieces.
func (m Mask) EdgeOfPaint() g.Path {
	if m.Polarity == KeepDown {
		return m.Film
	}
	return m.Opening
}

// Laps tells whether a cell reaches over the seam on its right, and over the one below.
func (c Cell) Laps() (right, down bool) {
	b := c.Bounds() // arms leave from other sides
	return !c.open[rightSide] && b.Max.X > c.Rect.Max.X+g.SnapTolerance, !c.open[lowSide] && b.Min.Y < c.Rect.Min.Y-g.SnapTolerance
}

// setCells divides the field at the places xs and ys, both ascending and from edge to
// edge of the field. A cell without a paint edge is left out; of the others, sides
// beyond which nothing is cut move inwards to the field's width from the paint edges
// in the cell.
func (f *TiledFilm) setCells(m Mask, xs, ys []float64) {
	edges, film := PolygonsOf(m.EdgeOfPaint()), chordsOf(m.Film)
	cut := make([]*g.Rect, f.Rows*f.Columns) // bounds of the paint edges in each cell; nil: none
	at := func(row, column int) *g.Rect {
		if row < 1 || row > f.Rows || column < 1 || column > f.Columns {
			return nil
		}
		return cut[(row-1)*f.Columns+column-1]
	}
	rectOf := func(row, column int) g.Rect {
		top := f.Rows - row
		return g.Rect{Min: g.Point{X: xs[column-1], Y: ys[top]}, Max: g.Point{X: xs[column], Y: ys[top+1]}}
	}
	for row := 1; row <= f.Rows; row++ {
		for column := 1; column <= f.Columns; column++ {
			cut[(row-1)*f.Columns+column-1] = boundsWithin(edges, rectOf(row, column))
		}
	}
	margin := m.FieldWidth.Inches()
	for row := 1; row <= f.Rows; row++ {
		for column := 1; column <= f.Columns; column++ {
			own, r := at(row, column), rectOf(row, column)
			if own == nil {
				if film.Contains(r.Centre()) {
					f.Paper = append(f.Paper, r)
				} else {
					f.Open = append(f.Open, r)
				}
				continue
			}
			c := Cell{Row: row, Column: column, Rect: r, open: [4]bool{
				at(row, column-1) == nil, at(row, column+1) == nil, at(row+1, column) == nil, at(row-1, column) == nil,
			}}
			if f.Rows*f.Columns > 1 {
				need := own.Grown(margin)
				for side, move := range [4]struct{ have, want *float64 }{
					{&c.Rect.Min.X, &need.Min.X}, {&c.Rect.Max.X, &need.Max.X}, {&c.Rect.Min.Y, &need.Min.Y}, {&c.Rect.Max.Y, &need.Max.Y},
				} {
					inward := *move.want > *move.have
					if side == rightSide || side == topSide {
						inward = *move.want < *move.have
					}
					if c.open[side] && inward {
						*move.have = *move.want
					}
				}
			}
			f.Cells = append(f.Cells, c)
		}
	}
}

// boundsWithin returns the bounds of what outlines of chords have in a rectangle; nil
// where that is no more than a touch.
func boundsWithin(outlines g.Path, r g.Rect) *g.Rect {
	var out *g.Rect
	length := 0.0
	for _, c := range outlines {
		for i, s := range c.Segments {
			from, to, ok := clipped(c.From(i), s.End, r)
			if !ok {
				continue
			}
			length += from.Dist(to)
			b := g.BoundsOf(from, to)
			if out != nil {
				b = out.Union(b)
			}
			out = &b
		}
	}
	if length < g.OutlineTolerance {
		return nil
	}
	return out
}

// clipped returns the part of a chord that lies in a rectangle (Liang and Barsky 1984).
func clipped(a, b g.Point, r g.Rect) (from, to g.Point, ok bool) {
	lo, hi := 0.0, 1.0
	d := b.Sub(a)
	for _, k := range [4][2]float64{{-d.X, a.X - r.Min.X}, {d.X, r.Max.X - a.X}, {-d.Y, a.Y - r.Min.Y}, {d.Y, r.Max.Y - a.Y}} {
		p, q := k[0], k[1]
		switch {
		case p == 0 && q < 0:
			return from, to, false
		case p < 0:
			lo = max(lo, q/p)
		case p > 0:
			hi = min(hi, q/p)
		}
	}
	return a.Lerp(b, lo), a.Lerp(b, hi), lo < hi
}
