package book

import (
	"bytes"
	"encoding/json"
	"html"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/layouts"

	g "maskloft/geometry"
)

// The book holds the licence of the library it embeds, readable; its scripts end
// nowhere but at their end; nothing in it is fetched, and a policy says so.
func TestBookStandsAlone(t *testing.T) {
	var page bytes.Buffer
	require.NoError(t, Write(&page, Book{Title: "a & b", Scene: "{}", Place: "{}"}))
	text := page.String()
	assert.Contains(t, text, "<pre>The MIT License\n\nCopyright © 2010-2026 three.js authors")
	assert.Contains(t, text, "The above copyright notice and this permission notice shall be included in")
	assert.Contains(t, text, "<title>a &amp; b: job book</title>")
	assert.Equal(t, 6, strings.Count(text, "</script"), "job, placing, scene, library, view, code of the page")
	assert.NotContains(t, text, "ZgotmplZ")
	assert.NotRegexp(t, regexp.MustCompile(`(?:src|href)="?(?:https?:)?//|@import|url\(|style="`), text)
	policy := regexp.MustCompile(`http-equiv="Content-Security-Policy" content="([^"]*)"`).FindStringSubmatch(text)[1]
	policy = html.UnescapeString(policy)
	for _, want := range []string{"default-src 'none'", "base-uri 'none'", "form-action 'none'"} {
		assert.Contains(t, policy, want)
	}
	assert.NotContains(t, policy, "unsafe")
	code := regexp.MustCompile(`(?s)<script>(.*?)</script>`).FindStringSubmatch(text)[1]
	assert.Contains(t, policy, hashed(code), "the page's own script is let run")
	style := regexp.MustCompile(`(?s)<style>(.*?)</style>`).FindStringSubmatch(text)[1]
	assert.Contains(t, policy, hashed(style))
	scene := regexp.MustCompile(`(?s)id="three-code">(.*?)</script>`).FindStringSubmatch(text)[1]
	assert.Contains(t, policy, hashed(scene))
}

// The packed library is the one beside the tool that packs it.
func TestLibraryIsPacked(t *testing.T) {
	want, err := os.ReadFile("pack/three-0.187.0.min.js")
	require.NoError(t, err)
	assert.True(t, string(want) == unpacked(pageFile("three-0.187.0.min.js.gz")), "run go generate ./export/book")
}

// Put together, no two scripts have a name in common.
func TestScriptsShareNoName(t *testing.T) {
	for _, list := range [][]string{pageScripts, sceneScripts} {
		seen := map[string]string{}
		for _, name := range list {
			for _, m := range regexp.MustCompile(`(?m)^(?:export )?(?:async )?(?:const|let|function) +(\w+)`).FindAllStringSubmatch(pageFile(name), -1) {
				assert.Empty(t, seen[m[1]], "%s is in %s and %s", m[1], seen[m[1]], name)
				seen[m[1]] = name
			}
		}
	}
}

// One ladder of strain is in the page and in the sheets.
func TestOneLadderOfStrain(t *testing.T) {
	assert.Contains(t, pageFile("palette.mjs"), "'"+strings.Join(views.StrainLadder[:], "', '")+"'")
}

// Names of a layout are text wherever they come, never markup.
func TestNamesAreText(t *testing.T) {
	evil := `<img src=x onerror=alert(1)>"'&`
	var page bytes.Buffer
	require.NoError(t, Write(&page, Book{
		Title: evil, Job: "</script>" + evil, Aircraft: evil, Scene: "{}", Place: "{}", Dossier: DossierHTML([]byte("# x\n- " + evil + "\n" + evil)),
		Markings: []Marking{{ID: "m", Name: evil, Where: evil, Rows: []Row{{Name: evil, Text: Text{{Text: evil}}}}}},
		Ticket:   []Film{{ID: evil, Key: evil}},
		Findings: Decided([]layouts.Finding{{Level: layouts.Stop, Marking: evil, Rule: evil, Message: evil + ": " + evil, Hint: evil, Source: evil}, {Level: layouts.Note, Rule: evil, Message: evil}}, nil, func(string) bool { return false }),
	}))
	assert.NotContains(t, page.String(), "<img")
	assert.Equal(t, 6, strings.Count(page.String(), "</script"))
}

func TestBarePictureIsCutToWhatIsLeft(t *testing.T) {
	square := func(x, y, side float64) sheet.Item {
		return sheet.Item{Path: g.Path{g.Rectangle(g.Rect{Min: g.Point{X: x, Y: y}, Max: g.Point{X: x + side, Y: y + side}})}, Ink: sheet.Ink{Stroke: "#000000", Width: 0.01}}
	}
	s := sheet.Sheet{Title: "R", Width: 20, Height: 10, Layers: []sheet.Layer{{Name: "frame", Items: []sheet.Item{square(0, 0, 9)}}, {Name: "drawing", Items: []sheet.Item{square(3, 4, 2), square(6, 4, 1)}}}}
	bare, _ := Bare(s, 0.5, "frame")
	require.Len(t, bare.Layers, 1)
	assert.InDelta(t, 5, bare.Width, 1e-12, "from 3 to 7, and half an inch each way")
	assert.InDelta(t, 3, bare.Height, 1e-12)
	box := bare.Layers[0].Items[0].Outline().Bounds()
	assert.InDelta(t, 0.5, box.Min.X, 1e-12)
	assert.InDelta(t, 0.5, box.Min.Y, 1e-12)
	assert.InDelta(t, 3, s.Layers[1].Items[0].Outline().Bounds().Min.X, 1e-12, "the sheet itself is as it was")
}

// Coordinates written as steps add up to the points again.
func TestStepsAddUp(t *testing.T) {
	var s steps
	for _, p := range []g.Vec3{{X: 120.004, Y: -12.98, Z: 51}, {X: 119.996, Y: -12.98, Z: 51.25}, {X: -0.004, Y: 3, Z: 0}} {
		s.add(p)
	}
	data, err := json.Marshal(sceneGrid{Rows: 1, Cols: 3, Points: s})
	require.NoError(t, err)
	assert.JSONEq(t, `{"rows":1,"cols":3,"p":[12000,-1298,5100, 0,0,25, -12000,1598,-5125]}`, string(data))
}

// A line keeps its ends and its corner, and loses what lies on the way.
func TestFlatLineKeepsCorners(t *testing.T) {
	line := []g.Vec3{{}, {X: 1, Y: 0.04}, {X: 2}, {X: 2, Y: 0.5}, {X: 2, Y: 1, Z: -0.001}}
	assert.Equal(t, []float64{0, 0, 0, 2, 0, 0, 2, 1, 0}, flatLine(line))
	assert.Equal(t, []float64{}, flatLine(nil))
	assert.Equal(t, []float64{1, 2, 3}, flatLine([]g.Vec3{{X: 1, Y: 2, Z: 3}}))
}
