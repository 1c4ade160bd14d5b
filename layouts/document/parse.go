package document

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// Form is what is particular to one kind of file: the words of its messages.
type Form struct {
	Kind    string                      // "layout": a file of this kind
	Begin   string                      // what to type into an empty file
	Example func(in, key string) string // what to type for a key of a block; empty: none known; may be nil
	Order   func(block Path) []string   // the keys of a block in the order they are written; may be nil
	Words   map[string]string           // keys and values that people spell otherwise: "color" is "colour"
}

// MaxSize bounds a file, in bytes. A fuselage of a hundred frames with forty lines
// is under 100 kB.
const MaxSize = 4 << 20

// Document is the text of one file, what was parsed from it, and the problems that
// were found so far.
type Document struct {
	File     string
	form     Form
	text     string   // the whole file
	lines    []string // without line ends, and without a byte order mark
	root     *yaml.Node
	problems Problems
	extras   Problems // anchors, aliases, merge keys, tags, further documents
	parsed   bool
}

// Parse reads the one YAML document of a file; file names it in problems. ok is
// false when there is nothing to go on with; the problems then say why.
func Parse(file string, data []byte, form Form) (doc *Document, root Value, ok bool) {
	doc = &Document{File: file, form: form, text: string(data)}
	data = bytes.TrimPrefix(data, []byte(byteOrderMark))
	doc.lines = splitLines(string(data))
	whole := Place{File: file}
	switch {
	case len(data) > MaxSize:
		doc.Report(whole, fmt.Sprintf("the file is larger than %d MB", MaxSize>>20), "a "+form.Kind+" file is a few pages of text; is this the right file?")
		return doc, Value{}, false
	case !utf8.Valid(data):
		doc.addNotUTF8()
		return doc, Value{}, false
	case doc.addControls():
		return doc, Value{}, false
	}
	nodes, err := parseYAML(data)
	if err != nil {
		doc.addSyntax(err)
		return doc, Value{}, false
	}
	if len(nodes) == 0 || isEmpty(nodes[0]) {
		doc.Report(whole, "the file is empty", form.Begin)
		return doc, Value{}, false
	}
	if len(nodes) > 1 {
		at := doc.placeOf(nodes[1])
		for at.Line > 1 && !strings.HasPrefix(doc.line(at.Line), "---") {
			at.Line--
		}
		at.Column = 1
		doc.Report(at, "a second document begins here; a "+form.Kind+" file holds one", "take out the line --- or put the second "+form.Kind+" in a file of its own")
	}
	doc.root, doc.parsed = nodes[0], true
	doc.refuseExtras(doc.root, new(columns))
	doc.extras = slices.Clone(doc.problems)
	return doc, Value{Doc: doc, node: doc.root, Name: "the file"}, true
}

// byteOrderMark may stand at the head of a file and is no part of its text.
const byteOrderMark = "\ufeff"

// parseYAML returns the root node of every document in data. A panic of the
// parser is returned as an error.
func parseYAML(data []byte) (roots []*yaml.Node, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("yaml: %v", r)
		}
	}()
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	for {
		var n yaml.Node
		err := decoder.Decode(&n)
		if errors.Is(err, io.EOF) {
			return roots, nil
		}
		if err != nil {
			return nil, err
		}
		if n.Kind == yaml.DocumentNode && len(n.Content) > 0 {
			roots = append(roots, n.Content[0])
		}
	}
}

// isEmpty tells whether nothing was written for n.
func isEmpty(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Value == "" && n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) == 0
}

// isMerge tells whether a key is the merge key.
func isMerge(key *yaml.Node) bool {
	return key.Kind == yaml.ScalarNode && key.Value == "<<" && key.Style == 0
}

// refuseExtras reports the parts of YAML that hide what a file says: anchors,
// aliases, merge keys and tags.
func (d *Document) refuseExtras(n *yaml.Node, from *columns) {
	at := d.placeOf(n)
	says := func() string { return " is not allowed: a " + d.form.Kind + " says each key where it stands" }
	switch {
	case n.Kind == yaml.AliasNode:
		d.Report(at, "the alias *"+n.Value+says(), fmt.Sprintf("write out what *%s stands for, or quote the text: \"*%s\"", n.Value, n.Value))
		return
	case n.Anchor != "":
		d.Report(at, "the anchor &"+n.Anchor+says(), "take out &"+n.Anchor)
	case n.Style&yaml.TaggedStyle != 0 || strings.HasPrefix(from.rest(d, at), "!"):
		d.Report(at, "a tag (a word that begins with !) is not allowed", "take it out; every value is kept as it is written, 0417 too")
	}
	for i, c := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 0 && isMerge(c) {
			d.Report(d.placeOf(c), "the merge key <<"+says(), "write out the keys that << would bring in")
			continue
		}
		d.refuseExtras(c, from)
	}
}

// Report keeps a problem.
func (d *Document) Report(at Place, message, hint string) {
	d.problems = append(d.problems, Problem{Place: at, Message: message, Excerpt: d.line(at.Line), Hint: hint})
}

// Problems returns what was found so far, in the order of the file; what was found
// twice is there once.
func (d *Document) Problems() Problems {
	out := slices.Clone(d.problems)
	slices.SortStableFunc(out, func(a, b Problem) int {
		if a.Place.Line != b.Place.Line {
			return a.Place.Line - b.Place.Line
		}
		return a.Place.Column - b.Place.Column
	})
	return slices.Compact(out)
}

func (d *Document) placeOf(n *yaml.Node) Place {
	return Place{File: d.File, Line: n.Line, Column: n.Column}
}
