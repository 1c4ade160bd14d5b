package layouts

import g "maskloft/geometry"

// Hardpoints returns the hardpoints of one side, in the order of the file: where
// they were measured, else where the drawing has them.
func (a *Airframe) Hardpoints(side g.Side) []Hardpoint {
	var out []Hardpoint
	for _, h := range a.Spec.Hardpoints {
		for _, on := range h.Side.List() {
			if on != side {
				continue
			}
			one := Hardpoint{ID: h.ID, Name: h.Name, Sigma: h.Sigma, Drawn: onSide(side, h.FS, h.At)}
			usual := DrawnSigma
			one.At = one.Drawn
			if m := h.Measured[side]; m != nil {
				one.At, one.Measured, usual = onSide(side, m.FS, m.At), true, MeasuredSigma
			}
			if one.Sigma == 0 {
				one.Sigma = usual
			}
			out = append(out, one)
		}
	}
	return out
}

func onSide(side g.Side, fs g.Station, at SectionPoint) g.Position {
	return g.Position{FS: fs, BL: at.BL * g.ButtLine(side.Sign()), WL: at.WL}
}
