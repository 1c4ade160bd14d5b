package drawing

import (
	g "maskloft/geometry"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// svgStyle is how the shapes of a node are painted where they do not say it
// themselves. Widths are in user units.
type svgStyle struct {
	fill, stroke string
	evenOdd      bool
	width        float64
	line         g.Pen
	unread       string
	set          bool // else the initial values hold (SVG 1.1 clauses 11.3 and 11.4): filled black, no line, of width 1
}

// svgPainting are the properties of painting that are read.
var svgPainting = []string{"fill", "fill-rule", "fill-opacity", "stroke", "stroke-width", "stroke-opacity", "opacity", "stroke-linecap", "stroke-linejoin", "stroke-miterlimit", "stroke-dasharray"}

// styled returns the style of a node in one of another: its attributes, then the style
// sheets of the file by class, then its own style (CSS cascade; from memory).
func (w *svgWalk) styled(n *svgNode, in svgStyle) svgStyle {
	if !in.set {
		in = svgStyle{fill: "#000000", width: 1, line: g.Pen{Join: g.MiterJoin, Miter: 4}, set: true}
	}
	props := map[string]string{}
	svgDeclared(w.classes["*"], props)
	for _, name := range svgPainting {
		if v := strings.TrimSpace(n.attr(name)); v != "" {
			props[name] = v
		}
	}
	for _, class := range strings.Fields(n.attr("class")) {
		svgDeclared(w.classes[class], props)
	}
	svgDeclared(n.attr("style"), props)
	for name, v := range props {
		switch name {
		case "stroke-linecap":
			in.line.Cap = map[string]g.Cap{"round": g.RoundCap, "square": g.SquareCap}[v]
		case "stroke-linejoin":
			in.line.Join = map[string]g.Join{"round": g.RoundJoin, "bevel": g.BevelJoin, "miter": g.MiterJoin}[v]
		case "stroke-miterlimit":
			if k, err := strconv.ParseFloat(v, 64); err == nil {
				in.line.Miter = k
			}
		case "fill":
			in.fill = svgColour(v, in.fill)
		case "stroke":
			in.stroke = svgColour(v, in.stroke)
		case "fill-rule":
			in.evenOdd = v == "evenodd"
		case "stroke-width":
			if k, err := svgLength(v); err == nil {
				in.width = k
			}
		}
	}
	if in.unread = ""; strings.Contains(props["fill"]+props["stroke"], "url(") {
		in.unread = "a gradient or a pattern"
	}
	if v := props["stroke-dasharray"]; v != "" && v != "none" && in.stroke != "" {
		in.unread = "a dashed line"
	}
	for _, name := range []string{"opacity", "fill-opacity", "stroke-opacity"} {
		if props[name] == "" {
			continue
		}
		v, err := strconv.ParseFloat(props[name], 64)
		if err == nil && v > 0 && v < 1 {
			in.unread = name + " " + props[name]
		}
		if err != nil || v != 0 {
			continue
		}
		if name != "stroke-opacity" {
			in.fill = ""
		}
		if name != "fill-opacity" {
			in.stroke = ""
		}
	}
	return in
}

// svgDeclared reads declarations of painting, "name: value; ...".
func svgDeclared(text string, into map[string]string) {
	for one := range strings.SplitSeq(text, ";") {
		name, value, ok := strings.Cut(one, ":")
		if !ok {
			continue
		}
		name = strings.ToLower(strings.TrimSpace(name))
		for _, known := range svgPainting {
			if name == known {
				into[name] = strings.TrimSpace(strings.Split(value, "!")[0])
			}
		}
	}
}

// svgRule is one rule of a style sheet.
var svgRule = regexp.MustCompile(`(?s)([^{}]+)\{([^{}]*)\}`)

// svgClasses gathers the declarations of the plain classes in the file's style sheets.
func svgClasses(n *svgNode, into map[string]string) {
	if n.name == "style" {
		for _, m := range svgRule.FindAllStringSubmatch(svgComment.ReplaceAllString(n.text, ""), -1) {
			for _, s := range strings.Split(m[1], ",") {
				s = strings.TrimSpace(s)
				if s == "*" {
					into["*"] += ";" + m[2]
				}
				if class, ok := strings.CutPrefix(s, "."); ok && !strings.ContainsAny(class, " .:>#[") {
					into[class] += ";" + m[2]
				}
			}
		}
	}
	for _, c := range n.children {
		svgClasses(c, into)
	}
}

// painted returns a style as the paint of a path that m carries to inches.
func (s svgStyle) painted(m g.Affine) Paint {
	p := Paint{Fill: s.fill, EvenOdd: s.evenOdd, Stroke: s.stroke, Unread: s.unread}
	if s.stroke != "" {
		p.Pen, p.Line = m, s.line
		p.Line.Width = s.width
		p.Width = s.width * math.Sqrt(math.Abs(float64(m[0]*m[3])-float64(m[1]*m[2])))
	}
	return p
}

// svgColour reads a colour; what is none of those read, such as a gradient, is grey.
func svgColour(text, inherited string) string {
	text = strings.ToLower(strings.TrimSpace(text))
	switch {
	case text == "none" || text == "transparent":
		return ""
	case text == "inherit" || text == "":
		return inherited
	case text == "currentcolor":
		return "#000000"
	case strings.HasPrefix(text, "#") && len(text) == 4:
		return "#" + strings.Repeat(text[1:2], 2) + strings.Repeat(text[2:3], 2) + strings.Repeat(text[3:4], 2)
	case strings.HasPrefix(text, "#") && len(text) >= 7:
		return text[:7]
	}
	if body, ok := strings.CutPrefix(text, "rgb"); ok {
		v := strings.FieldsFunc(strings.Trim(strings.TrimPrefix(body, "a"), "()"), func(r rune) bool { return r == ',' || r == ' ' || r == '/' })
		if len(v) >= 3 {
			var c [3]float64
			for i := range c {
				part, of := v[i], 255.0
				if strings.HasSuffix(part, "%") {
					part, of = strings.TrimSuffix(part, "%"), 100
				}
				k, err := strconv.ParseFloat(part, 64)
				if err != nil {
					return "#808080"
				}
				c[i] = k / of
			}
			return rgbHex(c[0], c[1], c[2])
		}
	}
	if hex, ok := svgNames[text]; ok {
		return hex
	}
	return "#808080"
}

// svgNames are the names of colours that drawings use (CSS Color 3 clause 4.3; from
// memory): the sixteen basic ones, and those of reds, blues, yellows and greys.
var svgNames = map[string]string{
	"black": "#000000", "silver": "#c0c0c0", "gray": "#808080", "grey": "#808080", "white": "#ffffff", "maroon": "#800000", "red": "#ff0000",
	"purple": "#800080", "fuchsia": "#ff00ff", "magenta": "#ff00ff", "green": "#008000", "lime": "#00ff00", "olive": "#808000", "yellow": "#ffff00",
	"navy": "#000080", "blue": "#0000ff", "teal": "#008080", "aqua": "#00ffff", "cyan": "#00ffff", "orange": "#ffa500", "gold": "#ffd700",
	"darkred": "#8b0000", "crimson": "#dc143c", "firebrick": "#b22222", "tomato": "#ff6347", "orangered": "#ff4500", "darkorange": "#ff8c00",
	"darkblue": "#00008b", "midnightblue": "#191970", "mediumblue": "#0000cd", "royalblue": "#4169e1", "steelblue": "#4682b4", "lightblue": "#add8e6",
	"skyblue": "#87ceeb", "darkgreen": "#006400", "forestgreen": "#228b22", "seagreen": "#2e8b57", "khaki": "#f0e68c", "goldenrod": "#daa520",
	"ivory": "#fffff0", "snow": "#fffafa", "whitesmoke": "#f5f5f5", "gainsboro": "#dcdcdc", "lightgray": "#d3d3d3", "lightgrey": "#d3d3d3",
	"darkgray": "#a9a9a9", "darkgrey": "#a9a9a9", "dimgray": "#696969", "dimgrey": "#696969", "brown": "#a52a2a", "indigo": "#4b0082", "violet": "#ee82ee",
}
