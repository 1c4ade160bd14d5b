package drawing

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	g "maskloft/geometry"
)

const svgSpace = "http://www.w3.org/2000/svg"

// svgNode is an element of the SVG namespace. Elements and attributes of other
// namespaces say nothing about the geometry and are dropped.
type svgNode struct {
	name     string
	attrs    []svgAttr
	children []*svgNode
	text     string
	raw      []byte // text so far
}

// svgAttr is an attribute; a list of the few of an element takes a third of a map of them.
type svgAttr struct{ name, value string }

// attr returns an attribute; empty where there is none.
func (n *svgNode) attr(name string) string { v, _ := n.find(name); return v }

func (n *svgNode) find(name string) (string, bool) {
	for _, a := range n.attrs {
		if a.name == name {
			return a.value, true
		}
	}
	return "", false
}

// deepest bounds how far elements, forms and objects may stand in one another.
const deepest = 200

// ReadSVG reads the outlines of an SVG file at the size that it states: any
// absolute unit in width and height, viewBox and preserveAspectRatio, transforms,
// path data with every command, and the basic shapes. Quadratic curves become
// cubics exactly; arcs, circles and ellipses become cubics of at most an eighth
// of an ellipse, within 4.2e-6 of its longer half axis.
//
// A layer is the nearest group around a shape that has a title or, if none has
// one, the outermost group that has an id; it is named by the title or id.
//
// What cannot be measured is an error that says so: text, images, clips, masks,
// filters, markers, references, nested pages, geometry in style sheets, and a
// file without a true size. What is not drawn (display: none, definitions) is
// left out.
func ReadSVG(r io.Reader) (Drawing, error) { return readSVG(r, nil) }

func readSVG(r io.Reader, notes *passedOver) (Drawing, error) {
	root, err := svgTree(r, notes)
	if err != nil {
		return Drawing{}, err
	}
	if root == nil || root.name != "svg" {
		return Drawing{}, errors.New("svg: the file holds no svg element: it is not an SVG file")
	}
	m, width, height, err := svgViewport(root, notes)
	if err != nil {
		return Drawing{}, err
	}
	w := &svgWalk{d: Drawing{Width: width, Height: height}, budget: wholeBudget(), notes: notes, classes: map[string]string{}}
	svgClasses(root, w.classes)
	if notes.lenient() {
		w.named = map[string]*svgNode{}
		w.index(root)
	}
	drawn, err := svgDrawn(root, notes)
	if err == nil && !drawn {
		err = errors.New("the page is not displayed: take display: none off it")
	}
	if err != nil {
		return Drawing{}, fmt.Errorf("svg: %w", err)
	}
	if err := notes.pass(svgSheets(root)); err != nil {
		return Drawing{}, err
	}
	if t := root.attr("transform"); t != "" {
		if err := notes.pass(fmt.Errorf("svg: transform %q on the page itself is read in different ways: move it to a group", t)); err != nil {
			return Drawing{}, err
		}
	}
	for _, c := range root.children {
		if err := w.node(c, m, svgPlace{style: w.styled(root, svgStyle{})}); err != nil {
			return Drawing{}, err
		}
	}
	return w.d, nil
}

// svgTree reads the elements of the file.
func svgTree(r io.Reader, notes *passedOver) (*svgNode, error) {
	d := xml.NewDecoder(r)
	var stack []*svgNode
	var root *svgNode
	elements := 0
	names := map[string]string{} // each once
	named := func(s string) string {
		if names[s] == "" {
			names[s] = s
		}
		return names[s]
	}
	for {
		token, err := d.Token()
		if err == io.EOF {
			return root, nil
		}
		if err != nil {
			return nil, fmt.Errorf("svg: %w", err)
		}
		switch t := token.(type) {
		case xml.ProcInst:
			if t.Target == "xml-stylesheet" {
				if err := notes.pass(errors.New("svg: a style sheet outside the file may change the outlines: export with attributes instead")); err != nil {
					return nil, err
				}
			}
		case xml.StartElement:
			if t.Name.Space != svgSpace && (t.Name.Space != "" || len(stack) > 0 && t.Name.Local == "svg") {
				if root == nil {
					return nil, fmt.Errorf("svg: the file begins with an element %q of another kind: it is not an SVG file", t.Name.Local)
				}
				if err := d.Skip(); err != nil {
					return nil, fmt.Errorf("svg: %w", err)
				}
				continue
			}
			if elements++; elements > mostElements {
				return nil, fmt.Errorf("svg: more than %s elements: send the layer to cut alone", "200,000")
			}
			n := &svgNode{name: named(t.Name.Local), attrs: make([]svgAttr, 0, len(t.Attr))}
			for _, a := range t.Attr {
				if a.Name.Space == "" || a.Name.Local == "href" {
					n.attrs = append(n.attrs, svgAttr{named(a.Name.Local), a.Value})
				}
			}
			switch {
			case len(stack) > 0:
				p := stack[len(stack)-1]
				p.children = append(p.children, n)
			case root == nil:
				root = n
			}
			if stack = append(stack, n); len(stack) > deepest {
				return nil, fmt.Errorf("svg: elements stand more than %d deep in one another", deepest)
			}
		case xml.EndElement:
			n := stack[len(stack)-1]
			n.text, n.raw = string(n.raw), nil
			stack = stack[:len(stack)-1]
		case xml.CharData:
			if len(stack) > 0 {
				n := stack[len(stack)-1]
				n.raw = append(n.raw, t...)
			}
		}
	}
}

// svgPlace is where a node stands: the layer that a title gave, and the one
// that an id gave, and how it is painted.
type svgPlace struct {
	title, id string
	style     svgStyle // what is painted there, where it does not say how itself
	clip      g.Path   // in inches; nil: none
}

func (p svgPlace) layer() string {
	if p.title != "" {
		return p.title
	}
	return p.id
}

type svgWalk struct {
	d       Drawing
	budget  budget
	notes   *passedOver
	named   map[string]*svgNode // elements by id, where references are followed
	inside  int                 // how many references deep
	uses    int                 // references followed so far
	classes map[string]string   // declarations of painting in style sheets, by class
}

// Elements that draw nothing where they stand.
var svgSilent = map[string]bool{
	"title": true, "desc": true, "metadata": true, "defs": true, "symbol": true, "clipPath": true, "mask": true, "pattern": true,
	"marker": true, "linearGradient": true, "radialGradient": true, "filter": true, "style": true, "view": true, "cursor": true, "color-profile": true,
}

// Elements that draw what is not an outline here, and what to do about them.
var svgRefused = map[string]string{
	"text": "turn it into outlines", "image": "trace it or leave it out", "use": "expand references before exporting",
	"svg": "export one page", "switch": "remove it", "foreignObject": "remove it",
}

func (w *svgWalk) node(n *svgNode, m g.Affine, at svgPlace) error {
	place := n.name
	if id := n.attr("id"); id != "" {
		place = fmt.Sprintf("%s %q", n.name, id)
	}
	if svgSilent[n.name] {
		return nil
	}
	if hint, ok := svgRefused[n.name]; ok {
		if w.notes.lenient() && (n.name == "use" || n.name == "svg") {
			return w.refer(n, m, at)
		}
		return w.notes.pass(fmt.Errorf("%s: it is not an outline and cannot be measured: %s", place, hint))
	}
	drawn, err := svgDrawn(n, w.notes)
	if err != nil {
		return fmt.Errorf("%s: %w", place, err)
	}
	if !drawn {
		return nil
	}
	if t := n.attr("transform"); t != "" {
		own, err := svgTransform(t)
		if err != nil {
			return fmt.Errorf("%s: %w", place, err)
		}
		m = m.After(own)
	}
	at.style = w.styled(n, at.style)
	if at.clip, err = w.clipped(n, m, at.clip); err != nil {
		return fmt.Errorf("%s: %w", place, err)
	}
	if n.name == "g" || n.name == "a" {
		if at.id == "" {
			at.id = n.attr("id")
		}
		for _, c := range n.children {
			if t := strings.TrimSpace(c.text); c.name == "title" && t != "" {
				at.title = t
				w.d.layer(t)
				break
			}
		}
		for _, c := range n.children {
			if err := w.node(c, m, at); err != nil {
				return err
			}
		}
		return nil
	}
	p, err := svgShape(n)
	if errors.Is(err, errTooLarge) {
		return fmt.Errorf("%s: %w", place, err)
	}
	if err != nil {
		return w.notes.pass(fmt.Errorf("%s: %w", place, err))
	}
	for _, c := range n.children {
		if !svgSilent[c.name] {
			if err := w.notes.pass(fmt.Errorf("%s: a %q in it may change the outline: remove it", place, c.name)); err != nil {
				return err
			}
		}
	}
	item := DrawnItem{ID: n.attr("id"), Name: place, Paint: at.style.painted(m), Clip: at.clip}
	if err := w.d.drawClipped(at.layer(), item, p, m, &w.budget); err != nil {
		return fmt.Errorf("%s: %w", place, err)
	}
	return nil
}

// svgSheetGeometry finds, in a style sheet, a property that moves, hides or adds
// geometry (CSS Transforms 1, SVG 2 clause 8.1 "geometry properties"; from memory).
var svgSheetGeometry = regexp.MustCompile(`(?i)(?:^|[{;\s/])(transform|translate|rotate|scale|zoom|offset-path|display|visibility|d|x|y|cx|cy|r|rx|ry|width|height|clip|clip-path|mask|filter|marker|marker-start|marker-mid|marker-end|transform-origin|transform-box)\s*:|(@import|\\)`)

var svgComment = regexp.MustCompile(`(?s)/\*.*?\*/`)

// svgSheets refuses a style sheet, anywhere below n, that may touch the geometry.
func svgSheets(n *svgNode) error {
	if n.name == "style" {
		if p := svgSheetGeometry.FindString(svgComment.ReplaceAllString(n.text, "")); p != "" {
			return fmt.Errorf("style: %q in the style sheet may change the outlines: export with attributes instead", strings.Trim(p, "{;/: \n\t"))
		}
	}
	for _, c := range n.children {
		if err := svgSheets(c); err != nil {
			return err
		}
	}
	return nil
}

// svgChanges are the properties that change what is seen of an outline.
var svgChanges = []string{
	"clip-path", "mask", "filter", "marker", "marker-start", "marker-mid", "marker-end", "transform-origin",
	"requiredFeatures", "requiredExtensions", "systemLanguage",
}

// svgDrawn tells whether the node is drawn; a property that would change the
// outline is an error.
func svgDrawn(n *svgNode, notes *passedOver) (bool, error) {
	props := map[string]string{}
	known := func(name string) bool {
		return name == "display" || name == "visibility" || slices.Contains(svgChanges, name)
	}
	for _, a := range n.attrs {
		if known(a.name) {
			props[a.name] = strings.TrimSpace(a.value)
		}
	}
	for one := range strings.SplitSeq(n.attr("style"), ";") {
		name, value, ok := strings.Cut(one, ":")
		if !ok {
			continue
		}
		name = strings.ToLower(strings.TrimSpace(name))
		value = strings.TrimSpace(strings.Split(value, "!")[0])
		if known(name) {
			props[name] = value
		} else if svgSheetGeometry.MatchString(one) && value != "none" {
			if err := notes.pass(fmt.Errorf("style sets %q, which changes the outline: export with attributes instead", name)); err != nil {
				return false, err
			}
		}
	}
	if v := props["visibility"]; v != "" && v != "visible" && v != "inherit" {
		return false, notes.pass(fmt.Errorf("visibility is %q: remove what is hidden", v))
	}
	for _, name := range svgChanges {
		if name == "clip-path" && notes != nil && notes.cut {
			continue
		}
		if v := props[name]; v != "" && v != "none" {
			if err := notes.pass(fmt.Errorf("%s is %q and changes what is seen: remove it, or cut the outlines to it", name, v)); err != nil {
				return false, err
			}
		}
	}
	return props["display"] != "none", nil
}

// svgShape returns the contours of a shape in its own units, y down (SVG 1.1
// chapter 9).
func svgShape(n *svgNode) (g.Path, error) {
	var bad error
	value := func(name string) float64 {
		text, ok := n.find(name)
		if !ok || bad != nil {
			return 0
		}
		v, err := svgLength(text)
		if err != nil {
			bad = fmt.Errorf("%s: %w", name, err)
		}
		return v
	}
	var p g.Path
	switch n.name {
	case "path":
		return svgPathData(n.attr("d"))
	case "line":
		p = g.Path{g.Polyline(g.Point{X: value("x1"), Y: value("y1")}, g.Point{X: value("x2"), Y: value("y2")})}
	case "polygon", "polyline":
		pts, err := svgPoints(n.attr("points"))
		if err != nil || len(pts) < 2 {
			return nil, err
		}
		if n.name == "polygon" {
			p = g.Path{g.Polygon(pts...)}
		} else {
			p = g.Path{g.Polyline(pts...)}
		}
	case "circle":
		p = ellipse(value("cx"), value("cy"), value("r"), value("r"))
	case "ellipse":
		if n.attr("rx") == "auto" || n.attr("ry") == "auto" {
			return nil, errors.New("a half axis is \"auto\": write both as numbers")
		}
		p = ellipse(value("cx"), value("cy"), value("rx"), value("ry"))
	case "rect":
		rx, ry := value("rx"), value("ry")
		if _, ok := n.find("rx"); !ok {
			rx = ry
		}
		if _, ok := n.find("ry"); !ok {
			ry = rx
		}
		p = rectangle(value("x"), value("y"), value("width"), value("height"), rx, ry)
	default:
		return nil, errors.New("the element is unknown")
	}
	return p, bad
}
