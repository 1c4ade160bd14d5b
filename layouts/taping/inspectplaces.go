package taping

import (
	"fmt"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// inspectPlaces looks at how the first film of each marking is placed.
func inspectPlaces(l *layouts.Layout, tilings []masks.Tiling, placings []Placing) []layouts.Finding {
	var out []layouts.Finding
	bare := map[string]bool{}
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
				if f := noHardpoints(l, place, hooks); !bare[f.Message] {
					bare[f.Message] = true
					out = append(out, f)
				}
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
	return out
}

// noHardpoints says that films on one side cannot be placed by tapes, and what to
// measure so that they can.
func noHardpoints(l *layouts.Layout, p layouts.Placement, n int) layouts.Finding {
	from := p.Side.String() + " side"
	if f := p.Face(); f != layouts.NoFace {
		from = string(f) + " face of the " + p.Side.String() + " wing"
	}
	return layouts.Finding{
		Level: layouts.Warn, Rule: "no-hardpoints", Marking: p.ID(), Where: p.Anchor,
		Message:  fmt.Sprintf("%v: nothing places films on the %s: no frame, rib or line is given there, and it has %s, a point needs tapes from two", l.Spec.Aircraft.Place, from, g.Counted(n, "hardpoint")),
		Hint:     "measure two or more places where a tape hooks, apart by about the length of a marking and well to one side of it (a bolt, a corner of a fitting), and write them under hardpoints: {id: P1, name: ..., fs: ..., bl: ..., wl: ...}",
		Measured: fmt.Sprint(n), Expected: "2", Tolerance: "none", Source: "derived",
	}
}
