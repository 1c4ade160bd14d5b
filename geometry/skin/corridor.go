package skin

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
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

// unfolding is the corridor that a path is drawn tight in, unfolded, and memory for the next.
type unfolding struct {
	place   []int // of each face in the corridor while it is trimmed; -1 elsewhere
	faces   []int // the corridor that is unfolded
	spare   [3][]int
	from    g.Point
	portals []portal
	string  []corner
	bends   []bend
}

func (s *unfolding) reset(faces int) {
	s.place = resized(s.place, faces)
	for f := range s.place {
		s.place[f] = -1
	}
	s.faces, s.portals = s.faces[:0], s.portals[:0]
}

// straighten returns the locally shortest path from a to b that the edge path
// can be drawn tight to: its length and its points.
func (m *mesh) straighten(path []int) (float64, []UV) {
	a, b := path[0], path[len(path)-1]
	c := m.corridorAlong(path)
	for try := 0; try < 4*len(m.tris); try++ {
		c = m.trimmed(c, a, b)
		length := m.tighten(c, a, b)
		flipped, limit := false, len(c)
		for k := len(m.strip.bends) - 1; k >= 0; k-- { // from the end, so that what lies before keeps its place
			w := m.strip.bends[k]
			total, inside := m.total(w.node)
			if w.index+1 >= limit || !inside || w.turn <= total-2*math.Pi+1e-9 {
				continue
			}
			if next, from := m.flipped(c, w); next != nil {
				c, limit, flipped = next, from, true
			}
		}
		if !flipped {
			return length, m.points(a, b)
		}
	}
	return m.tighten(c, a, b), m.points(a, b)
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
	place, out := m.strip.place, m.strip.spare[0][:0]
	for _, f := range c {
		if at := place[f]; at >= 0 {
			for _, x := range out[at+1:] {
				place[x] = -1
			}
			out = out[:at+1]
			continue
		}
		place[f] = len(out)
		out = append(out, f)
	}
	m.strip.spare[0] = out
	for _, f := range out {
		place[f] = -1
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
	spare := &m.strip.spare                      // c may stand in the first or the second
	out = append(spare[2][:0], c[:i+1]...)
	for f := c[i]; f != c[j]; {
		if f = m.turn(f, w.node, left); f < 0 {
			return nil, 0
		}
		out = append(out, f)
	}
	spare[1], spare[2] = append(out, c[j+1:]...), spare[1]
	return spare[1], i
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

// pull appends the corners of the taut string through the portals, the last of
// which is the end itself; the start is not listed.
func pull(out []corner, from g.Point, portals []portal) []corner {
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

// tighten unfolds a corridor and pulls the string tight; bends are those of the string.
func (m *mesh) tighten(c []int, a, b int) (length float64) {
	x := &m.strip
	to := m.unfold(c, a, b)
	portals := append(x.portals, portal{to, to, b, b})
	x.string = pull(append(x.string[:0], corner{x.from, a, -1}), x.from, portals)
	x.portals, x.bends = portals[:len(portals)-1], x.bends[:0]
	for s := 1; s < len(x.string); s++ {
		p, q := x.string[s-1].p, x.string[s].p
		length += p.Dist(q)
		if s+1 < len(x.string) {
			d0, d1 := q.Sub(p), x.string[s+1].p.Sub(q)
			x.bends = append(x.bends, bend{x.string[s].node, x.string[s].at, math.Abs(same.Atan2(d0.Cross(d1), d0.Dot(d1)))})
		}
	}
	return length
}

// points returns where the string crosses the edges of its corridor, and its ends.
func (m *mesh) points(a, b int) []UV {
	x := &m.strip
	out := append(make([]UV, 0, len(x.portals)+2), m.nodeUV(a))
	k := 0
	for s := 1; s < len(x.string); s++ {
		p, q := x.string[s-1].p, x.string[s].p
		for ; k < x.string[s].at; k++ {
			e := x.portals[k]
			t := 0.5
			if den := q.Sub(p).Cross(e.right.Sub(e.left)); den != 0 {
				t = max(0, min(1, -q.Sub(p).Cross(e.left.Sub(p))/den))
			}
			l, r := m.nodeUV(e.leftN), m.nodeUV(e.rightN)
			out = append(out, UV{l.U + float64(t*(r.U-l.U)), l.V + float64(t*(r.V-l.V))})
		}
	}
	return append(out, m.nodeUV(b))
}

// cross is positive when c lies to the left of the ray from a to b.
func cross(a, b, c g.Point) float64 { return b.Sub(a).Cross(c.Sub(a)) }

// unfold lays the faces of a corridor into the plane: its portals, and the two ends, of
// which the far one is returned. What it begins with that lies there already stays.
func (m *mesh) unfold(c []int, a, b int) (to g.Point) {
	x := &m.strip
	same := 0
	for same < min(len(c), len(x.faces)) && c[same] == x.faces[same] {
		same++
	}
	at := [3]g.Point{{}, {X: m.tris[c[0]].l[0]}}
	at[2] = third(at[0], at[1], m.tris[c[0]].l[2], m.tris[c[0]].l[1])
	x.from = cornerOf(at, m.corner(c[0], a))
	i := max(0, same-1)
	x.portals = x.portals[:i]
	if i > 0 {
		at = m.beyond(x.portals[i-1], c[i])
	}
	for ; i+1 < len(c); i++ {
		f, h := c[i], c[i+1]
		for k := range m.across[f] {
			if m.across[f][k] != h {
				continue
			}
			// corners run counter-clockwise, so crossing the edge from k to k+1
			// outwards has k+1 on the left and k on the right
			e := portal{at[(k+1)%3], at[k], m.tris[f].n[(k+1)%3], m.tris[f].n[k]}
			x.portals = append(x.portals, e)
			at = m.beyond(e, h)
			break
		}
	}
	x.faces = append(x.faces[:0], c...)
	return cornerOf(at, m.corner(c[len(c)-1], b))
}

// beyond lays face h into the plane against the portal that leads to it.
func (m *mesh) beyond(e portal, h int) (at [3]g.Point) {
	k := m.corner(h, e.leftN)
	at[k], at[(k+1)%3] = e.left, e.right
	at[(k+2)%3] = third(e.left, e.right, m.tris[h].l[(k+2)%3], m.tris[h].l[(k+1)%3])
	return at
}

// cornerOf returns a corner of a face, the origin for none.
func cornerOf(at [3]g.Point, k int) g.Point {
	if k < 0 {
		return g.Point{}
	}
	return at[k]
}
