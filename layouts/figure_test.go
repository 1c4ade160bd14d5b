package layouts

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// everyInsignia draws every rule that has parts, with every choice of every
// option in turn.
func everyInsignia(t testing.TB, size geometry.Length, do func(name string, f Figure)) {
	t.Helper()
	docs, err := standards.Documents()
	require.NoError(t, err)
	for _, d := range docs {
		for _, r := range d.Rules {
			if len(r.Parts) == 0 {
				continue
			}
			var choices [][]OptionChoice
			for _, o := range r.Options {
				for _, c := range o.Choices {
					choices = append(choices, []OptionChoice{{o.Name, c.Name}})
				}
			}
			if choices == nil {
				choices = append(choices, nil)
			}
			for _, c := range choices {
				f, err := InsigniaFigure(r, size, c)
				require.NoError(t, err, r.ID)
				name := d.ID + ", " + r.Name
				if c != nil {
					name += ", " + c[0].Choice
				}
				do(name, f)
			}
		}
	}
}

// The regions tile the union of the layers and do not overlap, and a point shows
// the colour of the last layer that holds it.
func TestRegionsTile(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	everyInsignia(t, 37.3, func(name string, f Figure) {
		left := 0.0 // what is not painted counts as a paint of its own here
		for i, l := range f.Layers {
			if l.Colour == standards.Unpainted {
				f.Layers[i].Colour, left = "finish", 1
			}
		}
		regions, err := f.Regions()
		require.NoError(t, err, name)
		if left > 0 {
			f.Layers = slices.Clone(f.Layers)
			for i := range f.Layers {
				if f.Layers[i].Colour == "finish" {
					f.Layers[i].Colour = standards.Unpainted
				}
			}
			painted, err := f.Regions()
			require.NoError(t, err, name)
			require.Len(t, painted, len(regions)-1, "the aircraft's own finish is no region")
			for i := range f.Layers {
				if f.Layers[i].Colour == standards.Unpainted {
					f.Layers[i].Colour = "finish"
				}
			}
		}
		var union geometry.Path
		for _, l := range f.Layers {
			union, err = geometry.Union(union, l.Outline)
			require.NoError(t, err, name)
		}
		sum := 0.0
		for i, r := range regions {
			sum += r.Outline.Area()
			assert.Positive(t, r.Outline.Area(), name)
			for _, q := range regions[:i] {
				both, err := geometry.Intersect(r.Outline, q.Outline)
				require.NoError(t, err)
				assert.InDelta(t, 0, both.Area(), 1e-9*union.Area(), "%s: %s and %s overlap", name, r.Colour, q.Colour)
			}
		}
		assert.InEpsilon(t, union.Area(), sum, 1e-9, name)

		b := f.Bounds()
		for range 100 {
			q := geometry.Point{X: b.Min.X + rng.Float64()*b.Width(), Y: b.Min.Y + rng.Float64()*b.Height()}
			want, near := "", false
			for _, l := range f.Layers {
				near = near || l.Outline.Distance(q, 1e-3) < 5e-3
				if l.Outline.Contains(q, 1e-3) {
					want = l.Colour
				}
			}
			if near {
				continue
			}
			got := ""
			for _, r := range regions {
				if r.Outline.Contains(q, 1e-3) {
					got += r.Colour
				}
			}
			require.Equal(t, want, got, "%s at %v", name, q)
		}
	})
}

// Areas in closed form (derived). R = 10 in; the circle of cubics is 1e-6 too
// large, which bounds the tolerance.
func TestRegionAreas(t *testing.T) {
	const r2 = 100.0
	starArea := 1.12256994144896 * r2
	// circular segment above y = h of the unit circle, and half-plane slices
	segment := func(h float64) float64 { return math.Acos(h) - h*math.Sqrt(1-h*h) }
	top, bottom, width := sin18, sin18-0.5, 0.125
	slice := math.Pi - segment(top) - segment(-bottom) // of the disc between the bar's edges
	end := cos18 + 1
	barsShown := 2*end*0.5 - slice
	grownSlice := func() float64 { // of the grown disc between the grown bar's edges
		r := 1 + width
		return r * r * (math.Pi - segment((top+width)/r) - segment(-(bottom-width)/r))
	}()
	whole := math.Pi*(1+width)*(1+width) + 2*(end+width)*(0.5+2*width) - grownSlice

	tests := []struct {
		rule string
		want map[string]float64
	}{
		{"us-star/disc-1942", map[string]float64{"insignia_blue": math.Pi*r2 - starArea, "insignia_white": starArea}},
		{"us-star/disc-1919", map[string]float64{
			"insignia_blue": math.Pi*r2 - starArea, "insignia_red": math.Pi * sin18 * sin18 * r2, "insignia_white": starArea - math.Pi*sin18*sin18*r2}},
		{"an-i-9a/red-border", map[string]float64{
			"insignia_red": (whole - math.Pi - barsShown) * r2, "insignia_blue": math.Pi*r2 - starArea, "insignia_white": starArea + barsShown*r2}},
		{"an-i-9a/blue-border", map[string]float64{
			"insignia_blue": (whole-barsShown)*r2 - starArea, "insignia_white": starArea + barsShown*r2}},
		{"raf-roundel/c1", map[string]float64{
			"golden_yellow": math.Pi * r2 * (1 - 64.0/81), "roundel_blue": math.Pi * r2 * 48 / 81, "white": math.Pi * r2 * 7 / 81, "roundel_red": math.Pi * r2 / 9}},
	}
	for _, tc := range tests {
		f := insignia(t, tc.rule, 20)
		regions, err := f.Regions()
		require.NoError(t, err)
		require.Len(t, regions, len(tc.want), tc.rule)
		for _, r := range regions {
			assert.InEpsilon(t, tc.want[r.Colour], r.Outline.Area(), 2e-5, "%s %s", tc.rule, r.Colour)
		}
	}
}

// With a border in the disc's own blue the two are one region without a seam:
// no outline runs where the disc's edge lies on the border.
func TestBlueBorderHasNoSeam(t *testing.T) {
	regions, err := insignia(t, "an-i-9a/blue-border", 20).Regions()
	require.NoError(t, err)
	require.Equal(t, "insignia_blue", regions[0].Colour)
	assert.Equal(t, []string{"border", "disc"}, regions[0].Parts)
	assert.Greater(t, regions[0].Outline.Distance(polar(10, 54), 1e-4), 1.0)
	assert.Less(t, regions[0].Outline.Distance(polar(10, 0), 1e-4), 1e-4, "the bar begins at the disc")
}

func TestFor(t *testing.T) {
	f := insignia(t, "hcf-order-12/insignia", 20)
	left, right := f.For(geometry.Left), f.For(geometry.Right)
	assert.Equal(t, f, left)
	// the nose is at the left hand on the left side, at the right hand on the right
	assert.InDelta(t, -3.2, layer(t, left, "chevron").Bounds().Min.X, 1e-12)
	assert.InDelta(t, 3.2, layer(t, right, "chevron").Bounds().Max.X, 1e-12)
	for i := range f.Layers {
		assert.InDelta(t, f.Layers[i].Outline.Area(), right.Layers[i].Outline.Area(), 1e-12, "orientation is kept")
	}
	assert.InDelta(t, -3.2, layer(t, f, "chevron").Bounds().Min.X, 1e-12, "f itself is not changed")
	for _, h := range []Handedness{Symmetric, Text} {
		f.Handed = h
		assert.Equal(t, f, f.For(geometry.Right), h)
	}

	moved := f.Moved(geometry.Vec{X: 3, Y: -4})
	assert.InDelta(t, f.Bounds().Min.X+3, moved.Bounds().Min.X, 1e-12)
	assert.InDelta(t, f.Bounds().Max.Y-4, moved.Bounds().Max.Y, 1e-12)
}

func TestDiscsFigure(t *testing.T) {
	f, err := DiscsFigure([]DiscSpec{{Diameter: 18, Colour: "blue"}, {Diameter: 12, Colour: "white"}, {Diameter: 6, Colour: "blue"}})
	require.NoError(t, err)
	regions, err := f.Regions()
	require.NoError(t, err)
	require.Len(t, regions, 2)
	assert.Equal(t, []string{"disc-1", "disc-3"}, regions[0].Parts)
	assert.InEpsilon(t, math.Pi*(81-36+9), regions[0].Outline.Area(), 1e-5)
	assert.InEpsilon(t, math.Pi*(36-9), regions[1].Outline.Area(), 1e-5)

	for _, bad := range [][]DiscSpec{nil, {{Diameter: 0}}, {{Diameter: 5}, {Diameter: 5}}, {{Diameter: geometry.Length(math.NaN())}}} {
		_, err := DiscsFigure(bad)
		assert.Error(t, err)
	}
}

// A colour that is painted over throughout has no region.
func TestRegionsLeaveOutTheCovered(t *testing.T) {
	square := func(half float64) geometry.Path {
		return geometry.Path{geometry.Rectangle(geometry.Rect{Min: geometry.Point{X: -half, Y: -half}, Max: geometry.Point{X: half, Y: half}})}
	}
	f := Figure{Layers: []Layer{{Part: "under", Colour: "red", Outline: square(1)}, {Part: "over", Colour: "white", Outline: square(2)}}}
	regions, err := f.Regions()
	require.NoError(t, err)
	require.Len(t, regions, 1)
	assert.Equal(t, "white", regions[0].Colour)
	assert.InDelta(t, 16, regions[0].Outline.Area(), 1e-12)
}
