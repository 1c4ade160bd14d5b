package book

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts/reading"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// What the view in three dimensions shows of a wing lies within its planform, as the
// layout gives it, and reaches its edges: the tip of lesson 6 is cut off slantwise.
func TestSceneOfAWing(t *testing.T) {
	spec, err := reading.Load(filepath.Join("..", "..", "testdata", "lessons", "06-wing.yaml"))
	require.NoError(t, err)
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	text, err := Scene(l, nil, taping.TapeList{})
	require.NoError(t, err)
	require.NotEmpty(t, text)
	span := l.Airframe.Spec.Surfaces[0].Span
	for _, side := range []g.Side{g.Left, g.Right} {
		var corners []g.Point
		for _, p := range span.Leading {
			corners = append(corners, g.Point{X: p.FS.Inches(), Y: p.BL.Inches() * side.Sign()})
		}
		for i := len(span.Trailing) - 1; i >= 0; i-- {
			corners = append(corners, g.Point{X: span.Trailing[i].FS.Inches(), Y: span.Trailing[i].BL.Inches() * side.Sign()})
		}
		planform := g.Path{g.Polygon(corners...)}
		for _, face := range []layouts.Face{layouts.UpperFace, layouts.LowerFace} {
			wing, err := l.Airframe.WingSurface("wing", side, face)
			require.NoError(t, err)
			var s scene
			s.cover(wing, "#ffffff")
			require.Len(t, s.Skins, 1)
			var seen []g.Point
			for p := s.Skins[0].Points; len(p) > 0; p = p[3:] {
				seen = append(seen, g.Point{X: float64(p[0]) / 100, Y: float64(p[1]) / 100})
			}
			for _, f := range s.Frames {
				for ; len(f) > 0; f = f[3:] {
					seen = append(seen, g.Point{X: f[0], Y: f[1]})
				}
			}
			for _, q := range seen {
				near := false // within a hundredth of the edge, to which points are rounded
				for i, a := range corners {
					near = near || g.SegmentDistance(q, a, corners[(i+1)%len(corners)]) < 0.02
				}
				require.True(t, near || planform.Contains(q, g.FlattenTolerance), "%v", q)
			}
			box, want := g.BoundsOf(seen...), g.BoundsOf(corners...)
			require.InDelta(t, want.Width(), box.Width(), 0.05*want.Width(), "the round of the leading edge is left out")
			require.InDelta(t, want.Height(), box.Height(), 0.02)
		}
	}
}
