package layouts

import (
	"fmt"
	"slices"
	"strings"

	g "maskloft/geometry"
)

// hookApart is how far apart two hardpoints stand for a tape to tell them apart, in
// inches: the width of a hook and of a bolt's head (common practice, no source).
const hookApart = 1.0 / 8

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

// onePoint says, once for each point, which hardpoints of a side are one and the same.
func (a *Airframe) onePoint() []Finding {
	var out []Finding
	u := a.Spec.Read
	var said []string // ids joined
	for _, side := range []g.Side{g.Left, g.Right} {
		all := a.Hardpoints(side)
		taken := make([]bool, len(all))
		for i, h := range all {
			ids := []string{h.ID}
			for k := i + 1; k < len(all); k++ {
				if !taken[k] && h.At.To(all[k].At) < hookApart {
					ids, taken[k] = append(ids, all[k].ID), true
				}
			}
			key := strings.Join(ids, ", ")
			if taken[i] || len(ids) == 1 || slices.Contains(said, key) {
				continue
			}
			said = append(said, key)
			out = append(out, Finding{
				Level: Warn, Rule: "one-hardpoint", Where: h.At,
				Message:  fmt.Sprintf("the hardpoints %s are one point, at FS %s WL %s: tapes from them count as one", key, u.At(h.At.FS.Inches()), u.At(h.At.WL.Inches())),
				Hint:     "correct the place of one of them, or take it out of hardpoints:",
				Measured: "less than " + u.Length(hookApart, 4) + " apart", Expected: "places that a hook tells apart", Tolerance: "none", Source: "common practice, no source",
			})
		}
	}
	return out
}

// withinSolid tells hardpoints that stand within what stands off the skin: no tape is
// hooked there.
func (a *Airframe) withinSolid() []Finding {
	const depth = 1.0 / 16 // inches: places are drawn to a sixteenth (common practice, no source)
	var out []Finding
	for _, o := range a.Spec.Obstacles {
		bodies := a.standingOff(o)
		said := map[string]bool{}
		for _, side := range []g.Side{g.Left, g.Right} {
			for _, h := range a.Hardpoints(side) {
				in := slices.ContainsFunc(bodies, func(inside func(g.Vec3, float64) bool) bool { return inside(h.At.Vec(), depth) })
				if !in || said[h.ID] {
					continue
				}
				said[h.ID] = true
				out = append(out, Finding{
					Level: Warn, Rule: "hardpoint-within", Where: h.At,
					Message:  fmt.Sprintf("the hardpoint %s stands within the %s: no tape is hooked there", h.ID, o.ID),
					Hint:     "correct its place, or that of the obstacle and its solid:",
					Measured: "within", Expected: "beside it", Tolerance: a.Spec.Read.Fraction(depth, 16), Source: "derived",
				})
			}
		}
	}
	return out
}

func onSide(side g.Side, fs g.Station, at SectionPoint) g.Position {
	return g.Position{FS: fs, BL: at.BL * g.ButtLine(side.Sign()), WL: at.WL}
}
