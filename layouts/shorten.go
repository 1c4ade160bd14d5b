package layouts

func ShortenTo(most int, s string) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most-3]) + "..."
	}
	return s
}
