package proportions

import (
	"fmt"
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

// sketch is a drawing of straight-edged insignia with one edge wrong by a part of
// the narrowest that it bounds; 0 draws it right. Numbers in governing radii, from
// the words of the documents and not through the figures of the program.
type sketch struct {
	rule  string
	wrong []string   // dimensions that the edge belongs to
	alike [][]string // and of the edges that outlines without paints do not tell from it
	draw  func(by float64) []layouts.Layer
	size  float64 // inches: for drawings at true size; 0: any
	most  float64 // largest error drawn, as a part
}

func crossOf(span, width float64) geometry.Contour {
	s, w := span/2, width/2
	return geometry.Polygon(at(s, -w), at(s, w), at(w, w), at(w, s), at(-w, s), at(-w, w), at(-s, w), at(-s, -w), at(-w, -w), at(-w, -s), at(w, -s), at(w, -w))
}

func sectorOf(radius, from, to float64) geometry.Contour {
	b := geometry.MoveTo(at(0, 0)).LineTo(polar(radius, from))
	step := (to - from) / 8
	k := 4.0 / 3 * math.Tan(step/4) * radius
	v := func(a float64) geometry.Vec { return geometry.Vec{X: -math.Sin(a), Y: math.Cos(a)}.Scale(k) }
	for i := range 8 {
		u, w := from+step*float64(i), from+step*float64(i+1)
		b.CubicTo(polar(radius, u).Add(v(u)), polar(radius, w).Add(v(w).Scale(-1)), polar(radius, w))
	}
	return b.Close()
}

func layerOf(part, colour string, c geometry.Contour) layouts.Layer {
	return layouts.Layer{Part: part, Colour: colour, Outline: geometry.Path{c}}
}

// names tells whether the dimensions raised are those of the wrong edge: on the side
// it was drawn, or on one that looks the same.
func (k sketch) names(got []string) bool {
	if len(got) == 0 {
		return false
	}
	for _, side := range append([][]string{k.wrong}, k.alike...) {
		if !slices.ContainsFunc(got, func(g string) bool { return !slices.Contains(side, g) }) {
			return true
		}
	}
	return false
}

// checkerOf is the checker of 1930 (primidi.com): four fields, each with a border
// of the other colour; half the side is 1, and the fields reach to in, on the left
// to left.
func checkerOf(in, left float64) []layouts.Layer {
	return []layouts.Layer{
		layerOf("ul", "white", boxOf(-1, 0, 0, 1)), layerOf("ur", "red", boxOf(0, 0, 1, 1)), layerOf("lr", "white", boxOf(0, -1, 1, 0)), layerOf("ll", "red", boxOf(-1, -1, 0, 0)),
		layerOf("UL", "red", boxOf(-left, 0, 0, in)), layerOf("UR", "white", boxOf(0, 0, in, in)), layerOf("LR", "red", boxOf(0, -in, in, 0)), layerOf("LL", "white", boxOf(-left, -in, 0, 0)),
	}
}

// flashOf draws stripes of a height between the places given, inches.
func flashOf(height float64, x ...float64) []layouts.Layer {
	var out []layouts.Layer
	for i := 1; i < len(x); i++ {
		out = append(out, layerOf(fmt.Sprint(i), []string{"red", "white", "blue"}[i%3], boxOf(2*x[i-1]/height, -1, 2*x[i]/height, 1)))
	}
	return out
}

func sketches() []sketch {
	const core, flank, edge = 0.5, 1.0, 1.1 // en.wikipedia.org/wiki/Balkenkreuz: core a quarter of the span; the rest from memory
	cross := func(span, a, b, c float64) []layouts.Layer {
		return []layouts.Layer{layerOf("edge", "black", crossOf(2, c)), layerOf("flank", "white", crossOf(2, b)), layerOf("core", "black", crossOf(span, a))}
	}
	border := 2 * 50 / 25.4 / 24 // 5 cm (archeolask.pl) of a side of 24 in
	sectors := func(a, b, c, centre float64) []layouts.Layer {
		d := math.Pi / 180
		return []layouts.Layer{
			layerOf("red", "red", sectorOf(1, a*d, b*d)), layerOf("white", "white", sectorOf(1, (c-360)*d, a*d)), layerOf("blue", "blue", sectorOf(1, b*d, c*d)),
			layerOf("centre", "orange", circleOf(centre, 8)),
		}
	}
	sides := [][]string{
		{"field-upper-right.right", "field-lower-right.right"}, {"field-upper-left.top", "field-upper-right.top"}, {"field-lower-left.bottom", "field-lower-right.bottom"},
	}
	return []sketch{
		{rule: "german-cross/wide", most: 0.04, wrong: []string{"core.width"}, draw: func(by float64) []layouts.Layer { return cross(2, core*(1+by), flank, edge) }},
		{rule: "german-cross/wide", most: 0.04, wrong: []string{"flank.width"}, draw: func(by float64) []layouts.Layer { return cross(2, core, flank*(1+by), edge) }},
		{rule: "german-cross/wide", most: 0.08, wrong: []string{"core.span"}, draw: func(by float64) []layouts.Layer { return cross(2*(1-math.Abs(by)), core, flank, edge) }},
		{rule: "german-cross/narrow", most: 0.1, wrong: []string{"core.width"}, draw: func(by float64) []layouts.Layer {
			return []layouts.Layer{layerOf("flank", "white", crossOf(2, 0.7)), layerOf("core", "black", crossOf(2, core*(1+by)))}
		}},
		{rule: "polish-checker/1930", most: 0.1, wrong: []string{"field-upper-left.left", "field-lower-left.left"}, alike: sides, draw: func(by float64) []layouts.Layer { return checkerOf(1-1.0/6, (1-1.0/6)*(1+by)) }},
		{rule: "polish-checker/1921", most: 0.05, size: 24, wrong: []string{"field-upper-left.left", "field-lower-left.left"}, alike: sides, draw: func(by float64) []layouts.Layer { return checkerOf(1-border, (1-border)*(1+by)) }},
		{rule: "raf-fin-flash/1942", most: 0.1, size: 24, wrong: []string{"white.right", "blue.left"}, alike: [][]string{{"red.right", "white.left"}}, draw: func(by float64) []layouts.Layer { return flashOf(24, -12, -1, 1+2*by, 12) }},
		{rule: "raf-fin-flash/1940", most: 0.1, size: 27, wrong: []string{"red.left"}, alike: [][]string{{"blue.right"}}, draw: func(by float64) []layouts.Layer { return flashOf(27, -12-8*by, -4, 4, 12) }},
		{rule: "invasion-stripes/single-engine", most: 0.1, size: 60, wrong: []string{"band-2.right", "band-3.left"}, alike: [][]string{{"band-3.right", "band-4.left"}}, draw: func(by float64) []layouts.Layer { return flashOf(60, -45, -27, -9+18*by, 9, 27, 45) }},
		{rule: "dutch-markings/sectors", most: 0.06, wrong: []string{"white.to", "blue.from"}, alike: [][]string{{"white.from", "red.to"}, {"red.from", "blue.to"}}, draw: func(by float64) []layouts.Layer { return sectors(90, 210, 330+120*by, 1.0/3) }},
		{rule: "dutch-markings/sectors", most: 0.1, wrong: []string{"centre.radius"}, draw: func(by float64) []layouts.Layer { return sectors(90, 210, 330, (1+by)/3) }},
	}
}

// Each kind of sketch drawn right and with one edge wrong by 1 % and more, in any
// style: of the wrong ones that edge and no other is named, of the right ones none.
func TestRandomShapes(t *testing.T) {
	rng := rand.New(rand.NewPCG(*seed, 2))
	named, sound, all := 0, 0, 0
	var misses []string
	for i := range 3 * len(sketches()) {
		k := sketches()[i%len(sketches())]
		by := (0.012 + (k.most-0.012)*rng.Float64()) * float64(1-2*rng.IntN(2))
		s, _ := anyStyle(rng)
		if k.size > 0 {
			s.scale = k.size / 2
		}
		all++
		for _, by := range []float64{0, by} {
			about := fmt.Sprintf("drawing %d: %s, %v by %.4f, %+v", i, k.rule, k.wrong, by, s)
			rec, err := Recognise(s.drawn(k.draw(by), rng), ruleOf(t, k.rule), Options{})
			got := []string{fmt.Sprint(err)}
			if err == nil {
				got = raised(rec.Checks)
				assert.InDelta(t, s.scale, rec.Radius.Inches(), 0.005*s.scale, about)
			}
			switch {
			case by == 0 && len(got) == 0:
				sound++
			case by != 0 && k.names(got):
				named++
			default:
				misses = append(misses, fmt.Sprintf("%s: raised %v", about, got))
			}
		}
	}
	t.Logf("seed %d: named %d, sound %d of %d; not so: %s", *seed, named, sound, all, strings.Join(misses, "\n"))
	assert.Equal(t, all, sound)
	assert.GreaterOrEqual(t, named, all*97/100)
}

// A flash is in inches whatever its height, from memory ("24 in square, stripes of
// 11, 2 and 11 in"): lengths and ratios are inches, and what is remembered is
// a note. With the height said, another height is the size and the boxes' ends.
func TestInches(t *testing.T) {
	s := style{scale: 12, turn: 0.3}
	drawing := s.drawn(flashOf(24, -12, -1, 1.5, 12), fixed())
	checks := checksOf(t, "raf-fin-flash/1942", drawing, Options{})
	c := checkOf(t, checks, "white.right")
	assert.InDelta(t, 1.5, c.Measured.Inches(), 1e-3)
	assert.InDelta(t, 1.5, c.Ratio, 1e-3)
	assert.InDelta(t, 1, c.ExpectedRatio, 1e-9)
	assert.Equal(t, standards.Inches, c.Unit)
	assert.False(t, c.CanStop)
	for _, f := range Findings("", checks) {
		assert.Equal(t, layouts.Note, f.Level)
		assert.NotContains(t, f.Message, "in (", "inches are said once: %s", f.Message)
	}

	high := s.drawn(flashOf(24, -12, -1, 1, 12), fixed())
	checks = checksOf(t, "raf-fin-flash/1942", high, Options{Size: 23 * geometry.Inch})
	assert.Contains(t, raised(checks), "size")
	c = checkOf(t, checks, "size")
	assert.InDelta(t, 24, c.Measured.Inches(), 1e-3)
	assert.Contains(t, c.What, "height")
	assert.InDelta(t, 11, checkOf(t, checks, "blue.right").Measured.Inches()-checkOf(t, checks, "blue.left").Measured.Inches(), 1e-3)
	assert.NotContains(t, raised(checks), "blue.right")
}

// A surround of 75 mm whatever the disc (from memory): its ratio hangs on the size,
// which the drawing tells where it is not said.
func TestNumbersThatHangOnSize(t *testing.T) {
	for _, diameter := range []float64{12, 30, 48} {
		draw := func(width float64) geometry.Path {
			s := style{scale: 1, move: geometry.Vec{X: 9, Y: 4}}
			return s.drawn(rings(8, diameter/2+width, diameter/2), fixed())
		}
		checks := checksOf(t, "japanese-disc/white-surround", draw(75/25.4), Options{})
		assert.Empty(t, raised(checks))
		c := checkOf(t, checks, "surround.width")
		assert.InDelta(t, 75/25.4, c.Measured.Inches(), 2e-3, diameter)
		assert.InDelta(t, 75/25.4, c.Expected.Inches(), 2e-3, diameter)
		c = checkOf(t, checksOf(t, "japanese-disc/white-surround", draw(3.2), Options{}), "surround.width")
		assert.Equal(t, Unexplained, c.Verdict, diameter)
		assert.InDelta(t, 3.2, c.Measured.Inches(), 2e-3, diameter)
	}
}

// On dark ground disc and border are not painted (AN-I-9b Amendment 2, para D-1):
// neither is missing, and arcs of the disc, where the bars meet it, are measured.
func TestUnpainted(t *testing.T) {
	dark := []standards.Pick{{Option: "ground", Choice: "dark"}}
	b := rightBars()
	b.border = 0
	regions, err := layouts.Figure{Layers: b.layers(40, true)}.Regions()
	require.NoError(t, err)
	var drawing geometry.Path
	for _, r := range regions {
		if r.Colour != "blue" {
			drawing = append(drawing, r.Outline...)
		}
	}
	rec, err := Recognise(style{scale: 20, turn: 1}.drawn([]layouts.Layer{{Outline: drawing}}, fixed()), ruleOf(t, "an-i-9b/star-and-bars"), Options{Picks: dark})
	require.NoError(t, err)
	assert.Empty(t, rec.Missing)
	assert.Empty(t, raised(rec.Checks))
	assert.InDelta(t, 20, checkOf(t, rec.Checks, "disc.radius").Measured.Inches(), 0.01)
	assert.False(t, slices.ContainsFunc(rec.Checks, func(c Check) bool { return c.Part == "border" }))
	assert.InDelta(t, 20, checkOf(t, rec.Checks, "bars.length").Measured.Inches(), 0.01)
}

// A triangle, corners on the circle (ghostsofthepacific.blogspot.com): regular, or
// not, to 2 % of the radius.
func TestTriangle(t *testing.T) {
	draw := func(off float64) geometry.Path {
		return at40.drawn([]layouts.Layer{layerOf("t", "orange", geometry.Polygon(polar(1, -math.Pi/2), polar(1, math.Pi/6), polar(1+off, 5*math.Pi/6)))}, fixed())
	}
	assert.Empty(t, raised(checksOf(t, "dutch-markings/triangle", draw(0), Options{})))
	assert.Contains(t, raised(checksOf(t, "dutch-markings/triangle", draw(0.02), Options{})), "triangle.points")
}
