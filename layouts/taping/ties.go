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
// by the length which way was meant.
func TapeTie(marking string, m masks.RegistrationMark, tape Taping) (layouts.Finding, bool) {
	length, around := tape.Length.Inches(), tape.Around.Inches()
	if math.IsInf(around, 1) || !(length > 0) || around > length*(1+warnTie) {
		return layouts.Finding{}, false
	}
	return layouts.Finding{
		Level: layouts.Warn, Rule: "tape-tie", Marking: marking, Where: m.Skin,
		Message: fmt.Sprintf("%s: the tape from %s to mark %s at %v is %.3f in one way round the body and %.3f in the other: the two are easily mistaken",
			marking, tape.From.ID, m.ID, m.Skin, length, around),
		Hint:     "add a hardpoint on the same side under hardpoints:, or move the marking away from crown and keel",
		Measured: fmt.Sprintf("%.3f in", around-length),
		Expected: fmt.Sprintf("more than %.3f in", warnTie*length), Tolerance: g.FormatNumber(warnTie*100, 1) + " %",
		Source: "practice, not a standard",
	}, true
}
