package export

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
	"maskloft/layouts/worked"
)

// lettered are letterings of the heights given, in inches, on both sides of a tube.
func lettered(t testing.TB, heights ...float64) worked.Work {
	t.Helper()
	text := "name: lettered\n" + worked.Common + "aircraft: {name: T, datum: 'FS 0 is the nose, positive aft; WL 0 is the axis', surfaces: [{id: body, kind: round, sections: [{fs: 0, radius: 40, wl: 0}, {fs: 600, radius: 40, wl: 0}]}]}\nmarkings:\n"
	for i, high := range heights {
		words := []string{"NO STEP", "I", "R", "FUEL 91"}[i%4]
		text += fmt.Sprintf("  - {id: m%d, figure: {text: %s, alphabet: block-6x4, height: %g, islands: tape}, where: {surface: body, side: both, fs: %d, wl: 0}, colours: {text: blue}}\n", i+1, words, high, 40+50*i)
	}
	return worked.Worked(t, "lettered", worked.LayoutOf(t, text))
}

// Small markings share pages: each once, in order, at true size, none over another, with
// its name and marks; the pounce patterns have theirs in the same places. The others, and
// one that is small where no other is, keep pages of their own.
func TestTrialsShared(t *testing.T) {
	w := lettered(t, 0.5, 2, 8, 0.5, 0.75, 0.5, 12, 1)
	for _, paper := range []sheet.Paper{sheet.Letter, sheet.A4} {
		room := trialRoom(paper)
		most := room.Width() * room.Height() / 4
		shared, own := ShareTrials(w.Tilings, paper, w.Layout.Spec)
		require.NotEmpty(t, own)
		for _, tiling := range own {
			box := tiling.Laid.Painted.Bounds()
			for _, m := range tiling.Marks {
				box = box.Union(g.BoundsOf(m.Film))
			}
			require.True(t, box.Grown(0.5).Width()*box.Grown(0.5).Height() > most || box.Grown(0.5).Width() > room.Width(), tiling.Laid.ID())
		}
		byID := map[string]masks.Tiling{}
		for _, tiling := range w.Tilings {
			byID[tiling.Laid.ID()] = tiling
		}
		var names []string
		pages := 0
		for s := range shared.Prints() {
			require.NoError(t, s.Check())
			require.Equal(t, g.Point{X: paper.Width, Y: paper.Height}, g.Point{X: s.Width, Y: s.Height})
			layers := map[string][]sheet.Item{}
			for _, l := range s.Layers {
				layers[l.Name] = l.Items
			}
			frames, outlines, bows := []g.Rect{}, g.Path{}, 0
			for _, it := range layers["skin"] {
				r := it.Path.Bounds()
				require.LessOrEqual(t, r.Width()*r.Height(), most)
				require.True(t, room.Grown(1e-9).Contains(r.Min) && room.Grown(1e-9).Contains(r.Max), "%s %v", s.Title, r)
				for _, o := range frames {
					require.False(t, sheet.Overlap(o.Grown(-1e-9), r), s.Title)
				}
				frames = append(frames, r)
			}
			for _, it := range layers["outlines"] {
				outlines = append(outlines, it.Path...)
			}
			for _, it := range layers["registration marks"] {
				if it.Ink.Stroke != "" {
					bows++
				}
			}
			var here []string
			for _, it := range layers[LayerNotes] {
				if it.Says == nil {
					continue
				}
				if tiling, ok := byID[it.Says.Text]; ok {
					frame := frames[len(here)]
					require.True(t, frame.Contains(it.Says.At) && frame.Contains(it.Says.At.Add(g.Vec{X: it.Says.Width, Y: it.Says.Cap})), it.Says.Text)
					paint := g.Path{}
					for _, p := range layers["paint"] {
						if frame.Contains(p.Path.Bounds().Centre()) {
							paint = append(paint, p.Path...)
							require.Equal(t, views.Tint(views.HexOf(w.Layout.Spec.Paint, "blue"), 0.25), p.Ink.Fill)
						}
					}
					require.InDelta(t, tiling.Laid.Painted.Area(), paint.Area(), 1e-9)
					require.InDelta(t, tiling.Laid.Painted.Bounds().Width(), paint.Bounds().Width(), 1e-9)
					require.InDelta(t, tiling.Laid.Painted.Bounds().Height(), paint.Bounds().Height(), 1e-9)
					// the same way up and round: the centroid is where it was in the box
					shift := paint.Bounds().Min.Sub(tiling.Laid.Painted.Bounds().Min)
					require.Less(t, outlines.Distance(tiling.Laid.Painted[0].Start.Add(shift), g.FlattenTolerance), 1e-6)
					bows -= len(tiling.Marks)
					here = append(here, it.Says.Text)
				}
			}
			require.Len(t, frames, len(here))
			require.Zero(t, bows)
			names = append(names, here...)
			pounce := shared.Pounce(pages)
			require.NoError(t, pounce.Check())
			holes := pounce.Layers[0].Items[0].Path
			for _, h := range holes {
				require.Less(t, outlines.Distance(h.Bounds().Centre(), g.FlattenTolerance), 1e-3)
			}
			for _, id := range here {
				holes = holes[len(PouncePattern(byID[id]).Layers[0].Items[0].Path):]
			}
			require.Empty(t, holes)
			pages++
		}
		require.Equal(t, shared.Len(), pages)
		var want []string
		for _, tiling := range w.Tilings {
			want = append(want, tiling.Laid.ID())
		}
		for _, tiling := range own {
			names = append(names, tiling.Laid.ID())
		}
		require.ElementsMatch(t, want, names)
		require.Equal(t, []string{"m1-left", "m1-right", "m2-left", "m2-right"}, names[:4])
	}
	single := lettered(t, 8)
	single.Tilings = append(single.Tilings, w.Tilings[0])
	shared, own := ShareTrials(single.Tilings, sheet.Letter, single.Layout.Spec)
	require.Zero(t, shared.Len())
	require.Len(t, own, 3)
}

// The nose of an aircraft seen from its left is to the left.
func TestLegendPoints(t *testing.T) {
	w := lettered(t, 0.5)
	for i, way := range []float64{-1, 1} {
		_, items := trialLegend(w.Tilings[i].Laid.Placement)
		up, nose := items[0].Path[0], items[2].Path[0]
		require.Greater(t, up.Segments[3].End.Y, up.Start.Y)
		require.InDelta(t, legendArrow, (nose.Segments[3].End.X-nose.Start.X)*way, 1e-12, w.Tilings[i].Laid.ID())
		for _, it := range items {
			if it.Says == nil {
				require.LessOrEqual(t, it.Path.Bounds().Max.Y, legendHigh)
				require.GreaterOrEqual(t, it.Path.Bounds().Min.Y, 0.0)
			}
		}
	}
}

// MASKLOFT_LOOK=DIR writes the pictures to look at.
func TestLookAtSharedTrials(t *testing.T) {
	dir := os.Getenv("MASKLOFT_LOOK")
	if dir == "" {
		t.Skip("writes pictures only where MASKLOFT_LOOK names a folder")
	}
	w := lettered(t, 0.5, 2, 8, 0.5, 0.75, 0.5, 12, 1)
	shared, _ := ShareTrials(w.Tilings, sheet.Letter, w.Layout.Spec)
	f, err := os.Create(filepath.Join(dir, "shared.pdf"))
	require.NoError(t, err)
	require.NoError(t, sheet.WriteDrawnPDF(f, shared.Prints(), sheet.PDFOptions{Title: "trial"}))
	require.NoError(t, f.Close())
}
