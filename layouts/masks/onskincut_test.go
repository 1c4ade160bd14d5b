package masks

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// A band that is cut at waterlines: films number from the crown down, end on the
// waterlines within 0.002 in, and their areas together are those of the unrolled band,
// whose length is half the circumference of the ellipse (closed form).
func TestBandCutAtWaterlines(t *testing.T) {
	laid := onSurface(t, "{id: body, kind: faired, along: ruled, sections: [{fs: 0, ellipse: {half-breadth: 12.5, half-height: 30, wl: 0}}, {fs: 100, ellipse: {half-breadth: 12.5, half-height: 30, wl: 0}}]}",
		layouts.FigureSpec{Band: &layouts.BandSpec{At: []float64{40}, Cuts: []float64{-12, 10}, Strips: []layouts.StripSpec{{Paint: "white", Width: 4}, {Paint: "red", Width: 2}}}}, layouts.WhereSpec{})
	require.Len(t, laid, 6, "three films a side")
	ends := [][2]float64{{10, 30}, {-12, 10}, {-30, -12}}
	ids := []string{"m-1", "m-2", "m-3"}
	for side := range 2 {
		area := 0.0
		for i := range 3 {
			l := laid[3*side+i]
			require.Equal(t, ids[i], l.Placement.Marking.ID)
			area += l.Painted.Area()
			lo, hi := math.Inf(1), math.Inf(-1)
			eachPoint(t, l, l.Painted, func(_ g.Point, uv skin.UV) {
				z := skin.PointAt(l.Placement.Surface, uv).Z
				lo, hi = math.Min(lo, z), math.Max(hi, z)
			})
			require.InDelta(t, ends[i][0], lo, 0.002)
			require.InDelta(t, ends[i][1], hi, 0.002)
		}
		require.InEpsilon(t, 6*halfEllipse(12.5, 30), area, 1e-5)
	}
}

// A band over a wing that is cut at a station: two films that end there, and together
// the band as it is in one film.
func TestBandCutOverAWing(t *testing.T) {
	for _, at := range [][]float64{{80}, {80, 88}} {
		strips := []layouts.StripSpec{{Paint: "white", Width: 4}, {Paint: "black", Width: 4}}
		if len(at) == 2 {
			strips = []layouts.StripSpec{{Paint: "white", Part: 1}, {Paint: "black", Part: 1}}
		}
		lay := func(cuts ...float64) []Laid {
			return onSurface(t, "{id: body, kind: wing, ordinates: [[0, 0, 0], [0.25, 0.045, -0.045], [0.5, 0.06, -0.06], [0.75, 0.045, -0.045], [1, 0, 0]], wl: 0, leading: [[0, 10], [0, 200]], trailing: [[60, 10], [60, 200]]}",
				layouts.FigureSpec{Band: &layouts.BandSpec{At: at, Cuts: cuts, Strips: strips}}, layouts.WhereSpec{Face: layouts.LowerFace})
		}
		whole, cut := lay(), lay(25)
		require.Len(t, cut, 4)
		for side := range 2 {
			require.InEpsilon(t, whole[side].Painted.Area(), cut[2*side].Painted.Area()+cut[2*side+1].Painted.Area(), 1e-5)
			for k, want := range [2]float64{25, 25} {
				far := math.Inf(-1)
				eachPoint(t, cut[2*side+k], cut[2*side+k].Painted, func(_ g.Point, uv skin.UV) {
					far = math.Max(far, (uv.U-want)*[2]float64{1, -1}[k])
				})
				require.InDelta(t, 0, far, 0.001)
			}
		}
	}
}

// Film on one side of a level line on a cylinder: it ends at the line, which lies at its
// waterline all along, covers nothing beyond it, runs the field beyond the ends of the
// paint, and all its marks stand on it; on the other side there is no film.
func TestFilmOnOneSide(t *testing.T) {
	for _, covers := range []layouts.Lies{layouts.LiesBelow, layouts.LiesAbove} {
		lies, sign := layouts.LiesAbove, 1.0
		if covers == layouts.LiesAbove {
			lies, sign = layouts.LiesBelow, -1
		}
		at := func(fs float64) layouts.WhereSpec {
			return layouts.WhereSpec{FS: g.Station(fs), Height: layouts.HeightWaterline, WL: 5}
		}
		laid := onSurface(t, "{id: body, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 100, radius: 30, wl: 0}]}",
			layouts.FigureSpec{Line: &layouts.LineSpec{Points: []layouts.WhereSpec{at(30), at(70)}, Covers: covers, Lies: lies, Strips: []layouts.StripSpec{{Paint: "red", Width: 6}}}}, layouts.WhereSpec{})
		film := layouts.FilmSpec{Web: 48, Across: 0.75, Field: 3, Least: 3, Longest: 96}
		for _, l := range laid {
			require.InEpsilon(t, 40*6, l.Painted.Area(), 1e-6)
			// round the cylinder, up from the line
			above := func(uv skin.UV) float64 {
				p := skin.PointAt(l.Placement.Surface, uv)
				return 30 * (math.Asin(p.Z/30) - math.Asin(5.0/30)) * sign
			}
			c, err := CutOf(layouts.Figure{Layers: []layouts.Layer{{Part: "stripe-1", Colour: "red", Outline: l.Painted}}, Bare: l.Bare}, layouts.PaintSpec{Order: []string{"red"}}, film)
			require.NoError(t, err)
			require.Len(t, c.Masks, 1)
			require.InDelta(t, 46*3, c.Masks[0].Film.Area(), 46.25/8+0.5, "the field beyond both ends, 3 in wide up to an eighth")
			high := math.Inf(-1)
			eachPoint(t, l, l.Masks[0].Film, func(_ g.Point, uv skin.UV) { high = math.Max(high, above(uv)) })
			require.InDelta(t, 0, high, 0.001)
			tiling, findings, err := tileOne(l, layouts.FilmSpec{Web: 48, Across: 0.75, Field: 3, Least: 3, Longest: 96}, nil)
			require.NoError(t, err)
			require.Empty(t, findings)
			require.GreaterOrEqual(t, len(tiling.Marks), 3)
			for _, m := range tiling.Marks {
				require.Less(t, above(m.UV), -0.3)
			}
		}
	}
}

// Where the crown is not square to a band's fore edge, the films of both sides still end
// on the crown and the keel, and so meet there. Of flat panels the place is known: the
// aft edge runs 12 in beside the fore one, and so meets the crown 12 in / sin of the angle
// between both along it.
func TestBandMeetsOnASlantedCrown(t *testing.T) {
	laid := onSurface(t, "{id: body, kind: stringers, lines: [T, S1, S2, B], sections: [{fs: 0, points: [[0, 30], [20, 20], [20, -10], [0, -20]]}, {fs: 100, points: [[0, 20], [10, 15], [10, -5], [0, -10]]}]}",
		layouts.FigureSpec{Band: &layouts.BandSpec{At: []float64{40}, Strips: []layouts.StripSpec{{Paint: "white", Width: 12}}}}, layouts.WhereSpec{})
	across, along := g.Vec3{Y: 1, Z: -0.5}.Unit(), g.Vec3{X: 1, Z: -0.1}.Unit()
	sin := math.Sqrt(1 - math.Pow(across.Dot(along), 2))
	for _, l := range laid {
		fore, aft := math.Inf(1), math.Inf(-1)
		eachPoint(t, l, l.Painted, func(_ g.Point, uv skin.UV) {
			p := skin.PointAt(l.Placement.Surface, uv)
			require.GreaterOrEqual(t, p.Y*l.Placement.Side.Sign(), -0.002)
			if p.Z > 0 && math.Abs(p.Y) < 0.002 {
				fore, aft = math.Min(fore, p.X), math.Max(aft, p.X)
			}
		})
		require.InDelta(t, 40, fore, 0.002, l.ID())
		require.InDelta(t, 40+12/sin*along.X, aft, 0.002, l.ID())
	}
}

// Twelve stripes along a cone share the way round it: their edges are rulings 30 degrees
// apart, each has a twelfth of the frustum's area, and paints take turns all round, over
// crown and keel too (closed form). By width they are as wide at both ends.
func TestStripesRoundACone(t *testing.T) {
	var strips []layouts.StripSpec
	for i := range 12 {
		strips = append(strips, layouts.StripSpec{Paint: []string{"red", "white"}[i%2], Part: 1})
	}
	const body = "{id: body, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 100, radius: 15, wl: 0}]}"
	laid := onSurface(t, body, layouts.FigureSpec{Stripes: &layouts.StripesSpec{Between: []float64{20, 40}, Strips: strips}}, layouts.WhereSpec{})
	require.Len(t, laid, 2)
	slant := math.Hypot(100, 15) / 100
	frustum := math.Pi * (27 + 24) * 20 * slant
	for _, l := range laid {
		require.True(t, l.Exact)
		require.InEpsilon(t, frustum/2, l.Painted.Area(), 1e-5)
		for _, r := range l.Regions {
			require.InEpsilon(t, frustum/4, r.Outline.Area(), 1e-5, "three of twelve")
			for _, c := range r.Outline {
				require.InEpsilon(t, frustum/12, c.Area(), 1e-5)
				x, y := 0.0, 0.0 // of the middle of the stripe, to the right and up
				eachPoint(t, l, g.Path{c}, func(_ g.Point, uv skin.UV) {
					p := skin.PointAt(l.Placement.Surface, uv)
					x, y = x+p.Y/math.Hypot(p.Y, p.Z), y+p.Z/math.Hypot(p.Y, p.Z)
					ends := math.Min(math.Abs(uv.U-20), math.Abs(uv.U-40))
					turn := math.Mod(math.Atan2(p.Y, p.Z)*180/math.Pi+360+15, 30) - 15
					edge := math.Abs(turn) * math.Pi / 180 * math.Hypot(p.Y, p.Z)
					require.InDelta(t, 0, math.Min(ends, edge), 0.001)
				})
				k := int(math.Floor(math.Mod(math.Atan2(x, y)*180/math.Pi+360, 360) / 30))
				require.Equal(t, []string{"red", "white"}[k%2], r.Colour, "stripe %d from the crown down the right side", k)
			}
		}
	}
	laid = onSurface(t, body, layouts.FigureSpec{Stripes: &layouts.StripesSpec{Between: []float64{20, 40}, Strips: []layouts.StripSpec{{Width: 10}, {Paint: "red", Width: 5}}}}, layouts.WhereSpec{})
	for _, l := range laid {
		require.InEpsilon(t, 5*20*slant, l.Painted.Area(), 1e-3)
		eachPoint(t, l, l.Painted, func(_ g.Point, uv skin.UV) {
			p := skin.PointAt(l.Placement.Surface, uv)
			r := math.Hypot(p.Y, p.Z)
			from := r * math.Atan2(math.Abs(p.Y), p.Z)
			ends := math.Min(math.Abs(uv.U-20), math.Abs(uv.U-40))
			require.InDelta(t, 0, math.Min(ends, math.Min(math.Abs(from-10), math.Abs(from-15))), 0.001)
		})
	}
}
