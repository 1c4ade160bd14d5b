package main

import (
	"path/filepath"
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
	{"shape-disc1942-tips-cut-3.svg", "us-star/disc-1942", 40, []string{"star.outline", "star.area"}},
	{"shape-a1-white-half.svg", "raf-roundel/a1", 35, []string{"white.outline: 50 %", "white.area: 50 %"}},
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
}

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
