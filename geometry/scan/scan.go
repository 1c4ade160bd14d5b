package scan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	g "maskloft/geometry"
)

// Scan is a triangle mesh as a scanner or a modeller wrote it. From the reader
// it comes in the file's own axes and unit, and nothing is known of either:
// [FitScan] and [ScanFit.Place] bring it into aircraft axes and inches,
// [Scan.Clean] mends it, and [NewScanSkin] makes a [Surface] of it.
//
// Triangles are three indices into Vertices, counter-clockwise seen from outside
// once the scan is clean.
type Scan struct {
	Vertices  []g.Vec3
	Triangles [][3]int32
	placed    bool // in aircraft axes and inches
}

// ScanLimits bounds what is read, so that a broken or hostile file cannot take
// all memory. Zero means the default.
type ScanLimits struct {
	Triangles int   // default 2,000,000; three times as many vertices are taken
	Bytes     int64 // default 200,000,000
}

func (l ScanLimits) orDefault() ScanLimits {
	if l.Triangles <= 0 {
		l.Triangles = 2_000_000
	}
	l.Triangles = min(l.Triangles, math.MaxInt32/3) // vertices are counted in 32 bits
	if l.Bytes <= 0 {
		l.Bytes = 200_000_000
	}
	return l
}

// scanFarthest bounds coordinates, in the file's unit: products of six of them
// must stay far from overflow.
const scanFarthest = 1e9

// ReadScan reads a mesh in the format that the ending of name says: .obj
// (Wavefront: v and f records, polygons cut as fans), .stl (binary or text) or
// .ply (text, binary of either byte order). name also stands in messages. Memory
// grows with what the file holds, never with what it promises.
//
// Errors name the file and the line (text) or the byte (binary), what is wrong
// there and what to do.
func ReadScan(r io.Reader, name string, limit ScanLimits) (*Scan, error) {
	limit = limit.orDefault()
	var read func(*scanSink, []byte) error
	switch strings.ToLower(filepath.Ext(name)) {
	case ".obj":
		read = readScanOBJ
	case ".stl":
		read = readScanSTL
	case ".ply":
		read = readScanPLY
	default:
		return nil, fmt.Errorf("%s: unknown kind of scan: save it as .stl, .ply or .obj", name)
	}
	data, err := io.ReadAll(io.LimitReader(r, limit.Bytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if int64(len(data)) > limit.Bytes {
		return nil, fmt.Errorf("%s: the file is larger than %d bytes: thin the scan out, or raise the limit", name, limit.Bytes)
	}
	sink := &scanSink{name: name, limit: limit}
	if err := read(sink, data); err != nil {
		return nil, err
	}
	if len(sink.scan.Triangles) == 0 {
		return nil, fmt.Errorf("%s: the file holds no triangles: export the mesh, not a point cloud or a solid model", name)
	}
	return &sink.scan, nil
}

// scanSink takes in vertices and faces and keeps the limits.
type scanSink struct {
	name  string
	limit ScanLimits
	scan  Scan
}

func (s *scanSink) vertex(p g.Vec3) error {
	for _, x := range [3]float64{p.X, p.Y, p.Z} {
		if !(math.Abs(x) <= scanFarthest) { // NaN too
			return fmt.Errorf("coordinate %g is not within %g units: take the point out", x, scanFarthest)
		}
	}
	if len(s.scan.Vertices) >= 3*s.limit.Triangles {
		return fmt.Errorf("more than %d vertices: thin the scan out, or raise the limit", 3*s.limit.Triangles)
	}
	s.scan.Vertices = append(s.scan.Vertices, p)
	return nil
}

// polygon adds a face of three or more known vertices as a fan about the first,
// which is right for convex polygons.
func (s *scanSink) polygon(corners []int32) error {
	if len(corners) < 3 {
		return fmt.Errorf("a face has %d corners: it needs three or more", len(corners))
	}
	if err := s.room(len(corners)); err != nil {
		return err
	}
	for k := 2; k < len(corners); k++ {
		s.scan.Triangles = append(s.scan.Triangles, [3]int32{corners[0], corners[k-1], corners[k]})
	}
	return nil
}

// room refuses a face that the limit has no room for.
func (s *scanSink) room(corners int) error {
	if len(s.scan.Triangles)+corners-2 > s.limit.Triangles {
		return fmt.Errorf("more than %d triangles: thin the scan out, or raise the limit", s.limit.Triangles)
	}
	return nil
}

// atLine and atByte put the place in front of an error.
func (s *scanSink) atLine(line int, err error) error {
	return fmt.Errorf("%s:%d: %w", s.name, line, err)
}

func (s *scanSink) atByte(offset int, err error) error {
	return fmt.Errorf("%s: byte %d: %w", s.name, offset, err)
}

var errScanCutOff = errors.New("the file ends too early: copy or export it again")

// scanLines hands out the lines of a text, counted from 1, without their ends.
type scanLines struct {
	rest []byte
	line int
}

func (l *scanLines) next() ([]byte, bool) {
	if len(l.rest) == 0 {
		return nil, false
	}
	l.line++
	line := l.rest
	if i := bytes.IndexByte(l.rest, '\n'); i >= 0 {
		line, l.rest = l.rest[:i], l.rest[i+1:]
	} else {
		l.rest = nil
	}
	return bytes.TrimSuffix(line, []byte{'\r'}), true
}

// scanNumber reads a decimal number.
func scanNumber(token []byte) (float64, error) {
	x, err := strconv.ParseFloat(string(token), 64)
	if err != nil {
		return 0, fmt.Errorf("%.40q is not a number: export the file again", token)
	}
	return x, nil
}

// scanPoint reads the first three of the tokens.
func scanPoint(tokens [][]byte) (p g.Vec3, err error) {
	if len(tokens) < 3 {
		return p, fmt.Errorf("a vertex has %d coordinates: it needs x, y and z", len(tokens))
	}
	for k, to := range []*float64{&p.X, &p.Y, &p.Z} {
		if *to, err = scanNumber(tokens[k]); err != nil {
			return p, err
		}
	}
	return p, nil
}

// area2 returns twice the vector area of triangle t: along its normal.
func (s *Scan) area2(t [3]int32) g.Vec3 {
	a := s.Vertices[t[0]]
	return s.Vertices[t[1]].Sub(a).Cross(s.Vertices[t[2]].Sub(a))
}
