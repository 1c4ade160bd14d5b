package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"maskloft/layouts"
	"maskloft/layouts/job"
)

func TestDecisionsOnceForBothSides(t *testing.T) {
	move := layouts.Proposal{Path: "markings[code].where.wl", Value: "55 in", Why: "clears it"}
	findings := []layouts.Finding{
		{Level: layouts.Note, Rule: "bay-twist", Marking: "code-left", Message: "code-left: twists"},
		{Level: layouts.Note, Rule: "bay-twist", Marking: "code-right", Message: "code-right: twists"},
		{Level: layouts.Warn, Rule: "obstacle", Marking: "code-left", Message: "code-left: near a ring", Proposals: []layouts.Proposal{move}},
		{Level: layouts.Warn, Rule: "obstacle", Marking: "code-left", Message: "code-left: near a cap", Hint: "move it"},
		{Level: layouts.Warn, Rule: "obstacle", Marking: "code-right", Message: "code-right: near a ring", Proposals: []layouts.Proposal{move}},
		{Level: layouts.Stop, Rule: "off-skin", Marking: "star-right", Message: "star-right: runs off", Hint: "move it"},
	}
	var out bytes.Buffer
	printDecided(&out, findings, job.Offers(findings), asked{verb: "check", file: "a.yaml"})
	assert.Equal(t, `
to decide, worst first:
stop  star, right: runs off
      move it
warn  code, both sides: near a ring
      [1] markings[code].where.wl: 55 in (clears it)
warn  code, left: near a cap
      move it
      to write one into the layout: maskloft check a.yaml --take 1
notes, both sides as one: skin twists between frames (1)
everything that was found: maskloft check a.yaml --all
`, out.String())
}

func TestConsoleStaysOnAScreen(t *testing.T) {
	var findings []layouts.Finding
	for range 60 {
		findings = append(findings, layouts.Finding{Level: layouts.Stop, Rule: "off-skin", Message: strings.Repeat("far off the skin ", 40), Hint: "move it"})
	}
	var out bytes.Buffer
	printDecided(&out, findings, nil, asked{verb: "build"})
	assert.LessOrEqual(t, strings.Count(out.String(), "\n"), 24)
	assert.Contains(t, out.String(), "      and 51 more\n")
	for _, line := range strings.Split(out.String(), "\n") {
		assert.LessOrEqual(t, len(line), consoleWidth+4, line)
	}
}

// A command that is printed can be typed as it stands, and steers no terminal.
func TestTyped(t *testing.T) {
	for name, want := range map[string]string{
		"mine.yaml": "mine.yaml", "../a-b_2/ä.yaml": "../a-b_2/ä.yaml", `C:\work\a.yaml`: `C:\work\a.yaml`,
		"my plane.yaml": `"my plane.yaml"`, "a;b.yaml": `"a;b.yaml"`, "a\x1b[31m.yaml": `"a?[31m.yaml"`,
	} {
		if got := typed(name); got != want {
			t.Errorf("%q is typed %s, wanted %s", name, got, want)
		}
	}
}
