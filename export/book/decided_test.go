package book

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"
	"maskloft/layouts/job"
)

// The first screen tells each decision once, the worst first, leads to the cards of both
// sides, and gives the number that check --take takes.
func TestFirstScreenFollowsDecisions(t *testing.T) {
	move := layouts.Proposal{Path: "markings[code].where.wl", Value: "55 in", Why: "clears it"}
	findings := []layouts.Finding{
		{Level: layouts.Warn, Rule: "obstacle", Marking: "code-left", Message: "code-left: near a ring", Proposals: []layouts.Proposal{move}},
		{Level: layouts.Warn, Rule: "obstacle", Marking: "code-right", Message: "code-right: near a ring", Proposals: []layouts.Proposal{move}},
		{Level: layouts.Stop, Rule: "missing", Marking: "star", Message: "star: runs off", Hint: "move it"},
		{Level: layouts.Note, Rule: "bay-twist", Marking: "code-left", Message: "code-left: twists"},
		{Level: layouts.Note, Rule: "bay-twist", Marking: "code-right", Message: "code-right: twists"},
	}
	// check has an offer before these, which build does not tell
	offers := append([]job.Offer{{Number: 1}}, job.Offers(findings)...)
	for i := range offers {
		offers[i].Number = i + 1
	}
	f := Decided(findings, offers, func(id string) bool { return strings.HasPrefix(id, "code-") })
	var page bytes.Buffer
	require.NoError(t, Write(&page, Book{Scene: "{}", Place: "{}", Findings: f, Markings: []Marking{{ID: "code-left"}, {ID: "code-right"}}}))
	_, text, ok := strings.Cut(page.String(), "To decide, worst first")
	require.True(t, ok)
	text, _, _ = strings.Cut(text, "The aircraft")
	stop, warn := strings.Index(text, `<li class="stop">`), strings.Index(text, `<li class="warn">`)
	assert.True(t, 0 <= stop && stop < warn)
	assert.Contains(t, text, `<a href="#whole-job">star</a>`, "it has no card")
	assert.Contains(t, text, `id="whole-job"`)
	assert.Contains(t, text, `<a href="#m-code-left">code-left</a> <a href="#m-code-right">code-right</a>`)
	assert.Equal(t, 1, strings.Count(text, "near a ring"), "both sides as one")
	assert.Contains(t, text, "<b>[2]</b> markings[code].where.wl: 55 in (clears it)")
	assert.Contains(t, text, "<code>maskloft check LAYOUT <span>--take 2</span> <span>--list "+job.ListMark(offers)+"</span></code>")
	assert.Contains(t, text, "skin twists between frames (1).")
}

// What is shown does not grow with the findings.
func TestFirstScreenStaysShort(t *testing.T) {
	find := func(n int) []layouts.Finding {
		var all []layouts.Finding
		for i := range n {
			id := fmt.Sprintf("mark-%d", i)
			all = append(all, layouts.Finding{Level: layouts.Stop, Rule: "off-skin", Marking: id, Message: id + ": runs off"})
			for k := range 4 {
				all = append(all, layouts.Finding{Level: layouts.Warn, Rule: "obstacle", Marking: "mark-0", Message: "mark-0: near", Proposals: []layouts.Proposal{{Path: "a", Value: fmt.Sprint(i, k)}}})
			}
		}
		return all
	}
	size := func(n int) (Findings, int) {
		all := find(n)
		f := Decided(all, job.Offers(all), func(string) bool { return true })
		var page bytes.Buffer
		require.NoError(t, Write(&page, Book{Scene: "{}", Place: "{}", Findings: f}))
		return f, page.Len()
	}
	few, short := size(10)
	many, long := size(400)
	assert.Equal(t, 1+40-mostDecisions, few.More)
	assert.Equal(t, 1+1600-mostDecisions, many.More)
	assert.Equal(t, 399-mostAlso, many.Decisions[0].AlsoOff)
	assert.Empty(t, many.Job)
	same := []layouts.Finding{{Level: layouts.Warn, Rule: "a", Message: "one", Hint: "move it"}, {Level: layouts.Warn, Rule: "a", Message: "two", Hint: "move it"}}
	hints := Decided(same, nil, func(string) bool { return false }).Decisions
	assert.Equal(t, "", hints[0].Hint)
	assert.Equal(t, "move it", hints[1].Hint, "once")
	var twice []layouts.Finding
	for _, id := range []string{"a", "b", "b", "c"} {
		twice = append(twice, layouts.Finding{Level: layouts.Warn, Rule: "over", Marking: id, Message: id + ": lies on another"})
	}
	assert.Equal(t, []string{"b", "c"}, Decided(twice, nil, func(string) bool { return true }).Decisions[0].Also, "a marking is named once")
	assert.InDelta(t, short, long, 100, "numbers with more digits alone")
}
