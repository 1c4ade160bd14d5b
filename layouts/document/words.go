package document

import (
	"fmt"
	"strings"
)

// Nearest is [Nearest] with the words of the form of the document.
func (d *Document) Nearest(word string, known []string) string {
	return Nearest(word, known, d.form.Words)
}

// Nearest returns the known word that was likely meant, empty when none is
// near: one slip, or one in every four letters, or another word for the same by
// the table others. Words that differ in a digit are different words: E-3 was not
// meant to be E-1.
func Nearest(word string, known []string, others map[string]string) string {
	lower := strings.ToLower(strings.ReplaceAll(word, "_", "-"))
	for _, k := range known {
		if others[lower] == k || strings.ToLower(k) == lower {
			return k
		}
	}
	n := len([]rune(lower))
	if n < 2 || n > 64 {
		return ""
	}
	best, at := max(1, n/4)+1, ""
	for _, k := range known {
		if d := slips([]rune(lower), []rune(strings.ToLower(k))); d < best && digitsOf(k) == digitsOf(lower) {
			best, at = d, k
		}
	}
	return at
}

func digitsOf(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, s)
}

// slips counts the letters to insert, delete, replace or swap with their
// neighbour (optimal string alignment; Damerau 1964).
func slips(a, b []rune) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range b {
		rows[0][j+1] = j + 1
	}
	for i := range a {
		for j := range b {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			d := min(rows[i][j]+cost, rows[i][j+1]+1, rows[i+1][j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				d = min(d, rows[i-1][j-1]+1)
			}
			rows[i+1][j+1] = d
		}
	}
	return rows[len(a)][len(b)]
}

// Shorten keeps a quoted text short enough for a message.
func Shorten(s string) string { return ShortenTo(40, s) }

// ShortenTo keeps a text to a number of characters.
func ShortenTo(most int, s string) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most-3]) + "..."
	}
	return s
}

// QuoteOdd quotes a key that is not a plain word.
func QuoteOdd(key string) string {
	for _, r := range key {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_') {
			return fmt.Sprintf("%q", Shorten(key))
		}
	}
	if key == "" {
		return `""`
	}
	return Shorten(key)
}

// OrList writes "a, b or c".
func OrList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}
