package scan

import (
	"cmp"
	"slices"

	g "maskloft/geometry"
)

// scanEdge is the edge from a to b (a < b) as one triangle has it, after its
// corner slot.
type scanEdge struct {
	a, b, tri int32
	slot      int8
}

// edges lists the three edges of every triangle, equal ones together.
func (s *Scan) edges() []scanEdge {
	out := make([]scanEdge, 0, 3*len(s.Triangles))
	for t, c := range s.Triangles {
		for k := range c {
			a, b := c[k], c[(k+1)%3]
			out = append(out, scanEdge{min(a, b), max(a, b), int32(t), int8(k)})
		}
	}
	slices.SortFunc(out, func(x, y scanEdge) int {
		return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b), cmp.Compare(x.tri, y.tri))
	})
	return out
}

// groupsOf hands out the runs of equal edges.
func groupsOf(edges []scanEdge, use func([]scanEdge)) {
	for i := 0; i < len(edges); {
		j := i + 1
		for j < len(edges) && edges[j].a == edges[i].a && edges[j].b == edges[i].b {
			j++
		}
		use(edges[i:j])
		i = j
	}
}

// faceOutward turns whole patches over that enclose a negative volume with the
// centre of the scan (the mean of its surface).
func (s *Scan) faceOutward(patch []int32) {
	var sum g.Vec3
	area := 0.0
	for _, t := range s.Triangles {
		a := s.area2(t).Norm()
		sum = sum.Add(s.Vertices[t[0]].Add(s.Vertices[t[1]]).Add(s.Vertices[t[2]]).Scale(a / 3))
		area += a
	}
	centre := sum.Scale(1 / area)
	volume := make([]float64, len(s.Triangles))
	for i, t := range s.Triangles {
		volume[patch[i]] += s.Vertices[t[0]].Sub(centre).Dot(s.area2(t))
	}
	for i := range s.Triangles {
		if volume[patch[i]] < 0 {
			s.turn(i)
		}
	}
}

// components counts the pieces that share no edge.
func (s *Scan) components(edges []scanEdge) int {
	root := make([]int32, len(s.Triangles))
	for t := range root {
		root[t] = int32(t)
	}
	find := func(t int32) int32 {
		for root[t] != t {
			root[t] = root[root[t]]
			t = root[t]
		}
		return t
	}
	count := len(s.Triangles)
	groupsOf(edges, func(e []scanEdge) {
		for _, o := range e[1:] {
			if a, b := find(e[0].tri), find(o.tri); a != b {
				root[max(a, b)] = min(a, b)
				count--
			}
		}
	})
	return count
}

// holes chains the edges of one triangle into loops, the longest first. Where
// loops touch in a vertex, each is closed as soon as it comes back to its start.
func (s *Scan) holes(edges []scanEdge) []ScanHole {
	at := make(map[int32][]int32) // vertex: its open edges
	var open []scanEdge
	groupsOf(edges, func(e []scanEdge) {
		if len(e) == 1 {
			at[e[0].a] = append(at[e[0].a], int32(len(open)))
			at[e[0].b] = append(at[e[0].b], int32(len(open)))
			open = append(open, e[0])
		}
	})
	used := make([]bool, len(open))
	var out []ScanHole
	for first := range open {
		if used[first] {
			continue
		}
		var h ScanHole
		from := open[first].a
		v, e, found := from, int32(first), true
		for found {
			used[e] = true
			w := open[e].a + open[e].b - v
			h.Edges++
			h.Length += s.Vertices[v].Sub(s.Vertices[w]).Norm()
			h.Centre = h.Centre.Add(s.Vertices[w])
			v, found = w, false
			if v == from {
				break
			}
			for len(at[v]) > 0 && !found {
				e, at[v] = at[v][0], at[v][1:]
				found = !used[e]
			}
		}
		h.Centre = h.Centre.Scale(1 / float64(h.Edges))
		out = append(out, h)
	}
	slices.SortStableFunc(out, func(a, b ScanHole) int { return cmp.Compare(b.Length, a.Length) })
	return out
}
