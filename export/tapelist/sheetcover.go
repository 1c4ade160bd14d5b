package tapelist

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// cover says what holds for all sheets, on one page.
func (s *tapeSheets) cover(tilings []masks.Tiling) {
	s.Text(sheet.SetTitle, "Tape checklist")
	s.Text(sheet.SetSoft, s.l.Spec.Name+"; "+s.l.Airframe.Spec.Name)
	s.Text(sheet.SetSoft, "Frame: "+strings.Join(strings.Fields(s.l.Airframe.Spec.Datum), " "))
	t := s.list.Tape
	s.Text(sheet.SetBody, fmt.Sprintf("Tape: class %s, read to %s; lengths and places in %s. Use one tape for the whole job.\nNo. ______________  checked by ____________________  date ______________", t.Class, readTo(t), unitName(t)))
	s.startMark()
	s.readingCard()
	s.hardpointTable()
	s.contents(tilings)
	s.byFloor()
	s.Space(0.1)
	for _, c := range sheet.WorkCautions {
		if s.Room() > sheet.SetSoft.Leading() {
			s.Bullet(sheet.SetSoft, "–", c, 0.14)
		}
	}
}

// howToRead is what the cover says of the sheets.
func howToRead(list taping.TapeList) []string {
	return []string{
		"Every point is a mark cut in the first film, with the same letter. Put a flag of low-tack tape on the aircraft where the row says and draw a cross on it: nothing is drawn on the skin (common practice, no source). The flags are covered before spraying.",
		"Lay the film with its set marks on their crosses. The check mark must then fall on its cross; how near stands below the rows. Later films are laid by sight, mark on cross, and need no tape.",
		"Lengths run along the skin, the tape pressed into it; straight: pulled through the air. From a stringer, the crown or the keel: in the plane of that station; from a rib: at 90 deg to it. All read from 0, except tapes from hardpoints where the row names another start.",
		"Two tapes: hook on the first hardpoint and swing the length, then on the second; the point is where the arcs meet. The third tape must read its length within " + limitText(list.Tape, taping.ClosureLimit) + ".",
		"Error: the likely error, one standard deviation. 95 of 100: so many lie within the two half axes that are told. Write what the tapes read into the boxes; the job book and maskloft tape --measured take it back. The aircraft need not stand level.",
	}
}

// readingCard says how a sheet is read.
func (s *tapeSheets) readingCard() {
	how := howToRead(s.list)
	lines := 0.0
	inner := s.Width() - 0.3
	for _, h := range how {
		lines += float64(float64(len(sheet.SetBody.Wrap(h, inner-0.16)))*sheet.SetBody.Leading()) + 0.03
	}
	s.Space(0.06)
	box := s.Block(lines + 0.42)
	s.Draw(sheet.DrawRect(box, sheet.Ink{Stroke: "#1a1a1a", Width: 0.014, Fill: "#f4f1ea"}))
	s.Draw(sheet.SetHeading.At("How to work with the sheets", box.Min.X+0.12, box.Max.Y-0.24, 0))
	y := box.Max.Y - 0.34
	for _, h := range how {
		s.Draw(sheet.SetBody.At("–", box.Min.X+0.12, y-float64(1.45*sheet.SetBody.Cap), 0))
		items, took := sheet.SetBody.In(g.Rect{Min: g.Point{X: box.Min.X + 0.28, Y: y - 2}, Max: g.Point{X: box.Min.X + 0.12 + inner, Y: y}}, h, 0)
		s.Draw(items...)
		y -= took + 0.03
	}
}

// hardpointTable prints where the tapes hook; both sides in one row where one is the
// other's mirror image.
func (s *tapeSheets) hardpointTable() {
	rows := hardpointRows(s.l)
	if len(rows) == 0 {
		return
	}
	t, n := s.list.Tape, func(v float64) string { return placeNumber(s.list.Tape, v) }
	if len(rows) > mostHooks {
		used := s.usedHooks()
		rows = slices.DeleteFunc(rows, func(r hardpointRow) bool { return !used[r.point.ID] })
	}
	shares := []struct {
		head  string
		at    float64 // share of the width at which the column stands
		right bool
	}{{"hardpoint", 0, false}, {"side", 0.4, false}, {"FS", 0.55, true}, {"BL", 0.65, true}, {"WL", 0.74, true}, {"error", 0.81, true}, {"", 0.83, false}}
	row := func(set sheet.Lettering, fill string, cells ...string) {
		box := s.Block(0.175)
		if fill != "" {
			s.Draw(sheet.DrawRect(box, sheet.Ink{Fill: fill}))
		}
		for i, text := range cells {
			align := 0.0
			if shares[i].right {
				align = 1
			}
			s.Draw(set.At(text, box.Min.X+sheet.CellPad+float64(shares[i].at*s.Width()), box.Min.Y+0.04, align))
		}
	}
	s.Heading("Hardpoints", 0.6)
	row(sheet.SetStrong, sheet.InkTableHead.Fill, "hardpoint", "side", "FS", "BL", "WL", "error", "")
	for _, r := range rows {
		k := r.point
		how, fill, set := drawnOrMeasured(k), "", sheet.SetSoft
		for _, side := range r.sides {
			if s.suspect(k.ID, side) {
				how, fill, set = "SUSPECT", views.LevelFill[layouts.Warn], sheet.SetStrong
			}
		}
		bl := n(k.At.BL.Inches())
		if r.word == "both" {
			bl = "±" + n(math.Abs(k.At.BL.Inches()))
		}
		row(set, fill, sheet.Shortened(set, k.ID+": "+k.Name, 0.38*s.Width()), r.word, n(k.At.FS.Inches()), bl, n(k.At.WL.Inches()), decimals(t, k.Sigma), how)
	}
}

// mostHooks is how many hardpoints a cover has room for; of more those that serve are
// printed.
const mostHooks = 18

// usedHooks returns the hardpoints that the ways of the list hang on.
func (s *tapeSheets) usedHooks() map[string]bool {
	used := map[string]bool{}
	for _, p := range s.list.Placings {
		for _, q := range p.Points {
			if w, ok := q.Way(); ok {
				for _, t := range w.Tapes {
					used[t.From.ID] = true
				}
			}
		}
	}
	return used
}

// placeNumber writes a place in the unit of the tape.
func placeNumber(t layouts.TapeSpec, v float64) string {
	if t.Units.Metric() {
		return g.FormatNumber(v*25.4, 1)
	}
	return g.FormatNumber(v, 3)
}

// hardpointRow is a hardpoint on one side, or on both.
type hardpointRow struct {
	point layouts.Hardpoint
	sides []g.Side
	word  string
}

// hardpointRows returns the hardpoints of an aircraft in the order of the file.
func hardpointRows(l *layouts.Layout) []hardpointRow {
	var out []hardpointRow
	for _, h := range l.Airframe.Spec.Hardpoints {
		from := len(out)
		for _, side := range h.Side.List() {
			for _, k := range l.Airframe.Hardpoints(side) {
				if k.ID != h.ID {
					continue
				}
				if len(out) > from {
					o := out[from].point
					if o.At.To(k.At.Mirrored()) < g.SnapTolerance && o.Sigma == k.Sigma && o.Measured == k.Measured {
						out[from].point, out[from].word = k, "both"
						out[from].sides = append(out[from].sides, side)
						continue
					}
				}
				out = append(out, hardpointRow{k, []g.Side{side}, side.String()})
			}
		}
	}
	return out
}

// suspect tells whether a fit of the structure finds a hardpoint out of place.
func (s *tapeSheets) suspect(id string, side g.Side) bool {
	for _, f := range s.list.Structure {
		for _, p := range f.Points {
			if p.ID == id && p.Side == side && p.Suspect {
				return true
			}
		}
	}
	return false
}

// tapedTable prints the distances that the hardpoints were fitted to.
func (s *tapeSheets) tapedTable() {
	if len(s.l.Airframe.Taped) == 0 {
		return
	}
	u := s.list.Tape
	t := sheet.Table{Columns: []sheet.Column{{Head: "from", Share: 1, Align: 0}, {Head: "to", Share: 1, Align: 0}, {Head: "side", Share: 0.8, Align: 0}, {Head: "measured", Share: 1, Align: 1}, {Head: "as written", Share: 1, Align: 1}, {Head: "fitted", Share: 1, Align: 1}, {Head: "", Share: 2, Align: 0}}}
	for _, k := range s.l.Airframe.Taped {
		verdict := sheet.Cell{}
		if k.Suspect() {
			verdict = sheet.Cell{Text: "SUSPECT: measure again", Set: sheet.SetStrong, Fill: views.LevelFill[layouts.Warn]}
		}
		t.Rows = append(t.Rows, append(sheet.Words(k.Spec.From, k.Spec.To, fmt.Sprint(k.Spec.Side), decimals(u, k.Spec.Length), decimals(u, k.Before), decimals(u, k.After)), verdict))
	}
	s.Heading("Distances between hardpoints, straight through the air, in "+unitName(u), 0.8)
	s.Table(t)
}

// structureFit prints how the real structure lies on the drawing.
func (s *tapeSheets) structureFit() {
	if len(s.list.Structure) == 0 {
		return
	}
	u := s.list.Tape
	s.Heading("Structure against the drawing, in "+unitName(u), 1.4)
	s.Text(sheet.SetSoft, "The measured hardpoints, best fitted as one rigid body. What is left over is the building, or a slip. From the others: how far a point lies from where all the others have it.")
	for _, f := range s.list.Structure {
		s.Need(1.3)
		s.Space(0.08)
		s.Text(sheet.SetBody, fmt.Sprintf("%s: moved %s aft, %s right, %s up; turned %s deg (right side up), %s deg (nose up), %s deg (nose left); %s rms left over.",
			f.Which, signed(u, f.Moved.X), signed(u, f.Moved.Y), signed(u, f.Moved.Z), degrees(f.Turned.X), degrees(f.Turned.Y), degrees(f.Turned.Z), decimals(u, f.RMS)))
		s.Space(0.04)
		t := sheet.Table{Columns: []sheet.Column{{Head: "point", Share: 0.8, Align: 0}, {Head: "side", Share: 0.7, Align: 0}, {Head: "aft", Share: 0.9, Align: 1}, {Head: "right", Share: 0.9, Align: 1}, {Head: "up", Share: 0.9, Align: 1}, {Head: "left over", Share: 1, Align: 1}, {Head: "from the others", Share: 2.4, Align: 0}}}
		for _, p := range f.Points {
			fromOthers := sheet.Cell{Text: "too few to say"}
			if !math.IsNaN(p.FromOthers.Inches()) {
				fromOthers.Text = decimals(u, p.FromOthers)
			}
			if p.Suspect {
				fromOthers = sheet.Cell{Text: fromOthers.Text + "  SUSPECT: measure again", Set: sheet.SetStrong, Fill: views.LevelFill[layouts.Warn]}
			}
			t.Rows = append(t.Rows, append(sheet.Words(p.ID, p.Side.String(), signed(u, p.Left.X), signed(u, p.Left.Y), signed(u, p.Left.Z), decimals(u, g.Length(p.Left.Norm()))), fromOthers))
		}
		s.Table(t)
	}
}

// byFloor says how the aircraft stands.
func (s *tapeSheets) byFloor() {
	a := s.list.Attitude
	if a == nil || s.Room() < 0.5 {
		return
	}
	t := s.list.Tape
	s.Space(0.08)
	s.Text(sheet.SetSoft, fmt.Sprintf("On its wheels the aircraft stands %.2f deg nose up; an inclinometer along a waterline then shows %.2f deg, 0 when level. To level it, raise the tail wheel %s.", a.Ground, a.Waterline, t.Units.Length(a.TailStand, 2)))
}

// mostContents is how many markings a cover lists one by one.
const mostContents = 36

// contents lists the markings of the sheets that follow, in two columns or three; stencils
// are one line.
func (s *tapeSheets) contents(tilings []masks.Tiling) {
	var names []string
	small, points := 0, 0
	rows := s.asRows()
	for i, p := range s.list.Placings {
		points += len(p.Points)
		if rows[i] {
			small++
			continue
		}
		names = append(names, fmt.Sprintf("%s: %s", tapeTitle(tilings[i].Laid.Placement), g.Counted(len(p.Points), "point")))
	}
	if small > 0 {
		names = append([]string{fmt.Sprintf("%s: %d", strings.ToLower(s.rowsTitle()), small)}, names...)
	}
	s.Heading(fmt.Sprintf("Markings, in the order of the sheets: %d points", points), 0.4)
	if len(names) > mostContents {
		names = append(names[:mostContents-1], fmt.Sprintf("and %d more", len(names)-mostContents+1))
	}
	columns := 2
	if len(names) > 16 {
		columns = 3
	}
	lines, wide := (len(names)+columns-1)/columns, s.Width()/float64(columns)
	for i := range lines {
		box := s.Block(0.19)
		for k := range columns {
			if at := i + k*lines; at < len(names) {
				x := box.Min.X + float64(float64(k)*wide)
				s.Draw(sheet.TickBox(x, box.Min.Y+0.01, 0.15), sheet.SetSoft.At(sheet.Shortened(sheet.SetSoft, names[at], wide-0.3), x+0.22, box.Min.Y+0.04, 0))
			}
		}
	}
	for _, text := range rowTexts(s.list) {
		if lines := len(sheet.SetSoft.Wrap(text, s.Width())); s.Room() > float64(float64(lines+7)*sheet.SetSoft.Leading()) {
			s.Text(sheet.SetSoft, text)
		}
	}
}
