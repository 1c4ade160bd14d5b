package main

import (
	"fmt"
	"html"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export"
	"maskloft/export/sheet"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
)

func demoBook(t testing.TB) (string, Report) {
	t.Helper()
	j := demoJob(t)
	files, err := cutFiles(t.Context(), j.Tilings, j.Run, layouts.CutMarks, sheet.Px96, func(string) {}, func(packFile) error { return nil })
	require.NoError(t, err)
	report := reportOf(j, files)
	page, err := jobBook(j, report, ticketFilms(j, files), export.Dossier(j.Layout, j.Findings))
	require.NoError(t, err)
	return string(page.data), report
}

// Every marking has a card with its figures as the report gives them; every point its
// tapes; the same job gives the same bytes.
func TestBookHoldsTheReport(t *testing.T) {
	page, report := demoBook(t)
	again, _ := demoBook(t)
	assert.True(t, page == again, "the same job gives the same bytes")
	exact := func(path string, v float64) string {
		return fmt.Sprintf(`<data data-figure="%s" value="%s">`, path, geometry.FormatNumber(v, 6))
	}
	for _, m := range report.Markings {
		_, card, ok := strings.Cut(page, `data-marking="`+m.ID+`"`)
		require.True(t, ok, m.ID)
		card, _, _ = strings.Cut(card, "</details>")
		assert.Contains(t, card, exact("anchor.bl", m.Anchor.BL))
		assert.Contains(t, card, exact("area_in2", m.Area))
		assert.Contains(t, page, `<a href="#m-`+m.ID+`" aria-label="marking `+m.ID+`">`, "the drawing leads to it")
	}
	for _, placing := range report.Place {
		for _, p := range placing.Points {
			_, row, ok := strings.Cut(page, `data-point="`+p.ID+`"`)
			require.True(t, ok, p.ID)
			row, _, _ = strings.Cut(row, "</tr>")
			for _, r := range p.Ways[0].Readings {
				assert.Contains(t, row, fmt.Sprintf(`value="%s"`, geometry.FormatNumber(r.Length, 6)), p.ID)
			}
		}
	}
	ids := map[string]bool{}
	for _, id := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(page[:strings.Index(page, `id="three-lib"`)], -1) {
		assert.False(t, ids[id[1]], "id %s stands once", id[1])
		ids[id[1]] = true
	}
}

// The numbers of the first screen are those that check takes, with the mark of its list.
func TestBookOffersWhatCheckTakes(t *testing.T) {
	j, err := openDemo()
	require.NoError(t, err)
	checked, err := checkMade(t.Context(), j)
	require.NoError(t, err)
	offers := job.Offers(checked.findings)
	page, _ := demoBook(t)
	_, screen, _ := strings.Cut(page, "To decide, worst first")
	screen, _, _ = strings.Cut(screen, "The aircraft")
	rows := regexp.MustCompile(`<b>\[(\d+)\]</b> (.*?)<br><code>maskloft check LAYOUT <span>--take (\d+)</span> <span>--list (\w+)</span></code>`).FindAllStringSubmatch(screen, -1)
	require.Len(t, rows, 2)
	for _, row := range rows {
		n, err := strconv.Atoi(row[1])
		require.NoError(t, err)
		assert.Equal(t, row[1], row[3])
		assert.Equal(t, html.EscapeString(offers[n-1].Proposal.String()), row[2])
		assert.Equal(t, job.ListMark(offers), row[4])
	}
}

func TestFindingsGravestFirst(t *testing.T) {
	all := []layouts.Finding{{Level: layouts.Note, Rule: "a", Marking: "x"}, {Level: layouts.Warn, Rule: "b", Marking: "x"}, {Level: layouts.Stop, Rule: "c", Marking: "y"}, {Level: layouts.Warn, Rule: "d", Marking: "x"}}
	own, level := findingsOf("x", all)
	var rules []string
	for _, f := range own {
		rules = append(rules, f.Rule)
	}
	assert.Equal(t, []string{"b", "d", "a"}, rules)
	assert.Equal(t, "warn", level)
	_, level = findingsOf("z", all)
	assert.Empty(t, level)
}
