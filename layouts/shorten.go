package layouts

import (
	"regexp"
	"strings"
)

// ShortenTo returns s, cut to as many characters at most.
func ShortenTo(most int, s string) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most-3]) + "..."
	}
	return s
}

// FileName turns a text into one that may name a file.
func FileName(s string) string {
	s = regexp.MustCompile(`[^a-z0-9]+`).ReplaceAllString(strings.ToLower(s), "-")
	if s = strings.Trim(s[:min(len(s), 60)], "-"); s == "" {
		return "a word such as code-2"
	}
	return s
}
