package reading

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/geometry"
)

// The red of a Royal Air Force fin flash leads on both sides (from memory, high
// confidence): seen from the left it stands left of the blue, from the right at its
// right. A layout need not say so, and one that says otherwise is told.
func TestFinFlashLeadsOnBothSides(t *testing.T) {
	layout := strings.Replace(slabFigure("{rule: raf-fin-flash/1942, size: 24}", ""), "colours: {text: black}", "colours: {red: black, white: black, blue: black}MORE", 1)
	for more, warned := range map[string]bool{"": false, ", handed: handed": false, ", handed: symmetric": true, ", handed: text": true} {
		l, findings := resolveText(t, strings.Replace(layout, "MORE", more, 1))
		require.Len(t, l.Placed, 2)
		red := func(i int) float64 {
			layers := l.Placed[i].Figure.Layers
			require.Equal(t, "red", layers[0].Part)
			require.Equal(t, "blue", layers[2].Part)
			return layers[0].Outline.Bounds().Centre().X - layers[2].Outline.Bounds().Centre().X
		}
		require.Equal(t, geometry.Left, l.Placed[0].Side)
		require.InDelta(t, -13, red(0), 1e-9, more) // stripes of 11 and 11 about one of 2
		if !warned {
			require.InDelta(t, 13, red(1), 1e-9, more)
			require.NotContains(t, rules(findings), "warn handedness", more)
			continue
		}
		require.InDelta(t, -13, red(1), 1e-9, more)
		require.Contains(t, rules(findings), "warn handedness", more)
	}
}

// Words that a layout would mirror on the right side are told of.
func TestMirroredWordsAreTold(t *testing.T) {
	for more, warned := range map[string]bool{"": false, ", handed: text": false, ", handed: symmetric": false, ", handed: handed": true} {
		_, findings := resolveText(t, strings.Replace(slabFigure("{text: K4, alphabet: block-6x4, height: 6}", ""), "colours: {text: black}", "colours: {text: black}"+more, 1))
		if warned {
			require.Contains(t, rules(findings), "warn handedness", more)
		} else {
			require.NotContains(t, rules(findings), "warn handedness", more)
		}
	}
}
