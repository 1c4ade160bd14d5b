package layouts

import (
	"fmt"
	"slices"
	"strings"

	"maskloft/export/drawing"
	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// NoPaint is written for a colour of a drawing that is not painted: what lies under it
// shows bare.
const NoPaint = "none"

// DrawingSpec is a figure from a drawing: SVG, PDF or DXF beside the layout.
type DrawingSpec struct {
	Place  Place
	File   string
	Shown  []drawing.Shown
	Height geometry.Length // of all that it paints; 0: Width is given
	Width  geometry.Length
	Anchor string      // id of an element whose middle is the figure's; empty: the middle of its extents
	Paints []ColourUse // by colour, "#c8102e", or by the name of a group of the drawing
}

// paintOf returns the paint of what a drawing shows: by its group, else by its colour.
func (d DrawingSpec) paintOf(s drawing.Shown) (key, paint string, ok bool) {
	for _, by := range []string{s.Group, s.Colour} {
		for _, u := range d.Paints {
			if by != "" && strings.EqualFold(u.Part, by) {
				return u.Part, u.Paint, true
			}
		}
	}
	return "", "", false
}

// DrawingFigure returns a drawing at size, each item over those before it.
//
// Errors name the element and what to do: a colour without a paint; paints or an anchor
// that the drawing does not have; a drawing that paints nothing; a size above 100 ft.
func DrawingFigure(d DrawingSpec) (Figure, error) {
	f := Figure{ID: d.File, Handed: Symmetric}
	var all geometry.Path
	var anchor *geometry.Point
	used := make([]bool, len(d.Paints))
	for _, s := range d.Shown {
		if d.Anchor != "" && s.ID == d.Anchor {
			anchor = &s.Middle
		}
		if len(s.Outline) == 0 {
			continue
		}
		key, paint, ok := d.paintOf(s)
		if !ok {
			what, is := s.Colour, "painted "+s.Colour
			if what == "" {
				what, is = s.Group, fmt.Sprintf("in the layer %q", s.Group)
			}
			return Figure{}, fmt.Errorf("%s: %s is %s, and paints: has no entry for it: add %q: one of the paints, or none", d.File, s.Name, is, what)
		}
		used[slices.IndexFunc(d.Paints, func(u ColourUse) bool { return u.Part == key })] = true
		if paint == NoPaint {
			paint = standards.Unpainted
		}
		all = append(all, s.Outline...)
		if n := len(f.Layers); n > 0 && f.Layers[n-1].Colour == paint {
			sum, err := geometry.Union(f.Layers[n-1].Outline, s.Outline)
			if err != nil {
				return Figure{}, fmt.Errorf("%s: %s: %w", d.File, s.Name, err)
			}
			f.Layers[n-1].Outline = sum
			continue
		}
		f.Layers = append(f.Layers, Layer{Part: key, Colour: paint, Outline: s.Outline})
	}
	for i, u := range d.Paints {
		if !used[i] {
			return Figure{}, fmt.Errorf("%s: paints: nothing in the drawing is %q: take it out", d.File, u.Part)
		}
	}
	if d.Anchor != "" && anchor == nil {
		return Figure{}, fmt.Errorf("%s: no element has the id %q: write another anchor:, or take it out for the middle", d.File, d.Anchor)
	}
	b := all.Bounds()
	if len(all) == 0 || !(b.Width() > 0 && b.Height() > 0) {
		return Figure{}, fmt.Errorf("%s: nothing in it is filled or drawn with a line", d.File)
	}
	scale := d.Height.Inches() / b.Height()
	if d.Height == 0 {
		scale = d.Width.Inches() / b.Width()
	}
	if l := geometry.Length(scale * max(b.Width(), b.Height())); !(scale > 0 && l <= mostLength) {
		return Figure{}, fmt.Errorf("%s: at that size it is %v long, must be at most %v", d.File, l, mostLength)
	}
	middle := b.Centre()
	if anchor != nil {
		middle = *anchor
	}
	for i := range f.Layers {
		f.Layers[i].Outline = f.Layers[i].Outline.Map(func(p geometry.Point) geometry.Point {
			return geometry.Point{}.Add(p.Sub(middle).Scale(scale))
		})
	}
	for len(f.Layers) > 0 && f.Layers[0].Colour == standards.Unpainted { // nothing under it that it could leave bare
		f.Layers = f.Layers[1:]
	}
	if len(f.Layers) == 0 {
		return Figure{}, fmt.Errorf("%s: paints: leaves nothing to paint", d.File)
	}
	return f, nil
}
