package masks

import (
	"fmt"
	"math"
	"math/rand/v2"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// unit is the step, in inches, in which films are packed: whole numbers compare the
// same on every machine. Films are rounded up to it.
const unit = 1e-6

func fromUnits(n int64) g.Length { return g.Length(float64(n) * unit) }

// block is a film to pack, a gap larger than it is along and across the web.
type block struct {
	ways  []blockWay
	width int64 // of the drawing, for films that are alike
	high  int64
}

// blockWay is one way round of a block on the web.
type blockWay struct {
	along, over int64 // sizes along and across the web
	across      bool  // the drawing's x lies across the web
}

// packing is the blocks and the strip they go on: the usable web and one gap.
type packing struct {
	blocks []block
	over   int64
	area   int64
}

// berth is where a block lies: its corner nearest the beginning and the edge.
type berth struct {
	along, over int64
	way         int
}

// packed is all blocks laid.
type packed struct {
	at     []berth
	length int64
	under  int64 // area under the skyline: of two as long the smaller is the denser
}

func (a packed) better(b packed) bool {
	return a.length < b.length || a.length == b.length && a.under < b.under
}

// newPacking turns films into blocks. A film whose drawing must keep along the web, or
// that fits in one way only, has that way only; the first way is that of its tiling.
func newPacking(films []WebFilm, run Run) *packing {
	up := func(l g.Length) int64 { return int64(math.Ceil(l.Inches()/unit - 1e-3)) }
	p := &packing{over: int64(math.Floor((run.Usable+WebGap).Inches()/unit + 1e-3))}
	for _, f := range films {
		w, h := up(f.Width+WebGap), up(f.Height+WebGap)
		b := block{width: w, high: h}
		for _, across := range []bool{f.Turned, !f.Turned} {
			way := blockWay{along: w, over: h, across: across}
			if across {
				way.along, way.over = h, w
			}
			if way.over <= p.over+1 && (run.Grain != layouts.KeepGrain || !across) {
				way.over = min(way.over, p.over)
				if len(b.ways) == 0 || w != h {
					b.ways = append(b.ways, way)
				}
			}
		}
		if len(b.ways) == 0 {
			panic(fmt.Sprintf("masks: film %s of %v x %v does not fit the web it was cut for", f.ID, f.Width, f.Height))
		}
		p.area += b.ways[0].along * b.ways[0].over
		p.blocks = append(p.blocks, b)
	}
	return p
}

// lowerBound returns a length that no packing is shorter than: the area of all blocks
// over the strip, the longest block, and the blocks that are over half of the strip
// whichever way round, which can only follow one another.
func (p *packing) lowerBound() int64 {
	bound := (p.area + p.over - 1) / p.over
	following := int64(0)
	for _, b := range p.blocks {
		short, wide := b.ways[0].along, true
		for _, w := range b.ways {
			short, wide = min(short, w.along), wide && 2*w.over > p.over
		}
		if wide {
			following += short
		}
		bound = max(bound, short)
	}
	return max(bound, following)
}

// searchTries is how many packings the search looks at: a fifth of a second for 400
// films on a shared machine of two cores.
const searchTries = 2500

// search returns the best packing found, shelves if nothing is shorter: skylines under
// the orders of [packing.orders], then from the best of them small changes of the
// order and of which way round blocks lie, each kept unless it makes the run longer.
// The changes come from a generator that always starts the same.
func (p *packing) search(shelves packed) packed {
	bound := p.lowerBound()
	var order, ways []int
	best := packed{length: math.MaxInt64}
	for _, o := range p.orders() {
		for _, w := range p.turns() {
			if got := p.skyline(o, w); got.better(best) {
				best, order, ways = got, o, w
			}
		}
	}
	if got := p.bestFit(); got.better(best) {
		best = got
		order, ways = p.readBack(got)
		if again := p.skyline(order, ways); again.better(best) {
			best = again
		}
	}
	now := p.skyline(order, ways)
	random := rand.New(rand.NewPCG(1, 2))
	n := len(p.blocks)
	for try := 0; try < searchTries && n > 1 && best.length > bound; try++ {
		o, w := append([]int(nil), order...), append([]int(nil), ways...)
		switch i, j := random.IntN(n), random.IntN(n); random.IntN(4) {
		case 0:
			o[i], o[j] = o[j], o[i]
		case 1: // one block elsewhere
			b := o[i]
			o = append(o[:i], o[i+1:]...)
			o = append(o[:j], append([]int{b}, o[j:]...)...)
		case 2: // several blocks the other way about
			for i, j := min(i, j), max(i, j); i < j; i, j = i+1, j-1 {
				o[i], o[j] = o[j], o[i]
			}
		default:
			w[i] = random.IntN(len(p.blocks[i].ways)+1) - 1
		}
		if got := p.skyline(o, w); !now.better(got) {
			now, order, ways = got, o, w
			if got.better(best) {
				best = got
			}
		}
	}
	if shelves.length <= best.length {
		return shelves // as short, and easier to cut apart
	}
	return best
}
