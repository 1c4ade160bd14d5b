package glyphs

import (
	"fmt"
	"slices"
	"unicode"
)

// oneByOne are the writing systems whose characters stand side by side from left to
// right, each in one form of its own (Unicode, scripts; Common holds figures, signs and
// spaces).
var oneByOne = []string{
	"Armenian", "Bopomofo", "Common", "Cyrillic", "Georgian", "Greek", "Han", "Hangul", "Hiragana", "Katakana", "Latin",
}

// settable returns an error for a character that cannot be set by its own outline: a
// mark that combines with others, or one of a writing system whose letters join, change
// their form or run from right to left.
func settable(r rune) error {
	if unicode.Is(unicode.M, r) {
		return fmt.Errorf("U+%04X is a mark that combines with the letter before it: type the letter with its mark as one character, or give the text as a drawing", r)
	}
	if unicode.Is(unicode.Cf, r) || r >= 0x1100 && r <= 0x11FF {
		return fmt.Errorf("U+%04X changes the characters beside it and has no form of its own: take it out", r)
	}
	if r >= 0x0660 && r <= 0x0669 || r >= 0x06F0 && r <= 0x06F9 {
		return nil // the figures of Arabic do not join, and run from left to right
	}
	for _, name := range oneByOne {
		if unicode.Is(unicode.Scripts[name], r) {
			return nil
		}
	}
	var names []string
	for name, table := range unicode.Scripts {
		if unicode.Is(table, r) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	if len(names) == 0 {
		return nil // not assigned: the font has it or not
	}
	return fmt.Errorf("%q (U+%04X) is %s, whose letters join, change their form or run from right to left: give the text as a drawing (drawing: FILE.svg)", r, r, names[0])
}
