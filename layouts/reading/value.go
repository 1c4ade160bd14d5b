package reading

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

// length reads a length in inches. What cannot be read is reported and is not a
// number; so is what was not written, without a report.
func (v value) length() geometry.Length {
	failed := geometry.Length(math.NaN())
	text, ok := v.Scalar("a length")
	if !ok {
		return failed
	}
	l, err := geometry.ParseLength(text, v.bare.unit)
	if err != nil {
		if _, bare := geometry.ParseLength(text, geometry.Inch); bare == nil {
			v.bare.unitless = append(v.bare.unitless, layouts.Problem{
				Place:   v.Place(),
				Message: fmt.Sprintf("%s: %s has no unit", v.Name, text),
				Hint:    fmt.Sprintf("write %s in or %s mm, or put units: in at the head of this file", text, text),
			})
			return failed
		}
		message, hint, _ := strings.Cut(err.Error(), ": write ")
		hint = "write " + hint
		if hint == "write " {
			hint = "write 52 in, 20-1/2 in, 5 ft 3 1/4 in or 305 mm"
		}
		if rest, odd := strings.CutSuffix(message, `: unknown unit ""`); odd {
			message = rest + " is not a length"
		}
		if strings.Contains(text, ",") {
			hint = "write a decimal point, not a comma: " + strings.ReplaceAll(text, ",", ".")
		}
		v.Fail(hint, "%s: %s", v.Name, message)
		return failed
	}
	if math.Abs(l.Inches()) > longest.Inches() {
		v.Fail("is the unit right?", "%s is %s, beyond %s", v.Name, l, longest)
		return failed
	}
	return l
}

// longest bounds every length and position: more than twice the longest
// aeroplane (derived from nothing finer; it catches a unit slip).
const longest = 10000 * geometry.Inch

// positive reads a length above zero.
func (v value) positive() geometry.Length {
	l := v.length()
	if l <= 0 {
		v.Fail("write a length above 0", "%s is %s, must be above 0", v.Name, l)
		return geometry.Length(math.NaN())
	}
	return l
}

// leastDrawn bounds the size of a figure and the height of letters: half the height
// of the smallest print. It catches a unit slip; what a cutter cannot cut is found
// later, on the outlines.
const leastDrawn = 0.05 * geometry.Inch

// drawn reads the size of a figure.
func (v value) drawn() geometry.Length {
	l := v.positive()
	if l < leastDrawn {
		v.Fail("is the unit right?", "%s is %s, must be at least %s", v.Name, l, leastDrawn)
		return geometry.Length(math.NaN())
	}
	return l
}

// atLeastZero reads a length of zero or more; why says what a negative one
// would mean.
func (v value) atLeastZero(why string) geometry.Length {
	l := v.length()
	if l < 0 {
		v.Fail("write it without the minus sign", "%s is %s, must be 0 or more%s", v.Name, l, why)
		return geometry.Length(math.NaN())
	}
	return l
}

// or gives what was not written its usual value.
func (v value) or(usual geometry.Length, read func(value) geometry.Length) geometry.Length {
	if !v.Written() {
		return usual
	}
	return read(v)
}

func (v value) station() geometry.Station     { return geometry.Station(v.length()) }
func (v value) waterline() geometry.Waterline { return geometry.Waterline(v.length()) }

// buttLine reads the BL of a point on the right side.
func (v value) buttLine() geometry.ButtLine {
	return geometry.ButtLine(v.atLeastZero(": give the right side, the left is its mirror image"))
}

var angleText = regexp.MustCompile(`^([+-]?(?:\d+(?:\.\d*)?|\.\d+))\s*(?:deg|degrees|°)?$`)

// degrees reads an angle in degrees, "3 deg" or bare, from -180 to 180.
func (v value) degrees() float64 {
	text, ok := v.Scalar("an angle")
	if !ok {
		return 0
	}
	m := angleText.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		v.Fail("write 3 deg or -2.5 deg", "%s: %q is not an angle", v.Name, document.Shorten(text))
		return 0
	}
	a, err := strconv.ParseFloat(m[1], 64)
	if err != nil || math.Abs(a) > 180 {
		v.Fail("write 3 deg or -2.5 deg", "%s is %s deg, must lie between -180 and 180 deg", v.Name, document.Shorten(m[1]))
		return 0
	}
	return a
}

// yes reads true or false; what was not written is false.
func (v value) yes() bool {
	switch s, ok := v.Scalar("true or false"); {
	case !ok || s == "false":
		return false
	case s == "true":
		return true
	default:
		v.Fail("write true or false", "%s is %q, wanted true or false", v.Name, document.Shorten(s))
		return false
	}
}

func (v value) sides() layouts.Sides {
	return choice(v, layouts.BothSides, layouts.LeftSide, layouts.RightSide, layouts.BothSides)
}

// names are the names of one kind that a file gives, and where.
type names struct {
	what    string // "surface"
	list    []string
	line    map[string]int
	partial bool // some could not be read: say nothing of unknown ones
}

func newNames(what string) *names { return &names{what: what, line: map[string]int{}} }

// add reads v as a new name and reports one that is taken. It returns the name,
// empty when there is none.
func (n *names) add(v value) string {
	s := v.Text()
	if s == "" {
		n.partial = true
		return ""
	}
	if first, taken := n.line[s]; taken {
		v.Fail("give each "+n.what+" its own name", "the %s %q is there twice; the first is on line %d", n.what, document.Shorten(s), first)
		return s
	}
	n.list, n.line[s] = append(n.list, s), v.Place().Line
	return s
}

// refer reads v as one of the names.
func (n *names) refer(v value) string {
	s := v.Text()
	if _, known := n.line[s]; s == "" || n.partial || known {
		return s
	}
	hint := fmt.Sprintf("known: %s", strings.Join(n.list, ", "))
	if near := nearest(s, n.list); near != "" {
		hint = fmt.Sprintf("did you mean %s?", near)
	} else if len(n.list) == 0 {
		hint = fmt.Sprintf("the file gives no %s at all; add it, or take this out", n.what)
	}
	v.Fail(hint, "there is no %s %q", n.what, document.Shorten(s))
	return ""
}
