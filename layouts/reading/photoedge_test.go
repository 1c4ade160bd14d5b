package reading

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/camera"
	"maskloft/layouts"
)

// onFin is a place of the fin's plane.
func onFin(fs, wl float64) g.Position {
	return g.Position{FS: g.Station(fs), BL: -0.8, WL: g.Waterline(wl)}
}

// edgeSeen is an edge of the fin's plane through a place in a direction, as the shot sees
// it: central projection keeps straight lines, so two places give the direction.
func edgeSeen(t testing.TB, fs, wl, angle float64) layouts.PhotoEdge {
	t.Helper()
	p, ok := shot.Project(onFin(fs, wl))
	require.True(t, ok)
	q, ok := shot.Project(onFin(fs+math.Cos(angle), wl+math.Sin(angle)))
	require.True(t, ok)
	along := q.Sub(p)
	return layouts.PhotoEdge{At: p, Along: along.Scale(1 / along.Norm()), Off: 0.05, Turn: 0.001}
}

// TestPhotoView_across: two parallel edges on the fin, a bar drawn not quite across, and
// a disc touched at ends that are not quite opposite, against their own sizes.
func TestPhotoView_across(t *testing.T) {
	v, _, err := viewOf(t, withPhoto(t, "    focal: 2200 px\n", shotPoints, shotOrder))
	require.NoError(t, err)
	for _, angle := range []float64{0, 0.4, 1.3, 2.5} {
		for _, along := range []float64{-1, 0, 1.5} { // inches along the bar from the place across
			const width = 5.0
			sin, cos := math.Sincos(angle)
			a := edgeSeen(t, 229, 76, angle)
			b := edgeSeen(t, 229-width*sin+along*cos, 76+width*cos+along*sin, angle+math.Pi)
			w, err := v.ReadAcross(a, b)
			require.NoError(t, err)
			assert.InDelta(t, width, w.Air.Inches(), 0.005)
			assert.InDelta(t, width, w.Skin.Inches(), 0.005)
			assert.InDelta(t, 0, w.Askew, 0.05)
			assert.True(t, w.AlongSkin)
		}
	}
	for _, off := range []float64{0, 0.1, -0.15} {
		const radius = 4.0
		touch := func(at float64) layouts.PhotoEdge {
			e := edgeSeen(t, 229+radius*math.Cos(at), 77+radius*math.Sin(at), at+math.Pi/2)
			e.Round = true
			return e
		}
		w, err := v.ReadAcross(touch(1), touch(1+math.Pi+off))
		require.NoError(t, err)
		assert.InDelta(t, 2*radius, w.Air.Inches(), 0.005)
		assert.InDelta(t, math.Abs(off)*180/math.Pi, math.Abs(w.Askew), 0.05)
	}
	a, b := edgeSeen(t, 229, 76, 0), edgeSeen(t, 229, 80, 0.5)
	_, err = v.ReadAcross(a, b)
	assert.ErrorContains(t, err, "out of parallel")
	_, err = v.ReadAcross(a, edgeSeen(t, 234, 77, 0))
	assert.ErrorContains(t, err, "across from the other")
	b.Round = true
	_, err = v.ReadAcross(a, b)
	assert.ErrorContains(t, err, "one kind")

	// an edge tells its place across only: of a level one the waterline
	level, err := v.ReadEdge(layouts.PhotoEdge{At: a.At, Along: a.Along, Off: 0.01})
	require.NoError(t, err)
	point, err := v.ReadAt(a.At)
	require.NoError(t, err)
	assert.Less(t, level.WL, point.WL)
	assert.InDelta(t, point.At.WL.Inches(), level.At.WL.Inches(), 1e-9)

	// tones: both borders of a light bar move outwards by 0.2 px, at the scale of the picture
	a, b = edgeSeen(t, 229, 74, 0), edgeSeen(t, 229, 79, 0)
	n := func(e layouts.PhotoEdge) g.Vec { return g.Vec{X: -e.Along.Y, Y: e.Along.X} }
	out := a.At.Sub(b.At)
	a.Tone, b.Tone = math.Copysign(0.2, n(a).Dot(out)), math.Copysign(0.2, -n(b).Dot(out))
	w, err := v.ReadAcross(a, b)
	require.NoError(t, err)
	assert.InDelta(t, 5*0.4/math.Abs(n(a).Dot(out)), w.Tones.Inches(), 0.002)
}

// TestPhotoView_acrossHolds: of cameras and edges with grain, the interval of a width and
// of a diameter holds the true one in 93 to 97 of 100.
func TestPhotoView_acrossHolds(t *testing.T) {
	const runs, grain = 800, 0.5
	v, _, err := viewOf(t, withPhoto(t, "    focal: 2200 px\n", shotPoints, shotOrder))
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(1, 5))
	for i := range v.Fit.Sights { // exact places: their own errors are not drawn here
		v.Fit.Sights[i].Off, v.Fit.Sights[i].Sigma = 0, grain
	}
	true9 := v.Fit.Sights
	v.Cropped = nil
	shaken := func(e layouts.PhotoEdge, off, turn float64) layouts.PhotoEdge {
		e.Off, e.Turn = off, turn
		e.At = e.At.Add(g.Vec{X: -e.Along.Y, Y: e.Along.X}.Scale(off * r.NormFloat64()))
		s, c := math.Sincos(turn * r.NormFloat64())
		e.Along = g.Vec{X: float64(e.Along.X*c) - float64(e.Along.Y*s), Y: float64(e.Along.X*s) + float64(e.Along.Y*c)}
		return e
	}
	held := [2]int{}
	for range runs {
		sights := slices.Clone(true9)
		for i := range sights {
			sights[i].Pixel = sights[i].Pixel.Add(g.Vec{X: grain * r.NormFloat64(), Y: grain * r.NormFloat64()})
		}
		if v.Fit, err = camera.Resect(sights, camera.Known{Focal: 2200, Principal: shot.Principal, Diagonal: 1942}); err != nil {
			continue
		}
		w, err := v.ReadAcross(shaken(edgeSeen(t, 229, 74, 0.2), 0.1, 0.004), shaken(edgeSeen(t, 228.5, 79, 0.2), 0.15, 0.006))
		require.NoError(t, err)
		sin, cos := math.Sincos(0.2) // the distance between two parallel lines
		if w.Air95.Holds(5*cos + 0.5*sin) {
			held[0]++
		}
		a, b := edgeSeen(t, 229+4*math.Cos(2), 77+4*math.Sin(2), 2+math.Pi/2), edgeSeen(t, 229+4*math.Cos(5.2), 77+4*math.Sin(5.2), 5.2+math.Pi/2)
		a.Round, b.Round = true, true
		if w, err = v.ReadAcross(shaken(a, 0.1, 0.01), shaken(b, 0.1, 0.01)); err == nil && w.Skin95.Holds(8) {
			held[1]++
		}
	}
	for k, name := range []string{"width", "diameter"} {
		assert.GreaterOrEqual(t, held[k], 93*runs/100, name)
		assert.LessOrEqual(t, held[k], 97*runs/100, name)
	}
}
