package masks

import (
	"cmp"
	"math"
	"slices"
)

// step is one step of a skyline: how far along the web is taken, from over to the
// next step.
type step struct{ over, along int64 }

// skyline lays the blocks in an order: each at the place, and the way round, where it
// reaches the least far along the web, then where it leaves the least unused below it
// (Burke, Kendall and Whitwell 2004 describe the skyline; from memory). Ways gives the
// way round of each block, -1 for the better one.
func (p *packing) skyline(order, ways []int) packed {
	out := packed{at: make([]berth, len(p.blocks))}
	sky := make([]step, 1, 16)
	for _, i := range order {
		best, reach, lost := berth{}, int64(math.MaxInt64), int64(math.MaxInt64)
		for k, w := range p.blocks[i].ways {
			if ways[i] >= 0 && ways[i] != k {
				continue
			}
			for s := range sky {
				for _, over := range [2]int64{sky[s].over, p.end(sky, s) - w.over} { // at either end of the step
					if over < 0 || over+w.over > p.over {
						continue
					}
					along, waste := p.rest(sky, over, w.over)
					if r := along + w.along; r < reach || r == reach && waste < lost {
						best, reach, lost = berth{along, over, k}, r, waste
					}
				}
			}
		}
		out.at[i] = best
		w := p.blocks[i].ways[best.way]
		sky = p.raise(sky, best.over, w.over, reach)
		out.length = max(out.length, reach)
	}
	out.under = p.under(sky)
	return out
}

// end returns where step s of a skyline ends.
func (p *packing) end(sky []step, s int) int64 {
	if s+1 < len(sky) {
		return sky[s+1].over
	}
	return p.over
}

// rest returns how far along a block over [over, over+size] comes to rest, and the area
// it closes in below it.
func (p *packing) rest(sky []step, over, size int64) (along, waste int64) {
	for s, k := range sky {
		if p.end(sky, s) > over && k.over < over+size {
			along = max(along, k.along)
		}
	}
	for s, k := range sky {
		lo, hi := max(k.over, over), min(p.end(sky, s), over+size)
		if hi > lo {
			waste += (hi - lo) * (along - k.along)
		}
	}
	return along, waste
}

// raise returns the skyline after a block over [over, over+size] that reaches to along.
func (p *packing) raise(sky []step, over, size, along int64) []step {
	out := make([]step, 0, len(sky)+2)
	add := func(k step) {
		if len(out) == 0 || out[len(out)-1].along != k.along {
			out = append(out, k)
		}
	}
	added := false
	for s, k := range sky {
		end := p.end(sky, s)
		if k.over < over {
			add(k)
		}
		if !added && end > over {
			add(step{over, along})
			added = true
		}
		if end > over+size {
			add(step{max(k.over, over+size), k.along})
		}
	}
	return out
}

func (p *packing) under(sky []step) int64 {
	sum := int64(0)
	for s, k := range sky {
		sum += (p.end(sky, s) - k.over) * k.along
	}
	return sum
}

// orders returns the orders in which blocks are laid: by area, longer side, shorter
// side and circumference, largest first, and as given.
func (p *packing) orders() [][]int {
	given := make([]int, len(p.blocks))
	for i := range given {
		given[i] = i
	}
	out := [][]int{given}
	for _, size := range []func(b block) int64{
		func(b block) int64 { return b.width * b.high },
		func(b block) int64 { return max(b.width, b.high) },
		func(b block) int64 { return min(b.width, b.high) },
		func(b block) int64 { return b.width + b.high },
	} {
		o := slices.Clone(given)
		slices.SortStableFunc(o, func(i, j int) int { return cmp.Compare(size(p.blocks[j]), size(p.blocks[i])) })
		out = append(out, o)
	}
	return out
}

// turns returns ways round for all blocks: the better one at each place, that of their
// tilings, the one shorter along the web, and the longer one.
func (p *packing) turns() [][]int {
	n := len(p.blocks)
	out := [][]int{make([]int, n), make([]int, n), make([]int, n), make([]int, n)}
	for i, b := range p.blocks {
		out[0][i] = -1
		short, long := 0, 0
		for k, w := range b.ways {
			if w.along < b.ways[short].along {
				short = k
			}
			if w.along > b.ways[long].along {
				long = k
			}
		}
		out[2][i], out[3][i] = short, long
	}
	return out
}

// bestFit lays into the deepest step of the skyline, every time, the block that leaves
// the least of it beside it, the longer one of two; a step that none fits is filled up
// to its lower neighbour (best fit of Burke, Kendall and Whitwell 2004, from memory).
func (p *packing) bestFit() packed {
	out := packed{at: make([]berth, len(p.blocks))}
	left := p.orders()[1]
	sky := []step{{}}
	for len(left) > 0 {
		low := 0
		for s := range sky {
			if sky[s].along < sky[low].along {
				low = s
			}
		}
		room := p.end(sky, low) - sky[low].over
		pick, way := -1, 0
		for k, i := range left {
			for v, w := range p.blocks[i].ways {
				if w.over > room {
					continue
				}
				if pick < 0 {
					pick, way = k, v
					continue
				}
				best := p.blocks[left[pick]].ways[way]
				if w.over > best.over || w.over == best.over && w.along > best.along {
					pick, way = k, v
				}
			}
		}
		if pick < 0 {
			next := int64(math.MaxInt64)
			if low > 0 {
				next = sky[low-1].along
			}
			if low+1 < len(sky) {
				next = min(next, sky[low+1].along)
			}
			sky = p.raise(sky, sky[low].over, room, next)
			continue
		}
		i := left[pick]
		w := p.blocks[i].ways[way]
		out.at[i] = berth{sky[low].along, sky[low].over, way}
		reach := sky[low].along + w.along
		sky = p.raise(sky, sky[low].over, w.over, reach)
		out.length = max(out.length, reach)
		left = slices.Delete(left, pick, pick+1)
	}
	out.under = p.under(sky)
	return out
}

// readBack returns the order and the ways round of a packing, along the web.
func (p *packing) readBack(k packed) (order, ways []int) {
	order, ways = p.orders()[0], make([]int, len(p.blocks))
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(k.at[i].along, k.at[j].along), cmp.Compare(k.at[i].over, k.at[j].over))
	})
	for i, s := range k.at {
		ways[i] = s.way
	}
	return order, ways
}
