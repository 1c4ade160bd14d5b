package export

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// tapeStep is the fraction of an inch that a tape is read to.
const tapeStep = 16

// TapeCSV returns the tape list as comma-separated values, one line a tape,
// lengths in inches to four decimals and to the nearest sixteenth.
func TapeCSV(points []masks.Checkpoint) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.Write([]string{"point", "marking", "mark", "fs_in", "bl_in", "wl_in", "use", "from", "hardpoint", "kind", "length_in", "length_sixteenths", "taut_in", "straight_in", "crossing_deg"}); err != nil {
		return nil, err
	}
	dec := func(v float64) string { return g.FormatNumber(v, 4) }
	for _, p := range points {
		row := func(use string, t masks.Taping) error {
			return w.Write([]string{
				p.ID, p.Marking, p.Mark.ID, dec(float64(p.Mark.Skin.FS)), dec(float64(p.Mark.Skin.BL)), dec(float64(p.Mark.Skin.WL)),
				use, t.From.ID, t.From.Name, string(t.Kind), dec(t.Length.Inches()), t.Length.Fraction(tapeStep), dec(t.Taut.Inches()), dec(t.Straight.Inches()), g.FormatNumber(p.Crossing, 1),
			})
		}
		for _, t := range p.Tapes {
			if err := row("place", t); err != nil {
				return nil, err
			}
		}
		if p.Closure != nil {
			if err := row("check", *p.Closure); err != nil {
				return nil, err
			}
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// TapeText returns the tape list to print and take to the aircraft.
func TapeText(l *layouts.Layout, points []masks.Checkpoint) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# Tape list: %s\n\n%s\n\n", l.Spec.Name, l.Airframe.Spec.Name)
	fmt.Fprintf(&b, "Frame: %s\n\n", strings.TrimSpace(l.Airframe.Spec.Datum))
	b.WriteString("Hook the tape on the two hardpoints and swing both lengths: the mark stands where they meet. " +
		"Then measure from the third: it must read the check length within 1/8 in (common practice, no source), or one hook is on the wrong point. " +
		"ON SKIN: pressed along the skin; where a tape pulled taut would bridge a hollow and read less, that is printed too. STRAIGHT: pulled through the air. The aircraft need not stand level.\n")
	side := ""
	for _, p := range points {
		if p.Marking != side {
			side = p.Marking
			fmt.Fprintf(&b, "\n## %s\n\n| mark | FS / BL / WL | first tape | second tape | crossing | check |\n|---|---|---|---|---|---|\n", side)
		}
		cell := func(t masks.Taping) string {
			s := fmt.Sprintf("%s **%s** (%.3f) %s", t.From.ID, t.Length.Fraction(tapeStep), t.Length.Inches(), strings.ToUpper(string(t.Kind)))
			if t.Kind == masks.OnSkin && t.Length-t.Taut > g.SayDifference {
				s += fmt.Sprintf(", taut %.3f", t.Taut.Inches())
			}
			if d := t.Length - t.Straight; t.Kind == masks.OnSkin && (d > g.SayDifference || d < -g.SayDifference) {
				s += fmt.Sprintf(", straight %.3f", t.Straight.Inches())
			}
			return s
		}
		check := "none: only two hardpoints"
		if p.Closure != nil {
			check = cell(*p.Closure)
		}
		fmt.Fprintf(&b, "| %s | %.2f / %.2f / %.2f | %s | %s | %.0f deg%s | %s |\n", p.Mark.ID, float64(p.Mark.Skin.FS), float64(p.Mark.Skin.BL), float64(p.Mark.Skin.WL),
			cell(p.Tapes[0]), cell(p.Tapes[1]), p.Crossing, poor(p.Crossing), check)
	}
	b.WriteString("\n## Hardpoints\n\n")
	for _, h := range l.Airframe.Spec.Hardpoints {
		fmt.Fprintf(&b, "- %s: %s, FS %s, BL %s, WL %s (%s)\n", h.ID, h.Name, g.FormatNumber(float64(h.FS), 3), g.FormatNumber(float64(h.At.BL), 3), g.FormatNumber(float64(h.At.WL), 3), h.Side)
	}
	b.WriteString("\n## Cautions\n\n")
	for _, c := range Cautions {
		fmt.Fprintf(&b, "- %s\n", c)
	}
	return []byte(b.String())
}

// poor marks a crossing angle at which a point is found badly: two tapes that
// cross at 30 degrees double the error of one (1/sin; derived).
func poor(deg float64) string {
	if deg < 30 || deg > 150 {
		return " (poor)"
	}
	return ""
}
