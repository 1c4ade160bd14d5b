package tapelist

import (
	"fmt"
	"math"
	"strings"

	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// BuiltText returns markings as measured, to print: the offset and turn of each,
// and every point.
func BuiltText(l *layouts.Layout, built []taping.BuiltMask) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# As measured: %s\n\n%s\n\n", l.Spec.Name, l.Airframe.Spec.Name)
	b.WriteString("Right and up are those of the drawing, as one reads it from outside; a turn to the left raises its right end. Inches.\n")
	for _, m := range built {
		fmt.Fprintf(&b, "\n## %s\n\n", m.Marking)
		fmt.Fprintf(&b, "%s measured. Its centre lies %s and %s of where it was meant to be", g.Counted(len(m.Points), "point"), way(m.Offset.X, "right", "left"), way(m.Offset.Y, "up", "down"))
		if len(m.Points) > 1 {
			fmt.Fprintf(&b, "; it is turned %.2f deg to the %s. What that leaves of the points: %.3f rms", math.Abs(m.Turn), signWord(m.Turn, "left", "right"), m.RMS.Inches())
		}
		b.WriteString(".\n\n| point | right | up | out by | left over | third tape | really at |\n|---|---|---|---|---|---|---|\n")
		for _, p := range m.Points {
			closure := "not measured"
			if c := p.Closure.Inches(); !math.IsNaN(c) {
				closure = signed(c)
			}
			real := "beyond the film"
			if p.Real != (g.Position{}) {
				real = p.Real.String()
			}
			fmt.Fprintf(&b, "| %s | %s | %s | %.3f | %.3f | %s | %s |\n", p.ID, signed(p.Off.X), signed(p.Off.Y), p.Off.Norm(), p.Residual.Norm(), closure, real)
		}
	}
	return []byte(b.String())
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
