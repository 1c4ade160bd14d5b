package export

// shortened cuts a text that is wider than it may be, and shows that it did.
func shortened(s lettering, text string, width float64) string {
	if s.width(text) <= width {
		return text
	}
	r := []rune(text)
	for len(r) > 1 && s.width(string(r)+"...") > width {
		r = r[:len(r)-1]
	}
	return string(r) + "..."
}
