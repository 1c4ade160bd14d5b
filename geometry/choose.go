package geometry

import (
	"math"
	"slices"
)

// chosen is an outline of a region, the region to its left: one that meets nothing, or a
// closed walk along edges.
type chosen struct {
	whole *planeOutline
	back  bool // the whole one is turned about
	walk  []way
}

// choose returns the outlines of where the windings of the operands fulfil a rule.
func (p *plane) choose(rule func(winds []int) bool) ([]chosen, error) {
	var out []chosen
	for i := range p.outlines {
		o := &p.outlines[i]
		if o.meets {
			continue
		}
		if l, r := rule(o.left), rule(o.right); l != r {
			out = append(out, chosen{whole: o, back: l == p.walked[o.from].against})
		}
	}
	if len(p.edges) == 0 {
		return out, nil
	}
	leaving := make([][]way, len(p.vertices.at))
	balance := make([]int, len(p.vertices.at))
	var ways []way
	for i := range p.edges {
		e := &p.edges[i]
		l, r := rule(e.left), rule(e.right)
		if l == r {
			continue
		}
		w := way{i, r}
		from, to := p.endsOf(w)
		ways = append(ways, w)
		leaving[from] = append(leaving[from], w)
		balance[from]++
		balance[to]--
	}
	for _, b := range balance {
		if b != 0 {
			return nil, errClose
		}
	}
	used := make([]bool, len(p.edges))
	for _, w := range ways {
		var walk []way
		for !used[w.edge] {
			used[w.edge] = true
			walk = append(walk, w)
			next, ok := p.next(w, leaving, used)
			if !ok {
				break
			}
			w = next
		}
		for _, simple := range p.simple(walk) {
			out = append(out, chosen{walk: simple})
		}
	}
	return out, nil
}

// next returns the way by which the outline of a region goes on: of those not used yet
// the one farthest to the left, so that regions that touch in a point stay two.
func (p *plane) next(w way, leaving [][]way, used []bool) (way, bool) {
	_, v := p.endsOf(w)
	best, turned := -1, math.Inf(-1)
	for i, x := range leaving[v] {
		if used[x.edge] {
			continue
		}
		if len(leaving[v]) == 1 {
			return x, true
		}
		back := p.direction(&p.edges[w.edge], !w.against)
		if a := turnLeft(back.Scale(-1), p.direction(&p.edges[x.edge], x.against)); a > turned {
			best, turned = i, a
		}
	}
	if best < 0 {
		return way{}, false
	}
	return leaving[v][best], true
}

// corners returns the nodes of a chosen outline of straight pieces.
func (p *plane) corners(c chosen) []Point {
	var out []Point
	if c.whole == nil {
		for _, w := range c.walk {
			v, _ := p.endsOf(w)
			out = append(out, p.vertices.at[v])
		}
		return out
	}
	for i := c.whole.from; i < c.whole.to; i++ {
		if p.walked[i].against {
			out = append(out, p.curves[i].b)
		} else {
			out = append(out, p.curves[i].a)
		}
	}
	if c.back {
		slices.Reverse(out)
	}
	return out
}

// endsOf returns the vertices from which and to which a way runs.
func (p *plane) endsOf(w way) (from, to int) {
	e := &p.edges[w.edge]
	if w.against {
		return e.v1, e.v0
	}
	return e.v0, e.v1
}

// simple cuts a closed walk at vertices that it visits twice, so that no ring touches
// itself.
func (p *plane) simple(walk []way) [][]way {
	var out [][]way
	var stack []way
	place := map[int]int{}
	for _, w := range walk {
		from, to := p.endsOf(w)
		place[from] = len(stack)
		stack = append(stack, w)
		if i, ok := place[to]; ok {
			out = append(out, slices.Clone(stack[i:]))
			for _, x := range stack[i:] {
				v, _ := p.endsOf(x)
				delete(place, v)
			}
			stack = stack[:i]
		}
	}
	return out
}
