package drawing

import (
	"fmt"
	"strings"

	g "maskloft/geometry"
)

// index remembers the elements that references may name.
func (w *svgWalk) index(n *svgNode) {
	if id := n.attr("id"); id != "" && w.named[id] == nil {
		w.named[id] = n
	}
	for _, c := range n.children {
		w.index(c)
	}
}

// mostReferences bounds how deep references stand in one another, so that one that
// names itself comes to an end.
const mostReferences = 12

// mostUses bounds the references followed in one file: groups of groups of groups,
// ten of each, would keep a reader busy for minutes.
const mostUses = 100_000

// refer draws what a "use" names, or a page within the page (SVG 1.1 clauses 5.6
// and 7.9), moved by its x and y and fitted by its viewBox.
func (w *svgWalk) refer(n *svgNode, m g.Affine, at svgPlace) error {
	drawn, err := svgDrawn(n, w.notes)
	if err != nil || !drawn {
		return err
	}
	if t := n.attr("transform"); t != "" {
		own, err := svgTransform(t)
		if err != nil {
			return w.notes.pass(fmt.Errorf("%s: %w", n.name, err))
		}
		m = m.After(own)
	}
	at.style = w.styled(n, at.style)
	if at.clip, err = w.clipped(n, m, at.clip); err != nil {
		return err
	}
	x, _ := svgLength(n.attr("x")) // absent is 0
	y, _ := svgLength(n.attr("y"))
	m = m.After(g.Affine{1, 0, 0, 1, x, y})
	target := n
	if n.name == "use" {
		name := strings.TrimPrefix(strings.TrimSpace(n.attr("href")), "#")
		if target = w.named[name]; target == nil {
			return w.notes.pass(fmt.Errorf("use: there is no element %q in the file: expand references before exporting", name))
		}
		if w.inside >= mostReferences {
			return w.notes.pass(fmt.Errorf("use: references stand more than %d deep in one another", mostReferences))
		}
		if w.uses++; w.uses > mostUses {
			return fmt.Errorf("use: more than %d references: expand them, or split the file", mostUses)
		}
		w.inside++
		defer func() { w.inside-- }()
		if target.name != "symbol" && target.name != "svg" {
			return w.node(target, m, at)
		}
	}
	if box, err := svgNumbers(target.attr("viewBox")); err == nil && len(box) == 4 && box[2] > 0 && box[3] > 0 {
		width, height := box[2], box[3]
		for _, from := range []*svgNode{target, n} {
			if v, err := svgLength(from.attr("width")); err == nil && v > 0 {
				width = v
			}
			if v, err := svgLength(from.attr("height")); err == nil && v > 0 {
				height = v
			}
		}
		fit, err := svgFit(target.attr("preserveAspectRatio"), box, width, height)
		if err != nil {
			return w.notes.pass(err)
		}
		m = m.After(fit)
	}
	for _, c := range target.children {
		if err := w.node(c, m, at); err != nil {
			return err
		}
	}
	return nil
}
