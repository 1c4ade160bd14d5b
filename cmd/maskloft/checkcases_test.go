package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/drawing"
	"maskloft/geometry"
	"maskloft/layouts/proportions"
	"maskloft/layouts/standards"
)

// Drawings made with other programs, each held against a rule, and what must be said.
// border-as-stroke has a red stripe in its bars: it is that of 1947, right by its text,
// and wrong by the one before.
var checkCases = []struct {
	file, rule string
	size       geometry.Length
	says       []string // of each, a finding or the error; none: it is right
}{
	{"shape-no-left-bar.svg", "an-i-9b/star-and-bars", 40, []string{"bars.outline: 43 %", "stripe.outline: 44 %"}},
	{"shape-disc1942-tips-cut-3.svg", "us-star/disc-1942", 40, []string{"star.outline: 60 %", "% of its area is not insignia white"}},
	{"shape-a1-white-half.svg", "raf-roundel/a1", 35, []string{"white.outline: 50 %", "; 50 % of its area is not white"}},
	{"shape-red-border-as-blue.svg", "an-i-9a@amendment-1/blue-border", 40, []string{"it is drawn to an-i-9a/red-border"}},
	{"shape-flash-blue-leads.svg", "raf-fin-flash/1942", 24, []string{"red.colour: it is blue", "blue.colour: it is red"}},
	{"shape-french-as-belgian.svg", "belgian-roundel/thirds", 40, []string{"it is drawn to "}},
	{"shape-two-right-and-wrong.svg", "an-i-9b/star-and-bars", 40, []string{"insignia 2: bars.width"}},
	{"xs-a1-1.02.svg", "raf-roundel/a1", 35, []string{"the figure is oval: ", "wider than high"}},
	{"shape-cross-core-turned-2.svg", "german-cross/wide", 40, []string{"core.shape: it is turned by"}},
	{"border-as-stroke.svg", "an-i-9b/star-and-bars", 40, nil},
	{"border-as-stroke.svg", "an-i-9a@amendment-1/blue-border", 40, []string{"it is drawn to an-i-9b/star-and-bars"}},
	{"shape-thick-stroke-0.5in.svg", "an-i-9b/star-and-bars", 40, []string{"pen: outlines are lines 0.5 in wide"}},
	{"dutch-markings_triangle-reportlab.pdf", "dutch-markings/triangle", 40, nil},
	{"raf-roundel_a1-reportlab.pdf", "raf-roundel/a1", 35, nil},

	// drawn with shapely, and written by the program that the name ends with
	{"no-right-bar-cairo.pdf", "an-i-9b/star-and-bars", 40, []string{"border.outline: 25 %", "bars.outline: 50 %", "stripe.outline: 50 %"}},
	{"top-point-cut-mupdf.svg", "an-i-9b/star-and-bars", 40, []string{"star.outline: 14 %", "; 9 % of its area is not insignia white"}},
	{"oval-1-poppler.svg", "raf-roundel/a1", 35, []string{"the figure is oval: 1 % wider than high"}},
	{"centre-off-qpdf.pdf", "raf-roundel/a1", 35, []string{"red.shape: it is off its place by 0.09 in, 0.09 in to the right"}},
	{"lines-ezdxf.dxf", "an-i-9b/star-and-bars", 40, nil},
	{"arm-short-mupdf.svg", "german-cross/wide", 40, []string{"core.shape: its right edge right of the centre is 0.4 in too far in"}},
	{"cross-inverted-svgelements.svg", "german-cross/wide", 40, []string{"edge.colour: it is white", "flank.colour: it is black", "core.colour: it is white"}},
	{"two-one-skewed-cairo.pdf", "raf-roundel/a1", 35, []string{"the figure is oval by 1.74 %, longest at 45 deg"}},
	{"a1-mupdf.svg", "raf-roundel/a", 25, []string{"it is drawn to raf-roundel/a1"}},
	{"a1-mupdf.svg", "raf-roundel/a1", 35, nil},
}

// toldOnce are those whose one slip is one finding.
var toldOnce = []string{"xs-a1-1.02.svg", "shape-cross-core-turned-2.svg", "oval-1-poppler.svg", "centre-off-qpdf.pdf", "arm-short-mupdf.svg", "two-one-skewed-cairo.pdf"}

func TestCheckCases(t *testing.T) {
	for _, c := range checkCases {
		file := filepath.Join("..", "..", "testdata", "foreign", "checks", c.file)
		rule, err := standards.Find(c.rule)
		require.NoError(t, err)
		f, err := readForeign(file)
		if !assert.NoError(t, err, c.file) {
			continue
		}
		var said []string
		for _, page := range f.Pages {
			in, err := proportions.Inspect(drawnOf(page), rule, proportions.Options{Size: c.size, Marking: ""})
			if err != nil {
				said = append(said, err.Error())
				continue
			}
			for k, r := range in.Found {
				for i := range r.Checks {
					if len(in.Found) > 1 {
						r.Checks[i].Marking = "insignia " + string(rune('1'+k))
					}
				}
				for _, f := range proportions.Findings("", r.Checks) {
					said = append(said, f.Message)
				}
			}
		}
		if c.says == nil {
			assert.Empty(t, said, "%s against %s", c.file, c.rule)
		}
		if slices.Contains(toldOnce, c.file) {
			assert.Len(t, said, 1, "%s: %v", c.file, said)
		}
		for _, want := range c.says {
			assert.Contains(t, strings.Join(said, "\n"), want, "%s against %s", c.file, c.rule)
		}
	}
}

// A page of several on which nothing is drawn is noted; in a file of such pages one is
// looked at, and lacks everything.
func TestBlankPages(t *testing.T) {
	drawn := drawing.Drawing{Layers: []drawing.DrawnLayer{{}}}
	for _, c := range []struct {
		pages  []drawing.Drawing
		looked []int
	}{
		{[]drawing.Drawing{{}}, []int{0}},
		{[]drawing.Drawing{{}, {}}, []int{0}},
		{[]drawing.Drawing{{}, drawn, {}, drawn}, []int{1, 3}},
	} {
		var r checkResult
		var looked []int
		for i := range c.pages {
			if !r.blank(drawing.Foreign{Pages: c.pages}, i) {
				looked = append(looked, i)
			}
		}
		assert.Equal(t, c.looked, looked)
		assert.Len(t, r.notes, len(c.pages)-len(looked))
	}
}
