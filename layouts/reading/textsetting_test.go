package reading

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"

	"maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts"
)

// slabFigure returns a layout on a plate 1.5 in thick, 200 x 100 in, with a figure.
func slabFigure(figure, rest string) string {
	return `
name: text
units: in
aircraft:
  name: Test slab
  datum: FS 0 is the fore edge; WL 0 is the lower edge
  surfaces:
    - {id: slab, kind: plate, thickness: 1.5, outline: [[0, 0], [200, 0], [200, 100], [0, 100]]}
paint: {order: [black], colours: {black: {hex: "#000000"}}}
evidence: [{id: E-1, class: E3, what: a photograph}]
` + rest + `
markings:
  - {id: code, figure: ` + figure + `, where: {surface: slab, side: both, fs: 100, wl: 50}, colours: {text: black}}
`
}

func resolveText(t testing.TB, text string) (*layouts.Layout, []layouts.Finding) {
	t.Helper()
	spec, err := LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(text)}, "letters.ttf": {Data: gobold.TTF}, "bad.otf": {Data: []byte("nothing")}}, "a.yaml")
	require.NoError(t, err)
	l, findings, err := layouts.Resolve(spec)
	require.NoError(t, err)
	return l, findings
}

func rules(findings []layouts.Finding) []string {
	var out []string
	for _, f := range findings {
		out = append(out, string(f.Level)+" "+f.Rule)
	}
	return out
}

// Every key changes the drawing as it says. On the 6 x 4 grid at 6 in the widths
// of H, gap and space are 4, 1 and 4 in; strokes are 1 in.
func TestTextKeys(t *testing.T) {
	for _, c := range []struct {
		figure        string
		width, height float64

		findings []string
	}{
		{"{text: HHH, alphabet: block-6x4, height: 6}", 14, 6, nil},
		{"{text: HHH, alphabet: block-6x4, height: 6, gap: 2}", 16, 6, nil},
		{"{text: HHH, alphabet: block-6x4, height: 6, fit: 20}", 20, 6, nil},
		{"{text: HHH, alphabet: block-6x4, height: 6, fit: 12.5, least: 0.25}", 12.5, 6, nil},
		{"{text: HHH, alphabet: block-6x4, height: 6, fit: 12, squeeze: yes}", 12, 6, []string{"note squeezed"}},
		{"{block: [HHH, H], alphabet: block-6x4, height: 6, leading: 8}", 14, 14, nil},
		{"{block: [H, HHH], alphabet: block-6x4, height: 6, align: right}", 14, 15, nil},
		{"{text: O4, alphabet: block-6x4, height: 6, islands: tape}", 9, 6, []string{"note islands"}},
		{"{text: O4, alphabet: block-6x4, height: 6, islands: {ties: 1/4}}", 9, 6, []string{"note islands"}},
		{"{text: O4, alphabet: block-6x4, height: 6, islands: {bridges: 1/4, run: level}}", 9, 6, []string{"note islands", "warn bridges-evidence"}},
		{"{text: HH, alphabet: letters.ttf, height: 6}", 0, 6, []string{"note font-licence"}},
	} {
		l, findings := resolveText(t, slabFigure(c.figure, ""))
		require.Len(t, l.Placed, 2, c.figure)
		b := l.Placed[0].Figure.Bounds()
		if c.width > 0 {
			require.InDelta(t, c.width, b.Width(), 1e-9, c.figure)
		}
		require.InDelta(t, c.height, b.Height(), 1e-9, c.figure)
		require.InDelta(t, 0, b.Centre().X, 1e-9, c.figure)
		require.InDelta(t, 0, b.Centre().Y, 1e-9, c.figure)
		require.Equal(t, c.findings, rules(findings), c.figure)
	}
	// two bridges a quarter wide through strokes of 1 in take 0.5 sq in of O
	whole, _ := resolveText(t, slabFigure("{text: O, alphabet: block-6x4, height: 6}", ""))
	cut, _ := resolveText(t, slabFigure("{text: O, alphabet: block-6x4, height: 6, islands: {bridges: 1/4, run: level}}", ""))
	require.InDelta(t, whole.Placed[0].Figure.Layers[0].Outline.Area()-0.5, cut.Placed[0].Figure.Layers[0].Outline.Area(), 1e-9)
	s := cut.Placed[1].Figure.Setting
	require.Equal(t, 1, s.Bridged.Islands)
	require.Equal(t, 0, s.Bridged.Left)
	require.Equal(t, glyphs.IslandsBridges, s.Way)
	arc, _ := resolveText(t, slabFigure("{text: HHH, alphabet: block-6x4, height: 6, arc: {radius: 40, reads: under}}", ""))
	require.Greater(t, arc.Placed[0].Figure.Bounds().Height(), 6.3)
	require.NotNil(t, cut.Spec.Markings[0].Figure.Setting.Islands)
}

// What the loader refuses, and what it says to type.
func TestTextKeyProblems(t *testing.T) {
	for figure, want := range map[string]string{
		"{text: H, alphabet: nowhere.ttf, height: 6}":                                      "cannot read the font nowhere.ttf: there is no such file",
		"{text: H, block: [H], alphabet: block-6x4, height: 6}":                            "a figure is of one kind",
		"{block: [], alphabet: block-6x4, height: 6}":                                      "block is empty",
		"{block: [H], alphabet: block-6x4, height: 6, align: left}":                        "align is for several lines",
		"{block: [H], alphabet: block-6x4, height: 6, leading: 9}":                         "leading is for several lines",
		"{text: H, alphabet: block-6x4, height: 6, align: left}":                           "figure with text has no key align",
		"{text: H, alphabet: block-6x4, height: 6, squeeze: yes}":                          "no fit: is given",
		"{text: H, alphabet: block-6x4, height: 6, least: 1}":                              "no fit: is given",
		"{text: H, alphabet: block-6x4, height: 6, fit: 9, squeeze: often}":                `squeeze is "often", wanted yes, no`,
		"{text: H, alphabet: block-6x4, height: 6, arc: {radius: 0}}":                      "radius is 0 in, must be above 0 in",
		"{text: H, alphabet: block-6x4, height: 6, arc: {radius: 9, reads: up}}":           `reads is "up", wanted over or under`,
		"{block: [H, H], alphabet: block-6x4, height: 6, align: right, arc: {radius: 99}}": "lines along an arc are centred",
		"{text: H, alphabet: block-6x4, height: 6, islands: glue}":                         `islands is "glue", wanted tape`,
		"{text: H, alphabet: block-6x4, height: 6, islands: {run: both}}":                  "wants one of ties and bridges",
		"{text: H, alphabet: block-6x4, height: 6, islands: {ties: 1/4, bridges: 1/4}}":    "wants one of ties and bridges",
		"{text: H, alphabet: block-6x4, height: 6, islands: {ties: 1/32}}":                 "ties is 0.0312 in wide: film narrower than 0.0787 in tears",
	} {
		problems := problemsOf(t, slabFigure(figure, ""))
		require.Contains(t, problems.Error(), want, figure)
		require.NotEmpty(t, problems[0].Hint, figure)
		require.Positive(t, problems[0].Place.Column, figure)
	}
	_, err := LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(slabFigure("{text: H, alphabet: bad.otf, height: 6}", ""))}, "bad.otf": {Data: []byte("nothing")}}, "a.yaml")
	require.ErrorContains(t, err, "no TrueType or OpenType font")
	spec, err := loadText(t, slabFigure("{text: HHH, alphabet: block-6x4, height: 6, fit: 12}", ""))
	require.NoError(t, err)
	require.ErrorContains(t, missing(t, spec), "squeeze: yes")
}

// Data stencils become markings that differ in words and place.
func TestStencils(t *testing.T) {
	l, findings := resolveText(t, slabFigure("{text: H, alphabet: block-6x4, height: 6}", `
stencils:
  figure: {alphabet: block-6x4, height: 1, align: centre, islands: tape}
  where: {surface: slab, side: left, hold: fore}
  colours: {text: black}
  evidence: [E-1]
  list:
    - {id: fuel, block: [FUEL, 18 GAL], where: {fs: 20, wl: 80}}
    - {id: hoist, text: HOIST, height: 1/2 in, where: {fs: 30, wl: 20, side: right}}
`[1:])+"")
	require.Len(t, l.Placed, 4)
	fuel, hoist := l.Placed[2], l.Placed[3]
	require.Equal(t, "fuel-left", fuel.ID())
	require.Equal(t, "hoist-right", hoist.ID())
	require.Equal(t, geometry.Station(20), fuel.Marking.Where.FS)
	require.Equal(t, layouts.HoldFore, hoist.Marking.Where.Hold)
	require.Equal(t, []string{"E-1"}, hoist.Marking.Evidence)
	require.InDelta(t, 2.5, fuel.Figure.Bounds().Height(), 1e-9, "two lines 1 in high, 1.5 in apart")
	require.InDelta(t, 0.5, hoist.Figure.Bounds().Height(), 1e-9)
	require.Equal(t, []string{"note islands", "note islands"}, rules(findings))
	require.Equal(t, 17, fuel.Marking.Place.Line)

	head := "stencils:\n  figure: {alphabet: block-6x4, height: 1}\n  where: {surface: slab}\n  list:\n"
	for item, want := range map[string]string{
		"    - {id: a, text: H}\n":                                  "where has no fs",
		"    - {id: a, text: H, where: {fs: 2, wl: 3}, texts: K}\n": "stencil has no key texts",
		"    - {id: code, text: H, where: {fs: 2, wl: 3}}\n":        `the marking "code" is there twice`,
		"    - {id: a, where: {fs: 2, wl: 3}}\n":                    "figure with alphabet has no text",
		"    - {id: a, text: H, where: {fs: 2, wl: 3, hight: 4}}\n": "where has no key hight",
		"    - none\n": "wanted keys with values",
		"    []\n":     "list is empty",
	} {
		problems := problemsOf(t, slabFigure("{text: H, alphabet: block-6x4, height: 6}", head+item))
		require.Contains(t, problems.Error(), want, item)
	}
}

// A text is met in its written order from nose to tail on the left, from tail to
// nose on the right; one that is handed is mirrored on the right.
func TestReadings(t *testing.T) {
	l, _ := resolveText(t, slabFigure("{text: K4 R, alphabet: block-6x4, height: 6}", ""))
	got := layouts.Readings(l)
	require.Len(t, got, 2)
	require.Equal(t, layouts.TextReading{ID: "code-left", Side: geometry.Left, Text: "K4 R", Along: "from nose to tail", Order: []string{"K4R"}, Right: true}, got[0])
	require.Equal(t, layouts.TextReading{ID: "code-right", Side: geometry.Right, Text: "K4 R", Along: "from tail to nose", Order: []string{"K4R"}, Right: true}, got[1])
	require.Equal(t, "code-right: right side, from tail to nose: K4R; not mirrored", got[1].String())

	for _, figure := range []string{"{block: [K4, R], alphabet: block-6x4, height: 6, islands: {ties: 1/4}}", "{text: K4R, alphabet: block-6x4, height: 6, arc: {radius: 6}}",
		"{text: K4R, alphabet: letters.ttf, height: 6, arc: {radius: 40, reads: under}}"} {
		l, _ = resolveText(t, slabFigure(figure, ""))
		for _, r := range layouts.Readings(l) {
			require.True(t, r.Right, "%s: %v", figure, r)
		}
		l.Spec.Markings[0].Handed = layouts.Handed
		again, _, err := layouts.Resolve(l.Spec)
		require.NoError(t, err)
		wrong := layouts.Readings(again)
		require.True(t, wrong[0].Right)
		require.True(t, wrong[1].Mirrored, figure)
		require.False(t, wrong[1].Right, figure)
		require.Contains(t, wrong[1].String(), "MIRRORED")
		require.NotEqual(t, wrong[0].Order, wrong[1].Order, figure)
	}

	demo, err := LoadFS(DemoFiles(), DemoName)
	require.NoError(t, err)
	placed, _, err := layouts.Resolve(demo)
	require.NoError(t, err)
	all := layouts.Readings(placed)
	require.Len(t, all, 4, "the code on two sides, and two tail numbers")
	for _, r := range all {
		require.True(t, r.Right, r.String())
	}
}
