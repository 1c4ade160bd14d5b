package glyphs

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	g "maskloft/geometry"
)

// The sheet fills by the even-odd rule. A label shows right when that area is
// the area by the direction of its contours: no two overlap, outer ones run
// counter-clockwise and counters clockwise.
func TestLabelAreas(t *testing.T) {
	for _, bold := range []bool{false, true} {
		for r := rune(33); r < 127; r++ {
			p, _ := Label(string(r), 1, bold)
			filled, err := g.Settle(p)
			require.NoError(t, err, "%c", r)
			require.Greater(t, p.Area(), 0.0, "%c bold %v runs the right way", r, bold)
			require.InDelta(t, filled.Area(), p.Area(), 1e-6, "%c bold %v", r, bold)
		}
	}
}

// The width of a label is the sum of the font's own advances, scaled by the
// height of H: read here from the font at a size of its own.
func TestLabelAdvances(t *testing.T) {
	const size = 4096
	for _, c := range []struct {
		data []byte
		bold bool
	}{{goregular.TTF, false}, {gobold.TTF, true}} {
		f, err := sfnt.Parse(c.data)
		require.NoError(t, err)
		var b sfnt.Buffer
		h, err := f.GlyphIndex(&b, 'H')
		require.NoError(t, err)
		bounds, _, err := f.GlyphBounds(&b, h, fixed.I(size), font.HintingNone)
		require.NoError(t, err)
		want := 0.0
		text := "FS 168.25 Ag?"
		for _, r := range text {
			i, err := f.GlyphIndex(&b, r)
			require.NoError(t, err)
			adv, err := f.GlyphAdvance(&b, i, fixed.I(size), font.HintingNone)
			require.NoError(t, err)
			want += float64(adv) / float64(-bounds.Min.Y)
		}
		_, got := Label(text, 1, c.bold)
		require.InDelta(t, want, got, 1e-3)
		p, _ := Label("H", 0.25, c.bold)
		require.InDelta(t, 0.25, p.Bounds().Height(), 1e-9)
		require.InDelta(t, 0, p.Bounds().Min.Y, 1e-9)
	}
}

// Labels may be made at the same time, and are the same each time.
func TestLabelConcurrent(t *testing.T) {
	want, _ := Label("R 41-7", 0.5, true)
	var wait sync.WaitGroup
	got := make([]g.Path, 8)
	for i := range got {
		wait.Add(1)
		go func() { defer wait.Done(); got[i], _ = Label("R 41-7", 0.5, true) }()
	}
	wait.Wait()
	for _, p := range got {
		require.Equal(t, want, p)
	}
}
