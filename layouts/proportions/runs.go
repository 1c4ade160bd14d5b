package proportions

import (
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// run is a stretch of a contour that is one straight edge or one arc.
type run struct {
	arc    bool
	nodes  []geometry.Point
	own    int     // nodes of the outline among them
	length float64 // along the nodes
	turn   float64 // radians the nodes turn through: sweep of an arc
	rms    float64 // of the nodes about the arc's own circle

	line     lineFit // inches
	straight bool    // the line is to be had
}

// Levels of noise tried, as parts of the contour's extent. The lowest lies above
// what four cubics miss of a circle (2.7e-4 of its radius, see geometry.Circle);
// the highest is 0.5 % of a disc seen on a small part of it.
var noiseLevels = []float64{1.5e-4, 5e-4, 1.5e-3, 4e-3, 9e-3}

// Description lengths, in units of the log likelihood: what one more run must
// save. A line has two numbers and a break, an arc one more; about four nats each
// at the usual number of nodes.
const (
	costOfLine = 12.0
	costOfArc  = 15.0
	hopeless   = 60.0 // above costOfArc several times over: longer stretches are not tried

	longChord   = 3.0 // times the median chord
	mostBreaks  = 96  // places in a row where runs may end; then moved to the best node
	widestGap   = 0.6 // of the radius: a chord that takes more than 35 degrees is an edge
	fewestOfArc = 4
	widestArc   = 5.0 // radius in extents: above it the arc is an edge
)

// divider cuts one row.
type divider struct {
	moments
	gap   []float64 // from node i to i+1, in extents
	sigma float64
}

// cost returns the description length of nodes i to j as one run.
func (d divider) cost(i, j int) (cost float64, arc bool) {
	s := d.stretch(i, j)
	half := 1 / (2 * d.sigma * d.sigma)
	line := float64(s.line()*half) + costOfLine
	if j-i+1 < fewestOfArc {
		return line, false
	}
	ss, r, ok := s.circle()
	if !ok || r > widestArc || float64(ss*half)+costOfArc >= line {
		return line, false
	}
	for k := i; k < j; k++ {
		if d.gap[k] > widestGap*r {
			return line, false
		}
	}
	return float64(ss*half) + costOfArc, true
}

// runsOf cuts a row into the runs that describe it shortest.
func runsOf(r row) []run {
	nodes := r.turned()
	n := len(nodes)
	if n < 2 {
		return nil
	}
	xs, ys := make([]float64, n), make([]float64, n)
	var mx, my float64
	for _, p := range nodes {
		mx, my = mx+p.X/float64(n), my+p.Y/float64(n)
	}
	for i, p := range nodes {
		xs[i], ys[i] = (p.X-mx)/r.extent, (p.Y-my)/r.extent
	}
	d := divider{moments: newMoments(xs, ys), gap: make([]float64, n)}
	for i := 0; i+1 < n; i++ {
		d.gap[i] = same.Hypot(xs[i+1]-xs[i], ys[i+1]-ys[i])
	}
	var best []int
	least := math.Inf(1)
	for k, sigma := range noiseLevels {
		d.sigma = sigma
		cuts, cost, misfit := d.divide(n)
		cost += float64(float64(n) * same.Log(sigma))
		if cost < least {
			best, least = cuts, cost
		}
		if k == 0 && misfit <= float64(n) && len(cuts) <= max(n/3, 12) {
			break // clean: no higher level describes it shorter
		}
		if k == 0 && len(cuts) == n { // corners only: nothing to average
			break
		}
	}
	var out []run
	for k := 1; k < len(best); k++ {
		_, arc := d.cost(best[k-1], best[k])
		out = append(out, newRun(nodes[best[k-1]:best[k]+1], arc))
	}
	return out
}

// divide returns the cuts, first and last node included, of the least cost at
// the divider's noise, that cost, and the part of it that is misfit.
func (d divider) divide(n int) (cuts []int, cost, misfit float64) {
	at, step := d.breaks(n)
	m := len(at)
	least, from := make([]float64, m), make([]int, m)
	for k := 1; k < m; k++ {
		least[k] = math.Inf(1)
		for l, bad := k-1, 0; l >= 0 && bad < 3; l-- {
			c, _ := d.cost(at[l], at[k])
			if t := least[l] + c; t < least[k] {
				least[k], from[k] = t, l
			}
			if n := at[k] - at[l]; c > hopeless+2*float64(n) && n > 2*fewestOfArc {
				bad++
			}
		}
	}
	for k := m - 1; k > 0; k = from[k] {
		cuts = append(cuts, at[k])
	}
	cuts = append(cuts, 0)
	for i, j := 0, len(cuts)-1; i < j; i, j = i+1, j-1 {
		cuts[i], cuts[j] = cuts[j], cuts[i]
	}
	if step > 1 {
		d.settle(cuts, step)
	}
	for k := 1; k < len(cuts); k++ {
		c, arc := d.cost(cuts[k-1], cuts[k])
		cost += c
		if misfit += c - costOfLine; arc {
			misfit += costOfLine - costOfArc
		}
	}
	return cuts, cost, misfit
}

// breaks returns the nodes where runs may end, and their usual step: every so
// many, and all at the ends of long chords, which are corners where nodes stand
// close elsewhere.
func (d divider) breaks(n int) (at []int, step int) {
	step = (n + mostBreaks - 1) / mostBreaks
	usual := slices.Sorted(slices.Values(d.gap[:n-1]))[(n-1)/2]
	for i := range n {
		long := i > 0 && d.gap[i-1] > longChord*usual || i < n-1 && d.gap[i] > longChord*usual
		if i%step == 0 || i == n-1 || long {
			at = append(at, i)
		}
	}
	return at, step
}

// settle moves each inner cut to the node where its two runs fit best.
func (d divider) settle(cuts []int, reach int) {
	for range 2 {
		for k := 1; k+1 < len(cuts); k++ {
			best, at := math.Inf(1), cuts[k]
			for c := max(cuts[k]-reach, cuts[k-1]+1); c <= min(cuts[k]+reach, cuts[k+1]-1); c++ {
				a, _ := d.cost(cuts[k-1], c)
				b, _ := d.cost(c, cuts[k+1])
				if a+b < best {
					best, at = a+b, c
				}
			}
			cuts[k] = at
		}
	}
}

func newRun(nodes []node, arc bool) run {
	r := run{arc: arc, nodes: make([]geometry.Point, len(nodes))}
	var turn float64
	for i, p := range nodes {
		r.nodes[i] = p.Point
		if p.own {
			r.own++
		}
		if i > 0 {
			r.length += p.Dist(nodes[i-1].Point)
		}
	}
	if arc {
		if c, ok := circleThrough(r.nodes); ok {
			r.rms = c.rms
			for i := 1; i < len(nodes); i++ {
				a, b := r.nodes[i-1].Sub(c.centre), r.nodes[i].Sub(c.centre)
				turn += same.Atan2(a.Cross(b), a.Dot(b))
			}
		}
	}
	r.turn = math.Abs(turn)
	r.line, r.straight = lineThrough(r.nodes, r.own)
	return r
}
