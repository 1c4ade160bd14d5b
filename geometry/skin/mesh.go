package skin

import (
	"container/heap"
	"math"
)

// mesh is a net with the neighbours of its faces: what a path walks on.
type mesh struct {
	*Net
	across [][3]int // face across edge k of a face (from corner k to k+1), or -1
	face   []int    // one face at each node
}

func newMesh(n *Net) *mesh {
	m := &mesh{Net: n, across: make([][3]int, len(n.triangles())), face: make([]int, n.nodes())}
	type half struct{ f, k int }
	seen := make(map[[2]int]half, 3*len(n.tris)/2)
	for f, t := range n.tris {
		m.across[f] = [3]int{-1, -1, -1}
		for k := range t.n {
			a, b := t.n[k], t.n[(k+1)%3]
			m.face[a] = f
			if o, ok := seen[[2]int{b, a}]; ok {
				m.across[f][k], m.across[o.f][o.k] = o.f, f
			} else {
				seen[[2]int{a, b}] = half{f, k}
			}
		}
	}
	return m
}

// corner returns which corner of face f node w is, or -1.
func (m *mesh) corner(f, w int) int {
	for k, n := range m.tris[f].n {
		if n == w {
			return k
		}
	}
	return -1
}

// angle returns the angle of face f at its corner k, by the law of cosines.
func (m *mesh) angle(f, k int) float64 {
	l := m.tris[f].l
	a, b, c := l[k], l[(k+2)%3], l[(k+1)%3] // the two sides at the corner, and the opposite one
	return math.Acos(math.Max(-1, math.Min(1, (float64(a*a)+float64(b*b)-float64(c*c))/(2*a*b))))
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
	first := m.face[w]
	for f := first; ; {
		sum += m.angle(f, m.corner(f, w))
		if f = m.turn(f, w, true); f == first {
			return sum, true
		} else if f < 0 {
			return sum, false
		}
	}
}

// dijkstra returns the shortest path along edges from node a to node b.
func (m *mesh) dijkstra(a, b int) []int {
	type arc struct {
		to int
		l  float64
	}
	arcs := make([][]arc, m.nodes())
	for _, t := range m.tris {
		for k := range t.n {
			p, q := t.n[k], t.n[(k+1)%3]
			arcs[p] = append(arcs[p], arc{q, t.l[k]})
			arcs[q] = append(arcs[q], arc{p, t.l[k]})
		}
	}
	dist := make([]float64, m.nodes())
	from := make([]int, m.nodes())
	for i := range dist {
		dist[i], from[i] = math.Inf(1), -1
	}
	dist[a] = 0
	q := &queue{{a, 0}}
	for q.Len() > 0 {
		it := heap.Pop(q).(queued)
		if it.node == b {
			break
		}
		if it.d > dist[it.node] {
			continue
		}
		for _, e := range arcs[it.node] {
			if d := it.d + e.l; d < dist[e.to] {
				dist[e.to], from[e.to] = d, it.node
				heap.Push(q, queued{e.to, d})
			}
		}
	}
	path := []int{b}
	for w := b; w != a; {
		if w = from[w]; w < 0 {
			return nil
		}
		path = append(path, w)
	}
	for i, j := 0, len(path)-1; i < j; i, j = i+1, j-1 {
		path[i], path[j] = path[j], path[i]
	}
	return path
}

type queued struct {
	node int
	d    float64
}

// queue is a heap of nodes by distance; ties go to the lower node, so that
// equal paths are chosen alike on every run.
type queue []queued

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	if q[i].d != q[j].d {
		return q[i].d < q[j].d
	}
	return q[i].node < q[j].node
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(queued)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
