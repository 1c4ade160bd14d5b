package geometry

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// operandContour is a contour with the number of the operand that it is of.
type operandContour struct {
	Contour
	operand int
}

// clusters checks the contours of some operands and groups those whose boxes hang
// together: what lies in other groups has no part in a group's region.
func clusters(operands []Path) ([][]operandContour, error) {
	var all []operandContour
	var boxes []Rect
	for n, p := range operands {
		for i, c := range p {
			if !c.Closed() {
				return nil, fmt.Errorf("outline %d, contour %d: it is open: close it", n+1, i+1)
			}
			box := Rect{c.Start, c.Start}
			for j, s := range c.Segments {
				if bad(s.End) || (s.Kind == Cubic && bad(s.C1, s.C2)) {
					return nil, fmt.Errorf("outline %d, contour %d, segment %d: a coordinate is not a finite number below %g in", n+1, i+1, j+1, farthest)
				}
				box = box.with(s.End)
				if s.Kind == Cubic {
					box = box.with(s.C1).with(s.C2)
				}
			}
			all, boxes = append(all, operandContour{c, n}), append(boxes, box)
		}
	}
	group := make([]int, len(all))
	for i := range group {
		group[i] = i
	}
	find := func(i int) int {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(boxes[i].Min.X, boxes[j].Min.X), cmp.Compare(i, j))
	})
	var open []int
	for _, i := range order {
		kept := open[:0]
		for _, j := range open {
			if boxes[j].Max.X < boxes[i].Min.X-2*weldDistance {
				continue
			}
			kept = append(kept, j)
			if boxes[i].Touches(boxes[j], 2*weldDistance) {
				a, b := find(i), find(j)
				group[max(a, b)] = min(a, b)
			}
		}
		open = append(kept, i)
	}
	var out [][]operandContour
	at := make([]int, len(all)) // by the first of a group, its place in out, counted from 1
	for i, c := range all {
		r := find(i)
		if at[r] == 0 {
			out = append(out, nil)
			at[r] = len(out)
		}
		out[at[r]-1] = append(out[at[r]-1], c)
	}
	return out, nil
}

// with returns the smallest rectangle that holds r and q.
func (r Rect) with(q Point) Rect {
	return Rect{Point{min(r.Min.X, q.X), min(r.Min.Y, q.Y)}, Point{max(r.Max.X, q.X), max(r.Max.Y, q.Y)}}
}

// farthest bounds coordinates: distances of 1e-8 in keep their meaning below it.
const farthest = 1e6

func bad(ps ...Point) bool {
	for _, p := range ps {
		if !(math.Abs(p.X) < farthest && math.Abs(p.Y) < farthest) {
			return true
		}
	}
	return false
}
