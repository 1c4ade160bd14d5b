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
	svgWord = regexp.MustCompile(`<path id="word-(\d+)"[^>]*/>`)
	svgFine = regexp.MustCompile(`-?\d+\.\d{2,}`)
)

// Inline returns a sheet as an SVG element to stand in a page: ids begin with a
// prefix, so that many can stand in one, and a title names the picture.
func Inline(s sheet.Sheet, prefix string) (template.HTML, error) {
	var b bytes.Buffer
	s, words := wordsApart(s)
	if err := sheet.WriteSVG(&b, s, sheet.Px96); err != nil {
		return "", err
	}
	text := svgHead.ReplaceAllString(b.String(), `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="`+template.HTMLEscapeString(s.Title)+`"`)
	text = svgWord.ReplaceAllStringFunc(text, func(path string) string {
		i, err := strconv.Atoi(svgWord.FindStringSubmatch(path)[1])
		if err != nil || i >= len(words) {
			return path
		}
		return words[i]
	})
	text = svgID.ReplaceAllString(text, ` id="`+prefix+`-$1"`)
	// a tenth of 1/96 in is finer than a screen shows, near as well: a sheet is 17 in wide
	text = svgFine.ReplaceAllStringFunc(text, func(n string) string {
		v, err := strconv.ParseFloat(n, 64)
		if err != nil {
			return n
		}
		return g.FormatNumber(v, 1)
	})
	return template.HTML(text), nil
}

// wordsApart takes the lines of text out of a sheet, each with the halo that stands before
// it, and puts a short line with a number for its id in their place; words are the texts
// as elements of the picture. Text takes a twentieth of the room of its outlines, can be
// searched, and its halo has round joins.
func wordsApart(s sheet.Sheet) (sheet.Sheet, []string) {
	var words []string
	layers := make([]sheet.Layer, len(s.Layers))
	for i, l := range s.Layers {
		layers[i] = sheet.Layer{Name: l.Name}
		for k, it := range l.Items {
			if it.Says == nil {
				layers[i].Items = append(layers[i].Items, it)
				continue
			}
			halo := ""
			if k > 0 {
				before := l.Items[k-1]
				if a, b := before.Outline().Bounds(), it.Outline().Bounds(); before.Ink.Fill == "" && before.Ink.Stroke != "" && a.Min.Dist(b.Min) < 1e-9 && a.Max.Dist(b.Max) < 1e-9 {
					halo = ` class="halo"`
					layers[i].Items = layers[i].Items[:len(layers[i].Items)-1]
				}
			}
			at, weight := Pixels(s, it.Says.At), ""
			if it.Says.Bold {
				weight = ` font-weight="700"`
			}
			n := func(v float64) string { return g.FormatNumber(v, 1) }
			layers[i].Items = append(layers[i].Items, sheet.Item{ID: "word-" + strconv.Itoa(len(words)), Path: g.Path{g.Polyline(it.Says.At, it.Says.At.Add(g.Vec{X: 0.01}))}, Ink: sheet.Ink{Stroke: "#000000", Width: 0.01}})
			words = append(words, `<text`+halo+weight+` x="`+n(at.X)+`" y="`+n(at.Y)+`" font-size="`+n(it.Says.Cap*96/capOfEm)+`" textLength="`+n(it.Says.Width*96)+`" lengthAdjust="spacingAndGlyphs" fill="`+it.Ink.Fill+`">`+template.HTMLEscapeString(it.Says.Text)+`</text>`)
		}
	}
	out := s
	out.Layers = layers
	return out, words
}

// capOfEm is the height of a capital as a part of the size of common sans-serif letters.
const capOfEm = 0.72

// Linked makes every drawn region of a marking a link to its part of the page. The
// picture is then a group of links, each with a name.
func Linked(svg template.HTML, prefix string, markings []string) template.HTML {
	text := strings.Replace(string(svg), `role="img"`, `role="group"`, 1)
	known := map[string]bool{}
	for _, id := range markings {
		known[id] = true
	}
	of := func(line string) string { // the marking whose region the line draws, or none
		id, ours := strings.CutPrefix(line, `<path id="`+prefix+"-")
		id, _, whole := strings.Cut(id, `"`)
		at := strings.LastIndexByte(id, '-')
		if !ours || !whole || at < 0 || !known[id[:at]] || strings.Trim(id[at+1:], "0123456789") != "" || at+1 == len(id) {
			return ""
		}
		return id[:at]
	}
	var out strings.Builder
	open := ""
	for line := range strings.Lines(text) {
		id := of(line)
		if id != open {
			if open != "" {
				out.WriteString("</a>\n")
			}
			if id != "" {
				out.WriteString(`<a href="#m-` + id + `" aria-label="marking ` + id + `">`)
			}
			open = id
		}
		out.WriteString(line)
	}
	if open != "" {
		out.WriteString("</a>\n")
	}
	return template.HTML(out.String())
}

// Bare returns a drawing for a page that has its own frame: some layers left out, and
// the sheet cut to what is left, with a margin of so many inches; and by how much
// everything on the sheet was moved.
func Bare(s sheet.Sheet, margin float64, without ...string) (sheet.Sheet, g.Vec) {
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
		return out, g.Vec{}
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
	return out, shift
}

// Pixels turns a place on a sheet into the units of its picture, y down.
func Pixels(s sheet.Sheet, p g.Point) g.Point {
	return g.Point{X: p.X * 96, Y: (s.Height - p.Y) * 96}
}
