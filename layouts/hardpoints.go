package layouts

import g "maskloft/geometry"

// hardpointKey names a hardpoint on one side.
type hardpointKey struct {
	id   string
	side g.Side
}

// Hardpoints returns the hardpoints of one side, in the order of the file: where
// they were measured, by their place or by tapes between them, else where the
// drawing has them.
func (a *Airframe) Hardpoints(side g.Side) []Hardpoint {
	out := a.asWritten(side)
	for i, h := range out {
		if f, ok := a.fitted[hardpointKey{h.ID, side}]; ok {
			out[i] = f
		}
	}
	return out
}

// asWritten returns the hardpoints of one side before the fit to tapes.
func (a *Airframe) asWritten(side g.Side) []Hardpoint {
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
