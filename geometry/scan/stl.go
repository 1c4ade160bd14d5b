package scan

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
)

// A binary STL file is 80 bytes of header, the number n of triangles, and 50
// bytes for each: normal, three vertices, two spare bytes, all little-endian.
// (3D Systems, StereoLithography Interface Specification, 1989, from memory.)
const (
	scanSTLHead     = 84
	scanSTLTriangle = 50
)

// readScanSTL reads an STL file. Which of its two kinds it is cannot be told
// from the word "solid", which begins many binary files too: it is binary where
// its size fits its count exactly.
func readScanSTL(s *scanSink, data []byte) error {
	if len(data) >= scanSTLHead {
		count := int64(binary.LittleEndian.Uint32(data[80:]))
		size := scanSTLHead + scanSTLTriangle*count
		if size == int64(len(data)) {
			return readScanSTLBinary(s, data[scanSTLHead:])
		}
		if !scanSTLIsText(data) {
			return s.atByte(80, fmt.Errorf("the header counts %d triangles, which take %d bytes, but the file has %d: copy or export it again", count, size, len(data)))
		}
	}
	if !scanSTLIsText(data) {
		return s.atByte(0, fmt.Errorf("neither a binary nor a text STL file: export it again"))
	}
	return readScanSTLText(s, data)
}

// scanSTLIsText tells whether the file begins with "solid" and has no zero byte
// near its beginning, as a binary header and count have.
func scanSTLIsText(data []byte) bool {
	head := data[:min(len(data), 512)]
	word := bytes.TrimLeft(head, " \t\r\n")
	return len(word) >= 5 && bytes.EqualFold(word[:5], []byte("solid")) && bytes.IndexByte(head, 0) < 0
}

func readScanSTLBinary(s *scanSink, body []byte) error {
	for at := 0; at < len(body); at += scanSTLTriangle {
		var corners [3]int32
		for k := range corners {
			from := at + 12 + 12*k
			x := func(i int) float64 {
				return float64(math.Float32frombits(binary.LittleEndian.Uint32(body[from+4*i:])))
			}
			corners[k] = int32(len(s.scan.Vertices))
			if err := s.vertex(g.Vec3{X: x(0), Y: x(1), Z: x(2)}); err != nil {
				return s.atByte(scanSTLHead+from, err)
			}
		}
		if err := s.polygon(corners[:]); err != nil {
			return s.atByte(scanSTLHead+at, err)
		}
	}
	return nil
}

// readScanSTLText reads one or more solids. The stored normals are not used:
// the order of the corners gives them.
func readScanSTLText(s *scanSink, data []byte) error {
	lines := scanLines{rest: data}
	var corners []int32
	open, inLoop := false, false
	for {
		line, ok := lines.next()
		if !ok {
			break
		}
		tokens := bytes.Fields(line)
		if len(tokens) == 0 {
			continue
		}
		var err error
		switch word := strings.ToLower(string(tokens[0])); word {
		case "solid":
			open = true
		case "endsolid":
			if inLoop {
				err = fmt.Errorf("the solid ends within a facet: export the file again")
			}
			open = false
		case "facet", "endfacet":
			if inLoop {
				err = fmt.Errorf("%q stands within a loop: export the file again", word)
			}
		case "outer":
			if inLoop {
				err = fmt.Errorf("a loop begins within a loop: export the file again")
			}
			corners, inLoop = corners[:0], true
		case "vertex":
			if !inLoop || len(corners) == 3 {
				err = fmt.Errorf("a vertex stands outside a loop of three: export the file again")
				break
			}
			var p g.Vec3
			if p, err = scanPoint(tokens[1:]); err == nil {
				corners = append(corners, int32(len(s.scan.Vertices)))
				err = s.vertex(p)
			}
		case "endloop":
			if !inLoop {
				err = fmt.Errorf("a loop ends that did not begin: export the file again")
				break
			}
			inLoop = false
			err = s.polygon(corners)
		default:
			err = fmt.Errorf("unknown word %.40q: export the file again", word)
		}
		if err != nil {
			return s.atLine(lines.line, err)
		}
	}
	if open {
		return s.atLine(lines.line, errScanCutOff)
	}
	return nil
}
