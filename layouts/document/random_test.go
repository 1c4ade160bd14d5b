package document

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"
)

// writer writes random files in every style that the reader knows: blocks and lists
// on lines of their own and in brackets, bare and quoted texts, texts below | and >,
// values that were left empty, comments, blank lines.
type writer struct {
	t        *rapid.T
	comments int
	ids      int
}

func (w *writer) chance(percent int) bool {
	return rapid.IntRange(1, 100).Draw(w.t, "chance") > 100-percent
}

func (w *writer) one(words ...string) string { return rapid.SampledFrom(words).Draw(w.t, "word") }

// comment is a comment with a number of its own, or nothing.
func (w *writer) comment(percent int) string {
	if !w.chance(percent) {
		return ""
	}
	w.comments++
	return fmt.Sprintf(" # note-%d", w.comments)
}

// between are blank lines and comments on lines of their own.
func (w *writer) between(indent string) string {
	var b strings.Builder
	for w.chance(15) {
		if c := w.comment(60); c != "" {
			b.WriteString(indent + c[1:])
		}
		b.WriteString("\n")
	}
	return b.String()
}

func (w *writer) keys() []string {
	known := []string{"fs", "wl", "where", "figure", "text", "a key", "bars.length", "größe", "12", `"quoted"`}
	n := rapid.IntRange(1, 4).Draw(w.t, "keys")
	return rapid.Permutation(known).Draw(w.t, "order")[:n]
}

// scalar is a text on one line; flow: brackets stand round it.
func (w *writer) scalar(flow bool) string {
	bare := []string{"136 in", "0417", "20-1/2 in", "yes", "-3 deg", "~", "a-b_c", "http://x.y/z", "it's", `5" wide`, "Größe ±2", "x:y"}
	if flow {
		return w.one(append([]string{`"a, b] # no"`, `'it''s } so'`, `"tab\tand \"q\""`, "\"\""}, bare...)...)
	}
	return w.one(append([]string{`"a, b] # no"`, `'it''s: so'`, `"#172035"`, `"\u00e9 \\"`, "''", "a, b [c]"}, bare...)...)
}

// value writes what comes behind "key:" or "-": it begins with a space or a line
// break and ends with a line break.
func (w *writer) value(depth int, indent string, inList bool) string {
	kind := w.one("scalar", "scalar", "scalar", "empty", "literal", "folded", "block", "block", "list", "flow", "long")
	if depth == 0 && (kind == "block" || kind == "list") {
		kind = "scalar"
	}
	inner := indent + w.one("  ", " ", "    ")
	switch kind {
	case "empty":
		return w.comment(20) + "\n"
	case "literal", "folded":
		head := map[string]string{"literal": "|", "folded": ">"}[kind] + w.one("", "-", "+")
		return " " + head + w.comment(20) + "\n" + inner + "first line # no note\n" + w.one("", "\n", inner+"  deeper: yes\n") + inner + "last\n" + w.one("", "", "\n")
	case "long":
		return " " + w.one("two\n"+inner+"words", "\"two\n"+inner+"words\"", "'two\n\n"+inner+"words'") + w.comment(20) + "\n"
	case "flow":
		return " " + w.flow(2, inner) + w.comment(20) + "\n"
	case "block":
		if inList && w.chance(80) {
			inner = indent + "  "
			return " " + strings.TrimPrefix(w.block(depth-1, inner, true), inner)
		}
		return w.comment(20) + "\n" + w.between(inner) + w.block(depth-1, inner, false)
	case "list":
		if !inList && w.chance(30) {
			inner = indent // the dash under its key
		}
		if inList {
			inner = indent + "  "
			if w.chance(50) {
				return " " + strings.TrimPrefix(w.list(depth-1, inner), inner)
			}
		}
		return w.comment(20) + "\n" + w.between(inner) + w.list(depth-1, inner)
	}
	return " " + w.scalar(false) + w.one("", " ", "") + w.comment(30) + "\n"
}

func (w *writer) key(k string, flow bool) string { return keyText(k, flow) }

func (w *writer) block(depth int, indent string, first bool) string {
	var b strings.Builder
	for i, k := range w.keys() {
		if i > 0 || !first {
			b.WriteString(w.between(indent))
		}
		b.WriteString(indent + w.key(k, false) + ":" + w.value(depth, indent, false))
	}
	return b.String()
}

func (w *writer) list(depth int, indent string) string {
	var b strings.Builder
	withIDs := w.chance(60)
	for i := range rapid.IntRange(1, 3).Draw(w.t, "items") {
		if i > 0 {
			b.WriteString(w.between(indent))
		}
		switch {
		case !withIDs:
			b.WriteString(indent + "-" + w.value(depth, indent, true))
		case w.chance(40):
			w.ids++
			b.WriteString(fmt.Sprintf("%s- {id: m%d, where: %s}%s\n", indent, w.ids, w.flow(1, indent+"  "), w.comment(20)))
		default:
			w.ids++
			b.WriteString(fmt.Sprintf("%s- id: m%d%s\n", indent, w.ids, w.comment(20)))
			if w.chance(70) {
				b.WriteString(w.block(depth, indent+"  ", false))
			}
		}
	}
	return b.String()
}

// flow writes a block or list in brackets, on one line or on several.
func (w *writer) flow(depth int, indent string) string {
	brackets, list := "{}", w.chance(40)
	if list {
		brackets = "[]"
	}
	if w.chance(10) {
		return brackets
	}
	lines := w.chance(25)
	var b strings.Builder
	b.WriteString(brackets[:1])
	keys := w.keys()
	for i, k := range keys {
		switch {
		case lines:
			b.WriteString(w.comment(20) + "\n" + indent + "  ")
		case i > 0:
			b.WriteString(w.one(" ", "  "))
		case w.chance(20):
			b.WriteString(" ")
		}
		v := w.scalar(true)
		if depth > 0 && w.chance(30) {
			v = w.flow(depth-1, indent+"  ")
		}
		switch {
		case list:
			b.WriteString(v)
		case w.chance(5):
			b.WriteString(w.key(k, true)) // a key without a value
		default:
			b.WriteString(w.key(k, true) + ": " + v)
		}
		if i+1 < len(keys) || w.chance(10) {
			b.WriteString(",")
		}
	}
	if lines {
		b.WriteString(w.comment(20) + "\n" + indent + " ")
	} else if w.chance(20) {
		b.WriteString(" ")
	}
	return b.String() + brackets[1:]
}

// file writes a whole file: line ends of either kind, with or without the last one,
// with or without a byte order mark.
func (w *writer) file() []byte {
	text := w.between("") + w.block(3, "", false) + w.between("")
	if w.chance(30) {
		text = strings.TrimRight(text, "\n")
	}
	if w.chance(30) {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	if w.chance(20) {
		text = byteOrderMark + text
	}
	return []byte(text)
}
