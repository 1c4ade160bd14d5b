package glyphs

import (
	"fmt"
	"os"
	"path/filepath"
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
	for _, c := range []struct {
		from, to string
		line     int
		want     string
	}{
		{"stroke: 1 ", "stroek: 1 ", 8, "stroek"},
		{"stroke: 1 ", "# stroke: 1 ", 0, "the alphabet has no stroke"},
		{"stroke: 1 ", "stroke: 1.4 ", 8, "counters would close"},
		{"stroke: 1 ", "stroke: {vertical: 1} ", 8, "stroke has no horizontal"},
		{"stroke: 1 ", "stroke: wide ", 8, "not a number or a fraction"},
		{"gap: 1 ", "gap: 0 ", 9, "above 0"},
		{"gap: 1 ", "gap: 1/0 ", 9, "not a number or a fraction"},
		{"corner: {kind: chamfer", "corner: {kind: bevel", 13, "square, chamfer or round"},
		{"corner: {kind: chamfer", "corner: {kind: square", 13, "a square corner has size 0"},
		{", size: 1}\n# classes", ", size: 2.5}\n# classes", 13, "above half the width"},
		{", size: 1}\n# classes", ", size: 1.9, inner: {kind: square}}\n# classes", 13, "the bend keeps"},
		{`"4": closed`, `"4": opened`, 27, "closed or open"},
		{`"4": closed`, `"5": closed`, 27, `"5" has but one form`},
		{"I: plain ", "I: barred ", 17, "its strokes would run together"},
		{"M: 5.5", "Ä: 5.5", 18, `"Ä" has none`},
		{"M: 5.5", "M: 2.5", 18, "below 3"},
		{"# waists: {A: 2.4,", "waists: {A: 0.4}\n# ", 21, "lies outside 1 to 5"},
		{"# waists: {A: 2.4,", "waists: {L: 0.4}\n# ", 21, `"L" has none`},
		{"# hook: 1.74", "hook: 3.5", 23, "lies outside 1 to 3"},
		{"# pairs: {LT: 1}", "pairs: {L: 1}", 25, "is no pair"},
		{"# slant: 0 ", "slant: 50 ", 32, "outside -30 to 30"},
		{"# classes: {narrow: {of: EFL, width: 4}}", "classes: {narrow: {of: EFE, width: 4}}", 14, "each in one class"},
		{"source: 14 CFR", "source: #", 33, "source has no value"},
		{"  word: common", "  wood: common", 38, `there is no "wood"`},
	} {
		require.Contains(t, good, c.from)
		_, err := Parse("f.yaml", []byte(strings.Replace(good, c.from, c.to, 1)))
		require.ErrorContains(t, err, c.want, "%s for %s", c.to, c.from)
		var problems Problems
		require.ErrorAs(t, err, &problems)
		if c.line > 0 {
			require.Contains(t, err.Error(), fmt.Sprintf("f.yaml:%d:", c.line), "%s for %s: %v", c.to, c.from, err)
		}
		for _, p := range problems {
			require.NotEmpty(t, p.Hint, "%v says what to type", p)
		}
	}
	for _, text := range []string{"", "- a", "name: [", "name: a\n---\nname: b", "name: a\nname: b"} {
		_, err := Parse("f.yaml", []byte(text))
		require.ErrorContains(t, err, "f.yaml", "%q", text)
	}
}

// A file of one's own is an alphabet like those within.
func TestLoadFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "mine.yaml")
	require.NoError(t, os.WriteFile(name, []byte("name: mine\nwidth: 2/3\nstroke: 1/6\ngap: 1/6\nword: 2/3\ncorner: {kind: chamfer, size: 1/6}\n"+
		"classes: {wide: {of: MW, width: 1}, thin: {of: '1I', width: 1/6}}\nwidths: {M: 5.5/6}\npairs: {LT: 1/10}\nsource: a test\n"), 0o644))
	mine, err := LoadFile(name)
	require.NoError(t, err)
	for _, r := range all {
		a, err := mine.Glyph(r, 6)
		require.NoError(t, err)
		b, err := block(t).Glyph(r, 6)
		require.NoError(t, err)
		require.Equal(t, b.Outline.String(), a.Outline.String(), "%c: the same ratios make the same outline", r)
	}
	require.InDelta(t, 0.1, mine.GapOf('L', 'T'), 1e-12)
	require.InDelta(t, 1.0/6, mine.GapOf('T', 'L'), 1e-12)
	_, err = LoadFile(name + "x")
	require.ErrorContains(t, err, "cannot read the alphabet")
}

// What is written is read as the same outlines.
func TestYAML(t *testing.T) {
	for name, a := range variants(t) {
		again, err := Parse(name, a.YAML())
		require.NoError(t, err, "%s", a.YAML())
		require.Equal(t, string(a.YAML()), string(again.YAML()))
		for _, r := range "AKMQRW02469" {
			want, err := a.Glyph(r, 6)
			require.NoError(t, err)
			got, err := again.Glyph(r, 6)
			require.NoError(t, err)
			require.Less(t, apart(t, want.Outline, got.Outline), 1e-4, "%s: %c", name, r)
		}
	}
}

// apart returns the area that belongs to one of two regions only.
func apart(t *testing.T, a, b g.Path) float64 {
	t.Helper()
	o, err := g.Overlaid(a, b)
	require.NoError(t, err)
	p, err := o.Region(func(in []bool) bool { return in[0] != in[1] })
	require.NoError(t, err)
	return p.Area()
}

// A form changes its own character and no other.
func TestForms(t *testing.T) {
	plain, other := block(t), *block(t)
	other.Forms = map[string]string{"4": "open", "I": "barred"}
	other.Widths = map[string]float64{"1": 1, "I": 4, "M": 5.5, "W": 6}

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
