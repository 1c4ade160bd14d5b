package survey

import (
	"fmt"
	"math"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// Inspect returns what there is to say of each laid marking, in their order: paint off
// the skin, strain, heights that differ between the skin and the side view, features
// smaller than film holds.
func Inspect(laid []masks.Laid) []layouts.Finding {
	var findings []layouts.Finding
	for _, one := range laid {
		findings = append(append(findings, inspect(one)...), masks.SmallFeatures(one)...)
	}
	return findings
}

// inspect returns the findings of one laid marking.
func inspect(l masks.Laid) []layouts.Finding {
	var out []layouts.Finding
	for _, look := range []func(masks.Laid) (layouts.Finding, bool){
		offSkin, filmOverEdge, masks.Strained, heights, masks.Baselines, stretch, hidden, closesRound, sharpFold, bayTwist,
	} {
		if f, found := look(l); found {
			f.Marking = l.ID()
			out = append(out, f)
		}
	}
	return out
}

// offSkin reports paint whose outline leaves the skin, beyond an edge or over a
// hinge gap: the first place found, and how much outline lies off it, to about a
// sixteenth of an inch a crossing.
func offSkin(l masks.Laid) (layouts.Finding, bool) {
	if l.Placement.ToEdge { // it is cut to the edges, and the film runs on beyond them
		return layouts.Finding{}, false
	}
	var f layouts.Finding
	u := l.Placement.Read
	found, off, whole := false, 0.0, 0.0
	eachOutlinePoint(l, masks.SampleStep, func(r layouts.Region, q g.Point, length float64) {
		whole += length
		uv, ok := l.Map.ToSkin(q)
		if ok && l.Placement.Surface.Contains(uv) {
			return
		}
		off += length
		if found {
			return
		}
		found = true
		f = layouts.Finding{
			Level: layouts.Stop, Rule: "off-skin", Where: l.Placement.Anchor,
			Message: fmt.Sprintf("%s: the %s outline leaves the skin of %s %s %s and %s %s of its held point",
				l.ID(), r.Colour, l.Placement.On, u.Fixed(g.Length(math.Abs(q.X)), 2), masks.Sideways(l, q.X), u.Fixed(g.Length(math.Abs(q.Y)), 2), masks.UpDown(l, q.Y)),
			Hint:   "move it with where: fs: and wl:, or make it smaller",
			Source: "derived",
		}
		if ok {
			f.Where = g.PositionOf(skin.PointAt(l.Placement.Surface, uv))
			f.Message = fmt.Sprintf("%s: the %s outline runs off %s or over a gap at %s", l.ID(), r.Colour, l.Placement.On, u.Position(f.Where))
			if len(l.Placement.Marking.Where.Surfaces) > 1 {
				f.Hint += "; name the gap under obstacles:, {id: hinge gap, kind: hinge, ...}, and the start that clears it is looked for"
			}
		}
	})
	if message, hint := "", ""; found {
		if message, hint = paintOverEdges(l); message != "" {
			f.Message, f.Hint = message, hint
		}
	}
	f.Measured = fmt.Sprintf("%s of %s of outline", u.Fixed(g.Length(off), 2), u.Fixed(g.Length(whole), 2))
	f.Expected, f.Tolerance = "0", "none"
	return f, found
}

// heights prints both heights where they differ by more than a tape can read.
func heights(l masks.Laid) (layouts.Finding, bool) {
	if l.Placement.Face() != layouts.NoFace {
		return layouts.Finding{}, false // not seen from the side
	}
	along, side := l.Heights()
	if math.Abs(along-side) <= g.SayDifference {
		return layouts.Finding{}, false
	}
	u, a, s := l.Placement.Read, g.Length(along), g.Length(side)
	mode := "true along the skin"
	if l.Placement.Marking.True == layouts.TrueSide {
		mode = "true in side view"
	}
	return layouts.Finding{
		Level: layouts.Note, Rule: "two-heights", Where: l.Placement.Anchor,
		Message:  fmt.Sprintf("%s: %s high along the skin, %s seen from the side; the drawing is %s", l.ID(), u.Fixed(a, 3), u.Fixed(s, 3), mode),
		Hint:     "true: side makes the drawing what is seen; true: skin makes it what a tape on the skin reads",
		Measured: u.Fixed(s, 3), Expected: u.Fixed(a, 3), Tolerance: u.Fraction(g.SayDifference, 32), Source: "derived",
	}, true
}
