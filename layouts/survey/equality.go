package survey

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/layouts"
)

const (
	// sameMark is the largest difference, in inches, between the registration marks
	// of the two sides: the rule lets there be none, and half a sixteenth is the
	// finest that a tape shows.
	sameMark = g.SayDifference

	sameOther = 1.0 / 8 // inches, of any other marking (common practice, no source)
)

// registrationMark tells marks of the United States: N and a digit first (from
// memory, so no more than a warning rests on it).
var registrationMark = regexp.MustCompile(`^N[1-9][0-9A-Z]{0,4}$`)

// measure is one measure of a marking, in inches or square inches.
type measure struct {
	what  string
	value float64
	unit  string
}

// equality compares each marking on the left with its fellow on the right: the
// same marking, or the only other of the same text, rule or discs on that surface.
// Sizes are those of the film; a difference warns. Places are compared as mirror
// images; two different ones are told, for they may be meant.
func equality(l *layouts.Layout, laid []masks.Laid) []layouts.Finding {
	var out []layouts.Finding
	for _, pair := range pairs(laid) {
		left, right := pair[0], pair[1]
		limit, source := sameOther, "common practice, no source"
		if strings.EqualFold(l.Spec.Rules.Nation, "us") && registrationMark.MatchString(left.Placement.Marking.Figure.Text) {
			limit, source = sameMark, "14 CFR 45.29(g): the same height, width, thickness and spacing on both sides"
		}
		name := left.Placement.Marking.ID
		if other := right.Placement.Marking.ID; other != name {
			name += " and " + other
		}
		u := left.Placement.Read
		a, b := measures(left), measures(right)
		var differ []string
		worst, measured := 0.0, ""
		for i := range min(len(a), len(b)) {
			if d := math.Abs(a[i].value - b[i].value); a[i].what == b[i].what && d > a[i].allowed(limit, left) {
				differ = append(differ, fmt.Sprintf("%s %s and %s", a[i].what, strings.Fields(a[i].written(u, a[i].value))[0], a[i].written(u, b[i].value)))
				if d > worst {
					worst, measured = d, fmt.Sprintf("%s differs by %s", a[i].what, a[i].written(u, d))
				}
			}
		}
		if len(differ) > 0 {
			out = append(out, layouts.Finding{
				Level: layouts.Warn, Rule: "equality", Marking: right.ID(), Where: right.Placement.Anchor,
				Message:  fmt.Sprintf("%s: left and right are not the same: %s", name, strings.Join(differ, "; ")),
				Hint:     "write one marking with side: both, or give both the same figure: and true:",
				Measured: measured, Expected: "the same on both sides", Tolerance: u.Length(g.Length(limit), 4), Source: source,
			})
		}
		if f, apart := placesApart(name, left, right); apart {
			out = append(out, f)
		}
	}
	return out
}

// written writes a value of the measure.
func (m measure) written(u g.Units, v float64) string {
	if m.unit == "in2" {
		return u.SmallArea(v, 3)
	}
	return u.Fixed(g.Length(v), 3)
}

// allowed returns the difference that a measure may have: of an area, what the
// limit makes of the height.
func (m measure) allowed(limit float64, l masks.Laid) float64 {
	if m.unit == "in2" {
		return limit * l.Painted.Bounds().Height()
	}
	return limit
}

// placesApart tells where the centres of two fellows are not mirror images.
func placesApart(name string, left, right masks.Laid) (layouts.Finding, bool) {
	a, okA := left.Map.PositionOf(left.Painted.Bounds().Centre())
	b, okB := right.Map.PositionOf(right.Painted.Bounds().Centre())
	if !okA || !okB {
		return layouts.Finding{}, false
	}
	u := left.Placement.Read
	n := u.At
	d := []measure{{"FS", float64(b.FS - a.FS), "in"}, {"WL", float64(b.WL - a.WL), "in"}, {"BL", float64(b.BL + a.BL), "in"}}
	var by []string
	worst := 0.0
	for _, m := range d {
		if math.Abs(m.value) > sameOther {
			by = append(by, fmt.Sprintf("%s of %s", u.Length(g.Length(math.Abs(m.value)), 3), m.what))
			worst = math.Max(worst, math.Abs(m.value))
		}
	}
	if len(by) == 0 {
		return layouts.Finding{}, false
	}
	return layouts.Finding{
		Level: layouts.Note, Rule: "equality", Marking: right.ID(), Where: b,
		Message: fmt.Sprintf("%s: the two sides do not stand opposite each other: the middle is at FS %s WL %s on the left and at FS %s WL %s on the right, %s apart",
			name, n(a.FS.Inches()), n(a.WL.Inches()), n(b.FS.Inches()), n(b.WL.Inches()), strings.Join(by, " and ")),
		Hint:     "nothing to do where this is meant, as for lettering over a hinge; else give both the same fs: and wl:",
		Measured: u.Length(g.Length(worst), 3), Expected: u.Length(0, 1), Tolerance: u.Fraction(sameOther, 8), Source: "common practice, no source",
	}, true
}

// pairs returns the fellows, left and right, in the order of the left ones.
func pairs(laid []masks.Laid) [][2]masks.Laid {
	key := func(l masks.Laid) string {
		f := l.Placement.Marking.Figure
		return fmt.Sprintf("%s|%s|%d|%s", f.Rule, f.Text, len(f.Discs), l.Placement.On)
	}
	count := map[string]int{}
	for _, l := range laid {
		count[key(l)+l.Placement.Side.String()]++
	}
	var out [][2]masks.Laid
	for _, a := range laid {
		for _, b := range laid {
			same := a.Placement.Marking == b.Placement.Marking
			only := key(a) == key(b) && count[key(a)+g.Left.String()] == 1 && count[key(a)+g.Right.String()] == 1
			if a.Placement.Side == g.Left && b.Placement.Side == g.Right && (same || only) {
				out = append(out, [2]masks.Laid{a, b})
			}
		}
	}
	return out
}

// measures returns the sizes of a marking, from the outlines of its film: of a
// text also the stroke, and the width of each character and the spaces between.
func measures(l masks.Laid) []measure {
	box := l.Painted.Bounds()
	out := []measure{{"height", box.Height(), "in"}, {"width", box.Width(), "in"}, {"area", l.Painted.Area(), "in2"}}
	if len(l.Characters) == 0 {
		return out
	}
	if stroke := thinnestStroke(l.Painted); !math.IsInf(stroke, 1) {
		out = append(out, measure{"stroke", stroke, "in"})
	}
	last := math.Inf(-1)
	for i, c := range l.Characters {
		var in g.Path
		for _, k := range l.Painted {
			if x := k.Bounds().Centre().X; x >= c.Cell.Min.X-g.SnapTolerance && x <= c.Cell.Max.X+g.SnapTolerance {
				in = append(in, k)
			}
		}
		if len(in) == 0 {
			continue
		}
		b := in.Bounds()
		name := fmt.Sprintf("character %d (%c)", i+1, c.Rune)
		if !math.IsInf(last, -1) {
			out = append(out, measure{"space before " + name, b.Min.X - last, "in"})
		}
		out = append(out, measure{"width of " + name, b.Width(), "in"})
		last = b.Max.X
	}
	return out
}

// thinnestStroke returns the least width of the strokes of lettering: from the middle
// of each side longer than a twentieth of the height, square to it, to the other
// side of the paint.
func thinnestStroke(p g.Path) float64 {
	poly := masks.PolygonsOf(p)
	least := poly.Bounds().Height() / 20
	best := math.Inf(1)
	for _, c := range poly {
		last := c.Start
		for _, s := range c.Segments {
			a, b := last, s.End
			last = s.End
			if a.Dist(b) < least {
				continue
			}
			from, in := a.Lerp(b, 0.5), b.Sub(a).Unit().Perp() // paint lies to the left
			for _, o := range poly {
				end := o.Start
				for _, q := range o.Segments {
					v, w := q.End.Sub(end), end.Sub(from)
					if den := in.Cross(v); math.Abs(den) > 0.9*v.Norm() { // a side that faces it
						if t, u := w.Cross(v)/den, w.Cross(in)/den; t > g.OutlineTolerance && u >= 0 && u <= 1 {
							best = math.Min(best, t)
						}
					}
					end = q.End
				}
			}
		}
	}
	return best
}
