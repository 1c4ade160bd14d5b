package scan

import (
	"fmt"
	"math"
	"slices"

	g "maskloft/geometry"
)

// ScanReport says what [Scan.Clean] found and did.
type ScanReport struct {
	Vertices   int // left
	Triangles  int // left
	Welded     int // vertices that became one with an earlier one
	Loose      int // vertices of no triangle, dropped
	Degenerate int // triangles without area, dropped
	Duplicates int // triangles on the same three vertices as an earlier one, dropped
	Flipped    int // triangles turned over to agree with their neighbours and face outward
	Components int // pieces that share no edge

	// Holes are the loops of edges with one triangle, longest first. The open
	// ends of a tube, and the border of a scan of one side, are such loops too.
	Holes []ScanHole
	// NonManifoldEdges have three triangles or more: walls that meet, or scans
	// that overlap.
	NonManifoldEdges int
	// Twisted edges join two triangles that cannot be made to agree (a strip with
	// a half twist).
	Twisted int
}

// ScanHole is a loop of open edges.
type ScanHole struct {
	Edges  int
	Length float64 // round the loop, in the unit of the scan
	Centre g.Vec3  // mean of the vertices
}

// Clean returns the scan with vertices within tolerance of each other (in the
// scan's own unit; 0 welds equal ones only) made one, triangles without area and
// second copies dropped, and the rest turned to face outward; and says what was
// done. Holes are reported, not filled.
//
// A vertex goes to the first kept vertex within tolerance, in the order of the
// file. Triangles have no area where it is below 1e-12 of their longest edge
// squared. Neighbours over edges of two triangles are turned alike; then each
// piece faces outward: the volume between it and the centre of the whole scan is
// positive, which is exact for closed pieces and the majority for open ones.
//
// Errors: the tolerance is not a length, or nothing is left.
func (s *Scan) Clean(tolerance float64) (*Scan, ScanReport, error) {
	if !(tolerance >= 0) || math.IsInf(tolerance, 1) {
		return nil, ScanReport{}, fmt.Errorf("weld tolerance %g is not a length: give 0 or more", tolerance)
	}
	var report ScanReport
	out := &Scan{placed: s.placed}
	var to []int32
	out.Vertices, to = weldScan(s.Vertices, tolerance)
	report.Welded = len(s.Vertices) - len(out.Vertices)
	seen := make(map[[3]int32]bool)
	for _, t := range s.Triangles {
		t = [3]int32{to[t[0]], to[t[1]], to[t[2]]}
		if out.degenerate(t) {
			report.Degenerate++
			continue
		}
		key := t
		slices.Sort(key[:])
		if seen[key] {
			report.Duplicates++
			continue
		}
		seen[key] = true
		out.Triangles = append(out.Triangles, t)
	}
	if len(out.Triangles) == 0 {
		return nil, report, fmt.Errorf("none of %d triangles is left after welding within %g: give a smaller tolerance", len(s.Triangles), tolerance)
	}
	report.Loose = out.dropLoose()
	report.Vertices, report.Triangles = len(out.Vertices), len(out.Triangles)
	edges := out.edges()
	asRead := slices.Clone(out.Triangles)
	out.faceOutward(out.agree(edges, &report))
	for t := range asRead {
		if out.Triangles[t] != asRead[t] {
			report.Flipped++
		}
	}
	report.Components = out.components(edges)
	report.Holes = out.holes(edges)
	return out, report, nil
}

func (s *Scan) degenerate(t [3]int32) bool {
	if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
		return true
	}
	long := 0.0
	for k := range t {
		d := s.Vertices[t[k]].Sub(s.Vertices[t[(k+1)%3]])
		long = math.Max(long, d.Dot(d))
	}
	return s.area2(t).Norm() <= 1e-12*long
}

// weldScan returns the kept vertices and the number of each vertex among them.
// Kept vertices are looked up in cubes of twice the tolerance, of which a ball
// of the tolerance meets eight.
func weldScan(points []g.Vec3, tolerance float64) (kept []g.Vec3, to []int32) {
	to = make([]int32, len(points))
	same := make(map[g.Vec3]int32)
	type cube [3]float64
	cubes := make(map[cube][]int32)
	size := 2 * tolerance
	for i, p := range points {
		p = p.Add(g.Vec3{}) // -0 becomes 0
		if k, ok := same[p]; ok {
			to[i] = k
			continue
		}
		home := int32(-1)
		if tolerance > 0 {
			at := cube{math.Floor(p.X / size), math.Floor(p.Y / size), math.Floor(p.Z / size)}
			var step cube // towards the nearer neighbour
			for k, x := range [3]float64{p.X, p.Y, p.Z} {
				step[k] = math.Copysign(1, x/size-at[k]-0.5)
			}
			for corner := 0; corner < 8; corner++ {
				c := at
				for k := range c {
					c[k] += float64(step[k] * float64(corner>>k&1))
				}
				for _, k := range cubes[c] {
					if (home < 0 || k < home) && kept[k].Sub(p).Norm() <= tolerance {
						home = k
					}
				}
			}
			if home < 0 {
				cubes[at] = append(cubes[at], int32(len(kept)))
			}
		}
		if home < 0 {
			home = int32(len(kept))
			kept = append(kept, p)
		}
		same[p], to[i] = home, home
	}
	return kept, to
}

// dropLoose drops vertices that no triangle uses and returns how many.
func (s *Scan) dropLoose() int {
	to := make([]int32, len(s.Vertices))
	for _, t := range s.Triangles {
		for _, v := range t {
			to[v] = 1
		}
	}
	n := int32(0)
	for v := range to {
		if to[v] == 1 {
			s.Vertices[n], to[v] = s.Vertices[v], n
			n++
		}
	}
	for i, t := range s.Triangles {
		s.Triangles[i] = [3]int32{to[t[0]], to[t[1]], to[t[2]]}
	}
	loose := len(s.Vertices) - int(n)
	s.Vertices = s.Vertices[:n]
	return loose
}

// agree turns triangles so that neighbours over edges of two triangles run the
// edge in opposite directions, spreading from the first triangle of each patch,
// and returns the patch of every triangle.
func (s *Scan) agree(edges []scanEdge, report *ScanReport) (patch []int32) {
	next := make([][3]int32, len(s.Triangles)) // neighbour over each edge, -1: none
	for t := range next {
		next[t] = [3]int32{-1, -1, -1}
	}
	groupsOf(edges, func(e []scanEdge) {
		if len(e) > 2 {
			report.NonManifoldEdges++
		}
		if len(e) == 2 {
			next[e[0].tri][e[0].slot], next[e[1].tri][e[1].slot] = e[1].tri, e[0].tri
		}
	})
	runs := func(t int32, a, b int32) bool { // t runs from a to b
		c := s.Triangles[t]
		return c[0] == a && c[1] == b || c[1] == a && c[2] == b || c[2] == a && c[0] == b
	}
	patch = make([]int32, len(s.Triangles))
	for t := range patch {
		patch[t] = -1
	}
	turned := make([]bool, len(s.Triangles))
	patches := int32(0)
	var queue []int32
	for first := range patch {
		if patch[first] >= 0 {
			continue
		}
		patch[first] = patches
		queue = append(queue[:0], int32(first))
		for len(queue) > 0 {
			t := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			c := s.Triangles[t]
			for k, o := range next[t] {
				if o < 0 {
					continue
				}
				a, b := c[k], c[(k+1)%3]
				alike := runs(o, a, b) != (turned[t] != turned[o])
				switch {
				case patch[o] < 0:
					turned[o] = turned[o] != alike
					patch[o] = patches
					queue = append(queue, o)
				case alike && o > t:
					report.Twisted++
				}
			}
		}
		patches++
	}
	for t, turn := range turned {
		if turn {
			s.turn(t)
		}
	}
	return patch
}

func (s *Scan) turn(t int) {
	c := s.Triangles[t]
	s.Triangles[t] = [3]int32{c[0], c[2], c[1]}
}
