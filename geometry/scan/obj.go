package scan

import (
	"bytes"
	"fmt"
	"strconv"
)

// readScanOBJ reads the vertex (v) and face (f) records of a Wavefront file;
// other records (normals, textures, groups, lines) do not bear on the shape and
// are passed over. A corner is v, v/vt, v//vn or v/vt/vn; a negative v counts
// back from the last vertex read so far. A backslash at the end of a line
// continues it. (Wavefront, Advanced Visualizer appendix B1, "Object Files",
// from memory.)
func readScanOBJ(s *scanSink, data []byte) error {
	lines := scanLines{rest: data}
	var corners []int32
	var joined []byte // a record of several lines
	for {
		line, ok := lines.next()
		if !ok {
			return nil
		}
		first := lines.line
		for joined = joined[:0]; bytes.HasSuffix(line, []byte{'\\'}); {
			joined = append(append(joined, line[:len(line)-1]...), ' ')
			if line, ok = lines.next(); !ok {
				return s.atLine(first, errScanCutOff)
			}
		}
		if len(joined) > 0 {
			joined = append(joined, line...)
			line = joined
		}
		if i := bytes.IndexByte(line, '#'); i >= 0 {
			line = line[:i]
		}
		tokens := bytes.Fields(line)
		if len(tokens) == 0 {
			continue
		}
		switch string(tokens[0]) {
		case "v":
			p, err := scanPoint(tokens[1:])
			if err == nil {
				err = s.vertex(p)
			}
			if err != nil {
				return s.atLine(first, err)
			}
		case "f":
			corners = corners[:0]
			for _, t := range tokens[1:] {
				k, err := scanCorner(t, len(s.scan.Vertices))
				if err != nil {
					return s.atLine(first, err)
				}
				corners = append(corners, k)
			}
			if err := s.polygon(corners); err != nil {
				return s.atLine(first, err)
			}
		}
	}
}

// scanCorner reads the vertex of a corner, counted from 0; known vertices have
// been read.
func scanCorner(token []byte, known int) (int32, error) {
	number, _, _ := bytes.Cut(token, []byte{'/'})
	k, err := strconv.Atoi(string(number))
	switch {
	case err != nil:
		return 0, fmt.Errorf("%.40q is not a vertex number: export the file again", token)
	case k > 0 && k <= known:
		return int32(k - 1), nil
	case k < 0 && k >= -known:
		return int32(known + k), nil
	}
	return 0, fmt.Errorf("the face uses vertex %d, but %d are known so far, counted from 1: export the file again, vertices before faces", k, known)
}
