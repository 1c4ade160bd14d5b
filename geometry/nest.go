package geometry

import (
	"cmp"
	"math"
	"slices"
)

// Nest re-derives outer contours and holes from the geometry alone, by even-odd
// nesting: a contour inside an even number of others is an outer one and is
// turned counter-clockwise, one inside an odd number is a hole and is turned
// clockwise. Every outer contour is followed by its holes; larger outer ones
// come first. The contours of p may run either way but do not cross; open ones
// and those without area are left out.
func Nest(p Path) Path {
	var rings [][]Point
	var kept Path
	for _, c := range p {
		if c.Closed() {
			kept, rings = append(kept, c), append(rings, c.Flattened(FlattenTolerance))
		}
	}
	return nestContours(kept, rings)
}

// nestContours nests contours by the polygons that stand for them.
func nestContours(p Path, rings [][]Point) Path {
	var out Path
	for _, n := range nestRings(rings) {
		c := p[n.ring]
		if (c.Area() > 0) == n.hole {
			c = c.Reversed()
		}
		out = append(out, c)
	}
	return out
}

// nested is a ring's place in the nesting.
type nested struct {
	ring int
	hole bool
}

func nestRings(rings [][]Point) []nested {
	type node struct {
		ring, parent, depth int
		area                float64
		box                 Rect
	}
	var ns []node
	for i, r := range rings {
		if a := math.Abs(ringArea(r)); len(r) >= 3 && a > 1e-12 {
			ns = append(ns, node{ring: i, parent: -1, area: a, box: BoundsOf(r...)})
		}
	}
	slices.SortStableFunc(ns, func(a, b node) int {
		return cmp.Or(-cmp.Compare(rounded(a.area), rounded(b.area)), comparePoints(a.box.Min, b.box.Min))
	})
	for i := range ns {
		q := innerPoint(rings[ns[i].ring])
		for j := i - 1; j >= 0; j-- { // the smallest that holds it comes first
			if ns[j].box.Contains(q) && Inside(q, rings[ns[j].ring]) {
				ns[i].parent, ns[i].depth = j, ns[j].depth+1
				break
			}
		}
	}
	var out []nested
	for i := range ns {
		if ns[i].depth%2 == 1 {
			continue
		}
		out = append(out, nested{ns[i].ring, false})
		for j := range ns {
			if ns[j].parent == i {
				out = append(out, nested{ns[j].ring, true})
			}
		}
	}
	return out
}

// ringArea returns the signed area of a polygon, taken about its first point so
// that a far origin costs no digits.
func ringArea(r []Point) float64 {
	sum := 0.0
	for i := 2; i < len(r); i++ {
		sum += r[i-1].Sub(r[0]).Cross(r[i].Sub(r[0]))
	}
	return sum / 2
}

// innerPoint returns a point well inside a ring: halfway between two
// neighbouring heights of its vertices, in the middle of the widest span there.
func innerPoint(r []Point) Point {
	ys := make([]float64, len(r))
	for i := range r {
		ys[i] = r[i].Y
	}
	slices.Sort(ys)
	gap, y := -1.0, 0.0
	for i := 1; i < len(ys); i++ {
		if d := ys[i] - ys[i-1]; d > gap {
			gap, y = d, (ys[i]+ys[i-1])/2
		}
	}
	var xs []float64
	for i, j := 0, len(r)-1; i < len(r); j, i = i, i+1 {
		if (r[i].Y > y) != (r[j].Y > y) {
			xs = append(xs, (r[j].X-r[i].X)*(y-r[i].Y)/(r[j].Y-r[i].Y)+r[i].X)
		}
	}
	slices.Sort(xs)
	width, x := -1.0, 0.0
	for i := 0; i+1 < len(xs); i += 2 {
		if d := xs[i+1] - xs[i]; d > width {
			width, x = d, (xs[i]+xs[i+1])/2
		}
	}
	return Point{x, y}
}
