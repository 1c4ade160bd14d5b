package scan

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// cleanScan cleans, and checks that the order of the triangles in the file does
// not change what is found, nor a second cleaning anything at all.
func cleanScan(t testing.TB, s *Scan, tolerance float64) (*Scan, ScanReport) {
	t.Helper()
	clean, report, err := s.Clean(tolerance)
	require.NoError(t, err)
	again, second, err := clean.Clean(tolerance)
	require.NoError(t, err)
	require.Equal(t, clean, again)
	require.Equal(t, ScanReport{Vertices: report.Vertices, Triangles: report.Triangles, Components: report.Components, Holes: report.Holes,
		NonManifoldEdges: report.NonManifoldEdges, Twisted: report.Twisted}, second)
	back := &Scan{Vertices: s.Vertices, Triangles: slices.Clone(s.Triangles)}
	slices.Reverse(back.Triangles)
	_, reversed, err := back.Clean(tolerance)
	require.NoError(t, err)
	require.Equal(t, report.Components, reversed.Components)
	if report.Duplicates == 0 {
		require.Equal(t, report.Flipped, reversed.Flipped)
	}
	require.Equal(t, len(report.Holes), len(reversed.Holes))
	return clean, report
}

func TestCleanScan(t *testing.T) {
	t.Run("closed box", func(t *testing.T) {
		clean, report := cleanScan(t, scanCube(2, 3, 4), 0)
		require.Equal(t, ScanReport{Vertices: 8, Triangles: 12, Components: 1}, report)
		require.InDelta(t, 24, clean.volume(), 1e-12)
	})
	t.Run("inside out and muddled", func(t *testing.T) {
		s := scanCube(2, 3, 4)
		for i := range s.Triangles {
			if i != 3 && i != 8 {
				s.turn(i)
			}
		}
		clean, report := cleanScan(t, s, 0)
		require.Equal(t, 10, report.Flipped)
		require.InDelta(t, 24, clean.volume(), 1e-12)
	})
	t.Run("box with a hole", func(t *testing.T) {
		s := scanCube(2, 3, 4)
		s.Triangles = s.Triangles[2:] // the wall x = 0, 3 by 4
		s.turn(5)
		_, report := cleanScan(t, s, 0)
		require.Equal(t, 1, report.Flipped)
		require.Equal(t, []ScanHole{{Edges: 4, Length: 14, Centre: g.Vec3{X: 0, Y: 1.5, Z: 2}}}, report.Holes)
	})
	t.Run("duplicated and loose vertices, duplicate and degenerate triangles", func(t *testing.T) {
		cube := scanCube(2, 3, 4)
		s := &Scan{Vertices: scanSoup(cube)}
		random := rand.New(rand.NewPCG(5, 5))
		for i := range s.Vertices {
			s.Vertices[i] = s.Vertices[i].Add(g.Vec3{X: random.Float64(), Y: random.Float64(), Z: random.Float64()}.Scale(1e-4))
		}
		for k := int32(0); k < 36; k += 3 {
			s.Triangles = append(s.Triangles, [3]int32{k, k + 1, k + 2})
		}
		s.Triangles = append(s.Triangles, [3]int32{0, 2, 1}, [3]int32{0, 0, 1}, [3]int32{36, 37, 38})
		s.Vertices = append(s.Vertices, g.Vec3{X: 10}, g.Vec3{X: 11}, g.Vec3{X: 12}, g.Vec3{X: 9})
		clean, report := cleanScan(t, s, 1e-3)
		require.Equal(t, 8, report.Vertices)
		require.Equal(t, 12, report.Triangles)
		require.Equal(t, 1, report.Duplicates)
		require.Equal(t, 2, report.Degenerate)
		require.Equal(t, 4, report.Loose)
		require.Equal(t, 40-12, report.Welded)
		require.Empty(t, report.Holes)
		require.InDelta(t, 24, clean.volume(), 0.01)
		_, report, err := s.Clean(1e-6)
		require.NoError(t, err)
		require.Equal(t, 12, report.Components, "without welding every triangle is a piece")
		_, _, err = s.Clean(5)
		require.ErrorContains(t, err, "none of 15 triangles is left after welding within 5: give a smaller tolerance")
		_, _, err = s.Clean(math.NaN())
		require.ErrorContains(t, err, "weld tolerance NaN is not a length")
	})
	t.Run("three walls on one edge", func(t *testing.T) {
		s := scanCube(2, 3, 4)
		s.Vertices = append(s.Vertices, g.Vec3{X: -5, Z: 2})
		s.Triangles = append(s.Triangles, [3]int32{0, 4, 8}) // a fin on the edge 0-4
		clean, report := cleanScan(t, s, 0)
		require.Equal(t, 1, report.NonManifoldEdges)
		require.Equal(t, 1, report.Components)
		require.Len(t, report.Holes, 1)
		require.Equal(t, 2, report.Holes[0].Edges)
		require.InDelta(t, 24, (&Scan{Vertices: clean.Vertices, Triangles: clean.Triangles[:12]}).volume(), 1e-12)
	})
	t.Run("two pieces, one inside out", func(t *testing.T) {
		s := scanCube(2, 3, 4)
		for _, p := range s.Vertices[:8] {
			s.Vertices = append(s.Vertices, p.Add(g.Vec3{X: 10}))
		}
		for _, c := range s.Triangles[:12] {
			s.Triangles = append(s.Triangles, [3]int32{c[0] + 8, c[2] + 8, c[1] + 8})
		}
		clean, report := cleanScan(t, s, 0)
		require.Equal(t, 2, report.Components)
		require.Equal(t, 12, report.Flipped)
		require.InDelta(t, 48, clean.volume(), 1e-12)
	})
	t.Run("strip with a half twist", func(t *testing.T) {
		s := &Scan{}
		const n = 12
		for i := 0; i < n; i++ {
			a := 2 * math.Pi * float64(i) / n
			for _, w := range []float64{-1, 1} {
				r := 5 + w*math.Cos(a/2)
				s.Vertices = append(s.Vertices, g.Vec3{X: r * math.Cos(a), Y: r * math.Sin(a), Z: w * math.Sin(a/2)})
			}
		}
		for i := int32(0); i < n; i++ {
			a, b, c, d := 2*i, 2*i+1, 2*i+2, 2*i+3
			if i == n-1 {
				c, d = 1, 0
			}
			s.Triangles = append(s.Triangles, [3]int32{a, c, b}, [3]int32{b, c, d})
		}
		_, report, err := s.Clean(0)
		require.NoError(t, err)
		require.Equal(t, 1, report.Twisted)
		require.Len(t, report.Holes, 1, "its border is one loop")
		require.Equal(t, 2*n, report.Holes[0].Edges)
	})
	t.Run("tube with muddled triangles", func(t *testing.T) {
		s := scanOf(barrel{30, 200, 80}, 20, 30, 0.2, 2)
		random := rand.New(rand.NewPCG(6, 6))
		turned := 0
		for i := range s.Triangles {
			if random.Float64() < 0.3 {
				s.turn(i)
				turned++
			}
		}
		clean, report := cleanScan(t, s, 0)
		require.Equal(t, turned, report.Flipped)
		require.Len(t, report.Holes, 2, "the open ends")
		require.Equal(t, 30, report.Holes[0].Edges)
		for _, c := range clean.Triangles {
			out := clean.Vertices[c[0]]
			out.X = 0
			require.Positive(t, clean.area2(c).Dot(out))
		}
	})
}

// Welding against the slow rule it stands for: the first kept vertex within
// tolerance, else a new one.
func TestWeldScanAgainstAllPairs(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	var points []g.Vec3
	for i := 0; i < 2000; i++ {
		points = append(points, g.Vec3{X: 4*random.Float64() - 2, Y: 2*random.Float64() - 1, Z: random.Float64()})
	}
	points = append(points, points[100], g.Vec3{X: math.Copysign(0, -1)}, g.Vec3{})
	for _, tolerance := range []float64{0, 0.01, 0.1, 0.5} {
		kept, to := weldScan(points, tolerance)
		var slow []g.Vec3
		for i, p := range points {
			home := slices.IndexFunc(slow, func(q g.Vec3) bool { return q.Sub(p).Norm() <= tolerance })
			if home < 0 {
				home = len(slow)
				slow = append(slow, p.Add(g.Vec3{}))
			}
			require.Equal(t, int32(home), to[i], "point %d", i)
		}
		require.Equal(t, slow, kept)
	}
}
