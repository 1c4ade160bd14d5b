package proportions

import (
	"fmt"
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts/standards"
)

func traceBox(t tracing) {
	t.box("", geometry.Rect{Min: at(t.get("left"), t.get("bottom")), Max: at(t.get("right"), t.get("top"))}, inBoxes)
}

// measureBox measures where each edge of a box lies from the centre. A box of which
// two edges are lacking is none.
func measureBox(m *matched, p standards.Part) []dimension {
	get := func(name string) float64 { return m.values[p.ID+"."+name] }
	wide, high := get("right")-get("left"), get("top")-get("bottom")
	middle := at((get("left")+get("right"))/2, (get("bottom")+get("top"))/2)
	var out, lacking []dimension
	for _, e := range []struct {
		name, what string
		way        geometry.Vec
		over       float64
		foot       geometry.Point
	}{
		{"left", "left edge, right of the centre", aft, wide, at(0, middle.Y)},
		{"right", "right edge, right of the centre", aft, wide, at(0, middle.Y)},
		{"bottom", "lower edge, above the centre", up, high, at(middle.X, 0)},
		{"top", "upper edge, above the centre", up, high, at(middle.X, 0)},
	} {
		place, err, rms, ok := m.placeOf(p.ID+"."+e.name, e.way)
		if !ok {
			lacking = m.lacks(lacking, p, e.name, e.name, e.over)
			continue
		}
		d := one(p, e.name, e.what)
		d.found, d.err, d.rms, d.over = place, err, rms, e.over
		d.line = [2]geometry.Point{e.foot, e.foot.Add(e.way.Scale(place))}
		out = append(out, d)
	}
	if len(lacking) > 1 {
		return nil
	}
	return append(out, lacking...)
}

// lacks adds to a list that an edge which is in sight is not in the drawing.
func (m *matched) lacks(list []dimension, p standards.Part, edge, name string, over float64) []dimension {
	if m.features[m.byName[p.ID+"."+edge]].sight == 0 {
		return list
	}
	d := one(p, name, "the edge "+edge+" is not in the drawing")
	d.absent, d.over = true, over
	return append(list, d)
}

// Edges of a cross: the long sides of both arms from end to end, and the ends.
const (
	levelUpper   = ".level-upper"
	levelLower   = ".level-lower"
	uprightLeft  = ".upright-left"
	uprightRight = ".upright-right"
	endLeft      = ".end-left"
	endRight     = ".end-right"
	endLower     = ".end-lower"
	endUpper     = ".end-upper"
)

func traceCross(t tracing) {
	s, w := t.get("span")/2, t.get("width")/2
	put := func(name string, a, b geometry.Point) { t.edge(name[1:], a, b, inCross) }
	put(levelUpper, at(-s, w), at(s, w))
	put(levelLower, at(-s, -w), at(s, -w))
	put(uprightLeft, at(-w, -s), at(-w, s))
	put(uprightRight, at(w, -s), at(w, s))
	put(endLeft, at(-s, -w), at(-s, w))
	put(endRight, at(s, -w), at(s, w))
	put(endLower, at(-w, -s), at(w, -s))
	put(endUpper, at(-w, s), at(w, s))
}

// measureCross measures span and width along both arms, and how far the middle of
// an arm lies from the centre. A cross that lacks edges of two of them is none.
func measureCross(m *matched, p standards.Part) []dimension {
	var spans, widths, off, lacking []dimension
	for _, e := range []struct {
		what, low, high string
		way             geometry.Vec
		name            string
	}{
		{"span of the level arms", endLeft, endRight, aft, "span"},
		{"span of the upright arms", endLower, endUpper, up, "span"},
		{"width of the level arms", levelLower, levelUpper, up, "width"},
		{"width of the upright arms", uprightLeft, uprightRight, aft, "width"},
	} {
		low, e1, r1, ok1 := m.placeOf(p.ID+e.low, e.way)
		high, e2, r2, ok2 := m.placeOf(p.ID+e.high, e.way)
		if !ok1 || !ok2 {
			edge := e.low
			if ok1 {
				edge = e.high
			}
			lacking = m.lacks(lacking, p, edge[1:], e.name, m.values[p.ID+".span"])
			continue
		}
		d := one(p, e.name, e.what)
		d.found, d.err, d.rms = high-low, same.Hypot(e1, e2), math.Max(r1, r2)
		list, foot := &spans, geometry.Point{}
		if e.name == "width" { // across an arm, towards its end
			list, foot = &widths, foot.Add(e.way.Perp().Scale(0.75*m.values[p.ID+".span"]/2))
		}
		from, to := foot.Add(e.way.Scale(low)), foot.Add(e.way.Scale(high))
		d.line = [2]geometry.Point{from, to}
		*list = append(*list, d)
		off = append(off, dimension{
			part: p.ID, name: "middle", what: "middle of the " + e.what + " from the centre", exact: true, raw: func(values) float64 { return 0 },
			found: math.Abs(low+high) / 2, err: d.err / 2, rms: d.rms, over: m.values[p.ID+".span"], line: [2]geometry.Point{{}, from.Lerp(to, 0.5)},
		})
	}
	if len(lacking) > 1 {
		return nil
	}
	out := append(mean(spans, "span, mean of both arms"), spans...)
	out = append(append(out, mean(widths, "width of the arms, mean of both")...), widths...)
	if worst := farthest(off); worst != nil {
		out = append(out, *worst)
	}
	return append(out, lacking...)
}

// farthest returns the dimension with the largest value found; nil for none.
func farthest(list []dimension) *dimension {
	var worst *dimension
	for i := range list {
		if worst == nil || list[i].found > worst.found {
			worst = &list[i]
		}
	}
	return worst
}

func traceSector(t tracing) {
	t.circle("arc", t.get("radius"))
	for _, name := range []string{"from", "to"} {
		t.edge(name, at(0, 0), polar(t.get("radius"), t.get(name)*math.Pi/180), alone)
	}
}

// measureSector measures the radius, and the directions in which the straight
// edges run outward.
func measureSector(m *matched, p standards.Part) []dimension {
	_, ok1 := m.lineOf(p.ID + ".from")
	_, ok2 := m.lineOf(p.ID + ".to")
	if !ok1 && !ok2 {
		return nil // the circle alone is a disc
	}
	out := m.radius(p, "radius", "radius", "arc")
	radius := m.values[p.ID+".radius"]
	sweep := (m.values[p.ID+".to"] - m.values[p.ID+".from"]) * math.Pi / 180
	for _, name := range []string{"from", "to"} {
		f, ok := m.lineOf(p.ID + "." + name)
		if !ok {
			continue
		}
		d := one(p, name, "direction of the edge that the sector runs "+name)
		raw := d.raw
		d.raw = func(v values) float64 { return raw(v) * math.Pi / 180 }
		want, place := d.raw(m.values), f.middle()
		d.found = want + math.Remainder(same.Atan2(place.Y, place.X)-want, 2*math.Pi)
		d.err = same.Hypot(f.errorAt(place, m.noise(f)), m.centreError()) / math.Max(place.Dist(geometry.Point{}), 1e-9)
		d.rms, d.arm, d.over = f.rms, radius, sweep
		d.line = [2]geometry.Point{{}, polar(radius, d.found)}
		out = append(out, d)
	}
	return out
}

// ngonCorners returns the corners of a regular polygon.
func (t *template) ngonCorners(id string) []geometry.Point {
	n := int(t.values[id+".points"])
	out := make([]geometry.Point, n)
	for i := range out {
		out[i] = polar(t.values[id+".radius"], t.values[id+".first"]*math.Pi/180+2*math.Pi*float64(i)/float64(n))
	}
	return out
}

func traceNgon(t tracing) { t.polygon("edge", t.ngonCorners(t.ID), alone) }

// measureNgon measures the radius to the corners, and how regular they stand.
func measureNgon(m *matched, p standards.Part) []dimension {
	want := m.ngonCorners(p.ID)
	n := len(want)
	corners := map[int]geometry.Point{}
	d := one(p, "radius", "radius of the corners")
	worst := 0.0
	for i := range n {
		q, err, rms, ok := m.corner(fmt.Sprintf("%s.edge%d", p.ID, (i+n-1)%n), fmt.Sprintf("%s.edge%d", p.ID, i))
		if !ok {
			continue
		}
		corners[i] = q
		d.found += q.Dist(geometry.Point{})
		d.err, d.rms, worst = same.Hypot(d.err, err), math.Max(d.rms, rms), math.Max(worst, err)
		d.line = [2]geometry.Point{{}, q}
	}
	if len(corners) < 2 {
		return nil
	}
	d.found, d.err = d.found/float64(len(corners)), d.err/float64(len(corners))
	return append([]dimension{d}, regularity(p, want, corners, [2]float64{d.found, d.found}, turnOf(want, corners), worst)...)
}
