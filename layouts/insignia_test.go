package layouts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

func insignia(t testing.TB, rule string, size geometry.Length, options ...OptionChoice) Figure {
	t.Helper()
	r, err := standards.Find(rule)
	require.NoError(t, err)
	f, err := InsigniaFigure(r, size, options)
	require.NoError(t, err)
	return f
}

func layer(t testing.TB, f Figure, part string) geometry.Path {
	t.Helper()
	for _, l := range f.Layers {
		if l.Part == part {
			return l.Outline
		}
	}
	t.Fatalf("%s has no part %s", f.ID, part)
	return nil
}

func dimension(t testing.TB, f Figure, part, name string) geometry.Length {
	t.Helper()
	for _, d := range f.Dimensions {
		if d.Part == part && d.Name == name {
			return d.Length
		}
	}
	t.Fatalf("%s has no %s.%s", f.ID, part, name)
	return 0
}

// The disc of all checks: 40 in, R = 20 in.
const (
	discSize = 40 * geometry.Inch
	radiusIn = 20.0
)

var sin18, cos18 = math.Sin(math.Pi / 10), math.Cos(math.Pi / 10)

// Published ratios against what is drawn. The bars are AN-I-9b Amendment 2, para
// D-1, 16 January 1947, copied out at ourairports.biz/?p=6096.
func TestStarAndBarsMeasures(t *testing.T) {
	f := insignia(t, "an-i-9b/star-and-bars", discSize)
	bars, stripe, border, disc := layer(t, f, "bars").Bounds(), layer(t, f, "stripe").Bounds(), layer(t, f, "border").Bounds(), layer(t, f, "disc").Bounds()
	star := layer(t, f, "star").Bounds()
	tests := []struct {
		what      string
		got, want float64
	}{
		{"bar length along its upper edge, 1 R", bars.Max.X - radiusIn*cos18, 20},
		{"bar width, 1/2 R", bars.Height(), 10},
		{"border beyond the bar's end, 1/8 R", border.Max.X - bars.Max.X, 2.5},
		{"border beyond the disc, 1/8 R", border.Max.Y - disc.Max.Y, 2.5},
		{"border below the disc, 1/8 R", disc.Min.Y - border.Min.Y, 2.5},
		{"red stripe, 1/6 R", stripe.Height(), 20.0 / 6},
		{"white above the stripe, a third of the bar", bars.Max.Y - stripe.Max.Y, 10.0 / 3},
		{"white below the stripe, a third of the bar", stripe.Min.Y - bars.Min.Y, 10.0 / 3},
		{"stripe ends with the bar", stripe.Max.X, bars.Max.X},
		{"bar top, in line with the side points of the star", bars.Max.Y, radiusIn * sin18},
		// the worked example, D = 40 in (derived)
		{"bar top", bars.Max.Y, 6.180339887498949},
		{"bar bottom", bars.Min.Y, -3.819660112501051},
		{"bar middle", bars.Centre().Y, 1.180339887498949},
		{"bar end", bars.Max.X, 39.02113032590307},
		{"span with border", border.Width(), 4.152113032590307 * radiusIn},
		{"height with border", border.Height(), 2.25 * radiusIn},
		{"star width, the chord of two points", star.Width(), 1.902113032590307 * radiusIn},
		{"star top", star.Max.Y, radiusIn},
		{"star bottom", star.Min.Y, -0.809016994374947 * radiusIn},
	}
	for _, tc := range tests {
		assert.InDelta(t, tc.want, tc.got, 1e-9, tc.what)
	}
	// the border leaves the disc at the outer radius 22.5 in
	for _, q := range layer(t, f, "border")[0].Flattened(0.01) {
		r := math.Hypot(q.X, q.Y)
		onBars := math.Abs(q.X) > 20 && (math.Abs(q.Y-8.680339887498949) < 1e-9 || math.Abs(q.Y+6.319660112501051) < 1e-9 || math.Abs(math.Abs(q.X)-41.52113032590307) < 1e-9)
		assert.True(t, onBars || math.Abs(r-22.5) < 22.5*5e-6, "border node %v is neither on the circle nor on the grown bars", q)
	}

	// the other reading of the bar's length
	f = insignia(t, "an-i-9b/star-and-bars", discSize, OptionChoice{"bar-length", "from-tangent"})
	assert.InDelta(t, 2*radiusIn, layer(t, f, "bars").Bounds().Max.X, 1e-9)
	assert.InDelta(t, 4.25*radiusIn, f.Bounds().Width(), 1e-9)
}

func TestStar(t *testing.T) {
	f := insignia(t, "us-star/disc-1942", discSize)
	s := layer(t, f, "star")
	assert.InDelta(t, 1.12256994144896*radiusIn*radiusIn, s.Area(), 1e-9) // 5 r sin 36, r = (3-sqrt5)/2 (derived)
	assert.InDelta(t, 0.726542528, s[0].From(0).Dist(s[0].From(1))/radiusIn, 1e-9)
	// edges in line: the edge lines of a pentagram pass at sin 18 from the centre
	for i := range s[0].Segments {
		a, b := s[0].From(i), s[0].Segments[i].End
		assert.InDelta(t, sin18*radiusIn, math.Abs(geometry.Vec(a).Cross(b.Sub(a)))/a.Dist(b), 1e-9)
	}
	for _, q := range layer(t, f, "disc")[0].Flattened(0.001) {
		assert.InEpsilon(t, radiusIn, math.Hypot(q.X, q.Y), 2e-6)
	}
}

func TestRedCentre(t *testing.T) {
	for choice, want := range map[string]float64{"": 12.36067977499790, "inscribed": 12.36067977499790, "through-corners": 15.27864045000420, "third": 40.0 / 3} {
		var o []OptionChoice
		if choice != "" {
			o = append(o, OptionChoice{"centre", choice})
		}
		f := insignia(t, "us-star/disc-1919", discSize, o...)
		assert.InDelta(t, want, layer(t, f, "centre").Bounds().Width(), 1e-9, choice)
	}
}

// Diameters of roundels at an overall diameter that makes them whole inches.
// Ratios: modelmarkings.com (A to C1), from memory (D), avionslegendaires.net
// (France); sizes C1 36 in and A1 35 in from memory agree.
func TestRoundels(t *testing.T) {
	tests := []struct {
		rule string
		want []float64 // inches, largest first
	}{
		{"raf-roundel/a", []float64{50, 30, 10}},
		{"raf-roundel/a1", []float64{35, 25, 15, 5}},
		{"raf-roundel/b", []float64{56, 22.4}},
		{"raf-roundel/c", []float64{32, 16, 12}},
		{"raf-roundel/c1", []float64{36, 32, 16, 12}},
		{"raf-roundel/d", []float64{36, 24, 12}},
		{"french-roundel/thirds", []float64{36, 24, 12}},
	}
	for _, tc := range tests {
		f := insignia(t, tc.rule, geometry.Length(tc.want[0]))
		require.Len(t, f.Layers, len(tc.want), tc.rule)
		for i, l := range f.Layers {
			assert.InDelta(t, tc.want[i], l.Outline.Bounds().Width(), 1e-9, tc.rule)
			assert.InDelta(t, tc.want[i]/2, f.Dimensions[i].Length.Inches(), 1e-12, tc.rule)
		}
	}
}

func TestChevron(t *testing.T) {
	f := insignia(t, "hcf-order-12/insignia", 20*geometry.Inch) // R = 10 in
	require.Equal(t, Handed, f.Handed)
	c := layer(t, f, "chevron")[0]
	assert.InDelta(t, 10, dimension(t, f, "chevron", "arm").Inches(), 1e-12)
	require.Len(t, c.Segments, 6)
	assert.Positive(t, c.Area())
	assert.InDelta(t, 10, c.From(0).Dist(c.From(1)), 1e-12, "arm")
	assert.InDelta(t, 1.6, c.From(1).Dist(c.From(2)), 1e-12, "width at the end")
	assert.InDelta(t, 0, c.From(1).Sub(c.From(0)).Dot(c.From(2).Sub(c.From(1))), 1e-12, "ends cut square")
	assert.InDelta(t, 0, c.From(1).Sub(c.From(0)).Dot(c.From(5).Sub(c.From(0))), 1e-12, "right angle at the point")
	// two arms 10 in and 8.4 in long on their edges, 1.6 in wide
	assert.InDelta(t, 2*1.6*(10+8.4)/2, c.Area(), 1e-12)
	for _, q := range c.Flattened(1) {
		assert.Less(t, math.Hypot(q.X, q.Y), 9.0, "within the disc, with blue around")
	}

	old := insignia(t, "hcf-order-12@issue-1/insignia", 20*geometry.Inch)
	assert.InDelta(t, 5, dimension(t, old, "chevron", "arm").Inches(), 1e-12, "the misprint")
}

func TestInsigniaRefuses(t *testing.T) {
	r, err := standards.Find("an-i-9b/star-and-bars")
	require.NoError(t, err)
	for _, size := range []geometry.Length{0, -1, geometry.Length(math.NaN()), 1201} {
		_, err = InsigniaFigure(r, size, nil)
		assert.Error(t, err, "%v", size)
	}
	_, err = InsigniaFigure(r, 40, []OptionChoice{{"bar-lenght", "from-arc"}})
	assert.ErrorContains(t, err, "bar-length")
	_, err = InsigniaFigure(r, 40, []OptionChoice{{"bar-length", "from-star"}})
	assert.ErrorContains(t, err, "from-tangent")
	_, err = InsigniaFigure(r, 40, []OptionChoice{{"bar-length", "from-arc"}, {"bar-length", "from-arc"}})
	assert.Error(t, err)
	r, err = standards.Find("14-cfr-45/29")
	require.NoError(t, err)
	_, err = InsigniaFigure(r, 40, nil)
	assert.ErrorContains(t, err, "lettering")
	_, err = chevron(0, 0.1, 0.2, 90)
	assert.ErrorContains(t, err, "too short")
}
