package skin

import (
	"math"

	g "maskloft/geometry"
)

// A corridor is a strip of faces, each joined to the next by an edge, from a
// face at node a to a face at node b. Unfolded into the plane, the shortest path
// inside it is a taut string (funnel algorithm; Lee and Preparata 1984). Where
// the string bears on a node that has less than half a turn on its other side,
// the strip goes round that node the other way, until no node can be passed
// (shortest path by alternating unfolding and flipping; Xin and Wang 2007).

// bend is a node that the string bears on, with its turn in radians.
type bend struct {
	node  int
	index int     // of the corridor's face after which it bears
	turn  float64 // how far the string turns there, always positive
}

// straighten returns the locally shortest path from a to b that the edge path
// can be drawn tight to: its length and its points.
func (m *mesh) straighten(path []int) (float64, []UV) {
	a, b := path[0], path[len(path)-1]
	c := m.corridorAlong(path)
	for try := 0; try < 4*len(m.tris); try++ {
		c = m.trimmed(c, a, b)
		length, points, bends := m.tighten(c, a, b)
		flipped, limit := false, len(c)
		for k := len(bends) - 1; k >= 0; k-- { // from the end, so that what lies before keeps its place
			w := bends[k]
			total, inside := m.total(w.node)
			if w.index+1 >= limit || !inside || w.turn <= total-2*math.Pi+1e-9 {
				continue
			}
			if next, from := m.flipped(c, w); next != nil {
				c, limit, flipped = next, from, true
			}
		}
		if !flipped {
			return length, points
		}
	}
	length, points, _ := m.tighten(c, a, b)
	return length, points
}

// corridorAlong returns a strip of faces along a path of nodes.
func (m *mesh) corridorAlong(path []int) []int {
	holds := func(f, w int) bool { return m.corner(f, w) >= 0 }
	// a face on the first edge, found round the first node
	start := m.fan(m.face[path[0]], path[0], func(f int) bool { return holds(f, path[1]) })
	c := []int{start[len(start)-1]}
	for k := 1; k+1 < len(path); k++ {
		round := m.fan(c[len(c)-1], path[k], func(f int) bool { return holds(f, path[k+1]) })
		c = append(c, round[1:]...)
	}
	return c
}

// fan returns the faces round node w from face f to the first one wanted, by
// whichever way has the smaller angle.
func (m *mesh) fan(f, w int, want func(int) bool) []int {
	var best []int
	least := math.Inf(1)
	for _, left := range []bool{true, false} {
		list, sum := []int{f}, 0.0
		for x := f; !want(x); {
			if x = m.turn(x, w, left); x < 0 || x == f {
				list = nil
				break
			}
			list = append(list, x)
			sum += m.angle(x, m.corner(x, w))
		}
		if list != nil && sum < least {
			best, least = list, sum
		}
	}
	return best
}

// trimmed drops loops, the faces before the last one at a, and those after the
// first one at b.
func (m *mesh) trimmed(c []int, a, b int) []int {
	last := make(map[int]int, len(c))
	var out []int
	for _, f := range c {
		if at, ok := last[f]; ok {
			for _, x := range out[at+1:] {
				delete(last, x)
			}
			out = out[:at+1]
			continue
		}
		last[f] = len(out)
		out = append(out, f)
	}
	for i := len(out) - 1; i >= 0; i-- {
		if m.corner(out[i], a) >= 0 {
			out = out[i:]
			break
		}
	}
	for i, f := range out {
		if m.corner(f, b) >= 0 {
			return out[:i+1]
		}
	}
	return out
}

// flipped returns the corridor led round the other side of a bend, and where it
// departs; nil where the border is in the way.
func (m *mesh) flipped(c []int, w bend) (out []int, from int) {
	i, j := w.index, w.index
	for i > 0 && m.corner(c[i-1], w.node) >= 0 {
		i--
	}
	for j+1 < len(c) && m.corner(c[j+1], w.node) >= 0 {
		j++
	}
	if i == j {
		return nil, 0
	}
	left := m.turn(c[i], w.node, true) != c[i+1] // the way the corridor does not go
	out = append(out, c[:i+1]...)
	for f := c[i]; f != c[j]; {
		if f = m.turn(f, w.node, left); f < 0 {
			return nil, 0
		}
		out = append(out, f)
	}
	return append(out, c[j+1:]...), i
}

// portal is the edge between two faces of a corridor, in the unfolded plane.
type portal struct {
	left, right   g.Point
	leftN, rightN int
}

// corner is a point where the string turns, its node, and its portal.
type corner struct {
	p    g.Point
	node int
	at   int
}

// pull returns the corners of the taut string through the portals, the last of
// which is the end itself; the start is not listed.
func pull(from g.Point, portals []portal) []corner {
	var out []corner
	apex, start, end := from, 0, len(portals)-1
next:
	for {
		left, right, li, ri := portals[start].left, portals[start].right, start, start
		for i := start + 1; i <= end; i++ {
			p := portals[i]
			var c corner
			switch {
			case cross(apex, right, p.right) >= 0 && cross(apex, left, p.right) > 0:
				c = corner{left, portals[li].leftN, li}
			case cross(apex, left, p.left) <= 0 && cross(apex, right, p.left) < 0:
				c = corner{right, portals[ri].rightN, ri}
			default:
				if cross(apex, right, p.right) >= 0 {
					right, ri = p.right, i
				}
				if cross(apex, left, p.left) <= 0 {
					left, li = p.left, i
				}
				continue
			}
			out, apex, start = append(out, c), c.p, c.at+1
			for start < end && (portals[start].leftN == c.node || portals[start].rightN == c.node) {
				start++ // the string leaves its corner through any of these
			}
			continue next
		}
		return append(out, corner{portals[end].left, portals[end].leftN, end})
	}
}

// tighten unfolds a corridor and pulls the string tight.
func (m *mesh) tighten(c []int, a, b int) (length float64, points []UV, bends []bend) {
	portals, from, to := m.unfolded(c, a, b)
	portals = append(portals, portal{to, to, b, b})
	points = []UV{m.nodeUV(a)}
	string := append([]corner{{from, a, -1}}, pull(from, portals)...)
	k := 0
	for s := 1; s < len(string); s++ {
		p, q := string[s-1].p, string[s].p
		length += p.Dist(q)
		for ; k < string[s].at; k++ {
			e := portals[k]
			t := 0.5
			if den := q.Sub(p).Cross(e.right.Sub(e.left)); den != 0 {
				t = math.Max(0, math.Min(1, -q.Sub(p).Cross(e.left.Sub(p))/den))
			}
			l, r := m.nodeUV(e.leftN), m.nodeUV(e.rightN)
			points = append(points, UV{l.U + float64(t*(r.U-l.U)), l.V + float64(t*(r.V-l.V))})
		}
		if s+1 < len(string) {
			d0, d1 := q.Sub(p), string[s+1].p.Sub(q)
			bends = append(bends, bend{string[s].node, string[s].at, math.Abs(math.Atan2(d0.Cross(d1), d0.Dot(d1)))})
		}
	}
	return length, append(points, m.nodeUV(b)), bends
}

// cross is positive when c lies to the left of the ray from a to b.
func cross(a, b, c g.Point) float64 { return b.Sub(a).Cross(c.Sub(a)) }

// unfolded lays the faces of a corridor into the plane and returns its portals
// and the two ends.
func (m *mesh) unfolded(c []int, a, b int) (portals []portal, from, to g.Point) {
	nodes := m.tris[c[0]].n
	p0, p1 := g.Point{}, g.Point{X: m.tris[c[0]].l[0]}
	at := [3]g.Point{p0, p1, third(p0, p1, m.tris[c[0]].l[2], m.tris[c[0]].l[1])}
	of := func(w int) g.Point {
		for k, n := range nodes {
			if n == w {
				return at[k]
			}
		}
		return g.Point{}
	}
	from = of(a)
	portals = make([]portal, 0, len(c))
	for i := 0; i+1 < len(c); i++ {
		f, h := c[i], c[i+1]
		for k := range m.across[f] {
			if m.across[f][k] != h {
				continue
			}
			// corners run counter-clockwise, so crossing the edge from k to k+1
			// outwards has k+1 on the left and k on the right
			r, l := m.tris[f].n[k], m.tris[f].n[(k+1)%3]
			e := portal{of(l), of(r), l, r}
			portals = append(portals, e)
			kk := m.corner(h, l)
			q := third(e.left, e.right, m.tris[h].l[(kk+2)%3], m.tris[h].l[(kk+1)%3])
			nodes = [3]int{l, r, m.tris[h].n[(kk+2)%3]}
			at = [3]g.Point{e.left, e.right, q}
			break
		}
	}
	return portals, from, of(b)
}
