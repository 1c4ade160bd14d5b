package masks

import (
	"math"
	"slices"
)

// Seam is a straight seam across the whole field of a marking, the same for every
// pass. Lengths are in inches of the flat.
type Seam struct {
	Upright   bool               // x is At along it; otherwise y is
	At        float64            // where it stands
	Broken    [seamRuleCount]int // how many edges, islands, corners and points break each rule
	Crossings int                // paint edges crossed, over the films of all passes
	Flat      int                // those crossed at less than 60 degrees
	OnTape    float64            // the fraction of it that lies on finishing tape
	Cost      float64            // all but the rules broken, in crossings
}

// Keeps tells whether a seam breaks no rule.
func (s Seam) Keeps() bool { return s.Broken == [seamRuleCount]int{} }

// cost returns what the seam adds to a division, with its distance off the equal one.
func (s Seam) cost(off float64) seamCost {
	return seamCost{s.Broken, s.Cost + float64(costOff*math.Abs(off))}
}

// leastTile is the narrowest tile: it holds registration marks at both edges
// (derived from their size). Where tiles of even width would be narrower, half of
// their width is the least.
const leastTile = 3.0

// seamStep is the spacing of the places tried for a seam: sixteenths are what a
// tape shows.
const seamStep = 1.0 / 16

// seams returns the best seams that cut the field into n tiles, none longer than
// limit, and what they cost; false where n tiles are too few.
//
// The places tried are sixteenths from the edge of the field, the ends and middles of
// all that a rule forbids, and those a whole number of longest tiles from the edges
// and from such ends. Of these, all seams are chosen together: the division that costs
// least is built up seam by seam from the best divisions before it (Bellman 1957),
// in time that grows with the places times the seams.
func (s *seamField) seams(n int, limit float64) ([]Seam, seamCost, bool) {
	if n == 1 {
		return nil, seamCost{}, s.field.Width() <= limit+1e-9
	}
	lo, hi := s.field.Min.X, s.field.Max.X
	even := (hi - lo) / float64(n)
	if even > limit+1e-9 {
		return nil, seamCost{}, false
	}
	least := min(leastTile, even/2)
	places := s.places(n, limit, lo+least, hi-least)
	all := make([]Seam, len(places))
	for i, x := range places {
		all[i] = s.at(x)
	}
	best := make([]seamCost, len(places)) // of divisions whose last seam stands there
	from := make([][]int, n)              // for each seam, the place of the one before it; -1: none can be
	for k := 1; k < n; k++ {
		from[k] = make([]int, len(places))
		next := make([]seamCost, len(places))
		var window []int // places of the seam before, in order of place and of cost
		entered := 0
		for i, x := range places {
			own := all[i].cost(x - lo - float64(float64(k)*even))
			from[k][i] = -1
			if k == 1 {
				if x-lo <= limit+1e-9 {
					next[i], from[k][i] = own, i
				}
				continue
			}
			for ; entered < i && places[entered] <= x-least+1e-9; entered++ {
				if from[k-1][entered] < 0 {
					continue
				}
				for len(window) > 0 && best[entered].less(best[window[len(window)-1]]) {
					window = window[:len(window)-1]
				}
				window = append(window, entered)
			}
			for len(window) > 0 && places[window[0]] < x-limit-1e-9 {
				window = window[1:]
			}
			if len(window) > 0 {
				next[i], from[k][i] = best[window[0]].plus(own), window[0]
			}
		}
		best = next
	}
	last := -1
	for i, x := range places {
		if from[n-1][i] >= 0 && hi-x <= limit+1e-9 && (last < 0 || best[i].less(best[last])) {
			last = i
		}
	}
	if last < 0 {
		return nil, seamCost{}, false
	}
	out := make([]Seam, n-1)
	for k, i := n-1, last; k >= 1; k, i = k-1, from[k][i] {
		out[k-1] = all[i]
	}
	return out, best[last], true
}

// places returns where seams are tried, ascending, from lo to hi.
func (s *seamField) places(n int, limit, lo, hi float64) []float64 {
	f := s.field
	var out []float64
	for i := 1.0; f.Min.X+float64(i*seamStep) < f.Max.X; i++ {
		out = append(out, f.Min.X+float64(i*seamStep))
	}
	var ends []float64
	for _, spans := range s.blocked {
		for _, b := range spans {
			ends = append(ends, b.lo, b.hi)
		}
	}
	ends = dropNear(sortedFloats(ends))
	for i := 1; i < len(ends); i++ {
		out = append(out, (ends[i-1]+ends[i])/2)
	}
	ends = append(ends, f.Min.X, f.Max.X)
	for k := range n {
		for _, e := range ends {
			out = append(out, e+float64(float64(k)*limit), e-float64(float64(k)*limit))
		}
		out = append(out, f.Min.X+f.Width()*float64(k)/float64(n))
	}
	out = slices.DeleteFunc(out, func(x float64) bool { return x < lo-1e-9 || x > hi+1e-9 })
	return dropNear(sortedFloats(out))
}

func sortedFloats(v []float64) []float64 { slices.Sort(v); return v }

// dropNear leaves out of ascending numbers those that are the one before them.
func dropNear(v []float64) []float64 {
	return slices.CompactFunc(v, func(a, b float64) bool { return math.Abs(b-a) < 1e-9 })
}

// division is a way to cut a field into tiles.
type division struct {
	turned         bool   // the drawing's y runs along the web
	xs, ys         []Seam // upright ones from the left, level ones from below
	broken         [seamRuleCount]int
	limitX, limitY float64 // inches: the largest tile
}

// divide returns the division into the fewest tiles; of two ways round on the web
// with as many, the one that breaks fewer rules, the drawing's x along the web where
// that is no difference. One tile more a direction is taken only where it keeps a
// seam from running along a paint edge. Across and along are the largest tile, reach
// what a tile needs more where another follows it; false where that leaves nothing.
func divide(upright, level *seamField, across, along, reach float64, mayTurn bool) (division, bool) {
	var best division
	found := false
	for _, turned := range []bool{false, true} {
		if turned && !mayTurn {
			continue
		}
		d := division{turned: turned, limitX: along, limitY: across}
		if turned {
			d.limitX, d.limitY = across, along
		}
		var costs [2]seamCost
		var ok [2]bool
		d.xs, costs[0], ok[0] = upright.fewest(d.limitX, reach)
		d.ys, costs[1], ok[1] = level.fewest(d.limitY, reach)
		if !ok[0] || !ok[1] {
			continue
		}
		d.broken = costs[0].plus(costs[1]).broken
		if !found || d.tiles() < best.tiles() || d.tiles() == best.tiles() && (seamCost{broken: d.broken}).less(seamCost{broken: best.broken}) {
			best, found = d, true
		}
	}
	return best, found
}

func (d division) tiles() int { return (len(d.xs) + 1) * (len(d.ys) + 1) }

// fewest returns the seams of the fewest tiles.
func (s *seamField) fewest(limit, reach float64) ([]Seam, seamCost, bool) {
	if s.field.Width() <= limit+1e-9 {
		return nil, seamCost{}, true
	}
	limit -= reach
	if limit <= 0 {
		return nil, seamCost{}, false
	}
	n := max(2, int(math.Ceil(s.field.Width()/limit-1e-9)))
	seams, cost, ok := s.seams(n, limit)
	if ok && cost.broken[AlongEdge] > 0 {
		if more, c, ok := s.seams(n+1, limit); ok && c.broken[AlongEdge] == 0 {
			return more, c, true
		}
	}
	return seams, cost, ok
}
