package proportions

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/geometry/ended"
	"maskloft/layouts/standards"
)

// A search that is ended goes on for no further rule and no further pose: whenever the
// context is done, it is asked no second time.
func TestSearchesEnd(t *testing.T) {
	rule, err := standards.Find("us-star/disc-1942")
	require.NoError(t, err)
	disc := []Drawn{{Path: geometry.Path{geometry.Circle(geometry.Point{}, 10)}, Fill: "#172035"}, {Path: geometry.Path{geometry.Circle(geometry.Point{}, 4)}, Fill: "#ffffff"}}
	for name, search := range map[string]func(o Options) error{
		"Rank":        func(o Options) error { _, _, err := Rank(disc, o); return err },
		"Inspect":     func(o Options) error { _, err := Inspect(disc, rule, o); return err },
		"InspectFilm": func(o Options) error { _, err := InspectFilm(disc[:1], rule, o); return err },
	} {
		whole := ended.Never(t.Context())
		_ = search(Options{Until: whole}) // found or not
		require.Greater(t, whole.Asked, 20, "%s asks often", name)
		for _, done := range []int{0, 1, whole.Asked / 2, whole.Asked - 1} {
			ctx := &ended.After{Context: t.Context(), Most: done}
			require.ErrorIs(t, search(Options{Until: ctx}), context.Canceled, name)
			assert.Equal(t, done+1, ctx.Asked, "%s ended after %d", name, done)
		}
	}
}
