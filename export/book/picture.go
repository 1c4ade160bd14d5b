package book

import (
	"bytes"
	"html/template"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"maskloft/export/sheet"

	g "maskloft/geometry"
)

var (
	svgHead = regexp.MustCompile(`(?s)^.*?<svg xmlns="[^"]*" version="1.1" width="[^"]*" height="[^"]*"`)
	svgID   = regexp.MustCompile(` id="([^"]*)"`)
	svgFine = regexp.MustCompile(`-?\d+\.\d{3,}`)
)

// Inline returns a sheet as an SVG element to stand in a page: ids begin with a
// prefix, so that many can stand in one, and a title names the picture.
func Inline(s sheet.Sheet, prefix string) (template.HTML, error) {
	var b bytes.Buffer
	if err := sheet.WriteSVG(&b, s, sheet.Px96); err != nil {
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

// Bare returns a drawing for a page that has its own frame: some layers left out, and
// the sheet cut to what is left, with a margin of so many inches.
func Bare(s sheet.Sheet, margin float64, without ...string) sheet.Sheet {
	out := s
	out.Layers = nil
	var box g.Rect
	first := true
	for _, l := range s.Layers {
		if slices.Contains(without, l.Name) {
			continue
		}
		out.Layers = append(out.Layers, l)
		for _, it := range l.Items {
			if b := it.Outline().Bounds(); first {
				box, first = b, false
			} else {
				box = box.Union(b)
			}
		}
	}
	if first {
		return out
	}
	shift := g.Vec{X: margin - box.Min.X, Y: margin - box.Min.Y}
	for i, l := range out.Layers {
		moved := sheet.Layer{Name: l.Name}
		for _, it := range l.Items {
			moved.Items = append(moved.Items, it.Moved(shift))
		}
		out.Layers[i] = moved
	}
	out.Width, out.Height = box.Width()+2*margin, box.Height()+2*margin
	return out
}
