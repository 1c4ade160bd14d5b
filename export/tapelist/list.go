package tapelist

import (
	"fmt"
	"math"
	"strings"

	"maskloft/export/sheet"
	"maskloft/geometry/same"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// TapeText returns the tape list to print and take to the aircraft: the points that each
// first film is laid by and every way to them; with list.All every other point, the
// lengths to check and the heights besides.
func TapeText(l *layouts.Layout, list taping.TapeList) []byte {
	w := tapeWriter{l: l, list: list}
	w.head()
	w.hardpoints()
	w.structure()
	for _, p := range list.Placings {
		w.placing(p)
	}
	w.stands()
	if list.All {
		w.printf("\n# Every point that can be found\n\nHook the tape on the two hardpoints and swing both lengths. Crossing: good from 60 to 120 deg, acceptable from 40 to 140, else poor. Error: one standard deviation of the distance from the point meant, then the half axes of the ellipse that holds 95 points of 100.\n")
		for _, id := range w.markings() {
			w.marking(id)
		}
		w.checks()
		w.attitude()
	}
	w.printf("\n## Cautions\n\n")
	for _, c := range sheet.Cautions {
		w.printf("- %s\n", c)
	}
	return []byte(w.b.String())
}

// tapeWriter writes a tape list part by part.
type tapeWriter struct {
	b    strings.Builder
	l    *layouts.Layout
	list taping.TapeList
}

func (w *tapeWriter) printf(format string, args ...any) { fmt.Fprintf(&w.b, format, args...) }

func (w *tapeWriter) head() {
	t := w.list.Tape
	w.printf("# Tape list: %s\n\n%s\n\n", sheet.Markdown(w.l.Spec.Name), sheet.Markdown(w.l.Airframe.Spec.Name))
	w.printf("Frame: %s\n\n", sheet.Markdown(w.l.Airframe.Spec.Datum))
	w.printf("Tape: class %s, read to %s; lengths and places in %s. Use one tape for the whole job.\n\n", t.Class, readTo(t), unitName(t))
	if t.Burn {
		start := "1 in"
		if t.Units.Metric() {
			start = "100 mm"
		}
		w.printf("**START AT THE %s MARK**: hold the %s mark, not the hook, at the hardpoint. Readings in bold include it; figures in brackets are true lengths.\n\n", strings.ToUpper(start), start)
	}
	for _, text := range howToRead(w.list) {
		w.printf("- %s\n", text)
	}
	for _, text := range rowTexts(w.list) {
		w.printf("- %s\n", sheet.Markdown(text))
	}
	w.printf("\nLimits of tape, reading, holding and marking count as uniform (one standard deviation is the limit over root 3), the error of hardpoints, frames, lines and edges as normal.\n")
}

// placing writes how the first film of a marking is laid.
func (w *tapeWriter) placing(p taping.Placing) {
	t := w.list.Tape
	w.printf("\n## %s\n\n%s\n\n", sheet.Markdown(p.Marking), sheet.Markdown(expectedText(t, p, len(p.Tiles))))
	w.printf("| mark | | where it is on the aircraft | FS / BL / WL | first reading | second reading | check tape | likely error | done |\n|---|---|---|---|---|---|---|---|---|\n")
	for _, q := range p.Points {
		at := placeCell(t, q.Point.Mark.Skin)
		rows := RowsOf(t, q)
		if len(rows) == 0 {
			w.printf("| %s | %s | no way finds it | %s | | | | | [ ] |\n", q.Name, q.Use, at)
			continue
		}
		check := ""
		if c := q.Point.Closure; c != nil && rows[0].Method == taping.ByTapes {
			check = w.tape(*c)
		}
		w.printf("| %s | %s | %s | %s | %s | %s | %s | %s | [ ] |\n", q.Name, q.Use, sheet.Markdown(rows[0].Words), at, partText(rows[0].Parts[0]), partText(rows[0].Parts[1]), check, rows[0].Error)
	}
	other := false
	for _, q := range p.Points {
		for k, row := range RowsOf(t, q) {
			if k == 0 {
				continue
			}
			if !other {
				w.printf("\nOther ways:\n\n| mark | by | where it is on the aircraft | likely error |\n|---|---|---|---|\n")
				other = true
			}
			w.printf("| %s | %s | %s | %s |\n", q.Name, row.Method, sheet.Markdown(row.Words), row.Error)
		}
	}
}

// partText writes one reading: as the tape shows it, and exactly.
func partText(p Part) string {
	text := fmt.Sprintf("**%s** (%s) %s", p.Reading, p.Decimals, sheet.Markdown(p.Head))
	if p.Taut != "" {
		text += ", taut " + p.Taut
	}
	if p.Straight != "" {
		text += ", straight " + p.Straight
	}
	return text
}

func readTo(t layouts.TapeSpec) string {
	if t.Units.Metric() {
		return g.FormatNumber(t.Reading.Millimetres(), 1) + " mm"
	}
	return t.Reading.Fraction(64) + " in"
}

// unitName is the unit of a list, in full.
func unitName(t layouts.TapeSpec) string { return t.Units.Name() }

// placeCell writes a place in a cell of a table.
func placeCell(t layouts.TapeSpec, p g.Position) string {
	n := func(v float64) string { return t.Units.FixedNumber(g.Length(v), 2) }
	return n(float64(p.FS)) + " / " + n(float64(p.BL)) + " / " + n(float64(p.WL))
}

// limitText writes a limit as one sees it on the tape, nothing added.
func limitText(t layouts.TapeSpec, l g.Length) string {
	if t.Units.Metric() {
		return g.FormatNumber(l.Millimetres(), 0) + " mm"
	}
	return l.Fraction(tapeStep) + " in"
}

func (w *tapeWriter) hardpoints() {
	t := w.list.Tape
	w.printf("\n## Hardpoints\n\n| point | side | FS | BL | WL | | likely error |\n|---|---|---|---|---|---|---|\n")
	n := func(v float64) string { return placeNumber(t, v) }
	for _, h := range w.l.Airframe.Spec.Hardpoints {
		for _, side := range h.Side.List() {
			for _, k := range w.l.Airframe.Hardpoints(side) {
				if k.ID != h.ID {
					continue
				}
				how := drawnOrMeasured(k)
				if k.Measured {
					d := k.At.Vec().Sub(k.Drawn.Vec())
					how += fmt.Sprintf(": %s aft, %s right, %s up of the drawing", signed(t, d.X), signed(t, d.Y), signed(t, d.Z))
				}
				w.printf("| %s: %s | %s | %s | %s | %s | %s | %s |\n", sheet.Markdown(k.ID), sheet.Markdown(k.Name), side, n(float64(k.At.FS)), n(float64(k.At.BL)), n(float64(k.At.WL)), how, decimals(t, k.Sigma))
			}
		}
	}
}

func (w *tapeWriter) structure() {
	t := w.list.Tape
	if taped := w.l.Airframe.Taped; len(taped) > 0 {
		w.printf("\nThe places above are fitted to these distances, measured straight between hardpoints:\n\n| from | to | side | measured | as written | fitted | |\n|---|---|---|---|---|---|---|\n")
		for _, k := range taped {
			suspect := ""
			if k.Suspect() {
				suspect = "**SUSPECT: measure again**"
			}
			w.printf("| %s | %s | %s | %s | %s | %s | %s |\n", sheet.Markdown(k.Spec.From), sheet.Markdown(k.Spec.To), k.Spec.Side, decimals(t, k.Spec.Length), decimals(t, k.Before), decimals(t, k.After), suspect)
		}
	}
	if len(w.list.Structure) == 0 {
		return
	}
	w.printf("\n## Structure against the drawing\n\nThe measured hardpoints, best fitted as one rigid body. What is left over is the building, or a slip; the last column is where a point lies from what all the others say.\n")
	for _, f := range w.list.Structure {
		w.printf("\n%s: moved %s aft, %s right, %s up; turned %s deg (right side up), %s deg (nose up), %s deg (nose left); %s rms left over.\n\n",
			f.Which, signed(t, f.Moved.X), signed(t, f.Moved.Y), signed(t, f.Moved.Z), degrees(f.Turned.X), degrees(f.Turned.Y), degrees(f.Turned.Z), amount(t, f.RMS))
		w.printf("| point | side | aft | right | up | left over | from the others |\n|---|---|---|---|---|---|---|\n")
		for _, p := range f.Points {
			fromOthers := "too few to say"
			if !math.IsNaN(p.FromOthers.Inches()) {
				fromOthers = decimals(t, p.FromOthers)
			}
			if p.Suspect {
				fromOthers += " **SUSPECT: measure again**"
			}
			w.printf("| %s | %s | %s | %s | %s | %s | %s |\n", sheet.Markdown(p.ID), p.Side, signed(t, p.Left.X), signed(t, p.Left.Y), signed(t, p.Left.Z), decimals(t, g.Length(p.Left.Norm())), fromOthers)
		}
	}
}

// markings returns the ids of the markings, in their order.
func (w *tapeWriter) markings() []string {
	var out []string
	for _, p := range w.list.Points {
		if len(out) == 0 || out[len(out)-1] != p.Marking {
			out = append(out, p.Marking)
		}
	}
	return out
}

func (w *tapeWriter) marking(id string) {
	w.printf("\n## %s\n\n", id)
	for _, m := range w.list.Budgets {
		if m.Marking == id {
			w.printf("%s\n\n", wouldCatch(w.list.Tape, m))
		}
	}
	w.printf("| step | point | FS / BL / WL | first tape | second tape | crossing | likely error, 95 of 100 | check | done |\n|---|---|---|---|---|---|---|---|---|\n")
	other := false
	for _, p := range w.list.Points {
		if p.Marking != id {
			continue
		}
		other = other || len(p.Tapes) < 2 || p.Grade == taping.Poor || p.Closure == nil
		row := []string{"none", "none", "", "place it by string or girth"}
		if len(p.Tapes) == 2 {
			major, minor := p.Error.Ellipse.Within95()
			row = []string{
				w.tape(p.Tapes[0]), w.tape(p.Tapes[1]), fmt.Sprintf("%.1f deg %s", p.Crossing, p.Grade),
				fmt.Sprintf("%s, %s x %s", decimals(w.list.Tape, p.Error.Ellipse.RMS()), decimals(w.list.Tape, major), decimals(w.list.Tape, minor)),
			}
		}
		check := "no check tape"
		if p.Closure != nil {
			check = w.tape(*p.Closure)
		}
		w.printf("| %d | %s: %s | %s | %s | %s | [ ] |\n", p.Step, p.Mark.ID, p.Label, placeCell(w.list.Tape, p.Mark.Skin), strings.Join(row, " | "), check)
	}
	if other {
		w.otherWays(id)
	}
}

// tape writes one tape.
func (w *tapeWriter) tape(t taping.Taping) string {
	p := Part{Reading: Reading(w.list.Tape, t.Length), Decimals: decimals(w.list.Tape, t.Length), Head: headOf(taping.Offset{Kind: t.Kind, From: t.From.ID})}
	p.Taut, p.Straight = otherLengths(w.list.Tape, t)
	return partText(p)
}

// wouldCatch says which mistake the readings of a film as laid would show.
func wouldCatch(t layouts.TapeSpec, m taping.MaskBudget) string {
	const how = "With all these tapes read once more on the film as laid (`maskloft tape --measured`), "
	switch {
	case math.IsInf(m.Seen.Inches(), 1):
		return how + "a mistake in some of them would not be seen: no other reading checks them."
	case math.IsInf(m.Named.Inches(), 1):
		return how + fmt.Sprintf("a reading wrong by %s is seen (80 of 100), but not which it is.", amount(t, m.Seen))
	}
	return how + fmt.Sprintf("a reading wrong by %s is seen (80 of 100), and by %s or more named (99 of 100).", amount(t, m.Seen), amount(t, m.Named))
}

// otherWays lists points that tapes place badly, or that have no check.
func (w *tapeWriter) otherWays(id string) {
	t := w.list.Tape
	w.printf("\nOther ways, for points whose tapes cross badly or have no check. By string: stretch it between the two hardpoints, measure along it and then square from it, as seen square to the side (on wings from above). By girth: along the skin in the plane of that FS, from the line named; from a fore edge as seen square to the side, on wings from above.\n\n")
	w.printf("| point | string | along | square from it | through the air | girth |\n|---|---|---|---|---|---|\n")
	for _, p := range w.list.Points {
		if p.Marking != id || len(p.Tapes) == 2 && p.Grade != taping.Poor && p.Closure != nil {
			continue
		}
		row := "none runs clear | | | "
		if s := p.Baseline; s != nil {
			row = fmt.Sprintf("%s to %s | %s | %s %s | %s", sheet.Markdown(s.From.ID), sheet.Markdown(s.To.ID), amount(t, s.Along), amount(t, s.Offset), s.Towards, amount(t, s.Square))
		}
		girth := "none"
		if r := p.Girth; r != nil {
			girth = fmt.Sprintf("%s %s, %s %s from %s", r.Plane, t.Units.At(r.At), amount(t, r.Length), r.Towards, sheet.Markdown(LineName(r.Line)))
		}
		w.printf("| %s | %s | %s |\n", p.Mark.ID, row, girth)
	}
}

// LineName writes a line to measure from.
func LineName(line string) string {
	switch line {
	case layouts.CrownLine, layouts.KeelLine, layouts.ForeEdge:
		return "the " + line
	}
	return "line " + line
}

func (w *tapeWriter) checks() {
	if len(w.list.Checks) == 0 {
		return
	}
	t := w.list.Tape
	w.printf("\n## Lengths to check on the film as laid\n\nTick to tick, along the film. Film that reads longer was stretched: lift it and lay it again (limits: common practice, no source).\n\n")
	w.printf("| marking | tile | from | to | length | limit |\n|---|---|---|---|---|---|\n")
	for _, c := range w.list.Checks {
		plain := t
		plain.Burn = false
		tile := c.Tile
		if tile == "" {
			tile = "whole"
		}
		w.printf("| %s | %s | %s | %s | %s (%s) | %s |\n", c.Marking, tile, c.From, c.To, Reading(plain, c.Length), decimals(t, c.Length), limitText(t, c.Limit))
	}
}

// stands says how the aircraft stands.
func (w *tapeWriter) stands() {
	a, t := w.list.Attitude, w.list.Tape
	if a == nil {
		return
	}
	w.printf("\n## By level and floor\n\nOn its wheels the aircraft stands %.3f deg nose up. To level it, raise the tail wheel %s. An inclinometer along a waterline shows %.2f deg parked, 0 levelled; an error of 0.1 deg is %s over %s. Angles are positive where a line rises towards the tail.\n",
		a.Ground, t.Units.Length(a.TailStand, 2), a.Waterline, amount(t, g.Length(lever(t).Inches()*same.Sin(0.1*math.Pi/180))), t.Units.Length(lever(t), 0))
}

// lever is the length over which a slope is told.
func lever(t layouts.TapeSpec) g.Length {
	if t.Units.Metric() {
		return 3000 * g.Millimetre
	}
	return 126
}

// attitude writes slopes, blocks under a level and the height of every point.
func (w *tapeWriter) attitude() {
	a, t := w.list.Attitude, w.list.Tape
	if a == nil {
		return
	}
	w.printf("\n## Slopes and heights\n")
	if len(a.Lines) > 0 {
		w.printf("\n| line | from FS | to FS | side view | shown levelled | shown parked |\n|---|---|---|---|---|---|\n")
		for _, k := range a.Lines {
			w.printf("| %s %s | %s | %s | %.2f | %.2f | %.2f |\n", sheet.Markdown(k.Surface), sheet.Markdown(k.Line), t.Units.Number(g.Length(k.From), 2), t.Units.Number(g.Length(k.To), 2), zeroed(k.Side, 0.005), zeroed(k.Level, 0.005), zeroed(k.Parked, 0.005))
		}
	}
	if len(a.Pegs) > 0 {
		w.printf("\n| pegs | apart | slope levelled | block | slope parked | block |\n|---|---|---|---|---|---|\n")
		for _, p := range a.Pegs {
			w.printf("| %s, %s | %s | %.2f | %s | %.2f | %s |\n", sheet.Markdown(p.From), sheet.Markdown(p.To), amount(t, p.Length), zeroed(p.Slope, 0.005), block(t, p.Block, p.Under), zeroed(p.Parked, 0.005), block(t, p.ParkedBlock, p.ParkedUnder))
		}
	}
	w.printf("\n| point | above the floor, parked | levelled |\n|---|---|---|\n")
	for _, h := range a.Heights {
		w.printf("| %s | %s | %s |\n", sheet.Markdown(h.ID), amount(t, h.Parked), amount(t, h.Level))
	}
}

func block(t layouts.TapeSpec, l g.Length, under string) string {
	if under == "" {
		return "none: level"
	}
	return amount(t, l) + " under " + under
}
