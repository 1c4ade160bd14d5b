package glyphs

import (
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

var update = flag.Bool("update", false, "rewrite golden files")

func block(t testing.TB) *Alphabet {
	a, err := Load("block-6x4")
	require.NoError(t, err)
	return a
}

// 14 CFR 45.29(c): characters two thirds as wide as high, the figure 1 one sixth
// as wide as high, M and W not wider than they are high. Measured on outlines.
func TestWidths(t *testing.T) {
	a := block(t)
	for _, r := range all {
		glyph, err := a.Glyph(r, 12)
		require.NoError(t, err)
		b := glyph.Outline.Bounds()
		want := 8.0
		switch r {
		case '1', 'I', '.':
			want = 2
		case 'M', 'W':
			require.LessOrEqual(t, b.Width(), 12.0)
			want = b.Width()
		}
		require.InDelta(t, want, b.Width(), 0.001, "width of %c", r)
		require.InDelta(t, float64(glyph.Width), b.Width(), 0.001)
		require.InDelta(t, 0, b.Min.X, 0.001, "%c starts at 0", r)
		if r != '-' && r != '.' {
			require.InDelta(t, 0, b.Min.Y, 1e-9, "%c stands on the baseline", r)
			require.InDelta(t, 12, b.Height(), 1e-9, "height of %c", r)
		}
	}
}

// variants are the embedded alphabets, and three of them with every other form,
// bars thinner than uprights, and a slant.
func variants(t testing.TB) map[string]*Alphabet {
	out := map[string]*Alphabet{}
	for _, n := range Names() {
		a, err := Load(n)
		require.NoError(t, err)
		out[n] = a
		for last := 1; last <= 2 && (n == "block-6x4" || n == "block-round" || n == "raf-underwing-1926"); last++ {
			o := *a
			o.Forms, o.Widths, o.Waists = map[string]string{}, maps.Clone(a.Widths), maps.Clone(a.Waists)
			for k, known := range forms {
				o.Forms[k] = known[min(last, len(known)-1)]
			}
			o.Widths["1"], o.Widths["I"] = 2.2*a.Stroke.Vertical, 3*a.Stroke.Vertical
			delete(o.Waists, "M")
			if a.Form('M') == "full" {
				o.Forms["M"] = "middle"
			}
			o.Stroke.Horizontal *= 0.85
			out[fmt.Sprint(n, " other forms ", last)] = &o
			if last == 2 {
				s := o
				s.Slant, s.Forms = 12, a.Forms
				s.Widths, s.Waists = a.Widths, a.Waists
				out[fmt.Sprint(n, " slanted")] = &s
			}
		}
	}
	return out
}

// holesOf is how many counters a character has, in the form it has.
func holesOf(a *Alphabet, r rune) int {
	n := map[rune]int{'A': 1, 'B': 2, 'D': 1, 'O': 1, 'P': 1, 'Q': 1, 'R': 1, '0': 1, '4': 1, '6': 1, '8': 2, '9': 1}[r]
	switch {
	case r == '4' && a.Form(r) == "open":
		return 0
	case r == '0' && a.Form(r) == "slashed":
		return 2
	}
	return n
}

// Every character of every alphabet in every form: closed, outer contours
// counter-clockwise and holes clockwise, one piece with as many counters as its
// form has, no crossing (nothing is left to settle), as wide as its ratio says
// and as high as its cap height.
func TestOutlines(t *testing.T) {
	for name, a := range variants(t) {
		seen := map[string]rune{}
		for _, r := range all {
			glyph, err := a.Glyph(r, 12)
			require.NoError(t, err, "%s: %c", name, r)
			outer, inner, simple := 0, 0, true
			for _, c := range glyph.Outline {
				require.True(t, c.Closed())
				if c.Area() > 0 {
					outer++
				} else {
					inner++
				}
				for i := range c.Segments { // no two edges cross
					for j := 0; j < i; j++ {
						simple = simple && !crosses(c.From(i), c.Segments[i].End, c.From(j), c.Segments[j].End)
					}
				}
			}
			require.True(t, simple, "%s: %c crosses itself", name, r)
			require.Equal(t, 1, outer, "%s: %c is one piece", name, r)
			require.Equal(t, holesOf(a, r), inner, "%s: counters of %c", name, r)
			settled, err := g.Settle(glyph.Outline)
			require.NoError(t, err)
			require.InDelta(t, settled.Area(), glyph.Outline.Area(), 1e-6, "%s: %c", name, r)
			require.Equal(t, settled.Nodes(), glyph.Outline.Nodes(), "%s: %c", name, r)
			b := stoodUp(glyph.Outline, a.Slant).Bounds()
			require.InDelta(t, a.WidthOf(r)*12/a.Height, b.Width(), 1e-4, "%s: width of %c", name, r)
			require.InDelta(t, 0, b.Min.X, 1e-4, "%s: %c starts at 0", name, r)
			require.InDelta(t, float64(glyph.Width), b.Width(), 1e-4)
			if r != '-' && r != '.' {
				require.InDelta(t, 0, b.Min.Y, 1e-6, "%s: %c stands on the baseline", name, r)
				require.InDelta(t, 12, b.Height(), 1e-6, "%s: height of %c", name, r)
			}
			text := glyph.Outline.String()
			if other, ok := seen[text]; ok {
				require.Contains(t, []string{"O0", "I1"}, string([]rune{other, r}), "%s: one form for two characters", name)
			}
			seen[text] = r
		}
	}
}

func crosses(a, b, c, d g.Point) bool {
	o := func(p, q, r g.Point) float64 { return q.Sub(p).Cross(r.Sub(p)) }
	return o(a, b, c)*o(a, b, d) < -1e-12 && o(c, d, a)*o(c, d, b) < -1e-12
}

// 14 CFR 45.29(d): strokes one sixth as wide as the character is high. Measured
// by rays square to the strokes, away from joints: the place, the direction, and
// the character.
func TestStrokes(t *testing.T) {
	a := block(t)
	u := g.Vec{X: 1}
	v := g.Vec{Y: 1}
	d := g.Vec{X: math.Sqrt2 / 2, Y: math.Sqrt2 / 2}
	e := g.Vec{X: -math.Sqrt2 / 2, Y: math.Sqrt2 / 2}
	for _, c := range []struct {
		runes string
		at    g.Point // within the stroke, in units of the grid
		dir   g.Vec
	}{
		{"BDEFHKLMNPRAUO0CGQ", g.Point{X: 0.5, Y: 1.9}, u}, // left upright
		{"HUO0AD", g.Point{X: 3.5, Y: 3.8}, u},             // right upright
		{"1I", g.Point{X: 0.5, Y: 3}, u},
		{"T", g.Point{X: 2, Y: 2}, u},
		{"T", g.Point{X: 1, Y: 5.5}, v},
		{"EFZ57O0CGS23698BDPRQ", g.Point{X: 2.1, Y: 5.5}, v}, // upper bar
		{"ELUO0CGS235689BDJZQ", g.Point{X: 1.6, Y: 0.5}, v},  // lower bar
		{"HEF-B", g.Point{X: 1.9, Y: 3}, v},                  // middle bar
		{"O0QU", g.Point{X: 0.853553, Y: 0.853553}, d},       // lower left chamfer
		{"O0BDPRQ", g.Point{X: 3.146447, Y: 5.146447}, d},    // upper right chamfer
		{"O0BDU", g.Point{X: 3.146447, Y: 0.853553}, e},      // lower right chamfer
	} {
		for _, r := range c.runes {
			glyph, err := a.Glyph(r, 12)
			require.NoError(t, err)
			p := g.Point{X: c.at.X * 2, Y: c.at.Y * 2}
			require.InDelta(t, 2, through(glyph.Outline, p, c.dir), 0.001, "stroke of %c at %v", r, c.at)
		}
	}
	// diagonals, square to their own direction: the narrowest way through
	for _, c := range []struct {
		r  rune
		at g.Point
	}{{'X', g.Point{X: 2.9, Y: 4.8}}, {'V', g.Point{X: 0.95, Y: 4.6}}, {'N', g.Point{X: 2, Y: 3}}, {'Z', g.Point{X: 2, Y: 3}}, {'7', g.Point{X: 2.5, Y: 2.8}}} {
		glyph, err := a.Glyph(c.r, 12)
		require.NoError(t, err)
		least := math.Inf(1)
		for deg := 0.0; deg < 180; deg += 0.05 {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			least = math.Min(least, through(glyph.Outline, g.Point{X: c.at.X * 2, Y: c.at.Y * 2}, g.Vec{X: cos, Y: sin}))
		}
		require.InDelta(t, 2, least, 0.001, "diagonal of %c", c.r)
	}
}

// through returns the length of the outline's inside along a line through p.
func through(path g.Path, p g.Point, dir g.Vec) float64 {
	fore, aft := math.Inf(1), math.Inf(-1)
	for _, c := range path {
		for i, s := range c.Segments {
			a, b := c.From(i).Sub(p), s.End.Sub(p)
			ca, cb := dir.Cross(a), dir.Cross(b)
			if (ca > 0) == (cb > 0) {
				continue
			}
			x := a.Add(b.Sub(a).Scale(ca / (ca - cb))).Dot(dir)
			if x > 0 {
				fore = math.Min(fore, x)
			} else {
				aft = math.Max(aft, x)
			}
		}
	}
	return fore - aft
}

// A run of 0417 at 8 in, gap a quarter of the width: 21.333 in (invented demo
// number; 3 x 5.333 + 1.333 + 3 x 1.333).
func TestSet(t *testing.T) {
	a := block(t)
	letters, err := a.Set("0417", 8, SetOptions{})
	require.NoError(t, err)
	require.InDelta(t, 64.0/3, float64(letters.Width), 1e-9)
	b := letters.Outline().Bounds()
	require.InDelta(t, 64.0/3, b.Width(), 1e-9)
	for i := 1; i < len(letters.Glyphs); i++ {
		p, q := letters.Glyphs[i-1], letters.Glyphs[i]
		gap := (q.X.Inches() + q.Outline.Bounds().Min.X) - (p.X.Inches() + p.Outline.Bounds().Max.X)
		// 14 CFR 45.29(e): not less than one fourth of the character width
		require.GreaterOrEqual(t, gap, 8*2.0/3/4-1e-3)
	}
	wide := g.Length(3)
	letters, err = a.Set("A B", 6, SetOptions{Gap: &wide})
	require.NoError(t, err)
	require.InDelta(t, 4+4+4, float64(letters.Width), 1e-9)
	for text, want := range map[string]string{"a": "write 'A' for 'a'", "Ü": "has no 'Ü'", "": "no character", "  ": "no character"} {
		_, err := a.Set(text, 6, SetOptions{})
		require.ErrorContains(t, err, want)
	}
	_, err = Load("nothing")
	require.ErrorContains(t, err, "block-6x4")
}

// Golden outlines: a change of any shape is seen in review.
func TestGolden(t *testing.T) {
	for _, n := range Names() {
		a, err := Load(n)
		require.NoError(t, err)
		var b strings.Builder
		for _, r := range all {
			glyph, err := a.Glyph(r, 6)
			require.NoError(t, err)
			fmt.Fprintf(&b, "%c %s %s\n", r, g.FormatNumber(float64(glyph.Width), 4), glyph.Outline)
		}
		name := filepath.Join("testdata", n+".txt")
		if *update {
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			require.NoError(t, os.WriteFile(name, []byte(b.String()), 0o644))
		}
		want, err := os.ReadFile(name)
		require.NoError(t, err)
		require.Equal(t, string(want), b.String())
	}
}

// Labels: capitals are as high as asked, measured on H; a narrow letter is
// narrower than a wide one; the width grows with the text.
func TestLabel(t *testing.T) {
	for _, bold := range []bool{false, true} {
		h, w := Label("H", 0.5, bold)
		b := h.Bounds()
		require.InDelta(t, 0.5, b.Height(), 1e-3)
		require.InDelta(t, 0, b.Min.Y, 1e-3)
		require.Less(t, b.Max.X, w)
		_, two := Label("HH", 0.5, bold)
		require.InDelta(t, 2*w, two, 1e-9)
		_, i := Label("i", 0.5, bold)
		require.Less(t, i, w)
	}
	p, _ := Label("R", 1, true)
	require.Len(t, p, 2, "R has one counter")
}
