package taping

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts/worked"
)

// On a slab a tape is a straight line: it is refused exactly where that line runs
// through the slot or over the solid part by more than 1/16 in (by the distance of a
// point from a line, worked out here), and the hardpoint within the slot always. An
// obstacle of one side stops tapes of that side alone.
func TestTapesStop(t *testing.T) {
	const bolt = "solid: 1"
	obstacles := `  obstacles:
    - {id: slot, kind: opening, surface: slab, side: left, points: [[10, 10], [30, 10], [30, 14], [10, 14]]}
    - {id: post, kind: spot, surface: slab, side: both, fs: 80, wl: 30, size: 6, ` + bolt + `}
    - {id: cap, kind: spot, surface: slab, side: both, fs: 50, wl: 50, size: 6}
`
	hardpoints := []string{
		"side: both, fs: 1, bl: 0.5, wl: 1", "side: both, fs: 20, bl: 0.5, wl: 12", "side: both, fs: 119, bl: 0.5, wl: 35", "side: both, fs: 50, bl: 0.5, wl: 58",
	}
	text := strings.Replace(slabWith(hardpoints...), "\nmarkings:", "\n"+obstacles+"\nmarkings:", 1)
	w := worked.Worked(t, "slab", worked.LayoutOf(t, text))
	refused, taken := 0, 0
	for _, c := range checklist(t, w) {
		why := map[string]string{}
		for _, r := range c.Refused {
			why[r.From.ID] = r.Why
		}
		left := strings.HasSuffix(c.Marking, "left")
		at := g.Point{X: c.Mark.Skin.FS.Inches(), Y: c.Mark.Skin.WL.Inches()}
		for _, h := range w.Layout.Spec.Aircraft.Hardpoints {
			from := g.Point{X: h.FS.Inches(), Y: h.At.WL.Inches()}
			deepest := func(in func(q g.Point) float64) float64 { // along the line, in inches
				d := -100.0
				for k := range 2001 {
					d = max(d, in(from.Lerp(at, float64(k)/2000)))
				}
				return d
			}
			slot := deepest(func(q g.Point) float64 { return min(q.X-10, 30-q.X, q.Y-10, 14-q.Y) })
			post := deepest(func(q g.Point) float64 { return 3 - q.Dist(g.Point{X: 80, Y: 30}) })
			if d := slot - 1.0/16; left && d > -0.05 && d < 0.05 {
				continue
			}
			if d := post - 1.0/16; d > -0.05 && d < 0.05 {
				continue
			}
			word := ""
			switch {
			case left && h.ID == "P2":
				word = "P2 stands within the slot"
			case left && slot > 1.0/16:
				word = "through the slot"
			case post > 1.0/16:
				word = "through the post"
			}
			if word == "" {
				require.NotContains(t, why, h.ID, "%s %s", c.ID, why[h.ID])
				taken++
				continue
			}
			require.Contains(t, why[h.ID], word, "%s from %s", c.ID, h.ID)
			refused++
		}
	}
	require.Greater(t, refused, 10)
	require.Greater(t, taken, 40)
}

// No tape of the demo runs through its tailplane slot, which an outline of the side view
// tells: those that did run on the list of what is refused.
func TestDemoTapesClearTheSlot(t *testing.T) {
	w := worked.Demo(t)
	told := 0
	for _, c := range checklist(t, w) {
		for _, r := range c.Refused {
			if strings.Contains(r.Why, "tailplane slot") {
				told++
			}
		}
		used := c.Tapes
		if c.Closure != nil {
			used = append(used[:len(used):len(used)], *c.Closure)
		}
		for _, x := range used {
			if x.Kind != OnSkin {
				continue
			}
			for i := 1; i < len(x.Path); i++ {
				for k := range 21 {
					a, b := x.Path[i-1], x.Path[i]
					f := float64(k) / 20
					q := g.Point{X: a.FS.Inches() + f*float64(b.FS-a.FS), Y: a.WL.Inches() + f*float64(b.WL-a.WL)}
					require.False(t, q.X > 214.2 && q.X < 239.8 && q.Y > 58.7 && q.Y < 61.3, "%s from %s", c.ID, x.From.ID)
				}
			}
		}
	}
	require.Greater(t, told, 20)
}
