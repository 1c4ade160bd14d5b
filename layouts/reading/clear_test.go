package reading

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"

	g "maskloft/geometry"
)

func frameOf(t testing.TB, surfaces string) *layouts.Airframe {
	t.Helper()
	spec, err := loadText(t, "name: clear\nunits: in\naircraft:\n  name: a\n  datum: d\n  surfaces:\n"+surfaces+`
markings:
  - id: disc
    figure: {discs: [{diameter: 1, colour: red}]}
    where: {surface: s, side: left, fs: 60, wl: 0}
paint: {order: [red], colours: {red: {hex: "#9B0A18"}}}
`)
	require.NoError(t, err)
	a, err := layouts.NewAirframe(t.Context(), spec.Aircraft)
	require.NoError(t, err)
	return a
}

// A chord of a cylinder of radius 30 dips below it by R - sqrt(R^2 - (c/2)^2); a
// line that stays outside, or touches, is clear.
func TestStraightLineThroughCylinder(t *testing.T) {
	a := frameOf(t, "    - {id: s, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 120, radius: 30, wl: 0}]}\n")
	at := func(fs, deg, r float64) g.Position {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return g.Position{FS: g.Station(fs), BL: g.ButtLine(r * sin), WL: g.Waterline(r * cos)}
	}
	for _, c := range []struct {
		from, to g.Position
		depth    float64
		blocked  bool
	}{
		{at(60, 0, 30), at(60, 90, 30), 0.0625, true},
		{at(60, 0, 30), at(60, 180, 30), 0.0625, true},
		{at(10, 20, 30), at(110, 20, 30), 0.0625, false}, // along a ruling
		{at(60, 0, 30), at(60, 30, 80), 0.0625, false},   // leaves at once
		{at(60, 40, 30), at(60, 50, 30), 0.0625, true},   // sagitta 30 (1 - cos 5) = 0.114
		{at(60, 40, 30), at(60, 50, 30), 0.125, false},
		{at(130, 0, 5), at(150, 90, 5), 0.0625, false},  // beyond the end
		{at(-20, 0, 40), at(140, 0, 40), 0.0625, false}, // over the top
		{at(-20, 0, 20), at(140, 0, 20), 0.0625, true},  // through both ends
	} {
		where, _, blocked := a.Blocked(c.from, c.to, g.Length(c.depth))
		assert.Equal(t, c.blocked, blocked, "%v to %v at %v", c.from, c.to, where)
		_, _, back := a.Blocked(c.to, c.from, g.Length(c.depth))
		assert.Equal(t, blocked, back, "either way")
		if blocked {
			assert.Less(t, math.Hypot(where.BL.Inches(), where.WL.Inches()), 30-c.depth)
		}
	}
}

// A line from one face of a plate to the other runs through it; along one face, or
// past its outline, it does not.
func TestStraightLineThroughPlate(t *testing.T) {
	a := frameOf(t, "    - {id: s, kind: plate, thickness: 2, outline: [[0, -30], [120, -30], [120, 30], [0, 30]]}\n")
	for _, c := range []struct {
		from, to g.Position
		blocked  bool
	}{
		{g.Position{FS: 40, BL: -1, WL: 0}, g.Position{FS: 60, BL: 20, WL: 0}, true},
		{g.Position{FS: 40, BL: -1, WL: 0}, g.Position{FS: 60, BL: -20, WL: 0}, false},
		{g.Position{FS: 40, BL: -1, WL: 0}, g.Position{FS: 100, BL: -1, WL: 20}, false},
		{g.Position{FS: -10, BL: -1, WL: 0}, g.Position{FS: -5, BL: 20, WL: 0}, false},
		{g.Position{FS: 40, BL: -20, WL: 35}, g.Position{FS: 60, BL: 20, WL: 35}, false},
	} {
		_, _, blocked := a.Blocked(c.from, c.to, 0.0625)
		assert.Equal(t, c.blocked, blocked, "%v to %v", c.from, c.to)
	}
}

// A wing and a fin with sections are solid between their faces.
func TestStraightLineThroughFoils(t *testing.T) {
	wing := frameOf(t, "    - {id: s, kind: plate, thickness: 2, outline: [[0, -30], [120, -30], [120, 30]]}\n"+
		"    - {id: w, kind: wing, naca: 0012, wl: 50, leading: [[0, 0], [0, 200]], trailing: [[60, 0], [60, 200]]}\n"+
		"    - {id: f, kind: foil, naca: 0012, leading: [[200, 0], [200, 60]], trailing: [[260, 0], [260, 60]]}\n")
	for _, c := range []struct {
		from, to g.Position
		blocked  bool
	}{
		{g.Position{FS: 18, BL: 100, WL: 60}, g.Position{FS: 18, BL: 100, WL: 40}, true},
		{g.Position{FS: 18, BL: -100, WL: 60}, g.Position{FS: 18, BL: -100, WL: 40}, true},
		{g.Position{FS: 18, BL: 100, WL: 60}, g.Position{FS: 18, BL: 20, WL: 60}, false},
		{g.Position{FS: 70, BL: 100, WL: 60}, g.Position{FS: 70, BL: 100, WL: 40}, false},
		{g.Position{FS: 218, BL: -20, WL: 30}, g.Position{FS: 218, BL: 20, WL: 30}, true},
		{g.Position{FS: 218, BL: -20, WL: 70}, g.Position{FS: 218, BL: 20, WL: 70}, false},
		{g.Position{FS: 218, BL: -20, WL: 30}, g.Position{FS: 218, BL: -5, WL: 30}, false},
	} {
		_, _, blocked := wing.Blocked(c.from, c.to, 0.0625)
		assert.Equal(t, c.blocked, blocked, "%v to %v", c.from, c.to)
	}
}

// A path along a cylinder runs through a fin that stands on its crown, and not beside it;
// the surface it lies on does not count, nor does an inch at either end.
func TestPathThroughAnotherSurface(t *testing.T) {
	a := frameOf(t, "    - {id: s, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 120, radius: 30, wl: 0}]}\n"+
		"    - {id: fin, kind: plate, thickness: 2, outline: [[80, 25], [110, 25], [110, 60], [95, 60]]}\n")
	round := func(fs0, fs1, deg0, deg1 float64) (path []g.Position) {
		for i := range 41 {
			k := float64(i) / 40
			sin, cos := math.Sincos((deg0 + k*(deg1-deg0)) * math.Pi / 180)
			path = append(path, g.Position{FS: g.Station(fs0 + k*(fs1-fs0)), BL: g.ButtLine(30 * sin), WL: g.Waterline(30 * cos)})
		}
		return path
	}
	for _, c := range []struct {
		path    []g.Position
		through bool
	}{
		{round(100, 100, -40, 40), true},
		{round(60, 60, -40, 40), false}, // ahead of it
		{round(60, 118, 10, 10), false}, // beside it: 5.2 in from its middle
		{round(60, 118, 0, 0), true},
		{round(100, 100, 0, 1.5), false}, // an inch at either end
	} {
		at, id, through := a.Through(c.path, []string{"s"}, 0.0625)
		assert.Equal(t, c.through, through, "%v to %v: %v", c.path[0], c.path[40], at)
		if through {
			assert.Equal(t, "fin", id)
			assert.Less(t, math.Abs(at.BL.Inches()), 1.0)
		}
	}
}

// A straight line runs into what stands off a skin exactly where it passes nearer to the
// skin than that stands off, within its outline: a spot about its normal, an opening
// along the line of sight. What has no height given stops no straight line.
func TestStraightLineOverWhatStandsOff(t *testing.T) {
	a := frameOf(t, "    - {id: s, kind: plate, thickness: 2, outline: [[0, -30], [120, -30], [120, 30], [0, 30]]}\n"+
		"    - {id: w, kind: wing, naca: 0012, wl: 150, leading: [[0, 0], [0, 200]], trailing: [[60, 0], [60, 200]]}\n"+
		"  obstacles:\n"+
		"    - {id: post, kind: spot, surface: s, side: left, fs: 60, wl: 0, size: 6, solid: 4}\n"+
		"    - {id: tailplane, kind: opening, surface: s, side: both, points: [[90, -2], [110, -2], [110, 2], [90, 2]], solid: 40}\n"+
		"    - {id: patch, kind: spot, surface: s, side: left, fs: 30, wl: 0, size: 6}\n"+
		"    - {id: fence, kind: opening, surface: w, face: upper, points: [[10, 100], [50, 100], [50, 101], [10, 101]], solid: 5}\n")
	for _, c := range []struct {
		from, to g.Position
		by       string
	}{
		{g.Position{FS: 50, BL: -4, WL: 0}, g.Position{FS: 70, BL: -4, WL: 0}, "post"}, // 3 in off the skin
		{g.Position{FS: 50, BL: -6, WL: 0}, g.Position{FS: 70, BL: -6, WL: 0}, ""},     // 5 in off
		{g.Position{FS: 50, BL: 4, WL: 0}, g.Position{FS: 70, BL: 4, WL: 0}, ""},       // the other side
		{g.Position{FS: 50, BL: -4, WL: 3.2}, g.Position{FS: 70, BL: -4, WL: 3.2}, ""}, // beside it
		{g.Position{FS: 100, BL: 30, WL: -20}, g.Position{FS: 100, BL: 30, WL: 20}, "tailplane"},
		{g.Position{FS: 100, BL: -30, WL: -20}, g.Position{FS: 100, BL: -30, WL: 20}, "tailplane"},
		{g.Position{FS: 100, BL: 42, WL: -20}, g.Position{FS: 100, BL: 42, WL: 20}, ""}, // past its tip
		{g.Position{FS: 80, BL: 30, WL: -20}, g.Position{FS: 80, BL: 30, WL: 20}, ""},   // ahead of it
		{g.Position{FS: 25, BL: -2, WL: 0}, g.Position{FS: 35, BL: -2, WL: 0}, ""},
		{g.Position{FS: 30, BL: 90, WL: 157}, g.Position{FS: 30, BL: 110, WL: 157}, "fence"}, // the skin is 3.5 in up there
		{g.Position{FS: 30, BL: 90, WL: 160}, g.Position{FS: 30, BL: 110, WL: 160}, ""},
		{g.Position{FS: 30, BL: 90, WL: 143}, g.Position{FS: 30, BL: 110, WL: 143}, ""}, // below the wing
	} {
		_, by, _ := a.Blocked(c.from, c.to, 0.0625)
		assert.Equal(t, c.by, by, "%v to %v", c.from, c.to)
		_, by, _ = a.Blocked(c.to, c.from, 0.0625)
		assert.Equal(t, c.by, by, "%v to %v", c.to, c.from)
	}
	spec, err := loadText(t, slabWith+"    - {id: post, kind: spot, surface: slab, side: left, fs: 60, wl: 30, size: 6, solid: 4}\n"+
		"  hardpoints: [{id: P1, name: in, side: both, fs: 61, bl: 0.5, wl: 31}, {id: P2, name: beside, side: both, fs: 64, bl: 0.5, wl: 30}, {id: P3, name: over, side: both, fs: 60, bl: 5, wl: 30}]"+slabMarking)
	require.NoError(t, err)
	within, err := layouts.NewAirframe(t.Context(), spec.Aircraft)
	require.NoError(t, err)
	require.Len(t, within.Notes, 1, "%v", within.Notes)
	assert.Equal(t, "hardpoint-within", within.Notes[0].Rule)
	assert.Contains(t, within.Notes[0].Message, "the hardpoint P1 stands within the post")

	assert.Contains(t, problemsOf(t, slabWith+"    - {id: post, kind: spot, surface: slab, fs: 60, wl: 0, size: 6, solid: yes}"+slabMarking)[0].Hint, "solid: 6 in")
}
