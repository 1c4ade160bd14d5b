package skin

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// spheroid is a body of revolution about x with equatorial radius a and polar
// semi-axis b, cut off short of the poles.
type spheroid struct{ a, b float64 }

func (s spheroid) Breaks() (u, v []float64, period float64) {
	return []float64{-0.999 * s.b, 0.999 * s.b}, []float64{-math.Pi, math.Pi}, 2 * math.Pi
}
func (s spheroid) Contains(uv UV) bool { return math.Abs(uv.U) <= 0.999*s.b }
func (s spheroid) At(uv, _ UV) (g.Vec3, g.Vec3) {
	r := s.a * math.Sqrt(1-uv.U*uv.U/(s.b*s.b))
	sin, cos := math.Sincos(uv.V)
	p := g.Vec3{X: uv.U, Y: r * sin, Z: r * cos}
	return p, g.Vec3{X: p.X / (s.b * s.b), Y: p.Y / (s.a * s.a), Z: p.Z / (s.a * s.a)}.Unit()
}

// geographic returns the parameters of a geographic latitude and a longitude in
// degrees: tan(parametric) = (b/a) tan(geographic), x = b sin(parametric).
func (s spheroid) geographic(lat, lon float64) UV {
	beta := math.Atan(s.b / s.a * math.Tan(lat*math.Pi/180))
	return UV{s.b * math.Sin(beta), lon * math.Pi / 180}
}

// Tapes on a prolate spheroid of 30 by 90. Values by GeodSolve 2.1.2 of
// GeographicLib, `GeodSolve -E -e 30 -2 -i` (the default series is not exact at
// this flattening). Row 24 starts at parametric latitudes.
func TestTapeOnSpheroid(t *testing.T) {
	s := spheroid{30, 90}
	for _, c := range []struct{ lat1, lon1, lat2, lon2, want float64 }{
		{0, 0, 30, 40, 81.868770875},
		{20, -30, 45, 70, 32.825156553},
		{0, -45, 30, 54, 90.195028167},
		// beads of 7 and of 13 agreed to 6e-6 in and were both 0.0017 in short
		{59.094905, 0, -4.733481, -130.795028, 123.312607144},
	} {
		p, err := Tape(s, s.geographic(c.lat1, c.lon1), s.geographic(c.lat2, c.lon2), 1e-3)
		require.NoError(t, err)
		require.InDelta(t, c.want, float64(p.Length), 1e-4, "%+v", c)
	}
}

// Two hundred random lines of testdata/geodsolve-30x90.txt, and those of the file
// that MASKLOFT_GEODSOLVE names, made by .ci/outside/geodesics.py: within 0.001 in.
func TestTapeAgainstGeodSolve(t *testing.T) {
	files := []string{"testdata/geodsolve-30x90.txt"}
	if fresh := os.Getenv("MASKLOFT_GEODSOLVE"); fresh != "" {
		files = append(files, fresh)
	}
	s := spheroid{30, 90}
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		lines, worst := 0, 0.0
		for _, line := range strings.Split(string(data), "\n") {
			var lat1, lon1, lat2, lon2, want float64
			if strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "" {
				continue
			}
			_, err := fmt.Sscan(line, &lat1, &lon1, &lat2, &lon2, &want)
			require.NoError(t, err, line)
			p, err := Tape(s, s.geographic(lat1, lon1), s.geographic(lat2, lon2), 1e-3)
			require.NoError(t, err, line)
			require.InDelta(t, want, float64(p.Length), 1e-3, line)
			worst = math.Max(worst, math.Abs(want-float64(p.Length)))
			lines++
		}
		require.GreaterOrEqual(t, lines, 100)
		t.Logf("%s: %d lines, worst %.2g in", name, lines, worst)
	}
}

// The length of a string of beads falls into line with the fourth power of the
// spacing.
func TestBeadsOrder(t *testing.T) {
	s := spheroid{30, 90}
	a, b := s.geographic(0, 0), s.geographic(30, 40)
	path := []UV{a, b}
	last, before := 0.0, 0.0
	for k := 0; k < 5; k++ {
		beads := newBeading(s, path, 90/(4*math.Pow(2, float64(k))), 1e9)
		l, end := beads.tighten()
		require.Equal(t, tight, end)
		err := math.Abs(l - 81.868770875)
		pieces := float64(len(beads.in))
		if k > 1 {
			require.InDelta(t, 4, math.Log(last/err)/math.Log(pieces/before), 0.4, "order with %d beads", len(beads.uv))
		}
		last, before = err, pieces
	}
}

func BenchmarkTape_spheroid_82in_tol0p001(b *testing.B) {
	s := spheroid{30, 90}
	p, q := s.geographic(0, 0), s.geographic(30, 40)
	for i := 0; i < b.N; i++ {
		if _, err := Tape(s, p, q, 1e-3); err != nil {
			b.Fatal(err)
		}
	}
}

// Tapes from one hardpoint to points of a field of 30 by 20 in: each on a net of its own.
func BenchmarkTape_spheroid_300from1hardpoint_tol0p001(b *testing.B) {
	s := spheroid{30, 90}
	from := s.geographic(0, 0)
	for i := 0; i < b.N; i++ {
		for k := range 300 {
			to := UV{40 + 2*float64(k%15), 0.3 + 0.05*float64(k/15)}
			if _, err := Tape(s, to, from, 1e-3); err != nil {
				b.Fatal(err)
			}
		}
	}
}
