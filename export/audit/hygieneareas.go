package audit

import (
	"cmp"
	"math"
	"slices"
)

// chordAreas returns the area that closed chords enclose by the even-odd and by
// the non-zero rule. The plane is cut at the y of every end into slabs; in a
// slab the chords stand in one order and every piece between two neighbours is a
// trapezoid. That is exact where no two chords cross within a slab. The cost
// grows with the ends times the chords that overlap in y.
func chordAreas(chords []chord) (evenOdd, nonZero float64) {
	var ys []float64
	var rising []chord // every chord from its lower end to its upper
	var turns []int    // +1 where the contour runs up, -1 where it runs down
	for _, c := range chords {
		if c.a.Y == c.b.Y {
			continue
		}
		turn := 1
		if c.a.Y > c.b.Y {
			c.a, c.b, turn = c.b, c.a, -1
		}
		ys = append(ys, c.a.Y, c.b.Y)
		rising, turns = append(rising, c), append(turns, turn)
	}
	slices.Sort(ys)
	order := make([]int, len(rising))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(rising[i].a.Y, rising[j].a.Y) })
	type edge struct {
		mid  float64
		turn int
	}
	var active []int
	var edges []edge
	next := 0
	for k := 1; k < len(ys); k++ {
		lo, hi := ys[k-1], ys[k]
		if lo == hi {
			continue
		}
		for next < len(order) && rising[order[next]].a.Y <= lo {
			active = append(active, order[next])
			next++
		}
		edges = edges[:0]
		kept := active[:0]
		mid := lo + (hi-lo)/2
		for _, i := range active {
			c := rising[i]
			if c.b.Y <= lo {
				continue
			}
			kept = append(kept, i)
			t := (mid - c.a.Y) / (c.b.Y - c.a.Y)
			edges = append(edges, edge{c.a.X + float64(t*(c.b.X-c.a.X)), turns[i]})
		}
		active = kept
		slices.SortStableFunc(edges, func(a, b edge) int { return cmp.Compare(a.mid, b.mid) })
		winding := 0
		for n := 0; n+1 < len(edges); n++ {
			winding += edges[n].turn
			// The middle width times the height is the area of a trapezoid.
			area := float64(math.Max(0, edges[n+1].mid-edges[n].mid) * (hi - lo))
			if n%2 == 0 {
				evenOdd += area
			}
			if winding != 0 {
				nonZero += area
			}
		}
	}
	return evenOdd, nonZero
}
