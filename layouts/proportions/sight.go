package proportions

import (
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// covers tells whether q lies in a part of the rule's own drawing.
func (t *template) covers(q geometry.Point) bool {
	return slices.ContainsFunc(t.layers, func(l layer) bool { return geometry.Inside(q, l.rings...) })
}

// sees tells whether a boundary of a part is in sight between two points beside
// it: the part ends there, no later part covers both sides, and the paints that
// show on either side differ.
func (t *template) sees(part int, left, right geometry.Point) bool {
	return geometry.Inside(left, t.layers[part].rings...) != geometry.Inside(right, t.layers[part].rings...) && t.shows(left) != t.shows(right) &&
		!slices.ContainsFunc(t.layers[part+1:], func(l layer) bool { return geometry.Inside(left, l.rings...) && geometry.Inside(right, l.rings...) })
}

// shows returns the paint that shows at q; none on what is not painted.
func (t *template) shows(q geometry.Point) string {
	for i := len(t.layers) - 1; i >= 0; i-- {
		if l := t.layers[i]; geometry.Inside(q, l.rings...) {
			if l.paint == standards.Unpainted {
				return ""
			}
			return l.paint
		}
	}
	return ""
}

// see finds the stretches of an edge in sight.
func (t *template) see(f *feature) {
	length, side := f.length, f.dir.Perp().Scale(sightStep)
	open := false
	for k := range sightPoints {
		q := f.a.Lerp(f.b, (float64(k)+0.5)/sightPoints)
		if !t.sees(f.part, q.Add(side), q.Add(side.Scale(-1))) {
			open = false
			continue
		}
		if !open {
			f.seen, open = append(f.seen, [2]float64{float64(k) / sightPoints * length, 0}), true
		}
		f.seen[len(f.seen)-1][1] = float64(k+1) / sightPoints * length
		f.sight += length / sightPoints
	}
}

// seeCircle finds how much of a circle is in sight.
func (t *template) seeCircle(f *feature) {
	for k := range circlePoints {
		a := 2 * math.Pi * (float64(k) + 0.5) / circlePoints
		if t.sees(f.part, polar(f.radius-sightStep, a), polar(f.radius+sightStep, a)) {
			f.sight += 2 * math.Pi * f.radius / circlePoints
		}
	}
}

// inSight tells whether anything of a part is in the drawing.
func (t *template) inSight(part int) bool {
	return slices.ContainsFunc(t.features, func(f feature) bool { return f.part == part && f.sight > 0 })
}

// adjoin finds the lines that edges of adjoining parts make together: such as the
// upper edge of a flash of three boxes.
func (t *template) adjoin() {
	for i := range t.features {
		f := &t.features[i]
		if f.circle || f.order <= inChevron {
			continue
		}
		from, to := 0.0, f.length
		for range t.features { // each may touch the one found before
			grown := false
			for _, g := range t.features {
				if g.circle || g.order != f.order || math.Abs(f.dir.Cross(g.dir)) > 1e-9 || math.Abs(f.dir.Cross(g.a.Sub(f.a))) > sameEdge {
					continue
				}
				u, v := g.a.Sub(f.a).Dot(f.dir), g.b.Sub(f.a).Dot(f.dir)
				u, v = math.Min(u, v), math.Max(u, v)
				if u <= to+sameEdge && v >= from-sameEdge && (u < from-sameEdge || v > to+sameEdge) {
					from, to, grown = math.Min(from, u), math.Max(to, v), true
				}
			}
			if !grown {
				break
			}
		}
		f.reach = to - from
	}
}

// radial tells whether an edge runs outward from the centre.
func (f feature) radial() bool {
	return !f.circle && math.Min(f.a.Dist(geometry.Point{}), f.b.Dist(geometry.Point{})) < sameEdge*f.length
}

// endsOf returns the ends of an edge: of all of it, and of each stretch in sight
// where that is less.
func endsOf(f feature) [][2]geometry.Point {
	out := [][2]geometry.Point{{f.a, f.b}}
	for _, w := range f.seen {
		if w[1]-w[0] < f.length*(1-1.5/sightPoints) {
			out = append(out, [2]geometry.Point{f.a.Add(f.dir.Scale(w[0])), f.a.Add(f.dir.Scale(w[1]))})
		}
	}
	return out
}
