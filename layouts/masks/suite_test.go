package masks

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"maskloft/layouts/reading"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// testFiles is the folder of lessons and aircraft. It is read here, in the test
// itself, so that the test cache notices when a file changes.
var testFiles = filepath.Join("..", "..", "testdata")

// common is what the short layouts of these tests share: units and three paints.
const common = `
units: in
paint:
  order: [white, blue, red]
  colours: {white: {hex: "#ffffff"}, blue: {hex: "#172035"}, red: {hex: "#9B0A18"}}
`

// layoutOf resolves a layout given as text; "aircraft: round.yaml" and the other
// aircraft of the test files are found beside it.
func layoutOf(t testing.TB, text string) *layouts.Layout {
	t.Helper()
	files := fstest.MapFS{"layout.yaml": {Data: []byte(text)}}
	aircraft, err := filepath.Glob(filepath.Join(testFiles, "aircraft", "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, aircraft)
	for _, name := range aircraft {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		files[filepath.Base(name)] = &fstest.MapFile{Data: data}
	}
	return resolved(t, files, "layout.yaml")
}

func resolved(t testing.TB, files fs.FS, name string) *layouts.Layout {
	t.Helper()
	spec, err := reading.LoadFS(files, name)
	require.NoError(t, err)
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	return l
}

// laidOf lays a layout given as text, without its findings.
func laidOf(t testing.TB, text string) []Laid {
	t.Helper()
	laid, _ := lay(t, layoutOf(t, text))
	return laid
}

// layAll lays what can be laid, and says what cannot.
func layAll(t testing.TB, l *layouts.Layout, tolerance float64) ([]Laid, []layouts.Finding) {
	t.Helper()
	laid, missing, err := Lay(t.Context(), l, func(p layouts.Placement) (Laid, error) {
		return LayOne(t.Context(), l, p, tolerance, nil, func(fig layouts.Figure) (Cut, error) {
			return CutOf(l.Spec.Sheets.Units, fig, l.Spec.Paint, l.Spec.Film)
		})
	})
	require.NoError(t, err)
	return laid, missing
}

// tileAll divides what can be divided.
func tileAll(t testing.TB, l *layouts.Layout, laid []Laid) ([]Tiling, []layouts.Finding) {
	t.Helper()
	tilings, findings, err := TileEach(t.Context(), laid, func(one Laid) (Tiling, []layouts.Finding, error) { return TileOne(l, one) })
	require.NoError(t, err)
	return tilings, findings
}

func lay(t testing.TB, l *layouts.Layout) ([]Laid, []layouts.Finding) {
	t.Helper()
	laid, _ := layAll(t, l, g.NetTolerance)
	var findings []layouts.Finding
	for _, one := range laid {
		if f, strained := Strained(one); strained {
			findings = append(findings, f)
		}
		findings = append(findings, SmallFeatures(one)...)
	}
	return laid, findings
}

// work is a layout with its first two stages computed.
type work struct {
	name     string
	layout   *layouts.Layout
	laid     []Laid
	tilings  []Tiling
	findings []layouts.Finding
}

func worked(t testing.TB, name string, l *layouts.Layout) work {
	t.Helper()
	laid, findings := lay(t, l)
	tilings, more := tileAll(t, l, laid)
	return work{name, l, laid, tilings, append(findings, more...)}
}

// computed holds the demo and the lessons once they are computed: several tests
// look at them and none changes them.
var computed []work

// demoAndLessons returns the demo first, then every lesson by its name.
func demoAndLessons(t testing.TB) []work {
	t.Helper()
	if computed != nil {
		return computed
	}
	all := []work{worked(t, "demo", resolved(t, reading.DemoFiles(), reading.DemoName))}
	lessons, err := filepath.Glob(filepath.Join(testFiles, "lessons", "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, lessons)
	for _, file := range lessons {
		name := filepath.Base(file)
		all = append(all, worked(t, strings.TrimSuffix(name, ".yaml"), resolved(t, os.DirFS(testFiles), "lessons/"+name)))
	}
	computed = all
	return all
}

// demo returns the demo.
func demo(t testing.TB) work { t.Helper(); return demoAndLessons(t)[0] }

// lesson returns the lesson whose name begins with the number.
func lesson(t testing.TB, number string) work {
	t.Helper()
	for _, w := range demoAndLessons(t) {
		if strings.HasPrefix(w.name, number) {
			return w
		}
	}
	require.FailNow(t, "no lesson "+number)
	return work{}
}

// find returns the laid marking of that id.
func find(t testing.TB, laid []Laid, id string) Laid {
	t.Helper()
	for _, l := range laid {
		if l.ID() == id {
			return l
		}
	}
	require.FailNow(t, "no marking "+id)
	return Laid{}
}

// rules returns the rule ids of findings of at least one level, in their order.
func rules(findings []layouts.Finding, levels ...layouts.Level) []string {
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

// overlap returns the area that two regions share.
func overlap(t testing.TB, a, b g.Path) float64 {
	t.Helper()
	p, err := g.Intersect(a, b)
	require.NoError(t, err)
	return p.Area()
}

// either returns the region that belongs to one of two regions only.
func either(a, b g.Path) (g.Path, error) {
	o, err := g.Overlaid(a, b)
	if err != nil {
		return nil, err
	}
	return o.Region(func(in []bool) bool { return in[0] != in[1] })
}

// difference returns the area that belongs to one of two regions only.
func difference(t testing.TB, a, b g.Path) float64 {
	t.Helper()
	p, err := either(a, b)
	require.NoError(t, err)
	return p.Area()
}

// mirrored returns p seen in a mirror: x becomes -x.
func mirrored(p g.Path) g.Path {
	return p.Map(func(q g.Point) g.Point { return g.Point{X: -q.X, Y: q.Y} })
}

// points returns points of the outlines of p, each segment cut in n.
func points(p g.Path, n int) []g.Point {
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

// chords returns p with its curves cut into chords within 1e-5 in, so that many
// distances from it cost little.
func chords(p g.Path) g.Path {
	var out g.Path
	for _, c := range p {
		out = append(out, g.Polygon(c.Flattened(1e-5)...))
	}
	return out
}
