package masks

import (
	"cmp"
	"math"
	"slices"
)

// shelves lays the blocks on shelves across the web, first fit by decreasing height:
// each on the first shelf that has room, in order of their length along the web
// (Coffman, Garey, Johnson and Tarjan 1980; from memory). Of the ways round of
// [packing.turns] the one with the shortest run is taken.
func (p *packing) shelves() packed {
	best := packed{length: math.MaxInt64}
	for _, ways := range p.turns()[1:] {
		order := p.orders()[0]
		along := func(i int) int64 { return p.blocks[i].ways[ways[i]].along }
		slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(along(j), along(i)) })
		type shelf struct{ at, used int64 }
		var all []shelf
		out := packed{at: make([]berth, len(p.blocks))}
		for _, i := range order {
			size := p.blocks[i].ways[ways[i]].over
			k := slices.IndexFunc(all, func(s shelf) bool { return s.used+size <= p.over })
			if k < 0 {
				k = len(all)
				all = append(all, shelf{at: out.length})
				out.length += along(i)
			}
			out.at[i] = berth{all[k].at, all[k].used, ways[i]}
			all[k].used += size
		}
		if out.length < best.length {
			best = out
		}
	}
	return best
}

// inOrder brings a packing nearer the order given without making it longer. Films of
// one size change places until they stand in order along the run; bands of the run
// that a straight cut across parts change places until their first films do.
func (p *packing) inOrder(k packed) {
	p.swapAlike(k)
	p.swapBands(k)
	p.swapAlike(k)
}

func (p *packing) swapAlike(k packed) {
	type kind struct {
		width, high int64
		first       blockWay
	}
	alike := map[kind][]int{}
	for i, b := range p.blocks {
		of := kind{b.width, b.high, b.ways[0]}
		alike[of] = append(alike[of], i)
	}
	for _, which := range alike { // each on its own: their order does not matter
		var spots []berth
		for _, i := range which {
			spots = append(spots, k.at[i])
		}
		slices.SortFunc(spots, func(a, b berth) int { return cmp.Or(cmp.Compare(a.along, b.along), cmp.Compare(a.over, b.over)) })
		for n, i := range which {
			k.at[i] = spots[n]
		}
	}
}

func (p *packing) swapBands(k packed) {
	type band struct {
		from, to int64
		blocks   []int
	}
	order, _ := p.readBack(k)
	var bands []band
	for _, i := range order {
		from := k.at[i].along
		to := from + p.blocks[i].ways[k.at[i].way].along
		if len(bands) == 0 || from >= bands[len(bands)-1].to {
			bands = append(bands, band{from: from, to: to})
		}
		b := &bands[len(bands)-1]
		b.to, b.blocks = max(b.to, to), append(b.blocks, i)
	}
	slices.SortStableFunc(bands, func(a, b band) int { return cmp.Compare(slices.Min(a.blocks), slices.Min(b.blocks)) })
	at := int64(0)
	for _, b := range bands {
		for _, i := range b.blocks {
			k.at[i].along += at - b.from
		}
		at += b.to - b.from
	}
}
