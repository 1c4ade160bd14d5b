package taping

import (
	"context"
	"fmt"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// TapeList is all that is needed at the aircraft to place the film: what the tape
// lists print.
type TapeList struct {
	Tape      layouts.TapeSpec
	Placings  []Placing     // one a marking: the points that its first film is laid by
	Points    []Checkpoint  // every point that can be found, by marking, in working order
	Rows      []TextRow     // texts that share one string line
	All       bool          // print every point, not those of Placings alone
	Budgets   []MaskBudget  // one a marking that can be placed by tapes
	Checks    []CheckLength // to measure on the film once it is laid
	Structure []StructureFit
	Attitude  *Attitude // nil where the layout gives no ground line
}

// Tapes computes the tape list of a job.
//
// Errors: ctx is done.
// Findings: films that nothing places, or only badly; tapes that are nearly as long the
// other way round; what is not known of a skin between its sections; hardpoints whose
// measured place looks wrong.
func Tapes(ctx context.Context, l *layouts.Layout, tilings []masks.Tiling, tolerance float64) (TapeList, []layouts.Finding, error) {
	points, err := Checklist(ctx, l, tilings, tolerance)
	if err != nil {
		return TapeList{}, nil, err
	}
	list := TapeList{
		Tape: l.Spec.Tape, Points: points, Budgets: Budgets(l, tilings, points, tolerance), Checks: CheckLengths(tilings), Structure: StructureFits(l.Airframe),
	}
	if a, ok := AttitudeOf(l, points); ok {
		list.Attitude = &a
	}
	list.Placings, list.Rows = Placings(l, tilings, points), TextRows(tilings)
	findings := inspectPlaces(l, tilings, list.Placings)
	findings = append(findings, inspectSections(tilings, list.Budgets)...)
	return list, append(findings, inspectHardpoints(l.Airframe, list.Structure)...), nil
}

// farHardpoint is how far from the drawing a measured hardpoint may lie before a
// slip of the pen is likelier than the building (practice, not a standard).
const farHardpoint = g.Inch

// inspectHardpoints reports measured hardpoints that look wrong.
func inspectHardpoints(a *layouts.Airframe, fits []StructureFit) []layouts.Finding {
	u := a.Spec.Read
	var out []layouts.Finding
	for _, side := range []g.Side{g.Left, g.Right} {
		for _, h := range a.Hardpoints(side) {
			if d := h.Drawn.To(h.At); d > farHardpoint {
				out = append(out, layouts.Finding{
					Level: layouts.Warn, Rule: "hardpoint-far", Where: h.At,
					Message: fmt.Sprintf("hardpoint %s on the %s side was measured %s from where the drawing has it", h.ID, side, u.Fixed(d, 3)),
					Hint:    "measure it again, or correct measured: under hardpoints:", Measured: u.Fixed(d, 3),
					Expected: "0", Tolerance: u.Fraction(farHardpoint, 2), Source: "practice, not a standard",
				})
			}
		}
	}
	for _, t := range a.Taped {
		if !t.Suspect() {
			continue
		}
		out = append(out, layouts.Finding{
			Level: layouts.Warn, Rule: "hardpoint-tape",
			Message: fmt.Sprintf("%v: the tape from %s to %s (%s) reads %s, the others and the drawing say %s", t.Spec.Place, t.Spec.From, t.Spec.To, t.Spec.Side, u.Fixed(t.Spec.Length, 3), u.Fixed(t.After, 3)),
			Hint:    "measure it again, straight through the air between the points where a tape hooks", Measured: g.FormatNumber(t.Score, 1) + " deviations",
			Expected: "within 3.3", Tolerance: "1 in 1000", Source: "derived",
		})
	}
	told := map[string]bool{}
	for _, f := range fits {
		for _, p := range f.Points {
			name := p.ID + " " + p.Side.String()
			if !p.Suspect || told[name] {
				continue
			}
			told[name] = true
			out = append(out, layouts.Finding{
				Level: layouts.Warn, Rule: "hardpoint-suspect", Where: p.Real,
				Message: fmt.Sprintf("hardpoint %s on the %s side lies %s from where the other measured ones have it (%s)", p.ID, p.Side, u.Fixed(p.FromOthers, 3), f.Which),
				Hint:    "measure it again before you tape from it", Measured: "chi-square " + g.FormatNumber(p.Score, 1),
				Expected: "below " + g.FormatNumber(suspectScore, 1), Tolerance: "1 in 100", Source: "derived",
			})
		}
	}
	return out
}
