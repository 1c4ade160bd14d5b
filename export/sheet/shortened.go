package sheet

// Shortened cuts a text that is wider than it may be, and shows that it did.
func Shortened(s Lettering, text string, width float64) string {
	if s.Width(text) <= width {
		return text
	}
	r := []rune(text)
	for len(r) > 1 && s.Width(string(r)+"...") > width {
		r = r[:len(r)-1]
	}
	return string(r) + "..."
}
