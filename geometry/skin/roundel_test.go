package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// A roundel of 60 in with a field of 1.5 in, on a wing of 1.85 m chord and section NACA
// 2415, from 3 % of the chord aft: the wing does not taper, so the film unrolls, and its
// width along the chord is the arc length of the profile between its edges (Simpson over
// the published formulas, NACA Report 460; from memory), to 0.001 in.
func TestRoundelOverTheChord(t *testing.T) {
	const chord = 1850 / 25.4
	section, err := ParseNACA4("2415")
	require.NoError(t, err)
	edge := func(fs g.Station) []PlanPoint { return []PlanPoint{{fs, 0}, {fs, 200}} }
	for face, at := range []g.Station{Upper: 33.6, Lower: 33.9} { // the film begins at 3 % of the chord and a little
		face := WingFace(face)
		s, err := NewWingSkin(g.Left, face, Planform{edge(0), edge(chord)}, section, WingSetting{WL: 32})
		require.NoError(t, err)
		uv, err := s.LocatePlan(at, -120)
		require.NoError(t, err)
		f, err := ForwardAt(s, uv, 0)
		require.NoError(t, err)
		film := box(63, 63)
		m, err := Flatten(t.Context(), s, f, film, film.Grown(2.25), g.NetTolerance)
		require.NoError(t, err)
		require.True(t, m.Exact(film), "%+v", m.Strain(film))
		require.Less(t, m.Settled().Nodes, 5000, "a net that is fine along the chord alone")
		inboard, ok := m.ToSkin(g.Point{X: 1})
		require.True(t, ok)
		for _, x := range []float64{film.Min.X, 0, film.Max.X} {
			fore, ok := m.ToSkin(g.Point{X: x, Y: film.Max.Y})
			require.True(t, ok)
			require.True(t, s.Contains(fore), "film from 3 %% of the chord aft: %v", fore)
			aft, ok := m.ToSkin(g.Point{X: x, Y: film.Min.Y})
			require.True(t, ok)
			require.InDelta(t, 63, arcOfProfile(section, map[WingFace]float64{Upper: 1, Lower: -1}[face], fore.U/chord, aft.U/chord)*chord, 0.001)
			require.InDelta(t, x, (fore.V+120)*(inboard.V+120), 1e-4, "along the span")
		}
	}
}

// arcOfProfile returns the length of a face between two stations, in fractions of the
// chord, by Simpson's rule in the root of the parameter.
func arcOfProfile(n NACA4, side, x0, x1 float64) float64 {
	at := func(x float64) float64 { // the parameter whose point stands at x
		return bisect(func(q float64) float64 { p, _ := n.profile(side, q); return p.X - x }, 1e-4, 1)
	}
	speed := func(r float64) float64 {
		_, d := n.profile(side, r*r)
		return d.Norm() * 2 * r
	}
	sum := 0.0
	knots := []float64{math.Sqrt(at(x0)), math.Sqrt(n.CamberAt), math.Sqrt(at(x1))}
	for k := 0; k+1 < len(knots); k++ {
		const pieces = 400
		a, h := knots[k], (knots[k+1]-knots[k])/pieces
		for i := 0; i < pieces; i++ {
			r := a + h*float64(i)
			sum += h / 6 * (speed(r+1e-12) + 4*speed(r+h/2) + speed(r+h-1e-12))
		}
	}
	return sum
}
