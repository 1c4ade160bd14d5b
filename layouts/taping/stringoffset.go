package taping

import (
	"math"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// StringOffset places a point by a string between two hardpoints: so far along it,
// and so far square from it, both as seen square to the side (on wings: from
// above). It does not ask where level is.
type StringOffset struct {
	From, To layouts.Hardpoint
	View     string   // "side" or "plan"
	Length   g.Length // of the string, in that view
	Along    g.Length // from From to the foot, in that view
	Offset   g.Length // from the foot to the point, in that view
	Towards  string   // which way: above, below, forward, aft, outboard, inboard
	Square   g.Length // straight through the air from the foot on the string to the point
}

// stretched is a string that runs clear of the skin.
type stretched struct {
	from, to layouts.Hardpoint
	plan     bool
}

// stringsOf returns the strings that can be stretched between hardpoints of a
// marking's side, the fore end first.
func stringsOf(a *layouts.Airframe, p layouts.Placement) []stretched {
	hard := a.Hardpoints(p.Side)
	var out []stretched
	for i := range hard {
		for j := i + 1; j < len(hard); j++ {
			from, to := hard[i], hard[j]
			if from.At.FS > to.At.FS {
				from, to = to, from
			}
			if _, _, blocked := a.Blocked(from.At, to.At, throughSkin); !blocked {
				out = append(out, stretched{from, to, p.Face() != layouts.NoFace})
			}
		}
	}
	return out
}

// seen returns a point in the view that the string is used in.
func (s stretched) seen(p g.Position) g.Point {
	if s.plan {
		return g.Point{X: p.FS.Inches(), Y: math.Abs(p.BL.Inches())}
	}
	return g.Point{X: p.FS.Inches(), Y: p.WL.Inches()}
}

// offsetFrom returns the offset from the string nearest to a point, of those on
// which the point's foot lies between the ends; nil where there is none.
func offsetFrom(strings []stretched, p g.Position) *StringOffset {
	var best *StringOffset
	for _, s := range strings {
		a, b, q := s.seen(s.from.At), s.seen(s.to.At), s.seen(p)
		length := a.Dist(b)
		if length < 1 {
			continue // seen end on
		}
		u := b.Sub(a).Unit()
		along, off := q.Sub(a).Dot(u), u.Cross(q.Sub(a))
		if along < 0 || along > length || best != nil && math.Abs(off) >= best.Offset.Inches() {
			continue
		}
		foot := s.from.At.Vec().Lerp(s.to.At.Vec(), along/length)
		best = &StringOffset{
			From: s.from, To: s.to, View: "side", Length: g.Length(length), Along: g.Length(along), Offset: g.Length(math.Abs(off)),
			Towards: towards(u.Perp().Scale(off), s.plan), Square: g.Length(p.Vec().Sub(foot).Norm()),
		}
		if s.plan {
			best.View = "plan"
		}
	}
	return best
}

// towards names a direction of a view.
func towards(d g.Vec, plan bool) string {
	word := func(v float64, positive, negative string) string {
		if v < 0 {
			return negative
		}
		return positive
	}
	switch {
	case math.Abs(d.X) > math.Abs(d.Y):
		return word(d.X, "aft", "forward")
	case plan:
		return word(d.Y, "outboard", "inboard")
	}
	return word(d.Y, "above", "below")
}
