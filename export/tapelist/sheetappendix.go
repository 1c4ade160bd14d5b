package tapelist

import (
	"fmt"

	"maskloft/export/sheet"
	"maskloft/layouts/masks"
)

// appendix prints every point that can be found, by tapes and the other ways, the lengths
// to check on each film, and what is laid under a level.
func (s *tapeSheets) appendix(tilings []masks.Tiling) {
	for i := range tilings {
		t := &tilings[i]
		s.Turn()
		title := tapeTitle(t.Laid.Placement)
		s.Text(sheet.SetTitle, "Appendix: "+title)
		s.Text(sheet.SetSoft, "Every point that can be found, by two tapes with a third to check; all in "+unitName(s.list.Tape)+".")
		s.startMark()
		s.pointTable(title, s.pointsOf(t.Laid.ID()))
		s.checkLengths(title, t.Laid.ID())
	}
	s.pegs()
}

// pegs prints what is laid under a level across its pegs.
func (s *tapeSheets) pegs() {
	a := s.list.Attitude
	if a == nil || len(a.Pegs) == 0 {
		return
	}
	t := s.list.Tape
	s.Heading("Level across pegs", 0.6)
	tab := sheet.Table{Columns: []sheet.Column{{Head: "pegs", Share: 1.6, Align: 0}, {Head: "apart", Share: 1.2, Align: 1}, {Head: "slope level", Share: 1, Align: 1}, {Head: "block", Share: 1.6, Align: 0}, {Head: "slope parked", Share: 1.1, Align: 1}, {Head: "block", Share: 1.6, Align: 0}}}
	for _, k := range a.Pegs {
		tab.Rows = append(tab.Rows, sheet.Words(k.From+", "+k.To, amount(t, k.Length), fmt.Sprintf("%.2f deg", zeroed(k.Slope, 0.005)), block(t, k.Block, k.Under), fmt.Sprintf("%.2f deg", zeroed(k.Parked, 0.005)), block(t, k.ParkedBlock, k.ParkedUnder)))
	}
	s.Table(tab)
}
