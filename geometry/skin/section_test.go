package skin

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// perimeterOf returns the length once round a section.
func perimeterOf(t testing.TB, c SectionCurve) float64 {
	t.Helper()
	h, err := c.half()
	require.NoError(t, err)
	sum := 0.0
	for _, p := range h.pieces {
		sum += p.length()
	}
	return 2 * sum
}

func TestPerimeter(t *testing.T) {
	for _, c := range []struct {
		name   string
		curve  SectionCurve
		want   float64
		source string
	}{
		{"circle", CircleSection{Radius: 30}, 188.49555921538757, "2 pi r"},
		{"ellipse 2x1", EllipseSection{2, 1, 5}, 9.68844822054768, "4 a E(e^2), DLMF 19.30"},
		{"ellipse 10x8", EllipseSection{10, 8, 0}, 56.723335777949, "DLMF 19.30"},
		{"ellipse 20x30 upright", EllipseSection{20, 30, 50}, 158.654395892906, "DLMF 19.30"},
		{"ellipse 3x1", EllipseSection{3, 1, 0}, 13.3648932205553, "DLMF 19.30"},
		{"superellipse n 2 is the ellipse", SuperellipseSection{3, 1, 0, 2}, 13.3648932205553, "DLMF 19.30"},
		{"squircle", SuperellipseSection{1, 1, 0, 4}, 7.01769794356404, "OEIS A186642 by MathWorld, Squircle"},
		{"superellipse 20x30 n 2.5", SuperellipseSection{20, 30, 10, 2.5}, 164.914833321615, "quadrature, two ways"},
		{"superellipse n 1 is a rhombus", SuperellipseSection{3, 4, 0, 1}, 20, "3-4-5"},
		{"rounded rectangle", RoundedRectangleSection{10, 68, 46, 6}, 2*(2*4+10) + 12*math.Pi, "straight sides and one full circle"},
		{"square of 2", PolylineSection{[]SectionPoint{{BL: 0, WL: 1}, {BL: 1, WL: 1}, {BL: 1, WL: -1}, {BL: 0, WL: -1}}}, 8, "closed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.InEpsilon(t, c.want, perimeterOf(t, c.curve), 1e-13*40, c.source)
		})
	}
}

// A superellipse of large exponent nears its rectangle from within.
func TestPerimeterOfSquareSuperellipse(t *testing.T) {
	last := 0.0
	for _, n := range []float64{1.2, 1.5, 3, 6, 12, 40} {
		p := perimeterOf(t, SuperellipseSection{20, 30, 0, n})
		require.Greater(t, p, last)
		last = p
	}
	require.InDelta(t, 200, last, 5)
}

// Girth of n equal flats on radius 30: 2 n 30 sin(pi/n) (closed form), as a section
// and as a skin.
func TestGirthOfFlats(t *testing.T) {
	for _, c := range []struct {
		n    int
		want float64
	}{{8, 183.6880}, {12, 186.3497}, {16, 187.2867}, {24, 187.9577}} {
		var line PolylineSection
		var stringers [2]StringerSection
		for k := 0; k <= c.n/2; k++ {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(c.n))
			if k == c.n/2 {
				sin = 0
			}
			line.Points = append(line.Points, SectionPoint{BL: g.ButtLine(30 * sin), WL: g.Waterline(30 * cos)})
			for i := range stringers {
				stringers[i].FS = g.Station(60 * i)
				stringers[i].Points = append(stringers[i].Points, g.Position{BL: g.ButtLine(30 * sin), WL: g.Waterline(30 * cos)})
			}
		}
		require.InDelta(t, c.want, perimeterOf(t, line), 5e-5)
		require.InDelta(t, 60*float64(c.n)*math.Sin(math.Pi/float64(c.n)), perimeterOf(t, line), 1e-11)
		s, err := NewStringerSkin(stringers[:])
		require.NoError(t, err)
		require.InDelta(t, c.want, float64(Girth(s, 20, 0, float64(c.n))), 5e-5)
	}
}

// circlePoints are n+1 points of a half circle.
func circlePoints(n int, r float64) []SectionPoint {
	out := make([]SectionPoint, n+1)
	for i := range out {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(n))
		out[i] = SectionPoint{BL: g.ButtLine(r * sin), WL: g.Waterline(r * cos)}
	}
	out[n].BL = 0
	return out
}

// The spline through points of a circle nears it with the fourth power of their
// spacing (C2 cubic splines, any text); the crown is smooth by symmetry.
func TestSplineSectionOfCircle(t *testing.T) {
	last := 0.0
	for k, n := range []int{4, 8, 16, 32} {
		h, err := SplineSection{circlePoints(n, 30)}.half()
		require.NoError(t, err)
		require.Equal(t, []bool{true, true}, h.smooth)
		worst := 0.0
		for i := 0; i <= 400; i++ {
			p, d := h.pieces[0].at(float64(i) / 400)
			worst = math.Max(worst, math.Abs(p.Dist(g.Point{})-30))
			require.InDelta(t, h.pieces[0].length(), d.Norm(), 1e-8, "girth fraction is length")
		}
		_, d := h.pieces[0].at(0)
		require.InDelta(t, 0, d.Y, 1e-9, "level at the crown")
		if k > 0 {
			require.InDelta(t, 4, math.Log2(last/worst), 0.3, "order at %d points", n)
		}
		last = worst
	}
	require.Less(t, last, 1e-4)
}

// A corner is not smoothed across: the straight legs of a gable stay straight.
func TestSplineSectionKeepsCorners(t *testing.T) {
	pts := []SectionPoint{
		{BL: 0, WL: 20, Corner: true}, {BL: 10, WL: 10, Corner: true}, {BL: 10, WL: 4}, {BL: 10, WL: 0, Name: "longeron", Corner: true}, {BL: 0, WL: -3},
	}
	h, err := SplineSection{pts}.half()
	require.NoError(t, err)
	require.Equal(t, []string{"crown", "", "longeron", "keel"}, h.names)
	require.Equal(t, []bool{false, false, false, true}, h.smooth)
	for i := 0; i <= 10; i++ {
		p, _ := h.pieces[0].at(float64(i) / 10)
		require.InDelta(t, 20, p.X+p.Y, 1e-12)
		p, _ = h.pieces[1].at(float64(i) / 10)
		require.InDelta(t, 10, p.X, 1e-12)
	}
	_, d := h.pieces[2].at(1)
	require.InDelta(t, 0, d.Y, 1e-10, "level at a smooth keel")
}

// Girth fraction is length along the piece, for every kind, up to the landmarks.
func TestGirthFraction(t *testing.T) {
	for _, c := range []SectionCurve{
		CircleSection{12, 40}, EllipseSection{3, 20, 0}, SuperellipseSection{20, 30, 10, 2.5}, SuperellipseSection{20, 30, 10, 1.3},
		SuperellipseSection{20, 30, 10, 12}, RoundedRectangleSection{13.5, 71.5, 38, 5}, SplineSection{circlePoints(6, 9)},
	} {
		t.Run(fmt.Sprintf("%T", c), func(t *testing.T) {
			h, err := c.half()
			require.NoError(t, err)
			for k, piece := range h.pieces {
				sum, prev := 0.0, g.Point{}
				const n = 4000
				for i := 0; i <= n; i++ {
					p, d := piece.at(float64(i) / n)
					if i > 0 && i < n {
						require.InEpsilon(t, piece.length(), d.Norm(), 1e-5)
					}
					if i > 0 {
						sum += p.Dist(prev)
					}
					prev = p
				}
				require.InEpsilon(t, piece.length(), sum, 1e-6, "piece %d", k)
				if k > 0 {
					end, _ := h.pieces[k-1].at(1)
					start, _ := piece.at(0)
					require.InDelta(t, 0, end.Dist(start), 1e-12, "pieces join")
				}
			}
			first, _ := h.pieces[0].at(0)
			last, _ := h.pieces[len(h.pieces)-1].at(1)
			require.InDelta(t, 0, first.X, 1e-12)
			require.InDelta(t, 0, last.X, 1e-12)
			require.Greater(t, first.Y, last.Y)
		})
	}
}

func TestSectionRefuses(t *testing.T) {
	at := func(yz ...float64) []SectionPoint {
		var out []SectionPoint
		for i := 0; i < len(yz); i += 2 {
			out = append(out, SectionPoint{BL: g.ButtLine(yz[i]), WL: g.Waterline(yz[i+1])})
		}
		return out
	}
	for _, c := range []struct {
		curve SectionCurve
		want  string
	}{
		{CircleSection{}, "radius 0 in"},
		{CircleSection{Radius: g.Length(math.NaN())}, "above 0"},
		{EllipseSection{3, 0, 0}, "half-height 0 in"},
		{SuperellipseSection{3, 3, 0, 0.9}, "exponent 0.9"},
		{RoundedRectangleSection{10, 68, 46, 10}, "corner radius 10 in is too large: it must be below 10 in"},
		{RoundedRectangleSection{20, 68, 46, 11}, "it must be below 11 in"},
		{RoundedRectangleSection{10, 68, 46, 0}, "give sharp corners as a polyline"},
		{RoundedRectangleSection{10, 46, 68, 2}, "above the bottom"},
		{SplineSection{at(0, 5)}, "two points or more"},
		{SplineSection{at(1, 5, 4, 0, 0, -5)}, "must lie on BL 0"},
		{SplineSection{at(0, 5, -4, 0, 0, -5)}, "not on the right side"},
		{SplineSection{at(0, -5, 4, 0, 0, 5)}, "from the crown down to the keel"},
		{PolylineSection{at(0, 5, 4, 0, 4, 0, 0, -5)}, "points 2 and 3 are the same"},
		{PolylineSection{at(0, 5, 4, 3, 4, -3, 4, 0, 0, -5)}, "turns back on itself at point 3"},
	} {
		_, err := c.curve.half()
		require.ErrorContains(t, err, c.want)
		_, err = NewFairedSkin([]FairedSection{{48, c.curve}, {96, CircleSection{10, 0}}}, Fairing{})
		require.ErrorContains(t, err, "section FS 48: ")
		require.ErrorContains(t, err, c.want)
	}
}
