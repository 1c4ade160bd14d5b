package proportions

import (
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts/standards"
)

// chevronCorners returns the corners of a chevron that opens towards +x: point,
// lower outer, lower inner, notch, upper inner, upper outer.
func (t *template) chevronCorners(id string) []geometry.Point {
	sin, cos := same.Sincos(t.values[id+".angle"] * math.Pi / 360)
	apex, arm, width := t.values[id+".apex"], t.values[id+".arm"], t.values[id+".width"]
	outer := at(apex+float64(arm*cos), float64(arm*sin))
	inner := outer.Add(geometry.Vec{X: sin, Y: -cos}.Scale(width))
	return []geometry.Point{at(apex, 0), at(outer.X, -outer.Y), at(inner.X, -inner.Y), at(apex+width/sin, 0), inner, outer}
}

// Edges of a chevron, by the corner they start from.
const (
	lowerOuter = ".edge0"
	lowerEnd   = ".edge1"
	lowerInner = ".edge2"
	upperInner = ".edge3"
	upperEnd   = ".edge4"
	upperOuter = ".edge5"
)

func traceChevron(t tracing) { t.polygon("edge", t.chevronCorners(t.ID), inChevron) }

func measureChevron(m *matched, p standards.Part) []dimension {
	upper, ok1 := m.lineOf(p.ID + upperOuter)
	lower, ok2 := m.lineOf(p.ID + lowerOuter)
	point, err, rms, ok := m.corner(p.ID+lowerOuter, p.ID+upperOuter)
	if !ok1 || !ok2 || !ok {
		return nil
	}
	// Both run away from the point along their arms.
	u, l := upper.dir.Scale(-1), lower.dir
	axis := u.Add(l).Unit()

	apex := one(p, "apex", "place of the point ahead of (-) or behind the centre")
	apex.found, apex.err, apex.rms = point.Sub(geometry.Point{}).Dot(axis), same.Hypot(err, m.centreError()), rms
	apex.line = [2]geometry.Point{{}, point}
	angle := one(p, "angle", "angle between the arms")
	angle.found = same.Atan2(math.Abs(l.Cross(u)), l.Dot(u))
	angle.err = same.Hypot(upper.errorOfAngle(m.noise(upper)), lower.errorOfAngle(m.noise(lower)))
	angle.rms, angle.arm = rms, m.values[p.ID+".arm"]
	angle.line = [2]geometry.Point{point.Add(l.Scale(angle.arm)), point.Add(u.Scale(angle.arm))}
	raw := angle.raw
	angle.raw = func(v values) float64 { return raw(v) * math.Pi / 180 }
	out := []dimension{apex, angle}

	var arms, widths []dimension
	for _, side := range []struct{ what, outer, end, inner string }{{"lower", lowerOuter, lowerEnd, lowerInner}, {"upper", upperOuter, upperEnd, upperInner}} {
		if tip, err, rms, ok := m.corner(p.ID+side.outer, p.ID+side.end); ok {
			d := one(p, "arm", "length of the forward edge of the "+side.what+" arm")
			d.found, d.err, d.rms = tip.Dist(point), same.Hypot(err, apex.err), rms
			d.line = [2]geometry.Point{point, tip}
			arms = append(arms, d)
		}
		f, _ := m.lineOf(p.ID + side.outer)
		if g, ok := m.lineOf(p.ID + side.inner); ok {
			d := one(p, "width", "width of the "+side.what+" arm")
			d.found = math.Abs(f.offset(g.at))
			d.err = same.Hypot(f.errorAt(g.at, m.noise(f)), g.errorAt(g.at, m.noise(g)))
			d.rms = math.Max(f.rms, g.rms)
			d.line = [2]geometry.Point{f.foot(g.at), g.at}
			widths = append(widths, d)
		}
	}
	out = append(out, mean(arms, "length of the forward edge of the arms")...)
	out = append(append(out, arms...), mean(widths, "width of the arms")...)
	return append(out, widths...)
}
