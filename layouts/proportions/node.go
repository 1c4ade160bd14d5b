package proportions

import (
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// node is a point that lies on the drawn curve. Own tells a node of the outline
// from a point computed on one of its cubics: only own nodes are independent
// pieces of evidence.
type node struct {
	geometry.Point
	own bool
}

// Sampling of cubics, in parts of the contour's extent: fine enough that an arc
// of a few degrees has points within, and bounded for outlines of many cubics.
const (
	cubicStep      = 0.04
	fewestOfCubic  = 2
	mostOfCubic    = 12
	closeEnough    = 1e-3 // of the extent: ends that were meant to meet
	samePoint      = 1e-9 // of the extent
	smallestExtent = 1e-9 // inches: below it a contour is a dot
)

// row is a contour as nodes. A closed row does not repeat its first node.
type row struct {
	nodes  []node
	closed bool
	extent float64 // diagonal of the bounds, inches
	centre geometry.Point
}

// same tells whether two rows are one outline drawn twice, as fill and as stroke:
// then the second is no new evidence.
func (r row) same(q row) bool {
	within := samePoint * r.extent
	return len(r.nodes) == len(q.nodes) && math.Abs(r.extent-q.extent) <= within && r.centre.Dist(q.centre) <= within &&
		slices.ContainsFunc(q.nodes, func(n node) bool { return n.Dist(r.nodes[0].Point) <= within })
}

// rowOf returns the nodes of c, which may run either way and may be open.
func rowOf(c geometry.Contour) row {
	b := c.Bounds()
	r := row{extent: same.Hypot(b.Width(), b.Height())}
	if !(r.extent > smallestExtent) || math.IsInf(r.extent, 0) {
		return row{}
	}
	add := func(p geometry.Point, own bool) {
		if n := len(r.nodes); n > 0 && r.nodes[n-1].Dist(p) <= samePoint*r.extent {
			return
		}
		r.nodes = append(r.nodes, node{Point: p, own: own})
	}
	add(c.Start, true)
	for i, s := range c.Segments {
		if s.Kind == geometry.Cubic {
			a := c.From(i)
			length := a.Dist(s.C1) + s.C1.Dist(s.C2) + s.C2.Dist(s.End)
			n := int(math.Ceil(length / (cubicStep * r.extent)))
			n = min(max(n, fewestOfCubic), mostOfCubic)
			for k := 1; k < n; k++ {
				add(c.At(i, float64(k)/float64(n)), false)
			}
		}
		add(s.End, true)
	}
	if n := len(r.nodes); n > 3 && r.nodes[0].Dist(r.nodes[n-1].Point) <= closeEnough*r.extent {
		r.closed = true
		if r.nodes[0].Dist(r.nodes[n-1].Point) <= samePoint*r.extent {
			r.nodes = r.nodes[:n-1]
		}
	}
	var sum geometry.Vec
	for _, p := range r.nodes {
		sum = sum.Add(p.Sub(geometry.Point{}))
	}
	r.centre = geometry.Point{}.Add(sum.Scale(1 / float64(len(r.nodes))))
	return r
}

// turned returns a closed row so that it starts at the node farthest from the
// middle of all: a corner, unless the row is a circle.
func (r row) turned() []node {
	if !r.closed {
		return r.nodes
	}
	at, far := 0, -1.0
	for i, p := range r.nodes {
		if d := p.Dist(r.centre); d > far*(1+1e-9) {
			at, far = i, d
		}
	}
	out := make([]node, 0, len(r.nodes)+1)
	out = append(append(out, r.nodes[at:]...), r.nodes[:at]...)
	return append(out, out[0])
}
