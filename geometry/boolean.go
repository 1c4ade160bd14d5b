package geometry

import "fmt"

// Union returns the region in a or in b.
//
// This holds for all booleans: a and b are regions under the even-odd rule,
// whichever way their contours run, and may cross themselves. The result is
// nested (see [Nest]). Its segments are the source segments or parts of them,
// cut at the true crossings, so curves stay curves and no node is added along
// one; straight pieces in line are joined. Regions that are parts of one
// another (a∩b, a−b, b−a) share their common boundary to the last bit. Rings
// below 1e-7 in² or 1e-6 in wide are left out. Contours whose boxes lie apart
// from all of the other operand cost little, and those that meet nothing pass
// as they are. An error says that a contour is open, a coordinate is not finite,
// or that two outlines run so near to one another that it cannot be told where
// they cross.
func Union(a, b Path) (Path, error) {
	return combine("union", evenOdd, func(in []bool) bool { return in[0] || in[1] }, a, b)
}

// Intersect returns the region in a and in b; see [Union].
func Intersect(a, b Path) (Path, error) {
	if len(a) == 0 || len(b) == 0 {
		return nil, nil
	}
	return combine("intersection", evenOdd, func(in []bool) bool { return in[0] && in[1] }, a, b)
}

// Subtract returns the region in a and not in b; see [Union].
func Subtract(a, b Path) (Path, error) {
	if len(a) == 0 {
		return nil, nil
	}
	return combine("difference", evenOdd, func(in []bool) bool { return in[0] && !in[1] }, a, b)
}

// Settle returns the region of p under the even-odd rule as a proper Path:
// crossings resolved, nested. Curves stay curves, as in [Union].
func Settle(p Path) (Path, error) {
	return combine("even-odd region", evenOdd, func(in []bool) bool { return in[0] }, p)
}

// Filled returns the region of p under the non-zero rule as a proper Path: where
// the contours wind round a point more often one way than the other. Contours of
// one direction that overlap merge, as the strokes of a font do; under the
// even-odd rule of [Settle] they would cut each other out. Curves stay curves,
// as in [Union].
func Filled(p Path) (Path, error) {
	return combine("non-zero region", nonZero, func(in []bool) bool { return in[0] }, p)
}

// fill says by how often the contours of an operand wind round a point whether it is in.
type fill func(winds int) bool

func evenOdd(winds int) bool { return winds&1 != 0 }
func nonZero(winds int) bool { return winds != 0 }

// combine returns the region of those points whose operands fulfil the rule.
func combine(name string, in fill, rule func(in []bool) bool, operands ...Path) (Path, error) {
	o, err := overlaid(in, operands)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	p, err := o.Region(rule)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return p, nil
}
