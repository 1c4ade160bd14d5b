package proportions

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

func ruleOf(t testing.TB, id string) *standards.Rule {
	t.Helper()
	r, err := standards.Find(id)
	require.NoError(t, err)
	return r
}

// at40 is the drawing of the worked example, R = 20 in, moved and turned.
var at40 = style{scale: 20, turn: 0.4, move: geometry.Vec{X: 31, Y: -12}}

func fixed() *rand.Rand { return rand.New(rand.NewPCG(1, 2)) }

func checksOf(t testing.TB, rule string, drawing geometry.Path, o Options) []Check {
	t.Helper()
	rec, err := Recognise(drawing, ruleOf(t, rule), o)
	require.NoError(t, err)
	return rec.Checks
}

func checkOf(t testing.TB, checks []Check, dimension string) Check {
	t.Helper()
	i := slices.IndexFunc(checks, func(c Check) bool { return c.Dimension() == dimension })
	require.GreaterOrEqual(t, i, 0, "no check of %s", dimension)
	return checks[i]
}

// The worked example of AN-I-9b Amendment 2, para D-1 (ratios read at
// ourairports.biz/?p=6096, lengths derived): D = 40 in, so bars of 20 by 10 in,
// border 2.5 in, stripe 3.3333 in, bar's top 6.1803 in above the centre.
func TestWorkedExample(t *testing.T) {
	for _, disjoint := range []bool{false, true} {
		s := at40
		s.disjoint = disjoint
		checks := checksOf(t, "an-i-9b/star-and-bars", s.drawn(rightBars().layers(8, true), fixed()), Options{Size: 40 * geometry.Inch, Marking: "star"})
		for _, tc := range []struct {
			dimension       string
			inches, ratio   float64
			unit            standards.Unit
			canStop, circle bool
		}{
			{"size", 40, 1, "", true, false},
			{"disc.radius", 20, 1, "R", true, true},
			{"bars.length", 20, 1, "R", true, false},
			{"bars.width", 10, 0.5, "R", true, false},
			{"bars.top", 6.1803, 0.309017, "R", true, false},
			{"border.width", 2.5, 0.125, "R", true, false},
			{"stripe.width", 3.3333, 1.0 / 6, "R", true, false},
			{"stripe.centre", 0, 0, "R", false, false}, // from memory
			{"star.outer", 20, 1, "R", true, true},
			{"star.inner", 7.6393, 0.381966, "R", true, true},
		} {
			c := checkOf(t, checks, tc.dimension)
			assert.InDelta(t, tc.inches, c.Measured.Inches(), 0.001, tc.dimension)
			assert.InDelta(t, tc.inches, c.Expected.Inches(), 0.0001, tc.dimension)
			assert.InDelta(t, tc.ratio, c.Ratio, 5e-5, tc.dimension)
			assert.InDelta(t, tc.ratio, c.ExpectedRatio, 1e-6, tc.dimension)
			assert.Equal(t, tc.unit, c.Unit, tc.dimension)
			assert.Equal(t, tc.canStop, c.CanStop, tc.dimension)
			assert.Equal(t, Conforms, c.Verdict, tc.dimension)
			assert.Less(t, c.Residual.Inches(), 0.001, tc.dimension)
			assert.Equal(t, "star", c.Marking)
			if tc.dimension != "size" {
				assert.Equal(t, "AN-I-9b Amendment 2, aircraft insignia, national star, 1947-01-16, para D-1", c.Text)
				length := c.Line[0].Dist(c.Line[1])
				assert.InDelta(t, tc.inches, length, 0.01, "%s: the dimension line is as long as the dimension", tc.dimension)
			}
		}
		assert.Empty(t, Findings("", checks))
	}
}

// Wrong drawings of the trade, each named with the right value.
func TestKnownErrors(t *testing.T) {
	const rule = "an-i-9b/star-and-bars"
	half := rightBars()
	half.length = 0.5 // T.O. 07-1-1 of 25 April 1944, read at ourairports.biz/?p=6064
	tangent := rightBars()
	tangent.end = 2 // the other reading of the length's datum: ends at 2 R
	centred := rightBars()
	centred.top = 0.25
	third := rightBars()
	third.stripe = 1.0 / 3 // R/3
	twelfth := rightBars()
	twelfth.stripe = 1.0 / 12
	thin := rightBars()
	thin.border = 1.0 / 16
	wide := rightBars()
	wide.border = 1.0 / 6
	fat := rightBars()
	fat.inner = 0.45
	small := rightBars()
	small.disc = 0.95
	for _, tc := range []struct {
		name, dimension string
		draw            starAndBars
		ratio, want     float64
		verdict         Verdict
		other, hint     string
		level           layouts.Level
	}{
		{"half-radius bars", "bars.length", half, 0.5, 1, Superseded, "T.O. 07-1-1 of 25 April 1944 (1/2 R), corrected by T.O. 07-1-1A of 29 May 1944", "", layouts.Warn},
		{"length from the tangent", "bars.length", tangent, 2 - math.Cos(math.Pi/10), 1, Conforms, "from-tangent", "", layouts.Note},
		{"centred bars", "bars.top", centred, 0.25, 0.309017, Unexplained, "", "the bar is centred", layouts.Stop},
		{"stripe of R/3", "stripe.width", third, 1.0 / 3, 1.0 / 6, Unexplained, "", "it is R/3", layouts.Stop},
		{"stripe of D/12... of R", "stripe.width", twelfth, 1.0 / 12, 1.0 / 6, Unexplained, "", "half the right one", layouts.Stop},
		{"border of R/16", "border.width", thin, 1.0 / 16, 1.0 / 8, Unexplained, "", "half the right one", layouts.Stop},
		{"border of R/6", "border.width", wide, 1.0 / 6, 1.0 / 8, Unexplained, "", "", layouts.Stop},
		{"fat star", "star.inner", fat, 0.45, 0.381966, Unexplained, "", "", layouts.Stop},
	} {
		for _, disjoint := range []bool{false, true} {
			s := at40
			s.disjoint = disjoint
			checks := checksOf(t, rule, s.drawn(tc.draw.layers(8, true), fixed()), Options{})
			assert.Equal(t, []string{tc.dimension}, raised(checks), tc.name)
			c := checkOf(t, checks, tc.dimension)
			assert.InDelta(t, tc.ratio, c.Ratio, 2e-4, tc.name)
			assert.InDelta(t, tc.want, c.ExpectedRatio, 1e-6, tc.name)
			assert.InDelta(t, (tc.ratio-tc.want)*20, c.Difference.Inches(), 4e-3, tc.name)
			assert.Equal(t, tc.verdict, c.Verdict, tc.name)
			assert.Contains(t, c.Other, tc.other, tc.name)
			assert.Contains(t, c.Hint, tc.hint, tc.name)
			f := Findings("", checks)
			require.Len(t, f, 1, tc.name)
			assert.Equal(t, tc.level, f[0].Level, tc.name)
			assert.Equal(t, ProportionRule, f[0].Rule, tc.name)
		}
	}
}

// With the governing disc itself wrong, star, bars and border outvote it.
func TestWrongDiscIsOutvoted(t *testing.T) {
	s := rightBars()
	layers := s.layers(8, true)
	for i, l := range layers {
		if l.Part == "disc" {
			layers[i].Outline = geometry.Path{circleOf(0.95, 8)}
		}
	}
	rec, err := Recognise(at40.drawn(layers, fixed()), ruleOf(t, "an-i-9b/star-and-bars"), Options{})
	require.NoError(t, err)
	assert.InDelta(t, 20, rec.Radius.Inches(), 0.01)
	assert.InDelta(t, 0.95, checkOf(t, rec.Checks, "disc.radius").Ratio, 1e-3)
	assert.Contains(t, raised(rec.Checks), "disc.radius")
	assert.NotContains(t, raised(rec.Checks), "bars.length")
	assert.NotContains(t, raised(rec.Checks), "star.outer")
}

// A star that leans, or stands on its head, against the bars; a border round the
// bars only, which warns.
func TestStarAndBorderMisplaced(t *testing.T) {
	turned := func(a float64) []layouts.Layer {
		layers := rightBars().layers(8, true)
		sin, cos := math.Sincos(a)
		star := &layers[len(layers)-1]
		star.Outline = star.Outline.Map(func(p geometry.Point) geometry.Point { return at(p.X*cos-p.Y*sin, p.X*sin+p.Y*cos) })
		return layers
	}
	const rule = "an-i-9b/star-and-bars"
	checks := checksOf(t, rule, at40.drawn(turned(0.1), fixed()), Options{})
	assert.Equal(t, []string{"star.first"}, raised(checks))
	assert.InDelta(t, 90+0.1*180/math.Pi, checkOf(t, checks, "star.first").Ratio, 0.01)
	checks = checksOf(t, rule, at40.drawn(turned(math.Pi), fixed()), Options{})
	assert.Equal(t, []string{"bars.top"}, raised(checks))
	assert.Contains(t, checkOf(t, checks, "bars.top").Hint, "on its head")

	layers := rightBars().layers(8, true)
	checks = checksOf(t, rule, at40.drawn(layers[1:], fixed()), Options{})
	f := Findings("", checks)
	require.Len(t, f, 1)
	assert.Equal(t, layouts.Warn, f[0].Level)
	assert.Contains(t, f[0].Message, "the border does not go round the disc")
}

// One end of one bar wrong: the side is named.
func TestOneSideWrong(t *testing.T) {
	layers := rightBars().layers(8, true)
	for i, l := range layers {
		if l.Part == "bars" {
			b := l.Outline.Bounds()
			layers[i].Outline = geometry.Path{boxOf(b.Min.X, b.Min.Y, b.Max.X-0.05, b.Max.Y)}
		}
	}
	var what []string
	s := style{scale: 20}
	for _, c := range checksOf(t, "an-i-9b/star-and-bars", s.drawn(layers, fixed()), Options{}) {
		if c.Verdict != Conforms {
			what = append(what, c.What)
		}
	}
	assert.Contains(t, what, "length of the right bar")
	assert.NotContains(t, what, "length of the left bar")
	assert.Contains(t, what, "width of the border at the end of the right bar")
	assert.NotContains(t, what, "width of the border above the bars")
}

// The invented Order 12: issue 1 has an arm of half the radius.
func TestSupersededIssue(t *testing.T) {
	c := rightCourier()
	c.arm = 0.5
	s := at40
	for _, s.disjoint = range []bool{false, true} {
		checks := checksOf(t, "hcf-order-12/insignia", s.drawn(c.layers(8), fixed()), Options{})
		assert.Equal(t, []string{"chevron.arm"}, raised(checks))
		arm := checkOf(t, checks, "chevron.arm")
		assert.Equal(t, Superseded, arm.Verdict)
		assert.Contains(t, arm.Other, "HCF Order 12, issue 1")
		assert.InDelta(t, 10, arm.Measured.Inches(), 1e-3)
		angle := checkOf(t, checks, "chevron.angle")
		assert.InDelta(t, 90, angle.Ratio, 1e-6)
		assert.InDelta(t, 20*math.Pi/2, angle.Measured.Inches(), 1e-3)
	}
}

// The size that was asked for is a finding of its own, and no proportion suffers.
func TestWrongSize(t *testing.T) {
	checks := checksOf(t, "an-i-9b/star-and-bars", at40.drawn(rightBars().layers(8, true), fixed()), Options{Size: 40 * geometry.Millimetre})
	assert.Equal(t, []string{"size"}, raised(checks))
	assert.InDelta(t, 25.4, checks[0].Ratio, 1e-4)
	f := Findings("", checks)
	require.Len(t, f, 1)
	assert.Equal(t, SizeRule, f[0].Rule)
	assert.Equal(t, layouts.Stop, f[0].Level)
}

// Evidence turns a stop into a note, and says which.
func TestEvidence(t *testing.T) {
	wide := rightBars()
	wide.border = 0.15
	o := Options{Marking: "star", Explains: []layouts.Explained{{Dimension: "border.width", Evidence: []string{"E-3"}}, {Dimension: "bars.length", Evidence: []string{"E-4"}}}}
	checks := checksOf(t, "an-i-9b/star-and-bars", at40.drawn(wide.layers(8, true), fixed()), o)
	c := checkOf(t, checks, "border.width")
	assert.Equal(t, OnFile, c.Verdict)
	assert.Equal(t, []string{"E-3"}, c.Evidence)
	f := Findings("", checks)
	require.Len(t, f, 1)
	assert.Equal(t, layouts.Note, f[0].Level)
	assert.Contains(t, f[0].Message, "E-3")
	assert.Contains(t, f[0].Message, "so too every place of it")
}

// What is from memory is a note, and what a secondary work says warns: type D is from
// memory, type A from Camouflage and Markings, Northern Europe 1936-45, nos. 3 and 5.
func TestWhatASourceMayDo(t *testing.T) {
	for rule, want := range map[string]layouts.Level{"raf-roundel/d": layouts.Note, "raf-roundel/a": layouts.Warn} {
		middle, centre := 0.7, 1.0/3
		if rule == "raf-roundel/a" {
			middle, centre = 0.63, 1.0/5
		}
		checks := checksOf(t, rule, at40.drawn(rings(8, 1, middle, centre), fixed()), Options{})
		assert.Equal(t, []string{"white.diameter"}, raised(checks))
		f := Findings("", checks)
		require.Len(t, f, 1)
		assert.Equal(t, want, f[0].Level, rule)
	}
}

// Readings of the centre of the star of 1919, Bowers at legendsintheirowntime.com:
// inscribed, or through the corners.
func TestReadings(t *testing.T) {
	draw := func(centre float64) geometry.Path {
		layers := []layouts.Layer{
			{Part: "disc", Colour: "blue", Outline: geometry.Path{circleOf(1, 8)}},
			{Part: "star", Colour: "white", Outline: geometry.Path{rightStar().contour()}},
			{Part: "centre", Colour: "red", Outline: geometry.Path{circleOf(centre, 8)}},
		}
		s := at40
		s.disjoint = true
		return s.drawn(layers, fixed())
	}
	const rule = "us-star/disc-1919"
	assert.Empty(t, raised(checksOf(t, rule, draw(math.Sin(math.Pi/10)), Options{})))
	c := checkOf(t, checksOf(t, rule, draw(rightStar().inner), Options{}), "centre.radius")
	assert.Equal(t, Conforms, c.Verdict)
	assert.Contains(t, c.Other, "through-corners")
	c = checkOf(t, checksOf(t, rule, draw(rightStar().inner), Options{Picks: []standards.Pick{{Option: "centre", Choice: "through-corners"}}}), "centre.radius")
	assert.Equal(t, Conforms, c.Verdict)
	assert.Empty(t, c.Other)
	assert.Equal(t, Unexplained, checkOf(t, checksOf(t, rule, draw(0.36), Options{}), "centre.radius").Verdict)
}

func notRecognised(t testing.TB, rule string, drawing geometry.Path) *NotRecognised {
	t.Helper()
	_, err := Recognise(drawing, ruleOf(t, rule), Options{})
	var e *NotRecognised
	require.True(t, errors.As(err, &e), "%s: %v", rule, err)
	return e
}

func TestNotRecognised(t *testing.T) {
	const bars = "an-i-9b/star-and-bars"
	rng := rand.New(rand.NewPCG(7, 7))
	var scribble geometry.Path
	for range 30 {
		var pts []geometry.Point
		for range 3 + rng.IntN(8) {
			pts = append(pts, at(40*rng.Float64(), 30*rng.Float64()))
		}
		scribble = append(scribble, geometry.Polygon(pts...))
	}
	var bubbles geometry.Path
	for range 12 {
		c := circleOf(1+4*rng.Float64(), 4)
		v := geometry.Vec{X: 40 * rng.Float64(), Y: 30 * rng.Float64()}
		bubbles = append(bubbles, c.Map(func(p geometry.Point) geometry.Point { return p.Add(v) }))
	}
	for name, drawing := range map[string]geometry.Path{"nothing": nil, "scribble": scribble, "bubbles": bubbles, "dot": {geometry.Polygon(at(1, 1), at(1, 1))},
		"not a number": {geometry.Polygon(at(math.NaN(), 1), at(1, 1), at(2, 3))}} {
		for _, rule := range []string{bars, "hcf-order-12/insignia", "raf-roundel/a"} {
			e := notRecognised(t, rule, drawing)
			assert.NotEmpty(t, e.Missing, name)
			assert.Nil(t, e.Better, name)
		}
	}

	// Insignia of another rule: the better one is named.
	roundel := at40.drawn(rings(8, 1, 0.6, 0.2), fixed())
	e := notRecognised(t, bars, roundel)
	assert.Equal(t, "raf-roundel/a", e.Better.ID)
	assert.Equal(t, []string{"bars", "stripe", "star"}, filter(e.Missing, "bars", "stripe", "star"))
	assert.Equal(t, "raf-roundel/a", notRecognised(t, "french-roundel/thirds", roundel).Better.ID)
	assert.Equal(t, "raf-roundel/c1", notRecognised(t, "raf-roundel/c", at40.drawn(rings(8, 1, 8.0/9, 4.0/9, 3.0/9), fixed())).Better.ID, "the outer ring is left over")
	plain := at40.drawn(rightBars().layers(8, false), fixed())
	assert.True(t, strings.HasSuffix(notRecognised(t, bars, plain).Better.ID, "-border"), "1943, held against 1947: no stripe")
	assert.Equal(t, bars, notRecognised(t, "an-i-9a@amendment-1/blue-border", at40.drawn(rightBars().layers(8, true), fixed())).Better.ID, "1947, held against 1943: a stripe is left over")
	old := at40.drawn([]layouts.Layer{{Part: "disc", Outline: geometry.Path{circleOf(1, 8)}}, {Part: "star", Outline: geometry.Path{rightStar().contour()}}}, fixed())
	assert.Equal(t, "us-star/disc-1942", notRecognised(t, bars, old).Better.ID)

	_, err := Recognise(roundel, ruleOf(t, "14-cfr-45/29"), Options{})
	assert.ErrorContains(t, err, "lettering")
}

func filter(list []string, keep ...string) []string {
	var out []string
	for _, s := range list {
		if slices.Contains(keep, s) {
			out = append(out, s)
		}
	}
	return out
}

// A part left out of an insignia that no other rule describes is a check of its own.
func TestPartLeftOut(t *testing.T) {
	s := rightBars()
	s.border = 0
	checks := checksOf(t, "an-i-9b/star-and-bars", at40.drawn(s.layers(8, true), fixed()), Options{})
	assert.Equal(t, []string{"border"}, raised(checks))
	f := Findings("", checks)
	require.Len(t, f, 1)
	assert.Equal(t, layouts.Stop, f[0].Level)
	assert.Contains(t, f[0].Message, "the border is not in the drawing")
	checks = checksOf(t, "an-i-9b/star-and-bars", at40.drawn(s.layers(8, true), fixed()), Options{Explains: []layouts.Explained{{Dimension: "border", Evidence: []string{"E-1"}}}})
	assert.Equal(t, OnFile, checkOf(t, checks, "border").Verdict)
}

func TestNearest(t *testing.T) {
	var rules []*standards.Rule
	for _, id := range []string{"raf-roundel/a", "raf-roundel/d", "french-roundel/thirds", "14-cfr-45/29", "an-i-9b/star-and-bars"} {
		rules = append(rules, ruleOf(t, id))
	}
	near, err := nearest(trace(at40.drawn(rings(8, 3, 2, 1), fixed())), rules, Options{})
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(near), 2)
	assert.Equal(t, "raf-roundel/d", near[0].Rule.ID)
	assert.True(t, near[0].whole())
	assert.Equal(t, "french-roundel/thirds", near[1].Rule.ID)
	assert.False(t, slices.ContainsFunc(near, func(a attempt) bool { return a.Rule.ID == "an-i-9b/star-and-bars" }))
}

// Every rule known, drawn by the program's own figure in its own paints, conforms:
// on either side of the aircraft and whichever reading is taken.
func TestOfFigure(t *testing.T) {
	docs, err := standards.Documents()
	require.NoError(t, err)
	for _, d := range docs {
		for _, r := range d.Rules {
			if !Measurable(r) {
				continue
			}
			picks := [][]standards.Pick{nil}
			for _, o := range r.Options {
				for _, c := range o.Choices {
					picks = append(picks, []standards.Pick{{Option: o.Name, Choice: c.Name}})
				}
			}
			for _, p := range picks {
				var options []layouts.OptionChoice
				for _, o := range p {
					options = append(options, layouts.OptionChoice(o))
				}
				fig, err := layouts.InsigniaFigure(r, 20*geometry.Inch, options)
				require.NoError(t, err)
				for _, side := range []geometry.Side{geometry.Left, geometry.Right} {
					if side == geometry.Right && fig.Handed != layouts.Handed {
						continue // the same drawing
					}
					drawn := fig.For(side).Moved(geometry.Vec{X: 3, Y: 5})
					regions, err := drawn.Regions()
					require.NoError(t, err)
					checks, err := OfFigure(drawn, regions, Options{Size: 20 * geometry.Inch, Picks: p})
					require.NoError(t, err, "%s %v", r.ID, p)
					assert.Empty(t, raised(checks), "%s %v", r.ID, p)
					assert.Greater(t, len(checks), len(r.Parts), r.ID)
				}
			}
		}
	}
}

// Twice the same, to the last bit, whatever order the contours stand in.
func TestSameEveryTime(t *testing.T) {
	s := at40
	s.extras, s.noise, s.dense = true, 0.004, 0.02
	drawing := s.drawn(rightBars().layers(8, true), fixed())
	a := checksOf(t, "an-i-9b/star-and-bars", drawing, Options{})
	assert.Equal(t, a, checksOf(t, "an-i-9b/star-and-bars", drawing, Options{}))
}

func BenchmarkRecognise_starAndBars(b *testing.B) {
	s := at40
	s.disjoint, s.extras = true, true
	drawing, rule := s.drawn(rightBars().layers(8, true), fixed()), ruleOf(b, "an-i-9b/star-and-bars")
	for b.Loop() {
		if _, err := Recognise(drawing, rule, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
