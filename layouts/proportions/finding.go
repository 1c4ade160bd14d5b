package proportions

import (
	"fmt"
	"slices"
	"strings"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// Rules of the findings.
const (
	ProportionRule = "proportion"
	SizeRule       = "size"
)

// Findings reports the checks that do not plainly conform, one finding for each
// dimension and verdict: the places where the same number fails are told
// together. A deviation stops where a document or a copy of it was read and no
// evidence explains it; one from a secondary work, or one that follows a misprint or a
// superseded text, warns; one from a tertiary page or memory is noted, and so is
// evidence on file, or another reading of the rule.
func Findings(u geometry.Units, checks []Check) []layouts.Finding {
	var out []layouts.Finding
	type key struct {
		marking, dimension string
		verdict            Verdict
	}
	var seen []key
	for i, c := range checks {
		k := key{c.Marking, c.Dimension(), c.Verdict}
		if c.Verdict == Following || c.Verdict == Conforms && c.Other == "" || slices.Contains(seen, k) {
			continue
		}
		seen = append(seen, k)
		var also []string
		all := 0
		for _, d := range checks[i+1:] {
			if d.Marking == c.Marking && d.Dimension() == k.dimension {
				all++
			}
			if (key{d.Marking, d.Dimension(), d.Verdict}) == k && d.Other == c.Other && d.What != c.What {
				also = append(also, u.Sprintf("%s (%s)", d.What, d.Measured))
			}
		}
		if len(also) > 1 && len(also) == all {
			also = []string{"every place of it"}
		}
		out = append(out, c.finding(u, also))
	}
	return out
}

func (c Check) finding(u geometry.Units, also []string) layouts.Finding {
	f := layouts.Finding{
		Level: c.level(), Rule: ProportionRule, Marking: c.Marking, Hint: c.Hint,
		Measured: c.in(u, c.Measured, c.Ratio), Expected: c.in(u, c.Expected, c.ExpectedRatio), Tolerance: c.tolerance(u), Source: c.Text,
	}
	if c.Part == "" && c.Said == "" {
		f.Rule = SizeRule
	}
	place := c.Dimension()
	if c.Marking != "" {
		place = c.Marking + ": " + place
	}
	switch {
	case c.Said != "":
		f.Message = fmt.Sprintf("%s: %s", place, c.Said)
	case c.absent():
		f.Message = fmt.Sprintf("%s: %s", place, c.What)
	case c.Measured == 0 && c.Part != "" && c.Expected > 0:
		f.Message = fmt.Sprintf("%s: %s; its width must be %s", place, c.What, f.Expected)
	case c.Formula != "" && string(c.Formula) != geometry.FormatNumber(c.ExpectedRatio, 4):
		f.Message = fmt.Sprintf("%s: %s is %s, must be %s = %s within %s", place, c.What, f.Measured, c.Formula, f.Expected, f.Tolerance)
	default:
		f.Message = fmt.Sprintf("%s: %s is %s, must be %s within %s", place, c.What, f.Measured, f.Expected, f.Tolerance)
	}
	f.Message += ": " + string(c.Verdict)
	if c.Other != "" {
		f.Message += ": " + c.Other
	}
	if len(c.Evidence) > 0 {
		f.Message += ": " + strings.Join(c.Evidence, ", ")
	}
	if len(also) > 0 {
		f.Message += "; so too " + strings.Join(also, ", ")
	}
	if f.Hint == "" && f.Level == layouts.Stop {
		f.Hint = fmt.Sprintf("draw it %s, or say what it rests on: explains: {%s: [an evidence]}", f.Expected, c.Dimension())
	}
	return f
}

// tolerance writes the tolerance in the unit of what was measured.
func (c Check) tolerance(u geometry.Units) string {
	if c.Unit == Degrees && c.Expected != 0 && c.ExpectedRatio != 0 {
		return geometry.FormatNumber(float64(c.Tolerance/c.Expected)*c.ExpectedRatio, 2) + " deg"
	}
	return u.Length(c.Tolerance, 4)
}

// absent tells whether the check is that of a part that is not in the drawing.
func (c Check) absent() bool {
	return c.Formula == "" && c.Measured == 0 && c.Part != "" && c.Name == ""
}

// in writes a length with its ratio.
func (c Check) in(u geometry.Units, l geometry.Length, ratio float64) string {
	number := geometry.FormatNumber(ratio, 4)
	switch {
	case c.absent():
		return "absent"
	case c.Unit == Degrees:
		return number + " deg"
	case c.Unit == "" || c.Unit == standards.Inches:
		return u.Length(l, 4)
	}
	return u.Sprintf("%s %s (%s)", number, c.Unit, l)
}

func (c Check) level() layouts.Level {
	switch {
	case len(c.Evidence) > 0, c.Verdict == Conforms, c.Verdict == OnFile:
		return layouts.Note
	case c.Verdict == Unexplained && c.CanStop:
		return layouts.Stop
	case c.CanStop || c.CanWarn:
		return layouts.Warn
	}
	return layouts.Note
}
