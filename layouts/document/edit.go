package document

import (
	"strings"

	"go.yaml.in/yaml/v3"
)

// Set writes a text as the value at a path. The text means itself: quotes are added
// where YAML needs them, and kept where they were. What stood there, a list or a
// block of keys too, gives way. A key that is missing is added to its block: after
// the keys that go before it, by the order of the form, else at its end; keys above
// it that are missing too are added with it.
func (d *Document) Set(path Path, text string) (Splice, error) {
	node := &yaml.Node{Kind: yaml.ScalarNode, Value: text}
	if text == "" {
		node.Style = yaml.DoubleQuotedStyle
	}
	return d.put(path, node, func(old yaml.Style, flow bool) (forms []form) {
		for _, f := range formsOf(text, old, flow) {
			forms = append(forms, form{text: f})
		}
		return forms
	})
}

// Put writes a value given as YAML, such as {fs: 134 in, wl: 51 in}, at a path. A
// value of several lines is indented to fit.
func (d *Document) Put(path Path, text string) (Splice, error) {
	text, node, err := fragment(text)
	if err != nil {
		return Splice{}, err
	}
	return d.put(path, node, func(yaml.Style, bool) []form { return []form{formOf(text, node)} })
}

// fragment parses YAML that is to stand inside a file.
func fragment(text string) (string, *yaml.Node, error) {
	text = strings.TrimRight(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), " \n")
	doc, root, ok := Parse("the new value", []byte(text), Form{Kind: "value", Begin: "write a value"})
	if problems := doc.Problems(); !ok || len(problems) > 0 {
		return "", nil, problems
	}
	return text, root.node, nil
}

// form is a way to write a value; below: on lines of its own below its key.
type form struct {
	text  string
	below bool
}

// formOf is the form of a value given as YAML.
func formOf(text string, value *yaml.Node) form {
	return form{text, strings.Contains(text, "\n") || isBlockStyle(value)}
}

// put writes a value at a path in the first of several forms that reads back. The
// forms hang on the style of the old value, and on whether brackets stand round it.
func (d *Document) put(path Path, value *yaml.Node, forms func(old yaml.Style, flow bool) []form) (Splice, error) {
	at, err := d.locate(path)
	if err != nil {
		return Splice{}, err
	}
	if len(path) == 0 {
		return Splice{}, d.refuse(d.root, "name a key of the file", "the whole file cannot be written as one value")
	}
	s := d.spansOf()
	want := clone(d.root)
	target := follow(want, at.index)
	nested := value
	for i := len(at.rest) - 1; i > 0; i-- {
		nested = &yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{keyNode(at.rest[i].Key), nested}}
	}
	var splices []Splice
	for _, f := range forms(styleOf(at), s.inFlow(at.node()) || len(at.rest) > 1) {
		switch {
		case len(at.rest) == 0:
			splices = append(splices, s.replace(at, f))
		case isEmpty(at.node()):
			splices = append(splices, s.replace(at, nest(at.rest, f)))
		default:
			splices = append(splices, s.insertKey(at.node(), d.after(path[:len(path)-len(at.rest)], at), keyText(at.rest[0].Key, s.inFlow(at.node())), nest(at.rest[1:], f)))
		}
	}
	switch {
	case len(at.rest) == 0:
		*target = *clone(value)
	case isEmpty(target):
		*target = yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{keyNode(at.rest[0].Key), nested}}
	default:
		i := 2 * (1 + d.after(path[:len(path)-len(at.rest)], at))
		target.Content = insert(target.Content, i, keyNode(at.rest[0].Key), nested)
	}
	return d.first(at.node(), splices, want)
}

// styleOf is the style of the text that is replaced.
func styleOf(at spot) yaml.Style {
	if len(at.rest) > 0 || at.node().Kind != yaml.ScalarNode {
		return 0
	}
	return at.node().Style
}

// nest wraps a value in the keys that are missing above it.
func nest(keys Path, f form) form {
	for i := len(keys) - 1; i >= 0; i-- {
		if f.below {
			f.text = keyText(keys[i].Key, false) + ":\n" + indented(f.text, "  ", "\n")
		} else {
			f.text = "{" + keyText(keys[i].Key, true) + ": " + f.text + "}"
		}
	}
	return f
}

func keyNode(key string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Value: key} }

func keyText(key string, flow bool) string { return formsOf(key, 0, flow)[0] }

// after is the entry of a block after which a new key goes, by the order of the
// form; -1 for the head of the block.
func (d *Document) after(block Path, at spot) int {
	n, key := at.node(), at.rest[0].Key
	last := len(n.Content)/2 - 1
	if d.form.Order == nil {
		return last
	}
	rank := map[string]int{}
	for i, k := range d.form.Order(block) {
		rank[k] = i + 1
	}
	if rank[key] == 0 {
		return last
	}
	best := -1
	for i := 0; i+1 < len(n.Content); i += 2 {
		if r := rank[n.Content[i].Value]; r > 0 && r < rank[key] {
			best = i / 2
		}
	}
	return best
}

// first returns the first splice that changes the document into what is wanted.
func (d *Document) first(n *yaml.Node, splices []Splice, want *yaml.Node) (Splice, error) {
	for _, s := range splices {
		after := s.Apply([]byte(d.text))
		roots, err := parseYAML([]byte(strings.TrimPrefix(string(after), byteOrderMark)))
		if err == nil && len(roots) == 1 && len(after) <= MaxSize && same(roots[0], want) {
			return s, nil
		}
	}
	return Splice{}, d.refuse(n, "change it in the text by hand", "this cannot be changed here without touching what stands around it")
}

// same tells whether two values say the same; places and styles do not count, nor
// the last line break of a text below | or >, which it has only where its last line
// has one.
func same(a, b *yaml.Node) bool {
	if a.Kind != b.Kind || a.Kind == yaml.AliasNode || a.Anchor != "" || textOf(a) != textOf(b) || isEmpty(a) != isEmpty(b) || len(a.Content) != len(b.Content) {
		return false
	}
	for i := range a.Content {
		if !same(a.Content[i], b.Content[i]) {
			return false
		}
	}
	return true
}

func textOf(n *yaml.Node) string {
	if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		return strings.TrimSuffix(n.Value, "\n")
	}
	return n.Value
}

func clone(n *yaml.Node) *yaml.Node {
	c := &yaml.Node{Kind: n.Kind, Style: n.Style, Value: n.Value}
	for _, k := range n.Content {
		c.Content = append(c.Content, clone(k))
	}
	return c
}

// follow returns the value that a list of indices leads to.
func follow(n *yaml.Node, index []int) *yaml.Node {
	for _, i := range index {
		n = n.Content[i]
	}
	return n
}

func insert(list []*yaml.Node, at int, nodes ...*yaml.Node) []*yaml.Node {
	return append(list[:at:at], append(nodes, list[at:]...)...)
}
