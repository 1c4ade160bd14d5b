package proportions

import (
	"fmt"
	"math"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// sizeCheck holds the governing radius against the size that was said.
func (m *matched) sizeCheck(o Options) (Check, bool) {
	if o.Size <= 0 {
		return Check{}, false
	}
	size := 2 * geometry.Length(m.scale)
	if m.rule.Unit == standards.Inches {
		size = geometry.Length(m.foundSize())
	}
	c := Check{
		Marking: o.Marking, Name: "size", What: "size: " + m.governing(),
		Measured: size, Expected: o.Size, Difference: size - o.Size,
		Tolerance: geometry.Length(math.Max(o.tolerance(), trusted*m.scaleError())) * o.Size,
		Ratio:     float64(size / o.Size), ExpectedRatio: 1, Text: "the size that was asked for", CanStop: true,
		Line: [2]geometry.Point{m.drawn(at(-1, 0)), m.drawn(at(1, 0))}, Verdict: Conforms, Evidence: evidenceFor(o.Explains, "size"),
	}
	if c.Difference.Inches() > c.Tolerance.Inches() || -c.Difference.Inches() > c.Tolerance.Inches() {
		c.Verdict = Unexplained
		c.Hint = "scale the drawing by " + geometry.FormatNumber(float64(o.Size/size), 6)
		if len(c.Evidence) > 0 {
			c.Verdict = OnFile
		}
	}
	return c, true
}

// governing says what the governing size is, by the first part that tells.
func (m *matched) governing() string {
	if m.rule.Unit == standards.Inches {
		return "height"
	}
	for _, p := range m.rule.Parts {
		switch p.Kind {
		case standards.Disc, standards.Sector:
			return "diameter of the governing disc"
		case standards.Cross:
			return "span of the cross"
		case standards.Box:
			return "side"
		}
	}
	return "diameter of the circle through the points"
}

// missing is the check of a part that is not in the drawing, which is then not that form,
// whatever its numbers rest on.
func (m *matched) missing(p standards.Part, o Options) Check {
	c := Check{
		Marking: o.Marking, Part: p.ID, What: absence(p),
		Unit: m.rule.Unit, Text: citation(m.rule), Verdict: Unexplained, CanStop: true, CanWarn: true,
		Line: [2]geometry.Point{m.centre, m.centre}, Hint: "draw it, or say which rule the drawing follows",
	}
	if note := m.rule.Provenance.Note; note != "" {
		c.Hint += "; of the text: " + note
	}
	for _, n := range p.Numbers { // the first number that is a length gives its size
		if v, ok := m.values[p.ID+"."+n.Name]; ok && n.Name != "points" && n.Name != "first" && n.Name != "angle" {
			c.Expected, c.Difference = geometry.Length(v*m.scale), geometry.Length(-v*m.scale)
			break
		}
	}
	if c.Evidence = evidenceFor(o.Explains, c.Part); len(c.Evidence) > 0 {
		c.Verdict = OnFile
	}
	return c
}

// scaleError returns the relative standard error of the governing radius.
func (m *matched) scaleError() float64 {
	if m.govern < 0 {
		return 0
	}
	l, err, ok := m.circleOf(m.features[m.govern].name)
	if !ok {
		return 0
	}
	return err / l.radius
}

// absence says that a part was not found.
func absence(p standards.Part) string {
	if p.Kind == standards.Disc || p.Kind == standards.Ring {
		return fmt.Sprintf("the %s is not in the drawing, or not about the centre", p.ID)
	}
	return fmt.Sprintf("the %s is not in the drawing", p.ID)
}
