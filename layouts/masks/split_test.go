package masks

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Of random films: every film lies in one stretch, stretches are no longer than the
// longest tile and follow one another, films do not meet, and every one is there once.
func TestSplit(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	longer := 0.0
	for n := range 20 {
		film := filmOf(24, layouts.FreeGrain)
		films := someFilms(random, 6+2*n, 22.5)
		whole := Nest(films, film)
		run := Split(whole, film)
		checkRun(t, Run{Web: run.Web, Usable: run.Usable, Lead: run.Lead, Tail: run.Tail, Grain: run.Grain, Films: run.Films, Length: run.Length, Shelves: run.Length, LowerBound: run.LowerBound}, films, film)
		require.NotEmpty(t, run.Stretches)
		end, next := run.Lead, 0
		for i, s := range run.Stretches {
			assert.LessOrEqual(t, (s.To - s.From).Inches(), 48+1e-5)
			if i > 0 {
				assert.InDelta(t, (end + WebGap).Inches(), s.From.Inches(), 1e-5)
			}
			end = s.To
			for next < len(run.Films) && run.Films[next].Rect.Min.X < s.To.Inches() {
				r := run.Films[next].Rect
				assert.True(t, r.Min.X >= s.From.Inches()-1e-5 && r.Max.X <= s.To.Inches()+1e-5, "film %d is parted", next+1)
				next++
			}
		}
		assert.Equal(t, len(films), next)
		assert.InDelta(t, (end + run.Tail).Inches(), run.Length.Inches(), 1e-5)
		longer += run.Length.Inches() / whole.Length.Inches() / 20
	}
	assert.Less(t, longer, 1.25, "mean of 20 runs, split over whole")
}

// A run that is short enough stays as it lies.
func TestSplitShortRun(t *testing.T) {
	film := filmOf(24, layouts.KeepGrain)
	run := Nest([]WebFilm{{ID: "a", Width: 20, Height: 20}, {ID: "b", Width: 20, Height: 20}}, film)
	got := Split(run, film)
	assert.Equal(t, run.Films, got.Films)
	assert.Equal(t, []Stretch{{1, 41.5}}, got.Stretches, fmt.Sprint(got.Stretches))
	assert.Equal(t, run.Length, got.Length)
	assert.Empty(t, Split(Nest(nil, film), film).Stretches)
	film.Longest = 21
	assert.Equal(t, []Stretch{{1, 21}, {21.5, 41.5}}, Split(run, film).Stretches)
	assert.Equal(t, g.Length(43.5), Split(run, film).Length)
}
