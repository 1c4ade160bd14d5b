package masks

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// bulge is a layout of one marking on a barrel: circles of radius 20 in at the
// waist whose meridian bends with a radius of 40 in, so that the Gaussian
// curvature there is 1/800 per square inch.
func bulge(figure, film string) string {
	text := `
name: bulge
aircraft:
  name: bulge
  datum: FS 0 is the waist, positive aft; WL 0 is the axis, positive up
  surfaces:
    - id: body
      kind: faired
      along: natural
      sections:
`
	for fs := -28.0; fs <= 28; fs += 4 {
		text += fmt.Sprintf("        - {fs: %g, circle: {radius: %.6f, wl: 0}}\n", fs, math.Sqrt(1600-fs*fs)-20)
	}
	return text + `
markings:
  - id: it
    figure: ` + figure + `
    where: {surface: body, side: left, fs: 0, wl: 0}
film: {` + film + `}
` + common
}

const disc20 = "{discs: [{diameter: 20, colour: red}]}"

// How much the film is squeezed and stretched decides how loudly it is said, and
// what to do; the worse of the two counts, and a limit belongs to the band below.
func TestVerdicts(t *testing.T) {
	w := demo(t)
	for _, tc := range []struct {
		compression, tension float64
		verdict              Verdict
		level                layouts.Level
		hint, tension1       bool
	}{
		{0.0006, 0.0004, LayCold, layouts.Note, false, false},
		{0.0050, 0.0200, LayCold, layouts.Note, false, false},
		{0.0051, 0.0010, LayWarm, layouts.Warn, true, false},
		{0.0001, 0.0201, LayWarm, layouts.Warn, true, true},
		{0.0051, 0.0201, LayWarm, layouts.Warn, true, false},
		{0.0200, 0.0500, LayWarm, layouts.Warn, true, false},
		{0.0201, 0.0010, SlitIt, layouts.Warn, true, false},
		{0.0001, 0.0501, SlitIt, layouts.Warn, true, true},
		{0.0400, 0.1500, SlitIt, layouts.Warn, true, false},
		{0.0401, 0.0010, LayPieces, layouts.Stop, true, false},
		{0.0001, 0.1501, LayPieces, layouts.Stop, true, true},
	} {
		l := w.laid[0]
		l.Strain = skin.Strain{Compression: tc.compression, CompressionAt: g.Position{FS: 1}, Tension: tc.tension, TensionAt: g.Position{FS: 2}}
		l.Bands = layouts.UsualStrain()
		f := strainFinding(l)
		assert.Equal(t, tc.verdict, Advise(l.Strain, l.Bands), "%v", tc)
		assert.Equal(t, tc.level, f.Level, "%v", tc)
		assert.Equal(t, "film-strain", f.Rule)
		assert.Equal(t, "practice, not a standard", f.Source)
		assert.Equal(t, tc.hint, f.Hint != "", "%v", tc)
		assert.Contains(t, f.Message, string(tc.verdict))
		for _, part := range []string{Percent(tc.compression), Percent(tc.tension), fmt.Sprint(l.Strain.CompressionAt), fmt.Sprint(l.Strain.TensionAt)} {
			assert.Contains(t, f.Message, part)
		}
		if tc.tension1 {
			assert.Equal(t, []any{Percent(tc.tension), "2.00 % stretched", g.Station(2)}, []any{f.Measured, f.Tolerance, f.Where.FS}, "%v", tc)
		} else {
			assert.Equal(t, []any{Percent(tc.compression), "0.50 % squeezed", g.Station(1)}, []any{f.Measured, f.Tolerance, f.Where.FS}, "%v", tc)
		}
	}
}

// The bands of the layout file decide, not the usual ones.
func TestBandsOfTheLayout(t *testing.T) {
	for _, tc := range []struct {
		strain string
		want   Verdict
		level  layouts.Level
	}{
		{"", SlitIt, layouts.Warn},
		{"strain: {easy: 6 %, warm: 8 %, split: 10 %}", LayCold, layouts.Note},
		{"strain: {easy: 0.1 %, warm: 0.2 %, split: 0.3 %}", LayPieces, layouts.Stop},
	} {
		laid, findings := lay(t, layoutOf(t, bulge(disc20, tc.strain)))
		assert.Equal(t, tc.want, laid[0].Advice, "%s: %v", tc.strain, laid[0].Strain)
		found := false
		for _, f := range findings {
			if f.Rule == "film-strain" {
				found = true
				assert.Equal(t, tc.level, f.Level, tc.strain)
			}
		}
		assert.True(t, found, tc.strain)
		assert.Equal(t, tc.want == SlitIt, len(laid[0].Slits) > 0, tc.strain)
	}
}

// Slits lie in waste: from the edge of the field inwards, clear of every paint
// edge, of the registration marks, and of one another.
func TestSlitsLieInWaste(t *testing.T) {
	for _, tc := range []struct{ name, figure, film string }{
		{"disc", disc20, "field: 1.5"},
		{"ring", "{discs: [{diameter: 18, colour: red}, {diameter: 12, colour: white}, {diameter: 4, colour: blue}]}", "field: 2"},
		{"letters", "{text: K4, alphabet: block-6x4, height: 15}", "field: 1.5"},
	} {
		figure := tc.figure
		if tc.name == "letters" {
			figure += "\n    colours: {text: blue}"
		}
		w := worked(t, tc.name, layoutOf(t, bulge(figure, tc.film)))
		l := w.laid[0]
		require.Equal(t, SlitIt, l.Advice, "%s: %+v", tc.name, l.Strain)
		require.Greater(t, len(l.Slits), 4, tc.name)
		painted, centre := chords(l.Painted), l.Field.Centre()
		for i, s := range l.Slits {
			assert.InDelta(t, s.From.Dist(s.To), s.Length.Inches(), 1e-9)
			assert.GreaterOrEqual(t, s.Length.Inches(), 0.25)
			assert.LessOrEqual(t, s.Closes.Inches(), SlitShare+1e-9)
			onEdge := math.Min(math.Min(s.From.X-l.Field.Min.X, l.Field.Max.X-s.From.X), math.Min(s.From.Y-l.Field.Min.Y, l.Field.Max.Y-s.From.Y))
			assert.InDelta(t, 0, onEdge, 1e-9, "%s: slit %d begins at the edge", tc.name, i)
			assert.InDelta(t, 0, s.To.Sub(s.From).Unit().Cross(centre.Sub(s.From).Unit()), 1e-9, "%s: slit %d is radial", tc.name, i)
			assert.LessOrEqual(t, s.Length.Inches(), s.From.Dist(centre)/2+1e-9)
			for k := 0; k <= 100; k++ {
				q := s.From.Lerp(s.To, float64(k)/100)
				assert.False(t, painted.Contains(q, 1e-4), "%s: slit %d at %v", tc.name, i, q)
				assert.GreaterOrEqual(t, painted.Distance(q, 1e-4), 0.125-1e-4, "%s: slit %d at %v", tc.name, i, q)
			}
			for _, o := range l.Slits[:i] {
				assert.Greater(t, s.From.Dist(o.From), 0.2)
			}
			for _, m := range w.tilings[0].Marks {
				path := g.Path{g.Polyline(s.From, s.To)}
				assert.GreaterOrEqual(t, path.Distance(m.Film, 1e-4), MarkRadius+0.125)
			}
		}
		assert.Empty(t, rules(w.findings, layouts.Stop), tc.name)
		for _, f := range w.findings {
			if f.Rule == "film-strain" {
				assert.Contains(t, f.Hint, fmt.Sprintf("%d slits", len(l.Slits)), tc.name)
			}
		}
	}
}

// The squeeze along the edge follows from the principal strains and their
// direction, and slits share what of it exceeds what the film takes.
func TestSlitPlaces(t *testing.T) {
	field := g.Rect{Min: g.Point{X: -10, Y: -5}, Max: g.Point{X: 10, Y: 5}}
	level := func(g.Point) (skin.LocalStrain, bool) {
		return skin.LocalStrain{Least: -0.03, Most: 0.01, Squeeze: g.Vec{X: -1}}, true
	}
	edge := edgeOf(field, level)
	total, round := 0.0, 0.0
	for _, p := range edge {
		total, round = total+p.squeeze*p.length, round+p.length
	}
	assert.InDelta(t, 60, round, 1e-9)
	assert.InDelta(t, 0.03*40, total, 1e-9, "the upright sides are stretched")
	// (0.03 - 0.01) x 40 in is 0.8 in, 25.6 shares of 1/32 in
	places, share := slitPlaces(edge, 0.01)
	require.Len(t, places, 26)
	assert.InDelta(t, 0.8/26, share.Inches(), 1e-12)
	for i, p := range places {
		assert.InDelta(t, 5, math.Abs(p.Y), 1e-9, "place %d", i)
	}
	count := func(edge []edgePlace, free float64) int { places, _ := slitPlaces(edge, free); return len(places) }
	assert.Zero(t, count(edge, 0.03))

	leaning := func(g.Point) (skin.LocalStrain, bool) { // at 30 degrees
		return skin.LocalStrain{Least: -0.03, Most: 0.01, Squeeze: g.Vec{X: math.Cos(math.Pi / 6), Y: 0.5}}, true
	}
	edge = edgeOf(field, leaning)
	assert.InDelta(t, 0.03*0.75-0.01*0.25, edge[0].squeeze, 1e-12)
	assert.InDelta(t, 0.03*0.25-0.01*0.75, edge[170].squeeze, 1e-12)

	// squeezed by so much that shares of 1/32 in would stand too close: 1/2 in apart
	edge = edgeOf(field, func(g.Point) (skin.LocalStrain, bool) {
		return skin.LocalStrain{Least: -0.2, Most: 0, Squeeze: g.Vec{X: 1}}, true
	})
	places, share = slitPlaces(edge, 0)
	assert.Len(t, places, 80)
	assert.InDelta(t, 0.1, share.Inches(), 1e-12)
	saddle := func(g.Point) (skin.LocalStrain, bool) {
		return skin.LocalStrain{Least: 0, Most: 0.1, Squeeze: g.Vec{X: 1}}, true
	}
	assert.Zero(t, count(edgeOf(field, saddle), 0))
	off := func(g.Point) (skin.LocalStrain, bool) { return skin.LocalStrain{}, false }
	assert.Zero(t, count(edgeOf(field, off), 0))
}

// The excess round the edge of a computed flat lies near that of a disc of least
// strain, 2 pi K r^3 / 8, of the same radius: a square has more edge, and corners
// that lie free. It lies below that of film that keeps its radii, the integral of
// K r^3 / 6 round the square, 4 K a^3 (sqrt 2 + asinh 1) / 6 (derived).
func TestSlitExcess(t *testing.T) {
	l := laidOf(t, bulge(disc20, ""))[0]
	excess := 0.0
	for _, p := range edgeOf(l.Field, l.Map.StrainAt) {
		excess += p.squeeze * p.length
	}
	const k, a = 1.0 / 800, 11.5
	assert.InDelta(t, 2*math.Pi*k*a*a*a/8, excess, 0.3*excess)
	assert.Less(t, excess, 4*k*a*a*a*(math.Sqrt2+math.Asinh(1))/6)
	assert.Greater(t, len(l.Slits), 10)
	assert.Less(t, float64(len(l.Slits)), excess/SlitShare)

	assert.Empty(t, laidOf(t, bulge("{discs: [{diameter: 6, colour: red}]}", ""))[0].Slits)
	assert.Empty(t, laidOf(t, bulge(disc20, "strain: {warm: 1 %, split: 1.5 %}"))[0].Slits)
	for _, w := range demoAndLessons(t) {
		for _, l := range w.laid {
			assert.Empty(t, l.Slits, "%s: %s", w.name, l.ID())
		}
	}
}
