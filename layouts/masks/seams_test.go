package masks

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// flatOf is a drawing with the openings of its masks, as on a skin that is a plane.
func flatOf(t testing.TB, fig layouts.Figure) Laid {
	t.Helper()
	l := Laid{Placement: layouts.Placement{Marking: &layouts.MarkingSpec{ID: "flat"}}, Field: fieldAround(fig.Bounds(), 1.5)}
	if len(fig.Layers) == 1 {
		l.Masks = []Mask{{Opening: fig.Layers[0].Outline}}
		return l
	}
	regions, err := fig.Regions()
	require.NoError(t, err)
	for _, r := range regions {
		l.Masks = append(l.Masks, Mask{Paint: r.Colour, Opening: r.Outline})
	}
	return l
}

// insignia are drawings of 10 in, cut into regions once; random ones are these, larger.
func insigniaFlats(t testing.TB) []Laid {
	t.Helper()
	var out []Laid
	for _, id := range []string{"an-i-9b/star-and-bars", "an-i-9a/blue-border", "hcf-order-12/insignia"} {
		rule, err := standards.Find(id)
		require.NoError(t, err)
		fig, err := layouts.InsigniaFigure(rule, 10, nil)
		require.NoError(t, err)
		out = append(out, flatOf(t, fig))
	}
	discs, err := layouts.DiscsFigure([]layouts.DiscSpec{{Diameter: 10, Colour: "a"}, {Diameter: 6, Colour: "b"}, {Diameter: 2, Colour: "c"}})
	require.NoError(t, err)
	return append(out, flatOf(t, discs))
}

func scaled(l Laid, k float64) Laid {
	out := Laid{Placement: l.Placement}
	var all g.Path
	for _, m := range l.Masks {
		m.Opening = m.Opening.Map(func(p g.Point) g.Point { return g.Point{X: k * p.X, Y: k * p.Y} })
		out.Masks, all = append(out.Masks, m), append(all, m.Opening...)
	}
	out.Field = fieldAround(all.Bounds(), 1.5)
	return out
}

// randomLayout returns a drawing, the film, and finishing tapes under it.
func randomLayout(t testing.TB, random *rand.Rand, insignia []Laid) (Laid, layouts.FilmSpec, []g.Path) {
	t.Helper()
	var l Laid
	if random.IntN(2) == 0 {
		l = scaled(insignia[random.IntN(len(insignia))], 0.8+random.Float64()*4.2)
	} else {
		names := glyphs.Names()
		alphabet, err := glyphs.Load(names[random.IntN(len(names))])
		require.NoError(t, err)
		const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
		text := ""
		for range 1 + random.IntN(7) {
			text += letters[random.IntN(len(letters)):][:1]
		}
		run, err := alphabet.Set(text, g.Length(4+random.Float64()*24), glyphs.SetOptions{})
		require.NoError(t, err)
		l = flatOf(t, layouts.TextFigure(text, run))
	}
	film := layouts.FilmSpec{
		Web: g.Length([]float64{10, 15, 24, 36, 48}[random.IntN(5)]), Across: 0.75, Longest: g.Length(12 + random.IntN(60)), Field: 1.5,
		Seam: layouts.UsualSeam(),
	}
	if random.IntN(3) == 0 {
		film.Seam.Grain = layouts.KeepGrain
	}
	var tapes []g.Path
	for range random.IntN(4) {
		y, x := l.Field.Min.Y+random.Float64()*l.Field.Height(), 0.1*l.Field.Width()
		tapes = append(tapes, g.Path{g.Polygon(g.Point{X: l.Field.Min.X - x, Y: y}, g.Point{X: l.Field.Max.X + x, Y: y + 2}, g.Point{X: l.Field.Max.X + x, Y: y + 4}, g.Point{X: l.Field.Min.X - x, Y: y + 2})})
	}
	return l, film, tapes
}

// axis is one direction of a division, for the checks.
type axis struct {
	field  *seamField
	look   looker
	lo, hi float64
	limit  float64
	seams  []Seam
}

func axesOf(t *testing.T, l Laid, film layouts.FilmSpec, tapes []g.Path) []axis {
	t.Helper()
	upright, level := seamFieldOf(l.Masks, l.Field, tapes, true), seamFieldOf(l.Masks, l.Field, tapes, false)
	d, ok := divide(upright, level, (film.Web - 2*film.Across).Inches(), film.Longest.Inches(), film.Seam.Reach().Inches(), film.Seam.Grain != layouts.KeepGrain)
	require.True(t, ok)
	return []axis{
		{field: upright, look: lookAt(l, true), lo: l.Field.Min.X, hi: l.Field.Max.X, limit: d.limitX, seams: d.xs},
		{field: level, look: lookAt(l, false), lo: l.Field.Min.Y, hi: l.Field.Max.Y, limit: d.limitY, seams: d.ys},
	}
}

func (a axis) even() float64 { return (a.hi - a.lo) / float64(len(a.seams)+1) }

func (a axis) least() float64 { return math.Min(3, a.even()/2) }

// 400 random layouts: every tile is within its limits; and no seam breaks a rule where
// another place for it, its neighbours left where they are, keeps that rule and all
// graver ones.
func TestSeamsKeepRulesOnRandomLayouts(t *testing.T) {
	random, insignia := rand.New(rand.NewPCG(400, 1)), insigniaFlats(t)
	seams, breaking := 0, [seamRuleCount]int{}
	for i := range 400 {
		l, film, tapes := randomLayout(t, random, insignia)
		for _, a := range axesOf(t, l, film, tapes) {
			at := []float64{a.lo}
			for _, s := range a.seams {
				at = append(at, s.At)
			}
			at = append(at, a.hi)
			for k := 1; k < len(at); k++ {
				require.LessOrEqual(t, at[k]-at[k-1], a.limit+1e-6, "layout %d", i)
				require.GreaterOrEqual(t, at[k]-at[k-1], a.least()-1e-6, "layout %d", i)
			}
			for k, s := range a.seams {
				seams++
				got := a.look.broken(s.At, -slack)
				for r, b := range got {
					if b {
						breaking[r]++
					}
					assert.True(t, !b || s.Broken[r] > 0, "layout %d: the seam at %v breaks %v and does not say so", i, s.At, SeamRule(r))
				}
				for r := range got {
					if !got[r] {
						continue
					}
					for x := at[k] + a.least(); x < at[k+2]; x += 1.0 / 16 {
						if x-at[k] > a.limit || at[k+2]-x > a.limit || at[k+2]-x < a.least() {
							continue
						}
						better := true
						for q, b := range a.look.broken(x, slack) {
							better = better && (q > r || !b)
						}
						require.False(t, better, "layout %d: the seam at %v breaks %v, one at %v does not", i, s.At, SeamRule(r), x)
					}
				}
			}
		}
	}
	t.Logf("400 layouts: %d seams; %d run along an edge, %d cut an island, %d pass a corner, %d a point nearer than they should, all where no place keeps clear",
		seams, breaking[0], breaking[1], breaking[2], breaking[3])
	assert.Greater(t, seams, 400)
}

// 50 of such layouts against every set of places on a grid of a quarter of an inch:
// no set breaks fewer rules, and none that breaks as many costs less. The rules are
// counted by the looker too: where a set of places keeps a rule and all graver ones,
// the seams chosen do.
func TestSeamsAgainstExhaustiveSearch(t *testing.T) {
	random, insignia := rand.New(rand.NewPCG(50, 2)), insigniaFlats(t)
	done, sets := 0, 0
	for i := 0; done < 50; i++ {
		l, film, tapes := randomLayout(t, random, insignia)
		tried := false
		for _, a := range axesOf(t, l, film, tapes) {
			if n := len(a.seams); n == 0 || n > 3 {
				continue
			}
			tried = true
			var places []float64
			var costs []seamCost
			var strict [][seamRuleCount]bool
			for x := a.lo + 0.25; x < a.hi; x += 0.25 {
				s := a.field.at(x)
				places, costs, strict = append(places, x), append(costs, s.cost(0)), append(strict, a.look.broken(x, slack))
			}
			best := seamCost{broken: [seamRuleCount]int{math.MaxInt}}
			var keeps [seamRuleCount]bool // a set keeps this rule and all graver ones
			var try func(k int, before float64, sum seamCost, bad [seamRuleCount]bool)
			try = func(k int, before float64, sum seamCost, bad [seamRuleCount]bool) {
				if k == len(a.seams) {
					if a.hi-before > a.limit+1e-9 || a.hi-before < a.least()-1e-9 {
						return
					}
					sets++
					if sum.less(best) {
						best = sum
					}
					for r := range bad {
						if bad[r] {
							break
						}
						keeps[r] = true
					}
					return
				}
				for j, x := range places {
					if x-before < a.least()-1e-9 || x-before > a.limit+1e-9 {
						continue
					}
					now := bad
					for r := range now {
						now[r] = now[r] || strict[j][r]
					}
					off := seamCost{rest: costOff * math.Abs(x-a.lo-float64(k+1)*a.even())}
					try(k+1, x, sum.plus(costs[j]).plus(off), now)
				}
			}
			try(0, a.lo, seamCost{}, [seamRuleCount]bool{})
			got, broken := seamCost{}, [seamRuleCount]bool{}
			for k, s := range a.seams {
				got = got.plus(s.cost(s.At - a.lo - float64(k+1)*a.even()))
				for r, b := range a.look.broken(s.At, -slack) {
					broken[r] = broken[r] || b
				}
			}
			require.False(t, best.less(got), "layout %d of %s: the grid has %+v, chosen is %+v", i, fmt.Sprint(film.Web, film.Longest), best, got)
			for r := range keeps {
				if keeps[r] {
					require.False(t, broken[r], "layout %d: %v can be kept", i, SeamRule(r))
				}
			}
		}
		if tried {
			done++
		}
	}
	t.Logf("50 layouts against %d sets of places", sets)
	assert.Greater(t, sets, 10000)
}

// One shape for each rule, with what it forbids worked by hand.
func TestSeamRules(t *testing.T) {
	field := g.Rect{Min: g.Point{X: -10, Y: -10}, Max: g.Point{X: 30, Y: 30}}
	at := func(path string, upright bool, x float64) Seam {
		p, err := g.ParsePath(path)
		require.NoError(t, err)
		return seamFieldOf([]Mask{{Opening: p}}, field, nil, upright).at(x)
	}
	const (
		square = "M0 0L20 0L20 20L0 20Z"
		ring   = "M0 0L20 0L20 20L0 20ZM6 6L6 14L14 14L14 6Z"
		tip    = "M0 0L20 0L10 40Z"          // 28 degrees at the top, 76 at the foot
		lean   = "M0 0L20 0L25.2 20L5.2 20Z" // sides 14.57 degrees off upright
		lean16 = "M0 0L20 0L25.8 20L5.8 20Z" // 16.17 degrees
	)
	type broken = [seamRuleCount]int
	tests := []struct {
		path    string
		upright bool
		x       float64
		want    broken
	}{
		{square, true, 10, broken{}},
		{square, true, 0.124, broken{AlongEdge: 1, NearCorner: 2}},
		{square, true, -0.126, broken{NearCorner: 2}},
		{square, false, 19.88, broken{AlongEdge: 1, NearCorner: 2}},
		{square, true, 0.499, broken{NearCorner: 2}},
		{square, true, 0.5, broken{}},
		{ring, true, 10, broken{ThroughIsland: 1}},
		{ring, true, 5.3, broken{}},
		{ring, true, 14.6, broken{}},
		{tip, false, 39.1, broken{NearPoint: 1}},
		{tip, false, 39.6, broken{NearCorner: 1, NearPoint: 1}},
		{tip, false, 0.6, broken{}},
		{tip, true, 10.9, broken{AlongEdge: 1, NearPoint: 1}}, // both sides rise at 14.04 degrees
		{tip, true, 3, broken{AlongEdge: 1}},
		{lean, true, 2.6, broken{AlongEdge: 1}},
		{lean16, true, 2.6, broken{}},
	}
	for _, tc := range tests {
		assert.Equal(t, tc.want, at(tc.path, tc.upright, tc.x).Broken, "%s at %v", tc.path, tc.x)
	}
	// a circle of radius 10 runs within 15 degrees of upright beyond 10 cos 15 = 9.6593
	disc := seamFieldOf([]Mask{{Opening: g.Path{g.Circle(g.Point{}, 10)}}}, field, nil, true)
	for x, want := range map[float64]bool{9.6593 - 0.126: false, 9.6593 - 0.124: true, 10.124: true, 10.126: false, 0: false, 5: false} {
		assert.Equal(t, want, disc.at(x).Broken[AlongEdge] > 0, "circle at %v", x)
		assert.Zero(t, disc.at(x).Broken[NearCorner], "a circle has no corner")
	}
	// crossings: two edges of the square, square to the seam, in their middle: no more
	// than the crossings themselves; at a quarter half of costEnds each
	assert.Equal(t, 2, at(square, true, 10).Crossings)
	assert.InDelta(t, 2, at(square, true, 10).Cost, 1e-9)
	assert.InDelta(t, 2+2*costEnds/2, at(square, true, 5).Cost, 1e-9)
	assert.Equal(t, 4, at(ring, true, 10).Crossings)
	// a chord of a circle at height h crosses it at acos(h/r): 30 degrees at 8.66
	assert.Equal(t, 2, disc.at(8.66).Flat)
	assert.Equal(t, 0, disc.at(4.9).Flat)
	assert.InDelta(t, 2+2*costFlat/2+2*costEnds, disc.at(10*math.Sqrt(3)/2).Cost, 0.002)
	// a tape 2 in wide across the whole of a seam of 40 in
	tape := g.Path{g.Rectangle(g.Rect{Min: g.Point{X: -50, Y: 4}, Max: g.Point{X: 50, Y: 6}})}
	assert.InDelta(t, 2.0/40, seamFieldOf(nil, field, []g.Path{tape}, true).at(0).OnTape, 1e-12)
	assert.InDelta(t, 1, seamFieldOf(nil, field, []g.Path{tape}, false).at(5).OnTape, 1e-12)
	assert.Zero(t, seamFieldOf(nil, field, []g.Path{tape}, false).at(6.1).OnTape)
}

// A seam keeps off a finishing tape where it may: the tape that lies under the equal
// division moves it.
func TestSeamsKeepOffTape(t *testing.T) {
	fig, err := layouts.DiscsFigure([]layouts.DiscSpec{{Diameter: 20, Colour: "a"}})
	require.NoError(t, err)
	l := flatOf(t, fig)
	at := func(tapes ...g.Path) float64 {
		s, _, ok := seamFieldOf(l.Masks, l.Field, tapes, false).fewest(22.5, 0)
		require.True(t, ok)
		require.Len(t, s, 1)
		return s[0].At
	}
	plain := at()
	assert.InDelta(t, 0, plain, 1e-9)
	moved := at(g.Path{g.Rectangle(g.Rect{Min: g.Point{X: -20, Y: -1}, Max: g.Point{X: 20, Y: 1.25}})})
	assert.InDelta(t, -1, moved, 0.126, "just below the tape, on the nearer side")
}

// Tiles turn by 90 degrees where that saves a seam, and never with grain: keep.
func TestGrainKeepsTilesUnturned(t *testing.T) {
	l := laidOf(t, text("LR4", "{web: 36, longest: 20}"))[0]
	film := layouts.FilmSpec{Web: 36, Across: 0.75, Longest: 20, Field: 1.5, Seam: layouts.UsualSeam()}
	free, _, err := tileOne(l, film, nil)
	require.NoError(t, err)
	film.Seam.Grain = layouts.KeepGrain
	kept, _, err := tileOne(l, film, nil)
	require.NoError(t, err)
	assert.Equal(t, [2]any{1, true}, [2]any{len(free.Films[0].Cells), free.Films[0].Turned})
	assert.Equal(t, [2]any{2, false}, [2]any{len(kept.Films[0].Cells), kept.Films[0].Turned})
}

// A seam that must run along an edge, and one that must cut an island, are findings,
// and say which rule and why.
func TestSeamFindings(t *testing.T) {
	bar := layouts.Figure{Layers: []layouts.Layer{{Part: "bar", Colour: "a", Outline: g.Path{g.Rectangle(g.Rect{Min: g.Point{X: 0, Y: 0}, Max: g.Point{X: 40, Y: 4}})}}}}
	l := flatOf(t, bar)
	film := layouts.FilmSpec{Web: 24, Across: 0.75, Longest: 21.5, Seam: layouts.SeamSpec{Grain: layouts.KeepGrain}}
	check := func(l Laid, film layouts.FilmSpec) []layouts.Finding {
		upright, level := seamFieldOf(l.Masks, l.Field, nil, true), seamFieldOf(l.Masks, l.Field, nil, false)
		d, ok := divide(upright, level, (film.Web - 2*film.Across).Inches(), film.Longest.Inches(), 0, film.Seam.Grain != layouts.KeepGrain)
		require.True(t, ok)
		cut := TiledFilm{Field: l.Field, Seams: d.ys}
		for _, s := range d.xs {
			s.Upright = true
			cut.Seams = append(cut.Seams, s)
		}
		return Tiling{Laid: l}.inspectSeams(l.Masks[0], cut, d)
	}
	assert.Empty(t, check(l, film), "a seam in the middle of the bar, 43 in in two tiles of 21.5 in")
	// an edge there: the least tiles leave one place, a third tile keeps clear of it
	half := bar
	half.Layers = append(half.Layers, layouts.Layer{Part: "half", Colour: "b", Outline: g.Path{g.Rectangle(g.Rect{Min: g.Point{X: 20, Y: 0}, Max: g.Point{X: 40, Y: 4}})}})
	assert.Empty(t, check(flatOf(t, half), film))
	// edges 1/8 in apart everywhere: none can
	comb := bar
	var teeth g.Path
	for x := 0.25; x < 39.5; x += 0.25 {
		teeth = append(teeth, g.Rectangle(g.Rect{Min: g.Point{X: x, Y: 0}, Max: g.Point{X: x + 0.125, Y: 4}}))
	}
	comb.Layers = append(comb.Layers, layouts.Layer{Part: "teeth", Colour: "b", Outline: teeth})
	f := check(flatOf(t, comb), film)
	require.NotEmpty(t, f)
	assert.Equal(t, []string{"seam"}, rules(f[:1], layouts.Warn))
	assert.Contains(t, f[0].Message, "runs along ")
	assert.Contains(t, f[0].Message, "tiles of at most 21.5 in leave no better place")
	// a ring wider than the web: the film within it is cut, a note
	ring, err := layouts.DiscsFigure([]layouts.DiscSpec{{Diameter: 30, Colour: "a"}, {Diameter: 28, Colour: "b"}})
	require.NoError(t, err)
	film.Longest = 48
	f = check(flatOf(t, ring), film)
	assert.Equal(t, []string{"seam"}, rules(f, layouts.Note))
	assert.Contains(t, f[0].Measured, "cuts 1 loose piece of film")
}
