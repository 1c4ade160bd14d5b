package tapelist

import (
	"fmt"
	"math"

	"maskloft/export/sheet"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
)

// Columns of the points that a film is laid by, as shares of the width: name, what to do,
// two readings, check tape or other way, expected error.
var rowShares = []float64{0.5, 2.55, 1.3, 1.3, 1.3, 0.75}

// smallShares are those of a stencil, without the fifth.
var smallShares = []float64{0.36, 2.95, 1.2, 1.2, 0, 0.56}

// rowEdges are where the columns begin, from a left edge to the right margin.
func (s *tapeSheets) rowEdges(left float64, shares []float64) []float64 {
	edges, total := []float64{left}, 0.0
	for _, w := range shares {
		total += w
	}
	wide := s.Left() + s.Width() - left
	for _, w := range shares {
		edges = append(edges, edges[len(edges)-1]+float64(wide*w/total))
	}
	return edges
}

// pointRows prints points, each a row that is never broken.
func (s *tapeSheets) pointRows(points []taping.PlacePoint, left float64, title string) {
	edges := s.rowEdges(left, rowShares)
	head := func() {
		box := s.Block(tableHead)
		box.Min.X = left
		s.Draw(sheet.DrawRect(box, sheet.Ink{Fill: sheet.InkTableHead.Fill}))
		for i, text := range []string{"mark", "where it is on the aircraft", "first reading", "second", "check, other way", "error"} {
			s.Draw(sheet.SetStrong.At(sheet.Shortened(sheet.SetStrong, text, edges[i+1]-edges[i]-2*sheet.CellPad), edges[i]+sheet.CellPad, box.Max.Y-0.155, 0))
		}
	}
	for i, q := range points {
		row := s.pointRow(q, edges)
		if i == 0 || s.Room() < row.height {
			if i > 0 {
				s.Turn()
				s.Text(sheet.SetHeading, title+", points")
				s.Space(0.04)
				s.startMark()
			}
			head()
		}
		s.place(row, left)
	}
}

// place draws a row where the page has room for it, with a line below.
func (s *tapeSheets) place(row pointRow, left float64) {
	box := s.Block(row.height)
	for _, it := range row.items {
		s.Draw(it.Moved(g.Vec{Y: box.Max.Y}))
	}
	s.Draw(sheet.Item{Path: g.Path{g.Polyline(g.Point{X: left, Y: box.Min.Y}, g.Point{X: box.Max.X, Y: box.Min.Y})}, Ink: sheet.InkTableLine})
}

// pointRow lays out the row of one point.
func (s *tapeSheets) pointRow(q taping.PlacePoint, edges []float64) pointRow {
	var r pointRow
	t := s.list.Tape
	cellAt := func(i int) (x, width float64) {
		return edges[i] + sheet.CellPad, edges[i+1] - edges[i] - 2*sheet.CellPad
	}
	x, w := cellAt(0)
	r.items = append(r.items, sheet.SetNumber.At(q.Name, x+w/2, -0.25, 0.5), cellSoft.At(string(q.Use), x+w/2, -0.42, 0.5))
	r.height = 0.45
	rows := RowsOf(t, q)
	x, w = cellAt(1)
	if len(rows) == 0 {
		y := r.stack(x, w, -rowPad, cellStrong, "no way finds it")
		r.height = math.Max(r.height, rowPad-r.stack(x, w, y, cellSoft, positionText(t, q.Point.Mark.Skin)))
		return r
	}
	row := rows[0]
	y := r.stack(x, w, -rowPad, cellStrong, row.Words)
	y = r.stack(x, w, y, cellSoft, positionText(t, q.Point.Mark.Skin)+exactText(row))
	low := y
	boxes := 0.0
	for i, p := range row.Parts {
		_, w = cellAt(2 + i)
		boxes = math.Min(boxes, boxTop(0, w, lengthRow{p.Head, p.Reading, ""}))
	}
	for i, p := range row.Parts {
		x, w = cellAt(2 + i)
		low = math.Min(low, r.reading(x, w, 0, boxes, lengthRow{p.Head, p.Reading, ""}))
	}
	x, w = cellAt(4)
	switch c := q.Point.Closure; {
	case w > 0.5 && row.Method == taping.ByTapes && c != nil:
		low = math.Min(low, r.reading(x, w, 0, boxes, lengthRow{headOf(taping.Offset{Kind: c.Kind, From: c.From.ID}), Reading(t, c.Length), ""}))
	case w > 0.5 && len(rows) > 1 && rows[1].Way.Error.RMS() < 2*row.Way.Error.RMS():
		low = math.Min(low, r.stack(x, w, -rowPad, cellSoft, "or: "+rows[1].Words))
	}
	x, w = cellAt(5)
	low = math.Min(low, r.stack(x, w, -rowPad, cellSoft, row.Error))
	r.height = math.Max(r.height, rowPad-low)
	return r
}

// exactText gives the readings exactly, from 0, and what a taut or a straight tape reads.
func exactText(row Row) string {
	text := "; exactly "
	for i, p := range row.Parts {
		if i > 0 {
			text += ", "
		}
		text += p.Decimals
		if p.Taut != "" {
			text += " (taut " + p.Taut + ")"
		}
		if p.Straight != "" {
			text += fmt.Sprintf(" (straight %s)", p.Straight)
		}
	}
	return text
}
