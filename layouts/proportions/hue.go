package proportions

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"maskloft/layouts/standards"
)

// Hue is a class of colour that a drawing and a role can be compared by: shades
// and paints of one class are not told apart.
type Hue string

// Hues.
const (
	Red    Hue = "red"
	Orange Hue = "orange"
	Yellow Hue = "yellow"
	Green  Hue = "green"
	Blue   Hue = "blue"
	Violet Hue = "violet"
	White  Hue = "white"
	Grey   Hue = "grey"
	Black  Hue = "black"
)

// rgbOf reads "#rrggbb", each from 0 to 1.
func rgbOf(hex string) (rgb [3]float64, ok bool) {
	v, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil || len(hex) != 7 {
		return rgb, false
	}
	for i := range 3 {
		rgb[i] = float64(v>>(16-8*i)&255) / 255
	}
	return rgb, true
}

// Bounds of hues, of the range from 0 to 1 where no other unit stands. Classes
// overlap: a dark blue may be called black, a pale one white.
const (
	noChroma   = 0.035 // below it a colour has no hue
	someChroma = 0.11  // above it a colour is not black or grey
	paleChroma = 0.16  // above it a colour is not white
	lightFrom  = 0.8   // largest of red, green and blue, of a white
	greyTo     = 0.9
	greyFrom   = 0.18
	darkTo     = 0.3
)

// hueSpans are the hues by their angle on the circle from red over green to blue,
// degrees (set by the paints of the standards and common names of colours).
var hueSpans = []struct {
	hue      Hue
	from, to float64
}{{Red, -30, 20}, {Orange, 12, 46}, {Yellow, 36, 72}, {Green, 66, 175}, {Blue, 170, 262}, {Violet, 258, 335}}

// huesOf returns the classes that a colour may be called.
func huesOf(hex string) []Hue {
	c, ok := rgbOf(hex)
	if !ok {
		return nil
	}
	most, least := max(c[0], c[1], c[2]), min(c[0], c[1], c[2])
	chroma := most - least
	var out []Hue
	if chroma > noChroma {
		angle := 0.0
		switch most {
		case c[0]:
			angle = 60 * (c[1] - c[2]) / chroma
		case c[1]:
			angle = 120 + 60*(c[2]-c[0])/chroma
		default:
			angle = 240 + 60*(c[0]-c[1])/chroma
		}
		for _, s := range hueSpans {
			if a := math.Mod(angle-s.from+720, 360); a <= s.to-s.from {
				out = append(out, s.hue)
			}
		}
	}
	if chroma <= paleChroma && most >= lightFrom {
		out = append(out, White)
	}
	if chroma <= someChroma {
		if most >= greyFrom && most <= greyTo {
			out = append(out, Grey)
		}
		if most <= darkTo {
			out = append(out, Black)
		}
	}
	return out
}

// neutral tells whether a colour has no hue at all.
func neutral(hex string) bool {
	return !slices.ContainsFunc(huesOf(hex), func(h Hue) bool { return h != White && h != Grey && h != Black })
}

// roleHues returns the classes that a role of the standards may be drawn in: the
// colour in its name, and what its own value is called.
func roleHues(role string) []Hue {
	var out []Hue
	words := strings.Split(role, "_")
	for _, h := range []Hue{Red, Orange, Yellow, Green, Blue, Violet, White, Grey, Black} {
		if slices.Contains(words, string(h)) {
			out = append(out, h)
		}
	}
	if len(out) > 0 {
		return out
	}
	palette, err := standards.Palette()
	if err != nil {
		return nil
	}
	for _, c := range palette {
		if c.Role == role {
			return huesOf(c.Hex)
		}
	}
	return nil
}

// agrees tells whether a fill may stand for a role. What is not filled may be
// white, for the page is; a role of no known hue agrees with any fill.
func agrees(fill, role string) bool {
	want := roleHues(role)
	if fill == "" {
		return role == standards.Unpainted || slices.Contains(want, White)
	}
	if role == standards.Unpainted || len(want) == 0 {
		return true
	}
	return slices.ContainsFunc(huesOf(fill), func(h Hue) bool { return slices.Contains(want, h) })
}

// hueName names a fill for a message: the first of its hues.
func hueName(fill string) string {
	if fill == "" {
		return "not filled"
	}
	if h := huesOf(fill); len(h) > 0 {
		name := h[0]
		for _, n := range []Hue{White, Black} { // a pale or dark colour of little hue
			if c, _ := rgbOf(fill); slices.Contains(h, n) && max(c[0], c[1], c[2])-min(c[0], c[1], c[2]) < someChroma/2 {
				name = n
			}
		}
		return string(name) + " (" + fill + ")"
	}
	return fill
}
