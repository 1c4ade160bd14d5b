package layouts

import (
	"fmt"
	"slices"

	"maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts/standards"
)

// Figure is a drawing in a plane: inches, x to the reader's right, y up. As
// built it is the drawing of the left side, whose reader has the nose at his
// left hand, and its origin is its own centre: of the governing disc, or of the
// extents of a text.
type Figure struct {
	ID         string
	Layers     []Layer // in painter's order: each covers those before it
	Handed     Handedness
	Rule       *standards.Rule   // nil where no rule was followed
	Lettering  []*standards.Rule // that a text is held against
	Dimensions []Dimension       // measures the rule gives, in its order
	Setting    *TextSetting      // nil for what is no text
	Characters []Character       // of a text, as it is read
	Bare       geometry.Path     // where no film lies, though no paint of the figure does: beyond a line that film covers one side of
}

// Character is one character of a text with the rectangle it is set in.
type Character struct {
	Rune rune
	Cell geometry.Rect
}

// mapped returns c with the bounds of its mapped corners.
func (c Character) mapped(m func(geometry.Point) geometry.Point) Character {
	a, b := c.Cell.Min, c.Cell.Max
	c.Cell = geometry.BoundsOf(m(a), m(b), m(geometry.Point{X: a.X, Y: b.Y}), m(geometry.Point{X: b.X, Y: a.Y}))
	return c
}

// Layer is one part of a figure, covered or not.
type Layer struct {
	Part    string // id of the part in its rule, "text", or "disc-1" and so on
	Colour  string // a colour role, or a paint
	Outline geometry.Path
	Reads   bool // letters: never mirrored
}

// Dimension is a measure of a figure that its rule gives, at the figure's size.
type Dimension struct {
	Part, Name string
	Length     geometry.Length // of a circle, its radius
	Formula    standards.Formula
	Unit       standards.Unit
	CanStop    bool // it was read in a document or a copy of one
}

// Region is what one colour shows of a figure.
type Region struct {
	Colour  string
	Parts   []string // ids of the layers of that colour
	Outline geometry.Path
}

// Bounds returns the extents of all layers.
func (f Figure) Bounds() geometry.Rect {
	var all geometry.Path
	for _, l := range f.Layers {
		all = append(all, l.Outline...)
	}
	return all.Bounds()
}

// Moved returns f displaced by v.
func (f Figure) Moved(v geometry.Vec) Figure {
	return f.mapped(func(p geometry.Point) geometry.Point { return p.Add(v) })
}

// For returns the drawing for a side: f itself for the left, and for the right
// its mirror image about x = 0 where f is Handed, f itself where it is not.
func (f Figure) For(side geometry.Side) Figure {
	if side == geometry.Left || f.Handed != Handed {
		return f
	}
	right := f.mapped(func(p geometry.Point) geometry.Point { return geometry.Point{X: 0 - p.X, Y: p.Y} })
	for i, l := range f.Layers {
		if l.Reads { // letters move with the figure and stay readable
			right.Layers[i].Outline = l.Outline.Moved(geometry.Vec{X: -2 * l.Outline.Bounds().Centre().X})
		}
	}
	return right
}

func (f Figure) mapped(m func(geometry.Point) geometry.Point) Figure {
	layers := make([]Layer, len(f.Layers))
	for i, l := range f.Layers {
		l.Outline = l.Outline.Map(m)
		layers[i] = l
	}
	f.Layers = layers
	characters := make([]Character, len(f.Characters))
	for i, c := range f.Characters {
		characters[i] = c.mapped(m)
	}
	f.Characters = characters
	return f
}

// Regions returns what each colour shows when the layers are painted one over
// the other. The regions are disjoint and tile the union of the layers, less what is
// [standards.Unpainted]; they come in the order in which their colours first appear, and a colour that is
// covered throughout has none.
//
// All are read from one arrangement of the layers' outlines, so that neighbours share
// their borders to the last bit.
func (f Figure) Regions() ([]Region, error) {
	var out []Region
	outlines := make([]geometry.Path, len(f.Layers))
	of := make([]int, len(f.Layers)) // the region that a layer is of
	for i, l := range f.Layers {
		outlines[i] = l.Outline
		if of[i] = slices.IndexFunc(out, func(r Region) bool { return r.Colour == l.Colour }); of[i] < 0 {
			of[i], out = len(out), append(out, Region{Colour: l.Colour})
		}
		out[of[i]].Parts = append(out[of[i]].Parts, l.Part)
	}
	if len(outlines) == 1 {
		out[0].Outline = outlines[0]
	} else {
		over, err := geometry.Overlaid(outlines...)
		if err != nil {
			return nil, fmt.Errorf("figure %s: %w", f.ID, err)
		}
		for k := range out {
			out[k].Outline, err = over.Region(func(in []bool) bool {
				for i := len(in) - 1; i >= 0; i-- {
					if in[i] {
						return of[i] == k
					}
				}
				return false
			})
			if err != nil {
				return nil, fmt.Errorf("figure %s: %s: %w", f.ID, out[k].Colour, err)
			}
		}
	}
	return slices.DeleteFunc(out, func(r Region) bool { return len(r.Outline) == 0 || r.Colour == standards.Unpainted }), nil
}

// DiscsFigure returns concentric discs, largest first, about the origin.
//
// Errors: no disc; a diameter that is not above zero, or not below the one
// before it.
func DiscsFigure(discs []DiscSpec) (Figure, error) {
	f := Figure{ID: "discs", Handed: Symmetric}
	if len(discs) == 0 {
		return Figure{}, fmt.Errorf("discs: none given: write discs: [{diameter: 20 in, colour: a paint}]")
	}
	for i, d := range discs {
		if !(d.Diameter > 0) {
			return Figure{}, fmt.Errorf("disc %d: the diameter is %v, must be above 0", i+1, d.Diameter)
		}
		if i > 0 && d.Diameter >= discs[i-1].Diameter {
			return Figure{}, fmt.Errorf("disc %d: the diameter is %v, must be below %v of the disc before it: write the largest first", i+1, d.Diameter, discs[i-1].Diameter)
		}
		f.Layers = append(f.Layers, Layer{
			Part: fmt.Sprintf("disc-%d", i+1), Colour: d.Colour,
			Outline: geometry.Path{geometry.Circle(geometry.Point{}, d.Diameter.Inches()/2)},
		})
	}
	return f, nil
}

// Letters returns the alphabet of a text.
func (f FigureSpec) letters() (*glyphs.Alphabet, error) {
	if f.Letters != nil {
		return f.Letters, nil
	}
	return glyphs.Load(f.Alphabet)
}
