package sheet

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/drawing"

	g "maskloft/geometry"
)

var allFlavours = []Flavour{Px96, Pt72, Px90, MM}

func TestSVGGolden(t *testing.T) {
	for _, f := range allFlavours {
		golden(t, "sample-"+f.String()+".svg", svgOf(t, sampleSheet(), f))
	}
}

func TestSVGSameBytesTwice(t *testing.T) {
	for _, f := range allFlavours {
		require.Equal(t, svgOf(t, sampleSheet(), f), svgOf(t, sampleSheet(), f))
	}
}

// The foot of the R stands at the lower left: in a file whose y runs down, its
// first corner is near the bottom, its head near the top, its leg to the right.
func TestSVGLandsUnmirrored(t *testing.T) {
	s := Sheet{Title: "R", Width: 4, Height: 5, Layers: []Layer{{Name: "cut", Items: []Item{{Path: figureR(), Ink: Ink{Fill: "#000000"}}}}}}
	text := string(svgOf(t, s, Pt72))
	// (1, 1) in and (1.5, 1) in, 72 to the inch, 5 in high: y = 72 (5 - 1) = 288.
	require.Contains(t, text, `d="M72 288 L108 288 L108 198 L126 198 L180 288 L216 288`)
	d, err := drawing.ReadSVG(bytes.NewReader([]byte(text)))
	require.NoError(t, err)
	p := d.Layers[0].Path()
	require.True(t, p.Contains(g.Point{X: 1.25, Y: 1.1}, 1e-3), "the stem, at the foot")
	require.True(t, p.Contains(g.Point{X: 2.7, Y: 1.1}, 1e-3), "the leg, at the foot")
	require.False(t, p.Contains(g.Point{X: 2, Y: 1.1}, 1e-3), "between stem and leg, at the foot")
	require.True(t, p.Contains(g.Point{X: 2, Y: 3.8}, 1e-3), "the head")
	require.Greater(t, p[0].Area(), 0.0, "outer contours stay counter-clockwise")
	require.Less(t, p[1].Area(), 0.0, "holes stay clockwise")
}

// width / viewBox width and height / viewBox height are one number, taken as
// the fractions that stand in the file.
func TestSVGProportionIsExact(t *testing.T) {
	head := regexp.MustCompile(`width="([\d.]+)(in|mm)" height="([\d.]+)(?:in|mm)" viewBox="0 0 ([\d.]+) ([\d.]+)"`)
	for _, f := range allFlavours {
		m := head.FindStringSubmatch(string(svgOf(t, oddSheet(), f)))
		require.NotNil(t, m)
		var n [4]int64 // units of 1e-7
		for i, k := range []int{1, 3, 4, 5} {
			v, err := strconv.ParseFloat(m[k], 64)
			require.NoError(t, err)
			n[i] = int64(math.Round(v * 1e7))
		}
		want := map[Flavour][2]int64{Px96: {96, 1}, Pt72: {72, 1}, Px90: {90, 1}, MM: {1, 1}}[f]
		require.Equal(t, want[0]*n[0], want[1]*n[2], "%s: viewBox width", f)
		require.Equal(t, want[0]*n[1], want[1]*n[3], "%s: viewBox height", f)
		require.Equal(t, f == MM, m[2] == "mm")
	}
}

func TestSVGHoldsOnlyPlainGeometry(t *testing.T) {
	for _, f := range allFlavours {
		text := string(svgOf(t, sampleSheet(), f))
		for _, word := range []string{"transform", "clip", "<text", "<style", "style=", "class=", "<use", "font", "-0 ", "-0\""} {
			require.NotContains(t, text, word)
		}
		for _, d := range regexp.MustCompile(` d="([^"]*)"`).FindAllStringSubmatch(text, -1) {
			require.Regexp(t, `^[MLCZ0-9 .-]+$`, d[1])
		}
		require.Contains(t, text, `<g id="marks-notes-draw-only" fill-rule="evenodd">`)
		require.Contains(t, text, `<title>marks &amp; notes, draw only</title>`)
		require.Contains(t, text, `fill="none"`)
		require.Contains(t, text, `id="A-lines" fill="none"`, "open contours beside a filled region have no fill")
	}
}

func TestSVGIDs(t *testing.T) {
	ids := svgIDs{}
	for _, c := range [][2]string{
		{"cut", "cut"}, {"cut", "cut-2"}, {"pass 2, open field", "pass-2-open-field"}, {"2nd", "layer-2nd"},
		{"größe", "gr-e"}, {"¡!", "layer"}, {"Cut", "Cut"},
	} {
		require.Equal(t, c[1], ids.from(c[0], "layer"))
	}
}

func TestFlavourNames(t *testing.T) {
	for _, f := range allFlavours {
		got, err := ParseFlavour(f.String())
		require.NoError(t, err)
		require.Equal(t, f, got)
	}
	_, err := ParseFlavour("inch")
	require.ErrorContains(t, err, "px96, pt72, px90, mm")
	require.Error(t, WriteSVG(&bytes.Buffer{}, sampleSheet(), Flavour(9)))
}

// A sheet that cannot be drawn as it stands is refused by both writers, with
// the place and the number, and nothing is written.
func TestWritersRefuse(t *testing.T) {
	line := g.Path{g.Polyline(g.Point{X: 1, Y: 1}, g.Point{X: 2, Y: 1})}
	ink := Ink{Stroke: "#000000", Width: 0.01}
	sheet := func(items ...Item) Sheet {
		return Sheet{Title: "t", Width: 4, Height: 4, Layers: []Layer{{Name: "cut", Items: items}}}
	}
	cases := map[string]Sheet{
		"size of 0 x 4":       {Title: "t", Width: 0, Height: 4},
		"size of NaN":         {Title: "t", Width: math.NaN(), Height: 4},
		"layer name":          {Title: "t", Width: 4, Height: 4, Layers: []Layer{{}}},
		"two layers":          {Title: "t", Width: 4, Height: 4, Layers: []Layer{{Name: "a"}, {Name: "a"}}},
		`"x" stands twice`:    sheet(Item{ID: "x", Path: line, Ink: ink}, Item{ID: "x", Path: line, Ink: ink}),
		"#rrggbb":             sheet(Item{Path: line, Ink: Ink{Stroke: "red", Width: 0.01}}),
		"stroke of 0 in":      sheet(Item{Path: line, Ink: Ink{Stroke: "#000000"}}),
		"would not be seen":   sheet(Item{Path: line, Ink: Ink{Fill: "#000000"}}),
		"dash or gap of -1":   sheet(Item{Path: line, Ink: Ink{Stroke: "#000000", Width: 0.01, Dash: []float64{1, -1}}}),
		"contour 1 has no":    sheet(Item{Path: g.Path{{}}, Ink: ink}),
		"open by 1e-06 in":    sheet(Item{Path: g.Path{g.Polyline(g.Point{}, g.Point{X: 1}, g.Point{X: 1e-6})}, Ink: ink}),
		"contour 1: a coordi": sheet(Item{Path: g.Path{g.Polyline(g.Point{}, g.Point{X: math.Inf(1)})}, Ink: ink}),
	}
	for want, s := range cases {
		var b bytes.Buffer
		require.ErrorContains(t, WriteSVG(&b, s, Px96), want)
		require.ErrorContains(t, WritePDF(&b, []Sheet{s}, PDFOptions{}), want)
		require.Zero(t, b.Len())
	}
}

func ExampleWriteSVG() {
	var b bytes.Buffer
	s := Sheet{Title: "a square inch", Width: 2, Height: 2, Layers: []Layer{{Name: "cut", Items: []Item{{
		ID:   "square",
		Path: g.Path{g.Rectangle(g.Rect{Min: g.Point{X: 0.5, Y: 0.5}, Max: g.Point{X: 1.5, Y: 1.5}})},
		Ink:  Ink{Stroke: "#000000", Width: 0.01},
	}}}}}
	if err := WriteSVG(&b, s, Px96); err != nil {
		fmt.Println(err)
	}
	fmt.Print(b.String())
	// Output:
	// <?xml version="1.0" encoding="UTF-8"?>
	// <svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="2in" height="2in" viewBox="0 0 192 192">
	// <title>a square inch</title>
	// <g id="cut" fill-rule="evenodd">
	// <title>cut</title>
	// <path id="square" fill="none" stroke="#000000" stroke-width="0.96" d="M48 144 L144 144 L144 48 L48 48 Z"/>
	// </g>
	// </svg>
}

// A sheet to look at carries its lines as text, at their place from the top, and its
// paths as they are.
func TestWriteWordedSVG(t *testing.T) {
	line := Lettering{Cap: 0.36, Ink: InkText}.At("a < b", 1, 2, 0)
	s := Sheet{Title: "words", Width: 8, Height: 3, Layers: []Layer{{Name: "notes", Items: []Item{line, DrawRect(g.Rect{Max: g.Point{X: 1, Y: 1}}, InkNote)}}}}
	var worded, plain bytes.Buffer
	require.NoError(t, WriteWordedSVG(&worded, s))
	require.NoError(t, WriteSVG(&plain, s, Px96))
	// 96 units to the inch: 1 in from the left, 3 - 2 in from the top; a capital is 0.72 of the size
	require.Contains(t, worded.String(), `<text x="96" y="96" font-family="Go,Arial,sans-serif" font-size="48" textLength="`)
	require.Contains(t, worded.String(), `>a &lt; b</text>`)
	require.Equal(t, 1, strings.Count(worded.String(), "<path"))
	require.Equal(t, 2, strings.Count(plain.String(), "<path"))
}
