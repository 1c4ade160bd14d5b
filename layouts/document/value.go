package document

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Value is one value of a document, with the name to call it by. One that was not
// written, as the zero value is, reads as empty and silent.
type Value struct {
	Doc  *Document
	node *yaml.Node
	Name string
	In   string     // what it is part of, for messages: "margin", "figure with text"
	from *yaml.Node // of a value that was not written: the keys that it is missing from
}

// Entry is one line of a block of keys.
type Entry struct {
	Key   Value
	Value Value
}

// Written tells whether the value is there.
func (v Value) Written() bool { return v.node != nil }

// Place is where the value stands; of one that was not written, where its keys stand.
func (v Value) Place() Place {
	if v.node == nil {
		return v.Doc.placeOf(v.from)
	}
	return v.Doc.placeOf(v.node)
}

// IsList tells whether a list was written.
func (v Value) IsList() bool { return v.Written() && v.node.Kind == yaml.SequenceNode }

// IsBlock tells whether keys with values were written.
func (v Value) IsBlock() bool { return v.Written() && v.node.Kind == yaml.MappingNode }

// IsPlain tells whether one text was written.
func (v Value) IsPlain() bool { return v.Written() && v.node.Kind == yaml.ScalarNode }

// Len is the number of items of a list or of keys of a block, else 0.
func (v Value) Len() int {
	switch {
	case v.IsList():
		return len(v.node.Content)
	case v.IsBlock():
		return len(v.node.Content) / 2
	}
	return 0
}

// Fail reports a problem at v.
func (v Value) Fail(hint, format string, args ...any) {
	v.Doc.Report(v.Place(), fmt.Sprintf(format, args...), hint)
}

// Kind names what was written, for messages: "a block of keys", "a list", "nothing",
// or the text.
func (v Value) Kind() string { return kindOf(v.node) }

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
	return fmt.Sprintf("the text %q", Shorten(n.Value))
}

// usable tells whether v is of the kind wanted, and reports it when not.
// Aliases were reported before.
func (v Value) usable(kind yaml.Kind, want string) bool {
	switch {
	case !v.Written() || v.node.Kind == yaml.AliasNode:
		return false
	case v.node.Kind == kind && !isEmpty(v.node):
		return true
	case isEmpty(v.node):
		v.Fail(v.hintFor(want), "%s has no value", v.Name)
	default:
		v.Fail(v.hintFor(want), "%s is %s, wanted %s", v.Name, kindOf(v.node), want)
	}
	return false
}

// Example is what to type for a key of what v is part of; empty when unknown.
func (d *Document) Example(in, key string) string {
	if d.form.Example == nil {
		return ""
	}
	return d.form.Example(in, key)
}

// hintFor is the example of v, else what is wanted.
func (v Value) hintFor(want string) string {
	if e := v.Doc.Example(v.In, v.Name); e != "" {
		return "write " + e
	}
	if want == "a length" {
		want += ", 20-1/2 in"
	}
	return "write " + want
}

// Scalar returns the text as it was written. want says in a message what was to
// stand there. ok is false when there is no text, which is then reported.
func (v Value) Scalar(want string) (text string, ok bool) {
	if !v.usable(yaml.ScalarNode, want) {
		return "", false
	}
	return v.node.Value, true
}

// Raw is the text as it was written, empty when there is none. Nothing is reported.
func (v Value) Raw() string {
	if !v.IsPlain() {
		return ""
	}
	return v.node.Value
}

// Text reads a text that is not blank and stands on one line, as written.
func (v Value) Text() string {
	s, ok := v.Scalar("text")
	s = strings.TrimSuffix(s, "\n")
	switch {
	case !ok:
		return ""
	case strings.TrimSpace(s) == "":
		v.Fail("write the text, or take out the key", "%s is blank", v.Name)
		return ""
	case strings.ContainsAny(s, "\n\t"):
		v.Fail("keep it on one line, or write >- and the text below it, indented", "%s holds a line break or a tab", v.Name)
		return ""
	case strings.ContainsFunc(s, IsControl):
		v.Fail("take it out: no reader sees it", "%s holds an invisible or control character (U+%04X)", v.Name, firstControl(s))
		return ""
	}
	return s
}

// Choice reads one of the allowed words. What was not written is usual; what is
// wrong is reported and empty.
func Choice[T ~string](v Value, usual T, allowed ...T) T {
	if !v.Written() {
		return usual
	}
	words := make([]string, len(allowed))
	for i, a := range allowed {
		words[i] = string(a)
	}
	s, ok := v.Scalar(OrList(words))
	if !ok {
		return ""
	}
	if i := slices.Index(words, s); i >= 0 {
		return allowed[i]
	}
	hint := "write " + OrList(words)
	if near := v.Doc.Nearest(s, words); near != "" {
		hint = fmt.Sprintf("did you mean %s?", near)
	}
	v.Fail(hint, "%s is %q, wanted %s", v.Name, Shorten(s), OrList(words))
	return ""
}

// Entries returns the lines of a block of keys in the order written; keys written
// twice are reported and left out. ok is false when v is no such block.
func (v Value) Entries() (list []Entry, ok bool) {
	if !v.usable(yaml.MappingNode, "keys with values") {
		return nil, false
	}
	first := map[string]int{}
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		k, n := v.node.Content[i], v.node.Content[i+1]
		key := Value{Doc: v.Doc, node: k, Name: k.Value}
		switch {
		case k.Kind == yaml.AliasNode || isMerge(k):
			continue // reported by refuseExtras
		case k.Kind != yaml.ScalarNode:
			key.Fail("write key: value", "a key of %s is %s, wanted a word", v.Name, kindOf(k))
			continue
		case first[k.Value] > 0:
			key.Fail(fmt.Sprintf("keep one of the two, lines %d and %d", first[k.Value], k.Line),
				"%s is written twice; the first is on line %d", k.Value, first[k.Value])
			continue
		}
		first[k.Value] = k.Line
		list = append(list, Entry{Key: key, Value: Value{Doc: v.Doc, node: n, Name: k.Value}})
	}
	return list, true
}

// Items returns the items of a list, named "point 1", "point 2".
func (v Value) Items(singular string) []Value {
	if !v.usable(yaml.SequenceNode, "a list") {
		return nil
	}
	out := make([]Value, len(v.node.Content))
	for i, n := range v.node.Content {
		out[i] = Value{Doc: v.Doc, node: n, Name: fmt.Sprintf("%s %d", singular, i+1)}
	}
	return out
}

// Peek returns the value of a key without reporting anything.
func (v Value) Peek(key string) Value {
	if v.IsBlock() {
		for i := 0; i+1 < len(v.node.Content); i += 2 {
			if v.node.Content[i].Value == key {
				return Value{Doc: v.Doc, node: v.node.Content[i+1], Name: key}
			}
		}
	}
	if v.node == nil {
		return Value{Doc: v.Doc, from: v.from, Name: key}
	}
	return Value{Doc: v.Doc, from: v.node, Name: key}
}

// Fields is a block of keys that were checked.
type Fields struct {
	Value
	what  string
	byKey map[string]Value
}

// Fields reads v as a block with the given keys, each list separated by spaces. It
// reports every key that is not listed and every needed key that is missing. what
// names the block in messages.
func (v Value) Fields(what, need, may string) Fields {
	needed := strings.Fields(need)
	return v.fields(what, needed, append(slices.Clone(needed), strings.Fields(may)...))
}

func (v Value) fields(what string, needed, known []string) Fields {
	f := Fields{Value: v, what: what, byKey: map[string]Value{}}
	list, ok := v.Entries()
	if !ok {
		return f
	}
	misspelt := map[string]bool{}
	for _, e := range list {
		if slices.Contains(known, e.Key.Name) {
			e.Value.In = what
			f.byKey[e.Key.Name] = e.Value
			continue
		}
		hint := "known keys: " + strings.Join(known, ", ")
		if strings.Trim(e.Key.Name, "0123456789") == "" && e.Key.Name != "" {
			hint = "a comma begins the next key: write a number with a point, 8.5"
		} else if near := v.Doc.Nearest(e.Key.Name, known); near != "" {
			hint = fmt.Sprintf("did you mean %s?", near)
			misspelt[near] = true
		}
		e.Key.Fail(hint, "%s has no key %s", what, QuoteOdd(e.Key.Name))
	}
	for _, key := range needed {
		if _, ok := f.byKey[key]; !ok && !misspelt[key] && !v.Peek(key).Written() {
			example := v.Doc.Example(what, key)
			if example == "" {
				example = key + ":"
			}
			v.Fail("add "+example, "%s has no %s", what, key)
		}
	}
	return f
}

// At returns the value of a key, written or not.
func (f Fields) At(key string) Value {
	if v, ok := f.byKey[key]; ok {
		return v
	}
	return Value{Doc: f.Doc, from: f.node}
}

// Merged returns a block of the given entries, later ones over earlier ones of the
// same key, as if it stood where at stands. Entries keep their own places.
func Merged(at Value, entries ...Entry) Value {
	n := &yaml.Node{Kind: yaml.MappingNode, Line: at.node.Line, Column: at.node.Column}
	index := map[string]int{}
	for _, e := range entries {
		if i, known := index[e.Key.Name]; known {
			n.Content[i], n.Content[i+1] = e.Key.node, e.Value.node
			continue
		}
		index[e.Key.Name] = len(n.Content)
		n.Content = append(n.Content, e.Key.node, e.Value.node)
	}
	return Value{Doc: at.Doc, node: n, Name: at.Name, In: at.In}
}

// KeyAt is a key that nobody wrote, at the place of a value.
func KeyAt(at Value, name string) Value {
	return Value{Doc: at.Doc, Name: name, node: &yaml.Node{Kind: yaml.ScalarNode, Value: name, Line: at.node.Line, Column: at.node.Column}}
}
