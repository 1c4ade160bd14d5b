package tapelist

import (
	"fmt"
	"math"
	"strings"

	"maskloft/export/sheet"
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
	w.printf("Tape: class %s, read to %s%s. Use one tape for the whole job.\n\n", t.Class, readTo(t), inches(t))
	if t.Burn {
		start := "1 in"
		if t.Units == layouts.TapeMillimetres {
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
	w.printf("| mark | | where it is on the aircraft | FS / BL / WL, in | first reading | second reading | check tape | likely error | done |\n|---|---|---|---|---|---|---|---|---|\n")
	for _, q := range p.Points {
		at := fmt.Sprintf("%.2f / %.2f / %.2f", q.Point.Mark.Skin.FS.Inches(), q.Point.Mark.Skin.BL.Inches(), q.Point.Mark.Skin.WL.Inches())
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
	if t.Units == layouts.TapeMillimetres {
		return g.FormatNumber(t.Reading.Millimetres(), 1) + " mm"
	}
	return t.Reading.Fraction(64) + " in"
}

// lengthsIn says in what the lengths and places of a sheet are.
func lengthsIn(t layouts.TapeSpec) string {
	if t.Units == layouts.TapeMillimetres {
		return "lengths in millimetres, FS BL WL in inches"
	}
	return "all in inches"
}

// unitName is the unit of the lengths of a list, in full.
func unitName(t layouts.TapeSpec) string {
	if t.Units == layouts.TapeMillimetres {
		return "millimetres"
	}
	return "inches"
}

// unitWord is the unit of the lengths of a list.
func unitWord(t layouts.TapeSpec) string {
	if t.Units == layouts.TapeMillimetres {
		return "mm"
	}
	return "in"
}

func inches(t layouts.TapeSpec) string {
	if t.Units == layouts.TapeMillimetres {
		return "; lengths in millimetres, places in inches"
	}
	return ""
}

// limitText writes a limit as one sees it on the tape, nothing added.
func limitText(t layouts.TapeSpec, l g.Length) string {
	if t.Units == layouts.TapeMillimetres {
		return g.FormatNumber(l.Millimetres(), 0) + " mm"
	}
	return l.Fraction(tapeStep) + " in"
}

func (w *tapeWriter) hardpoints() {
	w.printf("\n## Hardpoints, in inches\n\n| point | side | FS | BL | WL | | sigma |\n|---|---|---|---|---|---|---|\n")
	n := func(v float64) string { return g.FormatNumber(v, 3) }
	for _, h := range w.l.Airframe.Spec.Hardpoints {
		for _, side := range h.Side.List() {
			for _, k := range w.l.Airframe.Hardpoints(side) {
				if k.ID != h.ID {
					continue
				}
				how := drawnOrMeasured(k)
				if k.Measured {
					d := k.At.Vec().Sub(k.Drawn.Vec())
					how += fmt.Sprintf(": %s aft, %s right, %s up of the drawing", signed(d.X), signed(d.Y), signed(d.Z))
				}
				w.printf("| %s: %s | %s | %s | %s | %s | %s | %s |\n", sheet.Markdown(k.ID), sheet.Markdown(k.Name), side, n(k.At.FS.Inches()), n(k.At.BL.Inches()), n(k.At.WL.Inches()), how, n(k.Sigma.Inches()))
			}
		}
	}
}

func (w *tapeWriter) structure() {
	if taped := w.l.Airframe.Taped; len(taped) > 0 {
		w.printf("\nThe places above are fitted to these distances, measured straight between hardpoints:\n\n| from | to | side | measured, in | as written, in | fitted, in | |\n|---|---|---|---|---|---|---|\n")
		for _, t := range taped {
			suspect := ""
			if t.Suspect() {
				suspect = "**SUSPECT: measure again**"
			}
			w.printf("| %s | %s | %s | %.3f | %.3f | %.3f | %s |\n", sheet.Markdown(t.Spec.From), sheet.Markdown(t.Spec.To), t.Spec.Side, t.Spec.Length.Inches(), t.Before.Inches(), t.After.Inches(), suspect)
		}
	}
	if len(w.list.Structure) == 0 {
		return
	}
	w.printf("\n## Structure against the drawing\n\nThe measured hardpoints, best fitted as one rigid body. What is left over is the building, or a slip; the last column is where a point lies from what all the others say.\n")
	for _, f := range w.list.Structure {
		w.printf("\n%s: moved %s aft, %s right, %s up; turned %s deg (right side up), %s deg (nose up), %s deg (nose left); %.3f in rms left over.\n\n",
			f.Which, signed(f.Moved.X), signed(f.Moved.Y), signed(f.Moved.Z), signed(f.Turned.X), signed(f.Turned.Y), signed(f.Turned.Z), f.RMS.Inches())
		w.printf("| point | side | aft, in | right, in | up, in | left over, in | from the others, in |\n|---|---|---|---|---|---|---|\n")
		for _, p := range f.Points {
			fromOthers := "too few to say"
			if !math.IsNaN(p.FromOthers.Inches()) {
				fromOthers = fmt.Sprintf("%.3f", p.FromOthers.Inches())
			}
			if p.Suspect {
				fromOthers += " **SUSPECT: measure again**"
			}
			w.printf("| %s | %s | %s | %s | %s | %.3f | %s |\n", sheet.Markdown(p.ID), p.Side, signed(p.Left.X), signed(p.Left.Y), signed(p.Left.Z), p.Left.Norm(), fromOthers)
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
	w.printf("| step | point | FS / BL / WL, in | first tape | second tape | crossing | error: sigma, 95 %%, %s | check | done |\n|---|---|---|---|---|---|---|---|---|\n", unitWord(w.list.Tape))
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
		w.printf("| %d | %s: %s | %.2f / %.2f / %.2f | %s | %s | [ ] |\n", p.Step, p.Mark.ID, p.Label, p.Mark.Skin.FS.Inches(), p.Mark.Skin.BL.Inches(), p.Mark.Skin.WL.Inches(), strings.Join(row, " | "), check)
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
			girth = fmt.Sprintf("%s %s, %s %s from %s", r.Plane, g.FormatNumber(r.At, 3), amount(t, r.Length), r.Towards, sheet.Markdown(LineName(r.Line)))
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
	w.printf("\n## By level and floor\n\nOn its wheels the aircraft stands %.3f deg nose up. To level it, raise the tail wheel %s. An inclinometer along a waterline shows %.2f deg parked, 0 levelled; an error of 0.1 deg is %s over 126 in. Angles are positive where a line rises towards the tail.\n",
		a.Ground, amount(t, a.TailStand), a.Waterline, amount(t, g.Length(126*math.Sin(0.1*math.Pi/180))))
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
			w.printf("| %s %s | %s | %s | %.2f | %.2f | %.2f |\n", sheet.Markdown(k.Surface), sheet.Markdown(k.Line), g.FormatNumber(k.From.Inches(), 2), g.FormatNumber(k.To.Inches(), 2), zeroed(k.Side, 0.005), zeroed(k.Level, 0.005), zeroed(k.Parked, 0.005))
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
