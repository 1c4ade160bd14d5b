package taping

import (
	"fmt"
	"slices"
	"strings"

	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// inspectPlaces looks at how the first film of each marking is placed.
func inspectPlaces(l *layouts.Layout, tilings []masks.Tiling, placings []Placing) []layouts.Finding {
	var out []layouts.Finding
	var bare []layouts.Placement // without frame, rib, line or hardpoints
	for i, p := range placings {
		place := tilings[i].Laid.Placement
		u := place.Read
		report := func(level layouts.Level, rule, measured, expected, hint, format string, args ...any) {
			out = append(out, layouts.Finding{
				Level: level, Rule: rule, Marking: p.Marking, Where: place.Anchor, Message: p.Marking + ": " + fmt.Sprintf(format, args...),
				Hint: hint, Measured: measured, Expected: expected, Tolerance: "none", Source: "derived",
			})
		}
		if len(p.Tiles) == 0 {
			hooks := len(l.Airframe.Hardpoints(place.Side))
			if hooks < 2 {
				bare = append(bare, place)
				continue
			}
			why := "nothing is given there to measure from"
			if len(p.Points) > 0 {
				why = refusals(p.Points[0].Point)
			}
			report(layouts.Warn, "no-tapes", "0 ways", "1", "give frames, ribs or lines of its surface in the layout file, or one more hardpoint near it", "its film cannot be placed: %s", why)
			continue
		}
		for _, q := range p.Points {
			if way, ok := q.Way(); ok {
				for _, tape := range way.Tapes {
					if f, tie := TapeTie(u, p.Marking, q.Point.Mark, tape); tie {
						out = append(out, f)
					}
				}
			}
		}
		worst, _ := p.Worst()
		if major, minor := worst.Error.Within95(); major > PlacingLimit {
			hint := "measure " + worst.Terms[0].Name + " more finely"
			if worst.Terms[0].Help != "" {
				hint = worst.Terms[0].Help
			}
			if p.Better != nil {
				hint = p.Better.advice(place.Read)
			}
			report(layouts.Note, "poor-place", u.Fixed(major, 2), "within "+u.Length(PlacingLimit, 3), hint,
				"the middle of its film is placed within %s x %s (95 of 100), most of it from %s", u.FixedNumber(major, 2), u.Fixed(minor, 2), worst.Terms[0].Name)
		}
	}
	if len(bare) > 0 {
		out = append(out, noHardpoints(l, bare))
	}
	return out
}

// noHardpoints says on which sides films cannot be placed, and what to measure so that they
// can.
func noHardpoints(l *layouts.Layout, bare []layouts.Placement) layouts.Finding {
	var sides []string
	fewest := 2
	for _, p := range bare {
		from := "the " + p.Side.String() + " side"
		if f := p.Face(); f != layouts.NoFace {
			from = "the " + string(f) + " face of the " + p.Side.String() + " wing"
		}
		if !slices.Contains(sides, from) {
			sides = append(sides, from)
		}
		fewest = min(fewest, len(l.Airframe.Hardpoints(p.Side)))
	}
	on := strings.Join(sides, ", ")
	if last := len(sides) - 1; last > 0 {
		on = strings.Join(sides[:last], ", ") + " and " + sides[last]
	}
	return layouts.Finding{
		Level: layouts.Warn, Rule: "no-hardpoints", Marking: bare[0].ID(), Where: bare[0].Anchor,
		Message:  fmt.Sprintf("%v: nothing places films on %s: no frame, rib or line is given there, and fewer than two hardpoints", l.Spec.Aircraft.Place, on),
		Hint:     "write ribs: or lines: of the surface, or two hardpoints where a tape hooks, a marking's length apart: {id: P1, name: strut bolt, fs: ..., bl: ..., wl: ...}",
		Measured: fmt.Sprint(fewest), Expected: "2", Tolerance: "none", Source: "derived",
	}
}
