package geometry

import (
	"fmt"
	"math"

	"github.com/tdewolff/canvas"
)

// Union returns the region in a or in b.
//
// This holds for all four booleans: a and b are regions under the even-odd
// rule, whichever way their contours run, and may cross themselves. The result
// is nested (see [Nest]). Its segments are the source segments or parts of them,
// cut at the true crossings, so curves stay curves and no node is added along
// one; straight pieces in line are joined. Regions that are parts of one
// another (a∩b, a−b, b−a) share their common boundary to the last bit. Rings
// below 1e-7 in² or 1e-6 in wide are left out. Where curves meet at an angle
// below 1e-5 rad or come within 2e-5 in without meeting, the outline is right
// to 2e-5 in. An error says that a contour is open, a coordinate is not finite,
// or that the polygon boolean failed.
func Union(a, b Path) (Path, error) { return boolean(opUnion, a, b) }

// Intersect returns the region in a and in b; see [Union].
func Intersect(a, b Path) (Path, error) { return boolean(opIntersect, a, b) }

// Subtract returns the region in a and not in b; see [Union].
func Subtract(a, b Path) (Path, error) { return boolean(opSubtract, a, b) }

// Xor returns the region in one of a and b but not in both; see [Union].
func Xor(a, b Path) (Path, error) { return boolean(opXor, a, b) }

// Settle returns the region of p under the even-odd rule as a proper Path:
// crossings resolved, nested. Curves stay curves, as in [Union].
func Settle(p Path) (Path, error) { return boolean(opUnion, p, nil) }

type operation int

const (
	opUnion operation = iota
	opIntersect
	opSubtract
	opXor
	opEvenOdd  // one operand: its even-odd region
	opPositive // one operand: where the winding number is positive
)

func (op operation) String() string {
	return [...]string{"union", "intersection", "difference", "exclusive or", "even-odd region", "positive region"}[op]
}

func boolean(op operation, a, b Path) (Path, error) {
	if nothing(op, a, b) {
		return nil, nil
	}
	arr, err := arrange(booleanTolerance, a, b)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", op, err)
	}
	var operands [2][][]Point
	for i := range operands {
		if operands[i], err = arr.region(i); err != nil {
			return nil, fmt.Errorf("%s: %w", op, err)
		}
	}
	rings, err := polygonBoolean(op, operands[0], operands[1])
	if err != nil {
		return nil, fmt.Errorf("%s: %w", op, err)
	}
	t := newTracer(arr.vertices)
	for _, k := range arr.curves {
		t.addChain(k.chain)
	}
	out, err := t.retrace(rings, booleanTolerance, arr.emit)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", op, err)
	}
	return out, nil
}

// nothing tells without looking at a curve that an operation has no result: what is
// common to an empty operand, or to two that lie apart, and what is left of nothing.
func nothing(op operation, a, b Path) bool {
	switch op {
	case opIntersect:
		return len(a) == 0 || len(b) == 0 || !a.Bounds().Touches(b.Bounds(), booleanTolerance)
	case opSubtract:
		return len(a) == 0
	}
	return false
}

// emit returns the contour of a piece: the part of its curve, always cut in the
// curve's own direction so that both neighbours of a boundary have the same one.
func (a *arrangement) emit(p stretch) Contour {
	from, to := a.vertices.at[p.v0], a.vertices.at[p.v1]
	switch {
	case p.curve < 0:
		return Polyline(from, to)
	case p.t0 > p.t1:
		return a.curves[p.curve].part(p.t1, p.t0, to, from).Reversed()
	}
	return a.curves[p.curve].part(p.t0, p.t1, from, to)
}

// region returns the even-odd region of an operand as nested polygons.
func (a *arrangement) region(operand int) ([][]Point, error) {
	polygons := a.polygons(operand)
	rings := make([][]Point, len(polygons))
	seen := map[int]bool{}
	meets := false
	for i, ring := range polygons {
		rings[i] = a.points(ring)
		for _, v := range ring {
			meets = meets || seen[v]
			seen[v] = true
		}
	}
	if meets {
		return polygonBoolean(opEvenOdd, rings, nil)
	}
	return turned(rings), nil
}

// turned nests polygons and turns outer ones counter-clockwise, holes clockwise.
func turned(rings [][]Point) [][]Point {
	var out [][]Point
	for _, n := range nestRings(rings) {
		r := rings[n.ring]
		if (ringArea(r) > 0) == n.hole {
			rev := make([]Point, len(r))
			for i, p := range r {
				rev[len(r)-1-i] = p
			}
			r = rev
		}
		out = append(out, r)
	}
	return out
}

// polygonBoolean is the door to the polygon clipper: it takes nested polygons
// and returns nested polygons on a grid of 1e-8 in. The clipper's result has the
// right edges but holes that may run the wrong way, which its next operation
// would fill in; so every result is nested anew. A panic of the clipper is tried
// once more with the axes exchanged, which sweeps the plane the other way, and
// is then returned as an error.
func polygonBoolean(op operation, a, b [][]Point) ([][]Point, error) {
	out, err := clip(op, a, b, false)
	if err != nil {
		if out, err = clip(op, a, b, true); err != nil {
			return nil, err
		}
	}
	return turned(out), nil
}

func clip(op operation, a, b [][]Point, exchange bool) (out [][]Point, err error) {
	defer silenced()()
	defer func() {
		if r := recover(); r != nil {
			box := emptyRect()
			for _, rings := range [][][]Point{a, b} {
				for _, r := range rings {
					box = box.Union(BoundsOf(r...))
				}
			}
			out, err = nil, fmt.Errorf("the polygon clipper failed within x %.3f to %.3f, y %.3f to %.3f (%v): move one outline by 0.001 in",
				box.Min.X, box.Max.X, box.Min.Y, box.Max.Y, r)
		}
	}()
	p, q := toClipper(a, exchange), toClipper(b, exchange)
	var r *canvas.Path
	switch op {
	case opUnion:
		r = p.Or(q)
	case opIntersect:
		r = p.And(q)
	case opSubtract:
		r = p.Not(q)
	case opXor:
		r = p.Xor(q)
	case opEvenOdd:
		r = p.Settle(canvas.EvenOdd)
	case opPositive:
		r = p.Settle(canvas.Positive)
		if exchange { // a mirrored plane turns every winding number over
			r = p.Settle(canvas.Negative)
		}
	}
	return fromClipper(r, exchange), nil
}

func toClipper(rings [][]Point, exchange bool) *canvas.Path {
	p := &canvas.Path{}
	for _, r := range rings {
		for i, q := range r {
			if exchange {
				q.X, q.Y = q.Y, q.X
			}
			if i == 0 {
				p.MoveTo(q.X, q.Y)
			} else {
				p.LineTo(q.X, q.Y)
			}
		}
		p.Close()
	}
	return p
}

func fromClipper(p *canvas.Path, exchange bool) [][]Point {
	var rings [][]Point
	for _, s := range p.Split() {
		var r []Point
		for _, c := range s.Coords() {
			q := Point{c.X, c.Y}
			if exchange {
				q.X, q.Y = q.Y, q.X
			}
			if len(r) == 0 || r[len(r)-1] != q {
				r = append(r, q)
			}
		}
		for len(r) > 1 && r[0] == r[len(r)-1] {
			r = r[:len(r)-1]
		}
		if len(r) > 2 && math.Abs(ringArea(r)) > 0 {
			rings = append(rings, r)
		}
	}
	return rings
}
