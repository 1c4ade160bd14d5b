package masks

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// someFilms returns films of random sizes that fit a usable web one way or the other,
// some of them alike, as the passes of a marking are.
func someFilms(random *rand.Rand, n int, usable float64) []WebFilm {
	size := func(most float64) g.Length { return g.Length(math.Round((4+random.Float64()*(most-4))*8) / 8) }
	var out []WebFilm
	for len(out) < n {
		f := WebFilm{Width: size(48), Height: size(usable)}
		if random.IntN(4) == 0 {
			f.Width, f.Height, f.Turned = f.Height, f.Width, true
		}
		for k := random.IntN(3); k >= 0 && len(out) < n; k-- {
			f.ID = fmt.Sprint(len(out))
			out = append(out, f)
		}
	}
	return out
}

func filmOf(web float64, grain layouts.Grain) layouts.FilmSpec {
	return layouts.FilmSpec{Web: g.Length(web), Across: 0.75, Lead: 1, Tail: 2, Longest: 48, Seam: layouts.SeamSpec{Style: layouts.ButtSeam, Grain: grain}}
}

// ffdh is first fit by decreasing height in its plainest form (Coffman, Garey, Johnson
// and Tarjan 1980, from memory): an implementation of its own, in inches. Films lie as
// their tilings have them, or all the short or all the long way along the web.
func ffdh(films []WebFilm, film layouts.FilmSpec, way string) float64 {
	usable := (film.Web - 2*film.Across).Inches()
	type rect struct{ along, over float64 }
	var all []rect
	for _, f := range films {
		r := rect{f.Width.Inches(), f.Height.Inches()}
		if f.Turned {
			r = rect{r.over, r.along}
		}
		if turned := (rect{r.over, r.along}); film.Seam.Grain != layouts.KeepGrain && turned.over <= usable &&
			(way == "short" && turned.along < r.along || way == "long" && turned.along > r.along) {
			r = turned
		}
		all = append(all, r)
	}
	slices.SortStableFunc(all, func(a, b rect) int { return cmp.Compare(b.along, a.along) })
	var used []float64
	length := 0.0
	for _, r := range all {
		k := slices.IndexFunc(used, func(u float64) bool { return u+0.5+r.over <= usable+1e-9 })
		if k < 0 {
			used = append(used, r.over)
			length += r.along + 0.5
			continue
		}
		used[k] += 0.5 + r.over
	}
	return length - 0.5 + (film.Lead + film.Tail).Inches()
}

// checkRun checks that every film is on the web once, at its size, between the margins
// and half an inch from every other.
func checkRun(t *testing.T, r Run, films []WebFilm, film layouts.FilmSpec) {
	t.Helper()
	require.Len(t, r.Films, len(films))
	seen := map[string]bool{}
	end := 0.0
	for i, f := range r.Films {
		assert.Equal(t, i+1, f.Number)
		require.False(t, seen[f.ID])
		seen[f.ID] = true
		k := slices.IndexFunc(films, func(w WebFilm) bool { return w.ID == f.ID })
		require.GreaterOrEqual(t, k, 0)
		w, h := films[k].Width.Inches(), films[k].Height.Inches()
		if f.Across {
			w, h = h, w
			require.NotEqual(t, layouts.KeepGrain, film.Seam.Grain)
		}
		require.InDelta(t, w, f.Rect.Width(), 1e-9)
		require.InDelta(t, h, f.Rect.Height(), 1e-9)
		require.GreaterOrEqual(t, f.Rect.Min.X, film.Lead.Inches()-1e-9)
		require.GreaterOrEqual(t, f.Rect.Min.Y, film.Across.Inches()-1e-9)
		require.LessOrEqual(t, f.Rect.Max.Y, (film.Web-film.Across).Inches()+1e-5)
		end = math.Max(end, f.Rect.Max.X)
		for _, o := range r.Films[:i] {
			apart := math.Max(math.Max(f.Rect.Min.X-o.Rect.Max.X, o.Rect.Min.X-f.Rect.Max.X), math.Max(f.Rect.Min.Y-o.Rect.Max.Y, o.Rect.Min.Y-f.Rect.Max.Y))
			require.GreaterOrEqual(t, apart, WebGap.Inches()-1e-9, "films %s and %s", f.ID, o.ID)
		}
	}
	assert.InDelta(t, end+film.Tail.Inches(), r.Length.Inches(), 1e-4)
	assert.GreaterOrEqual(t, r.Length.Inches(), r.LowerBound.Inches()-1e-4)
}

// 400 random jobs: the run is never longer than shelves of the same films, whichever
// way round those lie, under them in the median, and no film touches another or a
// margin.
func TestNestAgainstShelves(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 7))
	var ratios, over, shelfOver []float64
	for i := range 400 {
		film := filmOf([]float64{15, 24, 36, 48}[random.IntN(4)], layouts.FreeGrain)
		if random.IntN(3) == 0 {
			film.Seam.Grain = layouts.KeepGrain
		}
		films := someFilms(random, 2+random.IntN(20), (film.Web - 2*film.Across).Inches())
		if film.Seam.Grain == layouts.KeepGrain {
			for k, f := range films {
				if f.Turned {
					films[k].Width, films[k].Height, films[k].Turned = f.Height, f.Width, false
				}
			}
		}
		r := Nest(films, film)
		checkRun(t, r, films, film)
		shelves := math.Inf(1)
		for _, way := range []string{"", "short", "long"} {
			shelves = math.Min(shelves, ffdh(films, film, way))
		}
		require.LessOrEqual(t, r.Length.Inches(), shelves+1e-4, "job %d of seed 31, 7: %d films", i, len(films))
		assert.InDelta(t, shelves, r.Shelves.Inches(), 1e-4)
		ratios = append(ratios, r.Length.Inches()/shelves)
		over = append(over, r.Length.Inches()/r.LowerBound.Inches()-1)
		shelfOver = append(shelfOver, shelves/r.LowerBound.Inches()-1)
	}
	median := func(v []float64) float64 { slices.Sort(v); return (v[len(v)/2-1] + v[len(v)/2]) / 2 }
	m := median(ratios)
	t.Logf("400 jobs: run over shelves, median %.4f, least %.4f, most %.4f; run over its lower bound, median +%.1f %%, most +%.1f %%; shelves over it, median +%.1f %%",
		m, ratios[0], ratios[len(ratios)-1], 100*median(over), 100*over[len(over)-1], 100*median(shelfOver))
	assert.Less(t, m, 1.0)
}

// Jobs whose shortest run is known: worked by hand.
func TestNestKnownRuns(t *testing.T) {
	square := func(n int, w, h g.Length) []WebFilm {
		var out []WebFilm
		for i := range n {
			out = append(out, WebFilm{ID: fmt.Sprint(i), Width: w, Height: h})
		}
		return out
	}
	tests := []struct {
		name  string
		films []WebFilm
		grain layouts.Grain
		want  float64 // without lead and tail, which are 3 in
	}{
		{"none", nil, layouts.FreeGrain, -3},
		{"one, the short way along", square(1, 20, 10), layouts.FreeGrain, 10},
		{"one, its grain kept", square(1, 20, 10), layouts.KeepGrain, 20},
		{"two side by side", square(2, 20, 11), layouts.KeepGrain, 20},
		{"two a little too wide", square(2, 20, 11.125), layouts.KeepGrain, 40.5},
		{"of whole web", square(3, 30, 22.5), layouts.FreeGrain, 91},
		// 22.5 = 7 + 7 + 7.5 with two gaps of 1/2 in
		{"three across", square(6, 15, 7), layouts.KeepGrain, 30.5},
		// a wide one, and four that fill two rows of two: shelves need the same
		{"mixed", append(square(4, 10, 11), WebFilm{ID: "w", Width: 10, Height: 22.5}), layouts.KeepGrain, 31},
		// one of 20.5 x 11 beside two of 10 x 11: shelves put the short ones on one of their own
		{"beside", append(square(2, 10, 11), WebFilm{ID: "l", Width: 20.5, Height: 11}), layouts.KeepGrain, 20.5},
	}
	for _, tc := range tests {
		film := filmOf(24, tc.grain)
		r := Nest(tc.films, film)
		assert.InDelta(t, tc.want+3, r.Length.Inches(), 1e-5, tc.name)
		if len(tc.films) > 0 {
			checkRun(t, r, tc.films, film)
			assert.InDelta(t, r.Length.Inches(), r.LowerBound.Inches(), 0.7, "%s: the bound is near", tc.name)
		}
	}
}

// The waste is what the films leave of the run: 2 x 200 in2 of 24 x 23 in.
func TestRunWaste(t *testing.T) {
	r := Nest([]WebFilm{{ID: "a", Width: 20, Height: 10}, {ID: "b", Width: 20, Height: 10}}, filmOf(24, layouts.KeepGrain))
	assert.InDelta(t, 1-400.0/(24*23), r.Waste(), 1e-9)
	assert.Zero(t, Nest(nil, filmOf(24, layouts.FreeGrain)).Waste())
}

// Films of one size stand along the run in the order of the job, and parts of the run
// stand in the order of their first films.
func TestRunInReadingOrder(t *testing.T) {
	var films []WebFilm
	for i := range 12 {
		films = append(films, WebFilm{ID: fmt.Sprint(i), Width: g.Length(12 + i/4*9), Height: 22})
	}
	r := Nest(films, filmOf(24, layouts.KeepGrain))
	for i, f := range r.Films {
		assert.Equal(t, fmt.Sprint(i), f.ID)
	}
	random := rand.New(rand.NewPCG(5, 5))
	for range 20 {
		film := filmOf(36, layouts.FreeGrain)
		films := someFilms(random, 20, 34.5)
		last := map[[2]float64]int{}
		for _, f := range Nest(films, film).Films {
			k := slices.IndexFunc(films, func(w WebFilm) bool { return w.ID == f.ID })
			size := [2]float64{f.Width.Inches(), f.Height.Inches()}
			if before, ok := last[size]; ok && films[before].Turned == films[k].Turned {
				assert.Less(t, before, k)
			}
			last[size] = k
		}
	}
}

// The same job gives the same run.
func TestNestIsTheSameAgain(t *testing.T) {
	films := someFilms(rand.New(rand.NewPCG(8, 8)), 25, 22.5)
	assert.Equal(t, Nest(films, filmOf(24, layouts.FreeGrain)), Nest(films, filmOf(24, layouts.FreeGrain)))
}

func BenchmarkNest(b *testing.B) {
	for _, n := range []int{16, 100, 400} {
		films := someFilms(rand.New(rand.NewPCG(1, 9)), n, 22.5)
		b.Run(fmt.Sprintf("%d_films_24in", n), func(b *testing.B) {
			for b.Loop() {
				Nest(films, filmOf(24, layouts.FreeGrain))
			}
		})
	}
}
