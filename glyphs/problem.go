package glyphs

import (
	"fmt"
	"strings"
)

// Problem is one thing wrong with a file of ratios or of measurements.
type Problem struct {
	File         string
	Line, Column int    // from 1; 0 when the whole file is meant
	Message      string // lower case, with the number and its limit
	Excerpt      string // the line as it was written
	Hint         string // what to type instead
}

// Problems is everything wrong with a file, in its order.
type Problems []Problem

// Error writes place and message, the line with a caret under the column, and the
// hint.
func (p Problem) Error() string {
	text := p.File
	if p.Line > 0 {
		text = fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
	}
	text += ": " + p.Message
	if p.Excerpt != "" {
		line := strings.Map(func(r rune) rune {
			if r < ' ' {
				return ' '
			}
			return r
		}, p.Excerpt)
		text += "\n    " + line + "\n    " + strings.Repeat(" ", max(p.Column-1, 0)) + "^"
	}
	if p.Hint != "" {
		text += "\n  hint: " + p.Hint
	}
	return text
}

// Error writes all problems, a line or more each.
func (ps Problems) Error() string {
	var parts []string
	for _, p := range ps {
		parts = append(parts, p.Error())
	}
	return strings.Join(parts, "\n")
}
