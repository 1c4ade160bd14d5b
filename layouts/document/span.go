package document

import (
	"strings"

	"go.yaml.in/yaml/v3"
)

// spans finds where values stand in the text, in bytes. The parser says where a
// value begins; where it ends is found here.
type spans struct {
	text   string
	starts []int                     // of each line
	parent map[*yaml.Node]*yaml.Node // none for the root
}

// spans measures the document once.
func (d *Document) spansOf() spans {
	s := spans{text: d.text, parent: map[*yaml.Node]*yaml.Node{}}
	first := 0
	if strings.HasPrefix(d.text, byteOrderMark) {
		first = len(byteOrderMark)
	}
	s.starts = []int{first}
	for i := first; i < len(s.text); i++ {
		if n := s.lineBreak(i); n > 0 {
			i += n - 1
			s.starts = append(s.starts, i+1)
		}
	}
	s.setParents(d.root)
	return s
}

func (s spans) setParents(n *yaml.Node) {
	for _, c := range n.Content {
		s.parent[c] = n
		s.setParents(c)
	}
}

// lineBreak is the length of the line break at a byte, 0 where there is none. The
// other breaks of YAML 1.1 are control characters and were refused.
func (s spans) lineBreak(at int) int {
	switch {
	case strings.HasPrefix(s.text[at:], "\r\n"):
		return 2
	case at < len(s.text) && (s.text[at] == '\n' || s.text[at] == '\r'):
		return 1
	}
	return 0
}

// lineEnd is the end of the line that holds a byte, before its line break.
func (s spans) lineEnd(at int) int {
	if n := strings.IndexAny(s.text[at:], "\r\n"); n >= 0 {
		return at + n
	}
	return len(s.text)
}

// lineStart is the start of the line that holds a byte.
func (s spans) lineStart(at int) int {
	line := 0
	for line+1 < len(s.starts) && s.starts[line+1] <= at {
		line++
	}
	return s.starts[line]
}

// newline is the line break in use around a byte, "\n" in a text of one line.
func (s spans) newline(at int) string {
	end := s.lineEnd(at)
	if end == len(s.text) {
		end = s.lineEnd(0)
	}
	if n := s.lineBreak(end); n > 0 {
		return s.text[end : end+n]
	}
	return "\n"
}

// start is where a value begins.
func (s spans) start(n *yaml.Node) int {
	at := s.starts[min(n.Line, len(s.starts))-1]
	for range n.Column - 1 {
		if at >= len(s.text) {
			break
		}
		at += runeLen(s.text[at])
	}
	return at
}

// runeLen is the length of the UTF-8 character that begins with a byte.
func runeLen(b byte) int {
	switch {
	case b < 0xC0:
		return 1
	case b < 0xE0:
		return 2
	case b < 0xF0:
		return 3
	}
	return 4
}

// end is the byte after a value; for one that was left empty, where it would begin.
func (s spans) end(n *yaml.Node) int {
	at := s.start(n)
	switch {
	case isEmpty(n):
		return at
	case n.Kind == yaml.ScalarNode:
		return s.scalarEnd(n, at)
	}
	closer := byte(0)
	if isFlow(n) && at < len(s.text) {
		switch s.text[at] {
		case '{':
			at, closer = at+1, '}'
		case '[':
			at, closer = at+1, ']'
		}
	}
	if len(n.Content) > 0 {
		at = s.end(n.Content[len(n.Content)-1])
	}
	if closer == 0 {
		return at
	}
	for at = s.skip(at); at < len(s.text) && s.text[at] != closer; at = s.skip(at + 1) {
	}
	return min(at+1, len(s.text))
}

// scalarEnd is the byte after a text that begins at a byte.
func (s spans) scalarEnd(n *yaml.Node, at int) int {
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		for at++; at < len(s.text) && s.text[at] != '"'; at++ {
			if s.text[at] == '\\' {
				at++
			}
		}
		return min(at+1, len(s.text))
	case n.Style&yaml.SingleQuotedStyle != 0:
		for at++; at < len(s.text) && (s.text[at] != '\'' || strings.HasPrefix(s.text[at:], "''")); at++ {
			if s.text[at] == '\'' {
				at++
			}
		}
		return min(at+1, len(s.text))
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		head, _, _ := strings.Cut(s.text[at:s.lineEnd(at)], "#")
		return s.blockEnd(n, at, strings.Contains(head, "+"))
	}
	// a plain text: its characters stand there as they are, only white space may differ
	for _, r := range n.Value {
		if strings.ContainsRune(" \t\n", r) {
			continue
		}
		for at < len(s.text) && strings.IndexByte(" \t\r\n", s.text[at]) >= 0 {
			at++
		}
		at += len(string(r))
	}
	return min(at, len(s.text))
}

// blockEnd is the end of the last line of a text written below | or >. keep: blank
// lines after it belong to it, as where its head says +.
func (s spans) blockEnd(n *yaml.Node, at int, keep bool) int {
	end := s.lineEnd(at)
	indent := s.blockIndent(n)
	for end < len(s.text) {
		from := end + s.lineBreak(end)
		if from == len(s.text) {
			break
		}
		to := s.lineEnd(from)
		line := s.text[from:to]
		blank := strings.Trim(line, " ") == ""
		if !blank && len(line)-len(strings.TrimLeft(line, " ")) <= indent {
			break
		}
		if blank && !keep && !s.contentFollows(to, indent) {
			break
		}
		end = to
	}
	return end
}

// contentFollows tells whether after a blank line that ends at a byte comes another
// line of the same text.
func (s spans) contentFollows(end, indent int) bool {
	for end < len(s.text) {
		from := end + s.lineBreak(end)
		end = s.lineEnd(from)
		if line := s.text[from:end]; strings.Trim(line, " ") != "" {
			return len(line)-len(strings.TrimLeft(line, " ")) > indent
		}
		if from == len(s.text) {
			break
		}
	}
	return false
}

// blockIndent is the number of spaces before the block that holds a value, -1 for
// the root.
func (s spans) blockIndent(n *yaml.Node) int {
	for p := s.parent[n]; p != nil; p = s.parent[p] {
		if !isFlow(p) {
			return p.Column - 1
		}
	}
	return -1
}

// skip passes white space, line breaks and comments.
func (s spans) skip(at int) int {
	for at < len(s.text) {
		switch c := s.text[at]; {
		case strings.IndexByte(" \t\r\n", c) >= 0:
			at++
		case c == '#' && (at == 0 || strings.IndexByte(" \t\r\n", s.text[at-1]) >= 0):
			at = s.lineEnd(at)
		default:
			return at
		}
	}
	return at
}

// afterColon is the byte after the colon of a key; ok is false for a key of a flow
// block that has none.
func (s spans) afterColon(key *yaml.Node) (at int, ok bool) {
	at = s.skip(s.end(key))
	if at < len(s.text) && s.text[at] == ':' {
		return at + 1, true
	}
	return s.end(key), false
}

// entryEnd is the byte after the value of a key, or after the key where the value
// was left empty.
func (s spans) entryEnd(key, value *yaml.Node) int {
	if isEmpty(value) {
		at, _ := s.afterColon(key)
		return at
	}
	return s.end(value)
}

// dash is the byte of the - of an item of a list in block style.
func (s spans) dash(list *yaml.Node, item int) int {
	if item == 0 {
		return s.start(list)
	}
	return s.skip(s.itemEnd(list, item-1))
}

// itemEnd is the byte after an item of a list in block style.
func (s spans) itemEnd(list *yaml.Node, item int) int {
	n := list.Content[item]
	if isEmpty(n) {
		return s.dash(list, item) + 1
	}
	return s.end(n)
}

func isFlow(n *yaml.Node) bool { return n.Style&yaml.FlowStyle != 0 }

// inFlow tells whether a value is, or stands in, a block or list in brackets.
func (s spans) inFlow(n *yaml.Node) bool {
	for ; n != nil; n = s.parent[n] {
		if isFlow(n) {
			return true
		}
	}
	return false
}
