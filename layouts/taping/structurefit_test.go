package taping

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/reading"
	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// turned returns p turned about the three axes in turn (x, then y, then z), in
// degrees, right-handed.
func turned(p g.Vec3, x, y, z float64) g.Vec3 {
	about := func(a, b *float64, deg float64) {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		*a, *b = *a*cos-*b*sin, *a*sin+*b*cos
	}
	about(&p.Y, &p.Z, x)
	about(&p.Z, &p.X, y)
	about(&p.X, &p.Y, z)
	return p
}

var drawnPoints = []g.Vec3{{X: 240, Y: 1.375, Z: 50}, {X: 120, Y: 12.5, Z: 36}, {X: 240, Y: 1.5, Z: 60}, {X: 120, Y: 13, Z: 65}, {X: 120, Y: -13, Z: 65}}

func moved(by g.Vec3, x, y, z float64) []FitPoint {
	var out []FitPoint
	middle := g.Vec3{}
	for _, p := range drawnPoints {
		middle = middle.Add(p.Scale(1 / float64(len(drawnPoints))))
	}
	for i, p := range drawnPoints {
		real := turned(p.Sub(middle), x, y, z).Add(middle).Add(by)
		out = append(out, FitPoint{ID: fmt.Sprint("P", i+1), Drawn: g.PositionOf(p), Real: g.PositionOf(real)})
	}
	return out
}

// A known movement comes back: about one axis exactly in degrees, about two in the
// sines and cosines of the matrix itself; nothing is left over.
func TestKnownMovement(t *testing.T) {
	sigma := []float64{0.1, 0.1, 0.1, 0.1, 0.1}
	for _, c := range []struct{ x, y, z float64 }{{0.3, 0, 0}, {0, -0.5, 0}, {0, 0, 1.25}, {25, 0, 0}, {0, 0, -170}, {0, 0, 0}} {
		by := g.Vec3{X: 0.25, Y: -0.125, Z: 0.5}
		points := moved(by, c.x, c.y, c.z)
		fit, err := fitStructure("test", points, sigma)
		require.NoError(t, err)
		assert.InDelta(t, 0, fit.RMS.Inches(), 1e-10)
		for k, d := range [][2]float64{{c.x, fit.Turned.X}, {c.y, fit.Turned.Y}, {c.z, fit.Turned.Z}, {by.X, fit.Moved.X}, {by.Y, fit.Moved.Y}, {by.Z, fit.Moved.Z}} {
			assert.InDelta(t, d[0], d[1], 1e-9, "%v: %d", c, k)
		}
	}
	points := moved(g.Vec3{}, 10, 20, -30)
	m, err := rigid(points)
	require.NoError(t, err)
	for _, p := range points {
		assert.Less(t, m.move(p.Drawn.Vec()).Sub(p.Real.Vec()).Norm(), 1e-10)
	}
	want := turned(g.Vec3{X: 1}, 10, 20, -30) // first column of the matrix
	assert.InDelta(t, want.X, m.turn[0].X, 1e-12)
	assert.InDelta(t, want.Y, m.turn[1].X, 1e-12)
	assert.InDelta(t, want.Z, m.turn[2].X, 1e-12)
}

// A mirrored set is not matched by a mirror: the turn stays a turn.
func TestFitNeverMirrors(t *testing.T) {
	points := moved(g.Vec3{}, 0, 0, 0)
	for i := range points {
		points[i].Real = points[i].Drawn.Mirrored()
	}
	m, err := rigid(points)
	require.NoError(t, err)
	assert.InDelta(t, 1, m.turn[0].Dot(m.turn[1].Cross(m.turn[2])), 1e-12)
}

// The nose goes up when the aircraft turns positively about its butt line, the
// right side when it rolls positively about its station axis, and the nose to the
// left about its waterline axis.
func TestTurnsInWords(t *testing.T) {
	nose, right := g.Vec3{X: -1}, g.Vec3{Y: 1}
	assert.Greater(t, turned(nose, 0, 1, 0).Z, 0.0)
	assert.Greater(t, turned(right, 1, 0, 0).Z, 0.0)
	assert.Less(t, turned(nose, 0, 0, 1).Y, 0.0)
}

// Of five points one is 3/4 in out: it is named, whichever it is; with scatter of
// 1/16 in none is.
func TestSuspect(t *testing.T) {
	sigma := []float64{0.09, 0.09, 0.09, 0.09, 0.09}
	scatter := []g.Vec3{{X: 0.05, Y: -0.06, Z: 0.02}, {X: -0.06, Y: 0.03, Z: 0.05}, {X: 0.02, Y: 0.06, Z: -0.05}, {X: -0.04, Y: -0.05, Z: -0.04}, {X: 0.03, Y: 0.02, Z: 0.06}}
	for bad := -1; bad < 5; bad++ {
		points := moved(g.Vec3{X: 0.2, Z: -0.3}, 0.1, 0.2, -0.1)
		for i := range points {
			points[i].Real = g.PositionOf(points[i].Real.Vec().Add(scatter[i]))
			if i == bad {
				points[i].Real.WL += 0.75
				points[i].Real.FS += 0.75
			}
		}
		fit, err := fitStructure("test", points, sigma)
		require.NoError(t, err)
		for i, p := range fit.Points {
			assert.Equal(t, i == bad, p.Suspect, "bad %d: %s scores %.2f, %.3f from the others", bad, p.ID, p.Score, p.FromOthers.Inches())
		}
	}
}

func TestFitNeedsThreePointsOffALine(t *testing.T) {
	points := moved(g.Vec3{}, 0, 0, 0)
	_, err := rigid(points[:2])
	require.ErrorContains(t, err, "needs three")
	line := []FitPoint{}
	for i := range 4 {
		p := g.Position{FS: g.Station(10 * i), BL: g.ButtLine(i), WL: 5}
		line = append(line, FitPoint{Drawn: p, Real: p})
	}
	_, err = rigid(line)
	require.ErrorContains(t, err, "one line")
}

// kittockWith is the demo with hardpoints as measured and keys of its own.
func kittockWith(t testing.TB, keys string, measured map[string]string) worked.Work {
	t.Helper()
	text, err := reading.Starter("")
	require.NoError(t, err)
	for id, m := range measured {
		before := text
		at := strings.Index(text, "- {id: "+id+",")
		require.Positive(t, at)
		end := at + strings.Index(text[at:], "}")
		text = text[:end] + ", " + m + text[end:]
		require.NotEqual(t, before, text)
	}
	return worked.Worked(t, "kittock", worked.LayoutOf(t, strings.Replace(text, "\nrules:", "\n"+keys+"\nrules:", 1)))
}

// The demo measured: the left side stands 1/4 in aft of the drawing, the right is
// as drawn but for one slip. Tapes change by what the hardpoints moved along them.
func TestMeasuredHardpoints(t *testing.T) {
	w := kittockWith(t, "", map[string]string{
		"P1": "measured: {left: {fs: 240.25, bl: 1.375, wl: 50}, right: {fs: 240, bl: 1.375, wl: 50}}",
		"P2": "measured: {left: {fs: 120.25, bl: 12.5, wl: 36}, right: {fs: 120, bl: 12.5, wl: 36}}, sigma: 1/64 in",
		"P3": "measured: {left: {fs: 240.25, bl: 1.5, wl: 60}, right: {fs: 240, bl: 1.5, wl: 60}}",
		"P4": "measured: {left: {fs: 120.25, bl: 13, wl: 65}, right: {fs: 122, bl: 13, wl: 65}}",
	})
	list, findings, err := Tapes(t.Context(), w.Layout, w.Tilings, g.NetTolerance)
	require.NoError(t, err)
	rules := fmt.Sprint(worked.Rules(findings, layouts.Warn))
	assert.Contains(t, rules, "hardpoint-far")
	assert.Contains(t, rules, "hardpoint-suspect")
	require.Len(t, list.Structure, 3)
	left, right := list.Structure[0], list.Structure[1]
	assert.InDelta(t, 0.25, left.Moved.X, 1e-9)
	assert.InDelta(t, 0, left.Turned.Norm(), 1e-9)
	for _, p := range right.Points {
		assert.Equal(t, p.ID == "P4", p.Suspect, "%s %v", p.ID, p.Score)
	}

	drawn := map[string]Checkpoint{}
	for _, c := range checklist(t, worked.Demo(t)) {
		drawn[c.ID] = c
	}
	compared := 0
	for _, c := range list.Points {
		if !strings.HasSuffix(c.Marking, "-left") {
			continue
		}
		for _, tape := range c.all() {
			assert.True(t, tape.From.Measured)
			want := layouts.MeasuredSigma
			if tape.From.ID == "P2" {
				want = 1.0 / 64
			}
			assert.Equal(t, want, tape.From.Sigma)
			before, ok := drawn[c.ID].tape(tape.From.ID)
			if !ok {
				continue
			}
			compared++
			// to first order the length grows by the part of the movement along it
			assert.InDelta(t, before.Length.Inches()+0.25*before.away.X, tape.Length.Inches(), 0.01, "%s from %s", c.ID, tape.From.ID)
		}
	}
	assert.Greater(t, compared, 50)
}
