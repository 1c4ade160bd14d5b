package proportions

import (
	"cmp"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// best measures the rule out at every pose and returns the one in which most of
// its numbers conform, with its score; nil where no pose is to be had.
func (t *template) best(runs []run, o Options) (*matched, float64) {
	straight := edges(runs)
	var best *matched
	most := 0.0
	try := func(at pose, c *centre) {
		turns := []float64{0}
		if t.hasEdges() {
			turns = t.turns(at, straight)
			if len(turns) == 0 {
				turns = []float64{0}
			}
		}
		for _, turn := range turns {
			at.turn = turn
			m := t.match(at, c, straight)
			if s := m.score(o); s > most*(1+1e-9) {
				best, most = m, s
			}
		}
	}
	mirrors := []bool{false}
	if !t.symmetric() {
		mirrors = append(mirrors, true)
	}
	if !t.hasCircles() {
		for _, mirrored := range mirrors {
			for _, at := range t.onEdges(straight, mirrored) {
				if m, s := t.vote(at, straight, o); s > most*(1+1e-9) {
					best, most = m, s
				}
			}
		}
		return best, most
	}
	for _, c := range o.centresOf(runs) {
		for _, scale := range t.scales(c) {
			for _, mirrored := range mirrors {
				try(pose{centre: c.Point, scale: scale, mirrored: mirrored}, &c)
			}
		}
	}
	return best, most
}

func (t *template) hasCircles() bool {
	return slices.ContainsFunc(t.features, func(f feature) bool { return f.circle && f.sight > 0 })
}

func (t *template) hasEdges() bool {
	return slices.ContainsFunc(t.features, func(f feature) bool { return !f.circle && f.sight > 0 })
}

// symmetric tells whether the rule's edges are those of its mirror image, about
// either axis: then a mirrored pose is a turned one.
func (t *template) symmetric() bool {
	for _, k := range []geometry.Vec{{X: -1, Y: 1}, {X: 1, Y: -1}} {
		glass := func(p geometry.Point) geometry.Point {
			return geometry.Point{X: float64(k.X * p.X), Y: float64(k.Y * p.Y)}
		}
		all := true
		for _, f := range t.features {
			if f.circle {
				continue
			}
			a, b := glass(f.a), glass(f.b)
			all = all && slices.ContainsFunc(t.features, func(g feature) bool {
				return !g.circle && (a.Dist(g.a)+b.Dist(g.b) < sameEdge || a.Dist(g.b)+b.Dist(g.a) < sameEdge)
			})
		}
		if all {
			return true
		}
	}
	return false
}

// scales returns the governing radii, inches, that take a circle of the drawing
// for one of the rule. Those of the governing disc come first.
func (t *template) scales(c centre) []float64 {
	found := slices.Clone(c.levels)
	slices.SortStableFunc(found, func(a, b level) int { return cmp.Compare(b.length, a.length) })
	found = found[:min(len(found), levelsTried)]
	var out []float64
	take := func(radius float64) {
		for _, l := range found {
			s := l.radius / radius
			if t.fixed && math.Abs(s/(t.size/2)-1) > nearSize {
				continue
			}
			if !slices.ContainsFunc(out, func(o float64) bool { return math.Abs(s/o-1) < 1e-5 }) {
				out = append(out, s)
			}
		}
	}
	if t.govern >= 0 && t.features[t.govern].sight > 0 {
		take(1)
	}
	for _, f := range t.features {
		if f.circle && f.sight > 0 {
			take(f.radius)
		}
	}
	return out
}

// dimensions measures every part. The error of the governing radius, by which all
// is divided, is part of the error of each.
func (m *matched) dimensions() [][]dimension {
	var out [][]dimension
	scale := m.scaleError()
	for _, p := range m.rule.Parts {
		list := kindOf(m.rule, p).measure(m, p)
		for k := range list {
			if d := &list[k]; d.arm == 0 && !d.exact {
				d.err = same.Hypot(d.err, d.found*scale)
			}
		}
		out = append(out, list)
	}
	return out
}

// score counts the numbers that conform, and some for every number found. The
// governing disc decides a tie.
func (m *matched) score(o Options) float64 {
	sum := 0.0
	for i, list := range m.dimensions() {
		governs := m.govern >= 0 && i == m.features[m.govern].part
		seen := map[string]bool{}
		for _, d := range list {
			if seen[d.name] || d.exact || d.absent {
				continue
			}
			seen[d.name] = true
			sum += 0.25
			want := d.raw(m.values)
			over := math.Max(d.over, math.Abs(want-d.base))
			tolerance := math.Max(o.tolerance()*over, math.Min(trusted*d.err, 0.02*over))
			if off := math.Abs(d.found - want); off <= tolerance {
				sum++
				if governs {
					sum += 0.5
				}
			}
		}
	}
	return sum - float64(0.05*float64(min(m.ignored, 4)))
}
