package drawing

import (
	"fmt"
	"regexp"
	"strings"

	g "maskloft/geometry"
)

var svgReference = regexp.MustCompile(`^url\(\s*['"]?#([^'")]+)['"]?\s*\)$`)

// clipped returns what is seen inside a node, in inches, where its clip-path is to be
// read: the clip that it stands in, cut to its own (SVG 1.1 clause 14.3.5).
//
// Errors: a clip path that is not in the file, or whose outlines cannot be read.
func (w *svgWalk) clipped(n *svgNode, m g.Affine, in g.Path) (g.Path, error) {
	if w.notes == nil || !w.notes.cut {
		return in, nil
	}
	value := strings.TrimSpace(n.attr("clip-path"))
	for _, one := range strings.Split(n.attr("style"), ";") {
		if name, v, ok := strings.Cut(one, ":"); ok && strings.TrimSpace(name) == "clip-path" {
			value = strings.TrimSpace(v)
		}
	}
	if value == "" || value == "none" {
		return in, nil
	}
	ref := svgReference.FindStringSubmatch(value)
	if ref == nil || w.named[ref[1]] == nil || w.named[ref[1]].name != "clipPath" {
		return nil, fmt.Errorf("clip-path is %q, which the file does not hold: cut the outlines to it, or take it out", value)
	}
	clip := w.named[ref[1]]
	if clip.attr("clipPathUnits") == "objectBoundingBox" {
		return nil, fmt.Errorf("clip-path %q is given in parts of the outline's box: cut the outlines to it", ref[1])
	}
	if t := clip.attr("transform"); t != "" {
		own, err := svgTransform(t)
		if err != nil {
			return nil, err
		}
		m = m.After(own)
	}
	out := g.Path{}
	for _, c := range clip.children {
		if svgSilent[c.name] {
			continue
		}
		to := m
		if t := c.attr("transform"); t != "" {
			own, err := svgTransform(t)
			if err != nil {
				return nil, err
			}
			to = m.After(own)
		}
		c, to, err := w.usedShape(c, to)
		if err != nil {
			return nil, fmt.Errorf("clip-path %q: %w", ref[1], err)
		}
		p, err := svgShape(c)
		if err != nil {
			return nil, fmt.Errorf("clip-path %q: %s: %w", ref[1], c.name, err)
		}
		region, err := filled(p, strings.Contains(c.attr("clip-rule")+c.attr("style"), "evenodd"), to)
		if err != nil {
			return nil, err
		}
		if out, err = g.Union(out, region); err != nil {
			return nil, err
		}
	}
	if in == nil {
		return out, nil
	}
	return g.Intersect(in, out)
}

// usedShape returns what a "use" within a clip path names, one outline and no more (SVG
// 1.1 clause 14.3.5), and where that stands; any other element as it is.
func (w *svgWalk) usedShape(n *svgNode, m g.Affine) (*svgNode, g.Affine, error) {
	if n.name != "use" {
		return n, m, nil
	}
	to := w.named[strings.TrimPrefix(strings.TrimSpace(n.attr("href")), "#")]
	if to == nil {
		return nil, m, fmt.Errorf("use: there is no element %q in the file: expand references before exporting", n.attr("href"))
	}
	x, _ := svgLength(n.attr("x")) // absent is 0
	y, _ := svgLength(n.attr("y"))
	m = m.After(g.Affine{1, 0, 0, 1, x, y})
	if t := to.attr("transform"); t != "" {
		own, err := svgTransform(t)
		if err != nil {
			return nil, m, err
		}
		m = m.After(own)
	}
	return to, m, nil
}

// filled returns the region that a path covers when it is filled: open contours are
// closed straight (SVG 1.1 clause 11.3, ISO 32000-1 clause 8.5.3.3).
func filled(p g.Path, evenOdd bool, m g.Affine) (g.Path, error) {
	var closed g.Path
	for _, c := range p {
		if len(c.Segments) == 0 {
			continue
		}
		if !c.Closed() {
			c.Segments = append(c.Segments[:len(c.Segments):len(c.Segments)], g.Segment{Kind: g.Line, End: c.Start})
		}
		closed = append(closed, c.Map(m.Apply))
	}
	if evenOdd {
		return g.Settle(closed)
	}
	return g.Filled(closed)
}
