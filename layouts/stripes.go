package layouts

import (
	"fmt"
	"math"

	"maskloft/geometry"
)

// Stripes and bands are strips cut straight across an outline. The direction along
// is that in which their edges run, degrees counter-clockwise from x; places across
// are counted from the left of along to its right: along 90, edges upright, from the
// fore end of a left side aft; along 0, edges level, from the top down.

// across is an outline with a direction in which strips run.
type across struct {
	field       geometry.Path
	along, over geometry.Vec // over: the way places are counted, a quarter right of along
	low, high   float64      // extent of the field over
	from, to    float64      // extent of the field along, and beyond
}

// acrossOf measures a field for strips.
//
// Errors: a field that is empty.
func acrossOf(field geometry.Path, along float64) (across, error) {
	if len(field) == 0 {
		return across{}, fmt.Errorf("there is nothing to put stripes in")
	}
	a := across{field: field, along: geometry.Vec(polar(1, along))}
	if k := math.Round(along / 90); math.Abs(along-float64(90*k)) < 1e-9 { // a quarter turn has no sine of 6e-17
		a.along = []geometry.Vec{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}}[(int(math.Mod(k, 4))+4)%4]
	}
	a.over = a.along.Perp().Scale(-1)
	turned := field.Map(func(p geometry.Point) geometry.Point {
		return geometry.Point{X: geometry.Vec(p).Dot(a.over), Y: geometry.Vec(p).Dot(a.along)}
	}).Bounds()
	a.low, a.high = turned.Min.X, turned.Max.X
	reach := 1 + turned.Height()
	a.from, a.to = turned.Min.Y-reach, turned.Max.Y+reach
	return a, nil
}

// extent is how far the field reaches across the strips.
func (a across) extent() float64 { return a.high - a.low }

// strip returns what of the field lies between two places across, counted in inches
// from its near side. Strips that share a place share their border.
func (a across) strip(from, to float64) (geometry.Path, error) {
	if !(to > from) {
		return nil, fmt.Errorf("the stripe runs from %s to %s in: its far edge must lie beyond its near one", geometry.FormatNumber(from, 4), geometry.FormatNumber(to, 4))
	}
	const slack = geometry.SnapTolerance
	if from <= slack && to >= a.extent()-slack {
		return a.field, nil
	}
	// A strip that ends with the field is cut well beyond it: no sliver is left
	// where the field's edge is curved.
	if from <= slack {
		from = -1
	}
	if to >= a.extent()-slack {
		to = a.extent() + 1
	}
	at := func(x, y float64) geometry.Point {
		return geometry.Point{}.Add(a.over.Scale(a.low + x)).Add(a.along.Scale(y))
	}
	return geometry.Intersect(a.field, geometry.Path{geometry.Polygon(at(from, a.from), at(to, a.from), at(to, a.to), at(from, a.to))})
}

// StripesByWidth cuts strips of the given widths, inches, across a field, the first
// at its near side, one after another. Where they end before the field does, the
// rest stays bare; a strip that lies beyond it is empty.
//
// Errors: a width that is not above zero; a field that is empty.
func StripesByWidth(field geometry.Path, along float64, widths []geometry.Length) ([]geometry.Path, error) {
	a, err := acrossOf(field, along)
	if err != nil {
		return nil, err
	}
	var out []geometry.Path
	from := 0.0
	for i, w := range widths {
		if !(w > 0) {
			return nil, fmt.Errorf("stripe %d is %v wide, must be above 0", i+1, w)
		}
		s, err := a.strip(from, from+w.Inches())
		if err != nil {
			return nil, err
		}
		out, from = append(out, s), from+w.Inches()
	}
	return out, nil
}

// StripesByPart cuts strips whose widths are in the given proportion and which fill
// the field together: {1, 1, 1} are thirds of its extent across them.
//
// Errors: those of [StripesByWidth]; no strips.
func StripesByPart(field geometry.Path, along float64, parts []float64) ([]geometry.Path, error) {
	a, err := acrossOf(field, along)
	if err != nil {
		return nil, err
	}
	sum := 0.0
	for i, p := range parts {
		if !(p > 0) {
			return nil, fmt.Errorf("stripe %d is %v of the whole, must be above 0", i+1, p)
		}
		sum += p
	}
	if len(parts) == 0 {
		return nil, fmt.Errorf("no stripes: name one or more")
	}
	var out []geometry.Path
	done := 0.0
	for _, p := range parts {
		s, err := a.strip(done/sum*a.extent(), (done+p)/sum*a.extent())
		if err != nil {
			return nil, err
		}
		out, done = append(out, s), done+p
	}
	return out, nil
}
