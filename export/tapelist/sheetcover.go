package tapelist

import (
	"fmt"
	"math"
	"strings"

	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// cover says what holds for all sheets.
func (s *tapeSheets) cover(tilings []masks.Tiling) {
	s.Text(sheet.SetTitle, "Tape checklist")
	s.Text(sheet.SetSoft, s.l.Spec.Name)
	s.Text(sheet.SetSoft, s.l.Airframe.Spec.Name)
	s.Space(0.06)
	s.startMark()
	s.Heading("Frame", 0.4)
	s.Text(sheet.SetBody, strings.TrimSpace(s.l.Airframe.Spec.Datum))
	t := s.list.Tape
	s.Heading("Tape", 0.4)
	s.Text(sheet.SetBody, fmt.Sprintf("Class %s, read to %s%s. Use one tape for the whole job.\nTape no. ____________  checked by ____________________  date ____________", t.Class, readTo(t), inches(t)))
	s.readingCard()
	s.hardpointTable()
	s.tapedTable()
	s.structureFit()
	s.byFloor()
	s.contents(tilings)
}

// readingCard says how a sheet is read, beside one reading as the sheets print it.
func (s *tapeSheets) readingCard() {
	var how []string
	how = append(how,
		"Hook the tape on the first hardpoint and swing the length; then on the second. The point stands where the two arcs meet: mark it, write what you read into the boxes. Mark with low-tack tape or white chalk: no graphite on aluminium, no felt pen under dope, no scribe, no knife (common practice, no source).",
		fmt.Sprintf("Measure from the third: it must read the check length within %s (common practice, no source), or one hook is on the wrong point.", limitText(s.list.Tape, taping.ClosureLimit)),
		"ON SKIN: pressed along the skin; where a tape pulled taut would bridge a hollow, what that reads stands below. STRAIGHT: pulled through the air.",
		"STRING: stretched between two hardpoints; measure along it from the first, then square from it as seen square to the side (on wings from above); air: straight from the string to the point. GIRTH: along the skin in the plane named. These start at 0.",
		"Crossing: good from 60 to 120 deg, acceptable from 40 to 140, else poor.",
		"1 sigma: one standard deviation of the distance from the point meant. 95 %: half axes of the ellipse that holds 95 points of 100. Limits of tape, reading, holding and marking count as uniform, a hardpoint's error as normal.",
		"Work from the top of a table down: the centre and the level ticks hold the film, the rest check it; registration marks place each tile. The aircraft need not stand level.")
	const example = 1.7
	inner := s.Width() - example - 0.35
	lines := 0.0
	for _, h := range how {
		lines += float64(float64(len(sheet.SetBody.Wrap(h, inner-0.16)))*sheet.SetBody.Leading()) + 0.04
	}
	height := math.Max(lines+0.5, 1.9)
	s.Space(0.1)
	box := s.Block(height)
	s.Draw(sheet.DrawRect(box, sheet.Ink{Stroke: "#1a1a1a", Width: 0.014, Fill: "#f4f1ea"}))
	s.Draw(sheet.SetHeading.At("How to read a sheet", box.Min.X+0.12, box.Max.Y-0.25, 0))
	y := box.Max.Y - 0.36
	for _, h := range how {
		s.Draw(sheet.SetBody.At("–", box.Min.X+0.12, y-float64(1.45*sheet.SetBody.Cap), 0))
		items, took := sheet.SetBody.In(g.Rect{Min: g.Point{X: box.Min.X + 0.28, Y: y - 2}, Max: g.Point{X: box.Min.X + 0.12 + inner, Y: y}}, h, 0)
		s.Draw(items...)
		y -= took + 0.04
	}
	card := g.Rect{Min: g.Point{X: box.Max.X - example, Y: box.Max.Y - 1.72}, Max: g.Point{X: box.Max.X - 0.12, Y: box.Max.Y - 0.12}}
	s.Draw(sheet.DrawRect(card, sheet.Ink{Stroke: "#8a979e", Width: 0.008, Fill: "#ffffff"}))
	step := 20 + g.Length(9*s.list.Tape.Reading) // any length that has a fraction to be read
	var r pointRow
	low := r.reading(card.Min.X+0.1, example-0.32, 0, 0, lengthRow{"hardpoint, kind", Reading(s.list.Tape, step), decimals(s.list.Tape, step) + ": exactly, from 0"})
	for _, it := range r.items {
		s.Draw(it.Moved(g.Vec{Y: card.Max.Y - 0.02}))
	}
	note, _ := sheet.SetSoft.In(g.Rect{Min: g.Point{X: card.Min.X + 0.1, Y: card.Min.Y}, Max: g.Point{X: card.Max.X - 0.05, Y: card.Max.Y + low - 0.06}}, "read the large figure; write yours into the box", 0)
	s.Draw(note...)
}

// hardpointTable prints where the tapes hook.
func (s *tapeSheets) hardpointTable() {
	n := func(v float64) string { return g.FormatNumber(v, 3) }
	t := sheet.Table{Columns: []sheet.Column{{Head: "hardpoint", Share: 2.3, Align: 0}, {Head: "side", Share: 0.6, Align: 0}, {Head: "FS", Share: 0.8, Align: 1}, {Head: "BL", Share: 0.8, Align: 1}, {Head: "WL", Share: 0.8, Align: 1}, {Head: "sigma", Share: 0.65, Align: 1}, {Head: "place", Share: 2.1, Align: 0}}}
	for _, h := range s.l.Airframe.Spec.Hardpoints {
		for _, side := range h.Side.List() {
			for _, k := range s.l.Airframe.Hardpoints(side) {
				if k.ID != h.ID {
					continue
				}
				how := sheet.Cell{Text: drawnOrMeasured(k)}
				if k.Measured {
					d := k.At.Vec().Sub(k.Drawn.Vec())
					how.Text += fmt.Sprintf("; drawn at %s, %s, %s: %s aft, %s right, %s up", n(float64(k.Drawn.FS)), n(float64(k.Drawn.BL)), n(float64(k.Drawn.WL)), signed(d.X), signed(d.Y), signed(d.Z))
				}
				if s.suspect(k.ID, side) {
					how.Text, how.Set, how.Fill = "SUSPECT: measure again; "+how.Text, sheet.SetStrong, views.LevelFill[layouts.Warn]
				}
				t.Rows = append(t.Rows, []sheet.Cell{{Text: k.ID + ": " + k.Name, Set: sheet.SetStrong}, {Text: side.String()}, {Text: n(float64(k.At.FS))}, {Text: n(float64(k.At.BL))}, {Text: n(float64(k.At.WL))}, {Text: n(k.Sigma.Inches())}, how})
			}
		}
	}
	s.Heading("Hardpoints, in inches, as the tapes were computed from them", 0.8)
	s.Table(t)
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
	t := sheet.Table{Columns: []sheet.Column{{Head: "from", Share: 1, Align: 0}, {Head: "to", Share: 1, Align: 0}, {Head: "side", Share: 0.8, Align: 0}, {Head: "measured", Share: 1, Align: 1}, {Head: "as written", Share: 1, Align: 1}, {Head: "fitted", Share: 1, Align: 1}, {Head: "", Share: 2, Align: 0}}}
	for _, k := range s.l.Airframe.Taped {
		verdict := sheet.Cell{}
		if k.Suspect() {
			verdict = sheet.Cell{Text: "SUSPECT: measure again", Set: sheet.SetStrong, Fill: views.LevelFill[layouts.Warn]}
		}
		t.Rows = append(t.Rows, append(sheet.Words(k.Spec.From, k.Spec.To, fmt.Sprint(k.Spec.Side), fmt.Sprintf("%.3f", k.Spec.Length.Inches()), fmt.Sprintf("%.3f", k.Before.Inches()), fmt.Sprintf("%.3f", k.After.Inches())), verdict))
	}
	s.Heading("Distances between hardpoints, straight through the air, in inches", 0.8)
	s.Table(t)
}

// structureFit prints how the real structure lies on the drawing.
func (s *tapeSheets) structureFit() {
	if len(s.list.Structure) == 0 {
		return
	}
	s.Heading("Structure against the drawing, in inches", 1.4)
	s.Text(sheet.SetSoft, "The measured hardpoints, best fitted as one rigid body. What is left over is the building, or a slip; alone: how far a point lies from where all the others have it.")
	for _, f := range s.list.Structure {
		s.Need(1.3)
		s.Space(0.08)
		s.Text(sheet.SetBody, fmt.Sprintf("%s: moved %s aft, %s right, %s up; turned %s deg (right side up), %s deg (nose up), %s deg (nose left); %.3f rms left over.",
			f.Which, signed(f.Moved.X), signed(f.Moved.Y), signed(f.Moved.Z), signed(f.Turned.X), signed(f.Turned.Y), signed(f.Turned.Z), f.RMS.Inches()))
		s.Space(0.04)
		t := sheet.Table{Columns: []sheet.Column{{Head: "point", Share: 0.8, Align: 0}, {Head: "side", Share: 0.7, Align: 0}, {Head: "aft", Share: 0.9, Align: 1}, {Head: "right", Share: 0.9, Align: 1}, {Head: "up", Share: 0.9, Align: 1}, {Head: "left over", Share: 1, Align: 1}, {Head: "alone", Share: 2.4, Align: 0}}}
		for _, p := range f.Points {
			alone := sheet.Cell{Text: "too few to say"}
			if !math.IsNaN(p.Alone.Inches()) {
				alone.Text = fmt.Sprintf("%.3f", p.Alone.Inches())
			}
			if p.Suspect {
				alone = sheet.Cell{Text: alone.Text + "  SUSPECT: measure again", Set: sheet.SetStrong, Fill: views.LevelFill[layouts.Warn]}
			}
			t.Rows = append(t.Rows, append(sheet.Words(p.ID, p.Side.String(), signed(p.Left.X), signed(p.Left.Y), signed(p.Left.Z), fmt.Sprintf("%.3f", p.Left.Norm())), alone))
		}
		s.Table(t)
	}
}

// byFloor prints the other way to find a point: by a level and the floor.
func (s *tapeSheets) byFloor() {
	a := s.list.Attitude
	if a == nil {
		return
	}
	t := s.list.Tape
	s.Heading("The other way: by level and floor", 0.9)
	s.Text(sheet.SetBody, fmt.Sprintf("On its wheels the aircraft stands %.2f deg nose up; an inclinometer along a waterline then shows %.2f deg, 0 when level. To level it, raise the tail wheel %s. "+
		"An error of 0.1 deg is %s over 126 in. Each point's height above a flat floor stands with it, parked and level. Angles are positive where a line rises towards the tail; the slopes of all lines are in tape-checklist.md.",
		a.Ground, a.Waterline, amount(t, a.TailStand), amount(t, g.Length(126*math.Sin(0.1*math.Pi/180)))))
	if len(a.Pegs) == 0 {
		return
	}
	s.Space(0.05)
	tab := sheet.Table{Columns: []sheet.Column{{Head: "level across pegs", Share: 1.6, Align: 0}, {Head: "apart", Share: 1.2, Align: 1}, {Head: "slope level", Share: 1, Align: 1}, {Head: "block", Share: 1.6, Align: 0}, {Head: "slope parked", Share: 1.1, Align: 1}, {Head: "block", Share: 1.6, Align: 0}}}
	for _, k := range a.Pegs {
		tab.Rows = append(tab.Rows, sheet.Words(k.From+", "+k.To, amount(t, k.Length), fmt.Sprintf("%.2f deg", zeroed(k.Slope, 0.005)), block(t, k.Block, k.Under), fmt.Sprintf("%.2f deg", zeroed(k.Parked, 0.005)), block(t, k.ParkedBlock, k.ParkedUnder)))
	}
	s.Table(tab)
}

// contents lists the markings of the sheets that follow, with boxes for when each is
// placed.
func (s *tapeSheets) contents(tilings []masks.Tiling) {
	t := sheet.Table{Columns: []sheet.Column{{Head: "marking", Share: 2.6, Align: 0}, {Head: "points", Share: 0.7, Align: 1}, {Head: "centre: FS", Share: 1, Align: 1}, {Head: "BL", Share: 0.8, Align: 1}, {Head: "WL", Share: 0.8, Align: 1}, {Head: "placed", Share: 0.9, Align: 0}, {Head: "checked", Share: 0.9, Align: 0}}, Height: 0.3}
	for i := range tilings {
		p := tilings[i].Laid.Placement
		t.Rows = append(t.Rows, []sheet.Cell{{Text: tapeTitle(p), Set: sheet.SetStrong}, {Text: fmt.Sprint(len(s.pointsOf(tilings[i].Laid.ID())))},
			{Text: g.FormatNumber(float64(p.Anchor.FS), 2)}, {Text: g.FormatNumber(float64(p.Anchor.BL), 2)}, {Text: g.FormatNumber(float64(p.Anchor.WL), 2)}, {Box: true}, {Box: true}})
	}
	s.Heading("Markings, in the order of the sheets", 0.3+float64(0.3*float64(min(len(t.Rows), 8))))
	s.Table(t)
}
