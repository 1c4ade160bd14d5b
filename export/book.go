package export

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"strconv"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Book is the job book: everything of a pack on one page that needs no network.
type Book struct {
	Title, Aircraft, Frame string
	Facts                  []BookRow
	Findings               []layouts.Finding
	Views                  []BookPicture
	Markings               []BookMarking
	Run                    BookPicture
	RunWords               string
	Checks                 []CheckedDrawing
	Points                 []BookPoints
	Ticket                 []BookFilm
	Causes                 []Cause
	Dossier                template.HTML
	Cautions               []string
	Scene                  template.JS // what the view in three dimensions shows
}

// BookRow is a name and a value.
type BookRow struct{ Name, Value string }

// BookPicture is a drawing with its caption.
type BookPicture struct {
	ID, Title string
	SVG       template.HTML
}

// BookMarking is one marking on one side.
type BookMarking struct {
	ID, Name, Of string
	Rows         []BookRow
	Film         BookPicture
	Passes       []BookPass
	Strain       *BookPicture
}

// BookPass is one pass of a marking: the id of its layer in the picture of the film,
// and its files.
type BookPass struct {
	Layer, Name string
	Tiles       []BookTile
}

// BookTile is one file to cut.
type BookTile struct{ ID, SVG, PDF, Size, Pieces string }

// BookPoints is the tape list of one marking.
type BookPoints struct {
	Marking, Budget string
	Rows            []BookPoint
}

// BookPoint is one point to place.
type BookPoint struct {
	Step                                                int
	Label, First, Second, Crossing, Error, Check, Other string
}

// BookFilm is one film of the ticket.
type BookFilm struct {
	Number           int
	ID, Size, Pieces string
}

var (
	//go:embed book/book.html
	bookPage string
	//go:embed book/book.css
	bookStyle string
	//go:embed book/book.js
	bookCode string
	//go:embed book/scene.js
	sceneCode string
	//go:embed book/three-0.187.0.min.js
	threeCode string
)

var bookTemplate = template.Must(template.New("book").Funcs(template.FuncMap{
	"style": func() template.CSS { return template.CSS(bookStyle) },
	"code":  func() template.JS { return template.JS(bookCode) },
	"inert": func(which string) template.HTML {
		text := map[string]string{"lib": threeCode, "code": sceneCode}[which]
		// a script of a type that no browser runs; it may not hold its own end tag
		return template.HTML(strings.ReplaceAll(text, "</script", `<\/script`))
	},
	"level": func(f layouts.Finding) string { return string(f.Level) },
	"good":  func(b bool) string { return map[bool]string{true: "good", false: "stop"}[b] },
	"three": func(v float64) string { return fmt.Sprintf("%.3f", v+0) },
	"inches": func(r CheckedRow) [4]string {
		return [4]string{fmt.Sprintf("%.3f", tidyLength(r.Measured)), fmt.Sprintf("%.3f", tidyLength(r.Expected)), fmt.Sprintf("%+.3f", tidyLength(r.Difference)), fmt.Sprintf("%.3f", tidyLength(r.Tolerance))}
	},
}).Parse(bookPage))

// WriteBook writes the job book as one HTML file.
func WriteBook(w io.Writer, b Book) error { return bookTemplate.Execute(w, b) }

var (
	svgHead = regexp.MustCompile(`(?s)^.*?<svg xmlns="[^"]*" version="1.1" width="[^"]*" height="[^"]*"`)
	svgID   = regexp.MustCompile(` id="([^"]*)"`)
	svgFine = regexp.MustCompile(`-?\d+\.\d{3,}`)
)

// Inline returns a sheet as an SVG element to stand in a page: ids begin with a
// prefix, so that many can stand in one, and a title names the picture.
func Inline(s Sheet, prefix string) (template.HTML, error) {
	var b bytes.Buffer
	if err := WriteSVG(&b, s, Px96); err != nil {
		return "", err
	}
	text := svgHead.ReplaceAllString(b.String(), `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="`+template.HTMLEscapeString(s.Title)+`"`)
	text = svgID.ReplaceAllString(text, ` id="`+prefix+`-$1"`)
	// a hundredth of 1/96 in is finer than any screen
	text = svgFine.ReplaceAllStringFunc(text, func(n string) string {
		v, err := strconv.ParseFloat(n, 64)
		if err != nil {
			return n
		}
		return g.FormatNumber(v, 2)
	})
	return template.HTML(text), nil
}

// Linked makes every drawn region of a marking a link to its part of the page. The
// picture is then a group of links, each with a name.
func Linked(svg template.HTML, prefix string, markings []string) template.HTML {
	text := strings.Replace(string(svg), `role="img"`, `role="group"`, 1)
	for _, id := range markings {
		region := regexp.MustCompile(`(?s)(?:<path id="` + regexp.QuoteMeta(prefix+"-"+id) + `-\d+"[^>]*/>\n?)+`)
		text = region.ReplaceAllStringFunc(text, func(paths string) string {
			return `<a href="#m-` + id + `" aria-label="marking ` + id + `">` + paths + "</a>\n"
		})
	}
	return template.HTML(text)
}
