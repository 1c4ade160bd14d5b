package skin

import (
	"math"
	"sort"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// UV is a point of a surface in its own parameters: U the station in inches, V
// round the section.
type UV struct{ U, V float64 }

// Surface is a skin made of smooth panels between grid lines.
//
// Contract, tested for every surface by the shared suite:
//   - At(uv, in).p has X = uv.U: parameters are stations.
//   - At is smooth in the panel that holds in, and continuous across panels;
//     the normal is outward, of unit length, and taken from that panel, so that
//     a hard line has one on either side.
//   - Breaks lists the grid lines, ascending. Where period > 0 the section is
//     closed: V and V+period are one point, and the lines repeat.
//   - Contains tells whether there is skin at uv (a plate has an outline).
type Surface interface {
	At(uv, in UV) (p, normal g.Vec3)
	Breaks() (u, v []float64, period float64)
	Contains(uv UV) bool
}

// Extent returns the range of U of a surface.
func Extent(s Surface) (lo, hi float64) {
	u, _, _ := s.Breaks()
	return u[0], u[len(u)-1]
}

// Panel returns which panel of the surface holds uv: its place among the grid lines
// by station and round the section.
func Panel(s Surface, uv UV) [2]int {
	us, vs, _ := s.Breaks()
	return [2]int{cellOf(us, uv.U), cellOf(vs, uv.V)}
}

// PointAt returns the point of the surface at uv.
func PointAt(s Surface, uv UV) g.Vec3 {
	p, _ := s.At(uv, uv)
	return p
}

// LineOf returns points and normals of a line of constant v by U, in the panel that holds
// in: those of s, at less cost where many are asked for.
func LineOf(s Surface, v, in float64) func(u, inU float64) (p, normal g.Vec3) {
	switch s := s.(type) {
	case *FairedSkin:
		l := s.lineKept(v, in)
		return func(u, inU float64) (g.Vec3, g.Vec3) {
			p, su, sv := l.at(u, inU)
			return p, su.Cross(sv).Unit()
		}
	case *RoundSkin:
		sin, cos := same.Sincos(v)
		return func(u, inU float64) (g.Vec3, g.Vec3) { return s.ruling(u, inU, sin, cos) }
	}
	return func(u, inU float64) (g.Vec3, g.Vec3) { return s.At(UV{u, v}, UV{inU, in}) }
}

// linesBetween returns lo, hi and the grid lines of one direction strictly
// between them, repeated by the period where it is positive.
func linesBetween(breaks []float64, period, lo, hi float64) []float64 {
	out := []float64{lo}
	add := func(x float64) {
		if x > lo+1e-9 && x < hi-1e-9 {
			out = append(out, x)
		}
	}
	if period <= 0 {
		for _, b := range breaks {
			add(b)
		}
	} else {
		for k := math.Floor((lo - breaks[0]) / period); breaks[0]+float64(k*period) < hi; k++ {
			for _, b := range breaks[:len(breaks)-1] {
				add(b + float64(k*period))
			}
		}
	}
	sort.Float64s(out)
	return append(out, hi)
}

// clearOf moves lo and hi outwards, where a grid line lies just within, until it
// is gap away: no sliver of a panel is left at the border of a window.
func clearOf(breaks []float64, period, lo, hi, gap float64) (float64, float64) {
	for _, x := range linesBetween(breaks, period, lo, hi) {
		if x > lo && x < lo+gap {
			lo = x - gap
			break
		}
	}
	for _, x := range linesBetween(breaks, period, lo, hi) {
		if x < hi && x > hi-gap {
			return lo, x + gap
		}
	}
	return lo, hi
}

// LocateSide returns the point of the surface that is seen at the given station
// and waterline from outside on the given side: the ray along the butt line from
// far outside meets it first there. It is found to 1e-12 of the parameter.
//
// Errors: the station lies off the surface, or no skin is seen at that height;
// the message names what heights are seen.
func LocateSide(s Surface, side g.Side, at g.SidePosition) (UV, error) {
	us, _, _ := s.Breaks()
	u := at.FS.Inches()
	if u < us[0]-1e-9 || u > us[len(us)-1]+1e-9 {
		return UV{}, g.Errorf("FS %v lies off the surface: it runs from FS %v to FS %v", at.FS, g.Station(us[0]), g.Station(us[len(us)-1]))
	}
	z := at.WL.Inches()
	best, bestY := UV{}, math.Inf(-1)
	rayRoots(s, u, z, func(uv, in UV) {
		q, n := s.At(uv, in)
		if y := q.Y * side.Sign(); n.Y*side.Sign() > -1e-9 && y >= -1e-9 && y > bestY {
			best, bestY = uv, y
		}
	})
	if math.IsInf(bestY, -1) {
		lo, hi := seenRange(s, side, u)
		return UV{}, g.Errorf("WL %v is not on the %s side at FS %v: the skin there runs from WL %v to WL %v", at.WL, side, at.FS, g.Waterline(lo), g.Waterline(hi))
	}
	return best, nil
}

// rayRoots visits every point of the section at u whose height is z, with a point
// of the panel that it was found in.
func rayRoots(s Surface, u, z float64, visit func(uv, in UV)) {
	_, vs, _ := s.Breaks()
	for k := 0; k+1 < len(vs); k++ {
		in := UV{u, (vs[k] + vs[k+1]) / 2}
		height := func(v float64) float64 { q, _ := s.At(UV{u, v}, in); return q.Z - z }
		steps := searchSteps(s, u, vs[k], vs[k+1])
		last, prev := vs[k], height(vs[k])
		for i := 1; i <= steps; i++ {
			v := vs[k] + (vs[k+1]-vs[k])*float64(i)/float64(steps)
			d := height(v)
			if (prev <= 0) != (d <= 0) {
				visit(UV{u, bisect(height, last, v)}, in)
			}
			last, prev = v, d
		}
	}
}

// seenRange returns the lowest and the highest point of one side of the section
// at u.
func seenRange(s Surface, side g.Side, u float64) (lo, hi float64) {
	_, vs, _ := s.Breaks()
	lo, hi = math.Inf(1), math.Inf(-1)
	for k := 0; k+1 < len(vs); k++ {
		in := UV{u, (vs[k] + vs[k+1]) / 2}
		steps := searchSteps(s, u, vs[k], vs[k+1])
		for i := 0; i <= steps; i++ {
			p, _ := s.At(UV{u, vs[k] + (vs[k+1]-vs[k])*float64(i)/float64(steps)}, in)
			if p.Y*side.Sign() >= -1e-9 {
				lo, hi = min(lo, p.Z), max(hi, p.Z)
			}
		}
	}
	return lo, hi
}

// searchSteps returns in how many steps a panel is searched at station u: a step
// for every eighth of a radian that its normal turns, two at least.
func searchSteps(s Surface, u, v0, v1 float64) int {
	const n = 4
	mid := UV{u, (v0 + v1) / 2}
	turn := 0.0
	_, last := s.At(UV{u, v0}, mid)
	for i := 1; i <= n; i++ {
		_, now := s.At(UV{u, v0 + (v1-v0)*float64(i)/n}, mid)
		turn += same.Acos(max(-1, min(1, now.Dot(last))))
		last = now
	}
	return max(2, int(math.Ceil(turn*8)))
}

// bisect returns a root of f in [a, b], where f changes sign, to the last bit
// that halving reaches; the false-position steps only make it fast.
func bisect(f func(float64) float64, a, b float64) float64 {
	fa, fb := f(a), f(b)
	if fa == 0 {
		return a
	}
	if fb == 0 {
		return b
	}
	for i := 0; i < 200 && math.Abs(b-a) > 1e-14*(1+math.Abs(a)+math.Abs(b)); i++ {
		m := (a + b) / 2
		if i%2 == 1 && fa != fb {
			if s := a - fa*(b-a)/(fb-fa); s > min(a, b) && s < max(a, b) {
				m = s
			}
		}
		fm := f(m)
		if fm == 0 {
			return m
		}
		if (fm < 0) == (fa < 0) {
			a, fa = m, fm
		} else {
			b, fb = m, fm
		}
	}
	return (a + b) / 2
}

// SeenHeights returns the lowest and the highest waterline of one side of the
// section at a station.
func SeenHeights(s Surface, side g.Side, fs g.Station) (lo, hi float64) {
	return seenRange(s, side, fs.Inches())
}
