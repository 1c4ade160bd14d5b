package proportions

import (
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts/standards"
)

// barsEdges returns the rectangle of a pair of bars, joined behind the disc.
func (t *template) barsEdges(p string) geometry.Rect {
	end, top := t.values[p+".start"]+t.values[p+".length"], t.values[p+".top"]
	return geometry.Rect{Min: at(-end, top-t.values[p+".width"]), Max: at(end, top)}
}

func traceBars(t tracing) { t.box("", t.barsEdges(t.ID), inBand) }

func measureBars(m *matched, p standards.Part) []dimension {
	var out []dimension
	top, topErr, topRMS, okTop := m.placeOf(p.ID+".top", up)
	bottom, bottomErr, bottomRMS, okBottom := m.placeOf(p.ID+".bottom", up)
	side := 0.0 // where a dimension line stands
	length := one(p, "length", "length of the bars")
	length.base = m.values[p.ID+".start"]
	length.raw = func(v values) float64 { return v[p.ID+".start"] + v[p.ID+".length"] }
	left, leftErr, leftRMS, okLeft := m.placeOf(p.ID+".left", ahead)
	right, rightErr, rightRMS, okRight := m.placeOf(p.ID+".right", aft)
	switch {
	case okLeft && okRight:
		length.found, length.err, length.rms = (left+right)/2, same.Hypot(leftErr, rightErr)/2, math.Max(leftRMS, rightRMS)
		side = right
	case okLeft:
		length.found, length.err, length.rms, side = left, leftErr, leftRMS, left
	case okRight:
		length.found, length.err, length.rms, side = right, rightErr, rightRMS, right
	}
	if okLeft || okRight {
		length.line = [2]geometry.Point{at(length.base, top), at(side, top)}
		out = append(out, length)
	}
	if okLeft && okRight { // each by itself where they are not alike
		for _, e := range []struct {
			what       string
			x, err, to float64
		}{{"length of the left bar", left, leftErr, -1}, {"length of the right bar", right, rightErr, 1}} {
			if d := length; math.Abs(left-right) > float64(defaultTolerance*2*math.Abs(d.found))+trusted*same.Hypot(leftErr, rightErr) {
				d.what, d.found, d.err = e.what, e.x, e.err
				d.line = [2]geometry.Point{at(e.to*d.base, top), at(e.to*e.x, top)}
				out = append(out, d)
			}
		}
	}
	if okTop && okBottom {
		d := one(p, "width", "width of the bars")
		d.found, d.err, d.rms = top-bottom, same.Hypot(topErr, bottomErr), math.Max(topRMS, bottomRMS)
		x := (side + 1) / 2
		d.line = [2]geometry.Point{at(x, bottom), at(x, top)}
		out = append(out, d)
	}
	if okTop {
		d := one(p, "top", "upper edge of the bars above the centre")
		d.found, d.err, d.rms = top, topErr, topRMS
		d.line = [2]geometry.Point{at(side, 0), at(side, top)}
		out = append(out, d)
	}
	return out
}

func traceStripe(t tracing) {
	for _, id := range t.Of {
		r := t.barsEdges(id)
		middle, half := (r.Min.Y+r.Max.Y)/2+t.get("centre"), t.get("width")/2
		t.edge(id+".top", at(r.Min.X, middle+half), at(r.Max.X, middle+half), inBand)
		t.edge(id+".bottom", at(r.Min.X, middle-half), at(r.Max.X, middle-half), inBand)
	}
}

func measureStripe(m *matched, p standards.Part) []dimension {
	var out []dimension
	for _, id := range p.Of {
		top, e1, r1, ok1 := m.placeOf(p.ID+"."+id+".top", up)
		bottom, e2, r2, ok2 := m.placeOf(p.ID+"."+id+".bottom", up)
		if !ok1 || !ok2 {
			continue
		}
		d := one(p, "width", "width of the stripe")
		d.found, d.err, d.rms = top-bottom, same.Hypot(e1, e2), math.Max(r1, r2)
		x := m.barsEdges(id).Max.X * 0.75
		d.line = [2]geometry.Point{at(x, bottom), at(x, top)}
		out = append(out, d)
		upper, e3, _, ok3 := m.placeOf(id+".top", up)
		lower, e4, _, ok4 := m.placeOf(id+".bottom", up)
		if !ok3 || !ok4 {
			continue
		}
		c := one(p, "centre", "middle of the stripe above the middle of the bar")
		c.found = (top+bottom)/2 - (upper+lower)/2
		c.err, c.rms = same.Hypot(same.Hypot(e1, e2), same.Hypot(e3, e4))/2, d.rms
		c.over = m.values[id+".width"] // the number itself may be 0
		c.line = [2]geometry.Point{at(x, (upper+lower)/2), at(x, (top+bottom)/2)}
		out = append(out, c)
	}
	return out
}

func traceBorder(t tracing) {
	w := t.get("width")
	for _, id := range t.Of {
		switch q, _ := t.rule.Part(id); q.Kind {
		case standards.Disc:
			t.circle(id, t.radiusOf(q)+w)
		case standards.Bars:
			t.box(id+".", t.barsEdges(id).Grown(w), inBand)
		}
	}
}

func measureBorder(m *matched, p standards.Part) []dimension {
	var sides []dimension
	put := func(what string, found, err, rms float64, line [2]geometry.Point) {
		d := one(p, "width", what)
		d.found, d.err, d.rms, d.line = found, err, rms, line
		sides = append(sides, d)
	}
	for _, id := range p.Of {
		q, _ := m.rule.Part(id)
		if q.Kind == standards.Disc {
			outer, e1, ok1 := m.circleOf(p.ID + "." + id)
			inner, e2, ok2 := m.circleOf(id + ".edge")
			if ok1 && ok2 {
				put("width of the border round the disc", outer.radius-inner.radius, same.Hypot(e1, e2), math.Max(outer.rms, inner.rms),
					[2]geometry.Point{at(0, inner.radius), at(0, outer.radius)})
			}
			continue
		}
		r := m.barsEdges(id)
		x, y := (1+r.Max.X)/2, r.Centre().Y
		for _, e := range []struct {
			edge, what string
			out        geometry.Vec
			from       geometry.Point
		}{
			{"top", "width of the border above the bars", up, at(x, r.Max.Y)},
			{"bottom", "width of the border below the bars", down, at(x, r.Min.Y)},
			{"left", "width of the border at the end of the left bar", ahead, at(r.Min.X, y)},
			{"right", "width of the border at the end of the right bar", aft, at(r.Max.X, y)},
		} {
			outer, e1, r1, ok1 := m.placeOf(p.ID+"."+id+"."+e.edge, e.out)
			inner, e2, r2, ok2 := m.placeOf(id+"."+e.edge, e.out)
			if ok1 && ok2 {
				put(e.what, outer-inner, same.Hypot(e1, e2), math.Max(r1, r2), [2]geometry.Point{e.from, e.from.Add(e.out.Scale(outer - inner))})
			}
		}
	}
	out := append(mean(sides, "width of the border, mean of its sides"), sides...)
	for _, id := range p.Of { // drawings with a border round the bars only exist (from memory)
		if !m.hasAround(p.ID, id) && len(out) > 0 {
			if d := out[0]; math.Abs(d.found-m.values[p.ID+".width"]) > farOff*m.values[p.ID+".width"] {
				return nil // a rectangle that stands round the bars, such as the edge of a film
			}
			d := one(p, "width", "the border does not go round the "+id)
			d.absent = true
			out = append(out, d)
		}
	}
	return out
}

// hasAround tells whether a border was found round a part, unless that is no disc
// or the border is not in sight there.
func (m *matched) hasAround(border, id string) bool {
	p, _ := m.rule.Part(id)
	i, ok := m.byName[border+"."+id]
	if p.Kind != standards.Disc || !ok || m.features[i].sight == 0 {
		return true
	}
	_, found := m.circles[i]
	return found
}
