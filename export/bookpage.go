package export

import (
	_ "embed"
	"html/template"
	"io"
	"strings"
)

// The page, its parts, its style sheets and its scripts.
var (
	//go:embed book/book.html
	bookPage string
	//go:embed book/marking.html
	bookMarkingPart string
	//go:embed book/book.css
	bookStyle string
	//go:embed book/parts.css
	bookPartsStyle string
	//go:embed book/print.css
	bookPrintStyle string
	//go:embed book/book.js
	bookCode string
	//go:embed book/drawing.js
	drawingCode string
	//go:embed book/search.js
	searchCode string
	//go:embed book/ticks.js
	ticksCode string
	//go:embed book/scene.js
	sceneCode string
	//go:embed book/sceneparts.js
	scenePartsCode string
	//go:embed book/three-0.187.0.min.js
	threeCode string
	//go:embed book/three-LICENSE.txt
	threeLicence string
)

var bookTemplate = template.Must(template.Must(template.New("book").Funcs(template.FuncMap{
	"style":   func() template.CSS { return template.CSS(bookStyle + bookPartsStyle + bookPrintStyle) },
	"code":    func() template.JS { return template.JS(bookCode + drawingCode + searchCode + ticksCode) },
	"licence": func() string { return threeLicence },
	"inert": func(which string) template.HTML {
		text := map[string]string{"lib": threeCode, "code": scenePartsCode + sceneCode}[which]
		// a script of a type that no browser runs; it may not hold its own end tag
		return template.HTML(strings.ReplaceAll(text, "</script", `<\/script`))
	},
	"good": func(b bool) string { return map[bool]string{true: "good", false: "stop"}[b] },
}).Parse(bookPage)).Parse(bookMarkingPart))

// WriteBook writes the job book as one HTML file.
func WriteBook(w io.Writer, b Book) error { return bookTemplate.Execute(w, b) }
