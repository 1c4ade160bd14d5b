package tapelist

import (
	"fmt"
	"slices"
	"strings"

	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// TapeSheets draws the tape checklist, to print and work from at the aircraft: a
// cover with the frame, the tape, how to read the sheets, the hardpoints and the
// way by level and floor; then for each marking and side a picture, the points in
// the order of work with what to read on each tape, the lengths to check on the film
// as laid, and boxes for its passes; the cautions last. The list is that of the
// tilings.
func TapeSheets(paper sheet.Paper, l *layouts.Layout, tilings []masks.Tiling, list taping.TapeList) []sheet.Sheet {
	p := sheet.NewPages(paper, "")
	p.Title = sheet.Shortened(sheet.SetSoft, "Tape checklist: "+l.Spec.Name, p.Width()-1.2)
	s := tapeSheets{Pages: p, l: l, list: list, edges: views.Silhouettes(l)}
	s.cover(tilings)
	for i := range tilings {
		p.Turn()
		s.marking(&tilings[i], i+1, len(tilings))
	}
	p.Cautions()
	return p.Sheets()
}

// tapeSheets is a tape checklist as it is laid out.
type tapeSheets struct {
	*sheet.Pages
	l     *layouts.Layout
	list  taping.TapeList
	edges [][]g.SidePosition // outlines of the surfaces seen from the side
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

func (s *tapeSheets) marking(t *masks.Tiling, number, of int) {
	place := t.Laid.Placement
	points := s.pointsOf(t.Laid.ID())
	s.Text(sheet.SetTitle, tapeTitle(place))
	s.Text(sheet.SetSoft, fmt.Sprintf("Marking %d of %d, on %s. %s, %s, %s.", number, of, strings.Join(place.Marking.Where.Surfaces, " and "),
		g.Counted(len(points), "point"), g.Counted(len(t.Laid.Masks), "pass"), g.Counted(t.Tiles(), "film")))
	s.startMark()
	s.pictures(t, points)
	s.pointTable(tapeTitle(place), points)
	s.expected(t.Laid.ID())
	s.checkLengths(tapeTitle(place), t.Laid.ID())
	s.passes(t)
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
	case t.Units == layouts.TapeMillimetres:
		return "START AT THE 100 MM MARK: the readings of all tapes from hardpoints include it"
	}
	return "START AT THE 1 IN MARK: the readings of all tapes from hardpoints include it"
}

// expected says how well the film will lie, what most of that comes from, and what
// helps.
func (s *tapeSheets) expected(id string) {
	i := slices.IndexFunc(s.list.Budgets, func(b taping.MaskBudget) bool { return b.Marking == id })
	if i < 0 {
		return
	}
	m, t := s.list.Budgets[i], s.list.Tape
	major, minor := m.Position.Within95()
	s.Heading("What to expect of the film as laid", 0.9)
	s.Text(sheet.SetBody, fmt.Sprintf("Its centre within %s x %s of the point meant, 95 films of 100. Its direction, held by %s and %s, within %.2f deg, which is %s at its far end.",
		decimals(t, major), amount(t, minor), shortID(m.Marking, m.From), shortID(m.Marking, m.To), m.Rotation95(), amount(t, 1.96*m.AtEnds)))
	if worst, ok := worstTerm(m, s.list.Points); ok {
		s.Text(sheet.SetStrong, fmt.Sprintf("Most of it comes from: %s (%s). To better it: %s", worst.Name, amount(t, worst.Sigma), worst.Help))
	}
	s.Text(sheet.SetBody, strings.ReplaceAll(wouldCatch(t, m), "`", ""))
}

// shortID is a point's id without that of its marking.
func shortID(marking, id string) string { return strings.TrimPrefix(id, marking+"-") }

// worstTerm returns what a marking's error comes from most: that of its centre, or the
// laying of the film.
func worstTerm(m taping.MaskBudget, points []taping.Checkpoint) (taping.ErrorTerm, bool) {
	for _, p := range points {
		if p.Marking == m.Marking && p.Role == masks.Centre && len(p.Tapes) == 2 {
			worst := p.Error.Dominant()
			if worst.Name != "crossing" { // laying the film, or the skin between frames, may be more
				worst = m.Terms[0]
			}
			return worst, true
		}
	}
	return taping.ErrorTerm{}, false
}

// passes prints boxes to tick and to date for every pass.
func (s *tapeSheets) passes(t *masks.Tiling) {
	const high = 0.36
	s.Heading("Passes: "+tapeTitle(t.Laid.Placement), 0.3+float64(high*float64(len(t.Laid.Masks)+1)))
	tab := sheet.Table{Columns: []sheet.Column{{Head: "pass", Share: 0.6, Align: 0.5}, {Head: "paint", Share: 1.9, Align: 0}, {Head: "film laid", Share: 0.8, Align: 0}, {Head: "lengths checked", Share: 1.3, Align: 0}, {Head: "sprayed", Share: 0.8, Align: 0}, {Head: "weeded", Share: 0.8, Align: 0}, {Head: "date", Share: 1.1, Align: 0}, {Head: "by", Share: 1.1, Align: 0}}, Height: high}
	for _, m := range t.Laid.Masks {
		tab.Rows = append(tab.Rows, []sheet.Cell{{Text: fmt.Sprint(m.Pass), Set: sheet.SetNumber}, {Text: m.Paint}, {Box: true}, {Box: true}, {Box: true}, {Box: true}, {Box: true}, {Box: true}})
	}
	s.Table(tab)
}
