package audit

import (
	"math"
	"slices"

	"maskloft/export/drawing"

	g "maskloft/geometry"
)

// comparison is the outlines of both drawings under the deformation found.
type comparison struct {
	deformation
	ours, theirs []piece
	holes        []bool
	open         []openLine
	sent         drawing.Drawing
	pairs        []comparedPair
	matched      []bool // of ours
	taken        []bool // of theirs
}

// comparedPair is an outline that was sent and the one that came back for it; lengths
// in inches of the drawing sent.
type comparedPair struct {
	piecePair
	moved g.Vec // beyond the deformation
	off   float64
	at    g.Point // where, in the drawing sent
}

// Pairing under the deformation, inches of the drawing sent and fractions.
const (
	pairNear  = 0.03 // centres of one outline
	pairArea  = 0.03 // of areas
	pairFar   = 2.0  // a piece moved farther is another one added, and this one missing
	movedWell = 0.5  // of what is off: so much less must be left when a move is undone
)

// placed returns an outline where the deformation puts it.
func (c *comparison) placed(i int) piece {
	p := c.ours[i]
	turn := 1.0
	if p.signed() < 0 {
		turn = -1
	}
	if c.holes[i] {
		turn = -turn
	}
	out := p
	out.points = make([]g.Point, len(p.points))
	n := len(p.points)
	for k, q := range p.points {
		in, on := q.Sub(p.points[(k+n-1)%n]).Unit(), p.points[(k+1)%n].Sub(q).Unit()
		side := in.Perp().Add(on.Perp())
		at := c.m.Apply(q)
		if side.Norm() > 1e-6 && c.offset != 0 {
			way := mapNormal(c.m, side.Unit().Scale(-turn))
			half := math.Max(0.25, side.Norm()/2) // mitred
			at = at.Add(way.Scale(c.offset / half))
		}
		out.points[k] = at
	}
	out.length = 0
	for k, q := range out.points {
		out.length += q.Dist(out.points[(k+1)%n])
	}
	out.centre, out.area = g.Centroid(out.points)
	out.area = math.Abs(out.area)
	out.box = g.BoundsOf(out.points...)
	return out
}

// pair brings outlines together, larger ones first: at their place; then, of those left,
// those of one shape that were moved.
func (c *comparison) pair(scale float64) {
	c.matched, c.taken = make([]bool, len(c.ours)), make([]bool, len(c.theirs))
	for _, reach := range []float64{0, pairFar} {
		for i := range c.ours {
			if c.matched[i] {
				continue
			}
			p := c.placed(i)
			best, found := math.Inf(1), -1
			for j, t := range c.theirs {
				slack := math.Max(pairArea*p.area, 0.012*scale*p.length)
				far := math.Max(pairNear*scale, 0.02*p.size())
				if reach > 0 {
					far, slack = reach*scale, math.Max(0.01*p.area, 0.003*scale*p.length)
				}
				d := t.centre.Dist(p.centre)
				if c.taken[j] || d > far || math.Abs(t.area-p.area) > slack || d >= best || math.Abs(t.compactness()/p.compactness()-1) > 0.15 {
					continue
				}
				if reach > 0 && !c.ours[i].cut {
					continue
				}
				best, found = d, j
			}
			if found >= 0 {
				c.matched[i], c.taken[found] = true, true
				c.compare(i, found, p, scale)
			}
		}
	}
}

// compare measures how far a pair is apart, as it lies and when its own move is undone.
func (c *comparison) compare(i, j int, placed piece, scale float64) {
	t := c.theirs[j]
	pair := comparedPair{piecePair: piecePair{i, j, c.ours[i], t}}
	far := func(v g.Vec) (worst float64, at g.Point) {
		at = placed.centre
		for _, q := range placed.along(placed.length / fine) {
			if _, d := t.nearest(q.Add(v)); d > worst {
				worst, at = d, q
			}
		}
		for _, q := range t.along(t.length / fine) {
			if _, d := placed.nearest(q.Add(v.Scale(-1))); d > worst {
				worst, at = d, q
			}
		}
		return worst, at
	}
	pair.off, pair.at = far(g.Vec{})
	// The move of least squares across the outline, of nearest points brought closer.
	v := t.centre.Sub(placed.centre)
	for range 3 {
		var a [3][4]float64
		for _, q := range placed.outwards(placed.length/coarse/3, false) {
			at := q.Add(v)
			to, _ := t.nearest(at)
			r := to.Sub(at).Dot(q.out)
			row := [2]float64{q.out.X, q.out.Y}
			for k := range 2 {
				for l := range 2 {
					a[k][l] += row[k] * row[l]
				}
				a[k][3] += row[k] * r
			}
		}
		a[2][2] = 1
		if x, ok := g.Solve3(a); ok {
			v = v.Add(g.Vec{X: x[0], Y: x[1]})
		}
	}
	if v.Norm() > movedLimit*scale {
		if off, at := far(v); off < movedWell*pair.off {
			pair.moved, pair.off, pair.at = v.Scale(1/scale), off, at
		}
	}
	pair.off, pair.at = pair.off/scale, c.back(pair.at)
	c.pairs = append(c.pairs, pair)
}

// back takes a place to the drawing sent.
func (c *comparison) back(q g.Point) g.Point { return c.m.Inverse().Apply(q) }

// shapes tells outlines that were changed, and pieces that were moved.
func (r *Returned) shapes(c *comparison) {
	var worst comparedPair
	back := c.m.Inverse()
	for _, p := range c.pairs {
		if !p.ours.cut {
			continue
		}
		r.Matched++
		r.Nodes[0] += p.ours.nodes
		r.Nodes[1] += p.theirs.nodes
		if p.off > r.Deviation {
			r.Deviation, worst = p.off, p
		}
		if p.moved != (g.Vec{}) {
			to := back.Apply(p.theirs.centre).Sub(back.Apply(p.theirs.centre.Add(p.moved.Scale(-r.scale()))))
			r.fault("moved", "put it back where it was sent: the film would no longer fit", "a piece to cut was moved by %v (%v along, %v up): %v at %v",
				inches(to.Norm()), inches(to.X), inches(to.Y), p.ours.box.Extent(2), inSent(p.ours.centre))
		}
	}
	if limit := shapeLimit + 0.25*math.Abs(r.Offset); r.Deviation > limit {
		word := "changed"
		if worst.theirs.nodes < worst.ours.nodes || allChords(worst.theirs) {
			word = "simplified"
		}
		r.fault("shape", "do not simplify, smooth, trace or weld the outlines",
			"an outline was %s: it is off by %v at %v; %d nodes where %d were sent", word, inches(r.Deviation), inSent(worst.at), r.Nodes[1], r.Nodes[0])
	}
}

// allChords tells whether an outline has a node at every corner of what it was cut
// into: it has no curves.
func allChords(p piece) bool { return len(p.points) <= p.nodes }

// weldTouch is how near two outlines run, inches of the drawing sent, where one took the
// other in; weldShare the share of an outline that must.
const (
	weldTouch = 0.01
	weldShare = 0.4
	openShare = 0.9
)

// pieces tells what was opened, welded, left out, added and cut twice.
func (r *Returned) pieces(c *comparison) {
	scale := r.scale()
	back := c.m.Inverse()
	placed := map[int]piece{}
	for i := range c.ours {
		if !c.matched[i] && c.ours[i].cut {
			placed[i] = c.placed(i)
		}
	}
	order := make([]int, 0, len(placed))
	for i := range c.ours {
		if _, ok := placed[i]; ok {
			order = append(order, i)
		}
	}
	usedLine := make([]bool, len(c.open))
	where := func(p piece) error { return g.Errorf("%v at %v", p.box.Extent(2), inSent(p.centre)) }
	near := func(q g.Point, p piece) bool {
		_, d := p.nearest(q)
		return d < weldTouch*scale+0.5*math.Abs(c.offset)
	}
	// An outline that does not close.
	for _, i := range order {
		p := placed[i]
		covered, gap, pieces := 0.0, 0.0, 0
		for k, o := range c.open {
			on := 0
			pts := o.along(60)
			for _, q := range pts {
				if near(q, p) {
					on++
				}
			}
			if len(pts) > 0 && float64(on) > openShare*float64(len(pts)) {
				covered, gap, pieces, usedLine[k] = covered+o.length, math.Max(gap, o.gap), pieces+1, true
			}
		}
		if covered > 0.5*p.length {
			c.matched[i] = true
			r.Matched++
			r.fault("open", "close it: a cutter leaves the film uncut there", "an outline to cut is open by %v: %v", inches(gap/scale), where(c.ours[i]))
			delete(placed, i)
		}
	}
	for _, t := range c.theirs { // closed but for a gap that was taken for none
		if t.gap/scale > gapLimit {
			r.fault("open", "close it: a cutter leaves the film uncut there", "an outline is open by %v: %v at %v", inches(t.gap/scale), r.extent(t.box), inSent(back.Apply(t.centre)))
		}
	}
	// Outlines that came back as one.
	for j, t := range c.theirs {
		if c.taken[j] {
			continue
		}
		var of []int
		for _, i := range order {
			p, left := placed[i]
			if !left {
				continue
			}
			pts, on := p.along(p.length/100), 0
			for _, q := range pts {
				if near(q, t) {
					on++
				}
			}
			if float64(on) > weldShare*float64(len(pts)) {
				of = append(of, i)
			}
		}
		switch {
		case len(of) > 1:
			c.taken[j] = true
			var all error
			for k, i := range of {
				if all = g.Errorf("%v; %v", all, where(c.ours[i])); k == 0 {
					all = where(c.ours[i])
				}
				delete(placed, i)
				c.matched[i] = true
			}
			r.fault("welded", "send the file again: the cut between them is gone", "%d outlines to cut came back as one: %v", len(of), all)
		case len(of) == 1:
			i := of[0]
			c.taken[j], c.matched[i] = true, true
			worst, at := 0.0, t.centre
			p := placed[i]
			for _, q := range t.along(t.length / fine) {
				if _, d := p.nearest(q); d > worst {
					worst, at = d, q
				}
			}
			for _, q := range p.along(p.length / fine) {
				if _, d := t.nearest(q); d > worst {
					worst, at = d, q
				}
			}
			delete(placed, i)
			r.Matched++
			r.Deviation = math.Max(r.Deviation, worst/scale)
			at = back.Apply(at)
			r.fault("shape", "do not simplify, smooth, trace or weld the outlines", "an outline was changed: it is off by %v at %v", inches(worst/scale), inSent(at))
		}
	}
	for _, i := range order {
		if o := c.ours[i]; !c.matched[i] {
			r.unexplained += o.area
			r.fault("missing", "send the file again; an island left out is paint where film should be", "a piece to cut is missing: %v", where(o))
		}
	}
	for j, t := range c.theirs {
		if c.taken[j] {
			continue
		}
		at := back.Apply(t.centre)
		kind, message := "extra", "an outline was added"
		for _, p := range c.pairs {
			if p.theirs.centre.Dist(t.centre) < 1e-3*p.theirs.size() && math.Abs(p.theirs.area/t.area-1) < 1e-3 {
				kind, message = "double", "an outline stands twice: it would be cut twice"
			}
		}
		r.unexplained += t.area / (r.Along * r.Up)
		r.fault(kind, "remove it before cutting", "%s: %v at %v", message, r.extent(t.box), inSent(at))
	}
	r.lines(c, usedLine)
}

// gapLimit is the gap, inches of the drawing sent, above which an outline is open.
const gapLimit = 0.002

// lines tells open lines that were not sent: each would be cut.
func (r *Returned) lines(c *comparison, used []bool) {
	back := c.m.Inverse()
	var sent [][]g.Point
	for _, l := range c.sent.Layers {
		for _, k := range l.Path() {
			sent = append(sent, k.Flattened(1e-3))
		}
	}
	known := func(q g.Point) bool {
		return slices.ContainsFunc(sent, func(pts []g.Point) bool {
			for i := 1; i < len(pts); i++ {
				if g.SegmentDistance(q, pts[i-1], pts[i]) < 2*weldTouch+math.Abs(r.Offset) {
					return true
				}
			}
			return false
		})
	}
	for k, o := range c.open {
		if used[k] {
			continue
		}
		pts, on := o.along(40), 0
		for _, q := range pts {
			if known(back.Apply(q)) {
				on++
			}
		}
		if len(pts) == 0 || float64(on) > 0.8*float64(len(pts)) {
			continue
		}
		a, b := back.Apply(o.points[0]), back.Apply(o.points[len(o.points)-1])
		r.fault("extra", "remove it before cutting: a line is a cut", "an open line of %v was added, from %v to %v", g.Length(o.length/r.scale()).Rounded(2), inSent(a), inSent(b))
	}
}

// inches is a length to be told to a thousandth of an inch.
func inches(v float64) g.Rounded { return g.Length(v).Rounded(3) }

// inSent is a place of the file sent, to be told; an error, so that its units are the reader's.
func inSent(p g.Point) error {
	return g.Errorf("x %v, y %v of the file sent", g.Length(p.X).Rounded(2), g.Length(p.Y).Rounded(2))
}

// extent is the size of a box of the file that came back, at the size sent.
func (r *Returned) extent(box g.Rect) g.Extent {
	return g.Extent{Width: g.Length(box.Width() / r.Along), Height: g.Length(box.Height() / r.Up), Decimals: 2}
}
