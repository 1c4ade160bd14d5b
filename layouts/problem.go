package layouts

import (
	"fmt"
	"strings"
)

// Problem is one thing wrong with a layout file.
type Problem struct {
	Place   Place  // Line is zero when the whole file is meant
	Message string // lower case, with the number, its unit and its limit
	Excerpt string // the source line as it was written; empty when there is none
	Hint    string // what to type instead; may be empty
}

// Problems is everything wrong with a layout, in the order of the file, the
// layout before its aircraft file. It is the error of [Load].
type Problems []Problem

// shownProblems is how many problems [Problems.Error] prints; a page of them is
// as much as one works through before trying again.
const shownProblems = 20

// String writes file:line:column, leaving out what is not known.
func (p Place) String() string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Error writes the place and message, the source line with a caret under the
// column, and the hint.
func (p Problem) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s", p.Place, p.Message)
	if p.Excerpt != "" && p.Place.Line > 0 {
		line, caret := Excerpt(p.Excerpt, p.Place.Column)
		fmt.Fprintf(&b, "\n    %s\n    %s", line, caret)
	}
	if p.Hint != "" {
		fmt.Fprintf(&b, "\n  hint: %s", p.Hint)
	}
	return b.String()
}

// Error writes the first twenty problems and counts the rest.
func (ps Problems) Error() string {
	var parts []string
	for i, p := range ps {
		if i == shownProblems {
			parts = append(parts, fmt.Sprintf("and %d more", len(ps)-shownProblems))
			break
		}
		parts = append(parts, p.Error())
	}
	return strings.Join(parts, "\n")
}

// ExcerptWidth is the widest piece of a source line that is printed.
const ExcerptWidth = 96

// Excerpt returns the source line and a line with a caret under the given
// column (from one, in characters). A long line is cut to a window that holds
// the column; what was cut is shown as "...". Tabs become one space and other
// control characters a question mark, so that the caret stands right and the
// terminal stays as it is.
func Excerpt(source string, column int) (line, caret string) {
	runes := []rune(source)
	for i, r := range runes {
		switch {
		case r == '\t':
			runes[i] = ' '
		case IsControl(r):
			runes[i] = '?'
		}
	}
	at := min(max(column-1, 0), len(runes))
	before, after := "", ""
	if len(runes) > ExcerptWidth {
		from := min(max(at-ExcerptWidth/2, 0), len(runes)-ExcerptWidth)
		to := from + ExcerptWidth
		if from > 0 {
			before = "..."
		}
		if to < len(runes) {
			after = "..."
		}
		runes, at = runes[from:to], at-from
	}
	line = before + strings.TrimRight(string(runes), " ") + after
	return line, strings.Repeat(" ", len(before)+at) + "^"
}

// IsControl tells whether r would steer a terminal or break a line.
func IsControl(r rune) bool {
	return r < 0x20 || r >= 0x7f && r < 0xa0 || r == 0x2028 || r == 0x2029 || r == 0xfeff
}
