package reading

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"maskloft/geometry"
	"maskloft/layouts"
)

// fail reports a problem at v.
func (v value) fail(hint, format string, args ...any) {
	v.doc.add(v.place(), fmt.Sprintf(format, args...), hint)
}

// fields is a mapping whose keys were checked.
type fields struct {
	value
	byKey map[string]value
}

// fields reads v as a mapping with the given keys, each list separated by
// spaces. It reports every key that is not listed and every needed key that is
// missing. what names the mapping in messages.
func (v value) fields(what, need, may string) fields {
	f := fields{value: v, byKey: map[string]value{}}
	list, ok := v.entries()
	if !ok {
		return f
	}
	needed := strings.Fields(need)
	known := append(slices.Clone(needed), strings.Fields(may)...)
	misspelt := map[string]bool{}
	for _, e := range list {
		if slices.Contains(known, e.key.name) {
			e.value.in = what
			f.byKey[e.key.name] = e.value
			continue
		}
		hint := "known keys: " + strings.Join(known, ", ")
		if strings.Trim(e.key.name, "0123456789") == "" && e.key.name != "" {
			hint = "a comma begins the next key: write a number with a point, 8.5"
		} else if near := nearest(e.key.name, known); near != "" {
			hint = fmt.Sprintf("did you mean %s?", near)
			misspelt[near] = true
		}
		e.key.fail(hint, "%s has no key %s", what, quoteOdd(e.key.name))
	}
	for _, key := range needed {
		if _, ok := f.byKey[key]; !ok && !misspelt[key] && !v.peek(key).written() {
			v.fail("add "+exampleOf(what, key), "%s has no %s", what, key)
		}
	}
	return f
}

// at returns the value of a key, the zero value when it was not written.
// at returns the value of a key, written or not.
func (f fields) at(key string) value {
	if v, ok := f.byKey[key]; ok {
		return v
	}
	return value{doc: f.doc, from: f.node}
}

// text reads a text that is not blank and stands on one line, as written.
func (v value) text() string {
	s, ok := v.scalar("text")
	s = strings.TrimSuffix(s, "\n")
	switch {
	case !ok:
		return ""
	case strings.TrimSpace(s) == "":
		v.fail("write the text, or take out the key", "%s is blank", v.name)
		return ""
	case strings.ContainsFunc(s, layouts.IsControl) || strings.Contains(s, "\t"):
		v.fail("keep it on one line, or write >- and the text below it, indented", "%s holds a line break or a tab", v.name)
		return ""
	}
	return s
}

// length reads a length in inches. What cannot be read is reported and is not a
// number; so is what was not written, without a report.
func (v value) length() geometry.Length {
	failed := geometry.Length(math.NaN())
	text, ok := v.scalar("a length")
	if !ok {
		return failed
	}
	l, err := geometry.ParseLength(text, v.doc.bare)
	if err != nil {
		if _, bare := geometry.ParseLength(text, geometry.Inch); bare == nil {
			v.doc.unitless = append(v.doc.unitless, layouts.Problem{
				Place:   v.place(),
				Message: fmt.Sprintf("%s: %s has no unit", v.name, text),
				Excerpt: v.doc.line(v.place().Line),
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
		v.fail(hint, "%s: %s", v.name, message)
		return failed
	}
	if math.Abs(l.Inches()) > longest.Inches() {
		v.fail("is the unit right?", "%s is %s, beyond %s (%s ft)", v.name, l, longest, geometry.FormatNumber(longest.Inches()/12, 0))
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
		v.fail("write a length above 0", "%s is %s, must be above 0 in", v.name, l)
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
		v.fail("is the unit right?", "%s is %s, must be at least %s", v.name, l, leastDrawn)
		return geometry.Length(math.NaN())
	}
	return l
}

// atLeastZero reads a length of zero or more; why says what a negative one
// would mean.
func (v value) atLeastZero(why string) geometry.Length {
	l := v.length()
	if l < 0 {
		v.fail("write it without the minus sign", "%s is %s, must be 0 in or more%s", v.name, l, why)
		return geometry.Length(math.NaN())
	}
	return l
}

// or gives what was not written its usual value.
func (v value) or(usual geometry.Length, read func(value) geometry.Length) geometry.Length {
	if !v.written() {
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
	text, ok := v.scalar("an angle")
	if !ok {
		return 0
	}
	m := angleText.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		v.fail("write 3 deg or -2.5 deg", "%s: %q is not an angle", v.name, shorten(text))
		return 0
	}
	a, err := strconv.ParseFloat(m[1], 64)
	if err != nil || math.Abs(a) > 180 {
		v.fail("write 3 deg or -2.5 deg", "%s is %s deg, must lie between -180 and 180 deg", v.name, shorten(m[1]))
		return 0
	}
	return a
}

// yes reads true or false; what was not written is false.
func (v value) yes() bool {
	switch s, ok := v.scalar("true or false"); {
	case !ok || s == "false":
		return false
	case s == "true":
		return true
	default:
		v.fail("write true or false", "%s is %q, wanted true or false", v.name, shorten(s))
		return false
	}
}

// choice reads one of the allowed words. What was not written is usual; what is
// wrong is reported and empty.
func choice[T ~string](v value, usual T, allowed ...T) T {
	if !v.written() {
		return usual
	}
	words := make([]string, len(allowed))
	for i, a := range allowed {
		words[i] = string(a)
	}
	s, ok := v.scalar(orList(words))
	if !ok {
		return ""
	}
	if i := slices.Index(words, s); i >= 0 {
		return allowed[i]
	}
	hint := "write " + orList(words)
	if near := nearest(s, words); near != "" {
		hint = fmt.Sprintf("did you mean %s?", near)
	}
	v.fail(hint, "%s is %q, wanted %s", v.name, shorten(s), orList(words))
	return ""
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
	s := v.text()
	if s == "" {
		n.partial = true
		return ""
	}
	if first, taken := n.line[s]; taken {
		v.fail("give each "+n.what+" its own name", "the %s %q is there twice; the first is on line %d", n.what, shorten(s), first)
		return s
	}
	n.list, n.line[s] = append(n.list, s), v.place().Line
	return s
}

// refer reads v as one of the names.
func (n *names) refer(v value) string {
	s := v.text()
	if _, known := n.line[s]; s == "" || n.partial || known {
		return s
	}
	hint := fmt.Sprintf("known: %s", strings.Join(n.list, ", "))
	if near := nearest(s, n.list); near != "" {
		hint = fmt.Sprintf("did you mean %s?", near)
	} else if len(n.list) == 0 {
		hint = fmt.Sprintf("the file gives no %s at all; add it, or take this out", n.what)
	}
	v.fail(hint, "there is no %s %q", n.what, shorten(s))
	return ""
}

// orList writes "a, b or c".
func orList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// flush closes the document: bare numbers are counted into one problem when
// they are many, and all problems are put in the order of the file.
func (d *document) flush() layouts.Problems {
	const few = 3
	if n := len(d.unitless); n > few {
		first := d.unitless[0]
		first.Message += fmt.Sprintf(", like %d further numbers in this file", n-1)
		d.problems = append(d.problems, first)
	} else {
		d.problems = append(d.problems, d.unitless...)
	}
	d.unitless = nil
	slices.SortStableFunc(d.problems, func(a, b layouts.Problem) int {
		if a.Place.Line != b.Place.Line {
			return a.Place.Line - b.Place.Line
		}
		return a.Place.Column - b.Place.Column
	})
	d.problems = slices.Compact(d.problems)
	return d.problems
}
