package glyphs

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// reader walks a YAML file strictly: what it does not know is a problem, and all
// problems are reported at once.
type reader struct {
	file     string
	lines    []string
	problems Problems
}

// item is a value of the file with the words that name it in a message.
type item struct {
	r    *reader
	node *yaml.Node // nil: not written
	name string
}

// readDocument returns the one document of a file.
func readDocument(file string, data []byte) (*reader, item) {
	r := &reader{file: file, lines: strings.Split(string(data), "\n")}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc, more yaml.Node
	const keys = "write keys and values, name: my-letters, from column 1"
	switch err := dec.Decode(&doc); {
	case errors.Is(err, io.EOF):
		r.add(0, 0, keys, "the file is empty")
	case err != nil:
		line := 0
		if m := yamlLine.FindStringSubmatch(err.Error()); m != nil {
			line, _ = strconv.Atoi(m[1])
		}
		r.add(line, 1, "check colons, quotes and indents: spaces, no tabs", "%s", strings.TrimPrefix(err.Error(), "yaml: "))
	case dec.Decode(&more) == nil:
		r.add(more.Line, 1, "take out the line ---", "a second document begins here")
	default:
		return r, item{r: r, node: doc.Content[0], name: "the file"}
	}
	return r, item{r: r, name: "the file"}
}

var yamlLine = regexp.MustCompile(`line (\d+)`)

func (r *reader) add(line, column int, hint, format string, args ...any) {
	p := Problem{File: r.file, Line: line, Column: column, Message: fmt.Sprintf(format, args...), Hint: hint}
	if line > 0 && line <= len(r.lines) {
		p.Excerpt = strings.TrimRight(r.lines[line-1], " \r")
	}
	r.problems = append(r.problems, p)
}

// flush returns the problems in the order of the file; nil when there are none.
func (r *reader) flush() error {
	if len(r.problems) == 0 {
		return nil
	}
	sort.SliceStable(r.problems, func(i, j int) bool {
		a, b := r.problems[i], r.problems[j]
		return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
	})
	return r.problems
}

func (v item) written() bool { return v.node != nil }
func (v item) isBlock() bool { return v.node != nil && v.node.Kind == yaml.MappingNode }
func (v item) isPlain() bool { return v.node != nil && v.node.Kind == yaml.ScalarNode }

func (v item) fail(hint, format string, args ...any) {
	line, column := 0, 0
	if v.node != nil {
		line, column = v.node.Line, v.node.Column
	}
	v.r.add(line, column, hint, format, args...)
}

// entry is a key of a block with its value.
type entry struct{ key, value item }

// entries returns the keys of a block in their order.
func (v item) entries(example string) []entry {
	if !v.written() {
		return nil
	}
	if !v.isBlock() {
		v.fail("write "+example, "%s wants keys and values", v.name)
		return nil
	}
	var out []entry
	seen := map[string]bool{}
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		k := item{v.r, v.node.Content[i], v.name}
		if !k.isPlain() || seen[k.node.Value] {
			k.fail("take one of them out", "the key %q of %s stands twice or is no word", k.node.Value, v.name)
			continue
		}
		seen[k.node.Value] = true
		out = append(out, entry{k, item{v.r, v.node.Content[i+1], v.name + ": " + k.node.Value}})
	}
	return out
}

// fields returns the values of a block by key and reports keys that are not
// known; one not written is there with no node.
func (v item) fields(example string, known ...string) map[string]item {
	out := map[string]item{}
	for _, k := range known {
		out[k] = item{r: v.r, name: k}
	}
	for _, e := range v.entries(example) {
		k := e.key.node.Value
		if !slices.Contains(known, k) {
			e.key.fail("write one of "+strings.Join(known, ", "), "%s has no key %q", v.name, k)
			continue
		}
		e.value.name = k
		out[k] = e.value
	}
	return out
}

// need reports a value that is not written.
func (v item) need(in item, example string) item {
	if !v.written() && in.isBlock() {
		in.fail("write "+example, "%s is missing", v.name)
	}
	return v
}

func (v item) text() string {
	if !v.written() {
		return ""
	}
	if !v.isPlain() || strings.TrimSpace(v.node.Value) == "" {
		v.fail("write words behind the colon", "%s wants a text", v.name)
		return ""
	}
	return strings.TrimSpace(v.node.Value)
}

// texts reads a list.
func (v item) texts(example string) []string {
	if !v.written() {
		return nil
	}
	if v.node.Kind != yaml.SequenceNode {
		v.fail("write "+example, "%s wants a list", v.name)
		return nil
	}
	var out []string
	for _, n := range v.node.Content {
		out = append(out, item{v.r, n, v.name}.text())
	}
	return out
}

// number reads a decimal number or a fraction, 1/6, of at least low and at most
// high; NaN where it is none, and low where none is written.
func (v item) number(low, high float64, example string) float64 {
	if !v.written() {
		return low
	}
	x := math.NaN()
	if v.isPlain() {
		x = parseRatio(v.node.Value)
	}
	switch {
	case math.IsNaN(x):
		v.fail("write "+example, "%s: %q is not a number or a fraction", v.name, v.node.Value)
	case x < low || x > high:
		v.fail("write "+example, "%s: %s lies outside %.6g to %.6g", v.name, v.node.Value, low, high)
		return math.NaN()
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

// choice reads one word of several; empty where none is written or known.
func (v item) choice(known ...string) string {
	text := v.text()
	if text != "" && !slices.Contains(known, text) {
		v.fail("write one of "+strings.Join(known, ", "), "%s: %q is not known", v.name, text)
		return ""
	}
	return text
}
