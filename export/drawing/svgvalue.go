package drawing

import (
	"errors"
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// svgPixels are CSS pixels to one of each unit (CSS Values and Units 3, clause
// 6.2; from memory). A bare number is in user units, which are pixels where no
// viewBox says otherwise.
var svgPixels = map[string]float64{
	"": 1, "px": 1, "in": 96, "mm": 96 / 25.4, "cm": 96 / 2.54, "pt": 96.0 / 72, "pc": 16, "q": 96 / 101.6,
}

// svgLength reads a length in pixels or, inside the drawing, in user units.
func svgLength(text string) (float64, error) {
	s := &scanner{text: strings.TrimSpace(text)}
	v, err := s.number()
	if err != nil {
		return 0, err
	}
	unit := strings.ToLower(s.text[s.at:])
	k, ok := svgPixels[unit]
	if !ok {
		return 0, fmt.Errorf("%q: a unit of %q has no size of its own: write in, mm, cm, pt, pc or px", text, unit)
	}
	return v * k, nil
}

// svgNumbers reads numbers set apart by blanks or commas.
func svgNumbers(text string) ([]float64, error) {
	s := &scanner{text: text}
	var out []float64
	for s.blanks(); !s.done(); s.comma() {
		v, err := s.number()
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}

// svgPoints reads the corners of a polygon or polyline.
func svgPoints(text string) ([]g.Point, error) {
	v, err := svgNumbers(text)
	if err != nil {
		return nil, err
	}
	if len(v)%2 != 0 {
		return nil, fmt.Errorf("points: %d numbers are not pairs", len(v))
	}
	var out []g.Point
	for i := 0; i < len(v); i += 2 {
		out = append(out, g.Point{X: v[i], Y: v[i+1]})
	}
	return out, nil
}

// svgTransform reads a transform attribute: the maps in it, the last one done
// first (SVG 1.1 clause 7.6).
func svgTransform(text string) (g.Affine, error) {
	m := g.Identity
	s := &scanner{text: text}
	for s.blanks(); !s.done(); s.comma() {
		open, end := strings.IndexByte(s.text[s.at:], '('), strings.IndexByte(s.text[s.at:], ')')
		if open < 0 || end < open {
			return m, fmt.Errorf("transform %q: a bracket is missing", text)
		}
		name := strings.TrimSpace(s.text[s.at : s.at+open])
		v, err := svgNumbers(s.text[s.at+open+1 : s.at+end])
		if err != nil {
			return m, fmt.Errorf("transform %q: %w", text, err)
		}
		one, err := svgOneTransform(name, v)
		if err != nil {
			return m, fmt.Errorf("transform %q: %w", text, err)
		}
		m = m.After(one)
		s.at += end + 1
	}
	return m, nil
}

func svgOneTransform(name string, v []float64) (g.Affine, error) {
	rad := math.Pi / 180
	switch {
	case name == "matrix" && len(v) == 6:
		return g.Affine{v[0], v[1], v[2], v[3], v[4], v[5]}, nil
	case name == "translate" && len(v) == 1:
		return g.Affine{1, 0, 0, 1, v[0], 0}, nil
	case name == "translate" && len(v) == 2:
		return g.Affine{1, 0, 0, 1, v[0], v[1]}, nil
	case name == "scale" && len(v) == 1:
		return g.Affine{v[0], 0, 0, v[0], 0, 0}, nil
	case name == "scale" && len(v) == 2:
		return g.Affine{v[0], 0, 0, v[1], 0, 0}, nil
	case name == "rotate" && (len(v) == 1 || len(v) == 3):
		sin, cos := same.Sincos(v[0] * rad)
		m := g.Affine{cos, sin, -sin, cos, 0, 0}
		if len(v) == 3 {
			m = g.Affine{1, 0, 0, 1, v[1], v[2]}.After(m).After(g.Affine{1, 0, 0, 1, -v[1], -v[2]})
		}
		return m, nil
	case name == "skewX" && len(v) == 1:
		return g.Affine{1, 0, same.Tan(v[0] * rad), 1, 0, 0}, nil
	case name == "skewY" && len(v) == 1:
		return g.Affine{1, same.Tan(v[0] * rad), 0, 1, 0, 0}, nil
	}
	return g.Identity, fmt.Errorf("%s with %d numbers is unknown", name, len(v))
}

// svgViewport returns the map from user units of the root to inches, y up, and
// the size of the page in inches (SVG 1.1 clauses 7.2, 7.7 and 7.8).
func svgViewport(n *svgNode, notes *passedOver) (m g.Affine, width, height float64, err error) {
	size := func(name string) (float64, error) {
		text := n.attr(name)
		if box, e := svgNumbers(n.attr("viewBox")); notes.lenient() && e == nil && len(box) == 4 && (text == "" || strings.HasSuffix(strings.TrimSpace(text), "%")) {
			_ = notes.pass(errors.New("svg: the file states no true size: taken at 96 units to the inch"))
			text = fmt.Sprint(box[map[string]int{"width": 2, "height": 3}[name]])
		}
		if text == "" || strings.HasSuffix(strings.TrimSpace(text), "%") {
			return 0, fmt.Errorf("svg: %s is %q: the file states no true size: export it again with its size in inches or millimetres", name, text)
		}
		v, err := svgLength(text)
		if err != nil {
			return 0, fmt.Errorf("svg, %s: %w", name, err)
		}
		if !(v > 0 && v/96 < g.Farthest) {
			return 0, fmt.Errorf("svg: %s is %q: it must be above 0 and below %g in", name, text, g.Farthest)
		}
		return v, nil
	}
	if width, err = size("width"); err != nil {
		return
	}
	if height, err = size("height"); err != nil {
		return
	}
	pixels := g.Identity
	if text, ok := n.find("viewBox"); ok {
		v, e := svgNumbers(text)
		if e != nil || len(v) != 4 || !(v[2] > 0 && v[3] > 0) {
			return m, 0, 0, fmt.Errorf("svg: viewBox is %q: it must be four numbers, the last two above 0", text)
		}
		if pixels, err = svgFit(n.attr("preserveAspectRatio"), v, width, height); err != nil {
			return
		}
	}
	turn := g.Affine{1.0 / 96, 0, 0, -1.0 / 96, 0, height / 96}
	return turn.After(pixels), width / 96, height / 96, nil
}

// svgFit maps the viewBox v into a viewport by preserveAspectRatio.
func svgFit(rule string, v []float64, width, height float64) (g.Affine, error) {
	sx, sy := width/v[2], height/v[3]
	words := strings.Fields(rule)
	if len(words) > 0 && words[0] == "defer" {
		words = words[1:]
	}
	align, slice := "xMidYMid", false
	if len(words) > 0 {
		align = words[0]
	}
	switch {
	case len(words) > 2 || (len(words) == 2 && words[1] != "meet" && words[1] != "slice"):
		return g.Identity, fmt.Errorf("svg: preserveAspectRatio %q is unknown", rule)
	case len(words) == 2:
		slice = words[1] == "slice"
	}
	if align == "none" {
		return g.Affine{sx, 0, 0, sy, -v[0] * sx, -v[1] * sy}, nil
	}
	part := map[string]float64{"Min": 0, "Mid": 0.5, "Max": 1}
	var fx, fy float64
	ok := len(align) == 8 && align[0] == 'x' && align[4] == 'Y'
	if ok {
		var okx, oky bool
		fx, okx = part[align[1:4]]
		fy, oky = part[align[5:8]]
		ok = okx && oky
	}
	if !ok {
		return g.Identity, fmt.Errorf("svg: preserveAspectRatio %q is unknown", rule)
	}
	k := math.Min(sx, sy)
	if slice {
		k = math.Max(sx, sy)
	}
	return g.Affine{k, 0, 0, k, float64(fx*(width-float64(v[2]*k))) - float64(v[0]*k), float64(fy*(height-float64(v[3]*k))) - float64(v[1]*k)}, nil
}
