package proportions

import (
	"cmp"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// level is a circle of the drawing: all runs that lie on it.
type level struct {
	radius float64 // inches
	rms    float64
	own    float64
	length float64 // of outline on it
	sweep  float64 // radians, both of two outlines that coincide counted
}

// Agreement of circles, as parts of their radius.
const (
	aboutOne  = 0.008 // scatter of an arc about a centre that it is taken to share
	asWell    = 1.2   // or times its scatter about its own: a small circle in noise
	sameRing  = 0.003 // circles nearer than this are one, drawn twice
	turnsMore = 3.0   // times: an arc that turns so much more about its own centre has another
	alongRing = 0.8   // of what a run gets on, about the centre
	mostRing  = 4.0   // times sameRing: pieces of one circle lie no farther apart
	arcTurn   = 0.12  // radians: an arc that turns less does not tell its centre
)

// centre is a point about which circles of the drawing run.
type centre struct {
	geometry.Point
	support float64
	levels  []level // by radius
	nodes   float64 // that tell its place, in the direction told least
}

// shares tells whether the nodes of r lie on one circle about c.
func (r run) shares(c geometry.Point) (radius, rms float64, ok bool) {
	radius, rms = aboutCentre(r.nodes, c)
	about := turnAbout(r.nodes, c)
	if r.arc && r.turn > turnsMore*about || about*radius < alongRing*r.nodes[0].Dist(r.nodes[len(r.nodes)-1]) {
		return radius, rms, false // a small circle far from c, or an edge across, such as of lettering
	}
	return radius, rms, rms <= math.Max(aboutOne*radius, asWell*r.rms)
}

// turnAbout returns the angle that a row of nodes turns through about c.
func turnAbout(nodes []geometry.Point, c geometry.Point) float64 {
	turn := 0.0
	for i := 1; i < len(nodes); i++ {
		a, b := nodes[i-1].Sub(c), nodes[i].Sub(c)
		turn += same.Atan2(a.Cross(b), a.Dot(b))
	}
	return math.Abs(turn)
}

// centres returns the points about which most length of arc runs, the best
// first, at most n.
func centres(runs []run, n int) []centre {
	var arcs []run
	for _, r := range runs {
		if r.arc && r.turn >= arcTurn {
			arcs = append(arcs, r)
		}
	}
	slices.SortStableFunc(arcs, func(a, b run) int { return cmp.Compare(b.length, a.length) })
	var out []centre
	for _, a := range arcs[:min(len(arcs), 24)] {
		f, ok := circleThrough(a.nodes)
		if !ok {
			continue
		}
		c, nodes := f.centre, 0.0
		for range 6 {
			d, n, ok := stepTogether(arcs, c)
			if !ok || d.Norm() > 0.2*f.radius {
				break
			}
			nodes = n
			c = c.Add(d)
		}
		if slices.ContainsFunc(out, func(o centre) bool { return o.Dist(c) < sameRing*f.radius }) {
			continue
		}
		found := centre{Point: c, levels: levels(runs, c), nodes: nodes}
		for _, l := range found.levels {
			found.support += l.length
		}
		out = append(out, found)
	}
	slices.SortStableFunc(out, func(a, b centre) int { return cmp.Compare(b.support, a.support) })
	return out[:min(n, len(out))]
}

// stepTogether is one Gauss-Newton step of the centre of all arcs that share it,
// arcs of one circle with one radius. It also returns how many independent nodes
// the place rests on, in the direction that fewest tell.
func stepTogether(arcs []run, c geometry.Point) (step geometry.Vec, nodes float64, ok bool) {
	type piece struct {
		radius float64
		nodes  []geometry.Point
	}
	own, all := 0, 0
	var pieces []piece
	for _, a := range arcs {
		if radius, _, ok := a.shares(c); ok {
			pieces = append(pieces, piece{radius, a.nodes})
			own, all = own+a.own, all+len(a.nodes)
		}
	}
	slices.SortStableFunc(pieces, func(a, b piece) int { return cmp.Compare(a.radius, b.radius) })
	var s normal
	for i := 0; i < len(pieces); {
		j := i
		var nodes []geometry.Point
		for ; j < len(pieces) && (j == i || pieces[j].radius-pieces[j-1].radius <= sameRing*pieces[j].radius); j++ {
			nodes = append(nodes, pieces[j].nodes...)
		}
		radius, _ := aboutCentre(nodes, c)
		s.add(nodes, c, radius)
		i = j
	}
	step, ok = s.solve()
	least := (s.uu+s.vv)/2 - same.Hypot((s.uu-s.vv)/2, s.uv)
	return step, least * float64(own) / math.Max(1, float64(all)), ok
}

// levels gathers the runs about c into circles. A short run that was taken for an
// edge, such as a bar's inner end cut in three by its stripe, joins a circle but
// makes none.
func levels(runs []run, c geometry.Point) []level {
	type piece struct {
		level
		arc bool
	}
	var pieces []piece
	for _, r := range runs {
		radius, rms, ok := r.shares(c)
		if !ok || !r.arc && (r.length > 0.4*radius || rms > 0.25*aboutOne*radius) {
			continue
		}
		p := piece{level: level{radius: radius, rms: rms, own: float64(max(r.own-1, 1)), length: r.length, sweep: r.length / radius}, arc: r.arc && r.turn >= arcTurn}
		pieces = append(pieces, p)
	}
	slices.SortStableFunc(pieces, func(a, b piece) int { return cmp.Compare(a.radius, b.radius) })
	var out []level
	for i := 0; i < len(pieces); {
		j, arc := i, false
		var l level
		for ; j < len(pieces) && (j == i || pieces[j].radius-pieces[j-1].radius <= sameRing*pieces[j].radius && pieces[j].radius-pieces[i].radius <= mostRing*sameRing*pieces[j].radius); j++ {
			p := pieces[j]
			l.radius += float64(p.own * p.radius)
			l.own, l.length, l.sweep = l.own+p.own, l.length+p.length, l.sweep+p.sweep
			arc = arc || p.arc
		}
		l.radius /= l.own
		for _, p := range pieces[i:j] {
			l.rms += p.own * (float64(p.rms*p.rms) + float64((p.radius-l.radius)*(p.radius-l.radius))) / l.own
		}
		l.rms = math.Sqrt(l.rms)
		if arc {
			out = append(out, l)
		}
		i = j
	}
	return out
}
