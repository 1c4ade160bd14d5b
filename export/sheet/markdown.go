package sheet

import "strings"

// markdownSigns mean something in Markdown wherever they stand in a line (CommonMark
// 0.31, chapter 6; the last two in tables and in struck text of GitHub's form of it).
const markdownSigns = "\\`*_[]<>|~"

// Markdown writes a text so that Markdown shows it as it is: on one line, with a
// backslash before each sign that would mark it up, and before what would begin a
// heading, a list or a quotation where the text begins a line.
func Markdown(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	begins := beginsBlock(text)
	var b strings.Builder
	for i, r := range text {
		if strings.ContainsRune(markdownSigns, r) || i == begins || r == '&' && strings.IndexFunc(text[i+1:], isEntity) == 0 {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// beginsBlock is the byte of the sign by which a text begins a heading, a rule, a list or
// a numbered list; -1 for none (CommonMark 0.31, 4.1 to 4.3 and 5.2).
func beginsBlock(text string) int {
	if strings.IndexAny(text, "#+-=") == 0 {
		return 0
	}
	rest := strings.TrimLeft(text, "0123456789")
	if at := len(text) - len(rest); at > 0 && rest != "" && (rest[0] == '.' || rest[0] == ')') && (len(rest) == 1 || rest[1] == ' ') {
		return at
	}
	return -1
}

// isEntity tells whether a sign right after & may begin an entity such as &lt;.
func isEntity(r rune) bool { return r == '#' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' }

// MarkdownText is the text that a line of Markdown with backslashes shows.
func MarkdownText(line string) string {
	var b strings.Builder
	for i := 0; i < len(line); i++ {
		if line[i] == '\\' && i+1 < len(line) && strings.IndexByte(markdownSigns+"&#+-.)=", line[i+1]) >= 0 {
			i++
		}
		b.WriteByte(line[i])
	}
	return b.String()
}
