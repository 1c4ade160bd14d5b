package taping

import (
	"fmt"
	"math"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// warnTie is how much longer, of itself, the way over the other side of the body
// must be for a tape not to be laid the wrong way round by mistake. Practice, not
// a standard.
const warnTie = 0.02

// TapeTie reports a tape from a hardpoint to the registration mark of a marking
// that is nearly as long the other way round the body: whoever lays it cannot tell
// by the length which way was meant. u is what the finding is written in.
func TapeTie(u g.Units, marking string, m masks.RegistrationMark, tape Taping) (layouts.Finding, bool) {
	length, around := tape.Length.Inches(), tape.Around.Inches()
	if math.IsInf(around, 1) || !(length > 0) || around > length*(1+warnTie) {
		return layouts.Finding{}, false
	}
	return layouts.Finding{
		Level: layouts.Warn, Rule: "tape-tie", Marking: marking, Where: m.Skin,
		Message: fmt.Sprintf("%s: the tape from %s to mark %s at %s is %s one way round the body and %s the other: the two are easily mistaken",
			marking, tape.From.ID, m.ID, u.Position(m.Skin), u.Fixed(tape.Length, 2), u.Fixed(tape.Around, 2)),
		Hint:     "add a hardpoint on the same side under hardpoints:, or move the marking away from crown and keel",
		Measured: u.Fixed(g.Length(around-length), 3),
		Expected: "more than " + u.Fixed(g.Length(warnTie*length), 3), Tolerance: g.FormatNumber(warnTie*100, 1) + " %",
		Source: "practice, not a standard",
	}, true
}
