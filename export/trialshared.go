package export

import (
	"fmt"
	"iter"
	"math"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// trialShare is the part of a page's drawing area that a marking takes at most where it
// shares pages with others: with more, hardly two would stand on one.
const trialShare = 0.25

// Inches about a marking on a shared page.
const (
	trialClear  = 0.04 // from what is drawn to the line that is cut along
	legendClear = 0.08 // from marks to the legend
	legendHigh  = 0.22 // the line with its directions and name
	legendArrow = 0.2  // length of an arrow
)

// SharedTrials are small markings on common pages of paper at true size, in the order of
// the layout: row by row from the top left, none turned, each with its marks, the
// directions up and sideways, and its name, in a frame to cut along.
type SharedTrials struct {
	paper sheet.Paper
	spec  *layouts.Spec
	pages [][]trialCell
}

// trialCell is one marking on a shared page.
type trialCell struct {
	tiling masks.Tiling
	box    g.Rect  // of the flat: what is shown
	legend g.Point // of the flat: lower left corner of the legend
	shift  g.Vec   // from the flat to the page
}

// ShareTrials returns the markings whose trial prints share pages, and those that have
// their own. A marking shares pages where it takes a quarter of one at most, and another
// does so too.
func ShareTrials(tilings []masks.Tiling, paper sheet.Paper, spec *layouts.Spec) (SharedTrials, []masks.Tiling) {
	room := trialRoom(paper)
	var cells []trialCell
	var own []masks.Tiling
	for _, t := range tilings {
		if fitsShare(trialPaint(t.Laid), room) {
			if c := newTrialCell(t); fitsShare(c.box, room) {
				cells = append(cells, c)
				continue
			}
		}
		own = append(own, t)
	}
	if len(cells) < 2 {
		return SharedTrials{}, tilings
	}
	return SharedTrials{paper: paper, spec: spec, pages: onPages(cells, room)}, own
}

// trialRoom is where a page of a trial print is drawn on.
func trialRoom(paper sheet.Paper) g.Rect {
	return g.Rect{Min: g.Point{X: trialMargin, Y: trialMargin + trialFoot}, Max: g.Point{X: paper.Width - trialMargin, Y: paper.Height - trialMargin}}
}

// fitsShare tells whether a box may share a page.
func fitsShare(b, room g.Rect) bool {
	return b.Width() <= room.Width() && b.Height() <= room.Height() && b.Width()*b.Height() <= trialShare*room.Width()*room.Height()
}

// newTrialCell is a marking with its marks, and its legend within where there is room,
// else below.
func newTrialCell(t masks.Tiling) trialCell {
	box := trialPaint(t.Laid)
	for _, m := range t.Marks {
		box = box.Union(g.BoundsOf(m.Film.Add(g.Vec{X: -masks.MarkRadius, Y: -masks.MarkHalf}), m.Film.Add(g.Vec{X: masks.MarkRadius, Y: masks.MarkHalf})).Grown(trialClear))
	}
	room := sheet.NewRoom(box, t.Laid.Painted)
	for _, m := range t.Marks {
		for _, it := range drawMark("", m.Film, m.ID, inside(box, m.Film)) {
			room.Take(it.Path.Bounds().Grown(legendClear))
		}
	}
	wide, _ := trialLegend(t.Laid.Placement)
	at, ok := room.Find(wide, legendHigh)
	if !ok {
		box.Min.Y -= legendHigh + legendClear
		box.Max.X = math.Max(box.Max.X, box.Min.X+wide+2*legendClear)
		at = box.Min.Add(g.Vec{X: legendClear, Y: trialClear})
	}
	return trialCell{tiling: t, box: box, legend: at}
}

// onPages lays cells in rows, each as high as its highest, and rows on pages, in order.
func onPages(cells []trialCell, room g.Rect) [][]trialCell {
	var pages [][]trialCell
	var page, row []trialCell
	top, wide, high := room.Max.Y, 0.0, 0.0
	close := func() { // the row is full
		for _, c := range row {
			c.shift.Y = top - c.box.Max.Y
			page = append(page, c)
		}
		top, wide, high, row = top-high, 0, 0, nil
	}
	for _, c := range cells {
		w, h := c.box.Width(), c.box.Height()
		if wide+w > room.Width() {
			close()
		}
		if top-math.Max(high, h) < room.Min.Y {
			if len(row) > 0 && top-high >= room.Min.Y {
				close()
			}
			pages, page, top = append(pages, page), nil, room.Max.Y
		}
		c.shift.X = room.Min.X + wide - c.box.Min.X
		row, wide, high = append(row, c), wide+w, math.Max(high, h)
	}
	close()
	return append(pages, page)
}

// trialLegend draws the directions and the name of a marking on one line from the origin,
// and returns how long it is.
func trialLegend(p layouts.Placement) (float64, []sheet.Item) {
	up, sideways, side := directions(p)
	var out []sheet.Item
	x := 0.0
	point := func(d g.Vec, word string) {
		at := g.Point{X: x + 0.06, Y: 0.01}
		if d.Y == 0 {
			at = g.Point{X: x + float64(legendArrow/2*(1-d.X)), Y: 0.08}
		}
		across := d.Perp()
		tip, neck := at.Add(d.Scale(legendArrow)), at.Add(d.Scale(legendArrow/2))
		out = append(out, sheet.Item{Ink: inkNoteText, Path: g.Path{g.Polygon(at.Add(across.Scale(0.015)), at.Add(across.Scale(-0.015)), neck.Add(across.Scale(-0.015)),
			neck.Add(across.Scale(-0.06)), tip, neck.Add(across.Scale(0.06)), neck.Add(across.Scale(0.015)))}})
		x += 0.05 + math.Max(0.12, float64(legendArrow*math.Abs(d.X)))
		out = append(out, sheet.SetSoft.At(word, x, 0.04, 0))
		x += sheet.SetSoft.Width(word) + 0.12
	}
	point(g.Vec{Y: 1}, up)
	point(side, sideways)
	out = append(out, sheet.SetStrong.At(p.ID(), x, 0.04, 0))
	return x + sheet.SetStrong.Width(p.ID()), out
}

// Len is the number of pages; 0 where no marking shares one.
func (s SharedTrials) Len() int { return len(s.pages) }

// Prints returns the pages to look at, one after another.
func (s SharedTrials) Prints() iter.Seq[sheet.Sheet] {
	return func(yield func(sheet.Sheet) bool) {
		for k := range s.pages {
			if !yield(s.print(k)) {
				return
			}
		}
	}
}

func (s SharedTrials) print(k int) sheet.Sheet {
	var grounds, fills, lines []sheet.Item
	for _, c := range s.pages[k] {
		grounds = append(grounds, sheet.DrawRect(c.onPage(), sheet.Ink{Fill: views.Tint(skinOf(s.spec, c.tiling.Laid), trialTint)}))
		for _, region := range c.tiling.Laid.Regions {
			outline := region.Outline.Moved(c.shift)
			fills = append(fills, sheet.Item{Path: outline, Ink: sheet.Ink{Fill: views.Tint(views.HexOf(s.spec.Paint, region.Colour), trialTint)}})
			lines = append(lines, sheet.Item{Path: outline, Ink: sheet.Ink{Stroke: "#000000", Width: 0.015}})
		}
	}
	return s.page(k, "trial print", "Paper for looking, not for cutting film.",
		sheet.Layer{Name: "skin", Items: grounds}, sheet.Layer{Name: "paint", Items: fills}, sheet.Layer{Name: "outlines", Items: lines})
}

// Pounce returns the pounce patterns of a page, from 0: its markings as holes, in the
// same places. The layer of the holes is what is cut.
func (s SharedTrials) Pounce(k int) sheet.Sheet {
	var holes g.Path
	for _, c := range s.pages[k] {
		holes = append(holes, pounceHoles(c.tiling.Laid, c.shift)...)
	}
	return s.page(k, "pounce patterns", "Seen from outside.", sheet.Layer{Name: sheet.LayerCut, Items: []sheet.Item{{ID: "holes", Path: holes, Ink: inkCut}}})
}

// page puts marks, frames and notes of a page over layers.
func (s SharedTrials) page(k int, what, use string, under ...sheet.Layer) sheet.Sheet {
	cells := s.pages[k]
	title := fmt.Sprintf("%s, page %d of %d: %s", what, k+1, len(s.pages), cells[0].tiling.Laid.ID())
	if last := cells[len(cells)-1].tiling.Laid.ID(); len(cells) > 1 {
		title += " to " + last
	}
	notes := trialNotes(s.spec.Sheets.Units, title, "Cut along the dashed lines. "+use, s.paper)
	var marks []sheet.Item
	for _, c := range cells {
		for _, m := range c.tiling.Marks {
			marks = append(marks, drawMark("", m.Film.Add(c.shift), m.ID, inside(c.box, m.Film))...)
		}
		notes = append(notes, sheet.DrawRect(c.onPage(), trialEdge))
		_, legend := trialLegend(c.tiling.Laid.Placement)
		for _, it := range legend {
			notes = append(notes, it.Moved(g.Vec(c.legend.Add(c.shift))))
		}
	}
	return sheet.Sheet{Title: title, Width: s.paper.Width, Height: s.paper.Height,
		Layers: append(under, sheet.Layer{Name: "registration marks", Items: marks}, sheet.Layer{Name: LayerNotes, Items: notes})}
}

// onPage is the frame of a cell on its page.
func (c trialCell) onPage() g.Rect {
	return g.Rect{Min: c.box.Min.Add(c.shift), Max: c.box.Max.Add(c.shift)}
}
