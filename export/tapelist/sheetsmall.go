package tapelist

import (
	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// smallWide is the width of the picture of a stencil, in inches.
const smallWide = 0.95

// smallHead begins the pages of stencils.
func (s *tapeSheets) smallHead() {
	s.Text(sheet.SetTitle, s.rowsTitle())
	s.Text(sheet.SetSoft, "Lay the film with its set marks on their crosses. The picture is the film as one looks at it from outside.")
	s.startMark()
	s.Space(0.04)
}

// rowsTitle says what the pages of rows hold.
func (s *tapeSheets) rowsTitle() string {
	for i, row := range s.asRows() {
		if row && !s.list.Placings[i].Small {
			return "Stencils and markings of three points"
		}
	}
	return "Stencils"
}

// small prints one stencil: its picture with its marks, and their rows beside it.
func (s *tapeSheets) small(t *masks.Tiling, p taping.Placing) {
	left := s.Left() + smallWide + 0.1
	edges := s.rowEdges(left, smallShares)
	var rows []pointRow
	height := 0.0
	for _, q := range p.Points {
		row := s.pointRow(q, edges)
		rows = append(rows, row)
		height += row.height
	}
	const title = 0.18
	if height = height + title; height < 1.1 {
		height = 1.1
	}
	s.Need(height)
	box := s.Block(title)
	s.Draw(sheet.SetStrong.At(tapeTitle(t.Laid.Placement), box.Min.X, box.Min.Y+0.05, 0), sheet.TickBox(box.Max.X-0.2, box.Min.Y+0.01, 0.17))
	worst, ok := p.Worst()
	if ok {
		major, minor := worst.Error.Within95()
		text := "expected within " + decimals(s.list.Tape, major) + " x " + amount(s.list.Tape, minor)
		if p.Misses > 0 {
			text += ", the check within " + amount(s.list.Tape, p.Misses)
		}
		s.Draw(sheet.SetSoft.At(text+" (95 of 100)  done", box.Max.X-0.28, box.Min.Y+0.05, 1))
	}
	top := box.Min.Y
	s.film(t, p, g.Rect{Min: g.Point{X: s.Left(), Y: top - 0.9}, Max: g.Point{X: s.Left() + smallWide, Y: top - 0.02}})
	took := title
	for _, row := range rows {
		s.place(row, left)
		took += row.height
	}
	s.Space(height - took + 0.03)
}

// film draws the paint of a stencil with the marks that place it.
func (s *tapeSheets) film(t *masks.Tiling, p taping.Placing, box g.Rect) {
	around := t.Laid.Painted.Bounds()
	for _, q := range p.Points {
		around = around.Union(g.BoundsOf(q.Point.Mark.Film))
	}
	room := box.Grown(-0.1) // and the letters at both sides
	room.Min.X, room.Max.X = room.Min.X+0.1, room.Max.X-0.1
	_, to := sheet.Fitted(around.Grown(0.3), room, 1)
	s.Draw(sheet.DrawRect(box, inkFrame))
	for _, r := range t.Laid.Regions {
		var path g.Path
		for _, c := range r.Outline {
			var pts []g.Point
			for _, q := range c.Flattened(g.FlattenTolerance) {
				pts = append(pts, to(q))
			}
			path = append(path, g.Polygon(pts...))
		}
		s.Draw(sheet.Item{Path: path, Ink: sheet.Ink{Fill: views.Tint(views.HexOf(s.l.Spec.Paint, r.Colour), 0.45), Stroke: "#5c6b73", Width: 0.004}})
	}
	for _, q := range p.Points {
		at := to(q.Point.Mark.Film)
		x, align := at.X+0.05, 0.0
		wide := sheet.SetStrong.Width(q.Name) + 0.07
		if right, left := at.X+wide > box.Max.X, at.X-wide < box.Min.X; right || !left && at.X < box.Centre().X { // away from the paint
			x, align = at.X-0.05, 1
		}
		s.Draw(sheet.Item{Path: g.Path{g.Circle(at, 0.03)}, Ink: inkPlaced}, sheet.SetStrong.At(q.Name, x, at.Y-0.05, align))
	}
}
