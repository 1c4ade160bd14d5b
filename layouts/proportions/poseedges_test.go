package proportions

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// starOnly is a rule without circles: a star by itself, as the red star of 1915
// (Bowers, at legendsintheirowntime.com); its ratios are plain geometry.
func starOnly(t testing.TB) *standards.Rule {
	t.Helper()
	palette, err := standards.Palette()
	require.NoError(t, err)
	d, err := standards.ParseDocument("test.yaml", []byte(`
document: test-star
title: a star by itself
provenance: {kind: derived, where: plain geometry}
rules:
  - rule: star
    nation: test
    name: five-pointed star without a disc
    unit: R
    parts:
      - {part: star, colour: insignia_red, star: {points: 5, outer: 1, inner: (3 - sqrt(5)) / 2, first: 90}}
    provenance: {kind: derived, where: plain geometry}
`), palette)
	require.NoError(t, err)
	return d.Rules[0]
}

func TestStarWithoutDisc(t *testing.T) {
	rule := starOnly(t)
	for k := range 20 {
		rng := rand.New(rand.NewPCG(5, uint64(k)))
		s := style{scale: 3 + 20*rng.Float64(), turn: 2 * math.Pi * rng.Float64(), move: geometry.Vec{X: 7, Y: -40}, extras: k%3 == 0, reversed: true, split: 1 + k%4}
		if k%5 == 4 {
			s.noise, s.dense = 0.005, 0.01
		}
		for _, factor := range []float64{1, 0.95, 1.02, 1.1} {
			star := rightStar()
			star.inner *= factor
			drawing := s.drawn([]layouts.Layer{{Part: "star", Outline: geometry.Path{star.contour()}}}, rng)
			rec, err := Recognise(drawing, rule, Options{})
			require.NoError(t, err, "%d %v", k, factor)
			assert.InDelta(t, s.scale, rec.Radius.Inches(), 0.004*s.scale, "%d %v", k, factor)
			if factor == 1 {
				assert.Empty(t, raised(rec.Checks), "%d", k)
				continue
			}
			assert.Equal(t, []string{"star.inner"}, raised(rec.Checks), "%d %v", k, factor)
			assert.InDelta(t, star.inner, checkOf(t, rec.Checks, "star.inner").Ratio, 0.003)
		}
	}
}
