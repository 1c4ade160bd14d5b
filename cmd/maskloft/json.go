package main

import (
	"bytes"
	"encoding/json"
	"io"
)

// writeJSON prints one indented JSON document: a value a line, but lists and objects of
// numbers, such as places, on one line each where they fit. The report of a thousand
// stencils is half as long for it.
func writeJSON(w io.Writer, v any) error {
	var plain bytes.Buffer
	e := json.NewEncoder(&plain)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return err
	}
	_, err := w.Write(indented(bytes.TrimSuffix(plain.Bytes(), []byte("\n"))))
	return err
}

// jsonLine is the longest list or object that stands on one line, in bytes without blanks.
const jsonLine = 100

// indented breaks a JSON document without blanks into lines and ends the last.
func indented(plain []byte) []byte {
	out := make([]byte, 0, 2*len(plain))
	depth, whole := 0, 0 // whole: where the part that stands on one line ends
	line := func(i int) {
		if i < whole {
			return
		}
		out = append(out, '\n')
		for range depth {
			out = append(out, "  "...)
		}
	}
	for i := 0; i < len(plain); i++ {
		switch c := plain[i]; c {
		case '"':
			end := textEnd(plain, i)
			out = append(out, plain[i:end]...)
			i = end - 1
		case '[', '{':
			whole = max(whole, numbersEnd(plain, i))
			out = append(out, c)
			depth++
			line(i)
		case ']', '}':
			depth--
			line(i)
			out = append(out, c)
		case ',':
			if out = append(out, c); i < whole {
				out = append(out, ' ')
			}
			line(i)
		case ':':
			out = append(out, ": "...)
		default:
			out = append(out, c)
		}
	}
	return append(out, '\n')
}

// textEnd returns the end of the text that begins at i.
func textEnd(plain []byte, i int) int {
	for i++; plain[i] != '"'; i++ {
		if plain[i] == '\\' {
			i++
		}
	}
	return i + 1
}

// numbersEnd returns the end of the list or object that begins at i, where it holds
// numbers and words alone, or nothing, and fits on one line; else 0.
func numbersEnd(plain []byte, i int) int {
	for k := i + 1; k < i+jsonLine; k++ {
		switch plain[k] {
		case '"':
			if k = textEnd(plain, k); plain[k] != ':' {
				return 0
			}
		case '[', '{':
			return 0
		case ']', '}':
			return k + 1
		}
	}
	return 0
}
