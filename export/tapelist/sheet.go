package tapelist

import (
	"fmt"
	"strings"

	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// TapeSheets draws the tape checklist, to print and work from at the aircraft: a cover
// of one page; then a page for each marking and side, with a picture, the points that
// its first film is laid by, what to expect, and boxes to tick; stencils are rows of a
// page. With list.All an appendix has every point that can be found, the lengths to check
// on the films, and how the structure lies. The list is that of the tilings.
func TapeSheets(paper sheet.Paper, l *layouts.Layout, tilings []masks.Tiling, list taping.TapeList) []sheet.Sheet {
	p := sheet.NewPages(paper, "")
	p.Title = sheet.Shortened(sheet.SetSoft, "Tape checklist: "+l.Spec.Name, p.Width()-1.2)
	s := tapeSheets{Pages: p, l: l, list: list, edges: views.Silhouettes(l)}
	s.cover(tilings)
	rows := s.asRows()
	first := true
	for i := range list.Placings { // rows follow one another
		if rows[i] {
			if first {
				p.Turn()
				s.smallHead()
				first = false
			}
			s.small(&tilings[i], list.Placings[i])
		}
	}
	for i := range list.Placings {
		if !rows[i] {
			p.Turn()
			s.marking(&tilings[i], list.Placings[i])
		}
	}
	if len(list.Structure)+len(l.Airframe.Taped) > 0 {
		p.Turn()
		s.tapedTable()
		s.structureFit()
	}
	if list.All {
		s.appendix(tilings)
	}
	return p.Sheets()
}

// tapeSheets is a tape checklist as it is laid out.
type tapeSheets struct {
	*sheet.Pages
	l     *layouts.Layout
	list  taping.TapeList
	edges [][]g.SidePosition // outlines of the surfaces seen from the side
}

// mostPages is how many markings have a page each.
const mostPages = 16

// asRows tells which markings are rows of a page: stencils, and where there are more
// others than [mostPages] those that three points place as well.
func (s *tapeSheets) asRows() []bool {
	large := 0
	for _, p := range s.list.Placings {
		if !p.Small {
			large++
		}
	}
	out := make([]bool, len(s.list.Placings))
	for i, p := range s.list.Placings {
		out[i] = p.Small || large > mostPages && len(p.Points) <= 3
	}
	return out
}

// pointsOf returns the points of a marking in the order of work.
func (s *tapeSheets) pointsOf(id string) []taping.Checkpoint {
	var out []taping.Checkpoint
	for _, c := range s.list.Points {
		if c.Marking == id {
			out = append(out, c)
		}
	}
	return out
}

// tapeTitle names a marking and its side as the sheets do, the side once.
func tapeTitle(p layouts.Placement) string {
	return fmt.Sprintf("%s, %s %s", strings.TrimSuffix(p.Marking.ID, "-"+p.Side.String()), p.Side, views.WingWord(p))
}

// marking prints the page of one marking. What stands below the picture is laid out
// first: the picture takes what is left of the page.
func (s *tapeSheets) marking(t *masks.Tiling, p taping.Placing) {
	place := t.Laid.Placement
	s.Text(sheet.SetTitle, tapeTitle(place))
	s.Text(sheet.SetSoft, fmt.Sprintf("On %s. First film: %s, in %s, laid by these points; later films by their marks. All in %s.",
		strings.Join(place.Marking.Where.Surfaces, " and "), p.Paint, g.Counted(len(t.Films[0].Cells), "tile"), unitName(s.list.Tape)))
	s.startMark()
	s.pictures(t, p, s.below(t, p))
	s.pointRows(p.Points, s.Left(), tapeTitle(place))
	s.expected(t, p)
	s.done(p)
}

// below is the height of what stands below the picture of a marking.
func (s *tapeSheets) below(t *masks.Tiling, p taping.Placing) float64 {
	edges := s.rowEdges(s.Left(), rowShares)
	h := tableHead + 0.12 + doneHigh
	for _, q := range p.Points {
		h += s.pointRow(q, edges).height
	}
	for _, text := range s.expectedTexts(t, p) {
		h += float64(float64(len(sheet.SetBody.Wrap(text, s.Width()))) * sheet.SetBody.Leading())
	}
	return h
}

// startMark says where the tape begins, where that is not its hook.
func (s *tapeSheets) startMark() {
	if text := startText(s.list.Tape); text != "" {
		box := s.Block(0.34)
		s.Draw(sheet.DrawRect(box, sheet.Ink{Stroke: "#1a1a1a", Width: 0.02}))
		s.Draw(sheet.SetHeading.At(text, box.Centre().X, box.Centre().Y-sheet.SetHeading.Cap/2, 0.5))
		s.Space(0.05)
	}
}

// startText says which mark is held at the hardpoint; empty where it is the hook.
func startText(t layouts.TapeSpec) string {
	switch {
	case !t.Burn:
		return ""
	case t.Units.Metric():
		return "START AT THE 100 MM MARK: the readings of all tapes from hardpoints include it"
	}
	return "START AT THE 1 IN MARK: the readings of all tapes from hardpoints include it"
}

// expected says how well the film will lie, what helps, and which lengths of it to check.
func (s *tapeSheets) expected(t *masks.Tiling, p taping.Placing) {
	s.Space(0.06)
	for _, text := range s.expectedTexts(t, p) {
		s.Text(sheet.SetBody, text)
	}
}

func (s *tapeSheets) expectedTexts(t *masks.Tiling, p taping.Placing) []string {
	out := []string{expectedText(s.list.Tape, p, len(t.Films[0].Cells))}
	if text := filmLengths(s.list, t, p); text != "" && len(p.Tiles) <= mostLengths {
		out = append(out, text)
	}
	return out
}

// mostLengths is how many lengths to check a page has room for beside its points.
const mostLengths = 3

const doneHigh = 0.42

// done prints boxes to tick.
func (s *tapeSheets) done(p taping.Placing) {
	if s.Room() < doneHigh {
		return
	}
	s.Space(0.08)
	box := s.Block(doneHigh - 0.08)
	x := box.Min.X
	words := []string{"marked", "film laid", "check on its cross", "lengths"}
	if p.Misses <= 0 {
		words = []string{"marked", "film laid", "lengths"}
	}
	for _, text := range words {
		s.Draw(sheet.TickBox(x, box.Min.Y+0.05, 0.18), sheet.SetSoft.At(text, x+0.25, box.Min.Y+0.08, 0))
		x += 0.25 + sheet.SetSoft.Width(text) + 0.25
	}
	s.Draw(sheet.SetSoft.At("by __________  date ________", x, box.Min.Y+0.08, 0))
}
