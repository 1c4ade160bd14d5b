package reading

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"maskloft/geometry"
	"maskloft/layouts"
)

// document is one file being read. Its problems are gathered, not returned: a
// reader goes on past a mistake, and a value that could not be read is left
// empty (text) or not a number (lengths), which no later check complains about.
type document struct {
	file     string
	lines    []string
	bare     geometry.Length // unit of a bare number; zero: none was given
	problems layouts.Problems
	unitless []layouts.Problem // bare numbers met while there is no `units:`
}

// value is one value of the document, with the name to call it by. The zero
// value is one that was not written: every reading of it is empty and silent.
type value struct {
	doc  *document
	node *yaml.Node
	name string
	in   string     // what it is part of: "margin", "figure with text"
	from *yaml.Node // of a value that was not written: the keys that it is missing from
}

// entry is one line of a mapping.
type entry struct {
	key   value
	value value
}

// maxFileSize bounds a layout file. A fuselage of a hundred frames with forty
// lines is under 100 kB.
const maxFileSize = 4 << 20

// parseDocument reads the one YAML document of a file. The text of every scalar
// is kept as written. ok is false when there is nothing to go on with; the
// problems then say why.
func parseDocument(file string, data []byte) (doc *document, root value, ok bool) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	doc = &document{file: file, lines: splitLines(string(data))}
	whole := layouts.Place{File: file}
	switch {
	case len(data) > maxFileSize:
		doc.add(whole, fmt.Sprintf("the file is larger than %d MB", maxFileSize>>20), "a layout file is a few pages of text; is this the right file?")
		return doc, value{}, false
	case !utf8.Valid(data):
		doc.addNotUTF8()
		return doc, value{}, false
	case doc.addControls():
		return doc, value{}, false
	}
	nodes, err := parseYAML(data)
	if err != nil {
		doc.addSyntax(err)
		return doc, value{}, false
	}
	if len(nodes) == 0 || isEmpty(nodes[0]) {
		doc.add(whole, "the file is empty", "begin with name:, units:, aircraft: and markings:, or copy the demo layout")
		return doc, value{}, false
	}
	if len(nodes) > 1 {
		at := doc.placeOf(nodes[1])
		for at.Line > 1 && !strings.HasPrefix(doc.line(at.Line), "---") {
			at.Line--
		}
		at.Column = 1
		doc.add(at, "a second document begins here; a layout file holds one", "take out the line --- or put the second layout in a file of its own")
	}
	doc.refuseExtras(nodes[0])
	return doc, value{doc: doc, node: nodes[0], name: "the file"}, true
}

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

// refuseExtras reports the parts of YAML that hide what a file says: anchors,
// aliases, merge keys and tags.
func (d *document) refuseExtras(n *yaml.Node) {
	at := d.placeOf(n)
	switch {
	case n.Kind == yaml.AliasNode:
		d.add(at, fmt.Sprintf("the alias *%s is not allowed: a layout says each thing where it stands", n.Value), fmt.Sprintf("write out what *%s stands for, or quote the text: \"*%s\"", n.Value, n.Value))
		return
	case n.Anchor != "":
		d.add(at, fmt.Sprintf("the anchor &%s is not allowed: a layout says each thing where it stands", n.Anchor), fmt.Sprintf("take out &%s", n.Anchor))
	case n.Style&yaml.TaggedStyle != 0 || d.startsWith(at, "!"):
		d.add(at, "a tag (a word that begins with !) is not allowed", "take it out; every value is kept as it is written, 0417 too")
	}
	for i, c := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 0 && c.Kind == yaml.ScalarNode && c.Value == "<<" && c.Style == 0 {
			d.add(d.placeOf(c), "the merge key << is not allowed: a layout says each thing where it stands", "write out the keys that << would bring in")
			continue
		}
		d.refuseExtras(c)
	}
}

func (d *document) placeOf(n *yaml.Node) layouts.Place {
	return layouts.Place{File: d.file, Line: n.Line, Column: n.Column}
}

// kindOf names what was written, for messages.
func kindOf(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.MappingNode:
		return "a block of keys"
	case n.Kind == yaml.SequenceNode:
		return "a list"
	case isEmpty(n):
		return "nothing"
	}
	return fmt.Sprintf("the text %q", shorten(n.Value))
}

// written tells whether the value is there.
func (v value) written() bool { return v.node != nil }

// place is where the value stands; of one that was not written, where its keys stand.
func (v value) place() layouts.Place {
	if v.node == nil {
		return v.doc.placeOf(v.from)
	}
	return v.doc.placeOf(v.node)
}

// usable tells whether v is of the kind wanted, and reports it when not.
// Aliases were reported before.
func (v value) usable(kind yaml.Kind, want string) bool {
	switch {
	case !v.written() || v.node.Kind == yaml.AliasNode:
		return false
	case v.node.Kind == kind && !isEmpty(v.node):
		return true
	case isEmpty(v.node):
		v.fail(v.hintFor(want), "%s has no value", v.name)
	default:
		v.fail(v.hintFor(want), "%s is %s, wanted %s", v.name, kindOf(v.node), want)
	}
	return false
}

// isList, isBlock and isPlain tell what was written.
func (v value) isList() bool  { return v.written() && v.node.Kind == yaml.SequenceNode }
func (v value) isBlock() bool { return v.written() && v.node.Kind == yaml.MappingNode }
func (v value) isPlain() bool { return v.written() && v.node.Kind == yaml.ScalarNode }

// scalar returns the text as it was written: 0417, 0x1F, 1_000, 12.50 and yes
// stay so. ok is false when there is none, which is then reported.
func (v value) scalar(want string) (text string, ok bool) {
	if !v.usable(yaml.ScalarNode, want) {
		return "", false
	}
	return v.node.Value, true
}

// entries returns the lines of a mapping in the order written; keys written
// twice are reported and left out. ok is false when v is not a mapping.
func (v value) entries() (list []entry, ok bool) {
	if !v.usable(yaml.MappingNode, "keys with values") {
		return nil, false
	}
	first := map[string]int{}
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		k, n := v.node.Content[i], v.node.Content[i+1]
		key := value{doc: v.doc, node: k, name: k.Value}
		switch {
		case k.Kind == yaml.AliasNode || k.Kind == yaml.ScalarNode && k.Value == "<<" && k.Style == 0:
			continue // reported by refuseExtras
		case k.Kind != yaml.ScalarNode:
			key.fail("write key: value", "a key of %s is %s, wanted a word", v.name, kindOf(k))
			continue
		case first[k.Value] > 0:
			key.fail(fmt.Sprintf("keep one of the two, lines %d and %d", first[k.Value], k.Line),
				"%s is written twice; the first is on line %d", k.Value, first[k.Value])
			continue
		}
		first[k.Value] = k.Line
		list = append(list, entry{key: key, value: value{doc: v.doc, node: n, name: k.Value}})
	}
	return list, true
}

// items returns the items of a list, named "point 1", "point 2".
func (v value) items(singular string) []value {
	if !v.usable(yaml.SequenceNode, "a list") {
		return nil
	}
	out := make([]value, len(v.node.Content))
	for i, n := range v.node.Content {
		out[i] = value{doc: v.doc, node: n, name: fmt.Sprintf("%s %d", singular, i+1)}
	}
	return out
}

// peek returns the value of a key without reporting anything.
func (v value) peek(key string) value {
	if !v.isBlock() {
		return value{}
	}
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		if v.node.Content[i].Value == key {
			return value{doc: v.doc, node: v.node.Content[i+1], name: key}
		}
	}
	return value{}
}

// mapping returns a mapping of the given entries, later ones over earlier ones of
// the same key, as if it stood where at stands. Entries keep their own places.
func mapping(at value, entries ...entry) value {
	n := &yaml.Node{Kind: yaml.MappingNode, Line: at.node.Line, Column: at.node.Column}
	index := map[string]int{}
	for _, e := range entries {
		if i, known := index[e.key.name]; known {
			n.Content[i], n.Content[i+1] = e.key.node, e.value.node
			continue
		}
		index[e.key.name] = len(n.Content)
		n.Content = append(n.Content, e.key.node, e.value.node)
	}
	return value{doc: at.doc, node: n, name: at.name, in: at.in}
}

// keyNode is a key that nobody wrote, at the place of a value.
func keyNode(at value, name string) value {
	return value{doc: at.doc, name: name, node: &yaml.Node{Kind: yaml.ScalarNode, Value: name, Line: at.node.Line, Column: at.node.Column}}
}
