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
)

// otherKind is a way in which drawings come, right or wrong, that is none of the ten
// kinds of fault: how it is made, and what must be said; nothing where it is right.
type otherKind struct {
	name  string
	forms []string
	make  func(t *testing.T, layers []faultLayer, rng *rand.Rand) (drawn []Drawn, part string, words []string)
}

func asLayers(layers []faultLayer) (out []Drawn) {
	for _, l := range layers {
		out = append(out, Drawn{Path: l.outline, Fill: l.fill, EvenOdd: true})
	}
	return out
}

func indexOf(t *testing.T, layers []faultLayer, part string) int {
	i := slices.IndexFunc(layers, func(l faultLayer) bool { return l.part == part })
	require.GreaterOrEqual(t, i, 0, part)
	return i
}

func without(t *testing.T, layers []faultLayer, part string, area geometry.Path) []faultLayer {
	out := slices.Clone(layers)
	i := indexOf(t, layers, part)
	rest, err := geometry.Subtract(out[i].outline, area)
	require.NoError(t, err)
	out[i].outline = rest
	return out
}

func boxed(x0, y0, x1, y1 float64) geometry.Path {
	return geometry.Path{geometry.Rectangle(geometry.Rect{Min: geometry.Point{X: x0, Y: y0}, Max: geometry.Point{X: x1, Y: y1}})}
}

var (
	barForms  = []string{"an-i-9b/star-and-bars", "an-i-9a@amendment-1/blue-border", "an-i-9a/red-border"}
	starForms = []string{"us-star/disc-1942", "us-star/disc-1919", "an-i-9b/star-and-bars"}
	anyForms  = []string{"an-i-9b/star-and-bars", "raf-roundel/c1", "raf-roundel/a1", "french-roundel/thirds", "german-cross/wide", "us-star/disc-1942", "hcf-order-12/insignia", "belgian-roundel/thirds"}
	discForms = []string{"raf-roundel/a1", "raf-roundel/c1", "french-roundel/thirds", "belgian-roundel/thirds", "raf-roundel/a", "raf-roundel/c"}
)

var otherKinds = []otherKind{
	{"half a bar", barForms, func(t *testing.T, layers []faultLayer, rng *rand.Rand) ([]Drawn, string, []string) {
		x := 1.2 + 0.5*rng.Float64()
		area := boxed(x, -2, 4, 2)
		if rng.IntN(2) == 0 {
			area = boxed(-4, -2, -x, 2)
		}
		return asLayers(without(t, layers, "bars", area)), "bars", []string{"not there", "of its area"}
	}},
	{"star points missing", starForms, func(t *testing.T, layers []faultLayer, rng *rand.Rand) ([]Drawn, string, []string) {
		for range 1 + rng.IntN(3) {
			a := math.Pi/2 + 2*math.Pi/5*float64(rng.IntN(5))
			s, c := math.Sincos(a)
			at := geometry.Point{X: c, Y: s}
			layers = without(t, layers, "star", geometry.Path{geometry.Circle(at, 0.45)})
		}
		return asLayers(layers), "star", []string{"not there", "of its area"}
	}},
	{"the second is wrong", anyForms, func(t *testing.T, layers []faultLayer, rng *rand.Rand) ([]Drawn, string, []string) {
		second := slices.Clone(layers)
		i := len(second) - 1
		part := second[i].part
		if len(second) == 2 { // either is wrong against the other
			part = ""
		}
		k := 0.93
		second = mapLayer(second, i, func(p geometry.Point) geometry.Point { return geometry.Point{X: k * p.X, Y: k * p.Y} })
		return append(asLayers(layers), placedAt(asLayers(second), 1, 0, geometry.Vec{X: 6})...), part, nil
	}},
	{"two colours changed over", discForms, func(t *testing.T, layers []faultLayer, rng *rand.Rand) ([]Drawn, string, []string) {
		out := slices.Clone(layers)
		i := rng.IntN(len(out) - 1)
		out[i].fill, out[i+1].fill = out[i+1].fill, out[i].fill
		return asLayers(out), out[i].part, []string{"must be", "it is drawn to"}
	}},
	{"a ring more", discForms, func(t *testing.T, layers []faultLayer, rng *rand.Rand) ([]Drawn, string, []string) {
		r := 1.08 + 0.1*rng.Float64()
		return append([]Drawn{{Path: geometry.Path{geometry.Circle(geometry.Point{}, r)}, Fill: inks[Green]}}, asLayers(layers)...), "", []string{"not part of the rule", "it is drawn to"}
	}},
	{"outlines with a piece missing", barForms, func(t *testing.T, layers []faultLayer, rng *rand.Rand) ([]Drawn, string, []string) {
		list, err := faultWriters[3].write(without(t, layers, "bars", boxed(1.3+0.3*rng.Float64(), -2, 4, 2)))
		require.NoError(t, err)
		return list, "bars", []string{"not there", "edge", "length"}
	}},
	{"outlines with a part missing", []string{"raf-roundel/a1", "an-i-9b/star-and-bars", "german-cross/wide", "us-star/disc-1919"}, func(t *testing.T, layers []faultLayer, rng *rand.Rand) ([]Drawn, string, []string) {
		i := len(layers) - 1
		part := layers[i].part
		list, err := faultWriters[3].write(layers[:i])
		require.NoError(t, err)
		return list, part, []string{"not in the drawing", "not there", "it is drawn to", "missing"}
	}},
	{"the star on its head", []string{"an-i-9b/star-and-bars", "an-i-9a/red-border"}, func(t *testing.T, layers []faultLayer, rng *rand.Rand) ([]Drawn, string, []string) {
		return asLayers(mapLayer(layers, indexOf(t, layers, "star"), func(p geometry.Point) geometry.Point { return geometry.Point{X: p.X, Y: -p.Y} })), "bars", []string{"upper edge"} // the hint says that the star stands on its head
	}},
	{"right: rounded to 0.01 of an inch, edges apart", anyForms, func(t *testing.T, layers []faultLayer, rng *rand.Rand) ([]Drawn, string, []string) {
		out := asLayers(layers)
		for i := range out {
			var path geometry.Path
			for _, c := range out[i].Path {
				b := geometry.MoveTo(c.Start)
				for k, s := range c.Segments { // each cut in two
					for _, half := range [][2]float64{{0, 0.5}, {0.5, 1}} {
						g := c.SubSegment(k, half[0], half[1]).Segments[0]
						if s.Kind == geometry.Line {
							b.LineTo(g.End)
						} else {
							b.CubicTo(g.C1, g.C2, g.End)
						}
					}
				}
				path = append(path, b.Open().Map(func(p geometry.Point) geometry.Point {
					return geometry.Point{X: math.Round(2000*p.X) / 2000, Y: math.Round(2000*p.Y) / 2000}
				}))
			}
			out[i].Path = path
		}
		return out, "", nil
	}},
	{"right: white left to the page, a frame and lettering about", []string{"french-roundel/thirds", "raf-roundel/a", "an-i-9b/star-and-bars", "us-star/disc-1942"}, func(t *testing.T, layers []faultLayer, rng *rand.Rand) ([]Drawn, string, []string) {
		var out []Drawn
		list, err := faultWriters[1].write(layers)
		require.NoError(t, err)
		for _, d := range list {
			if d.Fill != inks[White] {
				out = append(out, d)
			}
		}
		out = append(out, Drawn{Path: boxed(-4, -3, 4, 3), Stroke: "#000000", Width: 0.01})
		for i := range 20 {
			x := -3 + 0.2*float64(i)
			out = append(out, Drawn{Path: boxed(x, -2.8, x+0.1, -2.6), Fill: "#000000"})
		}
		return out, "", nil
	}},
}

// Forty drawings of ten other kinds, each at a size, a place and mostly a turn of its own:
// what is wrong is named, and no right one is blamed. The faults are made on outlines.
func TestOtherKinds(t *testing.T) {
	for n := range 40 {
		k := otherKinds[n%len(otherKinds)]
		rng := rand.New(rand.NewPCG(*seed, uint64(70_000+n)))
		id := k.forms[rng.IntN(len(k.forms))]
		rule := ruleOf(t, id)
		drawn, part, words := k.make(t, faultLayers(t, rule), rng)
		scale, turn := math.Exp(1+2*rng.Float64()), 2*math.Pi*rng.Float64()
		if hangs, err := hangsOnSize(rule, nil); hangs || err != nil {
			scale = 20
		}
		if strings.HasPrefix(k.name, "the star") || n%3 == 0 {
			turn = 0
		}
		about := fmt.Sprintf("seed %d, drawing %d: %s of %s", *seed, n, k.name, id)
		in, err := Inspect(placedAt(drawn, scale, turn, geometry.Vec{X: 50 * rng.Float64(), Y: 50 * rng.Float64()}), rule, Options{})
		var said []string
		if err != nil {
			said = []string{err.Error()}
		} else {
			for _, r := range in.Found {
				for _, c := range r.Checks {
					if c.deviates() {
						text := c.Said
						if text == "" {
							text = c.What
						}
						said = append(said, c.Dimension()+": "+text)
					}
				}
			}
			said = append(said, in.Beside...)
		}
		if strings.HasPrefix(k.name, "right") {
			assert.Empty(t, said, about)
			continue
		}
		ok := slices.ContainsFunc(said, func(s string) bool {
			named := part == "" || strings.HasPrefix(s, part) || err != nil && strings.Contains(s, part) || strings.Contains(s, "it is drawn to") && slices.Contains(words, "it is drawn to")
			return named && (words == nil || slices.ContainsFunc(words, func(w string) bool { return strings.Contains(s, w) }))
		})
		assert.True(t, ok, "%s: %s", about, strings.Join(said, "\n"))
		assert.LessOrEqual(t, len(said), 4, "%s: %s", about, strings.Join(said, "\n"))
	}
}
