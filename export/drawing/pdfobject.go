package drawing

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Objects of a PDF (ISO 32000-1 clause 7.3): bool, float64, pdfName, pdfString,
// []any, pdfDict, pdfStream, pdfLink, pdfWord (an operator or keyword), or nil.
type (
	pdfName   string
	pdfString string
	pdfWord   string
	pdfDict   map[pdfName]any
	pdfLink   struct{ number, generation int }
	pdfStream struct {
		dict pdfDict
		data []byte // as it stands in the file
	}
)

// pdfLexer reads objects one after another from data.
type pdfLexer struct {
	data []byte
	at   int
	refs bool // whether "1 0 R" is a reference: in a file, not in a content stream
}

var errPDFEnd = errors.New("the file ends within an object")

func pdfBlank(c byte) bool {
	return c == 0 || c == '\t' || c == '\n' || c == '\f' || c == '\r' || c == ' '
}

func pdfDelimiter(c byte) bool {
	return bytes.IndexByte([]byte("()<>[]{}/%"), c) >= 0
}

// blanks passes white space and comments.
func (l *pdfLexer) blanks() {
	for l.at < len(l.data) {
		switch c := l.data[l.at]; {
		case pdfBlank(c):
			l.at++
		case c == '%':
			for l.at < len(l.data) && l.data[l.at] != '\n' && l.data[l.at] != '\r' {
				l.at++
			}
		default:
			return
		}
	}
}

func (l *pdfLexer) done() bool {
	l.blanks()
	return l.at >= len(l.data)
}

// regular reads a run of regular characters.
func (l *pdfLexer) regular() string {
	from := l.at
	for l.at < len(l.data) && !pdfBlank(l.data[l.at]) && !pdfDelimiter(l.data[l.at]) {
		l.at++
	}
	return string(l.data[from:l.at])
}

// Object reads one object; depth counts how deep it stands in others.
func (l *pdfLexer) object(depth int) (any, error) {
	if l.done() {
		return nil, errPDFEnd
	}
	if depth > deepest {
		return nil, fmt.Errorf("objects stand more than %d deep in one another", deepest)
	}
	switch c := l.data[l.at]; {
	case c == '/':
		l.at++
		return pdfUnescape(l.regular()), nil
	case c == '(':
		return l.literal()
	case c == '[':
		l.at++
		return l.array(depth)
	case c == '<' && bytes.HasPrefix(l.data[l.at:], []byte("<<")):
		l.at += 2
		return l.dict(depth)
	case c == '<':
		return l.hexString()
	case pdfDelimiter(c):
		return nil, fmt.Errorf("a stray %q at byte %d", string(c), l.at)
	}
	word := l.regular()
	if c := word[0]; c == '+' || c == '-' || c == '.' || (c >= '0' && c <= '9') {
		return l.number(word)
	}
	switch word {
	case "true":
		return true, nil
	case "false":
		return false, nil
	case "null":
		return nil, nil
	}
	return pdfWord(word), nil
}

// number reads the rest of a number or of a reference that begins with word.
func (l *pdfLexer) number(word string) (any, error) {
	for _, c := range word {
		if !(c >= '0' && c <= '9') && c != '+' && c != '-' && c != '.' {
			return nil, fmt.Errorf("%q is no number", word)
		}
	}
	v, err := strconv.ParseFloat(word, 64)
	if err != nil {
		return nil, fmt.Errorf("%q is no number", word)
	}
	if !l.refs || strings.ContainsAny(word, "+-.") {
		return v, nil
	}
	n, err := strconv.Atoi(word)
	if err != nil {
		return v, nil
	}
	back := l.at
	l.blanks()
	if generation, err := strconv.Atoi(l.regular()); err == nil && generation >= 0 {
		if l.blanks(); l.regular() == "R" {
			return pdfLink{n, generation}, nil
		}
	}
	l.at = back
	return v, nil
}

// mostItems bounds the items of one array.
const mostItems = 200_000

func (l *pdfLexer) array(depth int) (any, error) {
	out := []any{}
	for {
		if l.done() {
			return nil, errPDFEnd
		}
		if len(out) > mostItems {
			return nil, fmt.Errorf("an array of more than %d: the file is damaged", mostItems)
		}
		if l.data[l.at] == ']' {
			l.at++
			return out, nil
		}
		v, err := l.object(depth + 1)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
}

func (l *pdfLexer) dict(depth int) (any, error) {
	out := pdfDict{}
	for {
		if l.done() {
			return nil, errPDFEnd
		}
		if bytes.HasPrefix(l.data[l.at:], []byte(">>")) {
			l.at += 2
			return out, nil
		}
		key, err := l.object(depth + 1)
		if err != nil {
			return nil, err
		}
		name, ok := key.(pdfName)
		if !ok {
			return nil, fmt.Errorf("a key of a dictionary is no name at byte %d", l.at)
		}
		if out[name], err = l.object(depth + 1); err != nil {
			return nil, err
		}
	}
}

// literal reads a string in brackets (clause 7.3.4.2).
func (l *pdfLexer) literal() (any, error) {
	var out []byte
	open := 0
	for ; l.at < len(l.data); l.at++ {
		switch c := l.data[l.at]; c {
		case '(':
			if open++; open > 1 {
				out = append(out, c)
			}
		case ')':
			if open--; open == 0 {
				l.at++
				return pdfString(out), nil
			}
			out = append(out, c)
		case '\\':
			if l.at++; l.at >= len(l.data) {
				return nil, errPDFEnd
			}
			out = append(out, l.escape()...)
		default:
			out = append(out, c)
		}
	}
	return nil, errPDFEnd
}

// escape reads what follows a backslash and stays on its last character.
func (l *pdfLexer) escape() []byte {
	c := l.data[l.at]
	switch c {
	case 'n':
		return []byte{'\n'}
	case 'r':
		return []byte{'\r'}
	case 't':
		return []byte{'\t'}
	case 'b':
		return []byte{'\b'}
	case 'f':
		return []byte{'\f'}
	case '\n':
		return nil
	case '\r':
		if l.at+1 < len(l.data) && l.data[l.at+1] == '\n' {
			l.at++
		}
		return nil
	}
	if c < '0' || c > '7' {
		return []byte{c}
	}
	v, n := 0, 0
	for n < 3 && l.at+n < len(l.data) && l.data[l.at+n] >= '0' && l.data[l.at+n] <= '7' {
		v = v*8 + int(l.data[l.at+n]-'0')
		n++
	}
	l.at += n - 1
	return []byte{byte(v)}
}

// hexString reads a string in hexadecimal (clause 7.3.4.3).
func (l *pdfLexer) hexString() (any, error) {
	end := bytes.IndexByte(l.data[l.at:], '>')
	if end < 0 {
		return nil, errPDFEnd
	}
	var digits []byte
	for _, c := range l.data[l.at+1 : l.at+end] {
		if !pdfBlank(c) {
			digits = append(digits, c)
		}
	}
	l.at += end + 1
	if len(digits)%2 == 1 {
		digits = append(digits, '0')
	}
	var out []byte
	for i := 0; i < len(digits); i += 2 {
		v, err := strconv.ParseUint(string(digits[i:i+2]), 16, 8)
		if err != nil {
			return nil, fmt.Errorf("%q is no hexadecimal string", digits)
		}
		out = append(out, byte(v))
	}
	return pdfString(out), nil
}

// pdfUnescape turns #xx in a name into what it stands for.
func pdfUnescape(text string) pdfName {
	var out []byte
	for i := 0; i < len(text); i++ {
		if text[i] == '#' && i+2 < len(text) {
			if v, err := strconv.ParseUint(text[i+1:i+3], 16, 8); err == nil {
				out = append(out, byte(v))
				i += 2
				continue
			}
		}
		out = append(out, text[i])
	}
	return pdfName(out)
}
