package tapelist

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"
	"maskloft/layouts/reading"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts"
)

func BenchmarkTapeSheets(b *testing.B) {
	l, tilings, list := tapeListOf(b, func(*layouts.Spec) {})
	for b.Loop() {
		var out bytes.Buffer
		require.NoError(b, sheet.WritePDF(&out, TapeSheets(sheet.Letter, l, tilings, list), sheet.PDFOptions{Title: "tapes", Compress: true}))
	}
}

// textsOf returns what a sheet says, in its order.
func textsOf(s sheet.Sheet) []sheet.Saying {
	var out []sheet.Saying
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
func requireReadable(t *testing.T, paper sheet.Paper, sheets []sheet.Sheet) {
	t.Helper()
	page := g.Rect{Max: g.Point{X: paper.Width, Y: paper.Height}}.Grown(-sheet.PageMargin + 0.06)
	for _, s := range sheets {
		require.NoError(t, s.Check())
		for _, l := range s.Layers {
			for _, it := range l.Items {
				drawn := it.Outline()
				if len(drawn) == 0 {
					continue // a blank line
				}
				b := drawn.Bounds()
				require.True(t, page.Contains(b.Min) && page.Contains(b.Max), "%s: %v leaves the margins", s.Title, b)
				letters := it.Ink.Stroke == "" && it.Says == nil && len(it.Path) > 2
				require.False(t, letters && b.Height() < 9*sheet.PointCap, "%s: small letters at %v", s.Title, b.Min)
			}
		}
		texts := textsOf(s)
		box := func(x sheet.Saying) g.Rect { // capitals, and half of what hangs below the line
			return g.Rect{Min: g.Point{X: x.At.X, Y: x.At.Y - 0.15*x.Cap}, Max: g.Point{X: x.At.X + x.Width, Y: x.At.Y + x.Cap}}
		}
		for i, a := range texts {
			require.GreaterOrEqual(t, a.Cap, 9*sheet.PointCap-1e-9, "%s: %q", s.Title, a.Text)
			for _, c := range texts[:i] {
				require.False(t, sheet.Overlap(box(a), box(c)), "%s: %q lies over %q", s.Title, a.Text, c.Text)
			}
		}
	}
}

// Every sheet can be read: on both papers, in inches and in millimetres from the 100 mm
// mark, and with hardpoints as measured of which one is wrong.
func TestTapeSheetsAreReadable(t *testing.T) {
	metric := func(s *layouts.Spec) { s.Tape = s.Tape.Metric(); s.Tape.Burn = true }
	for _, paper := range []sheet.Paper{sheet.Letter, sheet.A4} {
		for name, change := range map[string]func(*layouts.Spec){"inches": func(*layouts.Spec) {}, "metric": metric} {
			l, tilings, list := tapeListOf(t, change)
			requireReadable(t, paper, TapeSheets(paper, l, tilings, withAll(list)))
			sheets := TapeSheets(paper, l, tilings, list)
			var b bytes.Buffer
			require.NoError(t, sheet.WritePDF(&b, sheets, sheet.PDFOptions{Title: "tapes", Compress: true}))
			if dir := os.Getenv("MASKLOFT_LOOK"); dir != "" {
				require.NoError(t, os.WriteFile(fmt.Sprintf("%s/tapes-%s-%s.pdf", dir, strings.ToLower(paper.Name), name), b.Bytes(), 0o644))
			}
		}
	}
}

// Wings are seen in plan, and their points found along a rib from an edge.
func TestTapeSheetsOfAWing(t *testing.T) {
	spec, err := reading.Load("../../testdata/lessons/06-wing.yaml")
	require.NoError(t, err)
	l, tilings, list := tapeListOf(t, func(s *layouts.Spec) { *s = *spec })
	for _, list := range []taping.TapeList{list, withAll(list)} {
		requireReadable(t, sheet.A4, TapeSheets(sheet.A4, l, tilings, list))
	}
	for _, p := range list.Placings {
		require.NotEmpty(t, p.Tiles, p.Marking)
	}
}

// A page a marking after a cover of one, each point once with its readings in 14 points
// or more: those of the list as text.
func TestTapeSheetsHoldTheList(t *testing.T) {
	for name, change := range map[string]func(*layouts.Spec){"inches": func(*layouts.Spec) {}, "metric": func(s *layouts.Spec) { s.Tape = s.Tape.Metric(); s.Tape.Burn = true }} {
		l, tilings, list := tapeListOf(t, change)
		text := string(TapeText(l, list))
		sheets := TapeSheets(sheet.Letter, l, tilings, list)
		require.Len(t, sheets, 1+len(tilings), name)
		for i, p := range list.Placings {
			require.False(t, p.Small)
			large := map[string]int{}
			for _, x := range textsOf(sheets[1+i]) {
				if x.Cap >= 14*sheet.PointCap-1e-9 {
					large[x.Text]++
				}
			}
			require.Len(t, p.Points, 3, p.Marking)
			for _, q := range p.Points {
				row := RowsOf(list.Tape, q)[0]
				assert.Positive(t, large[q.Name], "%s: %s", name, q.Point.ID)
				assert.Contains(t, text, row.Words)
				for _, part := range row.Parts {
					assert.Positive(t, large[part.Reading], "%s: %s %s", name, q.Point.ID, part.Reading)
					assert.Contains(t, text, "**"+part.Reading+"** ("+part.Decimals+")")
				}
			}
		}
	}
}

// A hardpoint far from where the others have it is marked on the cover, and so is the
// fit that finds it.
func TestTapeSheetsMarkASuspect(t *testing.T) {
	l, tilings, list := tapeListOf(t, func(*layouts.Spec) {})
	p := taping.FitPoint{ID: "P2", Side: g.Left, Suspect: true, FromOthers: 0.7, Score: 20}
	q := taping.FitPoint{ID: "P1", Side: g.Left, FromOthers: g.Length(math.NaN()), Score: math.NaN()}
	list.Structure = []taping.StructureFit{{Which: "left", Points: []taping.FitPoint{p, q}, RMS: 0.2}}
	sheets := TapeSheets(sheet.Letter, l, tilings, list)
	requireReadable(t, sheet.Letter, sheets)
	all := ""
	for _, page := range sheets {
		for _, x := range textsOf(page) {
			all += x.Text + "\n"
		}
	}
	assert.Equal(t, 2, strings.Count(all, "SUSPECT"), "once among the hardpoints, once in the fit")
	assert.Contains(t, all, "0.700")
	assert.Contains(t, all, "too few to say")
}

// The pictures show tapes where they run: each drawn path begins at the point, ends at
// the hardpoint, and is as long as the tape is to read, but for its chords and for a
// hook that stands off the skin.
func TestTapePathsAreTheTapes(t *testing.T) {
	_, _, list := tapeListOf(t, func(*layouts.Spec) {})
	for _, c := range list.Points {
		for _, tape := range c.Tapes {
			require.GreaterOrEqual(t, len(tape.Path), 2)
			assert.InDelta(t, 0, c.Mark.Skin.To(tape.Path[0]).Inches(), 1e-6, c.ID)
			assert.Equal(t, tape.From.At, tape.Path[len(tape.Path)-1], c.ID)
			sum := 0.0
			for i := 1; i < len(tape.Path); i++ {
				sum += tape.Path[i-1].To(tape.Path[i]).Inches()
			}
			assert.InDelta(t, tape.Length.Inches(), sum, 0.3, "%s from %s", c.ID, tape.From.ID)
		}
	}
}

// A square cut by a window loses what lies outside; the areas are closed forms.
func TestClipped(t *testing.T) {
	window := g.Rect{Max: g.Point{X: 2, Y: 2}}
	square := sheet.DrawRect(g.Rect{Min: g.Point{X: 1, Y: 1}, Max: g.Point{X: 4, Y: 5}}, sheet.Ink{Fill: "#000000"})
	out := sheet.Clipped(square, window)
	require.Len(t, out, 1)
	assert.InDelta(t, 1, out[0].Path.Area(), 1e-12)
	assert.Empty(t, sheet.Clipped(square, g.Rect{Min: g.Point{X: 5, Y: 0}, Max: g.Point{X: 7, Y: 2}}), "outside")
	line := sheet.Item{Path: g.Path{g.Polyline(g.Point{X: -1, Y: 1}, g.Point{X: 1, Y: 1}, g.Point{X: 1, Y: 3}, g.Point{X: 1.5, Y: 3}, g.Point{X: 1.5, Y: 1})}, Ink: sheet.Ink{Stroke: "#000000", Width: 0.01}}
	out = sheet.Clipped(line, window)
	require.Len(t, out, 1)
	assert.InDelta(t, 1+1+1, out[0].Path[0].Length()+out[0].Path[1].Length(), 1e-12, "two runs: in and up, and the way back")
}
