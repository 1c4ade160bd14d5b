package glyphs

import (
	"encoding/binary"
	"errors"
)

// cffCost counts what drawing a glyph of a CFF table would take before it is drawn: ten
// levels of subroutines that call each other a few times each make billions of steps
// out of some hundred bytes (Adobe Technical Notes 5176, "The Compact Font Format
// Specification", and 5177, "The Type 2 Charstring Format").
type cffCost struct {
	global [][]byte
	locals [][][]byte // of each dictionary of fonts
	glyphs [][]byte
}

var errCFF = errors.New("the outline is damaged")

// Operators of dictionaries.
const (
	cffCharstrings = 17
	cffPrivate     = 18
	cffSubrs       = 19
	cffFontArray   = 0x0C00 + 36
)

// newCFFCost reads the places of the charstrings and subroutines.
func newCFFCost(table []byte) (c cffCost, err error) {
	if len(table) < 4 || int(table[2]) > len(table) {
		return c, errCFF
	}
	rest := table[table[2]:] // past the header
	var top [][]byte
	for _, into := range []*[][]byte{new([][]byte), &top, new([][]byte), &c.global} { // names, dictionary, strings
		if *into, rest, err = cffIndex(rest); err != nil {
			return c, err
		}
	}
	if len(top) != 1 {
		return c, errCFF
	}
	dict := cffDict(top[0])
	index := func(v []int, i int) ([][]byte, error) {
		if len(v) <= i || v[i] < 0 || v[i] > len(table) {
			return nil, errCFF
		}
		list, _, err := cffIndex(table[v[i]:])
		return list, err
	}
	if c.glyphs, err = index(dict[cffCharstrings], 0); err != nil {
		return c, err
	}
	fonts := [][]byte{top[0]}
	if at, many := dict[cffFontArray]; many {
		if fonts, err = index(at, 0); err != nil {
			return c, err
		}
	}
	for _, f := range fonts {
		var local [][]byte
		if p := cffDict(f)[cffPrivate]; len(p) == 2 && p[0] > 0 && p[1] >= 0 && p[0]+p[1] <= len(table) { // size and place
			if s := cffDict(table[p[1] : p[1]+p[0]])[cffSubrs]; len(s) == 1 {
				if local, err = index([]int{p[1] + s[0]}, 0); err != nil {
					return c, err
				}
			}
		}
		c.locals = append(c.locals, local)
	}
	return c, nil
}

// cffIndex returns the entries of an INDEX, and what follows it.
func cffIndex(data []byte) (list [][]byte, rest []byte, err error) {
	if len(data) < 2 {
		return nil, nil, errCFF
	}
	n := int(binary.BigEndian.Uint16(data))
	if n == 0 {
		return nil, data[2:], nil
	}
	if len(data) < 3 {
		return nil, nil, errCFF
	}
	size := int(data[2])
	first := 3 + (n+1)*size // of the entries, which are counted from 1
	if size < 1 || size > 4 || first > len(data) {
		return nil, nil, errCFF
	}
	at := func(i int) int {
		v := 0
		for _, b := range data[3+i*size : 3+(i+1)*size] {
			v = v<<8 | int(b)
		}
		return first - 1 + v
	}
	for i := range n {
		from, to := at(i), at(i+1)
		if from < first || from > to || to > len(data) {
			return nil, nil, errCFF
		}
		list = append(list, data[from:to])
	}
	return list, data[at(n):], nil
}

// cffDict returns the whole numbers that stand before each operator of a dictionary;
// real numbers, which no operator here takes, count as 0.
func cffDict(data []byte) map[int][]int {
	out := map[int][]int{}
	var args []int
	for len(data) > 0 {
		b := data[0]
		if v, n, ok := cffNumber(data); ok {
			args, data = append(args, v), data[n:]
			continue
		}
		data = data[1:]
		switch {
		case b == 29 && len(data) >= 4:
			args, data = append(args, int(int32(binary.BigEndian.Uint32(data)))), data[4:]
		case b == 30:
			for len(data) > 0 && data[0]&0xF != 0xF && data[0]>>4 != 0xF {
				data = data[1:]
			}
			args, data = append(args, 0), data[min(1, len(data)):]
		case b == 12 && len(data) > 0:
			out[0x0C00+int(data[0])], args, data = args, nil, data[1:]
		default:
			out[int(b)], args = args, nil
		}
	}
	return out
}

// cffNumber reads a number that dictionaries and charstrings write alike, and how many
// bytes it takes.
func cffNumber(data []byte) (v, n int, ok bool) {
	b := int(data[0])
	switch {
	case b == 28 && len(data) >= 3:
		return int(int16(binary.BigEndian.Uint16(data[1:]))), 3, true
	case b >= 32 && b <= 246:
		return b - 139, 1, true
	case b >= 247 && b <= 250 && len(data) >= 2:
		return (b-247)*256 + int(data[1]) + 108, 2, true
	case b >= 251 && b <= 254 && len(data) >= 2:
		return -(b-251)*256 - int(data[1]) - 108, 2, true
	}
	return 0, 0, false
}

// check returns an error where drawing a glyph takes more than most steps, with the
// subroutines of any font of the table.
func (c cffCost) check(i, most int) error {
	if i >= len(c.glyphs) {
		return errCFF
	}
	for _, local := range c.locals {
		w := cffWalk{global: c.global, local: local, left: most}
		if w.run(c.glyphs[i], 10); w.left < 0 {
			return errors.New("its outline takes too many steps to draw: its subroutines call each other over and over")
		}
	}
	return nil
}

// cffWalk follows a charstring without drawing it.
type cffWalk struct {
	global, local [][]byte
	stack         []int
	stems         int
	left          int // steps that may still be taken
	ended         bool
}

// run follows code; what is damaged ends it, and is told when the glyph is drawn.
func (w *cffWalk) run(code []byte, levels int) {
	for len(code) > 0 && !w.ended {
		if w.left--; w.left < 0 || levels < 0 || len(w.stack) > 513 {
			w.ended = true
			return
		}
		if v, n, ok := cffNumber(code); ok {
			w.stack, code = append(w.stack, v), code[n:]
			continue
		}
		b := code[0]
		code = code[1:]
		switch b {
		case 255: // 16 bits and 16 of fraction
			if len(code) < 4 {
				return
			}
			w.stack, code = append(w.stack, int(int16(binary.BigEndian.Uint16(code)))), code[4:]
		case 10, 29: // a subroutine
			list, n := w.local, len(w.stack)
			if b == 29 {
				list = w.global
			}
			if n == 0 {
				w.ended = true
				return
			}
			i := w.stack[n-1] + cffBias(len(list))
			if w.stack = w.stack[:n-1]; i < 0 || i >= len(list) {
				w.ended = true
				return
			}
			w.run(list[i], levels-1)
		case 11: // return
			return
		case 14: // the end
			w.ended = true
		case 1, 3, 18, 23: // stems
			w.stems += len(w.stack) / 2
			w.stack = w.stack[:0]
		case 19, 20: // a mask, a bit for each stem
			w.stems += len(w.stack) / 2
			w.stack, code = w.stack[:0], code[min(len(code), (w.stems+7)/8):]
		case 12:
			w.stack, code = w.stack[:0], code[min(len(code), 1):]
		default:
			w.stack = w.stack[:0]
		}
	}
}

// cffBias is what is added to the number of a subroutine (Technical Note 5177, 4.7).
func cffBias(n int) int {
	switch {
	case n < 1240:
		return 107
	case n < 33900:
		return 1131
	}
	return 32768
}
