package job

import (
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/document"
	"maskloft/layouts/reading"
)

// openDemo opens the demo; what is laid is told to laid.
func openDemo(t testing.TB, laid func(id string)) *File {
	t.Helper()
	text, err := fs.ReadFile(reading.DemoFiles(), reading.DemoName)
	require.NoError(t, err)
	say := func(string) func(string) { return func(string) {} }
	f := Open(reading.DemoName, text, reading.InFS(reading.DemoFiles()), say)
	f.kept.computed = func(key string) { laid(key) }
	return f
}

// TestChangeOne: a marking that is moved is laid and surveyed anew, all others are kept;
// the flats of the body are made once for both sides, those of the fin's faces are not kept;
// what comes out is what a new job of the same text computes; taken back, nothing is
// computed at all.
func TestChangeOne(t *testing.T) {
	var mu sync.Mutex
	count := map[string]int{}
	f := openDemo(t, func(kind string) {
		mu.Lock()
		defer mu.Unlock()
		count[kind]++
	})
	ask := func() string {
		j, err := f.Job()
		require.NoError(t, err)
		laid, err := j.Laid(t.Context())
		require.NoError(t, err)
		surveyed, err := j.Surveyed(t.Context())
		require.NoError(t, err)
		tilings, err := j.Tilings(t.Context())
		require.NoError(t, err)
		var b strings.Builder
		for i, l := range laid {
			fmt.Fprintf(&b, "%s %v %s %s %s\n", l.ID(), l.Field, l.Painted, contentOf(surveyed[i]), l.Placement.Marking.Place)
			fmt.Fprintln(&b, tilings[i].Laid.ID(), tilings[i].Laid.Placement.Marking.Place)
		}
		for _, x := range j.Findings() {
			fmt.Fprintln(&b, x)
		}
		return b.String()
	}
	first := ask()
	require.Equal(t, map[string]int{"airframe": 1, "drawn": 3, "cut": 5, "flat": 2, "laid": 6, "surveyed": 6, "tiled": 6}, count)

	change, undo, err := f.Set("markings[insignia].where.fs", "131.5 in")
	require.NoError(t, err)
	require.Equal(t, "131.5 in", change.Insert)
	clear(count)
	moved := ask()
	require.Equal(t, map[string]int{"flat": 1, "laid": 2, "surveyed": 2, "tiled": 2}, count)
	require.NotEqual(t, first, moved)
	fresh := Open(f.Name, f.Text(), reading.InFS(reading.DemoFiles()), nil)
	f.kept, fresh.kept = fresh.kept, f.kept
	f.job = nil
	require.Equal(t, moved, ask(), "kept or computed, the same")
	f.kept, f.job = fresh.kept, nil

	require.NoError(t, f.Apply(undo))
	clear(count)
	require.Equal(t, first, ask())
	require.Empty(t, count)

	// a comment above all markings moves their lines: nothing is computed, places are new
	require.NoError(t, f.Apply(document.Splice{Insert: "# mine\n"}))
	below := ask()
	require.Empty(t, count)
	require.NotEqual(t, first, below)

	// a mistake in between keeps what was computed
	_, undo, err = f.Set("markings[insignia].where.fs", "far")
	require.NoError(t, err)
	_, err = f.Job()
	require.ErrorContains(t, err, "far")
	require.NoError(t, f.Apply(undo))
	require.Equal(t, below, ask())
	require.Empty(t, count)
	require.Error(t, f.Apply(document.Splice{From: 1e6, To: 1e6}))
}

// TestPreview: the outline of a preview lies within its tolerance of the exact film, on
// the skin.
func TestPreview(t *testing.T) {
	f := openDemo(t, func(string) {})
	j, err := f.Job()
	require.NoError(t, err)
	laid, err := j.Laid(t.Context())
	require.NoError(t, err)
	seen := 0
	for _, l := range laid {
		outlines, err := j.Preview(t.Context(), l.Placement.Marking.ID)
		require.NoError(t, err)
		for _, o := range outlines {
			if o.ID != l.ID() {
				continue
			}
			for k, line := range o.Lines {
				// the same line of the drawing, by the exact map: it is the drawing where lengths are true along the skin
				c := l.Placement.Figure.Layers[indexOf(l.Placement.Figure.Layers, o)].Outline[k]
				exact := OnSkin(l.Map, c.Flattened(0.001), 0.001)
				for _, p := range line {
					assert.Less(t, offLine(p, exact), PreviewTolerance, "%s %v", l.ID(), p)
					seen++
				}
				for _, p := range exact { // its chords follow the skin
					assert.Less(t, offLine(p, line), PreviewTolerance+0.001, "%s %v", l.ID(), p)
				}
			}
		}
	}
	require.Greater(t, seen, 200)
	none, err := j.Preview(t.Context(), "nothing")
	require.NoError(t, err)
	require.Empty(t, none)
}

// offLine is the distance of a point from a closed line.
func offLine(p g.Position, line []g.Position) float64 {
	least := math.Inf(1)
	for i, a := range line {
		b := line[(i+1)%len(line)]
		d, q := b.Vec().Sub(a.Vec()), p.Vec().Sub(a.Vec())
		s := 0.0
		if n := d.Dot(d); n > 0 {
			s = math.Max(0, math.Min(1, q.Dot(d)/n))
		}
		least = math.Min(least, q.Sub(d.Scale(s)).Norm())
	}
	return least
}

// indexOf finds the layer of an outline; the paints of a figure differ.
func indexOf(layers []layouts.Layer, o Outline) int {
	return slices.IndexFunc(layers, func(l layouts.Layer) bool { return l.Colour == o.Paint && len(l.Outline) == len(o.Lines) })
}
