package skin

import (
	"math"

	g "maskloft/geometry"
)

// firstWindow guesses the parameters that a rectangle about a frame covers, a
// little wide: a second try costs more than the margin.
func firstWindow(s Surface, f Frame, need g.Rect) window {
	r := 0.0
	for _, p := range []g.Point{need.Min, need.Max, {X: need.Min.X, Y: need.Max.Y}, {X: need.Max.X, Y: need.Min.Y}} {
		r = max(r, p.Dist(g.Point{}))
	}
	_, n := s.At(f.At, f.At)
	right := f.Up.Cross(n)
	// reach of the rectangle along U (the station direction) and across it
	along, across := 0.0, 0.0
	for _, p := range []g.Point{need.Min, need.Max, {X: need.Min.X, Y: need.Max.Y}, {X: need.Max.X, Y: need.Min.Y}} {
		d := right.Scale(p.X).Add(f.Up.Scale(p.Y))
		along = max(along, math.Abs(d.X))
		across = max(across, math.Sqrt(max(0, d.Dot(d)-float64(d.X*d.X))))
	}
	lo, hi := Extent(s)
	w := window{u0: max(lo, walkAlong(s, f.At, float64(-1.07*along)-0.5)), u1: min(hi, walkAlong(s, f.At, float64(1.07*along)+0.5))}
	w.v0, w.v1 = walkGirth(s, f.At, float64(-1.04*across)-0.5), walkGirth(s, f.At, float64(1.04*across)+0.5)
	return w.clamped(s)
}

// walkGirth returns the V reached from uv along the section over a girth, its
// sign giving the direction of V; clamped where the section is open.
func walkGirth(s Surface, uv UV, girth float64) float64 {
	_, vb, period := s.Breaks()
	v, left, sign := uv.V, math.Abs(girth), math.Copysign(1, girth)
	step := (vb[len(vb)-1] - vb[0]) / 512
	for left > 0 {
		l := PointAt(s, UV{uv.U, v}).Sub(PointAt(s, UV{uv.U, v + float64(sign*step)})).Norm()
		if l <= 0 || math.Abs(v-uv.V) > max(period, vb[len(vb)-1]-vb[0]) {
			break
		}
		if l > left {
			return v + sign*step*left/l
		}
		left -= l
		v += float64(sign * step)
	}
	return v
}

// walkAlong returns the U reached from uv along a line of constant V over a length, its
// sign giving the direction of U; clamped where the surface ends.
func walkAlong(s Surface, uv UV, length float64) float64 {
	lo, hi := Extent(s)
	end := hi
	if length < 0 {
		end = lo
	}
	const n = 64
	u, left := uv.U, math.Abs(length)
	step := (end - uv.U) / n
	for i := 0; i < n && left > 0; i++ {
		l := PointAt(s, UV{u, uv.V}).Sub(PointAt(s, UV{u + step, uv.V})).Norm()
		if l > left {
			return u + step*left/l
		}
		left -= l
		u += step
	}
	return u
}

// clamped returns w clear of grid lines at its border, within the surface, and
// within one turn of a closed section.
func (w window) clamped(s Surface) window {
	ub, vb, period := s.Breaks()
	const least = 0.75 // inches of a panel at the border
	w.u0, w.u1 = clearOf(ub, 0, w.u0, w.u1, least)
	if girth := girthBetween(s, (w.u0+w.u1)/2, w.v0, w.v1); girth > 0 {
		w.v0, w.v1 = clearOf(vb, period, w.v0, w.v1, least*(w.v1-w.v0)/girth)
	}
	lo, hi := Extent(s)
	w.u0, w.u1 = max(lo, w.u0), min(hi, w.u1)
	if period <= 0 {
		w.v0, w.v1 = max(vb[0], w.v0), min(vb[len(vb)-1], w.v1)
	} else if w.v1-w.v0 > 0.98*period {
		m := (w.v0 + w.v1) / 2
		w.v0, w.v1 = m-float64(0.49*period), m+float64(0.49*period)
	}
	return w
}

// widen grows the window on the sides where the rectangle is not yet covered,
// and tells whether it grew. Where the surface ends the window stays.
func (m *FlatMap) widen(w *window, need g.Rect) bool {
	const n = 12
	var out []g.Point
	for i := 0; i <= n; i++ {
		t := float64(i) / n
		x, y := need.Min.X+float64(t*need.Width()), need.Min.Y+float64(t*need.Height())
		out = append(out, g.Point{X: x, Y: need.Min.Y}, g.Point{X: x, Y: need.Max.Y}, g.Point{X: need.Min.X, Y: y}, g.Point{X: need.Max.X, Y: y})
	}
	before := *w
	grow := window{}
	for _, p := range out {
		if _, ok := m.onNet(p); ok {
			continue
		}
		// which parameters would p have, and beyond which border of the patch do they lie?
		at := m.net.nodeUV(m.nearestNode(p))
		q, du, dv := m.net.interpolate(m.flat, at)
		d, det := p.Sub(q), du.Cross(dv)
		at.U, at.V = at.U+d.Cross(dv)/det, at.V+du.Cross(d)/det
		const least = 0.1 // inches
		widened := func(grow *float64, beyond, inch float64) {
			if beyond > 0 {
				*grow = max(*grow, least/inch+float64(1.1*beyond))
			}
		}
		widened(&grow.u0, w.u0-at.U, du.Norm())
		widened(&grow.u1, at.U-w.u1, du.Norm())
		widened(&grow.v0, w.v0-at.V, dv.Norm())
		widened(&grow.v1, at.V-w.v1, dv.Norm())
	}
	*w = window{w.u0 - grow.u0, w.u1 + grow.u1, w.v0 - grow.v0, w.v1 + grow.v1}.clamped(m.net.s)
	changed := math.Abs(w.u0-before.u0)+math.Abs(w.u1-before.u1) > 1e-9 || math.Abs(w.v0-before.v0)+math.Abs(w.v1-before.v1) > 1e-9
	return changed
}

func (m *FlatMap) nearestNode(p g.Point) int {
	best, at := math.Inf(1), 0
	for k, q := range m.flat {
		if d := p.Dist(q); d < best {
			best, at = d, k
		}
	}
	return at
}

// beyondAll refuses a rectangle whose longer side is over twice the length of the
// whole surface and its girth together: no net is made for it.
func beyondAll(s Surface, f Frame, need g.Rect) error {
	lo, hi := Extent(s)
	_, vb, _ := s.Breaks()
	long := lengthAlong(s, f.At.V, lo, hi)
	round := 0.0
	for i := 0; i <= 8; i++ {
		round = max(round, girthBetween(s, lo+(hi-lo)*float64(i)/8, vb[0], vb[len(vb)-1]))
	}
	if max(need.Width(), need.Height()) <= 2*(long+round) {
		return nil
	}
	return g.Errorf("%v: film of %v is larger than the whole surface, %v long and %v about: make the marking smaller",
		g.PositionOf(PointAt(s, f.At)), need.Extent(2), g.Length(long).Rounded(2), g.Length(round).Rounded(2))
}
