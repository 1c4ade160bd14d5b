package skin

import (
	"math"
	"sync"

	"maskloft/geometry/same"
)

// mesh is a net with the neighbours of its faces: what a path walks on; and the memory
// that walking takes, which the next mesh may have.
type mesh struct {
	*Net
	across [][3]int // face across edge k of a face (from corner k to k+1), or -1
	face   []int    // one face at each node

	cutting cutting
	round   []nodeAngle
	dist    []float64 // of [mesh.dijkstra]
	from    []int
	queue   queue
	strip   unfolding
}

// nodeAngle is what [mesh.total] says of a node.
type nodeAngle struct {
	sum           float64
	inside, known bool
}

// meshes holds those that are done with: a tape walks over two nets or more, each a tenth
// of a megabyte and more.
var meshes = sync.Pool{New: func() any { return &mesh{} }}

func newMesh(n *Net) *mesh {
	m := &mesh{}
	m.take(n)
	return m
}

// take makes m the mesh of a net.
func (m *mesh) take(n *Net) {
	m.Net = n
	if n.tris == nil {
		n.tris = m.cutting.cut(n)
	}
	m.across, m.face, m.round = resized(m.across, len(n.tris)), resized(m.face, n.nodes()), resized(m.round, n.nodes())
	m.dist, m.from = resized(m.dist, n.nodes()), resized(m.from, n.nodes())
	clear(m.round)
	m.strip.reset(len(n.tris))
	for f := range n.tris {
		for _, w := range n.tris[f].n {
			m.face[w] = f
		}
	}
	m.join()
}

// join finds the faces that lie across each edge by how [cutting.cut] cuts the cells.
func (m *mesh) join() {
	nu, nv := m.nu()-1, m.nv()-1
	for i := range nu {
		for j := range nv {
			even := 0 // 1 in a cell whose diagonal runs from its first corner
			if (i+j)%2 == 0 {
				even = 1
			}
			f := 2 * (i*nv + j)
			below, above, behind, ahead := -1, -1, -1, -1
			if j > 0 {
				below = f - 1
			}
			if j+1 < nv {
				above = f + 2
			}
			if i > 0 {
				behind = f - 2*nv + even
			}
			if i+1 < nu {
				ahead = f + 2*nv + 1 - even
			}
			if even == 1 {
				m.across[f], m.across[f+1] = [3]int{below, ahead, f + 1}, [3]int{f, above, behind}
			} else {
				m.across[f], m.across[f+1] = [3]int{below, f + 1, behind}, [3]int{ahead, above, f}
			}
		}
	}
}

// resized returns a slice of n values, of any content, in the memory of an old one where
// that is long enough.
func resized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/4)
	}
	return s[:n]
}

// corner returns which corner of face f node w is, or -1.
func (m *mesh) corner(f, w int) int {
	switch n := &m.tris[f].n; w {
	case n[0]:
		return 0
	case n[1]:
		return 1
	case n[2]:
		return 2
	}
	return -1
}

// angle returns the angle of face f at its corner k, by the law of cosines.
func (m *mesh) angle(f, k int) float64 {
	l := m.tris[f].l
	a, b, c := l[k], l[(k+2)%3], l[(k+1)%3] // the two sides at the corner, and the opposite one
	return same.Acos(max(-1, min(1, (float64(a*a)+float64(b*b)-float64(c*c))/(2*a*b))))
}

// turn returns the face next to f round node w: counter-clockwise (U, V) for
// left, clockwise otherwise; -1 at the border.
func (m *mesh) turn(f, w int, left bool) int {
	k := m.corner(f, w)
	if left {
		return m.across[f][(k+2)%3] // edge from corner k-1 to w
	}
	return m.across[f][k]
}

// total returns the sum of angles round node w, and whether w lies inside the
// mesh.
func (m *mesh) total(w int) (sum float64, inside bool) {
	out := &m.round[w]
	if out.known {
		return out.sum, out.inside
	}
	out.known = true
	first := m.face[w]
	for f := first; ; {
		out.sum += m.angle(f, m.corner(f, w))
		if f = m.turn(f, w, true); f == first {
			out.inside = true
			return out.sum, true
		} else if f < 0 {
			return out.sum, false
		}
	}
}

// dijkstra returns the shortest path along edges from node a to node b.
func (m *mesh) dijkstra(a, b int) []int {
	for i := range m.dist {
		m.dist[i], m.from[i] = math.Inf(1), -1
	}
	m.dist[a] = 0
	m.queue = append(m.queue[:0], queued{a, 0})
	for len(m.queue) > 0 {
		it := m.queue.pop()
		if it.node == b {
			break
		}
		if it.d > m.dist[it.node] {
			continue
		}
		i, j := m.lines(it.node)
		for c := max(0, i-1); c <= min(i, m.nu()-2); c++ {
			first := 2 * (c*(m.nv()-1) + max(0, j-1))
			end := 2 * (c*(m.nv()-1) + min(j, m.nv()-2) + 1)
			for f := first; f < end; f++ {
				k := m.corner(f, it.node)
				if k < 0 {
					continue
				}
				t := &m.tris[f]
				m.reach(it, t.n[(k+1)%3], t.l[k])
				m.reach(it, t.n[(k+2)%3], t.l[(k+2)%3])
			}
		}
	}
	path := []int{b}
	for w := b; w != a; {
		if w = m.from[w]; w < 0 {
			return nil
		}
		path = append(path, w)
	}
	for i, j := 0, len(path)-1; i < j; i, j = i+1, j-1 {
		path[i], path[j] = path[j], path[i]
	}
	return path
}

// reach goes on from a node that was reached to one at a distance l from it.
func (m *mesh) reach(from queued, to int, l float64) {
	if d := from.d + l; d < m.dist[to] {
		m.dist[to], m.from[to] = d, from.node
		m.queue.push(queued{to, d})
	}
}

type queued struct {
	node int
	d    float64
}

// before orders nodes by distance; ties go to the lower node, so that equal paths are
// chosen alike on every run.
func (a queued) before(b queued) bool {
	if a.d != b.d {
		return a.d < b.d
	}
	return a.node < b.node
}

// queue is a binary heap of nodes.
type queue []queued

func (q *queue) push(x queued) {
	h := append(*q, x)
	i := len(h) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !x.before(h[up]) {
			break
		}
		h[i], i = h[up], up
	}
	h[i] = x
	*q = h
}

func (q *queue) pop() queued {
	h := *q
	out, x := h[0], h[len(h)-1]
	h = h[:len(h)-1]
	for i := 0; len(h) > 0; {
		down := 2*i + 1
		if down+1 < len(h) && h[down+1].before(h[down]) {
			down++
		}
		if down >= len(h) || !h[down].before(x) {
			h[i] = x
			break
		}
		h[i], i = h[down], down
	}
	*q = h
	return out
}
