package taping

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// SectionDoubt is what a faired skin, known at its sections only, makes the tapes to the
// centre of a marking err by.
type SectionDoubt struct {
	Limit  g.Length // what the worse of its tapes is out by at most, in 95 of 100; NaN where nothing is known
	Second g.Length // by how much it differs under the other laws of fairing
	// At is where one more frame would help most, and After the limit to expect then;
	// After is NaN where nothing is known to help.
	At    g.Station
	After g.Length
	// Straight: the layout has the skin straight between its frames. Then it is so, or the
	// layout is wrong: it counts for nothing in the budget.
	Straight bool
	cov      covariance // of the point
}

// sectionDoubt returns that of the centre of a marking; nil where its skin is not faired
// or a tape to it does not run on it.
func sectionDoubt(l *layouts.Layout, laid *masks.Laid, c Checkpoint, tolerance float64) *SectionDoubt {
	p := laid.Placement
	s, ok := p.Surface.(*skin.FairedSkin)
	if !ok || len(c.Tapes) != 2 {
		return nil
	}
	pa, pb, ok := shares(c.Tapes[0], c.Tapes[1])
	if !ok {
		return nil
	}
	out := &SectionDoubt{Limit: g.Length(math.NaN()), After: g.Length(math.NaN()), Straight: s.Law() == skin.Ruled}
	hooks := hooksOn(l.Airframe, p)
	for i, tape := range c.Tapes {
		var hook skin.UV
		on := false
		for _, h := range hooks {
			if h.ID == tape.From.ID && h.onSkin {
				hook, on = h.uv, true
			}
		}
		if !on || tape.Kind != OnSkin {
			continue
		}
		d, err := s.TapeDoubt(c.Mark.UV, hook, tolerance)
		if err != nil || math.IsNaN(d.Limit.Inches()) {
			continue
		}
		// a limit that 95 of 100 keep is two standard deviations
		if !out.Straight {
			out.cov = out.cov.plus(outer([2]g.Vec{pa, pb}[i], d.Limit.Inches()*d.Limit.Inches()/4))
		}
		if math.IsNaN(out.Limit.Inches()) || d.Limit > out.Limit {
			out.Limit, out.Second, out.After = d.Limit, d.Second, g.Length(math.NaN())
			if at, after, ok := s.OneMore(d, math.Min(c.Mark.UV.U, hook.U), math.Max(c.Mark.UV.U, hook.U)); ok {
				out.At, out.After = at, after
			}
		}
	}
	return out
}

// advice says where to measure one more frame.
func (d SectionDoubt) advice(u g.Units) string {
	if math.IsNaN(d.After.Inches()) {
		return "measure more frames of the body"
	}
	return fmt.Sprintf("measure one more frame at FS %s: the expected error falls from %s to %s", u.Number(g.Length(d.At), 1), u.FixedNumber(d.Limit, 2), u.Fixed(d.After, 2))
}

// inspectSections reports markings whose tapes hang on a skin that its sections tell too
// little of.
func inspectSections(tilings []masks.Tiling, budgets []MaskBudget) []layouts.Finding {
	var out []layouts.Finding
	for _, b := range budgets {
		d := b.Sections
		if d == nil {
			continue
		}
		var at g.Position
		var u g.Units
		for i := range tilings {
			if tilings[i].Laid.ID() == b.Marking {
				at, u = tilings[i].Laid.Placement.Anchor, tilings[i].Laid.Placement.Read
			}
		}
		f := layouts.Finding{
			Level: layouts.Note, Rule: "few-sections", Marking: b.Marking, Where: at, Hint: d.advice(u),
			Expected: "within " + u.Fraction(g.SayDifference, 32), Tolerance: "95 of 100", Source: "derived: sections left out in turn",
		}
		switch {
		case d.Straight && !(d.Limit > g.SayDifference):
			continue
		case d.Straight:
			f.Measured = u.Fixed(d.Limit, 2)
			f.Message = fmt.Sprintf("%s: tapes to its middle may err by %s if the skin is not straight between its frames, as along: ruled says", b.Marking, u.Fixed(d.Limit, 2))
		case math.IsNaN(d.Limit.Inches()):
			f.Measured = "not known"
			f.Message = b.Marking + ": the layout has too few frames of the body to say how far tapes to it may err"
		case d.Limit > g.SayDifference:
			if d.Limit > ClosureLimit {
				f.Level = layouts.Warn
			}
			f.Measured = u.Fixed(d.Limit, 2)
			f.Message = fmt.Sprintf("%s: the skin between the frames is not known: tapes to its middle may err by %s (faired in another way: %s)", b.Marking, u.Fixed(d.Limit, 2), u.Fixed(d.Second, 2))
		default:
			continue
		}
		out = append(out, f)
	}
	return out
}
