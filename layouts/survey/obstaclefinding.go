package survey

import (
	"fmt"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// obstacleFinding reports paint on an obstacle, or nearer than it should be. Rule:
// "hinge" for a hinge gap, "obstacle" for the others.
func (gr *surroundings) obstacleFinding(c Clearance) (layouts.Finding, bool) {
	if c.Overlap == 0 && c.Distance >= c.Limit-g.SnapTolerance {
		return layouts.Finding{}, false
	}
	var t flatObstacle
	for _, k := range gr.obstacles {
		if k.ID == c.Obstacle {
			t = k
		}
	}
	if t.Over && c.Overlap == 0 {
		return layouts.Finding{}, false
	}
	u := gr.laid.Placement.Read
	f := layouts.Finding{
		Level: layouts.Warn, Rule: "obstacle", Where: c.Where, Measured: u.Fixed(c.Distance, 2),
		Expected: u.Length(c.Limit, 4) + " or more", Tolerance: "none", Source: "common practice, no source",
	}
	n := u.At
	place, up := fmt.Sprintf("FS %s", n(t.ObstacleSpec.At.FS.Inches())), strings.ToUpper(across(t))
	switch t.Kind {
	case layouts.HingeAt:
		f.Rule = "hinge"
		place += " to " + n(t.To.Inches())
	case layouts.Opening:
		first := t.Corners()[0]
		place = fmt.Sprintf("from FS %s %s %s", n(first.X), up, n(first.Y))
	default:
		place += fmt.Sprintf(" %s %s, %s across", up, n(t.Middle().Y), u.Length(t.Size, 4))
	}
	name := fmt.Sprintf("the %s (%s)", c.Obstacle, place)
	if c.Overlap > 0 {
		f.Level = layouts.Stop
		f.Message = fmt.Sprintf("%s: paint covers %s of %s", gr.laid.ID(), u.SmallArea(c.Overlap, 2), name)
		f.Measured, f.Expected = u.SmallArea(c.Overlap, 3), u.SmallArea(0, 2)
	} else {
		f.Message = fmt.Sprintf("%s: the paint is %s from %s, less than %s", gr.laid.ID(), u.Fixed(c.Distance, 2), name, u.Length(c.Limit, 4))
	}
	if t.Over {
		f.Level, f.Expected = layouts.Note, "as the layout has it"
		f.Message = fmt.Sprintf("%s: paint runs over %s of %s, as the layout has it", gr.laid.ID(), u.SmallArea(c.Overlap, 2), name)
		f.Hint = "lock the control surface in neutral while film is laid and sprayed, and lift the film before the paint bridges the gap"
		return f, true
	}
	if len(c.Within) > 0 {
		var names []string
		for _, r := range c.Within {
			names = append(names, fmt.Sprintf("%q", r))
		}
		f.Message += "; it overlaps the " + strings.Join(names, " and the ")
	}
	f.Proposals = gr.clearing(t, c)
	f.Hint = hintOf(f.Proposals, "")
	if len(f.Proposals) == 0 {
		f.Hint = "move it with where: fs: and " + across(t) + ":, make it smaller, or give the obstacle another clear:"
	}
	return f, true
}

// across is the key of the second number of an obstacle's place.
func across(t flatObstacle) string {
	if t.OnWing {
		return "bl"
	}
	return "wl"
}

// clearing returns the shifts that keep clear of an obstacle.
func (gr *surroundings) clearing(t flatObstacle, c Clearance) (ways []layouts.Proposal) {
	also := ""
	if gr.laid.Placement.Marking.Where.Side == layouts.BothSides {
		also = "; the other side moves too"
	}
	if t.Kind == layouts.HingeAt {
		if aft, between, ok := gr.overGap(t); ok {
			return append(ways, gr.move(aft, 0, fmt.Sprintf("brings the gap between %q and %q over the hinge%s", between[0], between[1], also)))
		}
	}
	aft, up, ok := gr.shift(func(v g.Vec) bool { return gr.clears(v, false) })
	if !ok {
		return nil
	}
	ways = append(ways, gr.move(aft, up, "keeps "+gr.laid.Placement.Read.Length(c.Limit, 4)+" from it"+also))
	if len(c.Within) > 0 {
		if a, u, ok := gr.shift(func(v g.Vec) bool { return gr.clears(v, true) }); ok && (a != aft || u != up) {
			ways = append(ways, gr.move(a, u, "clears it with the whole character"+also))
		}
	}
	return ways
}
