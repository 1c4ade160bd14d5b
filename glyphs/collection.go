package glyphs

import (
	"encoding/binary"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
)

// mostFonts bounds the fonts of a collection; the largest in use hold some tens.
const mostFonts = 256

// IsFontFile tells the name of a font file, .ttf, .otf or .ttc, from that of an
// alphabet; a number may follow, as in letters.ttc#2.
func IsFontFile(name string) bool {
	switch strings.ToLower(filepath.Ext(FontFile(name))) {
	case ".ttf", ".otf", ".ttc":
		return true
	}
	return false
}

// FontFile returns the name of a font's file, without the number of a font in a
// collection.
func FontFile(name string) string {
	i := strings.LastIndexByte(name, '#')
	if i < 0 || !strings.EqualFold(filepath.Ext(name[:i]), ".ttc") || strings.Trim(name[i+1:], "0123456789") != "" {
		return name
	}
	return name[:i]
}

// chosenFont returns the tables of the font that name asks for, the first being #1.
func chosenFont(name string, data []byte) (map[string][]byte, error) {
	asked := strings.TrimPrefix(strings.TrimPrefix(name, FontFile(name)), "#")
	if len(data) < 12 {
		return nil, errors.New("it is no TrueType or OpenType font that can be read: the file is cut short")
	}
	if string(data[:4]) != "ttcf" {
		if asked != "" {
			return nil, fmt.Errorf("it is no collection of fonts: write %s without #%s", FontFile(name), asked)
		}
		return tablesOf(data, 0), nil
	}
	count := int(binary.BigEndian.Uint32(data[8:]))
	if count == 0 || count > mostFonts || 12+4*count > len(data) {
		return nil, fmt.Errorf("it is a damaged collection of fonts: it states %d, of 1 to %d that can be read", count, mostFonts)
	}
	at := func(i int) int { return int(binary.BigEndian.Uint32(data[12+4*i:])) }
	if n, err := strconv.Atoi(asked); err == nil && n >= 1 && n <= count {
		return tablesOf(data, at(n-1)), nil
	}
	names := make([]string, 0, count)
	for i := range min(count, 12) {
		family := "a font that cannot be read"
		if t, err := openTypeface(tablesOf(data, at(i))); err == nil {
			family = strings.TrimSpace(t.name(1) + " " + t.name(2))
		}
		names = append(names, fmt.Sprintf("#%d %s", i+1, family))
	}
	if count > len(names) {
		names = append(names, fmt.Sprintf("and %d more", count-len(names)))
	}
	return nil, fmt.Errorf("it is a collection of %d fonts: write %s#1 for the first; it holds %s", count, FontFile(name), strings.Join(names, ", "))
}

// tablesOf returns the tables by their tags of the font whose directory stands at an
// offset of the file (OpenType specification 1.9, "Organization of an OpenType Font");
// those that lie outside the file are left out.
func tablesOf(data []byte, offset int) map[string][]byte {
	out := map[string][]byte{}
	if offset < 0 || offset+12 > len(data) {
		return out
	}
	rows := data[offset+12:]
	n := int(binary.BigEndian.Uint16(data[offset+4:]))
	for ; n > 0 && len(rows) >= 16; n, rows = n-1, rows[16:] {
		from, size := uint64(binary.BigEndian.Uint32(rows[8:])), uint64(binary.BigEndian.Uint32(rows[12:]))
		if from+size <= uint64(len(data)) {
			out[string(rows[:4])] = data[from : from+size]
		}
	}
	return out
}
