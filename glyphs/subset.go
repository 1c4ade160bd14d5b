package glyphs

import (
	"bytes"
	"encoding/binary"
	"slices"
)

// LabelSubset returns the TrueType file of [Label] with the outlines of some characters
// alone, to be carried in a document. Glyphs keep their numbers, so that cmap stands as it
// is; advances of the others are nil, which packs to nothing. What names, sets and
// substitutes glyphs is left out, and the programs that fit outlines to the pixels of a
// coarse screen (ISO 32000-1 clause 9.9 lists the tables that a document's font needs).
func LabelSubset(bold bool, runes []rune) []byte {
	data, _ := LabelFont(bold)
	from := tablesOf(data, 0)
	wide := binary.BigEndian.Uint16(from["head"][50:]) != 0 // offsets of loca: of four bytes, or of two in steps of two
	loca := func(i int) int {
		if wide {
			return int(binary.BigEndian.Uint32(from["loca"][4*i:]))
		}
		return 2 * int(binary.BigEndian.Uint16(from["loca"][2*i:]))
	}
	count := int(binary.BigEndian.Uint16(from["maxp"][4:]))
	outline := func(i int) []byte { return from["glyf"][loca(i):loca(i+1)] }

	used := make([]bool, count)
	todo := []int{0} // what a reader shows for a missing character
	for _, r := range runes {
		if i, err := labels(bold).index(r); err == nil {
			todo = append(todo, i)
		}
	}
	for len(todo) > 0 {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if !used[i] {
			used[i] = true
			todo = append(todo, partsOf(outline(i))...)
		}
	}
	hmtx, full := slices.Clone(from["hmtx"]), int(binary.BigEndian.Uint16(from["hhea"][34:]))
	var glyf, offsets bytes.Buffer
	for i := range count {
		binary.Write(&offsets, binary.BigEndian, uint32(glyf.Len())) // a buffer takes all
		switch {
		case used[i]:
			glyf.Write(unfitted(outline(i)))
			glyf.Write(make([]byte, -glyf.Len()&3))
		case i+1 < full: // the last advance is also that of the glyphs behind
			clear(hmtx[4*i : 4*i+4])
		}
	}
	binary.Write(&offsets, binary.BigEndian, uint32(glyf.Len()))
	post := slices.Clone(from["post"][:32]) // without the names of glyphs: version 3
	binary.BigEndian.PutUint32(post, 0x00030000)
	head := slices.Clone(from["head"])
	binary.BigEndian.PutUint16(head[50:], 1)
	return fileOf(map[string][]byte{
		"cmap": from["cmap"], "glyf": glyf.Bytes(), "head": head, "hhea": from["hhea"],
		"hmtx": hmtx, "loca": offsets.Bytes(), "maxp": from["maxp"], "post": post,
	})
}

// unfitted returns a glyph without its program (OpenType specification 1.9, "glyf": of
// a simple glyph the number of contours, a box, the last point of each contour, the length
// of the program and the program stand before the points; of a composite one, the length
// and the program follow the parts, the last of which has a flag for it).
func unfitted(outline []byte) []byte {
	if len(outline) == 0 {
		return outline
	}
	if n := int(int16(binary.BigEndian.Uint16(outline))); n >= 0 {
		at := 10 + 2*n
		length := int(binary.BigEndian.Uint16(outline[at:]))
		return slices.Concat(outline[:at], []byte{0, 0}, outline[at+2+length:])
	}
	const program = 1 << 8
	parts, end := placesOf(outline)
	out := slices.Clone(outline[:end])
	for _, at := range parts {
		binary.BigEndian.PutUint16(out[at:], binary.BigEndian.Uint16(out[at:])&^program)
	}
	return out
}

// partsOf returns the glyphs that one is put together of (OpenType specification 1.9,
// "glyf", composite glyphs: flags, the glyph, two numbers of one byte or two, a scale).
func partsOf(outline []byte) []int {
	parts, _ := placesOf(outline)
	var out []int
	for _, at := range parts {
		out = append(out, int(binary.BigEndian.Uint16(outline[at+2:])))
	}
	return out
}

// placesOf returns where each part of a composite glyph begins, and where the last ends.
func placesOf(outline []byte) (out []int, end int) {
	if len(outline) == 0 || int16(binary.BigEndian.Uint16(outline)) >= 0 {
		return nil, 0
	}
	const words, scale, more, scales, matrix = 1, 8, 32, 64, 128
	for at := 10; ; {
		flags := binary.BigEndian.Uint16(outline[at:])
		out = append(out, at)
		at += 6
		if flags&words != 0 {
			at += 2
		}
		switch {
		case flags&scale != 0:
			at += 2
		case flags&scales != 0:
			at += 4
		case flags&matrix != 0:
			at += 8
		}
		if flags&more == 0 {
			return out, at
		}
	}
}

// fileOf puts the tables of a TrueType font into a file, those of no bytes left out
// (OpenType specification 1.9, "Organization of an OpenType Font").
func fileOf(tables map[string][]byte) []byte {
	var tags []string
	for _, tag := range sorted(tables) {
		if len(tables[tag]) > 0 {
			tags = append(tags, tag)
		}
	}
	log := 0
	for 2<<log <= len(tags) {
		log++
	}
	out := binary.BigEndian.AppendUint32(nil, 0x00010000)
	for _, v := range []int{len(tags), 16 << log, log, 16*len(tags) - 16<<log} {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	at, head := 12+16*len(tags), 0
	var body []byte
	for _, tag := range tags {
		data := slices.Clone(tables[tag])
		if tag == "head" {
			head = at + len(body)
			clear(data[8:12]) // the sum of the whole file is put in last
		}
		out = append(out, tag...)
		padded := append(data, make([]byte, -len(data)&3)...)
		for _, v := range []int{int(sumOf(padded)), at + len(body), len(data)} {
			out = binary.BigEndian.AppendUint32(out, uint32(v))
		}
		body = append(body, padded...)
	}
	out = append(out, body...)
	binary.BigEndian.PutUint32(out[head+8:], 0xB1B0AFBA-sumOf(out))
	return out
}

// sumOf is the sum of the words of four bytes of a table.
func sumOf(data []byte) (sum uint32) {
	for ; len(data) >= 4; data = data[4:] {
		sum += binary.BigEndian.Uint32(data)
	}
	return sum
}
