package taping

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/masks"
	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// computedPoints holds checklists once they are computed: several tests look at
// them and none changes them.
var computedPoints = map[*layouts.Layout][]Checkpoint{}

func checklist(t testing.TB, w worked.Work) []Checkpoint {
	t.Helper()
	if points, ok := computedPoints[w.Layout]; ok {
		return points
	}
	points, err := Checklist(t.Context(), w.Layout, w.Tilings, g.NetTolerance)
	require.NoError(t, err)
	computedPoints[w.Layout] = points
	return points
}

// slabWith is a layout of a disc on both sides of a slab of 120 x 60 in, with
// hardpoints in its faces.
func slabWith(hardpoints ...string) string {
	text := `
name: hardpoints
aircraft:
  name: slab
  datum: FS 0 and WL 0 are the fore lower corner, positive aft and up
  surfaces: [{id: slab, kind: plate, thickness: 1, outline: [[0, 0], [120, 0], [120, 60], [0, 60]]}]
`
	if len(hardpoints) > 0 {
		text += "  hardpoints:\n"
	}
	for i, h := range hardpoints {
		text += fmt.Sprintf("    - {id: P%d, name: a corner, %s}\n", i+1, h)
	}
	return text + `
markings:
  - id: disc
    figure: {discs: [{diameter: 12, colour: red}]}
    where: {surface: slab, side: both, fs: 50, wl: 25}
` + worked.Common
}

// The points of each marking come in working order: centre, level ticks, upright
// ticks, corners of the paint, then every registration mark of the first film once, tile by tile.
func TestChecklistOrder(t *testing.T) {
	rank := map[masks.Role]int{masks.Centre: 0, masks.LevelTick: 1, masks.UprightTick: 2, masks.Extent: 3, masks.Registration: 4}
	most := map[masks.Role]int{masks.Centre: 1, masks.LevelTick: 2, masks.UprightTick: 2, masks.Extent: 4}
	for _, w := range worked.DemoAndLessons(t) {
		points := checklist(t, w)
		i := 0
		ids := map[string]bool{}
		for _, tiling := range w.Tilings {
			count, last, tile := map[masks.Role]int{}, 0, -1
			left := map[string]masks.RegistrationMark{}
			for _, c := range tiling.Films[0].Cells {
				for _, k := range c.Marks {
					left[tiling.Marks[k].ID] = tiling.Marks[k]
				}
			}
			for step := 1; i < len(points) && points[i].Marking == tiling.Laid.ID(); step++ {
				c := points[i]
				i++
				require.False(t, ids[c.ID], "%s is there twice", c.ID)
				ids[c.ID] = true
				assert.Equal(t, tiling.Laid.ID()+"-"+c.Mark.ID, c.ID)
				assert.Equal(t, step, c.Step, c.ID)
				assert.GreaterOrEqual(t, rank[c.Role], last, c.ID)
				last = rank[c.Role]
				count[c.Role]++
				if c.Role == masks.Registration {
					assert.Equal(t, left[c.Mark.ID], c.Mark)
					delete(left, c.Mark.ID)
					first := 0
					for !strings.Contains(fmt.Sprint(names(tiling, first)), " "+c.Mark.ID+" ") {
						first++
					}
					assert.GreaterOrEqual(t, first, tile, "%s: tile by tile", c.ID)
					tile = first
				}
				pos, ok := tiling.Laid.Map.PositionOf(c.Mark.Film)
				require.True(t, ok, c.ID)
				assert.Less(t, pos.To(c.Mark.Skin).Inches(), 1e-6, "%s: one point on film and skin", c.ID)
			}
			assert.Empty(t, left, "every registration mark of the first film is in the list")
			require.Equal(t, 1, count[masks.Centre], tiling.Laid.ID())
			for role, n := range most {
				assert.LessOrEqual(t, count[role], n, "%s %s", tiling.Laid.ID(), role)
			}
			if tiling.Laid.Placement.Drawn == nil { // what follows the skin may have no level line on it
				assert.Equal(t, 2, count[masks.LevelTick], tiling.Laid.ID())
			}
		}
		assert.Len(t, points, i)
	}
}

// names returns the marks of a tile, each between spaces.
func names(t masks.Tiling, cell int) string {
	out := " "
	for _, m := range t.Films[0].Cells[cell].Marks {
		out += t.Marks[m].ID + " "
	}
	return out
}

// tapesOf returns the two tapes of a checkpoint and its closure.
func tapesOf(c Checkpoint) []Taping {
	out := c.Tapes[:]
	if c.Closure != nil {
		out = append(out[:2:2], *c.Closure)
	}
	return out
}

// Distances through the air are those of the positions; a tape on the skin is no
// shorter; a tape from the fuselage to the fin goes through the air.
func TestDemoTapes(t *testing.T) {
	w := worked.Demo(t)
	hard := map[string]layouts.HardpointSpec{}
	for _, h := range w.Layout.Spec.Aircraft.Hardpoints {
		hard[h.ID] = h
	}
	side := map[string]float64{}
	for _, l := range w.Laid {
		side[l.ID()] = l.Placement.Side.Sign()
	}
	kinds := map[TapeKind]int{}
	for _, c := range checklist(t, w) {
		require.Len(t, c.Tapes, 2, c.ID)
		used := map[string]bool{}
		for _, tape := range tapesOf(c) {
			h := hard[tape.From.ID]
			dx := float64(h.FS - c.Mark.Skin.FS)
			dy := side[c.Marking]*h.At.BL.Inches() - c.Mark.Skin.BL.Inches()
			dz := float64(h.At.WL - c.Mark.Skin.WL)
			d := math.Sqrt(dx*dx + dy*dy + dz*dz)
			assert.InDelta(t, d, tape.Straight.Inches(), 1e-9, "%s from %s", c.ID, tape.From.ID)
			assert.LessOrEqual(t, tape.Taut.Inches(), tape.Length.Inches()+0.001, "%s from %s: pulled taut it is no longer", c.ID, tape.From.ID)
			assert.GreaterOrEqual(t, tape.Taut.Inches(), d-0.001, "%s from %s: taut", c.ID, tape.From.ID)
			if tape.Kind == Straight {
				assert.Equal(t, tape.Straight, tape.Length)
				assert.Equal(t, tape.Straight, tape.Taut)
			} else {
				assert.GreaterOrEqual(t, tape.Length.Inches(), d-0.001, "%s from %s", c.ID, tape.From.ID)
				assert.Less(t, tape.Length.Inches(), 1.2*d+0.5, "%s from %s", c.ID, tape.From.ID)
			}
			assert.False(t, used[tape.From.ID], "%s is used twice for %s", tape.From.ID, c.ID)
			used[tape.From.ID] = true
			kinds[tape.Kind]++
			onFin := strings.HasPrefix(c.Marking, "tail-number")
			assert.Equal(t, onFin, tape.Kind == Straight, "%s from %s", c.ID, tape.From.ID)
		}
		assert.Greater(t, c.Crossing, 15.0, c.ID)
		assert.Less(t, c.Crossing, 165.0, c.ID)
	}
	assert.Greater(t, kinds[Straight], 10)
	assert.Greater(t, kinds[OnSkin], 10)
}

// Of all pairs of tapes that can be pulled the one is taken that places the point
// with the least error: no other is better by 1 %. For tapes in the skin the mean
// square error is (va + vb) / sin^2 of their crossing (trilateration; derived).
func TestBestPair(t *testing.T) {
	tried, square := 0, 0
	for _, w := range worked.DemoAndLessons(t) {
		byID := map[string]Checkpoint{}
		for _, c := range checklist(t, w) {
			byID[c.ID] = c
		}
		for i := range w.Tilings {
			tp := taperOf(w, i)
			for _, s := range w.Tilings[i].Spots() {
				c := byID[tp.laid.ID()+"-"+s.Mark.ID]
				var tapes []Taping
				for _, h := range tp.hooks {
					tape, refused := tp.from(h, s.Mark)
					if refused == nil {
						tapes = append(tapes, tape)
					}
				}
				meanSquare := func(a, b Taping) float64 {
					// the bearing of a straight tape is shorter than one: the formula of
					// the inverse of two rows (Cramer)
					det := a.Bearing.X*b.Bearing.Y - a.Bearing.Y*b.Bearing.X
					v := func(t Taping) float64 { return float64(t.Sigma*t.Sigma + t.From.Sigma*t.From.Sigma) }
					return (v(a)*b.Bearing.Dot(b.Bearing) + v(b)*a.Bearing.Dot(a.Bearing)) / (det * det)
				}
				if len(c.Tapes) == 0 {
					continue
				}
				chosen := meanSquare(c.Tapes[0], c.Tapes[1])
				if c.Tapes[0].Kind == OnSkin && c.Tapes[1].Kind == OnSkin {
					v := func(t Taping) float64 { return float64(t.Sigma*t.Sigma + t.From.Sigma*t.From.Sigma) }
					sin := math.Sin(c.Crossing * math.Pi / 180)
					assert.InEpsilon(t, (v(c.Tapes[0])+v(c.Tapes[1]))/(sin*sin), chosen, 1e-9, c.ID)
				}
				best := math.Inf(1)
				for k, a := range tapes {
					for _, b := range tapes[:k] {
						tried++
						assert.LessOrEqual(t, math.Sqrt(chosen), 1.01*math.Sqrt(meanSquare(a, b)), "%s: %s and %s instead of %s and %s", c.ID, a.From.ID, b.From.ID, c.Tapes[0].From.ID, c.Tapes[1].From.ID)
						best = math.Min(best, math.Abs(crossingOf(a, b)-90))
					}
				}
				if math.Abs(c.Crossing-90) > best+1e-9 {
					square++
				}
			}
		}
	}
	assert.Greater(t, tried, 300)
	assert.Greater(t, square, 0, "somewhere the least error is not the squarest crossing")
}

// taperOf returns the taper of one marking of a job.
func taperOf(w worked.Work, tiling int) *taper {
	l := &w.Tilings[tiling].Laid
	return &taper{layout: w.Layout, laid: l, hooks: hooksOn(w.Layout.Airframe, l.Placement), stops: stopsOn(w.Layout, l.Placement), tolerance: g.NetTolerance}
}

// In a plane the crossing is the angle of two straight lines, and the pair is
// the one of least (va + vb) / sin^2. Variances by hand: tapes to 6 ft are within
// 1/32 in, longer ones within 1/16 in (NIST Handbook 44 section 5.52), read to half
// of 1/16 in, held within 1/64 in, each uniform; hardpoints 1/16 in. In the error of the
// point what the tape is out by is common to both: lengths out by p and q move it by the
// root of (p^2 + q^2 - 2 p q cos) / sin^2.
func TestCrossingOnSlab(t *testing.T) {
	w := worked.Worked(t, "slab", worked.LayoutOf(t, slabWith(
		"side: both, fs: 1, bl: 0.5, wl: 1", "side: both, fs: 119, bl: 0.5, wl: 1",
		"side: both, fs: 1, bl: 0.5, wl: 59", "side: both, fs: 60, bl: 0.5, wl: 59", "side: both, fs: 118, bl: 0.5, wl: 20")))
	points := checklist(t, w)
	require.Equal(t, 26, len(points)) // 9 and 4 registration marks a side
	variance := func(l float64) float64 {
		class := 1.0 / 16
		if l <= 72 {
			class = 1.0 / 32
		}
		return (class*class+1.0/32/32+1.0/64/64)/3 + 1.0/16/16
	}
	for _, c := range points {
		to := func(h layouts.HardpointSpec) g.Vec {
			return g.Vec{X: float64(h.FS - c.Mark.Skin.FS), Y: float64(h.At.WL - c.Mark.Skin.WL)}
		}
		best, bestPair, angle, square := math.Inf(1), "", 0.0, 0.0
		hard := w.Layout.Spec.Aircraft.Hardpoints
		for i := range hard {
			for j := i + 1; j < len(hard); j++ {
				a, b := to(hard[i]), to(hard[j])
				sin := a.Unit().Cross(b.Unit())
				if e := math.Sqrt((variance(a.Norm()) + variance(b.Norm())) / (sin * sin)); e < best*(1-1e-6) {
					cos := a.Unit().Dot(b.Unit())
					best, bestPair, angle = e, hard[i].ID+hard[j].ID, math.Acos(cos)*180/math.Pi
					both := func(p, q float64) float64 { return (p*p + q*q - 2*p*q*cos) / (sin * sin) / 3 }
					own := 2 * ((1.0/32/32+1.0/64/64)/3 + 1.0/16/16) / (sin * sin)
					square = own + both(1.0/32, 1.0/32) + both(a.Norm()/32/360, b.Norm()/32/360)
				}
			}
		}
		assert.Equal(t, bestPair, c.Tapes[0].From.ID+c.Tapes[1].From.ID, c.ID)
		assert.InDelta(t, angle, c.Crossing, 1e-3, c.ID)
		assert.InDelta(t, math.Sqrt(square+2*1.0/32/32/3), c.Error.Ellipse.RMS().Inches(), 1e-6, "%s: with the line drawn at the reading", c.ID)
		for _, tape := range tapesOf(c) {
			assert.Equal(t, OnSkin, tape.Kind)
			assert.InDelta(t, tape.Straight.Inches(), tape.Length.Inches(), 1e-6, "in a plane the skin is straight")
		}
	}
}

// Along a cylinder a tape is a straight line on the unrolled skin: its length is
// the root of dx^2 + (R dtheta)^2.
func TestTapesOnCylinder(t *testing.T) {
	w := worked.Worked(t, "cylinder", worked.LayoutOf(t, `
name: cylinder
aircraft:
  name: cylinder
  datum: FS 0 is the fore end, positive aft; WL 0 is the axis, positive up
  surfaces: [{id: body, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 120, radius: 30, wl: 0}]}]
  hardpoints:
    - {id: crown, name: crown, side: both, fs: 10, bl: 0, wl: 30}
    - {id: low, name: low on the side, side: both, fs: 0, bl: 25.980762, wl: -15}
    - {id: level, name: aft on the axis line, side: both, fs: 120, bl: 30, wl: 0}
    - {id: end, name: aft end high, side: both, fs: 100, bl: 18, wl: 24}
markings:
  - id: disc
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: body, side: both, fs: 60, wl: 10}
`+worked.Common))
	unrolled := func(p g.Position) g.Point {
		return g.Point{X: p.FS.Inches(), Y: 30 * math.Atan2(p.BL.Inches(), p.WL.Inches())}
	}
	from := map[string]bool{}
	for _, c := range checklist(t, w) {
		mark := unrolled(c.Mark.Skin)
		for _, tape := range tapesOf(c) {
			assert.Equal(t, OnSkin, tape.Kind)
			assert.InDelta(t, mark.Dist(unrolled(tape.From.At)), tape.Length.Inches(), 0.001, "%s from %s", c.ID, tape.From.ID)
			assert.InDelta(t, tape.Length.Inches(), tape.Taut.Inches(), 0.001, "%s from %s: there is no hollow to bridge", c.ID, tape.From.ID)
			from[tape.From.ID] = true
		}
		a, b := unrolled(c.Tapes[0].From.At).Sub(mark), unrolled(c.Tapes[1].From.At).Sub(mark)
		assert.InDelta(t, math.Acos(a.Unit().Dot(b.Unit()))*180/math.Pi, c.Crossing, 0.1, c.ID)
	}
	assert.Len(t, from, 4, "every hardpoint is used somewhere")
}

// What is taken from the mirror image is what the side itself gives; where the
// hardpoints of the sides differ nothing is taken.
func TestMirroredTapes(t *testing.T) {
	odd := kittockWith(t, "", map[string]string{"P1": "measured: {left: {fs: 240.25, bl: 1.375, wl: 50}}"})
	for _, w := range []worked.Work{worked.Demo(t), odd} {
		byID := map[string]Checkpoint{}
		for _, c := range checklist(t, w) {
			byID[c.ID] = c
		}
		compared := 0
		for i := range w.Tilings {
			tp := taperOf(w, i)
			for k, s := range w.Tilings[i].Spots() {
				if tp.laid.Placement.Side != g.Right || k%3 != 0 {
					continue
				}
				c := byID[tp.laid.ID()+"-"+s.Mark.ID]
				own := tp.tape(s.Mark)
				require.Len(t, c.Refused, len(own.refused))
				for _, want := range own.tapes {
					got, used := c.tape(want.From.ID)
					if !used {
						continue
					}
					compared++
					assert.Equal(t, want.From, got.From)
					assert.InDelta(t, want.Length.Inches(), got.Length.Inches(), 1e-4, "%s from %s", c.ID, want.From.ID)
					assert.InDelta(t, want.Taut.Inches(), got.Taut.Inches(), 1e-3)
					assert.Less(t, want.Bearing.Sub(got.Bearing).Norm(), 1e-3, "%s from %s", c.ID, want.From.ID)
					assert.Less(t, want.away.Sub(got.away).Norm(), 1e-3)
				}
			}
		}
		assert.Greater(t, compared, 30)
	}
	assert.True(t, taperOf(worked.Demo(t), 1).mirrors(taperOf(worked.Demo(t), 0)))
	assert.False(t, taperOf(odd, 1).mirrors(taperOf(odd, 0)))
	assert.False(t, taperOf(worked.Demo(t), 2).mirrors(taperOf(worked.Demo(t), 0)))
}

// A tape is not swung from a hardpoint under the point itself.
func TestHardpointUnderThePoint(t *testing.T) {
	w := worked.Worked(t, "near", worked.LayoutOf(t, slabWith("side: both, fs: 50, bl: 0.5, wl: 25", "side: both, fs: 1, bl: 0.5, wl: 1", "side: both, fs: 119, bl: 0.5, wl: 1")))
	c := checklist(t, w)[0]
	assert.Equal(t, masks.Centre, c.Role)
	require.Len(t, c.Refused, 1)
	assert.Equal(t, "P1 is too near to swing a tape from", c.Refused[0].Why)
	assert.Equal(t, "P2P3", c.Tapes[0].From.ID+c.Tapes[1].From.ID)
	assert.Nil(t, c.Closure)
}

// Along a cone a tape is a straight line on the unrolled skin: polar coordinates
// about the apex, the turn shrunk by the sine of the half angle (radial-line
// development).
func TestTapesOnCone(t *testing.T) {
	w := worked.Worked(t, "cone", worked.LayoutOf(t, `
name: cone
aircraft:
  name: cone
  datum: FS 0 is the fore end, positive aft; WL 0 is the axis, positive up
  surfaces: [{id: body, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 120, radius: 10, wl: 0}]}]
  hardpoints:
    - {id: crown, name: crown, side: both, fs: 10, bl: 0, wl: 28.333333}
    - {id: low, name: low on the side, side: both, fs: 0, bl: 25.980762, wl: -15}
    - {id: aft, name: aft end, side: both, fs: 120, bl: 8.660254, wl: 5}
markings:
  - id: disc
    figure: {discs: [{diameter: 14, colour: red}]}
    where: {surface: body, side: both, fs: 60, wl: 4}
`+worked.Common))
	sin := 20 / math.Hypot(20, 120)
	unrolled := func(p g.Position) g.Point {
		r := (30 - p.FS.Inches()/6) / sin
		s, c := math.Sincos(math.Atan2(p.BL.Inches(), p.WL.Inches()) * sin)
		return g.Point{X: r * c, Y: r * s}
	}
	for _, c := range checklist(t, w) {
		mark := unrolled(c.Mark.Skin)
		require.Len(t, tapesOf(c), 3)
		for _, tape := range tapesOf(c) {
			assert.Equal(t, OnSkin, tape.Kind)
			assert.InDelta(t, mark.Dist(unrolled(tape.From.At)), tape.Length.Inches(), 0.001, "%s from %s", c.ID, tape.From.ID)
		}
		a, b := unrolled(c.Tapes[0].From.At).Sub(mark), unrolled(c.Tapes[1].From.At).Sub(mark)
		assert.InDelta(t, math.Acos(a.Unit().Dot(b.Unit()))*180/math.Pi, c.Crossing, 0.1, c.ID)
	}
}

// Lesson 3: two hardpoints stand in the skin, within 0.017 in; the third is that of
// the cone, inside the cylinder: no straight tape comes out to it.
func TestLessonTapes(t *testing.T) {
	for _, c := range checklist(t, worked.Lesson(t, "03")) {
		require.Len(t, c.Refused, 1, c.ID)
		assert.Equal(t, "P3", c.Refused[0].From.ID)
		assert.Contains(t, c.Refused[0].Why, "would run through the ")
		require.Len(t, tapesOf(c), 2)
		for _, tape := range tapesOf(c) {
			require.Equal(t, OnSkin, tape.Kind)
			h, m := tape.From.At, c.Mark.Skin
			around := 30 * (math.Atan2(h.BL.Inches(), h.WL.Inches()) - math.Atan2(m.BL.Inches(), m.WL.Inches()))
			gap := math.Hypot(26, 15) - 30 // the hook stands off the skin by so much
			assert.InDelta(t, math.Hypot(float64(h.FS-m.FS), around), tape.Length.Inches(), gap+0.001, "%s from %s", c.ID, tape.From.ID)
		}
	}
}

// The closure is a third hardpoint, the one that crosses both tapes best; with
// two hardpoints there is none.
func TestClosure(t *testing.T) {
	two := []string{"side: both, fs: 0, bl: 0.5, wl: 0", "side: both, fs: 120, bl: 0.5, wl: 0"}
	for _, c := range checklist(t, worked.Worked(t, "two", worked.LayoutOf(t, slabWith(two...)))) {
		assert.Nil(t, c.Closure, c.ID)
		assert.Equal(t, "P1 P2", c.Tapes[0].From.ID+" "+c.Tapes[1].From.ID)
	}
	// P3 lies behind P1 as seen from the disc, P4 across both
	four := append(two, "side: both, fs: 10, bl: 0.5, wl: 4", "side: both, fs: 52, bl: 0.5, wl: 60")
	for _, c := range checklist(t, worked.Worked(t, "four", worked.LayoutOf(t, slabWith(four...)))) {
		require.NotNil(t, c.Closure, c.ID)
		names := map[string]bool{}
		for _, tape := range tapesOf(c) {
			names[tape.From.ID] = true
		}
		assert.Len(t, names, 3, c.ID)
		assert.True(t, names["P4"] && names["P2"], "%s: %v: P1 and P3 say the same", c.ID, names)
	}
}

// A side without hardpoints is placed by its edges; what nothing places is told.
func TestTooFewHardpoints(t *testing.T) {
	w := worked.Worked(t, "bare", worked.LayoutOf(t, slabWith()))
	list, findings, err := Tapes(t.Context(), w.Layout, w.Tilings, g.NetTolerance)
	require.NoError(t, err)
	assert.Empty(t, worked.Rules(findings, layouts.Warn, layouts.Stop))
	for _, p := range list.Placings {
		require.Len(t, p.Points, 3, p.Marking)
		for _, q := range p.Points {
			way, ok := q.Way()
			require.True(t, ok, q.Name)
			require.Equal(t, ByEdges, way.Method)
			// level from the fore or the aft edge, plumb from the lower or the upper one
			x, y := q.Point.Mark.Skin.FS.Inches(), q.Point.Mark.Skin.WL.Inches()
			if way.Readings[0].Towards == "forward" {
				x = 120 - x
			}
			if way.Readings[1].Towards == "down" {
				y = 60 - y
			}
			assert.InDelta(t, x, way.Readings[0].Length.Inches(), 1e-5, q.Name)
			assert.InDelta(t, y, way.Readings[1].Length.Inches(), 1e-5, q.Name)
		}
	}

	told := inspectPlaces(w.Layout, w.Tilings, make([]Placing, len(w.Tilings)))
	require.Len(t, told, 1, "told once for all sides")
	assert.Equal(t, "no-hardpoints", told[0].Rule)
	assert.Contains(t, told[0].Message, "layout.yaml:")
	assert.Contains(t, told[0].Message, "nothing places films on the left side and the right side")
}

// Two tapes say where the mark is: circles of their lengths about both hardpoints
// meet at it, to the error of a length over the sine of the crossing.
func TestTapesMeetAtTheMark(t *testing.T) {
	w := worked.Worked(t, "slab", worked.LayoutOf(t, slabWith(
		"side: both, fs: 1, bl: 0.5, wl: 1", "side: both, fs: 119, bl: 0.5, wl: 1", "side: both, fs: 1, bl: 0.5, wl: 59")))
	for _, c := range checklist(t, w) {
		at := func(p g.Position) g.Point { return g.Point{X: p.FS.Inches(), Y: p.WL.Inches()} }
		a, b := at(c.Tapes[0].From.At), at(c.Tapes[1].From.At)
		ra, rb, d := c.Tapes[0].Length.Inches(), c.Tapes[1].Length.Inches(), a.Dist(b)
		// intersection of two circles: along the line of centres, then square to it (derived)
		along := (d*d + ra*ra - rb*rb) / (2 * d)
		off := math.Sqrt(ra*ra - along*along)
		u := b.Sub(a).Unit()
		mark := at(c.Mark.Skin)
		one := a.Add(u.Scale(along)).Add(u.Perp().Scale(off)).Dist(mark)
		other := a.Add(u.Scale(along)).Add(u.Perp().Scale(-off)).Dist(mark)
		assert.Less(t, math.Min(one, other), 1e-5, c.ID)
		assert.InDelta(t, at(c.Closure.From.At).Dist(mark), c.Closure.Length.Inches(), 1e-6, "%s: the closure agrees", c.ID)
	}
}
