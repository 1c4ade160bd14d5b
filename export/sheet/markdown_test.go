package sheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What CommonMark 0.31 marks up: 4.2 headings, 5.2 lists, 5.1 quotations, 6.2 emphasis,
// 6.3 links, 6.6 HTML, 6.1 code; tables and struck text of GitHub's specification, 4.10
// and 6.5.
func TestMarkdown(t *testing.T) {
	for text, want := range map[string]string{
		"FS 0 is the firewall; WL 0, positive up": "FS 0 is the firewall; WL 0, positive up",
		"# a heading":                 "\\# a heading",
		"- an item":                   "\\- an item",
		"1. an item":                  "1\\. an item",
		"1942) an item":               "1942\\) an item",
		"12.5 in":                     "12.5 in",
		"a 1. b - c + d #3":           "a 1. b - c + d #3",
		"> a quotation":               "\\> a quotation",
		"*strong*, _too_":             "\\*strong\\*, \\_too\\_",
		"[here](https://example)":     "\\[here\\](https://example)",
		"<script>alert(1)</script>":   "\\<script\\>alert(1)\\</script\\>",
		"Tarrow & Velling":            "Tarrow & Velling",
		"a | b":                       "a \\| b",
		"&lt; `code` ~~no~~ \\":       "\\&lt; \\`code\\` \\~\\~no\\~\\~ \\\\",
		"two\nlines\n\n## not a head": "two lines ## not a head",
	} {
		assert.Equal(t, want, Markdown(text))
		assert.Equal(t, Markdown(text), Markdown(MarkdownText(Markdown(text))), "the way back, of %q", text)
	}
	assert.Equal(t, "a_b \\ [x] 1. -", MarkdownText(Markdown("a_b \\ [x] 1. -")))
}
