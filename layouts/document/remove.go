package document

import (
	"strings"

	"go.yaml.in/yaml/v3"
)

// Remove takes out the key or the item at a path, with the comment behind it on its
// last line. Comments on lines of their own stay. Where it was the only one, {} or
// [] remains.
func (d *Document) Remove(path Path) (Splice, error) {
	at, err := d.locate(path)
	if err != nil {
		return Splice{}, err
	}
	if len(at.rest) > 0 {
		return Splice{}, d.refuse(at.node(), "nothing to do", "there is no %s", path)
	}
	if len(path) == 0 {
		return Splice{}, d.refuse(d.root, "name a key of the file", "the whole file cannot be taken out")
	}
	s, holder := d.spansOf(), at.parent()
	wide, i := 1, at.last()
	if holder.Kind == yaml.MappingNode {
		wide, i = 2, i/2
	}
	want := clone(d.root)
	rest := follow(want, at.index[:len(at.index)-1])
	rest.Content = append(rest.Content[:i*wide:i*wide], rest.Content[(i+1)*wide:]...)

	var splices []Splice
	switch {
	case isFlow(holder):
		splices = append(splices, s.removeFlow(holder, wide, i))
	case len(holder.Content) == wide && len(path) == 1:
		return Splice{}, d.refuse(d.root, "a file holds one key at least", "%s is the only key of the file", path)
	case len(holder.Content) == wide:
		splices = append(splices, s.replace(at.up(), form{text: map[yaml.Kind]string{yaml.MappingNode: "{}", yaml.SequenceNode: "[]"}[holder.Kind]}))
	default:
		splices = s.removeBlock(holder, i)
	}
	return d.first(at.node(), splices, want)
}

// removeBlock takes out an entry of a block, or an item of a list, in block style;
// in the second way with the blank lines below it, which a text that ends above
// would else take for its own.
func (s spans) removeBlock(holder *yaml.Node, i int) []Splice {
	var from, to int
	if holder.Kind == yaml.MappingNode {
		from, to = s.start(holder.Content[2*i]), s.entryEnd(holder.Content[2*i], holder.Content[2*i+1])
	} else {
		from, to = s.dash(holder, i), s.itemEnd(holder, i)
	}
	line, end := s.lineStart(from), s.lineEnd(to)
	next := end + s.lineBreak(end)
	below := next
	for below < len(s.text) && s.lineBreak(below) > 0 {
		below += s.lineBreak(below)
	}
	switch {
	case strings.Trim(s.text[line:from], " ") != "": // behind the - of an item
		for next < len(s.text) && strings.IndexByte(" \r\n", s.text[next]) >= 0 {
			next++
		}
		return []Splice{{from, next, ""}}
	case next == end && line > s.starts[0]: // the last line has no line break
		above := line - 1
		if s.text[above] == '\n' && above > 0 && s.text[above-1] == '\r' {
			above--
		}
		return []Splice{{above, end, ""}, {line, end, ""}}
	}
	return []Splice{{line, next, ""}, {line, below, ""}}
}

// removeFlow takes out an entry of a block or list in brackets, with one comma.
func (s spans) removeFlow(holder *yaml.Node, wide, i int) Splice {
	count := len(holder.Content) / wide
	from, to := s.flowEntry(holder, wide, i)
	if i > 0 {
		if _, end := s.flowEntry(holder, wide, i-1); !strings.Contains(s.text[end:from], "#") {
			return Splice{end, to, ""}
		}
	}
	if i+1 < count {
		if next, _ := s.flowEntry(holder, wide, i+1); !strings.Contains(s.text[to:next], "#") {
			return Splice{from, next, ""}
		}
	}
	if comma := s.skip(to); comma < len(s.text) && s.text[comma] == ',' {
		to = comma + 1
	}
	return Splice{from, to, ""}
}
