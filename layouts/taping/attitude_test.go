package taping

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/masks"
	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// The invented aircraft's own figures, computed beside its drawing: ground angle
// 12.005 degrees, tail raised 37.0, the point (168, 52) 25.03 above the floor; side
// slopes of its lines; pegs truly level.
func TestAttitudeOfTheDemo(t *testing.T) {
	w := kittockWith(t, "", nil)
	w.Layout.Spec.Aircraft.LevelPegs = []layouts.PegSpec{
		{ID: "LP2", At: g.SidePosition{FS: 114, WL: 46}}, {ID: "LP1", At: g.SidePosition{FS: 84, WL: 46}},
	}
	points := []Checkpoint{{ID: "C1", Mark: masks.RegistrationMark{Skin: g.Position{FS: 168, BL: -9.35, WL: 52}}}}
	a, ok := AttitudeOf(w.Layout, points)
	require.True(t, ok)
	assert.InDelta(t, 12.005, a.Ground, 5e-4)
	assert.InDelta(t, 37.0, a.TailStand.Inches(), 1e-12)
	assert.InDelta(t, -12.005, a.Waterline, 5e-4)
	require.Len(t, a.Heights, 1)
	assert.InDelta(t, 25.03, a.Heights[0].Parked.Inches(), 5e-3)
	assert.InDelta(t, 46, a.Heights[0].Level.Inches(), 1e-12)
	slopes := map[string]float64{"T": -4.76, "S1": -4.17, "S2": -2.39, "S3": 0, "S4": 2.39, "S5": 4.76, "S6": 6.65, "B": 6.89}
	lengths := map[string]float64{"T": 120.416, "S1": 120.522, "S2": 120.653, "S3": 120.662, "S4": 120.792, "S5": 121.037, "S6": 121.325, "B": 120.873}
	require.Len(t, a.Lines, len(slopes))
	for _, l := range a.Lines {
		assert.InDelta(t, slopes[l.Line], l.Side, 5e-3, l.Line)
		rise := 120 * math.Tan(l.Side*math.Pi/180)
		assert.InDelta(t, math.Asin(rise/lengths[l.Line])*180/math.Pi, l.Level, 1e-3, l.Line)
		// parked: both ends' heights above the floor over the line's length
		sin, cos := math.Sincos(a.Ground * math.Pi / 180)
		assert.InDelta(t, math.Asin((rise*cos-120*sin)/lengths[l.Line])*180/math.Pi, l.Parked, 1e-3, l.Line)
	}
	require.Len(t, a.Pegs, 1)
	peg := a.Pegs[0]
	assert.Equal(t, [2]string{"LP1", "LP2"}, [2]string{peg.From, peg.To})
	assert.InDelta(t, 30, peg.Length.Inches(), 1e-12)
	assert.Zero(t, peg.Block)
	assert.Empty(t, peg.Under)
	assert.InDelta(t, 30*math.Sin(12.005*math.Pi/180), peg.ParkedBlock.Inches(), 1e-3)
	assert.Equal(t, "LP2", peg.ParkedUnder, "nose up: the aft peg is the lower one")

	// a sill 2 degrees nose down takes 5/8 in under an 18 in level (as read of one type)
	sin, cos := math.Sincos(2 * math.Pi / 180)
	sill := pegBlock(layouts.PegSpec{}, layouts.PegSpec{At: g.SidePosition{FS: g.Station(18 * cos), WL: g.Waterline(18 * sin)}}, 0)
	assert.InDelta(t, 5.0/8, sill.Block.Inches(), 1.0/250)

	w.Layout.Spec.Aircraft.Ground = nil
	w.Layout.Airframe.Spec.Ground = nil
	_, ok = AttitudeOf(w.Layout, points)
	assert.False(t, ok)
}

// The floor is where both wheels are, whichever way the aircraft stands.
func TestHeightOfTheWheels(t *testing.T) {
	ground := layouts.GroundSpec{Main: g.SidePosition{FS: 72, WL: 6}, Tail: g.SidePosition{FS: 246, WL: 43}}
	angle := math.Atan2(37, 174)
	assert.InDelta(t, 0, HeightParked(ground, angle, g.Position{FS: 72, WL: 6}).Inches(), 1e-12)
	assert.InDelta(t, 0, HeightParked(ground, angle, g.Position{FS: 246, BL: 3, WL: 43}).Inches(), 1e-12)
}

// The check vector of the invented aircraft: string P2 to P1, 120.814 in seen from
// the side, C1 at 49.531 along and 10.330 above.
func TestStringOffset(t *testing.T) {
	w := worked.Demo(t)
	var p layouts.Placement
	for _, l := range w.Laid {
		if l.ID() == "code-left" {
			p = l.Placement
		}
	}
	strings := stringsOf(w.Layout.Airframe, p)
	var names []string
	for _, s := range strings {
		names = append(names, s.from.ID+s.to.ID)
	}
	assert.Equal(t, []string{"P2P1", "P4P3"}, names, "along the longerons; all others run through the body")
	c1 := g.Position{FS: 168, BL: -9.35, WL: 52}
	o := offsetFrom(strings, c1)
	require.NotNil(t, o)
	assert.Equal(t, "P2", o.From.ID)
	assert.Equal(t, "side above", o.View+" "+o.Towards)
	assert.InDelta(t, 120.814, o.Length.Inches(), 5e-4)
	assert.InDelta(t, 49.531, o.Along.Inches(), 5e-4)
	assert.InDelta(t, 10.330, o.Offset.Inches(), 5e-4)
	// the foot, a share of the way from P2 to P1, in space
	f := 49.531 / 120.814
	foot := g.Vec3{X: 120 + 120*f, Y: -12.5 + 11.125*f, Z: 36 + 14*f}
	assert.InDelta(t, c1.Vec().Sub(foot).Norm(), o.Square.Inches(), 1e-3)
	assert.Nil(t, offsetFrom(strings, g.Position{FS: 250, WL: 52}), "beyond both ends")

	high := offsetFrom(strings, g.Position{FS: 168, BL: -9, WL: 62})
	require.NotNil(t, high)
	assert.Equal(t, "P4 below", high.From.ID+" "+high.Towards)

	plan := stretched{from: strings[0].from, to: strings[0].to, plan: true}
	o = offsetFrom([]stretched{plan}, g.Position{FS: 180, BL: -30, WL: 0})
	require.NotNil(t, o)
	assert.Equal(t, "plan outboard", o.View+" "+o.Towards)
}

// Straight distances of the invented aircraft's check points, and girths between
// its longerons from its table.
func TestDemoVectors(t *testing.T) {
	a := worked.Demo(t).Layout.Airframe
	hard := map[string]layouts.Hardpoint{}
	for _, h := range a.Hardpoints(g.Right) {
		hard[h.ID] = h
	}
	for _, c := range []struct {
		at         g.Position
		p1, p2, p3 float64
	}{
		{g.Position{FS: 168, BL: 9.35, WL: 52}, 72.468, 50.694, 72.867},
		{g.Position{FS: 180, BL: 8.0625, WL: 52.5}, 60.423, 62.385, 60.822},
		{g.Position{FS: 192, BL: 6.675, WL: 57.5}, 48.871, 75.367, 48.343},
	} {
		assert.InDelta(t, c.p1, hard["P1"].At.To(c.at).Inches(), 6e-4)
		assert.InDelta(t, c.p2, hard["P2"].At.To(c.at).Inches(), 6e-4)
		assert.InDelta(t, c.p3, hard["P3"].At.To(c.at).Inches(), 6e-4)
	}
}

// At C1 the best two tapes are P2 and P4 or P2 and P1, never P1 and P3, which cross
// at 8 degrees.
func TestPairAtC1(t *testing.T) {
	w := worked.Worked(t, "c1", worked.LayoutOf(t, `
name: C1
aircraft: kittock.yaml
markings:
  - id: spot
    figure: {discs: [{diameter: 4, colour: red}]}
    where: {surface: fuselage, side: both, fs: 168, wl: 52}
`+worked.Common))
	n := 0
	for _, c := range checklist(t, w) {
		pair := c.Tapes[0].From.ID + c.Tapes[1].From.ID
		assert.NotEqual(t, "P1P3", pair, c.ID)
		if c.Role == masks.Centre {
			n++
			assert.Contains(t, []string{"P1P2", "P2P4"}, pair)
			require.NotNil(t, c.Girth)
			assert.Equal(t, "S4", c.Girth.Line)
			assert.InDelta(t, 0, c.Girth.Length.Inches(), 1e-6)
		}
	}
	assert.Equal(t, 2, n)
}

// The girth from a line leads back to the point, and is that of the drawing's own
// table at FS 168: from S2 to S6 21.547 in.
func TestGirthLeadsToThePoint(t *testing.T) {
	w := worked.Demo(t)
	tried := 0
	for _, c := range checklist(t, w) {
		if c.Girth == nil || c.Girth.Plane != "FS" {
			continue
		}
		tried++
		assert.NotEqual(t, layouts.CrownLine, c.Girth.Line, "the drawing's own names come first")
		assert.InDelta(t, c.Mark.Skin.FS.Inches(), c.Girth.At, 1e-9)
		assert.Less(t, c.Girth.Length.Inches(), 6.0, "%s: the nearest line is meant", c.ID)
		spec := w.Layout.Spec.Aircraft.Surfaces[0]
		for k, name := range spec.Lines {
			if name != c.Girth.Line {
				continue
			}
			f := (c.Girth.At - 120) / 120
			at := func(i int) g.Vec3 {
				p, q := spec.Sections[0].Points[i], spec.Sections[1].Points[i]
				side := math.Copysign(1, c.Mark.Skin.BL.Inches())
				return g.Vec3{X: c.Girth.At, Y: side * (p.BL.Inches() + f*float64(q.BL-p.BL)), Z: p.WL.Inches() + f*float64(q.WL-p.WL)}
			}
			// bays are flat: from the line straight towards the next one down or up
			next := k + 1
			if c.Girth.Towards == "up" {
				next = k - 1
			}
			got := at(k).Add(at(next).Sub(at(k)).Unit().Scale(c.Girth.Length.Inches()))
			assert.Less(t, got.Sub(c.Mark.Skin.Vec()).Norm(), 1e-6, c.ID)
		}
	}
	assert.Greater(t, tried, 40)
}

// From the fore edge of the invented fin, whose stations its drawing lists at WL 74
// and 82: leading edge at FS 215.69 and 223.08 (straight between its corners).
func TestRunFromForeEdge(t *testing.T) {
	w := worked.Demo(t)
	tried := 0
	for _, c := range checklist(t, w) {
		if c.Girth == nil || c.Girth.Plane != "WL" {
			continue
		}
		assert.Equal(t, layouts.ForeEdge+" aft", c.Girth.Line+" "+c.Girth.Towards)
		assert.InDelta(t, c.Mark.Skin.WL.Inches(), c.Girth.At, 1e-9)
		if c.Mark.Skin.FS > 240.375 { // on the rudder: from its own fore edge
			assert.InDelta(t, c.Mark.Skin.FS.Inches()-240.375, c.Girth.Length.Inches(), 1e-3, c.ID)
			continue
		}
		for wl, edge := range map[float64]float64{74: 215.69, 82: 223.08} {
			if math.Abs(c.Girth.At-wl) < 1e-6 {
				assert.InDelta(t, c.Mark.Skin.FS.Inches()-edge, c.Girth.Length.Inches(), 6e-3, c.ID)
				tried++
			}
		}
	}
	assert.GreaterOrEqual(t, tried, 4)
}

// On a tapered wing the run from the leading edge is that of the plan view.
func TestRunFromLeadingEdge(t *testing.T) {
	w := worked.Worked(t, "wing", worked.LayoutOf(t, `
name: wing
aircraft:
  name: wing
  datum: FS 0 is the leading edge at the root
  surfaces: [{id: w, kind: wing, naca: 0012, wl: 50, leading: [[0, 0], [20, 200]], trailing: [[60, 0], [60, 200]]}]
  hardpoints:
    - {id: P1, name: above, fs: 0, bl: 40, wl: 90}
    - {id: P2, name: above, fs: 60, bl: 40, wl: 90}
markings:
  - id: disc
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: w, face: upper, side: both, fs: 35, bl: 100}
`+worked.Common))
	for _, c := range checklist(t, w) {
		require.NotNil(t, c.Girth, c.ID)
		assert.Equal(t, "BL", c.Girth.Plane)
		assert.InDelta(t, c.Mark.Skin.BL.Inches(), c.Girth.At, 1e-9)
		assert.InDelta(t, c.Mark.Skin.FS.Inches()-math.Abs(c.Mark.Skin.BL.Inches())/10, c.Girth.Length.Inches(), 1e-9, c.ID)
		require.Len(t, c.Tapes, 2, "from above both tapes come down through clear air")
		assert.Equal(t, Straight, c.Tapes[0].Kind)
	}
}
