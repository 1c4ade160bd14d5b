package tapelist

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/taping"
)

// BuiltText returns markings as measured, to print: how each film lies and how sure
// that is, what was wrong among its readings, every point and every reading.
func BuiltText(l *layouts.Layout, built []taping.BuiltMask) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# As measured: %s\n\n%s\n\n", l.Spec.Name, l.Airframe.Spec.Name)
	b.WriteString("Right and up are those of the drawing, as one reads it from outside; a turn to the left raises its right end. Inches. All readings of a film are adjusted together, the film taken as rigid; plus or minus is one standard deviation.\n")
	for _, m := range built {
		fmt.Fprintf(&b, "\n## %s\n\n", m.Marking)
		fmt.Fprintf(&b, "%s, %s measured. %s", g.Counted(len(m.Readings), "reading"), g.Counted(len(m.Points), "point"), lies(m.Movement))
		fmt.Fprintf(&b, " The corner of its paint that lies farthest off does so by %.3f +- %.3f.\n", m.Farthest.Inches(), m.FarSD.Inches())
		if m.Spare > 0 {
			fmt.Fprintf(&b, "\nThe readings used fit with chi-square %.1f for %d to spare; by chance it is about %d.\n", m.Chi2, m.Spare, m.Spare)
		}
		for _, w := range m.Wrong {
			fmt.Fprintf(&b, "\n**Wrong: %s.**", w.Text)
		}
		switch {
		case len(m.Wrong) > 0 && m.All != nil:
			fmt.Fprintf(&b, " With all readings as they are: %s\n", lies(*m.All))
		case len(m.Wrong) > 0:
			b.WriteString(" With all readings as they are there is no answer.\n")
		}
		fmt.Fprintf(&b, "\n%s\n", catches(m.Seen, m.Named))
		b.WriteString("\n| point | right | up | out by | readings | really at |\n|---|---|---|---|---|---|\n")
		for _, p := range m.Points {
			real := "beyond the film"
			if p.Real != (g.Position{}) {
				real = p.Real.String()
			}
			fmt.Fprintf(&b, "| %s | %s | %s | %.3f | %d | %s |\n", p.ID, signed(p.Off.X), signed(p.Off.Y), p.Off.Norm(), p.Readings, real)
		}
		fmt.Fprintf(&b, "\n| reading | reads | should read | left over | in deviations (limit %.1f) | would be named from |\n|---|---|---|---|---|---|\n", m.Limit)
		for _, r := range m.Readings {
			from, note := r.From, ""
			if r.Kind != "" && r.Kind != taping.OnSkin && r.Kind != taping.Straight {
				from += ", " + string(r.Kind)
			}
			named := "no size"
			switch {
			case !r.Used:
				note, named = " left out", ""
			case !math.IsInf(r.Named.Inches(), 1):
				named = fmt.Sprintf("%.2f", r.Named.Inches())
			}
			fmt.Fprintf(&b, "| %s from %s | %.3f | %.3f | %s | %.1f%s | %s |\n", r.Point, from, r.Measured.Inches(), r.Fitted.Inches(), signed(r.Left.Inches()), math.Abs(r.W), note, named)
		}
	}
	return []byte(b.String())
}

// lies says how a film lies.
func lies(m taping.Movement) string {
	major, minor := m.Error.Within95()
	text := fmt.Sprintf("Its held point lies %s and %s of where it was meant to be, within %.3f x %.3f (95 of 100)", way(m.Offset.X, "right", "left"), way(m.Offset.Y, "up", "down"), major.Inches(), minor.Inches())
	if m.TurnSD > 0 {
		text += fmt.Sprintf("; it is turned %.2f +- %.2f deg to the %s", math.Abs(m.Turn), m.TurnSD, signWord(m.Turn, "left", "right"))
	}
	return text + "."
}

// catches says which mistake in one reading would be found.
func catches(seen, named g.Length) string {
	switch {
	case math.IsInf(seen.Inches(), 1):
		return "There is a reading among these that no other checks: a mistake in it would not be seen. Measure more points."
	case math.IsInf(named.Inches(), 1):
		return fmt.Sprintf("A reading wrong by %.2f in would be seen (80 of 100), but not which it is: measure more points.", seen.Inches())
	}
	return fmt.Sprintf("A reading wrong by %.2f in would be seen (80 of 100), and by %.2f in be named (99 of 100; one false alarm in 1,000 films).", seen.Inches(), named.Inches())
}

func way(v float64, positive, negative string) string {
	return fmt.Sprintf("%.3f %s", math.Abs(v), signWord(v, positive, negative))
}

func signWord(v float64, positive, negative string) string {
	if v < 0 {
		return negative
	}
	return positive
}
