package proportions

import (
	"errors"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// discsOver draws discs of random sizes all over a sheet.
func discsOver(rng *rand.Rand, n int) geometry.Path {
	var out geometry.Path
	for range n {
		v := geometry.Vec{X: 40 * rng.Float64(), Y: 30 * rng.Float64()}
		c := circleOf(1+4*rng.Float64(), 4)
		out = append(out, c.Map(func(p geometry.Point) geometry.Point { return p.Add(v) }))
	}
	return out
}

func allRules(t testing.TB) []*standards.Rule {
	docs, err := standards.Documents()
	require.NoError(t, err)
	var out []*standards.Rule
	for _, d := range docs {
		out = append(out, d.Rules...)
	}
	return out
}

// A rule of one disc is met by a disc, and by a sheet with register marks and
// lettering about it; not by many discs, nor by the outer ring of a roundel.
func TestOneDisc(t *testing.T) {
	const disc = "japanese-disc/disc"
	s := at40
	assert.Empty(t, raised(checksOf(t, disc, s.drawn(rings(8, 1), fixed()), Options{})))
	s.extras = true
	assert.Empty(t, raised(checksOf(t, disc, s.drawn(rings(8, 1), fixed()), Options{})))
	rng := rand.New(rand.NewPCG(3, 3))
	for range 2 {
		assert.Nil(t, notRecognised(t, disc, discsOver(rng, 12)).Better)
	}
	assert.Equal(t, "raf-roundel/a", notRecognised(t, disc, at40.drawn(rings(8, 1, 0.6, 0.2), fixed())).Better.ID)
}

// Of two rules the one that explains more of the drawing comes first, whatever the
// other has right.
func TestNearestExplainsMost(t *testing.T) {
	s := at40
	s.extras = true
	for rule, layers := range map[string][]layouts.Layer{
		"raf-roundel/a": rings(8, 1, 0.6, 0.2), "an-i-9b/star-and-bars": rightBars().layers(8, true), "polish-checker/1930": checkerOf(1-1.0/6, 1-1.0/6),
	} {
		near, err := nearest(trace(s.drawn(layers, fixed())), allRules(t), Options{})
		require.NoError(t, err)
		require.NotEmpty(t, near, rule)
		assert.Equal(t, rule, near[0].Rule.ID)
		assert.True(t, near[0].whole(), rule)
	}
	// A wrong border does not make it a star on a disc, which would conform.
	wide := rightBars()
	wide.border = 0.2
	near, err := nearest(trace(s.drawn(wide.layers(8, true), fixed())), allRules(t), Options{})
	require.NoError(t, err)
	assert.Equal(t, "an-i-9b/star-and-bars", near[0].Rule.ID)
	assert.Equal(t, 1, near[0].deviating)
}

// A drawing whose edges scatter by more than 1 % of the radius is not measured; and
// no tolerance is ever wider than 1 % of it beyond three times the scatter.
func TestRough(t *testing.T) {
	s := at40
	s.noise, s.dense = 0.03, 0.05 // uniform: a scatter of 0.03/sqrt(3)
	_, err := Recognise(s.drawn(rightBars().layers(8, true), fixed()), ruleOf(t, "an-i-9b/star-and-bars"), Options{})
	var e *NotRecognised
	require.True(t, errors.As(err, &e), "%v", err)
	assert.InDelta(t, 0.03/1.732, e.Rough.Inches()/20, 0.005)
	assert.Contains(t, e.Error(), "too rough to measure")

	s.noise, s.dense = 0.005, 0.02
	for _, c := range checksOf(t, "an-i-9b/star-and-bars", s.drawn(rightBars().layers(8, true), fixed()), Options{}) {
		assert.LessOrEqual(t, c.Tolerance.Inches(), 20*regular*(0.01+3*0.004), c.What)
	}
}

// A border that is not there is missing, whatever rectangle the sheet has round the
// insignia: the field of a mask, 2.7 in from bars of 10 in discs, and its notes.
func TestNoBorder(t *testing.T) {
	b := rightBars()
	b.border = 0
	s := style{scale: 10}
	drawing := append(s.drawn(b.layers(8, false), fixed()), boxOf(-22.3, -12.75, 22.3, 12.75))
	rec, err := Recognise(drawing, ruleOf(t, "an-i-9a@amendment-1/blue-border"), Options{})
	require.NoError(t, err)
	assert.Equal(t, []string{"border"}, rec.Missing)
	assert.Equal(t, []string{"border"}, raised(rec.Checks))
	drawing = append(s.drawn(b.layers(8, false), fixed()), boxOf(-22.3, -4.7, 22.3, 5.8)) // 2.7 in from the bars
	rec, err = Recognise(drawing, ruleOf(t, "an-i-9a@amendment-1/blue-border"), Options{})
	require.NoError(t, err)
	assert.Equal(t, []string{"border"}, rec.Missing)
}
