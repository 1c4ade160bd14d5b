package tapelist

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// table is a table as a spreadsheet saved it.
type table struct {
	name    string
	reader  *csv.Reader
	columns map[string]int
	cells   int // in the first line
}

// openTable reads the first line of a table: UTF-8 with or without its mark, or UTF-16
// with it; cells parted by commas, semicolons or tabs, whichever the first line has
// most of.
//
// Errors name the file and say how to save it.
func openTable(name string, in io.Reader) (*table, error) {
	data, err := io.ReadAll(in)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	text, err := decoded(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	first, _, _ := strings.Cut(text, "\n")
	comma := ','
	for _, c := range ";\t" {
		if strings.Count(first, string(c)) > strings.Count(first, string(comma)) {
			comma = c
		}
	}
	t := &table{name: name, reader: csv.NewReader(strings.NewReader(text)), columns: map[string]int{}}
	t.reader.Comma, t.reader.FieldsPerRecord = comma, -1
	head, err := t.reader.Read()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: the file is empty: fill in the last column of what `maskloft tape --csv` prints", name)
	}
	if err != nil {
		return nil, csvError(name, err)
	}
	for len(head) > 0 && strings.TrimSpace(head[len(head)-1]) == "" { // spreadsheets add empty ones
		head = head[:len(head)-1]
	}
	for i, h := range head {
		h = strings.TrimSpace(h)
		if _, twice := t.columns[h]; twice && h != "" {
			line, col := t.reader.FieldPos(i)
			return nil, fmt.Errorf("%s:%d:%d: the column %s is there twice: keep one", name, line, col, h)
		}
		t.columns[h] = i
	}
	t.cells = len(head)
	return t, nil
}

// decoded returns the text of a file of a spreadsheet.
func decoded(data []byte) (string, error) {
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		order = binary.LittleEndian
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		order = binary.BigEndian
	}
	if order != nil {
		data = data[2:]
		if len(data)%2 != 0 {
			return "", errors.New("it is marked as UTF-16 and has half a character at its end: save it again, as CSV UTF-8")
		}
		units := make([]uint16, len(data)/2)
		for i := range units {
			units[i] = order.Uint16(data[2*i:])
		}
		return string(utf16.Decode(units)), nil
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0 {
		return "", errors.New("it is no UTF-8 text: save it as CSV UTF-8 (comma, semicolon or tab)")
	}
	return string(data), nil
}

// row returns the next line that is not empty; io.EOF after the last.
//
// Errors: a line with more cells than the first, such as a decimal comma makes.
func (t *table) row() ([]string, error) {
	for {
		row, err := t.reader.Read()
		if errors.Is(err, io.EOF) {
			return nil, io.EOF
		}
		if err != nil {
			return nil, csvError(t.name, err)
		}
		empty := true
		for i, cell := range row {
			if strings.TrimSpace(cell) == "" {
				continue
			}
			empty = false
			if i >= t.cells {
				line, col := t.reader.FieldPos(i)
				hint := "take it out, or name its column in the first line"
				if t.reader.Comma == ',' {
					hint = "write a decimal comma as a point, 66.4, or save the table with semicolons between its cells"
				}
				return nil, fmt.Errorf("%s:%d:%d: the line has %s and the first line %d: %q would be cut off: %s", t.name, line, col, g.Counted(len(row), "cell"), t.cells, strings.TrimSpace(cell), hint)
			}
		}
		if !empty {
			return row, nil
		}
	}
}

// cell returns the text of a row in a column, and its place.
func (t *table) cell(row []string, column string) (string, layouts.Place) {
	i, ok := t.columns[column]
	if !ok || i >= len(row) {
		line, col := t.reader.FieldPos(0)
		return "", layouts.Place{File: t.name, Line: line, Column: col}
	}
	line, col := t.reader.FieldPos(i)
	return asWritten(strings.TrimSpace(row[i])), layouts.Place{File: t.name, Line: line, Column: col}
}

// lengthOf reads a length with a decimal point or comma.
func lengthOf(text string, bare g.Length) (g.Length, error) {
	if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		whole, part, _ := strings.Cut(text, ",")
		if digits(whole) && part != "" && digits(part[:1]) {
			text = whole + "." + part
		}
	}
	return g.ParseLength(text, bare)
}

func digits(s string) bool {
	for _, c := range s {
		if c < '0' || c > '9' {
			return false
		}
	}
	return s != ""
}

// csvError puts the place of a broken line first.
func csvError(name string, err error) error {
	var broken *csv.ParseError
	if errors.As(err, &broken) {
		return fmt.Errorf("%s:%d:%d: %w: save it as comma-separated values again", name, broken.Line, broken.Column, broken.Err)
	}
	return fmt.Errorf("%s: %w", name, err)
}
