//go:build !js

package bench

import (
	"embed"

	"maskloft/glyphs"
)

// built is what go generate makes: the script of the page, which stands in the tree, and
// the engine as WebAssembly, which does not: see build.go.
//
//go:embed built page/index.html page/page.css
var built embed.FS

// asset returns a file of the page and its type.
func asset(name string) (data []byte, kind string, ok bool) {
	var err error
	switch name {
	case "index.html":
		kind = "text/html; charset=utf-8"
		data, err = built.ReadFile("page/index.html")
	case "page.css":
		kind = "text/css; charset=utf-8"
		data, err = built.ReadFile("page/page.css")
	case "page.js":
		kind = "text/javascript; charset=utf-8"
		data, err = built.ReadFile("built/page.js")
	case "go-regular.ttf", "go-bold.ttf":
		kind = "font/ttf"
		data, _ = glyphs.LabelFont(name == "go-bold.ttf")
	default:
		return nil, "", false
	}
	return data, kind, err == nil
}
