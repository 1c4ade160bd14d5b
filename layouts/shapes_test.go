package layouts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

func area(t *testing.T, id string, size geometry.Length, colour string, options ...OptionChoice) float64 {
	t.Helper()
	rule, err := standards.Find(id)
	require.NoError(t, err)
	f, err := InsigniaFigure(rule, size, options)
	require.NoError(t, err)
	regions, err := f.Regions()
	require.NoError(t, err)
	for _, r := range regions {
		if r.Colour == colour {
			return r.Outline.Area()
		}
	}
	return 0
}

// Areas in closed form (derived): crosses, boxes, sectors, polygons.
func TestShapeAreas(t *testing.T) {
	cross := func(s, w float64) float64 { return 2*s*w - w*w }
	assert.InDelta(t, cross(40, 10)+cross(40, 22)-cross(40, 20), area(t, "german-cross/wide", 40, "black"), 1e-9)
	assert.InDelta(t, cross(40, 20)-cross(40, 10), area(t, "german-cross/wide", 40, "white"), 1e-9)
	span := 40 * 20.0 / 32
	assert.InDelta(t, cross(span, span*6/20), area(t, "swiss-cross/disc", 40, "white"), 1e-9)

	// three sectors of 120 degrees less the centre; circles of cubics are 1e-6 too large
	third := math.Pi * (20*20 - 20.0*20/9) / 3
	for _, colour := range []string{"dutch_red", "white", "dutch_blue"} {
		assert.InEpsilon(t, third, area(t, "dutch-markings/sectors", 40, colour), 2e-6, colour)
	}
	assert.InEpsilon(t, 3*math.Sqrt(3)/4*20*20, area(t, "dutch-markings/triangle", 40, "orange"), 1e-12)

	// the checker is half red, half white, whatever its border
	for _, id := range []string{"polish-checker/1918", "polish-checker/1921", "polish-checker/1930", "polish-law-2019-1351/checker"} {
		assert.InDelta(t, 800, area(t, id, 40, "polish_red"), 1e-9, id)
		assert.InDelta(t, 800, area(t, id, 40, "white"), 1e-9, id)
	}
	assert.InDelta(t, 3*18*60, area(t, "invasion-stripes/single-engine", 60, "insignia_white"), 1e-9)
	assert.InDelta(t, 2*18*60, area(t, "invasion-stripes/single-engine", 60, "black"), 1e-9)
	assert.InDelta(t, 8*27, area(t, "raf-fin-flash/1940", 27, "roundel_red"), 1e-9)
	assert.InDelta(t, math.Pi*((20+75/25.4)*(20+75/25.4)-400), area(t, "japanese-disc/white-surround", 40, "white"), 1e-2)

	// on dark ground the star and the bars alone are painted
	light := area(t, "an-i-9b/star-and-bars", 40, "insignia_white")
	dark := OptionChoice{"ground", "dark"}
	assert.InDelta(t, light, area(t, "an-i-9b/star-and-bars", 40, "insignia_white", dark), 1e-9)
	assert.Zero(t, area(t, "an-i-9b/star-and-bars", 40, "insignia_blue", dark))
}

// Areas of the rim of the checker and of the subdued insignia in closed form
// (derived).
func TestRims(t *testing.T) {
	// overall side 2.4 fields; the rim a sixth of a field (read: primidi.com)
	field, side := 40/2.4, 40.0
	grey := OptionChoice{"rim", "grey"}
	assert.InDelta(t, (side+field/3)*(side+field/3)-side*side, area(t, "polish-law-2019-1351/checker", 40, "polish_grey", grey), 1e-9)
	assert.Zero(t, area(t, "polish-law-2019-1351/checker", 40, "polish_grey"))
	assert.InDelta(t, 800, area(t, "polish-law-2019-1351/checker", 40, "white", grey), 1e-9)
	assert.InDelta(t, side, insignia(t, "polish-law-2019-1351/checker", 40).Bounds().Width(), 1e-12, "a rim left out takes no room")

	// subdued, what is blue from 1943 is painted and the rest is bare
	blue := area(t, "an-i-9a/blue-border", 40, "insignia_blue")
	assert.InDelta(t, blue, area(t, "us-star/subdued", 40, "subdued_grey"), 1e-9)
	stripe := area(t, "an-i-9b/star-and-bars", 40, "insignia_red")
	assert.InDelta(t, blue+stripe, area(t, "us-star/subdued", 40, "subdued_grey", OptionChoice{"stripe", "with"}), 1e-9)
}

// Red leads on both sides: the left side's reader has the nose at his left hand.
func TestFinFlashLeadsRed(t *testing.T) {
	rule, err := standards.Find("raf-fin-flash/1942")
	require.NoError(t, err)
	f, err := InsigniaFigure(rule, 24, nil)
	require.NoError(t, err)
	left, right := f.For(geometry.Left), f.For(geometry.Right)
	assert.Negative(t, left.Layers[0].Outline.Bounds().Centre().X)
	assert.Positive(t, right.Layers[0].Outline.Bounds().Centre().X)
	assert.Equal(t, "red", left.Layers[0].Part)
}

func TestShapesRefuse(t *testing.T) {
	_, err := cross(4, 4)
	assert.ErrorContains(t, err, "not less than its span")
	_, err = sector(1, 0, 360)
	assert.ErrorContains(t, err, "below 360")
	_, err = ngon(2, 1, 0)
	assert.ErrorContains(t, err, "2 corners")
}
