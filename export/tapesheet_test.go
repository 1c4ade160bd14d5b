package export

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

func BenchmarkTapeSheets(b *testing.B) {
	l, tilings, list := tapeListOf(b, func(*layouts.Spec) {})
	for b.Loop() {
		TapeSheets(Letter, l, tilings, list)
	}
}

// textsOf returns what a sheet says, in its order.
func textsOf(s Sheet) []Saying {
	var out []Saying
	for _, l := range s.Layers {
		for _, it := range l.Items {
			if it.Says != nil {
				out = append(out, *it.Says)
			}
		}
	}
	return out
}

// requireReadable checks a document for people: all within the margins, no text
// smaller than 9 points, none over another.
func requireReadable(t *testing.T, paper Paper, sheets []Sheet) {
	t.Helper()
	page := g.Rect{Max: g.Point{X: paper.Width, Y: paper.Height}}.Grown(-pageMargin + 0.06)
	for _, s := range sheets {
		require.NoError(t, s.check())
		for _, l := range s.Layers {
			for _, it := range l.Items {
				b := it.Path.Bounds()
				require.True(t, within(b.Min, page) && within(b.Max, page), "%s: %v leaves the margins", s.Title, b)
				letters := it.Ink.Stroke == "" && it.Says == nil && len(it.Path) > 2
				require.False(t, letters && b.Height() < 9*pointCap, "%s: small letters at %v", s.Title, b.Min)
			}
		}
		texts := textsOf(s)
		box := func(x Saying) g.Rect { // capitals, and half of what hangs below the line
			return g.Rect{Min: g.Point{X: x.At.X, Y: x.At.Y - 0.15*x.Cap}, Max: g.Point{X: x.At.X + x.Width, Y: x.At.Y + x.Cap}}
		}
		for i, a := range texts {
			require.GreaterOrEqual(t, a.Cap, 9*pointCap-1e-9, "%s: %q", s.Title, a.Text)
			for _, c := range texts[:i] {
				require.False(t, touches(box(a), box(c)), "%s: %q lies over %q", s.Title, a.Text, c.Text)
			}
		}
	}
}

// Every sheet can be read: on both papers, in inches and in millimetres from the 100 mm
// mark, and with hardpoints as measured of which one is wrong.
func TestTapeSheetsAreReadable(t *testing.T) {
	metric := func(s *layouts.Spec) { s.Tape = s.Tape.Metric(); s.Tape.Burn = true }
	for _, paper := range []Paper{Letter, A4} {
		for name, change := range map[string]func(*layouts.Spec){"inches": func(*layouts.Spec) {}, "metric": metric} {
			l, tilings, list := tapeListOf(t, change)
			sheets := TapeSheets(paper, l, tilings, list)
			requireReadable(t, paper, sheets)
			var b bytes.Buffer
			require.NoError(t, WritePDF(&b, sheets, PDFOptions{Title: "tapes", Compress: true}))
			if dir := os.Getenv("MASKLOFT_LOOK"); dir != "" {
				require.NoError(t, os.WriteFile(fmt.Sprintf("%s/tapes-%s-%s.pdf", dir, strings.ToLower(paper.Name), name), b.Bytes(), 0o644))
			}
		}
	}
}

var _ = math.Pi
var _ = assert.Equal
var _ masks.Checkpoint
