package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/samples"
	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// page is an SVG of 10 x 10 in whose user units are inches, y down.
func page(body string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" width="10in" height="10in" viewBox="0 0 10 10">` + body + `</svg>`
}

func readPage(t testing.TB, body string) g.Path {
	t.Helper()
	d, err := ReadSVG(strings.NewReader(page(body)))
	require.NoError(t, err)
	var p g.Path
	for _, l := range d.Layers {
		p = append(p, l.Path()...)
	}
	return p
}

// Path data in every spelling, against absolute M, L, C and Z with y up.
func TestReadSVGPathData(t *testing.T) {
	for data, want := range map[string]string{
		"M1 9 L2 9 2 8Z":            "M1 1L2 1L2 2Z",
		"m1,9 1,0 0-1z":             "M1 1L2 1L2 2Z",
		"M1 9H2V8H1Z":               "M1 1L2 1L2 2L1 2Z",
		"M1 9h1v-1h-1z":             "M1 1L2 1L2 2L1 2Z",
		"M1 9L2 9zL1 8":             "M1 1L2 1ZM1 1L1 2",
		"M1 9L2 9zm1-1 1 0":         "M1 1L2 1ZM2 2L3 2",
		"M1 9C1 8 2 8 2 9S3 10 3 9": "M1 1C1 2 2 2 2 1C2 0 3 0 3 1",
		"M1 9c0-1 1-1 1 0s1 1 1 0":  "M1 1C1 2 2 2 2 1C2 0 3 0 3 1",
		"M1 9S2 8 3 9":              "M1 1C1 1 2 2 3 1",
		"M1 9Q2.5 6 4 9T7 9":        "M1 1C2 3 3 3 4 1C5 -1 6 -1 7 1",
		"M1 9q1.5-3 3 0t3 0":        "M1 1C2 3 3 3 4 1C5 -1 6 -1 7 1",
		"M1 9T2 9":                  "M1 1C1 1 1.333333 1 2 1",
		"M.5.5.75.5":                "M0.5 9.5L0.75 9.5",
		"M1e0 9E0L20e-1+9":          "M1 1L2 1",
		"M1 9A0 1 0 0 1 2 9":        "M1 1L2 1",
		"M1 9A1 1 0 0 1 1 9L2 9":    "M1 1L2 1",
		"M5 5M1 9L2 9":              "M1 1L2 1",
		" ":                         "",
		"M1 9L2 9L1 9z":             "M1 1L2 1Z",
		"M 1 9\n\tL 2 , 9":          "M1 1L2 1",
	} {
		require.Equal(t, want, readPage(t, `<path d="`+data+`"/>`).String(), data)
	}
}

func TestReadSVGPathDataErrors(t *testing.T) {
	for data, want := range map[string]string{
		"L1 1":               "begins with",
		"M1":                 "a number is missing",
		"M1 1 X":             "unknown",
		"M1 1 L":             "a number is missing",
		"M1 1 2 2 z 3 3":     "a command is missing",
		"M1 1A1 1 0 2 0 2 2": "flag",
		"M1 1L1e999 2":       "number",
		"5 5":                "a command is missing",
		"M1 1L1e300 2":       "beyond what can be measured",
		"M1 1L2 2,,3 3":      "a number is missing",
	} {
		_, err := ReadSVG(strings.NewReader(page(`<path id="p7" d="` + data + `"/>`)))
		require.ErrorContains(t, err, want, data)
		require.ErrorContains(t, err, `path "p7"`, data)
	}
}

// Every point of an arc lies on its ellipse within 4.2e-6 of the longer half
// axis, for all flags, turns and radii; it goes the right way round, and its
// length says that it took the long or the short way.
func TestReadSVGArcs(t *testing.T) {
	for _, c := range []struct{ rx, ry, turn float64 }{{2, 2, 0}, {3, 1.5, 0}, {3, 1.5, 30}, {1.5, 4, -75}} {
		for flags := 0; flags < 4; flags++ {
			large, sweep := flags&1 == 1, flags&2 == 2
			// Two points of an ellipse about (5, 5), in the file's frame.
			sin, cos := math.Sincos(c.turn * math.Pi / 180)
			on := func(a float64) (x, y float64) {
				u, v := c.rx*math.Cos(a), c.ry*math.Sin(a)
				return 5 + cos*u - sin*v, 5 + sin*u + cos*v
			}
			// Angle grows with the sweep flag in a frame whose y runs down.
			a0, da := 0.3, 1.1
			if large {
				da = 2*math.Pi - 1.1
			}
			if !sweep {
				da = -da
			}
			x0, y0 := on(a0)
			x1, y1 := on(a0 + da)
			p := readPage(t, fmt.Sprintf(`<path d="M%.12f %.12fA%g %g %g %d %d %.12f %.12f"/>`, x0, y0, c.rx, c.ry, c.turn, flags&1, flags>>1, x1, y1))
			require.Len(t, p, 1)
			require.Equal(t, int(math.Ceil(math.Abs(da)/(math.Pi/4))), len(p[0].Segments))
			worst, steps := 0.0, 0
			for i := range p[0].Segments {
				for k := 0; k <= 16; k++ {
					q := p[0].At(i, float64(k)/16)
					x, y := q.X-5, (10-q.Y)-5
					u, v := (cos*x+sin*y)/c.rx, (-sin*x+cos*y)/c.ry
					worst = math.Max(worst, math.Abs(math.Hypot(u, v)-1))
					steps++
				}
			}
			require.Less(t, worst, 4.3e-6)
			mx, my := on(a0 + da/2)
			require.Less(t, p.Distance(g.Point{X: mx, Y: 10 - my}, 1e-5), 1e-4, "the middle of the arc that was asked for")
			require.Greater(t, steps, 0)
		}
	}
}

// Radii too small grow until the ellipse reaches (appendix F.6.6): half a circle.
func TestReadSVGArcTooSmall(t *testing.T) {
	p := readPage(t, `<path d="M3 5A.1.1 0 01 7 5"/>`)
	require.InDelta(t, 2*math.Pi, p[0].Length(), 1e-4)
	require.Less(t, p.Distance(g.Point{X: 5, Y: 7}, 1e-6), 1e-5, "sweep 1 runs over the top, y up")
}

func TestReadSVGShapes(t *testing.T) {
	for body, want := range map[string]string{
		`<line x1="1" y1="9" x2="2" y2="8"/>`:                                          "M1 1L2 2",
		`<polyline points="1,9 2,9 2,8"/>`:                                             "M1 1L2 1L2 2",
		`<polygon points="1,9 2,9 2,8"/>`:                                              "M1 1L2 1L2 2Z",
		`<rect x="1" y="8" width="2" height="1"/>`:                                     "M1 2L3 2L3 1L1 1Z",
		`<rect x="1" y="8" width="0" height="1"/>`:                                     "",
		`<circle cx="5" cy="5" r="0"/>`:                                                "",
		`<rect y="9" width="0.25in" height="1"/>`:                                      "M0 1L24 1L24 0L0 0Z",
		`<defs><path d="M1 1L2 2"/></defs>`:                                            "",
		`<g display="none"><path d="M1 1L2 2"/></g>`:                                   "",
		`<g style="display : none"><path d="M1 1L2 2"/></g>`:                           "",
		`<path style="fill:none;stroke-width:2" d="M1 9L2 9"/>`:                        "M1 1L2 1",
		`<x:thing xmlns:x="urn:x"><path d="M1 1L2 2"/></x:thing>`:                      "",
		`<style>.a{fill:none;stroke-width:3px}</style><path class="a" d="M1 9L2 9"/>`:  "M1 1L2 1",
		`<path transform="translate(1)" d="M1 9L2 9"/>`:                                "M2 1L3 1",
		`<g transform="translate(1,-1)"><path transform="scale(2)" d="M1 4L2 4"/></g>`: "M3 3L5 3",
		`<path transform="translate(1,-1),scale(2 1)" d="M1 4L2 4"/>`:                  "M3 7L5 7",
		`<path transform="matrix(0 1 -1 0 10 0)" d="M1 4L2 4"/>`:                       "M6 9L6 8",
		`<path transform="rotate(90)" d="M1 -4L2 -4"/>`:                                "M4 9L4 8",
		`<path transform="rotate(90 5 5)" d="M5 5L6 5"/>`:                              "M5 5L5 4",
		`<path transform="skewX(45)" d="M1 1L2 1"/>`:                                   "M2 9L3 9",
		`<path transform="skewY(45)" d="M1 1L2 1"/>`:                                   "M1 8L2 7",
	} {
		require.Equal(t, want, readPage(t, body).String(), body)
	}
	round := readPage(t, `<rect x="1" y="1" width="6" height="4" rx="1"/>`)
	require.InDelta(t, 24-(4-math.Pi), round.Area()*-1, 3e-5) // clockwise, as the file walks it
	require.True(t, round[0].Closed())
	whole := readPage(t, `<rect x="1" y="1" width="4" height="4" rx="9"/>`)
	require.Len(t, whole[0].Segments, 8, "sides of no length are left out")
	oval := readPage(t, `<ellipse cx="5" cy="4" rx="3" ry="1"/>`)
	require.InDelta(t, 3*math.Pi, math.Abs(oval.Area()), 5e-5)
	b := oval.Bounds()
	require.InDelta(t, 2, b.Min.X, 1e-9)
	require.InDelta(t, 7, b.Max.Y, 1e-9)
}

// A 1 in square is a 1 in square in every unit and with every viewBox.
func TestReadSVGSizes(t *testing.T) {
	for head, d := range map[string]string{
		`width="2in" height="3in" viewBox="0 0 2 3"`:                                      "M1 2h1v-1h-1z",
		`width="2in" height="3in"`:                                                        "M96 192h96v-96h-96z",
		`width="192" height="288"`:                                                        "M96 192h96v-96h-96z",
		`width="192px" height="288px" viewBox="0 0 144 216"`:                              "M72 144h72v-72h-72z",
		`width="50.8mm" height="76.2mm" viewBox="0 0 50.8 76.2"`:                          "M25.4 50.8h25.4v-25.4h-25.4z",
		`width="5.08cm" height="7.62cm"`:                                                  "M96 192h96v-96h-96z",
		`width="144pt" height="216pt"`:                                                    "M96 192h96v-96h-96z",
		`width="12pc" height="18pc" viewBox="-1 -1 2 3"`:                                  "M0 1h1v-1h-1z",
		`width="203.2Q" height="304.8Q"`:                                                  "M96 192h96v-96h-96z",
		`width="2in" height="3in" viewBox="0 0 4 3" preserveAspectRatio="none"`:           "M2 2h2v-1h-2z",
		`width="2in" height="3in" viewBox="0 0 2 2"`:                                      "M1 1.5h1v-1h-1z",
		`width="2in" height="3in" viewBox="0 0 2 2" preserveAspectRatio="xMinYMin"`:       "M1 2h1v-1h-1z",
		`width="2in" height="3in" viewBox="0 0 2 2" preserveAspectRatio="xMaxYMax meet"`:  "M1 1h1v-1h-1z",
		`width="2in" height="3in" viewBox="0 0 2 2" preserveAspectRatio="xMinYMin slice"`: "M.66666667 1.33333333h.66666667v-.66666667h-.66666667z",
	} {
		r, err := ReadSVG(strings.NewReader(`<svg xmlns="http://www.w3.org/2000/svg" ` + head + `><path d="` + d + `"/></svg>`))
		require.NoError(t, err, head)
		require.InDelta(t, 2, r.Width, 1e-12, head)
		require.InDelta(t, 3, r.Height, 1e-12, head)
		b := r.Layers[0].Path().Bounds()
		require.Less(t, b.Min.Dist(g.Point{X: 1, Y: 1}), 1e-7, head)
		require.Less(t, b.Max.Dist(g.Point{X: 2, Y: 2}), 1e-7, head)
	}
}

func TestReadSVGRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":                                     "no svg element",
		"<html/>":                              "no svg element",
		`<svg xmlns="urn:other" width="1in"/>`: "not an SVG file",
		`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"/>`:                          "no true size",
		`<svg xmlns="http://www.w3.org/2000/svg" width="100%" height="1in"/>`:                  "no true size",
		`<svg xmlns="http://www.w3.org/2000/svg" width="1em" height="1in"/>`:                   `unit of "em"`,
		`<svg xmlns="http://www.w3.org/2000/svg" width="-1in" height="1in"/>`:                  "above 0",
		`<svg xmlns="http://www.w3.org/2000/svg" width="1in" height="1in" viewBox="0 0 0 1"/>`: "viewBox",
		page(`<text>R</text>`):                                           "not an outline",
		page(`<image href="a.png"/>`):                                    "not an outline",
		page(`<use href="#a"/>`):                                         "expand references",
		page(`<svg width="1" height="1"/>`):                              "one page",
		page(`<thing/>`):                                                 "unknown",
		page(`<g clip-path="url(#a)"/>`):                                 "clip-path",
		page(`<g style="clip-path:url(#a)"/>`):                           "clip-path",
		page(`<path mask="url(#a)" d="M1 1L2 2"/>`):                      "mask",
		page(`<path style="transform:scale(2)" d="M1 1L2 2"/>`):          "transform",
		page(`<path visibility="hidden" d="M1 1L2 2"/>`):                 "visibility",
		page(`<path marker-end="url(#a)" d="M1 1L2 2"/>`):                "marker-end",
		page(`<defs><style>path { transform: scale(2) }</style></defs>`): "style sheet",
		page(`<style>.a{fill:none;display:none}</style>`):                "display",
		page(`<style>@import "a.css";</style>`):                          "@import",
		page(`<path transform="spin(2)" d="M1 1L2 2"/>`):                 "spin",
		page(`<path transform="scale(2" d="M1 1L2 2"/>`):                 "bracket",
		page(`<rect width="50%" height="1"/>`):                           "width",
		page(`<polygon points="1 2 3"/>`):                                "pairs",
		page(`<path d="M1 1L2 2"><animate/></path>`):                     "may change the outline",
		page(strings.Repeat("<g>", 300) + strings.Repeat("</g>", 300)):   "deep",
		page(`<g>`): "syntax error",
	} {
		_, err := ReadSVG(strings.NewReader(text))
		require.ErrorContains(t, err, want, text)
	}
}

func TestReadSVGLayers(t *testing.T) {
	d, err := ReadSVG(strings.NewReader(page(`
		<path id="p0" d="M1 1L2 2"/>
		<g id="wrap"><path id="p1" d="M1 1L2 2"/>
			<g id="in"><title>cut &amp; keep</title><path id="p2" d="M1 1L2 2"/><g><path id="p3" d="M1 1L2 2"/></g></g>
			<g id="deeper"><path id="p4" d="M1 1L2 2"/></g></g>
		<g><title>cut &amp; keep</title><path id="p5" d="M1 1L2 2"/></g>
		<g><title>empty</title></g>`)))
	require.NoError(t, err)
	var got []string
	for _, l := range d.Layers {
		s := l.Name + ":"
		for _, it := range l.Items {
			s += " " + it.ID
		}
		got = append(got, s)
	}
	require.Equal(t, []string{": p0", "wrap: p1 p4", "cut & keep: p2 p3 p5", "empty:"}, got)
	l, ok := d.Layer("wrap")
	require.True(t, ok)
	require.Len(t, l.Items, 2)
	_, ok = d.Layer("none")
	require.False(t, ok)
}

// SVG 1.1 F.6.6: radii too small for the ends grow until they reach, however small they
// are; radii a thousand million times the distance of the ends make a line.
func TestArcRadii(t *testing.T) {
	for radii, want := range map[string]g.Rect{
		"1e-320 1e-320": {Min: g.Point{X: 1, Y: 1}, Max: g.Point{X: 9, Y: 9}}, // a circle of radius 4
		"2 1":           {Min: g.Point{X: 1, Y: 3}, Max: g.Point{X: 9, Y: 7}}, // an ellipse of 4 by 2
		"1e-320 1":      {Min: g.Point{X: 1, Y: 5}, Max: g.Point{X: 9, Y: 5}},
		"1e300 1e300":   {Min: g.Point{X: 1, Y: 5}, Max: g.Point{X: 9, Y: 5}},
	} {
		d, err := ReadSVG(strings.NewReader(page(`<path d="M1 5A` + radii + ` 0 0 1 9 5A` + radii + ` 0 0 1 1 5z"/>`)))
		require.NoError(t, err, radii)
		b := d.Layers[0].Path().Bounds()
		for _, v := range []float64{b.Min.X - want.Min.X, b.Max.X - want.Max.X, b.Min.Y - want.Min.Y, b.Max.Y - want.Max.Y} {
			require.InDelta(t, 0, v, 1e-4, "%s: %v", radii, b)
		}
	}
}

func FuzzReadSVG(f *testing.F) {
	f.Add(page(`<path d="M1 9C1 8 2 8 2 9S3 10 3 9Q1 1 2 2T3 3A1 2 30 0 1 5 5z"/>`))
	f.Add(page(`<g transform="rotate(30) scale(2,1)" style="fill:none"><rect x="1" y="1" width="2" height="2" rx="1"/></g>`))
	f.Add(page(`<circle r="1"/><ellipse rx="1" ry="2"/><line x2="1"/><polygon points="1 2 3 4"/><polyline points="1 2"/>`))
	f.Add(string(samples.SVGOf(f, samples.SampleSheet(), sheet.MM)))
	f.Add(page(`<path d="M1 5A1e-320 1e-320 0 0 1 9 5A1e300 1e-320 0 0 1 1 6A1e300 1e300 0 1 1 2 6z"/>`)) // once a panic
	f.Add(`<svg width="1" height="1" preserveAspectRatio="xMaxYMin slice" viewBox="0 0 1 2"/>`)
	f.Fuzz(func(t *testing.T, text string) {
		d, err := ReadSVG(strings.NewReader(text))
		if err != nil {
			return
		}
		require.True(t, d.Width > 0 && d.Height > 0)
		for _, l := range d.Layers {
			for _, c := range l.Path() {
				require.True(t, Finite(c))
				require.NotEmpty(t, c.Segments)
			}
		}
	})
}
