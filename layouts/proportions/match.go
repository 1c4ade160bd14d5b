package proportions

import (
	"cmp"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// Matching, unit frame.
const (
	angleFar     = 10 * math.Pi / 180 // of an edge from the rule's
	sinFar       = 0.17365            // sine of it
	offsetFar    = 0.6                // across, of edges matched in order
	offsetAlone  = 0.12               // across, of edges matched one by one
	sameEdge     = 0.004              // edges nearer than this are one, drawn twice or in pieces
	costSkipped  = 0.8                // of a feature that is not found, in governing radii of displacement
	costIgnored  = 0.15               // of an edge of the drawing that is none of the rule's
	ringScale    = 0.35               // relative change of radius that costs as much as a displacement of 1
	sightMargin  = 0.04               // of a stretch in sight, left out at its ends: corners are other edges'
	farFromFit   = 3.5                // times the scatter: nodes beyond belong to another edge
	leastScatter = 1e-9
	fewFree      = 6    // nodes of a fit: fewer say little of the scatter
	poorEstimate = 2.5  // nodes: at so many free ones the scatter is doubled
	ownLength    = 0.85 // of a feature's length, and as much longer: a run that is no other's
	settled      = 2e-4 // radians: the ends of the two bars are then within a tenth of sameEdge of one line
)

// straight is a straight run in the unit frame.
type straight struct {
	run *run
	own float64 // share of the points that are nodes of the outline
	fit lineFit

	index int // among the runs
}

func (s straight) length() float64 { return s.fit.to - s.fit.from }

// matched is a rule's edges found in the drawing, in the unit frame.
type matched struct {
	*template
	pose
	circles map[int]level // by feature
	lines   map[int]lineFit
	scatter float64   // of nodes about all fits
	grain   float64   // of nodes about the line or circle of their own run, which an oval or a skewed edge leaves small; at most scatter
	placed  float64   // nodes that the centre rests on; 0: it is exact by definition
	lengths []float64 // of each straight run, as far as it is the rule's, in governing radii
	claimed float64   // length of outline that is the rule's, in governing radii
	ignored int       // circles and edges within the figure that are none of the rule's
}

// match finds the features of the rule at a pose. The turn is corrected by the
// edges themselves.
func (t *template) match(at pose, c *centre, runs []run) *matched {
	m := newMatched(t, at)
	lines := m.inUnits(runs)
	if turn, ok := m.correction(lines); ok {
		m.turn = m.turned(turn)
		lines = m.inUnits(runs)
	}
	m.matchEdges(lines)
	// Edges joined from their pieces tell the turn better than the pieces do.
	if turn := m.settledTurn(); math.Abs(turn) > settled {
		at.turn = m.turned(turn)
		m = newMatched(t, at)
		m.matchEdges(m.inUnits(runs))
	}
	if c != nil {
		m.matchCircles(c.levels)
		m.placed = c.nodes
	}
	for _, length := range m.lengths {
		m.claimed += length
	}
	m.pool()
	return m
}

// grained sets the grain of the drawing: that of runs with nodes to spare.
func (m *matched) grained(runs []run) {
	ss, free := 0.0, 0.0
	for _, r := range runs {
		if r.own < fewFree {
			continue
		}
		rms := r.line.rms
		if r.arc {
			rms = r.rms
		}
		n := float64(r.own - 3)
		ss, free = ss+float64(n*rms*rms), free+n
	}
	m.grain = leastScatter
	if free > 0 {
		m.grain = math.Max(leastScatter, math.Sqrt(ss/free)*(1+poorEstimate/free)/m.scale)
	}
	m.grain = math.Min(m.grain, m.scatter)
}

func newMatched(t *template, at pose) *matched {
	return &matched{template: t, pose: at, circles: map[int]level{}, lines: map[int]lineFit{}}
}

// turned returns the pose's turn with one in the unit frame added.
func (m *matched) turned(by float64) float64 {
	if m.mirrored {
		by = -by
	}
	return m.turn + by
}

// settledTurn returns the turn, radians in the unit frame, that the fitted edges
// of bars, stripe and border are off by; 0 where there are none.
func (m *matched) settledTurn() float64 {
	sum, weights := 0.0, 0.0
	for i, f := range m.features {
		g, ok := m.lines[i]
		if !ok || f.order < inBand {
			continue
		}
		w := float64(g.own * g.spread * g.spread)
		sum, weights = sum+float64(w*same.Atan2(f.dir.Cross(g.dir), f.dir.Dot(g.dir))), weights+w
	}
	return sum / math.Max(weights, 1e-12)
}

// inUnits takes straight runs to the unit frame.
func (m *matched) inUnits(runs []run) []straight {
	out := make([]straight, 0, len(runs))
	m.lengths = make([]float64, len(runs))
	for k := range runs {
		r := &runs[k]
		if !r.straight {
			continue
		}
		s := straight{index: k, run: r, own: float64(r.own) / float64(len(r.nodes)), fit: m.line(r.line)}
		if s.fit.at.Dist(geometry.Point{}) < 20 {
			out = append(out, s)
		}
	}
	return out
}

// meets tells whether a run may be (a piece of) a feature, and how far across it
// lies there, left of the feature.
func (f feature) meets(s straight) (off, angle float64, ok bool) {
	d := f.dir
	if math.Abs(d.Cross(s.fit.dir)) > sinFar {
		return 0, 0, false
	}
	angle = same.Atan2(d.Cross(s.fit.dir), d.Dot(s.fit.dir))
	if angle > math.Pi/2 {
		angle -= math.Pi
	} else if angle < -math.Pi/2 {
		angle += math.Pi
	}
	t0 := s.fit.at.Add(s.fit.dir.Scale(s.fit.from)).Sub(f.a).Dot(d)
	t1 := s.fit.at.Add(s.fit.dir.Scale(s.fit.to)).Sub(f.a).Dot(d)
	if t0 > t1 {
		t0, t1 = t1, t0
	}
	over, from, to := 0.0, math.Inf(1), math.Inf(-1)
	for _, w := range f.seen {
		if a, b := math.Max(w[0], t0), math.Min(w[1], t1); b > a {
			over, from, to = over+b-a, math.Min(from, a), math.Max(to, b)
		}
	}
	whole := f.sight
	if over < 0.35*whole && (over < 0.6*(t1-t0) || over < 0.12*whole) {
		return 0, 0, false
	}
	mid := f.a.Add(d.Scale((from + to) / 2))
	// Of the run's own line, at the middle of what both have.
	k := mid.Sub(s.fit.at).Dot(d) / s.fit.dir.Dot(d)
	return d.Cross(s.fit.at.Add(s.fit.dir.Scale(k)).Sub(mid)), angle, true
}

// correction returns the turn, radians in the unit frame, that brings the runs
// onto the rule's edges: the median over edges that keep their direction whatever
// their measure (those matched in order), else the mean over all, which is that
// of a star whose edges lean both ways.
func (m *matched) correction(lines []straight) (float64, bool) {
	type vote struct{ angle, weight float64 }
	var ordered []vote
	sum, weights := 0.0, 0.0
	for _, f := range m.features {
		if f.circle || f.sight == 0 {
			continue
		}
		for _, s := range lines {
			if s.length() > longestEdge*f.reach {
				continue
			}
			off, angle, ok := f.meets(s)
			if !ok || math.Abs(off) > offsetNear {
				continue
			}
			if f.order >= inBand || f.radial() {
				ordered = append(ordered, vote{angle, s.length()})
			}
			sum, weights = sum+float64(angle*s.length()), weights+s.length()
		}
	}
	if len(ordered) > 1 {
		slices.SortStableFunc(ordered, func(a, b vote) int { return cmp.Compare(a.angle, b.angle) })
		total := 0.0
		for _, v := range ordered {
			total += v.weight
		}
		run := 0.0
		for _, v := range ordered {
			if run += v.weight; run >= total/2 {
				return v.angle, true
			}
		}
	}
	return sum / math.Max(weights, 1e-12), weights > 0
}

// matchCircles takes the circles of the drawing for those of the rule, in order
// of size.
func (m *matched) matchCircles(found []level) {
	var rings [][]int // features by radius; equal radii share a circle
	var want []float64
	index := []int{}
	for i, f := range m.features {
		if f.circle && f.sight > 0 {
			index = append(index, i)
		}
	}
	slices.SortStableFunc(index, func(a, b int) int { return cmp.Compare(m.features[a].radius, m.features[b].radius) })
	largest := 0.0
	for _, i := range index {
		r := m.features[i].radius
		if n := len(want); n > 0 && r-want[n-1] < sameEdge {
			rings[n-1] = append(rings[n-1], i)
			continue
		}
		rings, want, largest = append(rings, []int{i}), append(want, r), r
	}
	var got, skip []float64
	var have []level
	for _, l := range found {
		l.radius, l.rms = l.radius/m.scale, l.rms/m.scale
		if l.radius > 1.6*largest {
			continue
		}
		have, got, skip = append(have, l), append(got, l.radius), append(skip, costIgnored*math.Min(1, l.sweep/math.Pi))
	}
	taken := align(want, got, skip, func(i, j int) float64 { return math.Abs(got[j]/want[i]-1) / ringScale })
	used := map[int]bool{}
	for i, j := range taken {
		if j < 0 {
			continue
		}
		used[j] = true
		m.claimed += have[j].length / m.scale
		for _, k := range rings[i] {
			m.circles[k] = have[j]
		}
	}
	for j, l := range have {
		if !used[j] && l.sweep > math.Pi && l.radius < 1.35*largest {
			m.ignored++
		}
	}
}

// align matches what a rule wants with what there is, both ascending, in their
// order and at the least cost; -1 for what is not found.
func align(want, got, skip []float64, cost func(i, j int) float64) []int {
	n, k := len(want), len(got)
	type cell struct {
		cost float64
		step byte
	}
	table := make([][]cell, n+1)
	for i := range table {
		table[i] = make([]cell, k+1)
		for j := range table[i] {
			best := cell{math.Inf(1), 0}
			if i == 0 && j == 0 {
				best = cell{}
			}
			if i > 0 && table[i-1][j].cost+costSkipped < best.cost {
				best = cell{table[i-1][j].cost + costSkipped, 'w'}
			}
			if j > 0 && table[i][j-1].cost+skip[j-1] < best.cost {
				best = cell{table[i][j-1].cost + skip[j-1], 'g'}
			}
			if i > 0 && j > 0 {
				if c := table[i-1][j-1].cost + cost(i-1, j-1); c <= best.cost {
					best = cell{c, 'm'}
				}
			}
			table[i][j] = best
		}
	}
	out := make([]int, n)
	for i, j := n, k; i > 0 || j > 0; {
		switch table[i][j].step {
		case 'm':
			i, j = i-1, j-1
			out[i] = j
		case 'w':
			i--
			out[i] = -1
		default:
			j--
		}
	}
	return out
}

// pool sets the scatter of the drawing from all fits that have nodes to spare,
// per node that is free to differ. With few such nodes the estimate itself is
// poor, and is taken larger (after the tail of Student's t, set by trial on shaken
// drawings).
func (m *matched) pool() {
	ss, free := 0.0, 0.0
	for i := range m.features {
		if l, ok := m.circles[i]; ok && l.own >= fewFree {
			ss, free = ss+float64(l.own*l.rms*l.rms), free+l.own-2
		}
		if f, ok := m.lines[i]; ok && f.own >= fewFree {
			ss, free = ss+float64(f.own*f.rms*f.rms), free+f.own-2
		}
	}
	m.scatter = leastScatter
	if free > 0 {
		m.scatter = math.Max(leastScatter, math.Sqrt(ss/free)*(1+poorEstimate/free))
	}
}
