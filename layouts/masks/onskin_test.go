package masks

import (
	"math"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
	"maskloft/layouts/reading"
)

// onSurface lays figures that follow the skin of a surface given by its keys, on both
// sides, without the reader.
func onSurface(t *testing.T, surface string, figure layouts.FigureSpec, where layouts.WhereSpec) []Laid {
	t.Helper()
	at := "{surface: body, fs: 50, wl: 5}"
	if where.Face != layouts.NoFace {
		at = "{surface: body, face: upper, fs: 30, bl: 90}"
	}
	text := "name: t\nunits: in\naircraft:\n  name: a\n  datum: FS 0 fore, WL 0 axis\n  surfaces:\n    - " + surface + `
markings:
  - id: m
    figure: {discs: [{diameter: 1, colour: white}]}
    where: ` + at + `
paint: {order: [white, black, red, blue], trap: 0 in, colours: {white: {hex: "#ffffff"}, black: {hex: "#000000"}, red: {hex: "#cc0000"}, blue: {hex: "#172035"}}}
`
	spec, err := reading.LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(text)}}, "a.yaml")
	require.NoError(t, err)
	m := &spec.Markings[0]
	m.Figure, m.Where = figure, where
	if figure.Rule != "" {
		m.Handed = layouts.UsualHandedness(figure)
		m.Colours = []layouts.ColourUse{{Part: "insignia_white", Paint: "white"}, {Part: "insignia_red", Paint: "red"}, {Part: "insignia_blue", Paint: "blue"}}
	}
	m.Where.Surfaces, m.Where.Side = []string{"body"}, layouts.BothSides
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	laid, _ := layAll(t, l, g.OutlineTolerance)
	return laid
}

// eachPoint visits points of the outlines of a region as places of the skin.
func eachPoint(t testing.TB, l Laid, p g.Path, visit func(q g.Point, uv skin.UV)) {
	t.Helper()
	for _, c := range p {
		for _, q := range c.Flattened(1e-4) {
			uv, ok := l.Map.ToSkin(q)
			require.True(t, ok, "%v", q)
			visit(q, uv)
		}
	}
}

// halfEllipse is half the circumference of an ellipse, by the trapezoid rule, which is
// exact to rounding on a smooth period.
func halfEllipse(a, b float64) float64 {
	const n = 4000
	sum := 0.0
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		sum += math.Hypot(a*s, b*c)
	}
	return sum * math.Pi / n
}

// A band of three strips round an elliptic body of 25 x 60 in: its edges stand at their
// stations, which on a cylinder is the width along the skin, within 0.001 in all
// round; its films end on crown and keel within 0.002 in, so that they meet there; and
// their areas are those of the unrolled strip (closed form).
func TestBandRoundAnEllipse(t *testing.T) {
	white, black := "white", "black"
	laid := onSurface(t, "{id: body, kind: faired, along: ruled, sections: [{fs: 0, ellipse: {half-breadth: 12.5, half-height: 30, wl: 0}}, {fs: 100, ellipse: {half-breadth: 12.5, half-height: 30, wl: 0}}]}",
		layouts.FigureSpec{Band: &layouts.BandSpec{At: []float64{40}, Strips: []layouts.StripSpec{{Paint: white, Width: 2}, {Paint: black, Width: 2}, {Paint: white, Width: 2}}}}, layouts.WhereSpec{})
	require.Len(t, laid, 2)
	half := halfEllipse(12.5, 30)
	for _, l := range laid {
		box := g.Rect{Min: g.Point{X: math.Inf(1), Y: math.Inf(1)}, Max: g.Point{X: math.Inf(-1), Y: math.Inf(-1)}}
		for _, r := range l.Regions {
			want := map[string][]float64{white: {40, 42, 44, 46}, black: {42, 44}}[r.Colour]
			require.InDelta(t, half*2*float64(len(want)/2), r.Outline.Area(), 0.02, r.Colour)
			eachPoint(t, l, r.Outline, func(q g.Point, uv skin.UV) {
				p := skin.PointAt(l.Placement.Surface, uv)
				onEdge := math.Inf(1)
				for _, fs := range want {
					onEdge = math.Min(onEdge, math.Abs(uv.U-fs))
				}
				if onEdge > 0.001 { // then it is a film's end, on crown or keel
					require.InDelta(t, 0, p.Y, 0.002, "FS %v", uv.U)
					require.InDelta(t, 30, math.Abs(p.Z), 0.002)
				}
				box = box.Union(g.BoundsOf(g.Point{X: uv.U, Y: p.Z}))
			})
		}
		require.InDelta(t, 40, box.Min.X, 0.001)
		require.InDelta(t, 46, box.Max.X, 0.001)
		require.InDelta(t, 30, box.Max.Y, 0.002)
		require.InDelta(t, -30, box.Min.Y, 0.002)
		require.True(t, l.Exact)
	}
}

// Round a cone the widths are true along its slant, and films that join on named lines
// meet on them.
func TestBandRoundACone(t *testing.T) {
	laid := onSurface(t, "{id: body, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 100, radius: 15, wl: 0}]}",
		layouts.FigureSpec{Band: &layouts.BandSpec{At: []float64{40}, Strips: []layouts.StripSpec{{Paint: "red", Width: 10}}}}, layouts.WhereSpec{})
	slant := math.Hypot(100, 15) / 100
	for _, l := range laid {
		eachPoint(t, l, l.Painted, func(_ g.Point, uv skin.UV) {
			p := skin.PointAt(l.Placement.Surface, uv)
			along := (uv.U - 40) * slant
			if math.Abs(p.Y) > 0.01 {
				require.InDelta(t, 0, math.Min(math.Abs(along), math.Abs(along-10)), 0.001)
			}
		})
		r := func(fs float64) float64 { return 30 - 0.15*fs }
		require.InEpsilon(t, math.Pi*(r(40)+r(40+10/slant))/2*10, l.Painted.Area(), 1e-4, "half a frustum")
	}
}

// Between two stations the edges stand at them, and strips by parts between.
func TestBandBetweenStations(t *testing.T) {
	laid := onSurface(t, "{id: body, kind: stringers, lines: [T, S1, S2, B], sections: [{fs: 0, points: [[0, 30], [20, 20], [20, -10], [0, -20]]}, {fs: 100, points: [[0, 20], [8, 15], [8, 0], [0, -5]]}]}",
		layouts.FigureSpec{Band: &layouts.BandSpec{At: []float64{40, 52}, Joins: []string{"T", "S1", "S2", "B"}, Strips: []layouts.StripSpec{{Paint: "red", Part: 1}, {Paint: "white", Part: 2}}}}, layouts.WhereSpec{})
	require.Len(t, laid, 6, "three films a side")
	ids := map[string]bool{}
	for _, l := range laid {
		ids[l.ID()] = true
		for _, r := range l.Regions {
			want := map[string][2]float64{"red": {40, 44}, "white": {44, 52}}[r.Colour]
			lo, hi := math.Inf(1), math.Inf(-1)
			eachPoint(t, l, r.Outline, func(_ g.Point, uv skin.UV) { lo, hi = math.Min(lo, uv.U), math.Max(hi, uv.U) })
			require.InDelta(t, want[0], lo, 0.001)
			require.InDelta(t, want[1], hi, 0.001)
		}
	}
	require.True(t, ids["m-s1-s2-left"], "%v", ids)
}

// Chordwise over a wing of constant chord without dihedral a band is as wide in plan as
// it is on the skin, and as long as the face from edge to edge.
func TestBandOverAWing(t *testing.T) {
	for _, face := range []layouts.Face{layouts.LowerFace} {
		laid := onSurface(t, "{id: body, kind: wing, ordinates: [[0, 0, 0], [0.25, 0.045, -0.045], [0.5, 0.06, -0.06], [0.75, 0.045, -0.045], [1, 0, 0]], wl: 0, leading: [[0, 10], [0, 200]], trailing: [[60, 10], [60, 200]]}",
			layouts.FigureSpec{Band: &layouts.BandSpec{At: []float64{80}, Strips: []layouts.StripSpec{{Paint: "white", Width: 4}, {Paint: "black", Width: 4}}}}, layouts.WhereSpec{Face: face})
		for _, l := range laid {
			s := l.Placement.Surface.(*skin.LiftingSkin)
			fore, aft := s.Chord(90)
			for _, r := range l.Regions {
				want := map[string][2]float64{"white": {80, 84}, "black": {84, 88}}[r.Colour]
				lo, hi, x0, x1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
				eachPoint(t, l, r.Outline, func(_ g.Point, uv skin.UV) {
					lo, hi = math.Min(lo, math.Abs(uv.V)), math.Max(hi, math.Abs(uv.V))
					x0, x1 = math.Min(x0, uv.U), math.Max(x1, uv.U)
				})
				require.InDelta(t, want[0], lo, 0.001, "%s %s", l.ID(), r.Colour)
				require.InDelta(t, want[1], hi, 0.001)
				require.InDelta(t, fore, x0, 0.001)
				require.InDelta(t, aft, x1, 0.001)
			}
		}
	}
}

// Twelve stripes of a rudder, along its slanted hinge line: equal widths to 1e-6, from
// the hinge aft on both sides, and together the whole outline.
func TestRudderStripesOnItsOutline(t *testing.T) {
	var strips []layouts.StripSpec
	for i := range 12 {
		strips = append(strips, layouts.StripSpec{Paint: []string{"red", "white"}[i%2], Part: 1})
	}
	outline := "[[100, 0], [104, 40], [118, 46], [126, 20], [120, -2]]"
	area := g.Path{g.Polygon(g.Point{X: 100, Y: 0}, g.Point{X: 104, Y: 40}, g.Point{X: 118, Y: 46}, g.Point{X: 126, Y: 20}, g.Point{X: 120, Y: -2})}.Area()
	laid := onSurface(t, "{id: body, kind: plate, thickness: 2, outline: "+outline+"}",
		layouts.FigureSpec{Stripes: &layouts.StripesSpec{Along: layouts.AlongHinge, Strips: strips}}, layouts.WhereSpec{})
	across := g.Vec{X: 40, Y: -4}.Unit() // square to the hinge line, aft
	for _, l := range laid {
		require.InEpsilon(t, -area, l.Painted.Area(), 1e-6)
		sum := 0.0
		for _, r := range l.Regions {
			sum += r.Outline.Area()
			for _, c := range r.Outline {
				lo, hi := math.Inf(1), math.Inf(-1)
				eachPoint(t, l, g.Path{c}, func(_ g.Point, uv skin.UV) {
					d := g.Vec{X: uv.U - 100, Y: uv.V}.Dot(across)
					lo, hi = math.Min(lo, d), math.Max(hi, d)
				})
				whole := g.Vec{X: 26, Y: 20}.Dot(across)
				require.InDelta(t, whole/12, hi-lo, 1e-6)
				n := int(math.Round(lo / (whole / 12)))
				require.Equal(t, []string{"red", "white"}[n%2], r.Colour, "%s: stripe %d from the hinge", l.ID(), n+1)
			}
		}
		require.InEpsilon(t, -area, sum, 1e-6)
	}
}

// Strips below a straight line and a smooth one on a cylinder: the distance from the
// line is true along the skin.
func TestLineAlongACylinder(t *testing.T) {
	at := func(fs, wl float64) layouts.WhereSpec {
		return layouts.WhereSpec{FS: g.Station(fs), WL: g.Waterline(wl)}
	}
	const body = "{id: body, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 200, radius: 30, wl: 0}]}"
	laid := onSurface(t, body, layouts.FigureSpec{Line: &layouts.LineSpec{
		Points: []layouts.WhereSpec{at(20, 6), at(180, 6)}, Lies: layouts.LiesBelow, Soft: true,
		Strips: []layouts.StripSpec{{Paint: "red", Width: 2}, {Width: 0.5}, {Paint: "white", Width: 0.25}},
	}}, layouts.WhereSpec{})
	arc := func(uv skin.UV, l Laid) float64 { return 30 * math.Asin(skin.PointAt(l.Placement.Surface, uv).Z/30) }
	for _, l := range laid {
		for _, r := range l.Regions {
			want := map[string][2]float64{"red": {0, 2}, "white": {2.5, 2.75}}[r.Colour]
			lo, hi := math.Inf(1), math.Inf(-1)
			eachPoint(t, l, r.Outline, func(_ g.Point, uv skin.UV) {
				d := 30*math.Asin(0.2) - arc(uv, l)
				lo, hi = math.Min(lo, d), math.Max(hi, d)
			})
			require.InDelta(t, want[0], lo, 0.001, l.ID())
			require.InDelta(t, want[1], hi, 0.001, l.ID())
		}
	}
	laid = onSurface(t, body, layouts.FigureSpec{Line: &layouts.LineSpec{
		Points: []layouts.WhereSpec{at(20, 0), at(60, 8), at(100, 4), at(140, 10)}, Smooth: true, Lies: layouts.LiesCentred,
		Strips: []layouts.StripSpec{{Paint: "red", Width: 2}},
	}}, layouts.WhereSpec{})
	for _, l := range laid { // the middle of the strip runs through the points
		for _, p := range [][2]float64{{60, 8}, {100, 4}} {
			uv, err := skin.LocateSide(l.Placement.Surface, l.Placement.Side, g.SidePosition{FS: g.Station(p[0]), WL: g.Waterline(p[1])})
			require.NoError(t, err)
			q, ok := l.Map.ToFlat(uv)
			require.True(t, ok)
			require.InDelta(t, 1, l.Painted.Distance(q, 1e-4), 0.001)
		}
	}
}

// A rule that fills a field, on a rudder with a slanted hinge line: the blue stripe is a
// third of the greatest chord square to the hinge line, thirteen level stripes share the
// height (described at joshuanava.biz/aircraft/info-vjr.html), and all of it is painted.
func TestRuleFillsARudder(t *testing.T) {
	outline := []g.Point{{X: 31, Y: -8}, {X: 35, Y: 44}, {X: 52, Y: 40}, {X: 58, Y: 24}, {X: 50, Y: -6}}
	area := math.Abs(g.Path{g.Polygon(outline...)}.Area())
	laid := onSurface(t, "{id: body, kind: plate, thickness: 2, outline: [[31, -8], [35, 44], [52, 40], [58, 24], [50, -6]]}",
		layouts.FigureSpec{Rule: "us/rudder-army-1926"}, layouts.WhereSpec{})
	across := g.Vec{X: 52, Y: -4}.Unit() // square to the hinge line, aft
	chord := 0.0
	for _, q := range outline {
		chord = math.Max(chord, q.Sub(outline[0]).Dot(across))
	}
	for _, l := range laid {
		require.InEpsilon(t, area, l.Painted.Area(), 1e-6)
		for _, r := range l.Regions {
			lo, hi := math.Inf(1), math.Inf(-1)
			eachPoint(t, l, r.Outline, func(_ g.Point, uv skin.UV) {
				d := g.Vec{X: uv.U - 31, Y: uv.V + 8}.Dot(across)
				lo, hi = math.Min(lo, d), math.Max(hi, d)
			})
			switch r.Colour {
			case "blue":
				require.InDelta(t, 0, lo, 1e-6, l.ID())
				require.InDelta(t, chord/3, hi, 1e-6, l.ID())
			case "red":
				require.Len(t, r.Outline, 7)
				for _, c := range r.Outline[:5] {
					require.LessOrEqual(t, c.Bounds().Height(), 52.0/13+1e-6)
				}
			}
		}
	}
}

// A line that is cut meets itself: pieces end and begin in one point of the skin, square
// to one direction, and lie on the way of the whole. On a cylinder the way is known: a
// straight line is a helix, z the angle from the crown, and a cut stands at its station.
func TestLineInPieces(t *testing.T) {
	for _, smooth := range []bool{false, true} {
		points := []layouts.WhereSpec{{FS: 10, Height: layouts.HeightWaterline, WL: 5}, {FS: 50, Height: layouts.HeightWaterline, WL: 9}, {FS: 90, Height: layouts.HeightWaterline, WL: 3}}
		line := &layouts.LineSpec{Points: points, Smooth: smooth, Lies: layouts.LiesCentred, Strips: []layouts.StripSpec{{Paint: "white", Width: 2}}, Cuts: []float64{70, 30}}
		laid := onSurface(t, "{id: body, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 100, radius: 30, wl: 0}]}",
			layouts.FigureSpec{Line: line}, layouts.WhereSpec{})
		require.Len(t, laid, 6, "three pieces a side")
		// corners of the ends of each piece on the skin, by station
		ends := func(l Laid) (fore, aft [2]g.Vec3) {
			b := l.Painted.Bounds()
			var f, a []g.Vec3
			for _, c := range l.Painted {
				for _, q := range append([]g.Point{c.Start}, endsOf(c)...) {
					uv, ok := l.Map.ToSkin(q)
					require.True(t, ok)
					if v := skin.PointAt(l.Placement.Surface, uv); math.Abs(q.X-b.Min.X) < 0.6 {
						f = append(f, v)
					} else if math.Abs(q.X-b.Max.X) < 0.6 {
						a = append(a, v)
					}
				}
			}
			pick := func(v []g.Vec3) (out [2]g.Vec3) { // lowest and highest
				out = [2]g.Vec3{v[0], v[0]}
				for _, p := range v {
					if p.Z < out[0].Z {
						out[0] = p
					}
					if p.Z > out[1].Z {
						out[1] = p
					}
				}
				return out
			}
			return pick(f), pick(a)
		}
		for side := range 2 {
			for i := range 2 {
				a, b := laid[3*side+i], laid[3*side+i+1]
				_, first := ends(a)
				second, _ := ends(b)
				if side == 1 { // the right side is seen nose to the right
					first, _ = ends(a)
					_, second = ends(b)
				}
				for k := range first {
					require.InDelta(t, 0, first[k].Sub(second[k]).Norm(), 2e-3, "smooth %v side %d cut %d", smooth, side, i)
				}
				if middle := first[0].Lerp(first[1], 0.5); !smooth {
					require.InDelta(t, []float64{30, 70}[i], middle.X, 2e-3)
				}
			}
		}
	}
}

func endsOf(c g.Contour) (out []g.Point) {
	for _, s := range c.Segments {
		out = append(out, s.End)
	}
	return out
}
