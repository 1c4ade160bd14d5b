package document

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
)

// Place is where in a file a value was written. Line and Column count from one, a
// column is one character; Line is zero when the whole file is meant.
type Place struct {
	File         string
	Line, Column int
}

// Problem is one mistake in a file.
type Problem struct {
	Place   Place
	Message string // lower case, with the number, its unit and its limit
	Excerpt string // the source line as it was written; empty when there is none
	Hint    string // what to type instead; may be empty
}

// Problems are the mistakes of a file in the order of its lines.
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
		line, caret := excerpt(p.Excerpt, p.Place.Column)
		fmt.Fprintf(&b, "\n    %s\n    %s", line, caret)
	}
	if p.Hint != "" {
		fmt.Fprintf(&b, "\n  hint: %s", p.Hint)
	}
	return b.String()
}

// alikeProblems is from how many problems on, alike but for what they quote, only the first
// is printed in full.
const alikeProblems = 4

// quoted is what a problem quotes from the file, the only part in which alike ones differ.
var quoted = regexp.MustCompile(`"[^"]*"`)

// kind is what problems alike have in common.
func (p Problem) kind() string {
	return p.Place.File + "\n" + quoted.ReplaceAllString(p.Message, `""`)
}

// Error writes the first twenty problems, those alike as one, and counts the rest.
func (ps Problems) Error() string {
	alike := map[string]Problems{}
	for _, p := range ps {
		alike[p.kind()] = append(alike[p.kind()], p)
	}
	var parts []string
	shown, left := map[string]bool{}, 0
	for _, p := range ps {
		all := alike[p.kind()]
		several := len(all) >= alikeProblems
		if several && shown[p.kind()] {
			continue
		}
		if len(parts) == shownProblems {
			left++
			if several {
				left += len(all) - 1
				shown[p.kind()] = true
			}
			continue
		}
		text := p.Error()
		if shown[p.kind()] = true; several {
			text += "\n  " + all[1:].also(p.Hint)
		}
		parts = append(parts, text)
	}
	if left > 0 {
		parts = append(parts, fmt.Sprintf("and %d more", left))
	}
	return strings.Join(parts, "\n")
}

// also lists problems that were told with the first of their kind: where, what each quotes
// and what to type, where that is not the hint of the first.
func (ps Problems) also(hint string) string {
	var list []string
	for i, p := range ps {
		if i == shownProblems {
			list = append(list, fmt.Sprintf("%d more", len(ps)-i))
			break
		}
		text := fmt.Sprintf("%d:%d", p.Place.Line, p.Place.Column)
		if what := quoted.FindString(p.Message); what != "" {
			text += " " + what
		}
		if p.Hint != "" && p.Hint != hint {
			text += ", " + p.Hint
		}
		list = append(list, text)
	}
	return "the same at " + strings.Join(list, "; ")
}

// excerptWidth is the widest piece of a source line that is printed, in characters.
const excerptWidth = 96

// excerpt returns the source line and a line with a caret under the given
// column (from one, in characters). A long line is cut to a window that holds
// the column; what was cut is shown as "...". Tabs become one space and other
// control characters a question mark, so that the caret stands right and the
// terminal stays as it is.
func excerpt(source string, column int) (line, caret string) {
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
	if len(runes) > excerptWidth {
		from := min(max(at-excerptWidth/2, 0), len(runes)-excerptWidth)
		to := from + excerptWidth
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

// IsControl tells whether r would steer a terminal, break a line, show a text in another
// order than it is written in (Unicode, property Bidi_Control), or not be seen, so that two
// names look alike: the format characters (category Cf) but the joiners U+200C and U+200D,
// which words of some languages need, and the number signs of Arabic and others, which are
// drawn; and what is ignored where a font lacks it (Other_Default_Ignorable_Code_Point).
func IsControl(r rune) bool {
	switch {
	case r < 0x7f:
		return r < 0x20
	case r < 0xa0, r == 0x2028, r == 0x2029:
		return true
	case r == 0x200c, r == 0x200d:
		return false
	}
	return unicode.Is(unicode.Cf, r) && !unicode.Is(unicode.Prepended_Concatenation_Mark, r) || unicode.Is(unicode.Other_Default_Ignorable_Code_Point, r)
}

// firstControl is the first control character of a text, 0 where it has none.
func firstControl(s string) rune {
	for _, r := range s {
		if IsControl(r) {
			return r
		}
	}
	return 0
}
