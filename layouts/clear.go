package layouts

import (
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// Steps, in inches, at which a straight line is tried against bodies and against
// thin surfaces. A line that dips below a body for less than its step does so by
// less than the section turns away in it.
const (
	bodyStep = 1.0
	thinStep = 0.25
)

// Blocked returns the first place, from one point towards another, at which the
// straight line between them runs deeper than depth below a skin of the aircraft or
// into what stands off it, and the name of that; false where it runs clear. The last
// inch at either end is not looked at: there the tape goes round the hook or the thumb.
func (a *Airframe) Blocked(from, to g.Position, depth g.Length) (g.Position, string, bool) {
	const end = 1.0
	p, q := from.Vec(), to.Vec()
	length := q.Sub(p).Norm()
	first, at, by := math.Inf(1), g.Position{}, ""
	for _, s := range a.solids() {
		for d := end; d < math.Min(first, length-end); d += s.step {
			if x := p.Lerp(q, d/length); s.inside(x, depth.Inches()) {
				first, at, by = d, g.PositionOf(x), s.id
				break
			}
		}
	}
	return at, by, !math.IsInf(first, 1)
}

// Through returns the first place at which a path that lies on surfaces of the aircraft
// runs deeper than depth through another one, such as a wing root or a fin; false where
// it runs clear. The last inch at either end is not looked at.
func (a *Airframe) Through(path []g.Position, on []string, depth g.Length) (g.Position, string, bool) {
	const end = 1.0
	whole := 0.0
	for i := 1; i < len(path); i++ {
		whole += path[i-1].To(path[i]).Inches()
	}
	done := 0.0
	for i := 1; i < len(path); i++ {
		p, q := path[i-1].Vec(), path[i].Vec()
		length := q.Sub(p).Norm()
		n := int(math.Ceil(length / thinStep))
		for k := range n {
			part := (float64(k) + 0.5) / float64(n)
			if at := done + float64(part*length); at < end || at > whole-end {
				continue
			}
			x := p.Lerp(q, part)
			for _, s := range a.solids() {
				if !slices.Contains(on, s.on) && s.inside(x, depth.Inches()) {
					return g.PositionOf(x), s.id, true
				}
			}
		}
		done += length
	}
	return g.Position{}, "", false
}

// solid is a surface, or what stands off one, as a body that a straight line may run
// through.
type solid struct {
	id, on string                             // its name, and the surface's
	inside func(p g.Vec3, depth float64) bool // deeper than depth, inches
	step   float64                            // inches, to try a line with
}

// solids returns the surfaces and what stands off them as bodies, made when first
// asked for.
func (a *Airframe) solids() []solid {
	a.solid.Do(func() {
		for _, s := range a.Spec.Surfaces {
			inside, step := a.insideOf(s)
			a.solidParts = append(a.solidParts, solid{s.ID, s.ID, inside, step})
		}
		for _, o := range a.Spec.Obstacles {
			for _, inside := range a.standingOff(o) {
				a.solidParts = append(a.solidParts, solid{o.ID, o.Surface, inside, thinStep})
			}
		}
	})
	return a.solidParts
}

// insideOf returns a test for points deeper than a depth inside a surface, and the
// step to try a line with.
func (a *Airframe) insideOf(s SurfaceSpec) (inside func(p g.Vec3, depth float64) bool, step float64) {
	switch s.Kind {
	case Plate:
		var corners []g.Point
		for _, c := range s.Outline {
			corners = append(corners, g.Point{X: c.FS.Inches(), Y: c.WL.Inches()})
		}
		outline := g.ChordsOf(g.Path{g.Polygon(corners...)}, g.FlattenTolerance)
		return func(p g.Vec3, depth float64) bool {
			return math.Abs(p.Y) < s.Thickness.Inches()/2-depth && outline.Contains(g.Point{X: p.X, Y: p.Z})
		}, thinStep
	case Foil:
		left, err := finSkin(s, g.Left)
		if err != nil {
			return nowhere, math.Inf(1)
		}
		return func(p g.Vec3, depth float64) bool {
			uv, err := skin.LocateSide(left, g.Left, g.SidePosition{FS: g.Station(p.X), WL: g.Waterline(p.Z)})
			return err == nil && left.Contains(uv) && math.Abs(p.Y) < -skin.PointAt(left, uv).Y-depth
		}, thinStep
	case Wing:
		var faces [2][2]*skin.LiftingSkin
		for _, side := range []g.Side{g.Left, g.Right} {
			for k, face := range []Face{LowerFace, UpperFace} {
				var err error
				if faces[side][k], err = a.WingSurface(s.ID, side, face); err != nil {
					return nowhere, math.Inf(1)
				}
			}
		}
		box := boxOf(faces[g.Left][0], faces[g.Left][1], faces[g.Right][0], faces[g.Right][1])
		return func(p g.Vec3, depth float64) bool {
			if !box.holds(p) {
				return false
			}
			side := g.Left
			if p.Y > 0 {
				side = g.Right
			}
			var z [2]float64
			for k, f := range faces[side] {
				uv, err := f.LocatePlan(g.Station(p.X), g.ButtLine(p.Y))
				if err != nil {
					return false
				}
				z[k] = skin.PointAt(f, uv).Z
			}
			return p.Z > z[0]+depth && p.Z < z[1]-depth
		}, thinStep
	}
	body := a.bodies[s.ID]
	near := newSlices(body)
	return func(p g.Vec3, depth float64) bool {
		if !near.holds(p) {
			return false
		}
		rings := near.rings.Get().(*sectionRings)
		defer near.rings.Put(rings)
		return rings.deeper(p, depth)
	}, bodyStep
}

func nowhere(g.Vec3, float64) bool { return false }
