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
	t := l.Spec.Tape
	fmt.Fprintf(&b, "# As measured: %s\n\n%s\n\n", l.Spec.Name, l.Airframe.Spec.Name)
	fmt.Fprintf(&b, "Right and up are those of the drawing, as one reads it from outside; a turn to the left raises its right end. All in %s. All readings of a film are adjusted together, the film taken as rigid; plus or minus is the likely error, one standard deviation.\n", unitName(t))
	for _, m := range built {
		fmt.Fprintf(&b, "\n## %s\n\n", m.Marking)
		fmt.Fprintf(&b, "%s, %s measured. %s", g.Counted(len(m.Readings), "reading"), g.Counted(len(m.Points), "point"), lies(t, m.Movement))
		fmt.Fprintf(&b, " The corner of its paint that lies farthest off does so by %s +- %s.\n", decimals(t, m.Farthest), amount(t, m.FarSD))
		if m.Spare > 0 {
			fmt.Fprintf(&b, "\nThe readings used fit with chi-square %.1f for %d to spare; by chance it is about %d.\n", m.Chi2, m.Spare, m.Spare)
		}
		for _, w := range m.Wrong {
			fmt.Fprintf(&b, "\n**Wrong: %s.**", w.Text)
		}
		switch {
		case len(m.Wrong) > 0 && m.All != nil:
			fmt.Fprintf(&b, " With all readings as they are: %s\n", lies(t, *m.All))
		case len(m.Wrong) > 0:
			b.WriteString(" With all readings as they are there is no answer.\n")
		}
		fmt.Fprintf(&b, "\n%s\n", catches(t, m.Seen, m.Named))
		b.WriteString("\n| point | right | up | out by | readings | really at |\n|---|---|---|---|---|---|\n")
		for _, p := range m.Points {
			real := "beyond the film"
			if p.Real != (g.Position{}) {
				real = t.Units.Position(p.Real)
			}
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %d | %s |\n", p.ID, signed(t, p.Off.X), signed(t, p.Off.Y), decimals(t, g.Length(p.Off.Norm())), p.Readings, real)
		}
		fmt.Fprintf(&b, "\n| reading | reads | should read | left over | over likely error (limit %.1f) | named as wrong from |\n|---|---|---|---|---|---|\n", m.Limit)
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
				named = t.Units.FixedNumber(r.Named, 2)
			}
			fmt.Fprintf(&b, "| %s from %s | %s | %s | %s | %.1f%s | %s |\n", r.Point, from, decimals(t, r.Measured), decimals(t, r.Fitted), signed(t, r.Left.Inches()), math.Abs(r.W), note, named)
		}
	}
	return []byte(b.String())
}

// lies says how a film lies.
func lies(t layouts.TapeSpec, m taping.Movement) string {
	major, minor := m.Error.Within95()
	text := fmt.Sprintf("Its held point lies %s and %s of where it was meant to be, within %s x %s (95 of 100)", way(t, m.Offset.X, "right", "left"), way(t, m.Offset.Y, "up", "down"), decimals(t, major), amount(t, minor))
	if m.TurnSD > 0 {
		text += fmt.Sprintf("; it is turned %.2f +- %.2f deg to the %s", math.Abs(m.Turn), m.TurnSD, signWord(m.Turn, "left", "right"))
	}
	return text + "."
}

// catches says which mistake in one reading would be found.
func catches(t layouts.TapeSpec, seen, named g.Length) string {
	switch {
	case math.IsInf(seen.Inches(), 1):
		return "There is a reading among these that no other checks: a mistake in it would not be seen. Measure more points."
	case math.IsInf(named.Inches(), 1):
		return fmt.Sprintf("A reading wrong by %s would be seen (80 of 100), but not which it is: measure more points.", t.Units.Fixed(seen, 2))
	}
	return fmt.Sprintf("A reading wrong by %s would be seen (80 of 100), and by %s be named (99 of 100; one false alarm in 1,000 films).", t.Units.Fixed(seen, 2), t.Units.Fixed(named, 2))
}

func way(t layouts.TapeSpec, v float64, positive, negative string) string {
	return fmt.Sprintf("%s %s", decimals(t, g.Length(math.Abs(v))), signWord(v, positive, negative))
}

func signWord(v float64, positive, negative string) string {
	if v < 0 {
		return negative
	}
	return positive
}
