package views

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/worked"
)

func demoLaid(t testing.TB) (*layouts.Layout, []masks.Laid) {
	t.Helper()
	w := worked.Demo(t)
	return w.Layout, w.Laid
}

// demoViews are the demo's views with every choice.
func demoViews(t testing.TB) map[string]sheet.Sheet {
	t.Helper()
	l, laid := demoLaid(t)
	out := map[string]sheet.Sheet{}
	for _, paper := range []*sheet.Paper{nil, &drawingPapers[0], &drawingPapers[3]} {
		for _, parked := range []bool{false, true} {
			for _, dims := range []bool{false, true} {
				for _, side := range []g.Side{g.Left, g.Right} {
					o := ViewOptions{Dimensions: dims, Parked: parked, Paper: paper}
					name := fmt.Sprintf("%s parked=%t dimensions=%t paper=%v", side, parked, dims, paper)
					out[name] = SideView(l, laid, side, o)
					out["fin "+name] = FinView(l, laid, side, o)
				}
			}
		}
	}
	return out
}

// viewTexts returns the lines of text of a sheet, a layer or all of it.
func viewTexts(s sheet.Sheet, layer string) []sheet.Saying {
	var out []sheet.Saying
	for _, l := range s.Layers {
		if layer != "" && !strings.Contains(l.Name, layer) {
			continue
		}
		for _, it := range l.Items {
			if it.Says != nil {
				out = append(out, *it.Says)
			}
		}
	}
	return out
}

func says(texts []sheet.Saying) string {
	var out []string
	for _, s := range texts {
		out = append(out, s.Text)
	}
	return strings.Join(out, "\n")
}

// No text of a view is smaller than a tenth of an inch, none covers another or a
// marking, and none leaves the sheet.
func TestViewTextsAreClear(t *testing.T) {
	box := func(s sheet.Saying) g.Rect {
		return g.Rect{Min: s.At, Max: g.Point{X: s.At.X + s.Width, Y: s.At.Y + s.Cap}}
	}
	for name, s := range demoViews(t) {
		require.NoError(t, s.Check(), name)
		texts := viewTexts(s, "")
		for i, a := range texts {
			require.GreaterOrEqual(t, a.Cap, 0.0999, "%s: %q", name, a.Text)
			require.True(t, box(a).Min.X > 0.35 && box(a).Max.X < s.Width-0.35, "%s: %q lies beyond the frame", name, a.Text)
			for _, b := range texts[:i] {
				require.False(t, sheet.Overlap(box(a), box(b)), "%s: %q covers %q", name, a.Text, b.Text)
			}
		}
		for _, l := range s.Layers {
			if l.Name != "markings" {
				continue
			}
			for _, it := range l.Items {
				r := sheet.NewRoom(g.Rect{Max: g.Point{X: s.Width, Y: s.Height}}, it.Path)
				for _, a := range texts {
					require.True(t, r.Clear(box(a)), "%s: %q covers %s", name, a.Text, it.ID)
				}
			}
		}
	}
}

// Every view has the key of its symbols, the fin's and that on a small paper too.
func TestViewsHaveTheirKey(t *testing.T) {
	for name, s := range demoViews(t) {
		found := map[string]bool{}
		for _, text := range viewTexts(s, "frame") {
			found[text.Text] = true
		}
		for _, word := range []string{"SYMBOLS", "hardpoint", "level peg", "obstacle", "edge of a finishing tape"} {
			require.True(t, found[word], "%s: %s", name, word)
		}
	}
}

// Figures of the invented aircraft, worked out by hand: the insignia stands at FS 134,
// WL 51; the tail number is 21.333 wide from FS 227.521, and the leading edge at WL 78 is
// at FS 219.38 by its outline; the code stands at FS 184, WL 53.
func TestViewDimensions(t *testing.T) {
	l, laid := demoLaid(t)
	text := says(viewTexts(SideView(l, laid, g.Left, ViewOptions{Dimensions: true}), "dimensions"))
	for _, want := range []string{"FS 134, WL 51", "FS 184, WL 53", "FS 238.19, WL 78", "21.33", "8.14 to the edge", "to FS 120", "(20)", "(12)"} {
		require.Contains(t, text, want)
	}
	require.NotContains(t, says(viewTexts(SideView(l, laid, g.Left, ViewOptions{}), "names")), "FS 134")
	require.Equal(t, 9, len(strings.Split(says(viewTexts(FinView(l, laid, g.Right, ViewOptions{Dimensions: true}), "dimensions")), "\n")),
		"two hardpoints, the lug, the handle and the slot; width, height, edge and middle")
}

// Heights above the floor: (WL - 6 - (FS - 72) 37/174) cos 12.005 deg, by the contacts
// of the wheels (72, 6) and (246, 43).
func TestViewParked(t *testing.T) {
	l, laid := demoLaid(t)
	p := parkedOn(l)
	_, above := p.at(168, 52)
	require.InDelta(t, 25.03, above, 0.005)
	_, tail := p.at(246, 43)
	require.InDelta(t, 0, tail, 1e-9)
	s := SideView(l, laid, g.Left, ViewOptions{Parked: true, Dimensions: true})
	text := says(viewTexts(s, ""))
	require.Contains(t, text, "parked, 12.00 deg nose up")
	require.Contains(t, text, "FS 134, WL 51, 31.12 above the floor", "(51 - 6 - 62 x 37/174) cos 12.005 deg = 31.12")
	require.Contains(t, text, "FS 184, WL 53, 22.68 above the floor", "(53 - 6 - 112 x 37/174) cos 12.005 deg = 22.68")
}

// What is drawn says at what scale: on paper the sheet is the paper.
func TestViewOnPaper(t *testing.T) {
	l, laid := demoLaid(t)
	for _, p := range drawingPapers {
		s := SideView(l, laid, g.Right, ViewOptions{Paper: &p})
		require.InDelta(t, p.Height, s.Width, 1e-9, p.Name)
		require.InDelta(t, p.Width, s.Height, 1e-9, p.Name)
		require.Regexp(t, `(?m)^1:\d+ on a sheet of `, says(viewTexts(s, "frame")))
	}
	for _, want := range []string{"insignia white, ANA 511 / FS 17875", "orange yellow, ANA 506 / FS 13538", "insignia blue, ANA 502 / FS 15044", "layout: demo.yaml", "RIGHT SIDE"} {
		require.Contains(t, says(viewTexts(SideView(l, laid, g.Right, ViewOptions{}), "frame")), want)
	}
}

// A layout of more paints than the strip lists, on an aircraft longer than any, still
// fits its paper.
func TestViewOfMany(t *testing.T) {
	text := "name: many\nunits: in\naircraft:\n  name: slab\n  datum: FS 0 is the fore edge; WL 0 is the foot\n" +
		"  surfaces: [{id: slab, kind: plate, thickness: 1, outline: [[0, 0], [4000, 0], [4000, 900], [0, 900]]}]\nmarkings:\n"
	var order, colours []string
	for i := range 20 {
		order = append(order, fmt.Sprintf("p%d", i))
		colours = append(colours, fmt.Sprintf("p%d: {name: paint %d, hex: \"#8090a0\"}", i, i))
		text += fmt.Sprintf("  - {id: m%d, figure: {discs: [{diameter: 20, colour: p%d}]}, where: {surface: slab, side: left, fs: %d, wl: 400}}\n", i, i, 100+150*i)
	}
	text += "paint: {order: [" + strings.Join(order, ", ") + "], colours: {" + strings.Join(colours, ", ") + "}}\n"
	l := worked.LayoutOf(t, text)
	s := SideView(l, worked.Lay(t, l), g.Left, ViewOptions{Paper: &sheet.Letter, Dimensions: true})
	require.NoError(t, s.Check())
	require.Contains(t, says(viewTexts(s, "frame")), "and 9 more")
	for _, layer := range s.Layers {
		for _, it := range layer.Items {
			for _, c := range it.Outline() {
				for _, p := range c.Flattened(0.01) {
					require.True(t, p.X > 0 && p.X < s.Width && p.Y > 0 && p.Y < s.Height, "%s: %v", layer.Name, p)
				}
			}
		}
	}
}
