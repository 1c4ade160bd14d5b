package geometry

import (
	"cmp"
	"slices"

	"maskloft/geometry/same"
)

// edge is a stretch of a curve between two vertices of a plane, with those that lie on it.
type edge struct {
	curve  int
	t0, t1 float64
	v0, v1 int
	on     []member // itself and those that lie on it
	winds  []int    // by operand, how often its outlines run along it, less those against it
	sides
}

// join cuts the curves of the outlines that meet at their meetings, and finds the edges.
func (p *plane) join(m *meetings) error {
	curves := p.ranked()
	rank := make([]int, len(p.curves))
	for r, c := range curves {
		rank[c] = r
	}
	slices.SortStableFunc(m.found, func(x, y meeting) int {
		return cmp.Or(cmp.Compare(min(rank[x.i], rank[x.j]), min(rank[y.i], rank[y.j])),
			cmp.Compare(max(rank[x.i], rank[x.j]), max(rank[y.i], rank[y.j])), cmp.Compare(x.s, y.s), cmp.Compare(x.t, y.t))
	})
	p.vertices = newVertices()
	for _, c := range curves {
		p.vertices.add(p.curves[c].a)
		p.vertices.add(p.curves[c].b)
	}
	marks := make([][]stop, len(p.curves))
	for _, x := range m.found {
		v := p.vertices.add(x.p)
		marks[x.i] = append(marks[x.i], stop{x.s, v})
		marks[x.j] = append(marks[x.j], stop{x.t, v})
	}
	p.share(m.overlaps, marks)
	for _, c := range curves {
		p.cut(c, marks[c])
	}
	p.merge(rank)
	return p.label()
}

// ranked returns the curves of the outlines that meet in their canonical order.
func (p *plane) ranked() []int {
	var out []int
	for c, w := range p.walked {
		if p.outlines[w.outline].meets {
			out = append(out, c)
		}
	}
	length := make([]float64, len(p.curves))
	for _, c := range out {
		length[c] = p.curves[c].a.Dist(p.curves[c].b)
	}
	slices.SortStableFunc(out, func(i, j int) int {
		if length[i] != length[j] {
			return cmp.Compare(length[j], length[i])
		}
		switch a, b := &p.curves[i], &p.curves[j]; {
		case a.before(b):
			return -1
		case b.before(a):
			return 1
		}
		return 0
	})
	return out
}

// share gives each of two curves that lie on one another the stops of the other there.
func (p *plane) share(overlaps []overlap, marks [][]stop) {
	given := make([][]stop, len(marks))
	give := func(from, to int, s0, s1, t0, t1 float64) {
		if s0 > s1 {
			s0, s1, t0, t1 = s1, s0, t1, t0
		}
		k := &p.curves[to]
		for _, x := range marks[from] {
			if x.t <= s0 || x.t >= s1 || slices.ContainsFunc(marks[to], func(y stop) bool { return y.v == x.v }) {
				continue
			}
			t := t0 + float64((x.t-s0)/(s1-s0)*(t1-t0))
			q := p.vertices.at[x.v]
			if k.kind == Line {
				d := k.b.Sub(k.a)
				t = q.Sub(k.a).Dot(d) / d.Dot(d)
			} else {
				t = k.project(q, t)
			}
			given[to] = append(given[to], stop{t, x.v})
		}
	}
	for _, o := range overlaps {
		give(o.i, o.j, o.s0, o.s1, o.t0, o.t1)
		give(o.j, o.i, o.t0, o.t1, o.s0, o.s1)
	}
	for c := range marks {
		marks[c] = append(marks[c], given[c]...)
	}
}

// cut cuts curve c into edges at its stops.
func (p *plane) cut(c int, stops []stop) {
	k := &p.curves[c]
	slices.SortStableFunc(stops, func(x, y stop) int { return cmp.Compare(x.t, y.t) })
	last := stop{0, p.vertices.find(k.a)}
	end := stop{1, p.vertices.find(k.b)}
	add := func(to stop) {
		if to.v != last.v || k.at((last.t+to.t)/2).Dist(p.vertices.at[to.v]) > 4*weldDistance { // a loop is an edge
			p.edges = append(p.edges, edge{curve: c, t0: last.t, t1: to.t, v0: last.v, v1: to.v})
		}
		last = to
	}
	for _, s := range stops {
		if s.t > 0 && s.t < 1 && s.v != last.v && (s.v != end.v || k.at(s.t).Dist(k.at((s.t+1)/2)) > 4*weldDistance) {
			add(s)
		}
	}
	add(end)
}

// merge makes one edge of those that lie on one another, and leaves out those that are
// not part of any operand's outline, as of two outlines back to back.
func (p *plane) merge(rank []int) {
	slices.SortStableFunc(p.edges, func(x, y edge) int {
		return cmp.Or(cmp.Compare(min(x.v0, x.v1), min(y.v0, y.v1)), cmp.Compare(max(x.v0, x.v1), max(y.v0, y.v1)), cmp.Compare(rank[x.curve], rank[y.curve]), cmp.Compare(x.t0, y.t0))
	})
	winds := make([]int, len(p.edges)*p.operands)
	kept := p.edges[:0]
	group := 0 // the first edge kept of those between the same vertices
	for i := range p.edges {
		e := p.edges[i]
		if n := len(kept); n > group && !sameEnds(&kept[n-1], &e) {
			group = n
		}
		w := p.walked[e.curve]
		merged := false
		for j := group; j < len(kept); j++ {
			if sign, ok := p.lieTogether(&kept[j], &e); ok {
				kept[j].on = append(kept[j].on, member{e.curve, e.t0, e.t1, sign})
				kept[j].winds[p.outlines[w.outline].operand] += sign * w.sign()
				merged = true
				break
			}
		}
		if !merged {
			e.on = []member{{e.curve, e.t0, e.t1, 1}}
			e.winds, winds = winds[:p.operands:p.operands], winds[p.operands:]
			e.winds[p.outlines[w.outline].operand] = w.sign()
			kept = append(kept, e)
		}
	}
	p.edges = slices.DeleteFunc(kept, func(e edge) bool {
		return !slices.ContainsFunc(e.winds, func(w int) bool { return w != 0 })
	})
}

func sameEnds(x, y *edge) bool {
	return min(x.v0, x.v1) == min(y.v0, y.v1) && max(x.v0, x.v1) == max(y.v0, y.v1)
}

// lieTogether tells whether two edges between the same vertices lie on one another, and
// whether they run the same way (1) or not (-1).
func (p *plane) lieTogether(x, y *edge) (int, bool) {
	k, o := &p.curves[x.curve], &p.curves[y.curve]
	signs := []int{1}
	switch {
	case x.v0 == x.v1:
		signs = []int{1, -1}
	case x.v0 != y.v0:
		signs = []int{-1}
	}
	for _, sign := range signs {
		t0, t1 := y.t0, y.t1
		if sign < 0 {
			t0, t1 = t1, t0
		}
		same := true
		for _, f := range [2]float64{0.5, 0.25} {
			q := k.at(x.t0 + float64(f*(x.t1-x.t0)))
			t := t0 + float64(f*(t1-t0))
			if o.kind == Cubic {
				t = o.project(q, t)
			} else if d := o.b.Sub(o.a); d != (Vec{}) {
				t = max(0, min(1, q.Sub(o.a).Dot(d)/d.Dot(d)))
			}
			if o.at(t).Dist(q) > 1.5*weldDistance {
				same = false
				break
			}
		}
		if same {
			return sign, true
		}
	}
	return 0, false
}

// label fills in the sides of all edges: of each run of edges between vertices where more
// than two meet, one is asked, the longest.
func (p *plane) label() error {
	at := make([][2]int, len(p.vertices.at)) // the two edges of a vertex
	meet := make([]int, len(p.vertices.at))
	for i, e := range p.edges {
		for _, v := range [2]int{e.v0, e.v1} {
			if meet[v] < 2 {
				at[v][meet[v]] = i
			}
			meet[v]++
		}
	}
	done := make([]bool, len(p.edges))
	type link struct {
		edge int
		sign int // -1 where it runs against the first of the run
	}
	var run []link
	for i := range p.edges {
		if done[i] {
			continue
		}
		done[i] = true
		run = append(run[:0], link{i, 1})
		best, length := link{i, 1}, 0.0
		for n := 0; n < len(run); n++ {
			l := run[n]
			e := &p.edges[l.edge]
			if d := max(p.vertices.at[e.v0].Dist(p.vertices.at[e.v1]), p.curves[e.curve].at((e.t0+e.t1)/2).Dist(p.vertices.at[e.v0])); d > length {
				best, length = l, d
			}
			for _, v := range [2]int{e.v0, e.v1} {
				if meet[v] != 2 {
					continue
				}
				j := at[v][0]
				if j == l.edge {
					j = at[v][1]
				}
				if done[j] {
					continue
				}
				o := &p.edges[j]
				sign := l.sign
				if (e.v1 == v) != (o.v0 == v) {
					sign = -sign
				}
				for w := range e.winds {
					if e.winds[w]*l.sign != o.winds[w]*sign {
						return errClose
					}
				}
				done[j] = true
				run = append(run, link{j, sign})
			}
		}
		s, err := p.sidesOf(p.edges[best.edge].on)
		if err != nil {
			return err
		}
		for _, l := range run {
			if p.edges[l.edge].sides = s; l.sign != best.sign {
				p.edges[l.edge].sides = sides{s.right, s.left}
			}
		}
	}
	return nil
}

// direction returns the way in which an edge leaves its vertex, seen a little along it,
// so that of two that leave alike the one that bends away tells.
func (p *plane) direction(e *edge, fromEnd bool) Vec {
	k := &p.curves[e.curve]
	const little = 1.0 / 1024
	if fromEnd {
		return k.at(e.t1 - float64(little*(e.t1-e.t0))).Sub(k.at(e.t1)).Unit()
	}
	return k.at(e.t0 + float64(little*(e.t1-e.t0))).Sub(k.at(e.t0)).Unit()
}

// turnLeft orders the turns from the direction v: from a full turn to the right to one to
// the left, in (-pi, pi].
func turnLeft(v, w Vec) float64 { return same.Atan2(v.Cross(w), v.Dot(w)) }
