package document

import (
	"strings"

	"go.yaml.in/yaml/v3"
)

// replace writes a form in the place of a value.
func (s spans) replace(at spot, f form) Splice {
	n, holder, text := at.node(), at.parent(), f.text
	from, to := s.start(n), s.end(n)
	if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		to = s.blockEnd(n, from, false)
	}
	if holder.Kind == yaml.SequenceNode {
		if !f.below {
			text += s.headComment(n)
		}
		if isEmpty(n) && !isFlow(holder) {
			from = s.dash(holder, at.last()) + 1
			return Splice{from, from, " " + indented(text, spaces(holder.Column+1), s.newline(from))[holder.Column+1:]}
		}
		if f.below {
			nl := s.newline(from)
			text = indented(text, spaces(n.Column-1), nl)
			if c := s.headComment(n); c != "" {
				text = strings.TrimLeft(c, " ") + nl + text
			} else {
				text = text[n.Column-1:]
			}
		}
		return Splice{from, to, text}
	}
	colon, ok := s.afterColon(holder.Content[at.last()-1])
	between := s.headComment(n)
	switch {
	case isEmpty(n):
		from, to = colon, colon
		if !ok {
			return Splice{from, to, ": " + text}
		}
	case f.below || isBlockStyle(n) && n.Kind != yaml.ScalarNode:
		if c := s.text[colon:from]; strings.Contains(c, "#") {
			between = strings.TrimRight(c, " \t\r\n")
		}
		from = colon
	default:
		return Splice{from, to, text + between}
	}
	if f.below {
		nl := s.newline(from)
		return Splice{from, to, between + nl + indented(text, spaces(holder.Column+1), nl)}
	}
	return Splice{from, to, " " + text + between}
}

// headComment is the comment behind the | or > of a text below it, with the space
// before it.
func (s spans) headComment(n *yaml.Node) string {
	if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 {
		return ""
	}
	from := s.start(n)
	head := s.text[from:s.lineEnd(from)]
	if i := strings.Index(head, " #"); i >= 0 {
		return head[i:]
	}
	return ""
}

// isBlockStyle tells whether a value stands on lines of its own, without brackets.
func isBlockStyle(n *yaml.Node) bool { return n.Kind != yaml.ScalarNode && !isFlow(n) }

// insertKey writes a key and its value after an entry of a block of keys, -1 for
// its head.
func (s spans) insertKey(block *yaml.Node, after int, key string, f form) Splice {
	if isFlow(block) {
		return s.insertFlow(block, 2, after, key+": "+f.text)
	}
	indent := spaces(block.Column - 1)
	if after < 0 {
		at := s.start(block)
		nl := s.newline(at)
		return Splice{at, at, keyAndValue(key, f, indent, nl) + nl + indent}
	}
	at := s.lineEnd(s.entryEnd(block.Content[2*after], block.Content[2*after+1]))
	nl := s.newline(at)
	return Splice{at, at, nl + indent + keyAndValue(key, f, indent, nl)}
}

func keyAndValue(key string, f form, indent, nl string) string {
	if f.below {
		return key + ":" + nl + indented(f.text, indent+"  ", nl)
	}
	return key + ": " + f.text
}

// insertFlow writes an entry after another of a block or list in brackets; each
// entry is a number of nodes wide. An entry that stands on its own line gets its
// neighbour on the next.
func (s spans) insertFlow(block *yaml.Node, wide, after int, text string) Splice {
	count := len(block.Content) / wide
	if after < 0 {
		at := s.start(block) + 1
		if count > 0 {
			text += ", "
		}
		return Splice{at, at, text}
	}
	from, to := s.flowEntry(block, wide, after)
	head := s.text[s.lineStart(from):from]
	if strings.Trim(head, " \t") != "" {
		return Splice{to, to, ", " + text}
	}
	nl := s.newline(from)
	if comma := s.skip(to); comma < len(s.text) && s.text[comma] == ',' {
		if end := s.lineEnd(comma); s.skip(comma+1) >= end {
			return Splice{end, end, nl + head + text + ","}
		}
		return Splice{comma + 1, comma + 1, " " + text + ","}
	}
	return Splice{to, to, "," + nl + head + text}
}

// flowEntry returns the bytes of an entry of a block or list in brackets.
func (s spans) flowEntry(block *yaml.Node, wide, i int) (from, to int) {
	first := block.Content[i*wide]
	if wide == 2 {
		return s.start(first), s.entryEnd(first, block.Content[i*wide+1])
	}
	return s.start(first), s.end(first)
}

// insertItem writes an item of a list in block style after another.
func (s spans) insertItem(list *yaml.Node, after int, text string) Splice {
	at := s.lineEnd(s.itemEnd(list, after))
	nl := s.newline(at)
	indent := spaces(list.Column - 1)
	return Splice{at, at, nl + indent + "- " + indented(text, indent+"  ", nl)[len(indent)+2:]}
}

func spaces(n int) string { return strings.Repeat(" ", max(n, 0)) }

// indented puts an indent before each line and joins the lines by nl.
func indented(text, indent, nl string) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		if l != "" {
			lines[i] = indent + l
		}
	}
	return strings.Join(lines, nl)
}
