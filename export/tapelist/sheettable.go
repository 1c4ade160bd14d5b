package tapelist

import (
	"fmt"
	"math"
	"strings"

	"maskloft/export/sheet"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
)

// Columns of the table of points, as shares of the width: number, point, three
// tapes, crossing and error.
var pointShares = []float64{0.42, 1.5, 1.4, 1.4, 1.4, 1.38}

// lengthRow is one length to read: what it is from, the reading itself, and what
// stands below it.
type lengthRow struct{ head, value, small string }

// Heights of a row of the table of points, in inches.
const (
	tableHead    = 0.22
	readingValue = 0.25 // the reading
	writingBox   = 0.24 // the box to write the measured value into
	rowPad       = 0.05
)

// Letterings of the cells of the table.
var (
	cellStrong = sheet.Lettering{Cap: sheet.SetStrong.Cap, Bold: true, Ink: sheet.SetStrong.Ink, Dense: true}
	cellSoft   = sheet.Lettering{Cap: sheet.SetSoft.Cap, Ink: sheet.SetSoft.Ink, Dense: true}
)

// pointTable prints the points in the order of work. A row is never broken over two
// pages; the headings are printed again on each, with the marking's name.
func (s *tapeSheets) pointTable(title string, points []taping.Checkpoint) {
	edges := []float64{s.Left()}
	total := 0.0
	for _, w := range pointShares {
		total += w
	}
	for _, w := range pointShares {
		edges = append(edges, edges[len(edges)-1]+s.Width()*w/total)
	}
	head := func() {
		box := s.Block(tableHead)
		s.Draw(sheet.DrawRect(box, sheet.Ink{Fill: sheet.InkTableHead.Fill}))
		for i, text := range []string{"no.", "point", "first tape", "second tape", "check, within " + limitText(s.list.Tape, taping.ClosureLimit), "crossing, error"} {
			s.Draw(sheet.SetStrong.At(text, edges[i]+sheet.CellPad, box.Max.Y-0.155, 0))
		}
	}
	first := true
	for _, c := range points {
		row := s.tapesRow(c, edges)
		if first || s.Room() < row.height {
			if s.Room() < row.height+tableHead {
				s.Turn()
				s.Text(sheet.SetHeading, title+", points: "+lengthsIn(s.list.Tape))
				s.Space(0.04)
				s.startMark()
			}
			head()
			first = false
		}
		box := s.Block(row.height)
		for _, it := range row.items {
			s.Draw(it.Moved(g.Vec{Y: box.Max.Y}))
		}
		s.Draw(sheet.Item{Path: g.Path{g.Polyline(box.Min, g.Point{X: box.Max.X, Y: box.Min.Y})}, Ink: sheet.InkTableLine})
	}
}

// pointRow is the drawing of a row whose upper edge is at y 0.
type pointRow struct {
	items  []sheet.Item
	height float64
}

func (s *tapeSheets) tapesRow(c taping.Checkpoint, edges []float64) pointRow {
	var r pointRow
	cellAt := func(i int) (x, width float64) {
		return edges[i] + sheet.CellPad, edges[i+1] - edges[i] - 2*sheet.CellPad
	}
	x, w := cellAt(0)
	r.items = append(r.items, sheet.SetNumber.At(fmt.Sprint(c.Step), x+w/2, -0.38, 0.5))
	x, w = cellAt(1)
	y := r.stack(x, w, -rowPad, cellStrong, c.Label)
	skin := c.Mark.Skin
	y = r.stack(x, w, y, cellSoft, fmt.Sprintf("FS %s  BL %s\nWL %s", g.FormatNumber(skin.FS.Inches(), 2), g.FormatNumber(skin.BL.Inches(), 2), g.FormatNumber(skin.WL.Inches(), 2)))
	r.height = -y
	tapes := []*taping.Taping{nil, nil, c.Closure}
	for i := range c.Tapes {
		tapes[i] = &c.Tapes[i]
	}
	low, boxes := 0.0, 0.0
	for i, t := range tapes {
		if t != nil {
			_, w = cellAt(2 + i)
			boxes = math.Min(boxes, boxTop(0, w, s.tapeReading(*t)))
		}
	}
	for i, t := range tapes {
		x, w = cellAt(2 + i)
		switch {
		case t != nil:
			low = math.Min(low, r.reading(x, w, 0, boxes, s.tapeReading(*t)))
		case i == 2 && len(c.Tapes) == 2:
			low = math.Min(low, r.stack(x, w, -rowPad, cellSoft, "no check tape"))
		}
	}
	x, w = cellAt(5)
	y = -rowPad
	if len(c.Tapes) < 2 {
		y = r.stack(x, w, y, cellStrong, "no two tapes cross: place it by string and offset, or by girth")
	} else {
		major, minor := c.Error.Ellipse.Within95()
		y = r.stack(x, w, y, cellStrong, fmt.Sprintf("%.0f deg, %s", c.Crossing, c.Grade))
		y = r.stack(x, w, y, cellSoft, fmt.Sprintf("1 sigma %s\n95 %%: %s x %s", decimals(s.list.Tape, c.Error.Ellipse.RMS()), decimals(s.list.Tape, major), decimals(s.list.Tape, minor)))
	}
	if h, ok := s.floor(c.ID); ok {
		y = r.stack(x, w, y, cellSoft, fmt.Sprintf("floor: %s parked\n%s level", decimals(s.list.Tape, h.Parked), decimals(s.list.Tape, h.Level)))
	}
	low = math.Min(low, y)
	r.height = math.Max(r.height, -low)
	if needsOther(c) {
		r.otherWay(s, c, cellAt)
	}
	r.height += rowPad
	return r
}

// stack sets a wrapped text from y down and returns where it ends.
func (r *pointRow) stack(x, w, y float64, set sheet.Lettering, text string) float64 {
	if text == "" {
		return y
	}
	items, h := set.In(g.Rect{Min: g.Point{X: x, Y: y - 1}, Max: g.Point{X: x + w, Y: y}}, text, 0)
	r.items = append(r.items, items...)
	return y - h
}

// boxTop is where the box of a reading set from y down begins at the highest.
func boxTop(y, w float64, t lengthRow) float64 {
	y -= rowPad + float64(float64(len(cellStrong.Wrap(t.head, w)))*cellStrong.Leading()) + readingValue
	if t.small != "" {
		y -= float64(float64(len(cellSoft.Wrap(t.small, w))) * cellSoft.Leading())
	}
	return y
}

// reading sets a length to read from y down, with its box to write into at boxes or
// below, and returns where that ends.
func (r *pointRow) reading(x, w, y, boxes float64, t lengthRow) float64 {
	y = r.stack(x, w, y-rowPad, cellStrong, t.head)
	r.items = append(r.items, sheet.SetNumber.At(t.value, x, y-0.2, 0))
	y = math.Min(boxes, r.stack(x, w, y-readingValue, cellSoft, t.small))
	box := g.Rect{Min: g.Point{X: x, Y: y - writingBox}, Max: g.Point{X: x + w - 0.04, Y: y - 0.03}}
	r.items = append(r.items, sheet.DrawRect(box, sheet.Ink{Stroke: "#5c6b73", Width: 0.008}))
	return box.Min.Y
}

// tapeReading says what to read of a tape.
func (s *tapeSheets) tapeReading(t taping.Taping) lengthRow {
	unit := s.list.Tape
	out := lengthRow{head: headOf(taping.Offset{Kind: t.Kind, From: t.From.ID}), value: Reading(unit, t.Length), small: decimals(unit, t.Length)}
	taut, straight := otherLengths(unit, t)
	if taut != "" {
		out.small += "\ntaut " + taut
	}
	if straight != "" {
		out.small += "\nstraight " + straight
	}
	return out
}

// floor returns the height of a point above the floor.
func (s *tapeSheets) floor(id string) (taping.PointHeight, bool) {
	if s.list.Attitude != nil {
		for _, h := range s.list.Attitude.Heights {
			if h.ID == id {
				return h, true
			}
		}
	}
	return taping.PointHeight{}, false
}

// needsOther tells whether a point's tapes place it badly, or nothing checks it.
func needsOther(c taping.Checkpoint) bool {
	return len(c.Tapes) < 2 || c.Grade == taping.Poor || c.Closure == nil
}

// otherWay adds the string and the girth, below the tapes or, without any, in their
// place.
func (r *pointRow) otherWay(s *tapeSheets, c taping.Checkpoint, cellAt func(int) (x, w float64)) {
	plain := s.list.Tape
	plain.Burn = false
	top, low := -r.height-0.02, -r.height
	if len(c.Tapes) < 2 {
		top = 0
	}
	say := func(column int, set sheet.Lettering, text string) {
		x, w := cellAt(column)
		low = math.Min(low, r.stack(x, w, top-rowPad, set, text))
	}
	switch {
	case len(c.Tapes) < 2:
	case c.Grade == taping.Poor:
		say(1, cellStrong, "poor crossing: rather by string and offset, or by girth")
	default:
		say(1, cellStrong, "check it by string and offset, or by girth")
	}
	var ways [3]*lengthRow
	if b := c.Baseline; b != nil {
		ways[0] = &lengthRow{"STRING " + b.From.ID + " to " + b.To.ID, Reading(plain, b.Along), decimals(plain, b.Along) + " from " + b.From.ID}
		ways[1] = &lengthRow{strings.ToUpper(b.Towards) + " IT", Reading(plain, b.Offset), decimals(plain, b.Offset) + ", air " + decimals(plain, b.Square)}
	} else {
		say(2, cellSoft, "no string runs clear of the skin")
	}
	if q := c.Girth; q != nil {
		ways[2] = &lengthRow{fmt.Sprintf("GIRTH, %s %s", q.Plane, g.FormatNumber(q.At, 2)), Reading(plain, q.Length), fmt.Sprintf("%s %s from %s", decimals(plain, q.Length), q.Towards, strings.TrimPrefix(LineName(q.Line), "line "))}
	} else {
		say(4, cellSoft, "no girth to measure here")
	}
	boxes := 0.0
	for i, t := range ways {
		if _, w := cellAt(2 + i); t != nil {
			boxes = math.Min(boxes, boxTop(top, w, *t))
		}
	}
	for i, t := range ways {
		if x, w := cellAt(2 + i); t != nil {
			low = math.Min(low, r.reading(x, w, top, boxes, *t))
		}
	}
	r.height = -low
}
