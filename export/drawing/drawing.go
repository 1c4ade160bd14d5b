package drawing

import (
	"cmp"
	"errors"
	"math"
	"slices"

	g "maskloft/geometry"
)

// Drawing is what a reader found on one page: inches at the size that the file
// states, y up, origin at the lower left corner of the page.
type Drawing struct {
	Width, Height float64
	Layers        []DrawnLayer // in the order in which the file first names them
	painted       int
	named         map[string]int // layers by name
}

// Painted returns the items of all layers in the order in which the file paints them.
func (d Drawing) Painted() []DrawnItem {
	var out []DrawnItem
	for _, l := range d.Layers {
		out = append(out, l.Items...)
	}
	slices.SortStableFunc(out, func(a, b DrawnItem) int { return cmp.Compare(a.order, b.order) })
	return out
}

// DrawnLayer holds what was drawn in one layer. Outlines outside any layer are
// in one whose name is empty.
type DrawnLayer struct {
	Name  string
	Items []DrawnItem
}

// DrawnItem is one drawn path, its contours in the order and the direction in
// which the file walks them. A contour is closed when the file closes it or
// brings it back exactly to its start.
type DrawnItem struct {
	ID    string // empty in PDF, which has none
	Name  string // of the element, for messages
	Clip  g.Path // what is seen of it lies inside; nil: all of it
	Path  g.Path
	Paint Paint
	order int // of painting, over all layers
}

// Path returns the contours of all items, in order.
func (l DrawnLayer) Path() g.Path {
	var p g.Path
	for _, it := range l.Items {
		p = append(p, it.Path...)
	}
	return p
}

// Layer returns the layer of that name, and whether there is one.
func (d Drawing) Layer(name string) (DrawnLayer, bool) {
	for _, l := range d.Layers {
		if l.Name == name {
			return l, true
		}
	}
	return DrawnLayer{}, false
}

// layer returns the layer of that name, new if there was none.
func (d *Drawing) layer(name string) *DrawnLayer {
	i, ok := d.named[name]
	if !ok {
		if d.named == nil {
			d.named = map[string]int{}
		}
		i = len(d.Layers)
		d.named[name] = i
		d.Layers = append(d.Layers, DrawnLayer{Name: name})
	}
	return &d.Layers[i]
}

// What is read of one file, so that a small file that unfolds into a large one ends in
// an error and not in the end of the memory: what is read takes 100 MB at most.
const (
	mostPoints   = 400_000
	mostPaths    = 100_000
	mostElements = 200_000   // of SVG
	mostWords    = 3_000_000 // of the contents of PDF pages
)

var (
	errTooLarge = errors.New("more than 400,000 points: simplify the outlines, or send the layer to cut alone")
	errTooMany  = errors.New("more than 100,000 paths: join those of one colour, or send the layer to cut alone")
)

// budget is what may still be read of a file.
type budget struct{ points, paths int }

func wholeBudget() budget { return budget{mostPoints, mostPaths} }

// pointsOf counts the nodes of a contour.
func pointsOf(c g.Contour) int {
	if c.Closed() {
		return len(c.Segments)
	}
	return len(c.Segments) + 1
}

// draw adds an item, its contours carried through m, to the named layer.
// Contours without a segment draw nothing and are left out.
func (d *Drawing) draw(layer, id string, p g.Path, paint Paint, m g.Affine, budget *budget) error {
	return d.drawClipped(layer, DrawnItem{ID: id, Paint: paint}, p, m, budget)
}

// drawClipped is draw with the item that the path is to be.
func (d *Drawing) drawClipped(layer string, item DrawnItem, p g.Path, m g.Affine, budget *budget) error {
	var out g.Path
	for _, c := range p {
		if len(c.Segments) == 0 {
			continue
		}
		if out == nil {
			if budget.paths--; budget.paths < 0 {
				return errTooMany
			}
			out = make(g.Path, 0, len(p))
		}
		if budget.points -= pointsOf(c); budget.points < 0 {
			return errTooLarge
		}
		c = c.Map(m.Apply)
		if !Finite(c) {
			return errors.New("a coordinate is beyond what can be measured: it is no number below " + g.FormatNumber(g.Farthest, 0) + " in")
		}
		out = append(out, c)
	}
	if out == nil {
		return nil
	}
	l := d.layer(layer)
	item.Path, item.order = out, d.painted
	l.Items = append(l.Items, item)
	d.painted++
	return nil
}

func Finite(c g.Contour) bool {
	ok := func(p g.Point) bool { return math.Abs(p.X) < g.Farthest && math.Abs(p.Y) < g.Farthest }
	if !ok(c.Start) {
		return false
	}
	for _, s := range c.Segments {
		if !ok(s.End) || (s.Kind == g.Cubic && !(ok(s.C1) && ok(s.C2))) {
			return false
		}
	}
	return true
}

// Format is a kind of file that the auditor reads.
type Format string

// Formats.
const (
	SVG Format = "svg"
	PDF Format = "pdf"
	DXF Format = "dxf" // of release 12, in text
)
