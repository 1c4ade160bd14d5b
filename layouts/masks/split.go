package masks

import (
	"cmp"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Stretch is a part of a run that is cut in one go.
type Stretch struct{ From, To g.Length } // along the web, from the beginning of its first film to the end of its last

// Holds tells whether a film lies in a stretch.
func (s Stretch) Holds(f PlacedFilm) bool {
	middle := f.Rect.Centre().X
	return middle > s.From.Inches() && middle < s.To.Inches()
}

// splitTries is how many further films are tried in a stretch that the next film of
// the run no longer fits.
const splitTries = 40

// Split lays the films of a run anew in stretches none of which is longer than the
// longest tile, so that each is a file that the cutter holds its track over. A run that
// is short enough is one stretch as it lies. Stretches follow one another on one web, a
// [WebGap] apart: lead and tail are counted once.
//
// Films go into stretches in the order of the run, as many as fit; what room is left is
// filled with later ones.
func Split(run Run, film layouts.FilmSpec) Run {
	if len(run.Films) == 0 {
		return run
	}
	inner := run.Length - run.Lead - run.Tail
	if film.Longest <= 0 || inner <= film.Longest {
		run.Stretches = []Stretch{{run.Lead, run.Lead + inner}}
		return run
	}
	limit := int64(math.Floor((film.Longest+WebGap).Inches()/unit + 1e-3))
	rest := make([]WebFilm, len(run.Films))
	for i, f := range run.Films {
		rest[i] = f.WebFilm
	}
	out := run
	out.Films, out.Stretches = nil, nil
	from := run.Lead
	for len(rest) > 0 {
		take := stretchOf(rest, run, limit)
		var part []WebFilm
		for i, k := range take {
			part = append(part, rest[k-i])
			rest = slices.Delete(rest, k-i, k-i+1)
		}
		p := newPacking(part, run)
		best := p.search(p.shelves())
		if quick := p.quick(); best.length > limit || quick.length < best.length {
			best = quick
		}
		p.inOrder(best)
		placed := p.placed(best, part, g.Point{X: from.Inches(), Y: film.Across.Inches()})
		out.Films = append(out.Films, placed...)
		to := from + fromUnits(best.length) - WebGap
		out.Stretches = append(out.Stretches, Stretch{from, to})
		from = to + WebGap
	}
	for i := range out.Films {
		out.Films[i].Number = i + 1
	}
	out.Length = from - WebGap + run.Tail
	return out
}

// stretchOf returns the films that the next stretch holds, ascending.
func stretchOf(films []WebFilm, run Run, limit int64) []int {
	fits := func(take []int) bool {
		var part []WebFilm
		for _, i := range take {
			part = append(part, films[i])
		}
		return newPacking(part, run).quick().length <= limit
	}
	n := 1
	for n < len(films) && newPacking(films[:n+1], run).lowerBound() <= limit {
		n++
	}
	var take []int
	for i := range n {
		take = append(take, i)
	}
	for len(take) > 1 && !fits(take) {
		take = take[:len(take)-1]
	}
	for i := len(take); i < min(len(films), len(take)+splitTries); i++ {
		if more := append(take[:len(take):len(take)], i); fits(more) {
			take = more
		}
	}
	return take
}

// quick returns the best packing of those that are made without a search.
func (p *packing) quick() packed {
	best := p.shelves()
	for _, o := range p.orders() {
		for _, w := range p.turns() {
			if got := p.skyline(o, w); got.better(best) {
				best = got
			}
		}
	}
	if got := p.bestFit(); got.better(best) {
		best = got
	}
	return best
}

// placed returns the films of a packing on the web, its corner at a place, in the order
// along the web and across it.
func (p *packing) placed(k packed, films []WebFilm, corner g.Point) []PlacedFilm {
	var out []PlacedFilm
	for i, at := range k.at {
		way := p.blocks[i].ways[at.way]
		width, height := films[i].Width, films[i].Height
		if way.across {
			width, height = height, width
		}
		c := corner.Add(g.Vec{X: fromUnits(at.along).Inches(), Y: fromUnits(at.over).Inches()})
		out = append(out, PlacedFilm{WebFilm: films[i], Across: way.across, Rect: g.Rect{
			Min: c, Max: c.Add(g.Vec{X: width.Inches(), Y: height.Inches()}),
		}})
	}
	slices.SortStableFunc(out, func(a, b PlacedFilm) int {
		return cmp.Or(cmp.Compare(a.Rect.Min.X, b.Rect.Min.X), cmp.Compare(a.Rect.Min.Y, b.Rect.Min.Y))
	})
	return out
}
