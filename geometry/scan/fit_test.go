package scan

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// scanMotion is a known turn (about x, then y, then z) and shift from aircraft
// inches to scan units.
func scanMotion(unit g.Length) func(p g.Vec3) g.Vec3 {
	turn := func(a, b, angle float64) (float64, float64) {
		sin, cos := math.Sincos(angle)
		return a*cos - b*sin, a*sin + b*cos
	}
	return func(p g.Vec3) g.Vec3 {
		p.Y, p.Z = turn(p.Y, p.Z, 0.7)
		p.Z, p.X = turn(p.Z, p.X, -2.1)
		p.X, p.Y = turn(p.X, p.Y, 1.3)
		return p.Add(g.Vec3{X: 11, Y: -210, Z: 35}).Scale(1 / float64(unit))
	}
}

func TestFitScan(t *testing.T) {
	at := []g.Position{{FS: 120, BL: 0, WL: 72}, {FS: 240, BL: 1, WL: 62}, {FS: 130, BL: -14, WL: 50}, {FS: 200, BL: 12, WL: 44}, {FS: 180, BL: -6, WL: 38}}
	for _, unit := range []g.Length{g.Inch, g.Millimetre, g.Metre} {
		move := scanMotion(unit)
		for n := 3; n <= len(at); n++ {
			var m []ScanMatch
			for _, p := range at[:n] {
				m = append(m, ScanMatch{Scan: move(p.Vec()), At: p})
			}
			f, err := FitScan(m, unit)
			require.NoError(t, err)
			require.Less(t, float64(f.RMS), 1e-9)
			require.Len(t, f.Residuals, n)
			for _, p := range []g.Position{{FS: 150, BL: 20, WL: 10}, {FS: 0, BL: 0, WL: 0}, at[4]} {
				require.Less(t, float64(f.Position(move(p.Vec())).To(p)), 1e-9)
			}
			s := f.Place(&Scan{Vertices: []g.Vec3{move(at[1].Vec())}})
			require.Less(t, s.Vertices[0].Sub(at[1].Vec()).Norm(), 1e-9)
		}
	}
}

// A point that is a whole inch off is the worst one; a mirrored scan misses its points,
// and its mirror image does not.
func TestFitScanWorstAndMirrored(t *testing.T) {
	at := []g.Position{{FS: 120, BL: 0, WL: 72}, {FS: 240, BL: 1, WL: 62}, {FS: 130, BL: -14, WL: 50}, {FS: 200, BL: 12, WL: 44}, {FS: 180, BL: -6, WL: 38}, {FS: 150, BL: 13, WL: 60}}
	move := scanMotion(g.Millimetre)
	for k := range at {
		var m, mirrored []ScanMatch
		for i, p := range at {
			q := p
			if i == k {
				q.WL++
			}
			m = append(m, ScanMatch{Scan: move(p.Vec()), At: q})
			mirrored = append(mirrored, ScanMatch{Scan: move(g.Vec3{X: p.FS.Inches(), Y: -p.BL.Inches(), Z: p.WL.Inches()}), At: p})
		}
		f, err := FitScan(m, g.Millimetre)
		require.NoError(t, err)
		worst, off := f.Worst()
		require.Equal(t, k, worst)
		require.Greater(t, float64(off), 0.3)
		require.Greater(t, f.Mirrored, f.RMS)
		f, err = FitScan(mirrored, g.Millimetre)
		require.NoError(t, err)
		require.Greater(t, float64(f.RMS), 1.0)
		require.Less(t, float64(f.Mirrored), 1e-6)
	}
}

// With noise: residuals are the distances of the moved points; the motion is the
// best, so that no small turn or shift makes their squares smaller; and with
// errors of sd s in each coordinate of n points, 3n - 6 of them free, the sum of
// squares is s^2 (3n - 6) in the mean.
func TestFitScanNoise(t *testing.T) {
	const sd, n, runs = 0.05, 6, 400
	move := scanMotion(g.Millimetre)
	random := rand.New(rand.NewPCG(8, 8))
	total := 0.0
	for run := 0; run < runs; run++ {
		var m []ScanMatch
		for i := 0; i < n; i++ {
			p := g.Vec3{X: 100 + 140*random.Float64(), Y: 30*random.Float64() - 15, Z: 40 + 30*random.Float64()}
			off := g.Vec3{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()}.Scale(sd)
			m = append(m, ScanMatch{Scan: move(p), At: g.PositionOf(p.Add(off))})
		}
		f, err := FitScan(m, g.Millimetre)
		require.NoError(t, err)
		sum := func(turn, shift g.Vec3) (s float64) {
			for _, x := range m {
				p := f.Position(x.Scan).Vec()
				c := p.Sub(m[0].At.Vec())
				d := p.Add(turn.Cross(c)).Add(turn.Cross(turn.Cross(c)).Scale(0.5)).Add(shift).Sub(x.At.Vec())
				s += d.Dot(d)
			}
			return
		}
		best := sum(g.Vec3{}, g.Vec3{})
		given := 0.0
		for i, r := range f.Residuals {
			require.InDelta(t, float64(f.Position(m[i].Scan).To(m[i].At)), float64(r), 1e-12)
			given += float64(r * r)
		}
		require.InDelta(t, best, given, 1e-12)
		require.InDelta(t, math.Sqrt(best/n), float64(f.RMS), 1e-12)
		for k := 0; k < 12; k++ {
			e := [6]float64{}
			e[k/2] = 1e-4 * float64(1-k%2*2)
			require.Greater(t, sum(g.Vec3{X: e[0] / 50, Y: e[1] / 50, Z: e[2] / 50}, g.Vec3{X: e[3], Y: e[4], Z: e[5]}), best)
		}
		total += best
	}
	require.InEpsilon(t, sd*sd*(3*n-6), total/runs, 0.1)
}

func TestFitScanRefuses(t *testing.T) {
	match := func(scale float64, p ...g.Vec3) (m []ScanMatch) {
		for _, q := range p {
			m = append(m, ScanMatch{Name: "frame", Scan: q.Scale(scale), At: g.PositionOf(q)})
		}
		return
	}
	a, b, c := g.Vec3{X: 100}, g.Vec3{X: 200}, g.Vec3{X: 150, Z: 40}
	for _, x := range []struct {
		m    []ScanMatch
		unit g.Length
		want string
	}{
		{match(1, a, b), g.Inch, "2 matched points: a scan needs three or more"},
		{match(1, a, b, g.Vec3{X: 150, Z: 1}), g.Inch, "the matched points on the scan lie in one line: 0.471 in across it over 40.825 in along it (rms), 1.15 % where 2 % is needed: match a point off that line"},
		{append(match(1, a, b), ScanMatch{Scan: c, At: g.Position{FS: 130}}), g.Inch, "on the aircraft lie in one line"},
		{match(1, a, a, a), g.Inch, "lie in one line"},
		{match(25.4, a, b, c), g.Inch, "the matched points lie 25.4 times as far apart on the scan as on the aircraft: the scan looks to be in mm: give that unit"},
		{match(0.0254, a, b, c), g.Millimetre, "the scan looks to be in m: give that unit"},
		{match(1.4, a, b, c), g.Inch, "lie 1.4 times as far apart on the scan as on the aircraft: check the unit"},
		{match(1, a, b, c), 0, "the unit of the scan is 0 in"},
		{match(1, a, b, g.Vec3{X: math.NaN()}), g.Inch, `matched point "frame": coordinates {NaN 0 0} are out of range`},
	} {
		_, err := FitScan(x.m, x.unit)
		require.ErrorContains(t, err, x.want)
	}
}
