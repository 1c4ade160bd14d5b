package proportions

import (
	"cmp"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// matchEdges finds the straight features.
func (m *matched) matchEdges(lines []straight) {
	done := map[int]bool{}
	for i, f := range m.features {
		switch {
		case f.circle || done[i] || f.sight == 0:
		case f.order == alone:
			m.refit(i, m.alone(f, lines))
		default:
			var class []int
			for j, g := range m.features {
				if !g.circle && g.sight > 0 && g.order == f.order && math.Abs(f.dir.Cross(g.dir)) < same.Sin(angleFar) {
					class, done[j] = append(class, j), true
				}
			}
			m.matchAcross(class, lines)
		}
	}
}

// alone returns the runs that are an edge matched by itself: those that lie
// where the nearest does. A run much longer than the edge costs, for it is
// likely another edge's, but it may be two edges in one line.
func (m *matched) alone(f feature, lines []straight) []straight {
	best, at := math.Inf(1), 0.0
	for _, s := range lines {
		off, angle, ok := f.meets(s)
		if !ok || math.Abs(off) > offsetAlone {
			continue
		}
		spare := math.Max(0, 1-f.length/s.length())
		if c := math.Abs(off) + float64(0.2*math.Abs(angle)) + float64(0.1*spare); spare < 0.7 && c < best {
			best, at = c, off
		}
	}
	var out []straight
	for _, s := range lines {
		off, _, ok := f.meets(s)
		if ok && math.Abs(off-at) <= sameEdge && s.length() <= longestEdge*f.length {
			out = append(out, s)
		}
	}
	if len(out) == 0 && !math.IsInf(best, 1) {
		for _, s := range lines {
			if off, _, ok := f.meets(s); ok && off == at {
				out = append(out, s)
			}
		}
	}
	return out
}

// across is all runs on one line, among those parallel.
type across struct {
	off     float64
	support float64
	runs    []int
}

// matchAcross matches parallel edges of a rule with those of the drawing in
// their order.
func (m *matched) matchAcross(class []int, lines []straight) {
	n := m.features[class[0]].dir.Perp()
	place := func(f feature) float64 { return f.a.Lerp(f.b, 0.5).Sub(geometry.Point{}).Dot(n) }
	slices.SortStableFunc(class, func(a, b int) int { return cmp.Compare(place(m.features[a]), place(m.features[b])) })

	var levels []across
	for k, s := range lines {
		fits, length, off := false, 0.0, 0.0
		for _, i := range class {
			f := m.features[i]
			o, _, ok := f.meets(s)
			if ok && math.Abs(o) <= offsetFar && s.length() <= longestEdge*f.reach {
				fits, length = true, math.Max(length, f.sight)
				off = s.fit.at.Sub(geometry.Point{}).Dot(n)
			}
		}
		if fits {
			levels = append(levels, across{off: off, support: s.length() / length, runs: []int{k}})
		}
	}
	slices.SortStableFunc(levels, func(a, b across) int { return cmp.Compare(a.off, b.off) })
	var joined []across
	for _, l := range levels {
		if k := len(joined) - 1; k >= 0 && l.off-joined[k].off <= sameEdge {
			j := &joined[k]
			j.off = (float64(j.off*j.support) + float64(l.off*l.support)) / (j.support + l.support)
			j.support, j.runs = j.support+l.support, append(j.runs, l.runs...)
			continue
		}
		joined = append(joined, l)
	}

	var want, got, skip []float64
	var groups [][]int // features in one line, which runs of one line are taken for
	for _, i := range class {
		p := place(m.features[i])
		if k := len(want) - 1; k >= 0 && p-want[k] < sameEdge {
			groups[k] = append(groups[k], i)
			continue
		}
		want, groups = append(want, p), append(groups, []int{i})
	}
	for _, l := range joined {
		got, skip = append(got, l.off), append(skip, costIgnored*math.Min(1, l.support))
	}
	of := func(i, j int) []straight {
		var out []straight
		f := m.features[i]
		for _, k := range joined[j].runs {
			if off, _, ok := f.meets(lines[k]); ok && math.Abs(off) <= offsetFar && lines[k].length() <= longestEdge*f.reach {
				out = append(out, lines[k])
			}
		}
		return out
	}
	// share returns how much of a feature's length in sight a line has.
	share := func(i, j int) float64 {
		length := 0.0
		for _, s := range of(i, j) {
			length += s.length()
		}
		return math.Min(1, length/m.features[i].sight)
	}
	taken := align(want, got, skip, func(i, j int) float64 {
		best := 0.0
		for _, k := range groups[i] {
			best = math.Max(best, share(k, j))
		}
		if best == 0 {
			return math.Inf(1)
		}
		// A run of about the feature's length in sight is more likely it.
		return math.Abs(want[i]-got[j]) + float64(0.3*(1-best))
	})
	used := map[int]bool{}
	for _, j := range taken {
		if j >= 0 {
			used[j] = true
		}
	}
	for g, j := range taken {
		for _, i := range groups[g] {
			if k := m.astray(i, j, joined, used, lines); len(groups[g]) > 1 && k >= 0 {
				used[k] = true
				m.refit(i, of(i, k))
			} else if j >= 0 {
				m.refit(i, of(i, j))
			}
		}
	}
	for j, l := range joined {
		if used[j] || l.support < 0.5 {
			continue
		}
		for _, k := range l.runs { // within the figure it is part of an insignia, but not of this
			if q := lines[k].fit.at; m.covers(q) {
				m.ignored++
				break
			}
		}
	}
}

// astray returns a line of the drawing that is a feature's own where it ought to
// lie in one line with others and does not: none is taken for it, and it is of
// the feature's length and no other's; -1 for none.
func (m *matched) astray(i, with int, found []across, used map[int]bool, lines []straight) int {
	f := m.features[i]
	for j, l := range found {
		if used[j] || with >= 0 && math.Abs(l.off-found[with].off) > offsetAlone {
			continue
		}
		for _, k := range l.runs {
			off, _, ok := f.meets(lines[k])
			if n := lines[k].length() / f.length; ok && math.Abs(off) <= offsetAlone && n > ownLength && n < 1/ownLength {
				return j
			}
		}
	}
	return -1
}

// refit fits a feature's line to the stretches of its runs that it has in sight.
func (m *matched) refit(i int, runs []straight) {
	f := m.features[i]
	d := f.dir
	var pts []geometry.Point
	own := 0.0
	for _, s := range runs {
		m.lengths[s.index] = math.Max(m.lengths[s.index], math.Min(s.length(), f.reach))
		taken := 0
		nodes := m.units(s.run.nodes)
		for _, w := range f.seen {
			margin := float64(sightMargin * (w[1] - w[0]))
			piece := within(nodes, f.a, d, w[0]+margin, w[1]-margin)
			if len(piece) < 2 {
				continue
			}
			pts = append(pts, piece...)
			taken += len(piece)
		}
		if taken > 0 { // points where a window cuts the run are no new evidence
			own += math.Max(2, s.own*math.Min(float64(taken), float64(len(nodes))))
		}
	}
	fit, ok := lineThrough(pts, int(own))
	if !ok {
		return
	}
	var kept []geometry.Point
	for _, p := range pts {
		if math.Abs(fit.offset(p)) <= farFromFit*math.Max(fit.rms, leastScatter) {
			kept = append(kept, p)
		}
	}
	if len(kept) >= 2 && len(kept) < len(pts) {
		if again, ok := lineThrough(kept, int(own)); ok {
			fit = again
		}
	}
	if fit.dir.Dot(d) < 0 {
		fit.dir, fit.from, fit.to = fit.dir.Scale(-1), -fit.to, -fit.from
	}
	m.lines[i] = fit
}

// within returns the part of a polyline whose place along d from a lies between
// t0 and t1: its nodes, and the points where it enters and leaves.
func within(pts []geometry.Point, a geometry.Point, d geometry.Vec, t0, t1 float64) []geometry.Point {
	var out []geometry.Point
	put := func(p geometry.Point) {
		if n := len(out); n == 0 || out[n-1] != p {
			out = append(out, p)
		}
	}
	for i := 1; i < len(pts); i++ {
		p, q := pts[i-1], pts[i]
		u, v := p.Sub(a).Dot(d), q.Sub(a).Dot(d)
		lo, hi := 0.0, 1.0
		for _, e := range [2]float64{t0, t1} {
			if (u < e) != (v < e) {
				k := (e - u) / (v - u)
				if (u < v) == (e == t0) {
					lo = math.Max(lo, k)
				} else {
					hi = math.Min(hi, k)
				}
			}
		}
		if math.Max(u, v) < t0 || math.Min(u, v) > t1 || lo >= hi {
			continue
		}
		put(p.Lerp(q, lo))
		put(p.Lerp(q, hi))
	}
	return out
}
