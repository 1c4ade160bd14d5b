package layouts

import (
	"fmt"
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// Parts that borders and shades are named by; a second one is border-2.
const (
	BorderPart = "border"
	EdgePart   = "edge" // a border inside the outline or centred on it
	ShadePart  = "shade"
)

// Bordered returns a figure with borders along the outline of all that it paints, and
// a shade under all. Borders are made in the order given: outside ones each around
// what is there by then, inside ones each within the one before.
//
// Errors: a width or depth that is not above zero; a border that failed, with its
// place in the drawing.
func Bordered(f Figure, borders []BorderSpec, shade *ShadeSpec) (Figure, error) {
	if len(borders) == 0 && shade == nil {
		return f, nil
	}
	whole, err := f.painted()
	if err != nil {
		return Figure{}, err
	}
	outer, inner := whole, whole
	var below, above []Layer
	counts := map[string]int{}
	name := func(part string) string {
		counts[part]++
		if counts[part] > 1 {
			return fmt.Sprintf("%s-%d", part, counts[part])
		}
		return part
	}
	for i, b := range borders {
		if !(b.Width > 0) {
			return Figure{}, geometry.Errorf("border %d: the width is %v, must be above 0", i+1, b.Width)
		}
		grown, shrunk := outer, inner
		out, in := b.Width, b.Width
		if b.On == CentredBorder {
			out, in = b.Width/2, b.Width/2
		}
		if b.On != InsideBorder {
			if grown, err = geometry.Offset(outer, out, b.Join, geometry.OutlineTolerance/4); err != nil {
				return Figure{}, fmt.Errorf("border %d: %w", i+1, err)
			}
		}
		if b.On == InsideBorder || b.On == CentredBorder {
			if shrunk, err = geometry.Offset(inner, -in, b.Join, geometry.OutlineTolerance/4); err != nil {
				return Figure{}, fmt.Errorf("border %d: %w", i+1, err)
			}
			edge, err := geometry.Subtract(grown, shrunk)
			if b.On == InsideBorder {
				edge, err = geometry.Subtract(inner, shrunk)
			}
			if err != nil {
				return Figure{}, fmt.Errorf("border %d: %w", i+1, err)
			}
			above = append(above, Layer{Part: name(EdgePart), Colour: b.Paint, Outline: edge})
		} else {
			below = append([]Layer{{Part: name(BorderPart), Colour: b.Paint, Outline: grown}}, below...)
		}
		outer, inner = grown, shrunk
	}
	f.Layers = append(append(below, f.Layers...), above...)
	if shade == nil {
		return f, nil
	}
	if !(shade.Depth > 0) {
		return Figure{}, geometry.Errorf("shade: the depth is %v, must be above 0", shade.Depth)
	}
	v := shade.vector()
	cast := outer.Moved(v)
	if shade.Joined {
		if cast, err = geometry.Sweep(outer, v); err != nil {
			return Figure{}, fmt.Errorf("shade: %w", err)
		}
	}
	f.Layers = append([]Layer{{Part: ShadePart, Colour: shade.Paint, Outline: cast}}, f.Layers...)
	return f, nil
}

// vector is the way the shade falls.
func (s ShadeSpec) vector() geometry.Vec {
	sin, cos := same.Sincos(s.Angle * math.Pi / 180)
	return geometry.Vec{X: cos, Y: sin}.Scale(s.Depth.Inches())
}

// painted returns all that the layers of a figure paint, in one outline.
func (f Figure) painted() (geometry.Path, error) {
	regions, err := f.Regions()
	if err != nil {
		return nil, err
	}
	var out geometry.Path
	for _, r := range regions {
		if out, err = geometry.Union(out, r.Outline); err != nil {
			return nil, err
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("figure %s: nothing of it is painted", f.ID)
	}
	return out, nil
}
