package proportions

import (
	"cmp"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// A rule without circles: a straight edge of the drawing taken for one of the
// rule, end on end, is a pose. It is as good as that edge is right, so the centre
// is then drawn to where the edges found agree, and the scale is put to a vote of
// the numbers.
const (
	othersTaken  = 2    // of other parts: the edge that is wrong is the same on all sides of a part
	edgesTaken   = 2    // of the rule, the longest: where one is missing the other is there
	poseRounds   = 3    // of matching and shifting
	shiftRounds  = 14   // of reweighting
	shiftFrom    = 0.03 // residual, governing radii, that counts as none, in the first round
	shiftCloser  = 0.4  // and less in each round: at the end 1e-7
	posesKept    = 6
	samePose     = 0.01 // of the governing radius, of the scale, and radians
	sameScale    = 2e-4 // of a scale: nearer ones are tried once
	leastBrought = 0.15 // of the rule's edges, that a pose must bring near edges of the drawing
	unlikeSize   = 0.12 // of an edge, where the drawing is at true size
)

// onEdges returns the poses that bring a long run of the drawing onto a long edge
// of the rule, those first that bring most others with it.
func (t *template) onEdges(runs []run, mirrored bool) []pose {
	long := slices.Clone(t.features)
	slices.SortStableFunc(long, func(f, g feature) int { return cmp.Compare(g.sight, f.sight) })
	type scored struct {
		pose
		score float64
	}
	var out []scored
	try := func(f [2]geometry.Point, a, b geometry.Point) {
		at := pose{scale: a.Dist(b) / f[0].Dist(f[1]), mirrored: mirrored}
		if t.fixed && math.Abs(at.scale/(t.size/2)-1) > unlikeSize {
			return
		}
		if t.fixed {
			at.scale = t.size / 2
		}
		if !(at.scale > 0) {
			return
		}
		u, v := at.drawn(f[0]), at.drawn(f[1]) // about the origin, not turned
		d, e := v.Sub(u), b.Sub(a)
		at.turn = same.Atan2(d.Cross(e), d.Dot(e))
		at.centre = geometry.Point{}.Add(a.Lerp(b, 0.5).Sub(at.drawn(f[0].Lerp(f[1], 0.5))))
		out = append(out, scored{at, t.brings(at, runs)})
	}
	for _, f := range longestOf(long) {
		for _, r := range runs[:min(fewEdges, len(runs))] {
			a, b := r.nodes[0], r.nodes[len(r.nodes)-1]
			for _, e := range f.ends {
				try(e, a, b)
				try(e, b, a)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b scored) int { return cmp.Compare(b.score, a.score) })
	all := 0.0
	for _, f := range t.features {
		if !f.circle {
			all += f.sight
		}
	}
	var poses []pose
	for _, s := range out {
		if len(poses) == posesKept || s.score < leastBrought*all {
			break
		}
		if !slices.ContainsFunc(poses, s.near) {
			poses = append(poses, s.pose)
		}
	}
	return poses
}

// near tells whether two poses come to the same once their edges are matched.
func (p pose) near(q pose) bool {
	return p.centre.Dist(q.centre) < samePose*p.scale && math.Abs(p.scale/q.scale-1) < samePose && math.Abs(math.Remainder(p.turn-q.turn, 2*math.Pi)) < samePose
}

// longestOf returns the edges to take a pose from, of features in order of length:
// the longest, and the longest of other parts.
func longestOf(long []feature) []feature {
	n := min(edgesTaken, len(long))
	out := slices.Clone(long[:n])
	for _, f := range long[n:] {
		if len(out) < n+othersTaken && f.sight > 0 && !f.circle && !slices.ContainsFunc(out, func(o feature) bool { return o.part == f.part }) {
			out = append(out, f)
		}
	}
	return out
}

// brings returns the length of edge of the rule, unit frame, that a pose has near
// runs of the drawing: all of an edge at once, or its stretches in sight.
func (t *template) brings(at pose, runs []run) float64 {
	runs = runs[:min(fewEdges, len(runs))]
	ends := make([][2]geometry.Point, len(runs))
	for i, r := range runs {
		ends[i] = [2]geometry.Point{at.unit(r.nodes[0]), at.unit(r.nodes[len(r.nodes)-1])}
	}
	near := func(e [2]geometry.Point) float64 {
		least := offsetAlone
		for _, r := range ends {
			if math.Abs(e[0].X+e[1].X-r[0].X-r[1].X) < 2*least && math.Abs(e[0].Y+e[1].Y-r[0].Y-r[1].Y) < 2*least {
				least = math.Min(least, math.Min(r[0].Dist(e[0])+r[1].Dist(e[1]), r[0].Dist(e[1])+r[1].Dist(e[0])))
			}
		}
		return e[0].Dist(e[1]) * (1 - least/offsetAlone)
	}
	sum := 0.0
	for _, f := range t.features {
		if f.circle || f.sight == 0 {
			continue
		}
		pieces := 0.0
		for _, e := range f.ends[1:] {
			pieces += near(e)
		}
		sum += math.Max(near(f.ends[0]), pieces)
	}
	return sum
}

// vote settles the centre of a pose and tries the scales that its numbers call
// for; the one in which most of them conform is kept. The first of the numbers
// that are 1 decides a tie.
func (t *template) vote(at pose, runs []run, o Options) (*matched, float64) {
	for range poseRounds {
		m := t.match(at, nil, runs)
		at = m.pose
		at.centre = m.drawn(m.shift())
	}
	best := t.match(at, nil, runs)
	most := best.score(o)
	tried := []float64{at.scale}
	for _, list := range best.dimensions() {
		for _, d := range list {
			want := d.raw(t.values) - d.base
			if t.fixed || d.arm > 0 || d.exact || !(math.Abs(want) > 0.1) {
				continue
			}
			other := at
			other.scale *= (d.found - d.base) / want
			if !(other.scale > 0) || slices.ContainsFunc(tried, func(s float64) bool { return math.Abs(other.scale/s-1) < sameScale }) {
				continue
			}
			tried = append(tried, other.scale)
			m := t.match(other, nil, runs)
			s := m.score(o)
			if isSize(want) {
				s += 0.5
			}
			if s > most*(1+1e-9) {
				best, most = m, s
			}
		}
	}
	return best, most
}

// shift returns where the centre lies in the unit frame, so that the edges found
// are as far from it as the rule has them, all grown alike: least absolute
// deviations by reweighting, which one part out of place does not pull.
func (m *matched) shift() geometry.Point {
	type row struct{ x, y, off, miss float64 }
	var rows []row
	for i, f := range m.features {
		g, ok := m.lines[i]
		if !ok {
			continue
		}
		n := f.dir.Perp()
		foot := f.a.Lerp(f.b, 0.5)
		want := foot.Sub(geometry.Point{}).Dot(n)
		rows = append(rows, row{n.X, n.Y, want, g.foot(foot).Sub(geometry.Point{}).Dot(n) - want})
	}
	var x, y, grow float64
	close := shiftFrom
	for range shiftRounds {
		var a [3][4]float64
		close = float64(close * shiftCloser)
		for _, r := range rows {
			w := 1 / (math.Abs(r.miss-float64(r.x*x)-float64(r.y*y)-float64(r.off*grow)) + close)
			v := [3]float64{r.x, r.y, r.off}
			if m.fixed {
				v[2] = 0
			}
			for i := range 3 {
				for j := range 3 {
					a[i][j] += float64(w * v[i] * v[j])
				}
				a[i][3] += float64(w * v[i] * r.miss)
			}
		}
		if m.fixed {
			a[2][2] = 1 // at true size nothing grows
		}
		s, ok := geometry.Solve3(a)
		if !ok {
			return geometry.Point{}
		}
		x, y, grow = s[0], s[1], s[2]
	}
	return geometry.Point{X: x, Y: y}
}
