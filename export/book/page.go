package book

import (
	_ "embed"
	"html/template"
	"io"
	"strings"
)

// The page, its parts, its style sheets and its scripts.
var (
	//go:embed page/book.html
	bookPage string
	//go:embed page/marking.html
	bookMarkingPart string
	//go:embed page/book.css
	bookStyle string
	//go:embed page/parts.css
	bookPartsStyle string
	//go:embed page/print.css
	bookPrintStyle string
	//go:embed page/book.js
	bookCode string
	//go:embed page/drawing.js
	drawingCode string
	//go:embed page/search.js
	searchCode string
	//go:embed page/ticks.js
	ticksCode string
	//go:embed page/scene.js
	sceneCode string
	//go:embed page/sceneparts.js
	scenePartsCode string
	//go:embed page/three-0.187.0.min.js
	threeCode string
	//go:embed page/three-LICENSE.txt
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

// Write writes the job book as one HTML file.
func Write(w io.Writer, b Book) error { return bookTemplate.Execute(w, b) }
