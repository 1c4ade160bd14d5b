package scan

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"

	g "maskloft/geometry"
)

// The writers below are for the tests: plain, and in every dialect.

func writeOBJ(s *Scan, form string, negative bool) []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, "# test\nmtllib x.mtl\no part")
	for _, p := range s.Vertices {
		fmt.Fprintf(&b, "v %v %v %v\n", p.X, p.Y, p.Z)
	}
	fmt.Fprintln(&b, "vt 0 0\nvn 0 0 1\ns off")
	for _, t := range s.Triangles {
		b.WriteString("f")
		for _, v := range t {
			k := int(v) + 1
			if negative {
				k = int(v) - len(s.Vertices)
			}
			fmt.Fprintf(&b, " "+form, k)
		}
		b.WriteString(" # face\n")
	}
	return b.Bytes()
}

func writeSTLText(s *Scan) []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, "solid part")
	for _, t := range s.Triangles {
		n := s.area2(t).Unit()
		fmt.Fprintf(&b, "  facet normal %v %v %v\n    outer loop\n", n.X, n.Y, n.Z)
		for _, v := range t {
			p := s.Vertices[v]
			fmt.Fprintf(&b, "      vertex %v %v %v\n", p.X, p.Y, p.Z)
		}
		fmt.Fprint(&b, "    endloop\n  endfacet\n")
	}
	fmt.Fprintln(&b, "endsolid part")
	return b.Bytes()
}

func writeSTLBinary(s *Scan, header string) []byte {
	out := append([]byte(header), make([]byte, 80-len(header))...)
	out = binary.LittleEndian.AppendUint32(out, uint32(len(s.Triangles)))
	for _, t := range s.Triangles {
		n := s.area2(t).Unit()
		for _, p := range []g.Vec3{n, s.Vertices[t[0]], s.Vertices[t[1]], s.Vertices[t[2]]} {
			for _, x := range []float64{p.X, p.Y, p.Z} {
				out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(x)))
			}
		}
		out = append(out, 0, 0)
	}
	return out
}

// writePLY writes with a spare property before, between and after those that
// count, a spare list, and a spare element.
func writePLY(s *Scan, format, number, index, list string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "ply\nformat %s 1.0\ncomment test\nelement vertex %d\nproperty uchar red\nproperty %s x\nproperty %s y\nproperty short quality\nproperty %s z\n", format, len(s.Vertices), number, number, number)
	fmt.Fprintf(&b, "element camera 1\nproperty list uchar float view\nelement face %d\nproperty float area\nproperty list uchar %s %s\nproperty list int double texcoord\nend_header\n", len(s.Triangles), index, list)
	var order binary.AppendByteOrder = binary.LittleEndian
	if format == "binary_big_endian" {
		order = binary.BigEndian
	}
	var row []any
	put := func(kind string, x float64) {
		if format == "ascii" {
			row = append(row, x)
			return
		}
		var out []byte
		switch kind {
		case "uchar":
			out = []byte{byte(x)}
		case "short":
			out = order.AppendUint16(nil, uint16(int16(x)))
		case "int", "uint":
			out = order.AppendUint32(nil, uint32(int64(x)))
		case "float", "float32":
			out = order.AppendUint32(nil, math.Float32bits(float32(x)))
		case "double", "float64":
			out = order.AppendUint64(nil, math.Float64bits(x))
		}
		b.Write(out)
	}
	end := func() {
		if format == "ascii" {
			fmt.Fprintln(&b, row...)
			row = nil
		}
	}
	for _, p := range s.Vertices {
		put("uchar", 200)
		put(number, p.X)
		put(number, p.Y)
		put("short", -7)
		put(number, p.Z)
		end()
	}
	put("uchar", 2)
	put("float", 1.5)
	put("float", 2.5)
	end()
	for _, t := range s.Triangles {
		put("float", 0.5)
		put("uchar", 3)
		for _, v := range t {
			put(index, float64(v))
		}
		put("int", 1)
		put("double", 0.25)
		end()
	}
	return b.Bytes()
}
