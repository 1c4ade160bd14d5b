package masks

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	g "maskloft/geometry"
	_ "maskloft/geometry/trial"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// needs is what both testing.T and rapid.T are.
type needs interface {
	require.TestingT
	Helper()
}

// planOf plans a drawing on a plane, without an aircraft.
func planOf(t needs, regions []layouts.Region, paint layouts.PaintSpec) Laid {
	t.Helper()
	l := Laid{Regions: regions, Placement: layouts.Placement{Marking: &layouts.MarkingSpec{ID: "drawing"}}}
	for _, r := range regions {
		var err error
		l.Painted, err = g.Union(l.Painted, r.Outline)
		require.NoError(t, err)
	}
	require.NoError(t, l.planFilms(paint, layouts.FilmSpec{Field: 1.5, Least: 1, Web: 100, Longest: 100}))
	return l
}

// sprayed returns the usual way of spraying with another way and trap.
func sprayed(way layouts.PaintWay, trap g.Length, order ...string) layouts.PaintSpec {
	s := layouts.UsualSpray()
	s.Way, s.Trap = way, trap
	return layouts.PaintSpec{Order: order, Spray: s}
}

func area(t needs, op func(a, b g.Path) (g.Path, error), a, b g.Path) float64 {
	t.Helper()
	p, err := op(a, b)
	require.NoError(t, err)
	return p.Area()
}

// checkPlan checks what holds of every plan: what the passes show is disjoint and
// is the marking; no film is over its own opening; no trap lies outside the
// marking, over an earlier paint, or further than its width; every pass sprays
// what it is to show; and what is sprayed and not covered again is what shows.
func checkPlan(t needs, l Laid) {
	t.Helper()
	if len(l.Bare) > 0 { // film on one side of a line: clear of the paint, and nothing else beside the film
		m := l.Masks[0]
		require.Len(t, l.Masks, 1)
		require.Less(t, area(t, g.Intersect, m.Film, l.Painted), 1e-9, m.ID)
		require.Less(t, area(t, g.Subtract, m.Opening, l.Bare), 1e-9, m.ID)
		require.InDelta(t, areaOf(m.Field), m.Film.Area()+m.Opening.Area(), 1e-6*areaOf(m.Field), m.ID)
		return
	}
	sum, painted := 0.0, l.Painted.Area()
	var all g.Path
	for i, m := range l.Masks {
		require.Equal(t, i+1, m.Pass)
		sum += m.Shows.Area()
		require.Less(t, area(t, g.Intersect, all, m.Opening), 1e-6, "%s sprays over an earlier paint", m.ID)
		require.Less(t, area(t, g.Intersect, all, m.Shows), 1e-9, "%s shows what another does", m.ID)
		var err error
		all, err = g.Union(all, m.Shows)
		require.NoError(t, err)

		stays, opening := m.Stays, m.Opening
		require.Less(t, area(t, g.Intersect, stays, opening), 1e-9, "%s: film over its own opening", m.ID)
		lies := m.Field // of the film on the aircraft
		if l.Plan.Way == layouts.KeepDownWay {
			lies = l.Masks[0].Field
		}
		field := areaOf(lies)
		require.InDelta(t, field, stays.Area()+opening.Area(), 1e-6*field, m.ID)
		require.Less(t, area(t, g.Subtract, m.Shows, opening), 1e-9, "%s sprays all it shows", m.ID)
		require.Less(t, area(t, g.Subtract, opening, l.Painted), 1e-6, "%s sprays outside the marking", m.ID)
		require.Less(t, area(t, g.Subtract, m.Film, stays), 1e-6, "%s: the film laid is on the aircraft", m.ID)
		if l.Plan.Way == layouts.OpenWay {
			near := PolygonsOf(m.Shows)
			for _, q := range points(opening, 4) {
				if !near.Contains(q, 1e-4) {
					require.LessOrEqual(t, near.Distance(q, 1e-4), l.Plan.Trap.Inches()+0.002, "%s: trap too wide", m.ID)
				}
			}
		}
	}
	var later g.Path
	for i := len(l.Masks) - 1; i >= 0; i-- {
		m := l.Masks[i]
		left, err := g.Subtract(m.Opening, later)
		require.NoError(t, err)
		require.Less(t, area(t, either, left, m.Shows), 1e-6, "%s: sprayed and not covered again", m.ID)
		later, err = g.Union(later, m.Opening)
		require.NoError(t, err)
	}
	require.InEpsilon(t, painted, sum, 1e-6, "passes against the painted area")
	require.Less(t, area(t, either, all, l.Painted), 1e-6*painted, "passes against the painted region")
}

// noHairline checks that what the passes show closes up: grown by 1e-4 in and
// united, it has as many holes as the marking grown by as much.
func noHairline(t needs, l Laid) {
	t.Helper()
	const d = g.Length(1e-4)
	want, err := g.Offset(l.Painted, d, g.RoundJoin, 5e-5)
	require.NoError(t, err)
	var got g.Path
	for _, m := range l.Masks {
		grown, err := g.Offset(m.Shows, d, g.RoundJoin, 5e-5)
		require.NoError(t, err)
		got, err = g.Union(got, grown)
		require.NoError(t, err)
	}
	require.Len(t, got, len(want), "holes of the passes against holes of the marking")
	require.InEpsilon(t, want.Area(), got.Area(), 1e-6)
}

// The films of the demo and of every lesson.
func TestPassesTileTheMarking(t *testing.T) {
	for _, w := range demoAndLessons(t) {
		for _, l := range w.laid {
			t.Run(w.name+"/"+l.ID(), func(t *testing.T) {
				require.NotEmpty(t, l.Masks)
				checkPlan(t, l)
			})
		}
	}
}

// Every figure of every rule, in the order of its layers and in the other.
func TestPassesOfEveryRule(t *testing.T) {
	documents, err := standards.Documents()
	require.NoError(t, err)
	var rules []*standards.Rule
	for _, d := range documents {
		rules = append(rules, d.Rules...)
	}
	drawn := 0
	for _, rule := range rules {
		fig, err := layouts.InsigniaFigure(rule, 20*g.Inch, nil)
		if err != nil {
			continue // letters, which have no figure
		}
		drawn++
		regions, err := fig.Regions()
		require.NoError(t, err)
		var order []string
		for _, r := range regions {
			order = append([]string{r.Colour}, order...)
		}
		t.Run(rule.ID, func(t *testing.T) {
			t.Parallel()
			l := planOf(t, regions, sprayed(layouts.OpenWay, g.Inch/16))
			checkPlan(t, l)
			noHairline(t, l) // what shows is the same in the other way
			checkPlan(t, planOf(t, regions, sprayed(layouts.KeepDownWay, g.Inch/16, order...)))
		})
	}
	require.Greater(t, drawn, 10)
}

// Random figures: discs and boxes of three paints laid over one another.
func TestPassesOfRandomFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var f layouts.Figure
		at := rapid.Map(rapid.IntRange(-40, 40), func(i int) float64 { return float64(i) / 8 })
		size := rapid.Map(rapid.IntRange(8, 40), func(i int) float64 { return float64(i) / 8 })
		for i := range rapid.IntRange(2, 4).Draw(t, "layers") {
			c := g.Point{X: at.Draw(t, "x"), Y: at.Draw(t, "y")}
			outline := g.Path{g.Circle(c, size.Draw(t, "radius"))}
			if rapid.Bool().Draw(t, "box") {
				outline = g.Path{g.Rectangle(g.Rect{Min: c, Max: c.Add(g.Vec{X: size.Draw(t, "width"), Y: size.Draw(t, "height")})})}
			}
			f.Layers = append(f.Layers, layouts.Layer{Part: fmt.Sprint(i), Colour: rapid.SampledFrom([]string{"white", "yellow", "blue"}).Draw(t, "paint"), Outline: outline})
		}
		regions, err := f.Regions()
		require.NoError(t, err)
		way := rapid.SampledFrom([]layouts.PaintWay{layouts.OpenWay, layouts.KeepDownWay}).Draw(t, "way")
		trap := rapid.SampledFrom([]g.Length{0, g.Inch / 16, g.Inch / 8}).Draw(t, "trap")
		checkPlan(t, planOf(t, regions, sprayed(way, trap, rapid.Permutation([]string{"white", "yellow", "blue"}).Draw(t, "order")...)))
	})
}

// A roundel of discs of 6, 4 and 2 in radius: every trap is an annulus, and so is
// every lap of a keep-down film (area pi (R2^2 - R1^2)).
func TestTrapsOfDiscs(t *testing.T) {
	fig, err := layouts.DiscsFigure([]layouts.DiscSpec{{Diameter: 12, Colour: "blue"}, {Diameter: 8, Colour: "white"}, {Diameter: 4, Colour: "red"}})
	require.NoError(t, err)
	regions, err := fig.Regions()
	require.NoError(t, err)
	ring := func(r1, r2 float64) float64 { return math.Pi * (r2*r2 - r1*r1) }
	const d = 1.0 / 8
	for _, tc := range []struct {
		order    string
		openings []float64
	}{
		{"red white blue", []float64{ring(0, 2+d), ring(2, 4+d), ring(4, 6)}},
		{"blue white red", []float64{ring(4-d, 6), ring(2-d, 4), ring(0, 2)}},
		{"white red blue", []float64{ring(2-d, 4+d), ring(0, 2), ring(4, 6)}},
		{"blue red white", []float64{ring(4-d, 6), ring(0, 2+d), ring(2, 4)}},
	} {
		l := planOf(t, regions, sprayed(layouts.OpenWay, d, strings.Fields(tc.order)...))
		require.Len(t, l.Masks, 3)
		for i, want := range tc.openings {
			assert.InDelta(t, want, l.Masks[i].Opening.Area(), 0.02, "%s, pass %d", tc.order, i+1)
			assert.Equal(t, OpenFilm, l.Masks[i].Polarity)
		}
	}

	l := planOf(t, regions, sprayed(layouts.KeepDownWay, d, "white", "red", "blue"))
	require.Len(t, l.Masks, 3)
	assert.InEpsilon(t, ring(0, 6), l.Masks[0].Opening.Area(), 1e-5, "the first paint is sprayed over all")
	assert.InEpsilon(t, ring(0, 2)+ring(4, 6), l.Masks[1].Opening.Area(), 1e-5)
	assert.InEpsilon(t, ring(4, 6), l.Masks[2].Opening.Area(), 1e-5)
	assert.InEpsilon(t, ring(2, 4), l.Masks[1].Film.Area(), 1e-5, "white has no film beside it to lap")
	assert.InDelta(t, ring(0, 2+d), l.Masks[2].Film.Area(), 0.02, "red laps the white film")
	assert.Equal(t, []Polarity{OpenFilm, KeepDown, KeepDown}, []Polarity{l.Masks[0].Polarity, l.Masks[1].Polarity, l.Masks[2].Polarity})
	assert.Equal(t, []string{"", "white", "red"}, []string{l.Masks[0].Keeps, l.Masks[1].Keeps, l.Masks[2].Keeps})
	assert.Equal(t, []string{"white", "red", "blue"}, []string{l.Masks[0].Paint, l.Masks[1].Paint, l.Masks[2].Paint})
	assert.Equal(t, []string{"pass-1-surround", "pass-2-keep-white", "pass-3-keep-red"},
		[]string{l.Masks[0].ID, l.Masks[1].ID, l.Masks[2].ID})
	// off the aircraft last; the lap at the marking's edge
	l = planOf(t, regions, sprayed(layouts.KeepDownWay, d, "blue", "white", "red"))
	assert.InDelta(t, ring(4, 6+d), l.Masks[1].Film.Area(), 0.02, "blue laps the surround")
	assert.InDelta(t, ring(2, 4+d), l.Masks[2].Film.Area(), 0.02, "white laps the blue film")
}

// Coats on both sides of every edge, and sprays under each film.
func TestCoatsAtEdges(t *testing.T) {
	fig, err := layouts.DiscsFigure([]layouts.DiscSpec{{Diameter: 12, Colour: "blue"}, {Diameter: 8, Colour: "white"}})
	require.NoError(t, err)
	regions, err := fig.Regions()
	require.NoError(t, err)
	inner, outer := 2*math.Pi*4, 2*math.Pi*6
	paint := sprayed(layouts.OpenWay, g.Inch/16, "white", "blue")
	paint.Colours = []layouts.ColourSpec{{ID: "white"}, {ID: "blue", Coats: 2}}
	paint.Spray.Under = []layouts.UnderSpec{{Paint: "white", Coats: 1}}
	edges := func(l Laid) string {
		var b strings.Builder
		for _, e := range l.Plan.Edges {
			fmt.Fprintf(&b, "%s/%s %d %d %d;", e.Earlier, e.Later, e.On, e.Over, e.Beyond)
		}
		return b.String()
	}
	l := planOf(t, regions, paint)
	assert.Equal(t, "white/blue 4 6 2;blue/ 2 0 0;", edges(l))
	assert.InEpsilon(t, inner, l.Plan.Edges[0].Length.Inches(), 1e-5)
	assert.InEpsilon(t, outer, l.Plan.Edges[1].Length.Inches(), 1e-5)
	assert.Equal(t, []int{4, 2}, []int{l.Masks[0].Sprays, l.Masks[1].Sprays})

	paint.Spray.Trap = 0
	assert.Equal(t, "white/blue 4 2 2;blue/ 2 0 0;", edges(planOf(t, regions, paint)))

	paint.Spray.Way = layouts.KeepDownWay
	l = planOf(t, regions, paint)
	assert.Equal(t, "white/blue 4 6 6;blue/ 6 0 0;", edges(l))
	assert.Equal(t, []int{6, 2}, []int{l.Masks[0].Sprays, l.Masks[1].Sprays})
	assert.NotEmpty(t, l.Plan.Reasons)
}

// A trap does not leap over a strip of another paint or of bare skin.
func TestTrapStaysWithItsRegion(t *testing.T) {
	box := func(x0, x1 float64) g.Path {
		return g.Path{g.Rectangle(g.Rect{Min: g.Point{X: x0}, Max: g.Point{X: x1, Y: 4}})}
	}
	l := planOf(t, []layouts.Region{{Colour: "white", Outline: box(0, 2)}, {Colour: "blue", Outline: box(2.03, 4)}}, sprayed(layouts.OpenWay, g.Inch/16))
	assert.InDelta(t, 8, l.Masks[0].Opening.Area(), 1e-9, "bare skin between the two")
	l = planOf(t, []layouts.Region{{Colour: "red", Outline: box(2, 2.03)}, {Colour: "white", Outline: box(0, 2)}, {Colour: "blue", Outline: box(2.03, 4)}}, sprayed(layouts.OpenWay, g.Inch/16, "red", "white"))
	assert.InDelta(t, 8, l.Masks[1].Opening.Area(), 1e-9, "red between the two")
}

// Film that hangs by points alone is an island; a letter O has one.
func TestPiecesOfFilm(t *testing.T) {
	for text, want := range map[string]int{
		"M0 0L10 0L10 10L0 10Z":                                                     1,
		"M0 0L10 0L10 10L0 10Z M2 2L2 8L8 8L8 2Z":                                   1,
		"M0 0L10 0L10 10L0 10Z M2 2L2 8L8 8L8 2Z M4 4L6 4L6 6L4 6Z":                 2,
		"M0 0L10 0L10 10L0 10Z M2 2L5 5L8 2Z M8 2L5 8L8 8Z M2 2L2 8L5 8Z":           2,
		"M0 0L9 0L9 9L0 9Z M4 1L1 4L4 3Z M1 4L4 7L3 4Z M4 7L7 4L4 5Z M7 4L4 1L5 4Z": 2,
	} {
		p, err := g.ParsePath(text)
		require.NoError(t, err)
		assert.Equal(t, want, countPieces(p), text)
	}
	star := find(t, lesson(t, "06").laid, "star-above-left")
	assert.Equal(t, 1, star.Masks[1].Islands(), "the star hangs by its points")
	code := find(t, demo(t).laid, "code-left")
	assert.Equal(t, 1, code.Masks[0].Islands(), "the counter of the 4")
}
