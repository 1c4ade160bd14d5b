package glyphs

import (
	"math"
	"strconv"
	"strings"

	"maskloft/layouts/document"
)

// Problems is everything wrong with a file of ratios or of measurements, in its
// order, each with line, column, excerpt and what to type.
type Problems = document.Problems

// examples say what to type for a key that is missing or wrong.
var examples = map[string]string{
	"the file":   "name: my-letters, and the ratios, from column 1",
	"name":       "name: my-letters",
	"source":     "source: the document or the photograph, or: common practice, no source",
	"height":     "height: 6, the units of the grid in the cap height",
	"width":      "width: 2/3, of most characters",
	"gap":        "gap: 1/6, between the extents of two characters",
	"word":       "word: 2/3, the width of a space",
	"stroke":     "stroke: 1/6, or stroke: {vertical: 1/6, horizontal: 1/7}",
	"vertical":   "vertical: 1/6, the width of uprights",
	"horizontal": "horizontal: 1/7, the width of bars",
	"corner":     "corner: {kind: chamfer, size: 1/6}",
	"kind":       "kind: square, chamfer or round",
	"size":       "size: 1/6, the legs of a chamfer or the radius",
	"inner":      "inner: {kind: square}",
	"hook":       "hook: 0.29, from the cap line or the baseline to the end of a hook",
	"hooks":      "hooks: {J: 0.35}",
	"waists":     "waists: {A: 0.4}, the height of the bar's centre line",
	"widths":     "widths: {M: 5/6}",
	"classes":    "classes: {wide: {of: MW, width: 5/6}}",
	"of":         "of: MW",
	"pairs":      "pairs: {LT: 0.05}",
	"forms":      `forms: {"4": open}`,
	"slant":      "slant: 12, in degrees to the right",
	"inferred":   "inferred: [B, gap]",
	"sources":    "sources: {width: the document and its clause}",
}

func exampleOf(_, key string) string { return examples[key] }

var alphabetForm = document.Form{Kind: "alphabet", Begin: "write keys and values, name: my-letters, from column 1", Example: exampleOf}

// entries returns the lines of a block; none where it is not written.
func entries(v document.Value) []document.Entry {
	if !v.Written() {
		return nil
	}
	list, _ := v.Entries()
	return list
}

// number reads a decimal number or a fraction, 1/6, of at least low and at most
// high; NaN where it is none, and low where none is written.
func number(v document.Value, low, high float64) float64 {
	if !v.Written() {
		return low
	}
	text, ok := v.Scalar("a number or a fraction")
	if !ok {
		return math.NaN()
	}
	x := parseRatio(text)
	switch {
	case math.IsNaN(x):
		v.Fail("write "+numberExample(v), "%s: %q is not a number or a fraction", v.Name, text)
	case x < low || x > high:
		v.Fail("write "+numberExample(v), "%s: %s lies outside %.6g to %.6g", v.Name, text, low, high)
		return math.NaN()
	}
	return x
}

func numberExample(v document.Value) string {
	if e := examples[v.Name]; e != "" {
		return e
	}
	return "a number or a fraction, 5/6"
}

// positive reads a number above 0; 0 where none is written.
func positive(v document.Value) float64 {
	x := number(v, 0, most)
	if v.Written() && x == 0 {
		v.Fail("write "+numberExample(v), "%s is 0, must be above 0", v.Name)
	}
	return x
}

// parseRatio reads 0.1667 or 1/6; NaN for anything else.
func parseRatio(text string) float64 {
	over, under, fraction := strings.Cut(strings.TrimSpace(text), "/")
	x, err := strconv.ParseFloat(strings.TrimSpace(over), 64)
	if fraction {
		y, bad := strconv.ParseFloat(strings.TrimSpace(under), 64)
		if bad != nil || y == 0 {
			return math.NaN()
		}
		x /= y
	}
	if err != nil || math.IsInf(x, 0) {
		return math.NaN()
	}
	return x
}
