package document

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Mistakes alike but for what they quote are told once, with the lines of the others.
func TestProblemsAlikeAreToldOnce(t *testing.T) {
	at := func(line int, message, hint string) Problem {
		return Problem{Place: Place{File: "mine.yaml", Line: line, Column: 9}, Message: message, Excerpt: strings.Repeat(" ", 20), Hint: hint}
	}
	ids := Problems{at(3, `the id "A" cannot name a file`, "write a"), at(4, `no key "x"`, "leave it out"), at(5, `the id "B" cannot name a file`, "write b")}
	assert.Equal(t, 3, strings.Count(ids.Error(), "hint:"), "two alike are told in full")

	ids = append(ids, at(6, `the id "C" cannot name a file`, "write c"), at(7, `the id "A" cannot name a file`, "write a"))
	said := ids.Error()
	assert.Equal(t, 1, strings.Count(said, "cannot name a file"))
	assert.Contains(t, said, "mine.yaml:3:9: the id \"A\"")
	assert.Contains(t, said, "hint: write a\n  the same at 5:9 \"B\", write b; 6:9 \"C\", write c; 7:9 \"A\"\n")
	assert.Contains(t, said, "mine.yaml:4:9: no key")

	var many Problems
	for i := range 30 {
		many = append(many, at(i+1, fmt.Sprintf("mistake %d", i), "mend it"))
	}
	assert.True(t, strings.HasSuffix(many.Error(), "and 10 more"), "as many as one works through")
	for i := range 5 {
		many = append(many, at(50+i, `no key "x"`, "leave it out"))
	}
	assert.True(t, strings.HasSuffix(many.Error(), "and 15 more"))
}
