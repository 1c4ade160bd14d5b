// Package worked computes the demo, the lessons and short layouts for tests of the
// packages above masks. Only tests import it.
package worked

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/reading"
)

// TestFiles is the folder of lessons and aircraft. It is read here, in the test
// itself, so that the test cache notices when a file changes.
var TestFiles = testFiles()

func testFiles() string {
	up := ".."
	for range 4 {
		if _, err := os.Stat(filepath.Join(up, "testdata", "lessons")); err == nil {
			return filepath.Join(up, "testdata")
		}
		up = filepath.Join(up, "..")
	}
	return "testdata"
}

// Common is what the short layouts of these tests share: units and three paints.
const Common = `
units: in
paint:
  order: [white, blue, red]
  colours: {white: {hex: "#ffffff"}, blue: {hex: "#172035"}, red: {hex: "#9B0A18"}}
`

// LayoutOf resolves a layout given as text; "aircraft: round.yaml" and the other
// aircraft of the test files are found beside it.
func LayoutOf(t testing.TB, text string) *layouts.Layout {
	t.Helper()
	files := fstest.MapFS{"layout.yaml": {Data: []byte(text)}}
	aircraft, err := filepath.Glob(filepath.Join(TestFiles, "aircraft", "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, aircraft)
	for _, name := range aircraft {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		files[filepath.Base(name)] = &fstest.MapFile{Data: data}
	}
	return Resolved(t, files, "layout.yaml")
}

// Resolved reads and resolves a layout.
func Resolved(t testing.TB, files fs.FS, name string) *layouts.Layout {
	t.Helper()
	spec, err := reading.LoadFS(files, name)
	require.NoError(t, err)
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	return l
}

// LaidOf lays a layout given as text, without its findings.
func LaidOf(t testing.TB, text string) []masks.Laid {
	t.Helper()
	return Lay(t, LayoutOf(t, text))
}

// Lay lays a layout.
func Lay(t testing.TB, l *layouts.Layout) []masks.Laid {
	t.Helper()
	laid, missing := LayAll(t, l)
	require.Empty(t, missing)
	return laid
}

// LayAll lays what can be laid, and says what cannot.
func LayAll(t testing.TB, l *layouts.Layout) ([]masks.Laid, []layouts.Finding) {
	t.Helper()
	laid, missing, err := masks.Lay(t.Context(), l, func(p layouts.Placement) (masks.Laid, error) {
		return masks.LayOne(t.Context(), l, p, g.NetTolerance, nil, func(fig layouts.Figure) (masks.Cut, error) {
			return masks.CutOf(l.Spec.Sheets.Units, fig, l.Spec.Paint, l.Spec.Film)
		})
	})
	require.NoError(t, err)
	return laid, missing
}

// Work is a layout with its first two stages computed.
type Work struct {
	Name     string
	Layout   *layouts.Layout
	Laid     []masks.Laid
	Tilings  []masks.Tiling
	Findings []layouts.Finding // of tiling
}

// Worked lays and tiles a layout.
func Worked(t testing.TB, name string, l *layouts.Layout) Work {
	t.Helper()
	laid := Lay(t, l)
	tilings, findings, err := masks.TileEach(t.Context(), laid, func(one masks.Laid) (masks.Tiling, []layouts.Finding, error) { return masks.TileOne(l, one) })
	require.NoError(t, err)
	return Work{name, l, laid, tilings, findings}
}

// computed holds the demo and the lessons once they are computed: several tests
// look at them and none changes them.
var computed []Work

// DemoAndLessons returns the demo first, then every lesson by its name.
func DemoAndLessons(t testing.TB) []Work {
	t.Helper()
	if computed != nil {
		return computed
	}
	all := []Work{Demo(t)}
	lessons, err := filepath.Glob(filepath.Join(TestFiles, "lessons", "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, lessons)
	for _, file := range lessons {
		name := filepath.Base(file)
		all = append(all, Worked(t, strings.TrimSuffix(name, ".yaml"), Resolved(t, os.DirFS(TestFiles), "lessons/"+name)))
	}
	computed = all
	return all
}

// computedDemo holds the demo once it is computed.
var computedDemo *Work

// Demo returns the demo.
func Demo(t testing.TB) Work {
	t.Helper()
	if computedDemo == nil {
		w := DemoWith(t, func(*layouts.Spec) {})
		computedDemo = &w
	}
	return *computedDemo
}

// DemoWith returns the demo with its spec changed.
func DemoWith(t testing.TB, change func(*layouts.Spec)) Work {
	t.Helper()
	spec, err := reading.LoadFS(reading.DemoFiles(), reading.DemoName)
	require.NoError(t, err)
	change(spec)
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	return Worked(t, "demo", l)
}

// Lesson returns the lesson whose name begins with the number.
func Lesson(t testing.TB, number string) Work {
	t.Helper()
	for _, w := range DemoAndLessons(t) {
		if strings.HasPrefix(w.Name, number) {
			return w
		}
	}
	require.FailNow(t, "no lesson "+number)
	return Work{}
}

// Find returns the laid marking of that id.
func Find(t testing.TB, laid []masks.Laid, id string) masks.Laid {
	t.Helper()
	for _, l := range laid {
		if l.ID() == id {
			return l
		}
	}
	require.FailNow(t, "no marking "+id)
	return masks.Laid{}
}

// Rules returns the rule ids of findings of at least one level, in their order.
func Rules(findings []layouts.Finding, levels ...layouts.Level) []string {
	out := []string{}
	for _, f := range findings {
		for _, l := range levels {
			if f.Level == l {
				out = append(out, f.Rule)
			}
		}
	}
	return out
}

// Overlap returns the area that two regions share.
func Overlap(t testing.TB, a, b g.Path) float64 {
	t.Helper()
	p, err := g.Intersect(a, b)
	require.NoError(t, err)
	return p.Area()
}

// Difference returns the area that belongs to one of two regions only.
func Difference(t testing.TB, a, b g.Path) float64 {
	t.Helper()
	o, err := g.Overlaid(a, b)
	require.NoError(t, err)
	p, err := o.Region(func(in []bool) bool { return in[0] != in[1] })
	require.NoError(t, err)
	return p.Area()
}

// Mirrored returns p seen in a mirror: x becomes -x.
func Mirrored(p g.Path) g.Path {
	return p.Map(func(q g.Point) g.Point { return g.Point{X: -q.X, Y: q.Y} })
}

// Points returns points of the outlines of p, each segment cut in n.
func Points(p g.Path, n int) []g.Point {
	var out []g.Point
	for _, c := range p {
		for i := range c.Segments {
			for k := range n {
				out = append(out, c.At(i, float64(k)/float64(n)))
			}
		}
	}
	return out
}

// Chords returns p with its curves cut into chords within 1e-5 in, so that many
// distances from it cost little.
func Chords(p g.Path) g.Path {
	var out g.Path
	for _, c := range p {
		out = append(out, g.Polygon(c.Flattened(1e-5)...))
	}
	return out
}
