package book

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"html/template"
	"io"
	"regexp"
	"strings"
	"sync"
)

//go:generate go run ./pack

// The page: its text, its style sheets and its scripts.
//
//go:embed page
var pageFiles embed.FS

// Scripts of the page in the order in which they are put together. Those that end in .mjs
// are modules that need no page and are used by others too; names are the same nowhere.
var (
	pageScripts  = []string{"tails.mjs", "solve.mjs", "causes.mjs", "adjust.mjs", "film.mjs", "lengths.mjs", "state.mjs", "hits.mjs", "placing.mjs", "place.mjs", "book.js", "keep.js", "ticks.js", "drawing.js", "search.js", "phone.js", "solid.js"}
	sceneScripts = []string{"palette.mjs", "sceneparts.js", "scene.js"}
	pageStyles   = []string{"book.css", "parts.css", "place.css", "print.css"}
)

func pageFile(name string) string {
	data, err := pageFiles.ReadFile("page/" + name)
	if err != nil {
		panic(err) // it is embedded
	}
	return string(data)
}

func joined(names []string) string {
	var b strings.Builder
	for _, name := range names {
		b.WriteString(bare(pageFile(name)))
	}
	return b.String()
}

var (
	moduleImport = regexp.MustCompile(`(?m)^import .*\n`)
	moduleExport = regexp.MustCompile(`(?m)^export `)
	lineComment  = regexp.MustCompile(`(?m)^[ \t]*//.*\n`)
	leading      = regexp.MustCompile(`(?m)^[ \t]+`)
)

// bare takes out of a module what makes it one, and of any script its comment lines and
// indents. No script has a text over several lines.
func bare(script string) string {
	script = moduleExport.ReplaceAllString(moduleImport.ReplaceAllString(script, ""), "")
	return leading.ReplaceAllString(lineComment.ReplaceAllString(script, ""), "")
}

// hashed is what a content security policy calls a text by.
func hashed(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// unpacked undoes gzip.
func unpacked(data string) string {
	z, err := gzip.NewReader(strings.NewReader(data))
	if err != nil {
		panic(err) // it is embedded
	}
	text, err := io.ReadAll(z)
	if err != nil {
		panic(err)
	}
	return string(text)
}

// parts are what every book has alike.
type pageParts struct {
	code, scene, style, policy string
	packed                     string // three.js, gzip as base64
	template                   *template.Template
}

var parts = sync.OnceValue(func() pageParts {
	p := pageParts{
		code: "'use strict';\n(() => {\n" + joined(pageScripts) + "})();\n", scene: "'use strict';\n(() => {\n" + joined(sceneScripts) + "})();\n",
		style: joined(pageStyles), packed: base64.StdEncoding.EncodeToString([]byte(pageFile("three-0.187.0.min.js.gz"))),
	}
	library := unpacked(pageFile("three-0.187.0.min.js.gz"))
	// nothing is fetched, framed or sent; only these scripts and this style are run
	p.policy = "default-src 'none'; script-src " + hashed(p.code) + " " + hashed(library) + " " + hashed(p.scene) +
		"; style-src " + hashed(p.style) + "; img-src data: blob:; base-uri 'none'; form-action 'none'"
	p.template = template.Must(template.New("book").Funcs(template.FuncMap{
		"policy":  func() string { return p.policy },
		"style":   func() template.CSS { return template.CSS(p.style) },
		"code":    func() template.JS { return template.JS(p.code) },
		"licence": func() string { return pageFile("three-LICENSE.txt") },
		"library": func() template.HTML { return template.HTML(p.packed) },
		"scene":   func() template.HTML { return template.HTML(p.scene) }, // of a type that no browser runs
		"good":    func(b bool) string { return map[bool]string{true: "good", false: "stop"}[b] },
		"json": func(v any) template.JS {
			data, err := json.Marshal(v)
			if err != nil {
				panic(err) // of texts alone
			}
			return template.JS(data)
		},
	}).Parse(pageFile("book.html")))
	template.Must(p.template.Parse(pageFile("marking.html")))
	return p
})

// Write writes the job book as one HTML file.
func Write(w io.Writer, b Book) error {
	var page bytes.Buffer
	if err := parts().template.Execute(&page, b); err != nil {
		return err
	}
	_, err := w.Write(page.Bytes())
	return err
}
