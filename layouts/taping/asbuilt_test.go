package taping

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/masks"
	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// A film laid 1/4 in to the right, 1/8 in down and turned by 0.6 degrees is found
// again from tapes measured on the skin where its points then stand.
func TestAsBuiltFindsTheMovement(t *testing.T) {
	w := worked.Demo(t)
	points := checklist(t, w)
	offset, turn := g.Vec{X: 0.25, Y: -0.125}, 0.6
	sin, cos := math.Sincos(turn * math.Pi / 180)
	var readings []TapeReading
	for i := range w.Tilings {
		tp := taperOf(w, i)
		if i%2 == 1 { // one of the sides
			continue
		}
		for _, c := range points {
			if c.Marking != tp.laid.ID() || c.Role == masks.Extent {
				continue
			}
			m := c.Mark
			f := m.Film.Sub(g.Point{})
			m.Film = g.Point{}.Add(f.Scale(cos)).Add(f.Perp().Scale(sin)).Add(offset)
			uv, ok := tp.laid.Map.ToSkin(m.Film)
			require.True(t, ok)
			m.UV, m.Skin = uv, g.PositionOf(skin.PointAt(tp.laid.Placement.Surface, uv))
			for _, tape := range c.all() {
				for _, h := range tp.hooks {
					if h.ID == tape.From.ID {
						real, refused := tp.from(h, m)
						require.Nil(t, refused)
						readings = append(readings, TapeReading{Point: c.ID, From: h.ID, Printed: tape.Length, Measured: real.Length})
					}
				}
			}
		}
	}
	built, findings, err := AsBuilt(w.Layout.Spec.Tape, w.Tilings, points, readings, g.Foot)
	require.NoError(t, err)
	assert.Empty(t, findings)
	require.Len(t, built, 3)
	for _, m := range built {
		// lengths are those of the flat to the second order of a movement of 1/4 in
		assert.InDelta(t, offset.X, m.Offset.X, 0.004, m.Marking)
		assert.InDelta(t, offset.Y, m.Offset.Y, 0.004, m.Marking)
		assert.InDelta(t, turn, m.Turn, 0.02, m.Marking)
		for _, r := range m.Readings {
			assert.Less(t, math.Abs(r.Left.Inches()), 0.006, "%s from %s", r.Point, r.From)
			assert.True(t, r.Used)
		}
		for _, p := range m.Points {
			f := p.Film.Sub(g.Point{})
			want := f.Scale(cos - 1).Add(f.Perp().Scale(sin)).Add(offset)
			assert.Less(t, p.Off.Sub(want).Norm(), 0.012, "%s: wanted %v, got %v", p.ID, want, p.Off)
			assert.NotZero(t, p.Real, p.ID)
		}
	}
}

// In a plane the answer is exact: two circles meet where the point is.
func TestAsBuiltOnSlab(t *testing.T) {
	w := worked.Worked(t, "slab", worked.LayoutOf(t, slabWith("side: both, fs: 0, bl: 0.5, wl: 0", "side: both, fs: 120, bl: 0.5, wl: 0", "side: both, fs: 0, bl: 0.5, wl: 60")))
	points := checklist(t, w)
	c := points[0]
	require.Equal(t, "disc-left-centre", c.ID)
	at := g.Position{FS: 50.5, BL: -0.5, WL: 24.25} // 1/2 in aft, 3/4 in down
	var readings []TapeReading
	for _, tape := range c.all() {
		readings = append(readings, TapeReading{Point: c.ID, From: tape.From.ID, Printed: g.Length(math.NaN()), Measured: tape.From.At.To(at)})
	}
	built, findings, err := AsBuilt(w.Layout.Spec.Tape, w.Tilings, points, readings, g.Foot)
	require.NoError(t, err)
	assert.Empty(t, findings)
	require.Len(t, built, 1)
	assert.InDelta(t, 0.5, built[0].Points[0].Off.X, 1e-6)
	assert.InDelta(t, -0.75, built[0].Points[0].Off.Y, 1e-6)
	assert.InDelta(t, 0.5, built[0].Offset.X, 1e-6)
	assert.Zero(t, built[0].Turn)
	assert.Less(t, built[0].Points[0].Real.To(at).Inches(), 1e-6)

	// one tape of three misread by a foot: any of the three may be, and none is left out
	readings[0].Measured += 12
	built, findings, err = AsBuilt(w.Layout.Spec.Tape, w.Tilings, points, readings, g.Foot)
	require.NoError(t, err)
	assert.Equal(t, []string{"built-open"}, worked.Rules(findings, layouts.Stop))
	assert.Equal(t, []int{0, 1, 2}, built[0].Wrong[0].Readings)
	for _, r := range built[0].Readings {
		assert.True(t, r.Used)
		assert.True(t, math.IsInf(r.Named.Inches(), 1), "no size of a mistake tells which")
		assert.False(t, math.IsInf(r.Seen.Inches(), 1), "but it shows")
	}

	_, findings, err = AsBuilt(w.Layout.Spec.Tape, w.Tilings, points, readings[:1], g.Foot)
	require.NoError(t, err)
	assert.Equal(t, []string{"built-few"}, worked.Rules(findings, layouts.Stop))

	// outside the limit is a stop
	readings[0].Measured -= 12
	_, findings, err = AsBuilt(w.Layout.Spec.Tape, w.Tilings, points, readings, g.Inch/2)
	require.NoError(t, err)
	assert.Equal(t, []string{"built-outside"}, worked.Rules(findings, layouts.Stop))
}

func TestAsBuiltErrors(t *testing.T) {
	w := worked.Worked(t, "slab", worked.LayoutOf(t, slabWith("side: both, fs: 0, bl: 0.5, wl: 0", "side: both, fs: 120, bl: 0.5, wl: 0")))
	points := checklist(t, w)
	place := layouts.Place{File: "m.csv", Line: 7, Column: 40}
	tape := points[0].Tapes[0]
	good := TapeReading{Place: place, Point: points[0].ID, From: tape.From.ID, Printed: tape.Length, Measured: tape.Length}
	for says, r := range map[string][]TapeReading{
		`no point "disc-left-nowhere"`:      {{Place: place, Point: "disc-left-nowhere", From: "P1"}},
		`no tape from "P9": it has P1, P2`:  {{Place: place, Point: points[0].ID, From: "P9"}},
		"the file belongs to another one":   {{Place: place, Point: points[0].ID, From: tape.From.ID, Printed: tape.Length + 0.01, Measured: tape.Length}},
		"was measured twice: keep one line": {good, good},
	} {
		built, _, err := AsBuilt(w.Layout.Spec.Tape, w.Tilings, points, r, g.Foot)
		assert.Nil(t, built)
		require.ErrorContains(t, err, says)
		assert.ErrorContains(t, err, "m.csv:7:40: ")
	}
}

// Lengths to check are those between points of the film, inside one tile or along
// the lines of the marking; diagonals of the paint are alike.
func TestCheckLengths(t *testing.T) {
	for _, w := range worked.DemoAndLessons(t) {
		film := map[string]g.Point{}
		for _, c := range checklist(t, w) {
			film[c.ID] = c.Mark.Film
		}
		pairs := map[string]int{}
		for _, c := range CheckLengths(w.Tilings) {
			a, okA := film[c.Marking+"-"+c.From]
			b, okB := film[c.Marking+"-"+c.To]
			require.True(t, okA && okB, "%v", c)
			assert.InDelta(t, math.Hypot(a.X-b.X, a.Y-b.Y), c.Length.Inches(), 1e-9)
			assert.GreaterOrEqual(t, c.Limit, g.Inch/16)
			pairs[c.Marking+" "+c.Tile]++
		}
		for _, tiling := range w.Tilings {
			for _, cell := range tiling.Films[0].Cells {
				n := len(cell.Marks)
				assert.Equal(t, n*(n-1)/2, pairs[tiling.Laid.ID()+" "+string(rune('0'+cell.Row))+"-"+string(rune('0'+cell.Column))], w.Name)
			}
			if tiling.Laid.Placement.Drawn == nil { // what follows the skin may have no level line on it
				assert.GreaterOrEqual(t, pairs[tiling.Laid.ID()+" "], 1, "the level line at least")
			}
		}
	}
	checks := CheckLengths(worked.Demo(t).Tilings)
	assert.InDelta(t, checks[2].Length.Inches(), checks[3].Length.Inches(), 1e-9, "both diagonals of a rectangle")
	assert.InDelta(t, 20*math.Sqrt2, checks[2].Length.Inches(), 1e-9, "of the square round a disc of 20 in")
}
