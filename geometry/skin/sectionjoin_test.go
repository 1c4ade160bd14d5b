package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// A square duct of 20 in with corners of radius 1 runs into a circle of radius 10 over
// 40 in, ruled. Half way each line is at the mean of its ends (by hand): the lines of
// the tangent points end on the circle where the same part of the girth lies above them.
// The half girth of the square is 40 - 4 r + pi r with r = 1, that of the circle 10 pi.
func TestSquareToRound(t *testing.T) {
	square, circle := RoundedRectangleSection{10, 60, 40, 1}, CircleSection{10, 50}
	for _, sections := range [][]FairedSection{{{0, square}, {40, circle}}, {{0, circle}, {40, square}}} {
		s, err := NewFairedSkin(sections, Fairing{Law: Ruled})
		require.NoError(t, err)
		girth := 36 + math.Pi
		for k, c := range []struct {
			part, x, z float64 // of the girth above it, and the point of the square
		}{{0, 0, 60}, {9, 9, 60}, {9 + math.Pi/2, 10, 59}, {27 + math.Pi/2, 10, 41}, {27 + math.Pi, 9, 40}, {girth, 0, 40}} {
			sin, cos := math.Sincos(math.Pi * c.part / girth)
			uv := UV{20, float64(k)}
			p, _ := s.At(uv, UV{20, math.Max(0.5, float64(k)-0.5)})
			assert.InDelta(t, (c.x+10*sin)/2, p.Y, 1e-9, "%d", k)
			assert.InDelta(t, (c.z+50+10*cos)/2, p.Z, 1e-9, "%d", k)
		}
		// both ends are their own sections to the last point
		for i, sec := range sections {
			want, err := sec.Curve.half()
			require.NoError(t, err)
			length := 0.0
			for _, p := range want.pieces {
				length += p.length()
			}
			assert.InDelta(t, length, Girth(s, g.Station(float64(40*i)), 0, 5).Inches(), 1e-6)
		}
		_, v, period := s.Breaks()
		assert.Len(t, v, 10, "both tangent points of each corner and the keel, on either side")
		assert.InDelta(t, 10, period, 0)
	}
}

// Points run into a circle: their corners end where the same part of the girth lies
// above them, and an octagon's on every eighth. A named landmark keeps its name.
func TestPointsToCircle(t *testing.T) {
	k := 10 * math.Tan(math.Pi/8)
	octagon := PolylineSection{[]SectionPoint{{BL: 0, WL: 60}, {BL: g.ButtLine(k), WL: 60}, {BL: 10, WL: g.Waterline(50 + k), Name: "S2"}, {BL: 10, WL: g.Waterline(50 - k)}, {BL: g.ButtLine(k), WL: 40}, {BL: 0, WL: 40}}}
	s, err := NewFairedSkin([]FairedSection{{0, octagon}, {30, CircleSection{9, 50}}, {60, EllipseSection{8, 12, 50}}}, Fairing{Law: Monotone})
	require.NoError(t, err)
	v, ok := s.Landmark("S2")
	require.True(t, ok)
	assert.InDelta(t, 2, v, 0)
	for n, deg := range []float64{0, 22.5, 67.5, 112.5, 157.5, 180} {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		p, _ := s.At(UV{30, float64(n)}, UV{29, math.Max(0.5, float64(n)-0.5)})
		assert.InDelta(t, 9*sin, p.Y, 1e-9)
		assert.InDelta(t, 50+9*cos, p.Z, 1e-9)
	}
	// derivatives along the girth belong to the points, over the joints of pieces too
	for _, v := range []float64{0.3, 1.5, 2.2, 2.8, 4.7} {
		const e = 1e-5
		a, _ := s.At(UV{45, v - e}, UV{45, v})
		b, _ := s.At(UV{45, v + e}, UV{45, v})
		m, n := s.At(UV{45, v}, UV{45, v})
		assert.InDelta(t, 0, b.Sub(a).Unit().Dot(n), 1e-6, "%v", v)
		assert.Less(t, a.Lerp(b, 0.5).Sub(m).Norm(), 1e-8)
	}
	// two named lines that cannot be one are refused
	other := SplineSection{[]SectionPoint{{BL: 0, WL: 60}, {BL: 10, WL: 50, Name: "S9"}, {BL: 0, WL: 40}}}
	_, err = NewFairedSkin([]FairedSection{{0, PolylineSection{[]SectionPoint{{BL: 0, WL: 60}, {BL: 10, WL: 50, Name: "S2"}, {BL: 0, WL: 40}}}}, {30, other}}, Fairing{})
	require.ErrorContains(t, err, `section FS 30: landmark 1 from the crown is "S9", in the first section "S2"`)
}
