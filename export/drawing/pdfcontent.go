package drawing

import (
	"errors"
	"fmt"
	"math"

	g "maskloft/geometry"
)

var everywhere = g.Rect{Min: g.Point{X: math.Inf(-1), Y: math.Inf(-1)}, Max: g.Point{X: math.Inf(1), Y: math.Inf(1)}}

// pdfState is the part of the graphics state that bears on outlines.
type pdfState struct {
	m     g.Affine // from user space to inches of the page
	clip  g.Rect   // in inches of the page
	paint pdfPaint
	seen  g.Path // inside clips of other shapes, in inches of the page, where they are read; nil: everywhere
}

// pdfRun runs a content stream (ISO 32000-1 clause 8.5 and annex A).
type pdfRun struct {
	file      *pdfFile
	page      *Drawing
	budget    *budget
	state     pdfState
	stack     []pdfState
	marked    []string // layer of each marked-content sequence that is open
	path      g.Path   // the path being built, in user space
	b         *g.Builder
	clipping  bool // W or W* came: the path becomes a clip when it is painted
	evenOdd   bool // it was W*
	resources pdfDict
	notes     *passedOver
	points    int // of the path being built
	words     int // operators and operands so far
}

// Operators with the number of operands that count; -1 is any number. Those
// listed with "state" bear on how a line or area looks, not on where it is.
var pdfOperands = map[pdfWord]int{
	"q": 0, "Q": 0, "cm": 6, "m": 2, "l": 2, "c": 6, "v": 4, "y": 4, "h": 0, "re": 4,
	"S": 0, "s": 0, "f": 0, "F": 0, "f*": 0, "B": 0, "B*": 0, "b": 0, "b*": 0, "n": 0, "W": 0, "W*": 0,
	"BMC": 1, "BDC": 2, "EMC": 0, "MP": 1, "DP": 2, "Do": 1, "BX": 0, "EX": 0,
	"w": 1, "J": 1, "j": 1, "M": 1, "d": 2, "ri": 1, "i": 1, "gs": 1,
	"CS": 1, "cs": 1, "SC": -1, "SCN": -1, "sc": -1, "scn": -1, "G": 1, "g": 1, "RG": 3, "rg": 3, "K": 4, "k": 4,
}

var pdfHints = map[pdfWord]string{
	"BT": "text is not an outline: turn it into outlines",
	"BI": "an image is not an outline: trace it or leave it out",
	"sh": "a shading is not an outline: leave it out",
}

// stream runs one content stream with its resources; forms run inside it.
func (r *pdfRun) stream(data []byte, resources pdfDict, depth int) error {
	if depth > 12 {
		return errors.New("forms stand more than 12 deep in one another")
	}
	outer, marks, saves := r.resources, len(r.marked), len(r.stack)
	r.resources = resources
	l := &pdfLexer{data: data}
	var args []any
	for !l.done() {
		v, err := l.object(0)
		if err != nil {
			return err
		}
		if r.words++; r.words > mostWords {
			return errors.New("its content is longer than an outline can be: simplify it, or send the layer to cut alone")
		}
		op, ok := v.(pdfWord)
		if !ok {
			if args = append(args, v); len(args) > 1000 {
				return errors.New("more than 1000 operands without an operator: the file is damaged")
			}
			continue
		}
		n, known := pdfOperands[op]
		cutting := r.notes != nil && r.notes.cut
		switch {
		case cutting && op == "BT": // an empty text is none
			args = args[:0]
			continue
		case cutting && (op == "Tj" || op == "TJ" || op == "'" || op == "\""):
			if err := r.notes.pass(errors.New(pdfHints["BT"])); err != nil {
				return err
			}
			args = args[:0]
			continue
		case pdfHints[op] != "":
			if err := r.notes.pass(errors.New(pdfHints[op])); err != nil {
				return err
			}
			if op == "BI" {
				l.passImage()
			}
			args = args[:0]
			continue
		case !known && r.notes.lenient(): // of text, mostly, which is noted where it begins
			args = args[:0]
			continue
		case !known:
			return fmt.Errorf("operator %q is not read", string(op))
		case n >= 0 && len(args) != n:
			return fmt.Errorf("operator %q has %d operands, not %d: the file is damaged", string(op), len(args), n)
		}
		if err := r.operator(op, args, saves, marks, depth); err != nil {
			return placed(fmt.Sprintf("operator %q: ", string(op)), err)
		}
		args = args[:0]
	}
	if r.b != nil || len(r.path) > 0 || len(args) > 0 {
		return errors.New("the content ends within a path")
	}
	if len(r.stack) != saves || len(r.marked) != marks {
		return errors.New("q and Q, or BDC and EMC, do not come in pairs: the file is damaged")
	}
	r.resources = outer
	return nil
}

func (r *pdfRun) operator(op pdfWord, args []any, saves, marks, depth int) error {
	var v [6]float64
	switch op {
	case "cm", "m", "l", "c", "v", "y", "re":
		for i, a := range args {
			n, ok := a.(float64)
			if !ok {
				return fmt.Errorf("operand %d is no number", i+1)
			}
			v[i] = n
		}
	}
	at := func(i int) g.Point { return g.Point{X: v[i], Y: v[i+1]} }
	switch op {
	case "m", "l", "c", "v", "y", "re":
		if r.points++; r.points > r.budget.points {
			return errTooLarge
		}
	}
	switch op {
	case "q":
		if r.stack = append(r.stack, r.state); len(r.stack) > 10_000 {
			return errors.New("too deep")
		}
	case "Q":
		if len(r.stack) == saves {
			return errors.New("there is no q for it")
		}
		r.state, r.stack = r.stack[len(r.stack)-1], r.stack[:len(r.stack)-1]
	case "cm":
		r.state.m = r.state.m.After(g.Affine(v))
	case "m":
		r.flush()
		r.b = g.MoveTo(at(0))
	case "re": // clause 8.5.2.1, table 59: m, l, l, l, h
		r.flush()
		r.path = append(r.path, g.Polygon(at(0), g.Point{X: v[0] + v[2], Y: v[1]}, g.Point{X: v[0] + v[2], Y: v[1] + v[3]}, g.Point{X: v[0], Y: v[1] + v[3]}))
	case "l", "c", "v", "y", "h":
		return r.segment(op, at)
	case "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "n":
		if op == "s" || op == "b" || op == "b*" {
			if r.b != nil {
				r.path, r.b = append(r.path, r.b.Close()), nil
			}
		}
		return r.paint(op)
	case "W", "W*":
		r.clipping, r.evenOdd = true, op == "W*"
	case "BMC", "BDC":
		return r.mark(args)
	case "EMC":
		if len(r.marked) == marks {
			return errors.New("there is no BMC or BDC for it")
		}
		r.marked = r.marked[:len(r.marked)-1]
	case "Do":
		return r.form(args[0], depth)
	default:
		r.state.paint.operator(op, args)
	}
	return nil
}

func (r *pdfRun) segment(op pdfWord, at func(int) g.Point) error {
	if r.b == nil {
		// After h a path goes on from the start of the contour before.
		if len(r.path) == 0 || !r.path[len(r.path)-1].Closed() {
			if op == "h" {
				return nil
			}
			return errors.New("there is no point to draw from")
		}
		if op == "h" {
			return nil // closed already
		}
		r.b = g.MoveTo(r.path[len(r.path)-1].Start)
	}
	switch op {
	case "l":
		r.b.LineTo(at(0))
	case "c":
		r.b.CubicTo(at(0), at(2), at(4))
	case "v":
		r.b.CubicTo(r.b.Open().End(), at(0), at(2))
	case "y":
		r.b.CubicTo(at(0), at(2), at(2))
	case "h":
		r.path, r.b = append(r.path, r.b.Close()), nil
	}
	return nil
}

// flush ends a contour that was not closed.
func (r *pdfRun) flush() {
	if r.b != nil {
		r.path, r.b = append(r.path, r.b.Open()), nil
	}
}

// paint ends the path: it is drawn, or becomes a clip, or both.
func (r *pdfRun) paint(op pdfWord) error {
	r.flush()
	path := r.path
	r.path, r.points = nil, 0
	if op != "n" && len(path) > 0 {
		seen := r.state.seen
		if r.notes != nil && r.notes.cut {
			if r.state.clip != everywhere {
				box := g.Path{g.Rectangle(r.state.clip)}
				if seen == nil {
					seen = box
				} else if cut, err := g.Intersect(seen, box); err != nil {
					return err
				} else {
					seen = cut
				}
			}
		} else if err := r.inside(path); err != nil {
			return err
		}
		layer := ""
		for _, m := range r.marked {
			if m != "" {
				layer = m
			}
		}
		item := DrawnItem{Paint: r.state.paint.of(op, r.state.m), Clip: seen}
		if err := r.page.drawClipped(layer, item, path, r.state.m, r.budget); err != nil {
			return err
		}
	}
	if r.clipping {
		r.clipping = false
		return r.clip(path)
	}
	return nil
}

// inside refuses a path that the clip would cut.
func (r *pdfRun) inside(path g.Path) error {
	if r.state.clip == everywhere {
		return nil
	}
	for _, c := range path {
		b := c.Map(r.state.m.Apply).Bounds()
		if k := r.state.clip.Grown(1e-6); !k.Contains(b.Min) || !k.Contains(b.Max) {
			return r.notes.pass(errors.New("a clip cuts an outline: remove the clip, or cut the outlines to it"))
		}
	}
	return nil
}

// clip narrows the clip to path, which must be one upright rectangle.
func (r *pdfRun) clip(path g.Path) error {
	refuse := func() error {
		if r.notes != nil && r.notes.cut {
			region, err := filled(path, r.evenOdd, r.state.m)
			if err == nil && r.state.seen != nil {
				region, err = g.Intersect(r.state.seen, region)
			}
			if r.state.seen = region; region == nil {
				r.state.seen = g.Path{}
			}
			return err
		}
		return r.notes.pass(errors.New("a clip that is no upright rectangle is not read: remove it, or cut the outlines to it"))
	}
	if len(path) != 1 || !r.state.m.Upright() {
		return refuse()
	}
	c := path[0]
	for i, s := range c.Segments {
		a := c.From(i)
		if s.Kind != g.Line || (a.X != s.End.X && a.Y != s.End.Y) {
			return refuse()
		}
	}
	if len(c.Segments) < 3 || len(c.Segments) > 4 {
		return refuse()
	}
	b := c.Map(r.state.m.Apply)
	if !b.Closed() {
		b.Segments = append(b.Segments, g.Segment{Kind: g.Line, End: b.Start})
	}
	box := b.Bounds()
	if size := float64(box.Width() * box.Height()); !(math.Abs(math.Abs(b.Area())-size) <= 1e-9*size) {
		return refuse()
	}
	k := &r.state.clip
	k.Min.X, k.Min.Y = math.Max(k.Min.X, box.Min.X), math.Max(k.Min.Y, box.Min.Y)
	k.Max.X, k.Max.Y = math.Min(k.Max.X, box.Max.X), math.Min(k.Max.Y, box.Max.Y)
	return nil
}

// mark opens a marked-content sequence; one of optional content is a layer.
func (r *pdfRun) mark(args []any) error {
	layer := ""
	if len(args) == 2 && args[0] == pdfName("OC") {
		key, ok := args[1].(pdfName)
		if !ok {
			return errors.New("optional content without a name")
		}
		properties, err := r.file.dict(r.resources["Properties"])
		if err != nil {
			return err
		}
		group, err := r.file.dict(properties[key])
		if err != nil {
			return err
		}
		name, err := r.file.get(group["Name"])
		if err != nil {
			return err
		}
		text, ok := name.(pdfString)
		if !ok {
			if err := r.notes.pass(fmt.Errorf("optional content %q has no name of its own: only plain layers are read", string(key))); err != nil {
				return err
			}
		} else {
			layer = text.text()
			r.page.layer(layer)
		}
	}
	if r.marked = append(r.marked, layer); len(r.marked) > 10_000 {
		return errors.New("too deep")
	}
	return nil
}

// form runs a form object (clause 8.10).
func (r *pdfRun) form(name any, depth int) error {
	key, ok := name.(pdfName)
	if !ok {
		return errors.New("its operand is no name")
	}
	objects, err := r.file.dict(r.resources["XObject"])
	if err != nil {
		return err
	}
	o, err := r.file.get(objects[key])
	if err != nil {
		return err
	}
	s, ok := o.(pdfStream)
	if !ok {
		return fmt.Errorf("there is no object %q", string(key))
	}
	if kind, err := r.file.get(s.dict["Subtype"]); err != nil || kind != pdfName("Form") || (s.dict["OC"] != nil && !r.notes.lenient()) {
		return r.notes.pass(fmt.Errorf("object %q is no plain form (an image?): trace it or leave it out", string(key)))
	}
	saved := r.state
	defer func() { r.state = saved }()
	if s.dict["Matrix"] != nil {
		m, err := r.file.numbers(s.dict["Matrix"], 6)
		if err != nil {
			return fmt.Errorf("the matrix of a form: %w", err)
		}
		r.state.m = r.state.m.After(g.Affine(m))
	}
	box, err := r.file.numbers(s.dict["BBox"], 4)
	if err != nil {
		return fmt.Errorf("the box of a form: %w", err)
	}
	b := g.BoundsOf(g.Point{X: box[0], Y: box[1]}, g.Point{X: box[2], Y: box[3]})
	if err := r.clip(g.Path{g.Rectangle(b)}); err != nil {
		return err
	}
	resources := r.resources
	if s.dict["Resources"] != nil {
		if resources, err = r.file.dict(s.dict["Resources"]); err != nil {
			return err
		}
	}
	data, err := r.file.unfold(s)
	if err != nil {
		return err
	}
	if r.budget.points -= 16; r.budget.points < 0 { // so that forms of forms come to an end
		return errTooLarge
	}
	return r.stream(data, resources, depth+1)
}
