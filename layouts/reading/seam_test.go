package reading

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"
)

func TestSeamKeys(t *testing.T) {
	for _, tc := range []struct {
		film string
		want layouts.SeamSpec
	}{
		{"", layouts.UsualSeam()},
		{"film: {web: 24}", layouts.SeamSpec{Style: layouts.ButtSeam, Grain: layouts.FreeGrain}},
		{"film: {seam: butt, grain: keep}", layouts.SeamSpec{Style: layouts.ButtSeam, Grain: layouts.KeepGrain}},
		{"film: {seam: overlap}", layouts.SeamSpec{Style: layouts.OverlapSeam, Overlap: 0.125, Waste: 0.125, Grain: layouts.FreeGrain}},
		{"film: {seam: overlap, overlap: 1/16 in}", layouts.SeamSpec{Style: layouts.OverlapSeam, Overlap: 0.0625, Waste: 0.0625, Grain: layouts.FreeGrain}},
		{"film: {seam: overlap, overlap: 1/8 in, waste-overlap: 1/2 in, grain: free}", layouts.SeamSpec{Style: layouts.OverlapSeam, Overlap: 0.125, Waste: 0.5, Grain: layouts.FreeGrain}},
	} {
		spec, err := loadText(t, withFilm(tc.film))
		require.NoError(t, err, tc.film)
		assert.Equal(t, tc.want, spec.Film.Seam, tc.film)
		assert.Equal(t, max(tc.want.Overlap, tc.want.Waste), spec.Film.Seam.Reach())
	}
}

func TestSeamKeysRefused(t *testing.T) {
	for _, tc := range []struct{ film, message, hint string }{
		{"{seam: lap}", `seam is "lap", wanted butt or overlap`, "overlap"},
		{"{grain: along}", `grain is "along", wanted keep or free`, "keep or free"},
		{"{overlap: 1/8 in}", "overlap is given, but the seam is butt", "seam: overlap"},
		{"{seam: butt, waste-overlap: 1/2 in}", "waste-overlap is given, but the seam is butt", "seam: overlap"},
		{"{seam: overlap, overlap: 1/4 in}", "overlap is 0.25 in, at most 0.125 in where paint is near", "waste-overlap:"},
		{"{seam: overlap, overlap: 0}", "overlap is 0 in", "above 0"},
		{"{seam: overlap, waste-overlap: 1 in}", "waste-overlap is 1 in, at most 0.5 in", "0.5 in or less"},
		{"{seam: overlap, waste-overlap: 1/16 in}", "waste-overlap is 0.0625 in, below the overlap of 0.125 in", "or more"},
		{"{seem: butt}", "film has no key seem", "did you mean seam?"},
	} {
		p := problemsOf(t, withFilm("film: "+tc.film))[0]
		assert.Contains(t, p.Message, tc.message, tc.film)
		assert.Contains(t, p.Hint, tc.hint, tc.film)
		assert.Equal(t, 13, p.Place.Line, tc.film)
	}
}
