package scan

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strconv"

	g "maskloft/geometry"
)

// scanProperty is one property of a PLY element: a number, or a list of numbers
// behind its count.
type scanProperty struct {
	name  string
	kind  string // of the number, or of the list's items
	count string // kind of the list's count; "" for a number
}

type scanElement struct {
	name       string
	rows       uint64
	properties []scanProperty
}

// scanKinds gives the number types of PLY, old names and new, by one name, and
// scanSizes their bytes. (Turk, The PLY Polygon File Format, 1994, from memory;
// the names with bits are later common practice.)
var (
	scanKinds = map[string]string{
		"char": "i1", "int8": "i1", "uchar": "u1", "uint8": "u1", "short": "i2", "int16": "i2", "ushort": "u2", "uint16": "u2",
		"int": "i4", "int32": "i4", "uint": "u4", "uint32": "u4", "float": "f4", "float32": "f4", "double": "f8", "float64": "f8",
	}
	scanSizes = map[string]int{"i1": 1, "u1": 1, "i2": 2, "u2": 2, "i4": 4, "u4": 4, "f4": 4, "f8": 8}
)

// readScanPLY reads the elements vertex (x, y, z) and face (vertex_indices or
// vertex_index); other elements and properties are passed over.
func readScanPLY(s *scanSink, data []byte) error {
	lines := scanLines{rest: data}
	format, elements, err := scanPLYHeader(s, &lines)
	if err != nil {
		return err
	}
	var source scanNumbers
	switch format {
	case "ascii":
		source = &scanTextRow{lines: lines}
	case "binary_little_endian":
		source = &scanBinaryRow{all: data, at: len(data) - len(lines.rest), order: binary.LittleEndian}
	case "binary_big_endian":
		source = &scanBinaryRow{all: data, at: len(data) - len(lines.rest), order: binary.BigEndian}
	}
	haveVertices := false
	for _, e := range elements {
		if e.name == "face" && !haveVertices {
			return fmt.Errorf("%s: the faces come before the vertices: export the file again", s.name)
		}
		if len(e.properties) == 0 {
			continue // rows of nothing
		}
		for row := uint64(0); row < e.rows; row++ {
			if err := s.plyRow(e, source); err != nil {
				return source.place(s, err)
			}
		}
		haveVertices = haveVertices || e.name == "vertex"
	}
	return nil
}

func scanPLYHeader(s *scanSink, lines *scanLines) (format string, elements []scanElement, err error) {
	fail := func(f string, a ...any) (string, []scanElement, error) {
		return "", nil, s.atLine(lines.line, fmt.Errorf(f, a...))
	}
	if line, ok := lines.next(); !ok || string(line) != "ply" {
		return fail("a PLY file begins with the line ply: export it again")
	}
	for {
		line, ok := lines.next()
		if !ok {
			return "", nil, s.atLine(lines.line, errScanCutOff)
		}
		t := bytes.Fields(line)
		if len(t) == 0 {
			continue
		}
		word := func(k int) string {
			if k < len(t) {
				return string(t[k])
			}
			return ""
		}
		switch word(0) {
		case "comment", "obj_info":
		case "format":
			format = word(1)
			if format != "ascii" && format != "binary_little_endian" && format != "binary_big_endian" {
				return fail("unknown format %.40q: save as ascii or binary", format)
			}
		case "element":
			rows, err := strconv.ParseUint(word(2), 10, 63)
			if err != nil {
				return fail("%.40q is not a number of rows: export the file again", word(2))
			}
			elements = append(elements, scanElement{name: word(1), rows: rows})
		case "property":
			p := scanProperty{kind: scanKinds[word(1)], name: word(2)}
			if word(1) == "list" {
				p = scanProperty{count: scanKinds[word(2)], kind: scanKinds[word(3)], name: word(4)}
				if p.count == "" || p.count[0] == 'f' {
					return fail("%.40q is no type for the count of a list: export the file again", word(2))
				}
			}
			if p.kind == "" || p.name == "" {
				return fail("unknown property %.60q: export the file again", line)
			}
			if len(elements) == 0 {
				return fail("a property stands before the first element: export the file again")
			}
			e := &elements[len(elements)-1]
			e.properties = append(e.properties, p)
		case "end_header":
			if format == "" {
				return fail("the header names no format: export the file again")
			}
			return format, elements, checkScanPLY(s, elements)
		default:
			return fail("unknown header word %.40q: export the file again", word(0))
		}
	}
}

// checkScanPLY refuses headers that do not describe a mesh.
func checkScanPLY(s *scanSink, elements []scanElement) error {
	for _, e := range elements {
		has := func(list bool, names ...string) int {
			n := 0
			for _, p := range e.properties {
				for _, name := range names {
					if p.name == name && (p.count != "") == list {
						n++
					}
				}
			}
			return n
		}
		if e.name == "vertex" && (has(false, "x") != 1 || has(false, "y") != 1 || has(false, "z") != 1) {
			return fmt.Errorf("%s: the vertices have no x, y and z: export the file again", s.name)
		}
		if e.name == "face" && has(true, "vertex_indices", "vertex_index") != 1 {
			return fmt.Errorf("%s: the faces have no list vertex_indices: export the mesh as triangles", s.name)
		}
	}
	return nil
}

// plyRow reads one row and takes in the vertex or face that it holds.
func (s *scanSink) plyRow(e scanElement, from scanNumbers) error {
	if err := from.begin(); err != nil {
		return err
	}
	var p g.Vec3
	for _, prop := range e.properties {
		if prop.count == "" {
			x, err := from.number(prop.kind)
			if err != nil {
				return err
			}
			switch prop.name {
			case "x":
				p.X = x
			case "y":
				p.Y = x
			case "z":
				p.Z = x
			}
			continue
		}
		n, err := from.number(prop.count)
		if err != nil {
			return err
		}
		if n != math.Trunc(n) || n < 0 {
			return fmt.Errorf("a list has %g items: export the file again", n)
		}
		face := e.name == "face" && (prop.name == "vertex_indices" || prop.name == "vertex_index")
		if face {
			if n < 3 {
				return fmt.Errorf("a face has %g corners: it needs three or more", n)
			}
			if n > float64(s.limit.Triangles)+2 {
				return s.room(s.limit.Triangles + 3)
			}
		}
		var corners []int32
		for k := 0.0; k < n; k++ {
			x, err := from.number(prop.kind)
			if err != nil {
				return err
			}
			if !face {
				continue
			}
			if known := len(s.scan.Vertices); x != math.Trunc(x) || x < 0 || x >= float64(known) {
				return fmt.Errorf("the face uses vertex %g of %d, counted from 0: export the file again", x, known)
			}
			corners = append(corners, int32(x))
		}
		if face {
			if err := s.polygon(corners); err != nil {
				return err
			}
		}
	}
	if err := from.end(); err != nil {
		return err
	}
	if e.name == "vertex" {
		return s.vertex(p)
	}
	return nil
}
