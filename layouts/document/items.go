package document

import (
	"slices"

	"go.yaml.in/yaml/v3"
)

// Add writes a value given as YAML as the last item of the list at a path. A list
// that is missing is begun.
func (d *Document) Add(path Path, text string) (Splice, error) {
	text, value, err := fragment(text)
	if err != nil {
		return Splice{}, err
	}
	at, err := d.locate(path)
	if err != nil {
		return Splice{}, err
	}
	s, list := d.spansOf(), at.node()
	if len(at.rest) > 0 || isEmpty(list) || list.Kind == yaml.SequenceNode && len(list.Content) == 0 {
		return d.put(path, &yaml.Node{Kind: yaml.SequenceNode, Content: []*yaml.Node{value}}, func(yaml.Style, bool) []form {
			below := form{"- " + indented(text, "  ", "\n")[2:], true}
			return []form{below, {text: "[" + text + "]"}}
		})
	}
	if list.Kind != yaml.SequenceNode {
		return Splice{}, d.refuse(list, "name a list", "%s is %s, not a list", nameOf(path), kindOf(list))
	}
	last := len(list.Content) - 1
	want := clone(d.root)
	target := follow(want, at.index)
	target.Content = append(target.Content, value)
	if isFlow(list) {
		return d.first(list, []Splice{s.insertFlow(list, 1, last, text)}, want)
	}
	return d.first(list, []Splice{s.insertItem(list, last, text)}, want)
}

// Duplicate writes the item at a path once more, after itself. An item that has an
// id gets a new one, which no other item may have; for others id is empty.
func (d *Document) Duplicate(path Path, id string) (Splice, error) {
	at, err := d.locate(path)
	if err != nil {
		return Splice{}, err
	}
	if len(at.rest) > 0 || len(at.nodes) < 2 || at.parent().Kind != yaml.SequenceNode {
		return Splice{}, d.refuse(at.node(), "name an item: "+path.Item(1).String(), "%s is not an item of a list", nameOf(path))
	}
	s, list, item, i := d.spansOf(), at.parent(), at.node(), at.last()
	want := clone(d.root)
	double := clone(item)
	old := itemID(item)
	switch {
	case old == nil && id != "":
		return Splice{}, d.refuse(item, "leave the new id out", "%s has no id, so its copy gets none", nameOf(path))
	case old != nil && id == "":
		return Splice{}, d.refuse(item, "give the new id", "%s has an id, and its copy needs another", nameOf(path))
	case old != nil && slices.ContainsFunc(list.Content, func(n *yaml.Node) bool { o := itemID(n); return o != nil && o.Value == id }):
		return Splice{}, d.refuse(item, "choose another id", "there is an item %q already", Shorten(id))
	case old != nil:
		itemID(double).Value = id
	}
	parent := follow(want, at.index[:len(at.index)-1])
	parent.Content = insert(parent.Content, i+1, double)

	from, to := s.start(item), s.itemEndOf(list, i)
	if !isFlow(list) {
		from = s.dash(list, i)
	}
	copies := []string{s.text[from:to]}
	if old != nil {
		copies = nil
		for _, form := range formsOf(id, old.Style, s.inFlow(item)) {
			copies = append(copies, s.text[from:s.start(old)]+form+s.text[s.end(old):to])
		}
	}
	var splices []Splice
	for _, c := range copies {
		if isFlow(list) {
			splices = append(splices, s.insertFlow(list, 1, i, c))
			continue
		}
		end := s.lineEnd(to)
		splices = append(splices, Splice{end, end, s.newline(end) + spaces(list.Column-1) + c})
	}
	return d.first(item, splices, want)
}

// itemEndOf is the byte after an item of a list of any style.
func (s spans) itemEndOf(list *yaml.Node, i int) int {
	if isFlow(list) {
		return s.end(list.Content[i])
	}
	return s.itemEnd(list, i)
}
