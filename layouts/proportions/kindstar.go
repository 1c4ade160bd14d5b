package proportions

import (
	"fmt"
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts/standards"
)

// starCorners returns the corners of a star, tip 0 first, tips at even places.
func (t *template) starCorners(id string) []geometry.Point {
	n := int(t.values[id+".points"])
	step, first := math.Pi/float64(n), t.values[id+".first"]*math.Pi/180
	out := make([]geometry.Point, 0, 2*n)
	for i := range 2 * n {
		r := t.values[id+".outer"]
		if i%2 == 1 {
			r = t.values[id+".inner"]
		}
		out = append(out, polar(r, first+float64(float64(i)*step)))
	}
	return out
}

func traceStar(t tracing) { t.polygon("edge", t.starCorners(t.ID), alone) }

func measureStar(m *matched, p standards.Part) []dimension {
	want := m.starCorners(p.ID)
	n := len(want)
	edge := func(i int) string { return fmt.Sprintf("%s.edge%d", p.ID, (i+n)%n) }
	outer, inner := one(p, "outer", "radius of the points"), one(p, "inner", "radius of the inner corners")
	var counts [2]int
	corners := map[int]geometry.Point{}
	worstErr := 0.0
	for i := range n {
		q, err, rms, ok := m.corner(edge(i-1), edge(i))
		if !ok {
			continue
		}
		corners[i] = q
		d := &outer
		if i%2 == 1 {
			d = &inner
		}
		r := q.Dist(geometry.Point{})
		counts[i%2]++
		d.found += r
		d.err = same.Hypot(d.err, err)
		d.rms, worstErr = math.Max(d.rms, rms), math.Max(worstErr, err)
		if counts[i%2] == 1 {
			d.line = [2]geometry.Point{{}, q}
		}
	}
	if counts[0] == 0 || counts[1] == 0 {
		return nil
	}
	for k, d := range []*dimension{&outer, &inner} {
		d.found, d.err = d.found/float64(counts[k]), d.err/float64(counts[k])
	}
	turn := turnOf(want, corners)
	out := append([]dimension{outer, inner}, regularity(p, want, corners, [2]float64{outer.found, inner.found}, turn, worstErr)...)
	if m.hasBand() { // else the star itself tells which way is up
		d := one(p, "first", "direction of the star against the bars")
		raw := d.raw
		d.raw = func(v values) float64 { return raw(v) * math.Pi / 180 }
		d.found, d.arm, d.over = d.raw(m.values)+turn, outer.found, 4*math.Pi/float64(n)
		d.err, d.rms = worstErr/(inner.found*math.Sqrt(float64(len(corners)))), outer.rms
		d.line = [2]geometry.Point{{}, polar(outer.found, d.found)}
		out = append(out, d)
	}
	return out
}

// hasBand tells whether edges of bars were found, which say how the rule's
// drawing stands.
func (m *matched) hasBand() bool {
	for i, f := range m.features {
		if _, ok := m.lines[i]; ok && f.order == inBand {
			return true
		}
	}
	return false
}

// turnOf returns how far the corners found are turned from those of the rule,
// radians counter-clockwise.
func turnOf(want []geometry.Point, corners map[int]geometry.Point) float64 {
	turn := 0.0
	for i := range want {
		if q, ok := corners[i]; ok {
			w, v := want[i].Sub(geometry.Point{}), q.Sub(geometry.Point{})
			turn += same.Atan2(w.Cross(v), w.Dot(v)) / float64(len(corners))
		}
	}
	return turn
}

// regularity measures how far the corner that is farthest from its place is from
// it, the places being those of a regular star of the radii found, turned to fit.
func regularity(p standards.Part, want []geometry.Point, corners map[int]geometry.Point, radii [2]float64, turn, err float64) []dimension {
	d := dimension{part: p.ID, name: "points", what: "regularity: the corner farthest from its place", exact: true, over: 1, err: err, raw: func(values) float64 { return 0 }}
	for i, w := range want {
		q, ok := corners[i]
		if !ok {
			continue
		}
		place := polar(radii[i%2], same.Atan2(w.Y, w.X)+turn)
		if off := q.Dist(place); off > d.found {
			d.found, d.line = off, [2]geometry.Point{place, q}
		}
	}
	return []dimension{d}
}
