package audit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/drawing"
	"maskloft/export/samples"

	g "maskloft/geometry"
)

// disc is a circle whose nodes stand at odd angles.
func disc(x, y, r float64) g.Contour {
	b := g.MoveTo(g.Point{X: x + r*math.Cos(0.123), Y: y + r*math.Sin(0.123)})
	b.ArcTo(g.Point{X: x, Y: y}, 2*math.Pi)
	return drawing.ClosedExactly(b)[0]
}

func TestHygieneGood(t *testing.T) {
	star := []g.Point{}
	for i := 0; i < 10; i++ {
		r, a := 10.0, math.Pi/2+math.Pi/5*float64(i)
		if i%2 == 1 {
			r = 10 * 0.381966
		}
		star = append(star, g.Point{X: 20 + r*math.Cos(a), Y: 20 + r*math.Sin(a)})
	}
	for name, p := range map[string]g.Path{
		"nothing":             nil,
		"R with its counter":  samples.FigureR(),
		"ring":                {disc(5, 5, 3), disc(5, 5, 2).Reversed()},
		"ring in a ring":      {disc(5, 5, 4), disc(5, 5, 3).Reversed(), disc(5, 5, 2), disc(5, 5, 1).Reversed()},
		"star in its circle":  {disc(20, 20, 10), g.Polygon(star...).Reversed()}, // five tips touch
		"tangent circles":     {disc(20, 20, 10), disc(15, 20, 5).Reversed()},
		"corner to corner":    samples.Parsed(t, "M0 0H1V1H0ZM1 1H2V2H1Z"),
		"edges nearly beside": samples.Parsed(t, "M0 0H1V1H0ZM1.002 0H2V1H1.002Z"),
		"two halves of a cut": samples.Parsed(t, "M0 0H1V1H0ZM1.00001 0H2V1H1.00001Z"),
	} {
		require.NoError(t, Hygiene(p), name)
	}
}

func TestHygieneBad(t *testing.T) {
	for name, c := range map[string]struct {
		p    g.Path
		want string
	}{
		"open":                 {samples.Parsed(t, "M0 0H1V1H0ZM3 3H4V4"), "contour 2 is open: it ends at (4, 4) in, 1.41 in"},
		"open by a hair":       {samples.Parsed(t, "M0 0H1V1H0L0 0.000002"), "contour 1 is open"},
		"segment of no length": {samples.Parsed(t, "M0 0H1H1V1H0Z"), "contour 1, segment 2 at (1, 0) in: 0 in long"},
		"curve of no length":   {samples.Parsed(t, "M0 0H1C1 0 1 0 1 0V1H0Z"), "segment 2"},
		"bow tie":              {samples.Parsed(t, "M0 0L2 2H0L2 0Z"), "contour 1 crosses itself at (1, 1) in"},
		"bow tie at a node":    {samples.Parsed(t, "M0 0L1 1L2 2H0L1 1L2 0Z"), "by the direction of the contours"},
		"two squares":          {samples.Parsed(t, "M0 0H2V2H0ZM1 1H3V3H1Z"), "contour 1 crosses contour 2 at"},
		"two discs":            {g.Path{disc(0, 0, 2), disc(3, 0, 2)}, "contour 1 crosses contour 2"},
		"discs by 0.001 in":    {g.Path{disc(0, 0, 2), disc(3.999, 0, 2)}, "contour 1 crosses contour 2"},
		"loop in a curve":      {samples.Parsed(t, "M0 0C3 2 -1 2 2 0L1 -1Z"), "contour 1 crosses itself"},
		"same twice":           {g.Path{disc(0, 0, 2), disc(0, 0, 2)}, "contour 2 at (1.9849, 0.2454) in is contour 1 again"},
		"same, other start":    {g.Path{disc(0, 0, 2), g.Circle(g.Point{}, 2).Reversed()}, "is contour 1 again"},
		"edge cut twice":       {samples.Parsed(t, "M0 0H1V1H0ZM1 0H2V1H1Z"), "contour 1 runs along contour 2 at (1, 0.5) in"},
		"spike":                {samples.Parsed(t, "M0 0H1V1H2H0Z"), "contour 1 runs along itself"},
		"hole turned wrong":    {g.Path{disc(5, 5, 3), disc(5, 5, 2)}, "by the even-odd rule and 28.27"},
		"outside turned wrong": {g.Path{disc(5, 5, 3).Reversed()}, "by the direction"},
		"not a number":         {g.Path{g.Polygon(g.Point{}, g.Point{X: math.NaN()}, g.Point{Y: 1})}, "not a number"},
	} {
		require.ErrorContains(t, Hygiene(c.p), c.want, name)
	}
}

// The slabs measure what the formula of the circle says, by both rules, and two
// overlapping squares by hand: 7 of 8 by non-zero, 6 by even-odd.
func TestChordAreas(t *testing.T) {
	areas := func(p g.Path) (float64, float64) {
		chords, err := hygieneOutline(p)
		require.NoError(t, err)
		return chordAreas(chords)
	}
	eo, nz := areas(g.Path{disc(5, 5, 3), disc(5, 5, 2).Reversed()})
	require.InDelta(t, 5*math.Pi, eo, 1e-3)
	require.InDelta(t, eo, nz, 1e-12)
	eo, nz = areas(samples.Parsed(t, "M0 0H2V2H0ZM1 1H3V3H1Z"))
	require.InDelta(t, 6, eo, 1e-12)
	require.InDelta(t, 7, nz, 1e-12)
}

func BenchmarkHygiene(b *testing.B) {
	var p g.Path
	for i := 0; i < 40; i++ {
		p = append(p, disc(float64(i%8)*5, float64(i/8)*5, 2), disc(float64(i%8)*5, float64(i/8)*5, 1).Reversed())
	}
	for b.Loop() {
		if err := Hygiene(p); err != nil {
			b.Fatal(err)
		}
	}
}
