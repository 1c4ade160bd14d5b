package glyphs

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// Every ratio of 14 CFR 45.29(c)-(e) stands in the file, and the file cannot
// say what the program would not heed.
func TestAlphabetFile(t *testing.T) {
	data, err := files.ReadFile("alphabets/block-6x4.yaml")
	require.NoError(t, err)
	good := string(data)
	_, err = Parse("block-6x4.yaml", data)
	require.NoError(t, err)
	for _, c := range []struct{ from, to, want string }{
		{"stroke: 1", "stroek: 1", "stroek"},
		{"stroke: 1", "stroke: 1.4", "counters would close"},
		{"gap: 1", "gap: 0", "above 0"},
		{"kind: chamfer", "kind: round", "write square or chamfer"},
		{"kind: chamfer", "kind: square", "a square corner has size 0"},
		{"size: 1}", "size: 0.5}", "a chamfer lies above 0.5858"},
		{"size: 1}", "size: 2}", "a third of the width"},
		{`"4": closed`, `"4": opened`, `"4" has no form "opened"`},
		{`"4": closed`, `"5": closed`, `"5" has no form`},
		{"I: plain ", "I: barred ", "at least three strokes"},
		{"M: 5.5", "Ä: 5.5", `"Ä"`},
		{"M: 5.5", "M: 0.5", "not below the stroke"},
		{"source: 14 CFR", "source: #", "a source"},
	} {
		require.Contains(t, good, c.from)
		_, err := Parse("f.yaml", []byte(strings.Replace(good, c.from, c.to, 1)))
		require.ErrorContains(t, err, c.want, "%s for %s", c.to, c.from)
	}
}

// A form changes its own character and no other.
func TestForms(t *testing.T) {
	plain, other := block(t), *block(t)
	other.Forms = map[string]string{"4": "open", "I": "barred"}
	other.Widths = map[string]float64{"1": 1, "M": 5.5, "W": 6}

	for _, r := range all {
		a, err := plain.Glyph(r, 6)
		require.NoError(t, err)
		b, err := other.Glyph(r, 6)
		require.NoError(t, err)
		if r == '4' || r == 'I' {
			require.NotEqual(t, a.Outline.String(), b.Outline.String())
			require.Len(t, b.Outline, 1, "%c has no counter", r)
			require.InDelta(t, 4, b.Outline.Bounds().Width(), 1e-9)
			continue
		}
		require.Equal(t, a, b)
	}
}

// R is not its own mirror image, either way: it tells a mirrored sheet. The
// area that it shares with its image is well below its own.
func TestAsymmetricR(t *testing.T) {
	glyph, err := block(t).Glyph('R', 12)
	require.NoError(t, err)
	for name, flip := range map[string]func(g.Point) g.Point{
		"left for right": func(p g.Point) g.Point { return g.Point{X: 8 - p.X, Y: p.Y} },
		"upside down":    func(p g.Point) g.Point { return g.Point{X: p.X, Y: 12 - p.Y} },
	} {
		both, err := g.Intersect(glyph.Outline, glyph.Outline.Map(flip))
		require.NoError(t, err)
		require.Less(t, both.Area(), 0.9*glyph.Outline.Area(), name)
	}
}
