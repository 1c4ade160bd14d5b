package book

import (
	"html/template"
	"strings"

	"maskloft/export/sheet"
)

// DossierHTML turns what [Dossier] writes into HTML: headings, lists and paragraphs,
// one line each, which is all it uses.
func DossierHTML(markdown []byte) template.HTML {
	var b strings.Builder
	list := false
	close := func() {
		if list {
			b.WriteString("</ul>\n")
			list = false
		}
	}
	for _, line := range strings.Split(string(markdown), "\n") {
		text := template.HTMLEscapeString(sheet.MarkdownText(strings.TrimSpace(strings.TrimLeft(line, "#- "))))
		switch {
		case strings.HasPrefix(line, "# "): // the page has its own
			close()
		case strings.HasPrefix(line, "## "):
			close()
			b.WriteString("<h3>" + text + "</h3>\n")
		case strings.HasPrefix(line, "- "):
			if !list {
				b.WriteString("<ul>\n")
				list = true
			}
			b.WriteString("<li>" + text + "</li>\n")
		case text != "":
			close()
			b.WriteString("<p>" + text + "</p>\n")
		}
	}
	close()
	return template.HTML(b.String())
}
