package masks

import (
	g "maskloft/geometry"
)

// AxisTick is an end of the level or upright line through the held point of a
// drawing, as it is printed on film: where the tape list has a point of the role.
type AxisTick struct {
	Role   Role
	ID     string  // of its checkpoint, without the marking's
	At     g.Point // at the edge of the film, or of the skin
	Inward g.Vec   // of length one, along the line towards the paint
}

// AxisTicks returns the level and upright ticks of a marking, in working order; the
// same for every pass.
func (t *Tiling) AxisTicks() []AxisTick {
	var out []AxisTick
	for _, s := range t.Spots() {
		var inward g.Vec
		switch s.Role {
		case LevelTick:
			inward.X = 1
		case UprightTick:
			inward.Y = 1
		default:
			continue
		}
		if g.Vec(s.Mark.Film).Dot(inward) > 0 {
			inward = inward.Scale(-1)
		}
		out = append(out, AxisTick{Role: s.Role, ID: s.Mark.ID, At: s.Mark.Film, Inward: inward})
	}
	return out
}
