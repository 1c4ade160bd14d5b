package taping

import (
	"math"
	"slices"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
)

// taped is what the hardpoints say of one point.
type taped struct {
	tapes   []Taping
	refused []Refusal
}

// tape measures from every hardpoint of the side to a point.
func (t *taper) tape(m masks.RegistrationMark) taped {
	var out taped
	for _, h := range t.hooks {
		if tape, refused := t.from(h, m); refused != nil {
			out.refused = append(out.refused, *refused)
		} else {
			out.tapes = append(out.tapes, tape)
		}
	}
	return out
}

// mirrors tells whether the other side's taper, of the same marking, works on the
// mirror image of this one: skin, frame and hardpoints. Its tapes are then these,
// mirrored, and need not be computed again.
func (t *taper) mirrors(o *taper) bool {
	p, q := t.laid.Placement, o.laid.Placement
	if p.Marking != q.Marking || p.Side == q.Side || p.Surface != q.Surface || len(t.hooks) != len(o.hooks) {
		return false
	}
	if !slices.EqualFunc(t.stops, o.stops, func(a, b stop) bool { return a.ID == b.ID }) {
		return false
	}
	up := q.Frame.Up
	up.Y = -up.Y
	if p.Frame.Up.Sub(up).Norm() > 1e-9 || p.Anchor.To(q.Anchor.Mirrored()) > g.SnapTolerance {
		return false
	}
	for i, h := range t.hooks {
		k := o.hooks[i]
		if h.ID != k.ID || h.onSkin != k.onSkin || h.Measured != k.Measured || h.Sigma != k.Sigma || h.At != k.At.Mirrored() {
			return false
		}
	}
	return true
}

// sameMirrored tells whether two points are mirror images, in the flat and on the
// skin.
func sameMirrored(a, b masks.RegistrationMark) bool {
	return math.Abs(a.Film.X+b.Film.X) < g.SnapTolerance && math.Abs(a.Film.Y-b.Film.Y) < g.SnapTolerance && a.Skin.To(b.Skin.Mirrored()) < g.SnapTolerance
}

// mirrored returns the tapes of the mirror image, from the hardpoints of its side.
func (x taped) mirrored(hooks []hook) taped {
	var out taped
	find := func(id string) hook {
		for _, h := range hooks {
			if h.ID == id {
				return h
			}
		}
		panic("masks: a mirrored hardpoint is not on the other side: " + id)
	}
	for _, t := range x.tapes {
		t.From = find(t.From.ID).Hardpoint
		t.Bearing.X, t.away.Y = -t.Bearing.X, -t.away.Y
		path := make([]g.Position, len(t.Path))
		for i, q := range t.Path {
			path[i] = q.Mirrored()
		}
		t.Path = path
		out.tapes = append(out.tapes, t)
	}
	for _, r := range x.refused {
		out.refused = append(out.refused, Refusal{From: find(r.From.ID).Hardpoint, Why: r.Why})
	}
	return out
}
