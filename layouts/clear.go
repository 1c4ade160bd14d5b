package layouts

import (
	"math"

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
// straight line between them runs deeper than depth below a skin of the aircraft;
// false where it runs clear. The last inch at either end is not looked at: there
// the tape goes round the hook or the thumb.
func (a *Airframe) Blocked(from, to g.Position, depth g.Length) (g.Position, bool) {
	const end = 1.0
	p, q := from.Vec(), to.Vec()
	length := q.Sub(p).Norm()
	first, at := math.Inf(1), g.Position{}
	for _, s := range a.Spec.Surfaces {
		inside, step := a.insideOf(s, depth.Inches())
		for d := end; d < math.Min(first, length-end); d += step {
			if x := p.Lerp(q, d/length); inside(x) {
				first, at = d, g.PositionOf(x)
				break
			}
		}
	}
	return at, !math.IsInf(first, 1)
}

// insideOf returns a test for points deeper than depth inside a surface, and the
// step to try a line with.
func (a *Airframe) insideOf(s SurfaceSpec, depth float64) (inside func(g.Vec3) bool, step float64) {
	switch s.Kind {
	case Plate:
		var corners []g.Point
		for _, c := range s.Outline {
			corners = append(corners, g.Point{X: float64(c.FS), Y: float64(c.WL)})
		}
		outline := g.Path{g.Polygon(corners...)}
		return func(p g.Vec3) bool {
			return math.Abs(p.Y) < s.Thickness.Inches()/2-depth && outline.Contains(g.Point{X: p.X, Y: p.Z}, g.FlattenTolerance)
		}, thinStep
	case Foil:
		left, err := finSkin(s, g.Left)
		if err != nil {
			return nowhere, math.Inf(1)
		}
		return func(p g.Vec3) bool {
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
		return func(p g.Vec3) bool {
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
	lo, hi := skin.Extent(body)
	return func(p g.Vec3) bool {
		return p.X >= lo && p.X <= hi && depthInSection(body, p) > depth
	}, bodyStep
}

func nowhere(g.Vec3) bool { return false }

// depthInSection returns how far p lies inside the section of a closed body at
// its station, in that plane; negative outside. Sections are taken as chords
// within 1/8 of a hundredth of their radius.
func depthInSection(s skin.Surface, p g.Vec3) float64 {
	_, vs, _ := s.Breaks()
	var ring []g.Point
	for k := 0; k+1 < len(vs); k++ {
		in := skin.UV{U: p.X, V: (vs[k] + vs[k+1]) / 2}
		turn := 0.0
		_, last := s.At(skin.UV{U: p.X, V: vs[k]}, in)
		for i := 1; i <= 4; i++ {
			_, now := s.At(skin.UV{U: p.X, V: vs[k] + (vs[k+1]-vs[k])*float64(i)/4}, in)
			turn += math.Acos(math.Max(-1, math.Min(1, now.Dot(last))))
			last = now
		}
		n := max(1, int(math.Ceil(turn/0.1)))
		for i := range n {
			q, _ := s.At(skin.UV{U: p.X, V: vs[k] + (vs[k+1]-vs[k])*float64(i)/float64(n)}, in)
			ring = append(ring, g.Point{X: q.Y, Y: q.Z})
		}
	}
	at := g.Point{X: p.Y, Y: p.Z}
	near := math.Inf(1)
	for i, a := range ring {
		near = math.Min(near, g.SegmentDistance(at, a, ring[(i+1)%len(ring)]))
	}
	if !g.Inside(at, ring) {
		return -near
	}
	return near
}
