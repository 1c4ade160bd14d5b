package layouts

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// ruleOf reads one rule with the given unit and parts, as a document's file has them.
func ruleOf(t testing.TB, unit, parts string) *standards.Rule {
	t.Helper()
	colours, err := standards.Palette()
	require.NoError(t, err)
	d, err := standards.ParseDocument("test.yaml", []byte("document: test\ntitle: a test\nprovenance: {kind: invented, where: this test}\nrules:\n"+
		"  - rule: one\n    nation: test\n    name: one\n    unit: "+unit+"\n    provenance: {kind: invented, where: this test}\n    parts:\n"+parts), colours)
	require.NoError(t, err)
	return d.Rules[0]
}

// aRudder is a rudder with a straight hinge line at x = 0 and a round trailing edge:
// a half ellipse, 24 in of chord and 60 in high.
func aRudder() geometry.Path {
	c := geometry.Circle(geometry.Point{}, 1)
	half, _ := geometry.Intersect(geometry.Path{c}, geometry.Path{geometry.Rectangle(geometry.Rect{Min: geometry.Point{Y: -2}, Max: geometry.Point{X: 2, Y: 2}})})
	return half.Map(func(p geometry.Point) geometry.Point { return geometry.Point{X: 24 * p.X, Y: 30 * p.Y} })
}

// tiles holds the regions of a figure against the union of its layers: their areas
// add up to its area, and no two overlap.
func tiles(t testing.TB, f Figure) []Region {
	t.Helper()
	regions, err := f.Regions()
	require.NoError(t, err)
	var all geometry.Path
	for _, l := range f.Layers {
		all, err = geometry.Union(all, l.Outline)
		require.NoError(t, err)
	}
	sum := 0.0
	for i, r := range regions {
		sum += r.Outline.Area()
		for _, q := range regions[:i] {
			both, err := geometry.Intersect(r.Outline, q.Outline)
			require.NoError(t, err)
			assert.InDelta(t, 0, both.Area(), 1e-6, "%s and %s", r.Colour, q.Colour)
		}
	}
	assert.InEpsilon(t, all.Area(), sum, 1e-6, "areas of the colours")
	return regions
}

// ellipseArea is the area of the half ellipse of aRudder from the hinge line to x, in
// a closed form.
func ellipseArea(x float64) float64 {
	u := x / 24
	return 24 * 30 * (u*math.Sqrt(1-u*u) + math.Asin(u))
}

// The rudder of the US Army from 1926: a blue upright third of the greatest chord at
// the hinge line, thirteen level stripes of equal height behind it, red uppermost
// and lowest (secondary; described at joshuanava.biz/aircraft/info-vjr.html).
const armyRudder = `
      - {part: rudder, colour: white, field: {width: 24, height: 60}}
      - {part: stripes, colour: insignia_red, in: [rudder], bands: {count: 13, first: 1, every: 2, along: 0}}
      - {part: upright, colour: insignia_blue, in: [rudder], band: {from: 0, to: 1/3, along: 90}}
`

func TestRudderStripes(t *testing.T) {
	rule := ruleOf(t, "in", armyRudder)
	f, err := InsigniaWithin(rule, 60, nil, aRudder(), 0)
	require.NoError(t, err)
	regions := tiles(t, f)
	require.Len(t, regions, 3)
	for _, r := range regions {
		if r.Colour == "insignia_blue" {
			assert.InDelta(t, 8, r.Outline.Bounds().Width(), 1e-9, "a third of 24 in")
			assert.InEpsilon(t, ellipseArea(8), r.Outline.Area(), 2e-5, "closed form; the ellipse is eight cubics")
		}
	}
	red := layer(t, f, "stripes")
	require.Len(t, red, 7, "of thirteen stripes seven are red")
	for _, c := range red {
		b := c.Bounds()
		assert.InDelta(t, 60.0/13, b.Height(), 1e-6)
	}
	assert.InDelta(t, 30, red.Bounds().Max.Y, 1e-9, "red uppermost")
	assert.InDelta(t, -30, red.Bounds().Min.Y, 1e-9, "red lowest")

	// the same rule on a card, without an aircraft
	f, err = InsigniaFigure(rule, 60, nil)
	require.NoError(t, err)
	for _, r := range tiles(t, f) {
		want := map[string]float64{"white": 16 * 60 * 6.0 / 13, "insignia_red": 16 * 60 * 7.0 / 13, "insignia_blue": 8 * 60}[r.Colour]
		assert.InDelta(t, want, r.Outline.Area(), 1e-6, r.Colour)
	}
	_, err = InsigniaWithin(ruleOf(t, "R", "      - {part: a, colour: white, disc: {radius: 1}}\n"), 60, nil, aRudder(), 0)
	assert.ErrorContains(t, err, "within")
}

// Twelve stripes of equal width across a rudder, upright or at any angle: widths to
// 1e-6, and together the whole rudder.
func TestEqualStripes(t *testing.T) {
	for _, along := range []float64{0, 90, 180, 270, 71.5, -30} {
		field := aRudder()
		stripes, err := StripesByPart(field, along, slices.Repeat([]float64{1}, 12))
		require.NoError(t, err)
		require.Len(t, stripes, 12)
		sum, low := 0.0, math.Inf(-1)
		for i, s := range stripes {
			sum += s.Area()
			b := turned(s, 90-along).Bounds()
			assert.InDelta(t, turned(field, 90-along).Bounds().Width()/12, b.Width(), 1e-6, "along %v, stripe %d", along, i+1)
			assert.Greater(t, b.Min.X, low, "counted from the left of along to its right")
			low = b.Min.X
		}
		assert.InEpsilon(t, field.Area(), sum, 1e-6)
	}
}

// Widths in inches and in parts; what is not filled stays bare.
func TestStripeWidths(t *testing.T) {
	box := geometry.Path{geometry.Rectangle(geometry.Rect{Min: geometry.Point{X: 3, Y: -1}, Max: geometry.Point{X: 27, Y: 23}})}
	stripes, err := StripesByWidth(box, 90, []geometry.Length{11, 2, 11}) // the flash of 1942 (from memory)
	require.NoError(t, err)
	for i, want := range []geometry.Rect{{Min: geometry.Point{X: 3, Y: -1}, Max: geometry.Point{X: 14, Y: 23}}, {Min: geometry.Point{X: 14, Y: -1}, Max: geometry.Point{X: 16, Y: 23}}, {Min: geometry.Point{X: 16, Y: -1}, Max: geometry.Point{X: 27, Y: 23}}} {
		assert.Equal(t, want, stripes[i].Bounds())
	}
	stripes, err = StripesByWidth(box, 0, []geometry.Length{2, 3})
	require.NoError(t, err)
	assert.Equal(t, geometry.Rect{Min: geometry.Point{X: 3, Y: 18}, Max: geometry.Point{X: 27, Y: 21}}, stripes[1].Bounds(), "from the top down")
	stripes, err = StripesByPart(box, 90, []float64{1, 2, 1})
	require.NoError(t, err)
	assert.InDelta(t, 12, stripes[1].Bounds().Width(), 1e-9)
	_, err = StripesByWidth(box, 90, []geometry.Length{1, 0})
	assert.ErrorContains(t, err, "stripe 2")
	_, err = StripesByPart(box, 90, nil)
	assert.Error(t, err)
	_, err = StripesByPart(nil, 90, []float64{1, 1, 1})
	assert.Error(t, err)
}

// Parts of other kinds: their measures are those of the documents named, or of plain
// geometry.
func TestPartKinds(t *testing.T) {
	tests := []struct {
		name, unit, parts string
		size              float64
		check             func(f Figure)
	}{
		// a saltire whose bars are a fifth of the side of its square (from memory)
		{"saltire", "D", `
      - {part: square, colour: white, box: {left: -1/2, right: 1/2, bottom: -1/2, top: 1/2}}
      - {part: bars, colour: black, in: [square], saltire: {span: 2, width: 1/5}}
`, 20, func(f Figure) {
			// two diagonals of a square of side a with width w, cut by the square: 2(sqrt2 a w - w^2/2) - w^2 (derived)
			assert.InDelta(t, 2*(math.Sqrt2*20*4-8)-16, layer(t, f, "bars").Area(), 1e-6)
		}},
		// the flag of 1920: height 2/3 of the length, wedge 1/2 of it (flag law, vlada.gov.cz, carried over)
		{"wedge", "D", `
      - {part: white, colour: white, box: {left: -1/2, right: 1/2, bottom: 0, top: 1/3}}
      - {part: red, colour: insignia_red, box: {left: -1/2, right: 1/2, bottom: -1/3, top: 0}}
      - {part: blue, colour: insignia_blue, triangle: {x1: -1/2, y1: 1/3, x2: -1/2, y2: -1/3, x3: 0, y3: 0}}
`, 36, func(f Figure) {
			assert.InDelta(t, 24, f.Bounds().Height(), 1e-9)
			assert.InDelta(t, 24*18/2, layer(t, f, "blue").Area(), 1e-9)
		}},
		// a ring broken by sectors: closed form, no document
		{"ring sectors", "R", `
      - {part: one, colour: insignia_red, ring-sector: {outer: 1, inner: 1/2, from: 10, to: 80}}
      - {part: two, colour: insignia_blue, ring-sector: {outer: 1, inner: 1/2, from: 80, to: 370}}
`, 20, func(f Figure) {
			assert.InEpsilon(t, math.Pi*75*70/360, layer(t, f, "one").Area(), 1e-5)
			assert.InEpsilon(t, math.Pi*75*290/360, layer(t, f, "two").Area(), 1e-5)
		}},
		// the upright bar of the cross over a black disc of 36 in, 8 in wide (secondary, sea rescue of 1947)
		{"bar", "D", `
      - {part: disc, colour: black, disc: {diameter: 1}}
      - {part: bar, colour: roundel_red, in: [disc], bar: {x: 0, y: 0, length: 2, width: 8/36, angle: 60}}
`, 36, func(f Figure) {
			// the part of a disc within h of a diameter: 2(h sqrt(r^2-h^2) + r^2 asin(h/r)) (derived)
			assert.InEpsilon(t, 2*(4*math.Sqrt(18*18-16)+18*18*math.Asin(4.0/18)), layer(t, f, "bar").Area(), 1e-5)
			assert.InDelta(t, 60, middleAngle(layer(t, f, "bar")), 1e-6)
		}},
		// a straight cross five times as long as its arms are wide, edged 150 mm (Fokker D.VII Anthology 2, read at epdf.mx)
		{"edged cross", "D", `
      - {part: edge, colour: white, border: {width: 150 / 25.4 / size, around: [cross]}}
      - {part: cross, colour: black, cross: {span: 1, width: 1/5}}
`, 40, func(f Figure) {
			w := 150 / 25.4
			assert.InDelta(t, 40+2*w, layer(t, f, "edge").Bounds().Width(), 1e-6)
			assert.InDelta(t, 5, layer(t, f, "cross").Bounds().Width()/8, 1e-9)
			assert.InDelta(t, 2*(40+2*w)*(8+2*w)-(8+2*w)*(8+2*w), layer(t, f, "edge").Area(), 1e-6, "mitred: another cross")
		}},
		// a star with a border, mitred at its points (derived)
		{"edged star", "R", `
      - {part: edge, colour: white, border: {width: 1/20, around: [star]}}
      - {part: star, colour: insignia_red, star: {points: 5, outer: 1, inner: (3 - sqrt(5)) / 2, first: 90}}
`, 40, func(f Figure) {
			assert.InDelta(t, 20+1/sin18, layer(t, f, "edge").Bounds().Max.Y, 1e-6, "the point goes out by the width over sin 18")
		}},
		// letters 2/3 as wide as high (block letters of 6 x 4, by the 24 in letters under the wings of the US Army)
		{"letters", "R", `
      - {part: disc, colour: insignia_blue, disc: {radius: 1}}
      - {part: letter, colour: white, letters: {text: U, alphabet: block-6x4, height: 1/2, x: 0, y: -1/4}}
`, 24, func(f Figure) {
			b := layer(t, f, "letter").Bounds()
			assert.InDelta(t, 6, b.Height(), 1e-6)
			assert.InDelta(t, 4, b.Width(), 1e-6)
			assert.InDelta(t, -3, b.Centre().Y, 1e-6)
		}},
		// stripes of true width from an edge: five bands of 18 in (secondary, airandspace.si.edu)
		{"strips", "in", `
      - {part: field, colour: white, field: {width: 90, height: 48}}
      - {part: second, colour: black, in: [field], strip: {start: 18, width: 18, along: 90}}
      - {part: fourth, colour: black, in: [field], strip: {start: 54, width: 18, along: 90}}
`, 48, func(f Figure) {
			assert.Equal(t, geometry.Rect{Min: geometry.Point{X: -27, Y: -24}, Max: geometry.Point{X: -9, Y: 24}}, layer(t, f, "second").Bounds())
			assert.InDelta(t, 9, layer(t, f, "fourth").Bounds().Min.X, 1e-9)
		}},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			f, err := InsigniaFigure(ruleOf(t, tc.unit, tc.parts), geometry.Length(tc.size), nil)
			require.NoError(t, err)
			tiles(t, f)
			tc.check(f)
		})
	}
}

// middleAngle is the direction of the longest straight side of a region, degrees.
func middleAngle(p geometry.Path) float64 {
	best, angle := 0.0, 0.0
	for i, s := range p[0].Segments {
		if v := s.End.Sub(p[0].From(i)); s.Kind == geometry.Line && v.Norm() > best {
			best, angle = v.Norm(), math.Mod(math.Atan2(v.Y, v.X)*180/math.Pi+180, 180)
		}
	}
	return angle
}

// Letters of a handed figure move to the other side and stay readable.
func TestLettersAreNotMirrored(t *testing.T) {
	f, err := InsigniaFigure(ruleOf(t, "in", `
      - {part: box, colour: white, box: {left: -10, right: 20, bottom: -5, top: 5}}
      - {part: letter, colour: black, letters: {text: R, alphabet: block-6x4, height: 6, x: 15, y: 0}}
`), 10, nil)
	require.NoError(t, err)
	f.Handed = Handed
	right := f.For(geometry.Right)
	assert.InDelta(t, -20, right.Bounds().Min.X, 1e-9)
	b := layer(t, right, "letter").Bounds()
	assert.InDelta(t, -15, b.Centre().X, 1e-6)
	assert.InDelta(t, layer(t, f, "letter").Moved(geometry.Vec{X: -30}).Area(), layer(t, right, "letter").Area(), 1e-9)
	moved, err := geometry.Intersect(layer(t, f, "letter").Moved(geometry.Vec{X: -30}), layer(t, right, "letter"))
	require.NoError(t, err)
	assert.InDelta(t, layer(t, right, "letter").Area(), moved.Area(), 1e-6, "the same R, moved")
}

// What cannot be drawn is said with the rule and the part.
func TestPartKindsRefuse(t *testing.T) {
	field := "      - {part: field, colour: white, field: {width: 24, height: 30}}\n"
	for _, tc := range []struct{ parts, say string }{
		{field + "      - {part: a, colour: black, in: [field], band: {from: 1/2, to: 1/2, along: 0}}\n", "far edge"},
		{field + "      - {part: a, colour: black, in: [field], bands: {count: 3, first: 4, every: 2, along: 0}}\n", "number 4 of 3"},
		{"      - {part: a, colour: black, ring-sector: {outer: 2, inner: 2, from: 0, to: 90}}\n", "inner radius"},
		{"      - {part: a, colour: black, ring-sector: {outer: 2, inner: 1, from: 90, to: 90}}\n", "above 0"},
		{"      - {part: a, colour: black, triangle: {x1: 0, y1: 0, x2: 1, y2: 1, x3: 2, y3: 2}}\n", "enclose nothing"},
		{"      - {part: a, colour: black, letters: {text: U, alphabet: block-9x9, height: 1, x: 0, y: 0}}\n", "block-9x9"},
		{"      - {part: b, colour: white, border: {width: 1, around: [field]}}\n" + field, "no border goes around field"},
	} {
		_, err := InsigniaFigure(ruleOf(t, "in", tc.parts), 30, nil)
		assert.ErrorContains(t, err, tc.say)
	}
}
