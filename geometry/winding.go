package geometry

import "fmt"

// Filled returns the region of p under the non-zero rule as a proper Path: where
// the contours wind round a point more often one way than the other. Contours of
// one direction that overlap merge, as the strokes of a font do; under the
// even-odd rule of [Settle] they would cut each other out. Curves stay curves,
// as in [Union].
func Filled(p Path) (Path, error) {
	forward, err := positive(p)
	if err != nil {
		return nil, err
	}
	back := make(Path, len(p))
	for i, c := range p {
		back[i] = c.Reversed()
	}
	backward, err := positive(back)
	switch {
	case err != nil:
		return nil, err
	case len(backward) == 0:
		return forward, nil
	case len(forward) == 0:
		return backward, nil
	}
	return Union(forward, backward)
}

// positive returns the region round which p winds counter-clockwise.
func positive(p Path) (Path, error) {
	arr, err := arrange(booleanTolerance, p)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", opPositive, err)
	}
	var rings [][]Point
	for _, ring := range arr.polygons(0) {
		rings = append(rings, arr.points(ring))
	}
	if rings, err = polygonBoolean(opPositive, rings, nil); err != nil {
		return nil, fmt.Errorf("%s: %w", opPositive, err)
	}
	t := newTracer(arr.vertices)
	for _, k := range arr.curves {
		t.addChain(k.chain)
	}
	out, err := t.retrace(rings, booleanTolerance, arr.emit)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", opPositive, err)
	}
	return out, nil
}
