package reading

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"maskloft/layouts"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// withBody returns the layout of one marking on a body given by its keys.
func withBody(body string, files fstest.MapFS) (*layouts.Layout, []layouts.Finding, error) {
	var b strings.Builder
	b.WriteString("name: t\nunits: in\naircraft:\n  name: a\n  datum: FS 0 fore, WL 0 axis\n  surfaces:\n    - id: body\n")
	for _, line := range strings.Split(strings.TrimSpace(body), "\n") {
		b.WriteString("      " + line + "\n")
	}
	b.WriteString(`markings:
  - id: m
    figure: {text: A, alphabet: block-6x4, height: 2}
    where: {surface: body, side: left, fs: 50, wl: 5}
    colours: {text: black}
paint: {order: [black], colours: {black: {name: black, hex: "#000000"}}}
`)
	all := fstest.MapFS{"a.yaml": {Data: []byte(b.String())}}
	for name, f := range files {
		all[name] = f
	}
	spec, err := LoadFS(all, "a.yaml")
	if err != nil {
		return nil, nil, err
	}
	return layouts.Resolve(spec)
}

// Bodies that are the same cylinder of radius 30, given in different ways, put a
// point of WL 5 at BL -sqrt(900 - 25), and a girth of 30 asin(1/6) above the axis.
func TestOneCylinderManyWays(t *testing.T) {
	polyline := "points: ["
	for i := 0; i <= 180; i++ {
		s, c := math.Sincos(math.Pi * float64(i) / 180)
		polyline += fmt.Sprintf("[%.9f, %.9f], ", math.Abs(30*s), 30*c)
	}
	polyline = strings.TrimSuffix(polyline, ", ") + "]"
	for name, c := range map[string]struct {
		body string
		tol  float64
	}{
		"round":        {"kind: round\nsections: [{fs: 0, radius: 30, wl: 0}, {fs: 100, radius: 30, wl: 0}]", 1e-7},
		"circle":       {"kind: faired\nalong: ruled\nsections: [{fs: 0, circle: {radius: 30, wl: 0}}, {fs: 100, circle: {radius: 30, wl: 0}}]", 1e-7},
		"ellipse":      {"kind: faired\nalong: natural\nsections: [{fs: 0, ellipse: {half-breadth: 30, half-height: 30, wl: 0}}, {fs: 40, ellipse: {half-breadth: 30, half-height: 30, wl: 0}}, {fs: 100, ellipse: {half-breadth: 30, half-height: 30, wl: 0}}]", 1e-6},
		"superellipse": {"kind: faired\nalong: monotone\nsections: [{fs: 0, superellipse: {half-breadth: 30, half-height: 30, wl: 0, exponent: 2}}, {fs: 40, superellipse: {half-breadth: 30, half-height: 30, wl: 0, exponent: 2}}, {fs: 100, superellipse: {half-breadth: 30, half-height: 30, wl: 0, exponent: 2}}]", 1e-6},
		"points":       {"kind: faired\nalong: ruled\nsections: [{fs: 0, " + polyline + "}, {fs: 100, " + polyline + "}]", 0.006},
	} {
		t.Run(name, func(t *testing.T) {
			l, _, err := withBody(c.body, nil)
			require.NoError(t, err)
			p := l.Placed[0]
			require.InDelta(t, -math.Sqrt(875), p.Anchor.BL.Inches(), c.tol)
			beam, err := skin.LocateSide(p.Surface, g.Left, g.SidePosition{FS: 50, WL: 0})
			require.NoError(t, err)
			require.InDelta(t, 30*math.Asin(1.0/6), float64(skin.Girth(p.Surface, 50, beam.V, p.Frame.At.V)), c.tol)
		})
	}
}

func TestBodyMistakes(t *testing.T) {
	for _, c := range []struct{ body, want string }{
		{"kind: faired\nsections: [{fs: 0, circle: {radius: 30, wl: 0}}, {fs: 100, circle: {radius: 30, wl: 0}}]", "has no along"},
		{"kind: faired\nalong: wavy\nsections: [{fs: 0, circle: {radius: 30, wl: 0}}, {fs: 100, circle: {radius: 30, wl: 0}}]", "ruled"},
		{"kind: faired\nalong: ruled\nsections: [{fs: 0}, {fs: 100, circle: {radius: 30, wl: 0}}]", "the section has no shape"},
		{"kind: faired\nalong: ruled\nsections: [{fs: 0, circle: {radius: 30, wl: 0}, points: [[0, 1], [1, 0]]}, {fs: 100, circle: {radius: 30, wl: 0}}]", "is both circle and points"},
		{"kind: faired\nalong: ruled\nsections: [{fs: 0, circle: {radius: 30}}, {fs: 100, circle: {radius: 30, wl: 0}}]", "has no wl"},
		{"kind: faired\nalong: ruled\nsections: [{fs: 0, superellipse: {half-breadth: 3, half-height: 3, wl: 0, exponent: 0.5}}, {fs: 100, circle: {radius: 30, wl: 0}}]", "not a number from 1 to 100"},
		{"kind: faired\nalong: ruled\nbreaks: [50]\nsections: [{fs: 0, circle: {radius: 30, wl: 0}}, {fs: 100, circle: {radius: 30, wl: 0}}]", "no section stands at the break frame FS 50 in"},
		{"kind: faired\nalong: ruled\nsections: [{fs: 0, rounded: {half-breadth: 5, top: 4, bottom: -4, radius: 6}}, {fs: 100, rounded: {half-breadth: 5, top: 4, bottom: -4, radius: 2}}]", "FS 0"},
		{"kind: faired\nalong: ruled\nsections: [{fs: 0, spline: {points: [[0, 4], [4, 0], [0, -4]], corners: [7]}}, {fs: 100, spline: {points: [[0, 4], [4, 0], [0, -4]]}}]", "corner 7 is not the number of one of the 3 points"},
		{"kind: scan\nfile: none.stl\nunits: mm\npoints: [{name: a, scan: [0, 0, 0], fs: 0, bl: 0, wl: 0}]", "cannot read the scan none.stl: there is no such file"},
		{"kind: scan\nfile: none.stl\nunits: mm\npoints: [{name: a, scan: [0, 0], fs: 0, bl: 0, wl: 0}]", "scan holds 2 numbers, wanted 3"},
		{"kind: scan\nfile: none.stl\nunits: mm\npoints: [{name: a, scan: [0, x, 0], fs: 0, bl: 0, wl: 0}]", "\"x\" is not a number"},
	} {
		_, _, err := withBody(c.body, nil)
		require.ErrorContains(t, err, c.want, c.body)
	}
}

// A cylinder of radius 30 scanned in millimetres in other axes, as an STL file:
// brought back, it is the cylinder, and the findings say how well.
func TestScannedBody(t *testing.T) {
	const n, r = 120, 30 * 25.4
	// scan axes: aircraft x is scan z, y is x, z is y, moved by 1000 mm along x
	to := func(x, y, z float64) string {
		return fmt.Sprintf("vertex %.5f %.5f %.5f\n", 1000+y, z, x)
	}
	var stl strings.Builder
	stl.WriteString("solid body\n")
	ring := func(i, j int) string {
		s, c := math.Sincos(2 * math.Pi * float64(j) / n)
		return to(float64(i)*2*25.4, r*s, r*c)
	}
	for i := 0; i < 50; i++ {
		for j := 0; j < n; j++ {
			for _, tri := range [2][3][2]int{{{0, 0}, {1, 0}, {1, 1}}, {{0, 0}, {1, 1}, {0, 1}}} {
				stl.WriteString("facet normal 0 0 0\nouter loop\n")
				for _, v := range tri {
					stl.WriteString(ring(i+v[0], j+v[1]))
				}
				stl.WriteString("endloop\nendfacet\n")
			}
		}
	}
	stl.WriteString("endsolid body\n")
	body := `kind: scan
file: body.stl
units: mm
points:
  - {name: crown fore, scan: [1000, 762, 0], fs: 0, bl: 0, wl: 30}
  - {name: crown aft, scan: [1000, 762, 2540], fs: 100, bl: 0, wl: 30}
  - {name: right fore, scan: [1762, 0, 0], fs: 0, bl: 30, wl: 0}
  - {name: left aft, scan: [238, 0, 2540], fs: 100, bl: -30, wl: 0}`
	l, findings, err := withBody(body, fstest.MapFS{"body.stl": {Data: []byte(stl.String())}})
	require.NoError(t, err)
	require.InDelta(t, -math.Sqrt(875), l.Placed[0].Anchor.BL.Inches(), 0.01)
	rules := map[string]layouts.Level{}
	for _, f := range findings {
		rules[f.Rule] = f.Level
	}
	require.Equal(t, layouts.Note, rules["scan-fit"])
	require.Equal(t, layouts.Note, rules["scan-smooth"])
	require.Contains(t, rules, "scan-mesh")

	// a point 2 in off is told
	_, findings, err = withBody(strings.Replace(body, "fs: 100, bl: -30, wl: 0", "fs: 100, bl: -30, wl: 2", 1), fstest.MapFS{"body.stl": {Data: []byte(stl.String())}})
	require.NoError(t, err)
	for _, f := range findings {
		if f.Rule == "scan-fit" {
			require.Equal(t, layouts.Stop, f.Level, f.Message)
			require.NotContains(t, f.Message, "mirror")
		}
	}

	// left for right, and faces that look inwards
	swapped := strings.NewReplacer("bl: 30", "bl: -30", "bl: -30", "bl: 30").Replace(body)
	inward := turnedOver(stl.String())
	for _, c := range []struct {
		body, stl string
		want      map[string]string // stops by rule, with a word of each
	}{
		{body, stl.String(), map[string]string{}},
		{swapped, stl.String(), map[string]string{"scan-fit": "its mirror image fits to 0.000 in"}},
		{body, inward, map[string]string{"scan-inside-out": "12000 of 12000 triangles of the scan face inwards"}},
	} {
		_, findings, err = withBody(c.body, fstest.MapFS{"body.stl": {Data: []byte(c.stl)}})
		require.NoError(t, err)
		stops := 0
		for _, f := range findings {
			if f.Level == layouts.Stop {
				stops++
				require.Contains(t, c.want, f.Rule)
				require.Contains(t, f.Message, c.want[f.Rule])
			}
		}
		require.Equal(t, len(c.want), stops)
	}
}

// turnedOver returns an STL file in text with the first two corners of each triangle
// exchanged.
func turnedOver(stl string) string {
	lines := strings.Split(stl, "\n")
	for i, l := range lines {
		if l == "outer loop" {
			lines[i+1], lines[i+2] = lines[i+2], lines[i+1]
		}
	}
	return strings.Join(lines, "\n")
}

// A fin of NACA 0012, chord 40: its half thickness at 30 % of the chord is 6.002 %
// of it (Abbott and von Doenhoff, appendix I; from memory): 2.40 in.
func TestFoil(t *testing.T) {
	body := "kind: foil\nleading: [[30, 0], [30, 40]]\ntrailing: [[70, 0], [70, 40]]\nnaca: 0012"
	l, _, err := withBody(body, nil)
	require.NoError(t, err)
	s, err := l.Airframe.Surface([]string{"body"}, g.Right)
	require.NoError(t, err)
	uv, err := skin.LocateSide(s, g.Right, g.SidePosition{FS: 42, WL: 20})
	require.NoError(t, err)
	require.InDelta(t, 0.06002*40, skin.PointAt(s, uv).Y, 0.001)
	require.Negative(t, l.Placed[0].Anchor.BL.Inches())
	for _, c := range []struct{ from, to, want string }{
		{"naca: 0012", "naca: 12", "four digits"},
		{"naca: 0012", "", "a foil has one section"},
		{"naca: 0012", "ordinates: [[0, 0, 0], [0.5, 0.06]]", "the line holds 2 numbers"},
		{"naca: 0012", "ordinates: [[0, 0, 0], [50, 6, -6], [100, 0, 0]]", "from nose to trailing edge"},
		{"[[30, 0], [30, 40]]", "[[30, 0]]", "leading has 1 point"},
		{"[[30, 0], [30, 40]]", "[[80, 0], [80, 40]]", "ahead"},
	} {
		_, _, err := withBody(strings.Replace(body, c.from, c.to, 1), nil)
		require.ErrorContains(t, err, c.want, c.to)
	}
}

// A wing of constant chord 60, NACA 0012, no incidence, dihedral d: the upper face at
// 30 % of the chord stands 6.002 % of the chord above the chord line, which rises
// with tan d. Up is forward; right is to starboard from above, to port from below.
func TestWing(t *testing.T) {
	text := `
name: t
units: in
aircraft:
  name: a
  datum: FS 0 fore, WL 0 axis
  surfaces:
    - {id: wing, kind: wing, leading: [[20, 0], [20, 200]], trailing: [[80, 0], [80, 200]], wl: 30, dihedral: 2 deg, naca: "0012", ribs: [50]}
markings:
  - id: m
    figure: {text: R, alphabet: block-6x4, height: 12}
    where: {surface: wing, face: FACE, side: both, fs: 38, bl: 100}
    colours: {text: black}
paint: {order: [black], colours: {black: {name: black, hex: "#000000"}}}
`
	for face, sign := range map[string]float64{"upper": 1, "lower": -1} {
		spec, err := LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(strings.Replace(text, "FACE", face, 1))}}, "a.yaml")
		require.NoError(t, err)
		l, _, err := layouts.Resolve(spec)
		require.NoError(t, err)
		require.Len(t, l.Placed, 2)
		for _, p := range l.Placed {
			require.InDelta(t, 38, p.Anchor.FS.Inches(), 1e-9)
			require.InDelta(t, 100*p.Side.Sign(), p.Anchor.BL.Inches(), 1e-9)
			require.InDelta(t, 30+100*math.Tan(2*math.Pi/180)+sign*0.06002*60, p.Anchor.WL.Inches(), 0.002)
			_, n := p.Surface.At(p.Frame.At, p.Frame.At)
			require.Greater(t, n.Z*sign, 0.9)
			require.Less(t, p.Frame.Up.X, -0.9, "up is forward")
			require.Greater(t, p.Frame.Up.Cross(n).Y*sign, 0.9, "right is to starboard from above, to port from below")
		}
	}
	for _, c := range []struct{ from, to, want string }{
		{"bl: 100", "bl: 250", "BL"},
		{"bl: 100", "wl: 100", "did you mean bl"},
		{"face: FACE, ", "", "has no face"},
		{"face: FACE", "face: under", "upper"},
		{"    colours: {text", "    true: side\n    colours: {text", "not seen from the side"},
		{"wl: 30, ", "", "has no wl"},
	} {
		bad := strings.Replace(strings.Replace(text, c.from, c.to, 1), "FACE", "upper", 1)
		spec, err := LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(bad)}}, "a.yaml")
		if err == nil {
			err = missing(t, spec)
		}
		require.ErrorContains(t, err, c.want, c.to)
	}
}
