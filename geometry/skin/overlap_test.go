package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// ramp is a spiral ramp about the x axis: V is the distance from the axis, U the
// station, so that it turns once in 2 pi pitch. With a small pitch it is nearly a
// flat ring, and two turns of it lie on one another in the flat.
type ramp struct{ pitch, turns, inner, outer float64 }

func (r ramp) Breaks() (u, v []float64, period float64) {
	return []float64{0, 2 * math.Pi * r.pitch * r.turns}, []float64{r.inner, r.outer}, 0
}
func (r ramp) Contains(uv UV) bool { return true }
func (r ramp) At(uv, _ UV) (g.Vec3, g.Vec3) {
	sin, cos := math.Sincos(uv.U / r.pitch)
	return g.Vec3{X: uv.U, Y: uv.V * cos, Z: uv.V * sin},
		g.Vec3{X: -uv.V / r.pitch, Y: -sin, Z: cos}.Unit()
}

// Failure mode: the flat overlaps itself. One turn and a half of a ramp do; seven
// eighths of a turn do not; nor does film that keeps clear of the overlap.
func TestRefuseSelfOverlap(t *testing.T) {
	need := g.Rect{Min: g.Point{X: -4, Y: -30}, Max: g.Point{X: 30, Y: 30}}
	frame := func(r ramp) Frame {
		return Frame{At: UV{math.Pi * r.pitch * r.turns, (r.inner + r.outer) / 2}, Up: g.Vec3{X: 1}}
	}
	r := ramp{0.05, 1.5, 8, 12}
	_, err := Flatten(t.Context(), r, frame(r), need, need, 0.01)
	if err == nil {
		// the up-direction may have turned the ring the other way
		_, err = Flatten(t.Context(), r, frame(r), g.Rect{Min: g.Point{X: -30, Y: -30}, Max: g.Point{X: 4, Y: 30}}, g.Rect{Min: g.Point{X: -30, Y: -30}, Max: g.Point{X: 4, Y: 30}}, 0.01)
	}
	require.ErrorContains(t, err, "the flat overlaps itself: both lie on one place of the film")
	require.Regexp(t, `^FS [0-9.]+ BL .* and FS [0-9.]+ BL `, err.Error())

	r = ramp{0.05, 0.875, 8, 12}
	m, err := Flatten(t.Context(), r, frame(r), box(60, 60), box(60, 60), 0.01)
	require.NoError(t, err)
	require.NoError(t, m.checkFlat(box(60, 60)))

	r = ramp{0.05, 1.5, 8, 12}
	_, err = Flatten(t.Context(), r, frame(r), box(3, 3), box(3, 3), 0.01)
	require.NoError(t, err, "the overlap lies on the far side")
}

// Failure mode: the skin beyond a conjugate point folds in the flat. A triangle
// laid the wrong way round is refused where the film needs it, and only there.
func TestRefuseFold(t *testing.T) {
	m := flattenAt(t, cylinder30(t), g.Left, g.SidePosition{FS: 60}, box(20, 20))
	require.NoError(t, m.checkFlat(box(20, 20)))
	k := m.nearestNode(g.Point{X: 6, Y: 6})
	at := g.PositionOf(PointAt(m.s, m.net.nodeUV(k)))
	m.flat[k] = m.flat[k].Add(g.Vec{X: 7})
	err := m.checkFlat(box(20, 20))
	require.ErrorContains(t, err, "the flat folds over itself there")
	require.ErrorContains(t, err, "20.00 x 20.00 in: make the marking smaller")
	require.Contains(t, err.Error(), "FS ")
	require.InDelta(t, 66, at.FS.Inches(), 3)
	require.NoError(t, m.checkFlat(box(4, 4)))
}

// Most of a sphere of 30 in radius cannot be laid flat: at its ends, 48.26 in round
// at FS 29 (2 pi sqrt(900 - 841), derived), it is refused.
func TestRefuseMostOfASphere(t *testing.T) {
	s := barrel{30, 30, 29}
	_, err := Flatten(t.Context(), s, frameAt(t, s, g.Left, g.SidePosition{}), box(120, 150), box(120, 150), 0.05)
	require.ErrorContains(t, err, "FS -29 BL 0 WL 0: the fore end of the body, 48.26 in round")
	require.ErrorContains(t, err, "lies inside the film of 120.00 x 150.00 in")
}

func TestCrossings(t *testing.T) {
	find := func(closed bool, pts ...g.Point) (out []g.Point) {
		crossings(pts, closed, func(_, _ int, at g.Point) bool { out = append(out, at); return true })
		return
	}
	p := func(x, y float64) g.Point { return g.Point{X: x, Y: y} }
	require.Empty(t, find(true, p(0, 0), p(4, 0), p(4, 3), p(0, 3)))
	require.Equal(t, []g.Point{p(2, 2)}, find(true, p(0, 0), p(4, 4), p(4, 0), p(0, 4)))
	require.Equal(t, []g.Point{p(2, 2)}, find(false, p(0, 0), p(4, 4), p(4, 0), p(0, 4)))
	require.Empty(t, find(false, p(0, 0), p(4, 4), p(4, 0), p(3, 1)), "it stops short")
	require.Equal(t, []g.Point{p(2, 2)}, find(false, p(0, 0), p(2, 2), p(4, 4), p(4, 0), p(2, 2.0), p(0, 4))[:1], "in a node of both")
	require.Len(t, find(false, p(0, 0), p(2, 2), p(4, 4), p(4, 0), p(0, 4)), 1, "in a node of one")
	// against all pairs, on a curve that winds three times and crosses itself
	var rose []g.Point
	for i := 0; i < 301; i++ {
		a := 2 * math.Pi * 3 * float64(i) / 301
		rose = append(rose, g.Point{X: (5 + math.Cos(2*a/3)) * math.Cos(a), Y: (5 + math.Sin(a/3)) * math.Sin(a)})
	}
	all := 0
	for i := range rose {
		for j := i + 2; j < len(rose) && (i > 0 || j < len(rose)-1); j++ {
			if _, ok := crossingOf(rose[i], rose[(i+1)%len(rose)], rose[j], rose[(j+1)%len(rose)]); ok {
				all++
			}
		}
	}
	require.Positive(t, all)
	require.Len(t, find(true, rose...), all)
	require.Equal(t, 3, windings(rose, g.Point{}))
	require.Equal(t, 0, windings(rose, p(9, 0)))
}
