package skin

import (
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// A film longer than twice the whole surface and its girth is refused before a net
// is made; 9,000 in on a body of 120 in took six seconds to be refused. A body of
// radius 10 and length 100 is 100 + 62.83 in.
func TestBeyondAll(t *testing.T) {
	s, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: 10, WL: 50}, {FS: 100, Radius: 10, WL: 50}})
	require.NoError(t, err)
	f := Frame{At: UV{U: 50, V: 1.57}, Up: g.Vec3{Z: 1}}
	wide := func(w float64) g.Rect { return g.Rect{Min: g.Point{X: -w / 2}, Max: g.Point{X: w / 2, Y: 5}} }
	require.NoError(t, beyondAll(s, f, wide(325)))
	require.ErrorContains(t, beyondAll(s, f, wide(326)), "larger than the whole surface, 100.00 in long and 62.8")
}
