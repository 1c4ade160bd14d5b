package export

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// sheetWords returns all that is set on sheets, line by line.
func sheetWords(sheets []sheet.Sheet) string {
	var all []string
	for _, s := range sheets {
		texts, _, _ := printedTexts(s)
		all = append(all, texts...)
	}
	return strings.Join(all, "\n")
}

// A shop that gets a job with a finding of level stop reads so before anything else;
// one without is not told. Warnings are the restorer's.
func TestTicketSaysDoNotCut(t *testing.T) {
	l, tilings := demoTilings(t)
	run := masks.Nest(masks.Films(tilings), l.Spec.Film)
	warn := layouts.Finding{Level: layouts.Warn, Rule: "obstacle", Message: "code-left: too near"}
	require.NotContains(t, sheetWords(Ticket(sheet.Letter, l, nil, run, []layouts.Finding{warn})), "DO NOT CUT")
	stop := layouts.Finding{Level: layouts.Stop, Rule: "off-skin", Message: "code-left: it leaves the skin at FS 212"}
	words := sheetWords(Ticket(sheet.Letter, l, nil, run, []layouts.Finding{warn, stop}))
	require.Contains(t, words, "DO NOT CUT")
	require.Contains(t, words, "leaves the skin at FS 212")
	require.Less(t, strings.Index(words, "DO NOT CUT"), strings.Index(words, "MIRROR: NO"))

	var many []layouts.Finding
	for range 40 {
		many = append(many, stop)
	}
	sheets := Ticket(sheet.Letter, l, nil, run, many)
	requirePrinted(t, "ticket with 40 stops", sheets)
	require.Contains(t, sheetWords(sheets), "and 32 lines more")
}

// Pieces counted by hand: a stencilled O with its counter, and a tile
// whose opening runs out at its edge.
func TestPiecesWords(t *testing.T) {
	box := func(x0, y0, x1, y1 float64) g.Contour {
		return g.Rectangle(g.Rect{Min: g.Point{X: x0, Y: y0}, Max: g.Point{X: x1, Y: y1}})
	}
	for want, film := range map[string]g.Path{
		"2 pieces (1 loose)": {box(0, 0, 10, 10), box(2, 2, 8, 8).Reversed(), box(4, 4, 6, 6)},
		"2 pieces":           {box(0, 0, 4, 10), box(6, 0, 10, 10)},
		"1 piece":            {g.Polygon(g.Point{}, g.Point{X: 10}, g.Point{X: 10, Y: 10}, g.Point{X: 4, Y: 4})},
	} {
		require.Equal(t, want, PiecesWords(film))
	}
}
