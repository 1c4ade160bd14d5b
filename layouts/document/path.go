package document

import (
	"fmt"
	"strconv"
	"strings"
)

// Path names one value of a file, from the root down. Its text form is that of
// markings[insignia].where.fs: keys are joined by points, an item of a list stands
// in brackets. An item is named by the value of its key id, or by its number from
// 1: aircraft.sections[2].points[1]. A key or an id with other characters than
// letters, digits, - and _, and an id of digits alone, stands in double quotes:
// explains."bars.length", list["12"].
type Path []Step

// Step is one step of a path. Exactly one of its fields is set.
type Step struct {
	Key  string // of a block
	ID   string // of the item of a list whose key id has this value
	Item int    // number of the item of a list, from 1
}

// Key returns the path of a key of the value at p; p stays as it is.
func (p Path) Key(keys ...string) Path {
	for _, k := range keys {
		p = append(p[:len(p):len(p)], Step{Key: k})
	}
	return p
}

// ID returns the path of the item with an id of the list at p.
func (p Path) ID(id string) Path { return append(p[:len(p):len(p)], Step{ID: id}) }

// Item returns the path of an item, counted from 1, of the list at p.
func (p Path) Item(n int) Path { return append(p[:len(p):len(p)], Step{Item: n}) }

// String writes the path so that [ParsePath] reads it back.
func (p Path) String() string {
	var b strings.Builder
	for i, s := range p {
		switch {
		case s.Item > 0:
			fmt.Fprintf(&b, "[%d]", s.Item)
		case s.ID != "":
			b.WriteString("[" + quoteStep(s.ID, true) + "]")
		default:
			if i > 0 {
				b.WriteByte('.')
			}
			b.WriteString(quoteStep(s.Key, false))
		}
	}
	return b.String()
}

// quoteStep quotes what would be read otherwise.
func quoteStep(s string, item bool) string {
	if s == "" || strings.ContainsFunc(s, func(r rune) bool { return !isWordRune(r) }) || item && strings.Trim(s, "0123456789") == "" {
		return strconv.Quote(s)
	}
	return s
}

func isWordRune(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_'
}

// ParsePath reads the text form of a path.
func ParsePath(text string) (Path, error) {
	var p Path
	rest := text
	bad := func(why string) (Path, error) {
		return nil, fmt.Errorf("path %q: %s at character %d: write a path such as markings[insignia].where.fs", Shorten(text), why, 1+len([]rune(text[:len(text)-len(rest)])))
	}
	for rest != "" {
		item := rest[0] == '['
		switch {
		case item:
			rest = rest[1:]
		case rest[0] == '.' && len(p) > 0:
			rest = rest[1:]
		case len(p) > 0:
			return bad("no point or bracket")
		}
		word, after, quoted, ok := cutWord(rest)
		if !ok {
			return bad("no word")
		}
		rest = after
		if !item {
			p = append(p, Step{Key: word})
			continue
		}
		if !strings.HasPrefix(rest, "]") {
			return bad("no closing bracket")
		}
		rest = rest[1:]
		step := Step{ID: word}
		if !quoted && strings.Trim(word, "0123456789") == "" {
			n, err := strconv.Atoi(word)
			if err != nil || n < 1 {
				return bad("items are counted from 1: no item number")
			}
			step = Step{Item: n}
		}
		p = append(p, step)
	}
	if len(p) == 0 {
		return bad("nothing")
	}
	return p, nil
}

// cutWord takes a bare or quoted word off the head of text.
func cutWord(text string) (word, rest string, quoted, ok bool) {
	if strings.HasPrefix(text, `"`) {
		q, err := strconv.QuotedPrefix(text)
		if err != nil {
			return "", text, true, false
		}
		word, err = strconv.Unquote(q)
		return word, text[len(q):], true, err == nil && word != ""
	}
	n := strings.IndexFunc(text, func(r rune) bool { return !isWordRune(r) })
	if n < 0 {
		n = len(text)
	}
	return text[:n], text[n:], false, n > 0
}
