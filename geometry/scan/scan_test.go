package scan

import (
	"bytes"
	"encoding/binary"
	"io"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/geometry/skin"

	g "maskloft/geometry"
)

// scanTube is the mesh of a tube: at(i, j) is the vertex of ring i, place j round
// it, running from crown to right side.
func scanTube(rings, around int, at func(i, j int) g.Vec3) *Scan {
	s := &Scan{placed: true}
	for i := 0; i < rings; i++ {
		for j := 0; j < around; j++ {
			s.Vertices = append(s.Vertices, at(i, j))
		}
	}
	for i := 0; i+1 < rings; i++ {
		for j := 0; j < around; j++ {
			a, b := int32(i*around+j), int32(i*around+(j+1)%around)
			c, d := a+int32(around), b+int32(around)
			if (i+j)%2 == 0 { // aft x round the right side is outward
				s.Triangles = append(s.Triangles, [3]int32{a, c, d}, [3]int32{a, d, b})
			} else {
				s.Triangles = append(s.Triangles, [3]int32{a, c, b}, [3]int32{c, d, b})
			}
		}
	}
	return s
}

// scanOf is a tube with vertices on a surface whose V is an angle, each moved in
// the surface by up to jitter of a cell, drawn from the seed.
func scanOf(s skin.Surface, rings, around int, jitter float64, seed uint64) *Scan {
	lo, hi := skin.Extent(s)
	random := rand.New(rand.NewPCG(seed, 1))
	return scanTube(rings, around, func(i, j int) g.Vec3 {
		du, dv := jitter*(2*random.Float64()-1), jitter*(2*random.Float64()-1)
		if i == 0 || i == rings-1 {
			du = 0
		}
		return skin.PointAt(s, skin.UV{U: lo + (hi-lo)*(float64(i)+du)/float64(rings-1), V: 2 * math.Pi * (float64(j) + dv) / float64(around)})
	})
}

// scanCube is a box on 8 vertices, closed, its faces outward.
func scanCube(x, y, z float64) *Scan {
	s := &Scan{placed: true}
	for k := 0; k < 8; k++ {
		s.Vertices = append(s.Vertices, g.Vec3{X: x * float64(k&1), Y: y * float64(k>>1&1), Z: z * float64(k>>2&1)})
	}
	for _, q := range [][4]int32{{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}} {
		s.Triangles = append(s.Triangles, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return s
}

func (s *Scan) volume() float64 {
	sum := 0.0
	for _, t := range s.Triangles {
		sum += s.Vertices[t[0]].Dot(s.area2(t)) / 6
	}
	return sum
}

// scanRounded returns the scan with coordinates as 32-bit numbers keep them.
func scanRounded(s *Scan) *Scan {
	out := &Scan{Triangles: s.Triangles}
	for _, p := range s.Vertices {
		out.Vertices = append(out.Vertices, g.Vec3{X: float64(float32(p.X)), Y: float64(float32(p.Y)), Z: float64(float32(p.Z))})
	}
	return out
}

// scanSoup returns the corners of the triangles one after another, as STL has
// them.
func scanSoup(s *Scan) (out []g.Vec3) {
	for _, t := range s.Triangles {
		for _, v := range t {
			out = append(out, s.Vertices[v])
		}
	}
	return out
}

// Every format, written by the writers above, reads back equal.
func TestReadScan(t *testing.T) {
	mesh := scanOf(barrel{30, 200, 80}, 7, 9, 0.2, 1)
	mesh.placed = false
	rounded := scanRounded(mesh)
	for _, c := range []struct {
		name string
		data []byte
		want *Scan
	}{
		{"a.obj", writeOBJ(mesh, "%d", false), mesh},
		{"vt.obj", writeOBJ(mesh, "%d/1", false), mesh},
		{"vn.OBJ", writeOBJ(mesh, "%d//1", true), mesh},
		{"vtvn.obj", writeOBJ(mesh, "%d/1/1", true), mesh},
		{"crlf.obj", bytes.ReplaceAll(writeOBJ(mesh, "%d", false), []byte("\n"), []byte("\r\n")), mesh},
		{"ascii.stl", writeSTLText(mesh), mesh},
		{"upper.stl", bytes.ToUpper(writeSTLText(mesh)), mesh},
		{"binary.stl", writeSTLBinary(mesh, "scanner"), rounded},
		{"solid.STL", writeSTLBinary(mesh, "solid as a binary header begins too"), rounded},
		{"ascii.ply", writePLY(mesh, "ascii", "double", "int", "vertex_indices"), mesh},
		{"crlf.ply", bytes.ReplaceAll(writePLY(mesh, "ascii", "double", "int", "vertex_index"), []byte("\n"), []byte("\r\n")), mesh},
		{"little.ply", writePLY(mesh, "binary_little_endian", "double", "uint", "vertex_index"), mesh},
		{"big.ply", writePLY(mesh, "binary_big_endian", "float64", "int", "vertex_indices"), mesh},
		{"float.ply", writePLY(mesh, "binary_big_endian", "float", "uchar", "vertex_indices"), rounded},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := ReadScan(bytes.NewReader(c.data), c.name, ScanLimits{})
			require.NoError(t, err)
			require.Equal(t, scanSoup(c.want), scanSoup(got))
			if !strings.HasSuffix(strings.ToLower(c.name), ".stl") {
				require.Equal(t, c.want, got)
				return
			}
			clean, report, err := got.Clean(0)
			require.NoError(t, err)
			require.Len(t, clean.Vertices, len(mesh.Vertices), "the soup welds to the mesh")
			require.Equal(t, 3*len(mesh.Triangles)-len(mesh.Vertices), report.Welded)
			require.Equal(t, scanSoup(got), scanSoup(clean))
		})
	}
}

func TestReadScanPolygons(t *testing.T) {
	s, err := ReadScan(strings.NewReader("v 0 0 0\nv 1 0 0 0.5\nv 1 1 0\nv 0 1 0 9 9 9\nf 1/1 \\\n 2/2 3/3 \\\r\n-1/4\n"), "q.obj", ScanLimits{})
	require.NoError(t, err)
	require.Equal(t, [][3]int32{{0, 1, 2}, {0, 2, 3}}, s.Triangles)
	s, err = ReadScan(strings.NewReader("ply\nformat ascii 1.0\nelement vertex 5\nproperty int x\nproperty int y\nproperty int z\nelement face 1\nproperty list uchar int vertex_index\nend_header\n0 0 0\n2 0 0\n3 1 0\n2 2 0\n\n0 2 0\n5 0 1 2 3 4\n"), "p.ply", ScanLimits{})
	require.NoError(t, err)
	require.Equal(t, [][3]int32{{0, 1, 2}, {0, 2, 3}, {0, 3, 4}}, s.Triangles)
}

const plyHead = "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\nelement face 1\nproperty list uchar int vertex_index\nend_header\n"

func TestReadScanRefuses(t *testing.T) {
	cube := scanCube(1, 1, 1)
	stl := writeSTLBinary(cube, "solid")
	binaryPLY := writePLY(cube, "binary_little_endian", "float", "int", "vertex_index")
	nan := slices.Clone(stl)
	binary.LittleEndian.PutUint32(nan[84+12+50:], math.Float32bits(float32(math.NaN())))
	for _, c := range []struct{ name, data, want string }{
		{"a.step", "", "a.step: unknown kind of scan: save it as .stl, .ply or .obj"},
		{"a.obj", "# nothing\n", "a.obj: the file holds no triangles: export the mesh"},
		{"a.obj", "v 1 2\n", "a.obj:1: a vertex has 2 coordinates: it needs x, y and z"},
		{"a.obj", "\nv 1 2 z\n", `a.obj:2: "z" is not a number`},
		{"a.obj", "v 1 2 NaN\n", "a.obj:1: coordinate NaN is not within 1e+09 units"},
		{"a.obj", "v 1 2 3\nf 1 1 2\n", "a.obj:2: the face uses vertex 2, but 1 are known so far"},
		{"a.obj", "v 1 2 3\nf 0 1 1\n", "a.obj:2: the face uses vertex 0"},
		{"a.obj", "v 1 2 3\nf -2 1 1\n", "a.obj:2: the face uses vertex -2"},
		{"a.obj", "v 1 2 3\nf 1 1\n", "a.obj:2: a face has 2 corners"},
		{"a.obj", "v 1 2 3\nf a/1 1 1\n", `a.obj:2: "a/1" is not a vertex number`},
		{"a.obj", "v 1 2 3\nf 1 1 \\", "a.obj:2: the file ends too early"},
		{"a.stl", "hello", "a.stl: byte 0: neither a binary nor a text STL file"},
		{"a.stl", string(stl[:len(stl)-7]), "a.stl: byte 80: the header counts 12 triangles, which take 684 bytes, but the file has 677"},
		{"a.stl", string(nan), "a.stl: byte 146: coordinate NaN"},
		{"a.stl", "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\n", "a.stl:4: the file ends too early"},
		{"a.stl", "solid a\nvertex 0 0 0\n", "a.stl:2: a vertex stands outside a loop of three"},
		{"a.stl", "solid a\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nendloop\n", "a.stl:5: a face has 2 corners"},
		{"a.stl", "solid a\nouter loop\nouter loop\n", "a.stl:3: a loop begins within a loop"},
		{"a.stl", "solid a\nouter loop\nendfacet\n", `a.stl:3: "endfacet" stands within a loop`},
		{"a.stl", "solid a\nouter loop\nendsolid\n", "a.stl:3: the solid ends within a facet"},
		{"a.stl", "solid a\nendloop\n", "a.stl:2: a loop ends that did not begin"},
		{"a.stl", "solid a\nbanana\n", `a.stl:2: unknown word "banana"`},
		{"a.ply", "plyx\n", "a.ply:1: a PLY file begins with the line ply"},
		{"a.ply", "ply\nformat ascii 1.0\n", "a.ply:2: the file ends too early"},
		{"a.ply", "ply\nformat utf8 1.0\n", `a.ply:2: unknown format "utf8"`},
		{"a.ply", "ply\nelement vertex -1\n", `a.ply:2: "-1" is not a number of rows`},
		{"a.ply", "ply\nproperty float x\n", "a.ply:2: a property stands before the first element"},
		{"a.ply", "ply\nelement vertex 1\nproperty quad x\n", `a.ply:3: unknown property "property quad x"`},
		{"a.ply", "ply\nelement face 1\nproperty list float int x\n", `a.ply:3: "float" is no type for the count of a list`},
		{"a.ply", "ply\nend_header\n", "a.ply:2: the header names no format"},
		{"a.ply", "ply\nbanana\n", `a.ply:2: unknown header word "banana"`},
		{"a.ply", "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nend_header\n", "a.ply: the vertices have no x, y and z"},
		{"a.ply", "ply\nformat ascii 1.0\nelement face 1\nproperty list uchar int strip\nend_header\n", "a.ply: the faces have no list vertex_indices"},
		{"a.ply", "ply\nformat ascii 1.0\nelement face 1\nproperty list uchar int vertex_index\nend_header\n", "a.ply: the faces come before the vertices"},
		{"a.ply", plyHead + "0 0 0\n1 0\n", "a.ply:11: the row has only 2 numbers"},
		{"a.ply", plyHead + "0 0 0 0\n", "a.ply:10: the row has 4 numbers, 3 are due"},
		{"a.ply", plyHead + "0 0 0\n1 0 0\n0 1 0\n3 0 1 3\n", "a.ply:13: the face uses vertex 3 of 3, counted from 0"},
		{"a.ply", plyHead + "0 0 0\n1 0 0\n0 1 0\n2 0 1\n", "a.ply:13: a face has 2 corners"},
		{"a.ply", plyHead + "0 0 0\n1 0 0\n0 1 0\n-1\n", "a.ply:13: a list has -1 items"},
		{"a.ply", plyHead + "0 0 0\n1 0 0\n", "a.ply:11: the file ends too early"},
		{"a.ply", string(binaryPLY[:len(binaryPLY)-9]), "the file ends too early"},
	} {
		_, err := ReadScan(strings.NewReader(c.data), c.name, ScanLimits{})
		require.ErrorContains(t, err, c.want)
	}
	for _, c := range []struct {
		name  string
		data  []byte
		limit ScanLimits
		want  string
	}{
		{"a.stl", stl, ScanLimits{Bytes: 683}, "a.stl: the file is larger than 683 bytes"},
		{"a.stl", stl, ScanLimits{Triangles: 11}, "a.stl: byte 646: more than 33 vertices"},
		{"a.obj", writeOBJ(cube, "%d", false), ScanLimits{Triangles: 11}, "a.obj:26: more than 11 triangles"},
		{"a.ply", []byte(strings.Replace(plyHead, "uchar int", "uint int", 1) + "0 0 0\n1 0 0\n0 1 0\n4000000000 0 1 2\n"), ScanLimits{}, "a.ply:13: more than 2000000 triangles"},
	} {
		_, err := ReadScan(bytes.NewReader(c.data), c.name, c.limit)
		require.ErrorContains(t, err, c.want)
	}
	_, err := ReadScan(io.MultiReader(strings.NewReader("v"), errReader{}), "a.obj", ScanLimits{})
	require.ErrorContains(t, err, "a.obj: unexpected EOF")
}

type errReader struct{}

func (errReader) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

// A header that promises thousands of millions costs nothing: memory follows
// what is there.
func TestReadScanPromises(t *testing.T) {
	huge := strings.NewReplacer("vertex 3", "vertex 9000000000000000000", "face 1", "face 4000000000")
	empty := make([]byte, 84)
	for i := 80; i < 84; i++ {
		empty[i] = 255
	}
	for name, data := range map[string]string{
		"a.ply": huge.Replace(plyHead) + "0 0 0\n",
		"b.ply": huge.Replace(strings.Replace(plyHead, "ascii", "binary_little_endian", 1)) + strings.Repeat("\x00", 30),
		"c.ply": strings.Replace(plyHead, "element vertex", "element nothing 9000000000000000000\nelement vertex", 1) + "0 0 0\n",
		"a.stl": string(empty),
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := ReadScan(strings.NewReader(data), name, ScanLimits{})
		runtime.ReadMemStats(&after)
		require.Error(t, err)
		require.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(1<<20), name)
	}
}

// FuzzReadScan: no input panics, and none makes more than the limits allow; what
// is read can be cleaned, has its indices in range, and makes a skin or is refused.
func FuzzReadScan(f *testing.F) {
	cube := scanCube(1, 2, 3)
	for kind, data := range [][]byte{
		writeOBJ(cube, "%d//1", true), writeSTLText(cube), writeSTLBinary(cube, "solid"),
		writePLY(cube, "ascii", "float", "int", "vertex_indices"),
		writePLY(cube, "binary_little_endian", "double", "uint", "vertex_index"),
		writePLY(cube, "binary_big_endian", "float", "uchar", "vertex_index"),
		[]byte(plyHead + "0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n"),
		[]byte("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 \\\n 3\nf 1 1 1\n"),
	} {
		f.Add(data, uint8([]int{0, 1, 1, 2, 2, 2, 2, 0}[kind]))
	}
	f.Fuzz(func(t *testing.T, data []byte, kind uint8) {
		limit := ScanLimits{Triangles: 500, Bytes: 1 << 16}
		s, err := ReadScan(bytes.NewReader(data), "f"+[]string{".obj", ".stl", ".ply"}[kind%3], limit)
		if err != nil {
			return
		}
		require.LessOrEqual(t, len(s.Triangles), limit.Triangles)
		require.LessOrEqual(t, len(s.Vertices), 3*limit.Triangles)
		clean, report, err := s.Clean(1e-6)
		if err != nil {
			return
		}
		require.Len(t, clean.Triangles, report.Triangles)
		require.Equal(t, len(s.Triangles), report.Triangles+report.Degenerate+report.Duplicates)
		for _, c := range clean.Triangles {
			for _, v := range c {
				require.Less(t, int(v), len(clean.Vertices))
			}
		}
		clean.placed = true
		lo, hi := clean.bounds()
		if k, _, err := NewScanSkin(t.Context(), clean, ScanGridSpacing{Step: g.Length(hi.Sub(lo).Norm() / 20)}); err == nil {
			p := skin.PointAt(k, skin.UV{U: (k.u0 + k.u1) / 2, V: 1})
			require.False(t, math.IsNaN(p.Y+p.Z))
		}
	})
}
