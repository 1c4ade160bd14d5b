package book

import (
	"fmt"
	"html/template"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// runRow is how much of the web one row of the picture shows, in widths of the web.
const runRow = 4.0

// RunPicture draws how the films lie on the web for a screen: rows of the run, each film
// as its rectangle with its number, all numbers of one size. What the numbers stand for is
// the list of films.
func RunPicture(run masks.Run) (template.HTML, error) {
	web, length := run.Web.Inches(), run.Length.Inches()
	if web <= 0 || length <= 0 {
		return "", nil
	}
	long := min(length, runRow*web)
	rows := int(length/long + 0.999)
	gap := float64(0.1 * web)
	edge := (web - run.Usable.Inches()) / 2
	size := 0.03 * long // of the numbers; the picture is as wide as the page
	n := func(v float64) string { return g.FormatNumber(v, 2) }
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="run" role="img" aria-label="films on the web" viewBox="0 0 %s %s">`, n(long), n(float64(float64(rows)*(web+gap))-gap))
	for row := range rows {
		from, y := float64(float64(row)*long), float64(float64(row)*(web+gap))
		to := min(length, from+long)
		fmt.Fprintf(&b, `<g><rect class="web" x="0" y="%s" width="%s" height="%s"/><rect class="usable" x="0" y="%s" width="%s" height="%s"/>`, n(y), n(to-from), n(web), n(y+edge), n(to-from), n(run.Usable.Inches()))
		for _, f := range run.Films {
			if f.Rect.Max.X <= from || f.Rect.Min.X >= to {
				continue
			}
			lo, hi := max(from, f.Rect.Min.X)-from, min(to, f.Rect.Max.X)-from
			fmt.Fprintf(&b, `<rect class="film" x="%s" y="%s" width="%s" height="%s"/>`, n(lo), n(y+web-f.Rect.Max.Y), n(hi-lo), n(f.Rect.Height()))
			fmt.Fprintf(&b, `<text x="%s" y="%s" font-size="%s">%d</text>`, n((lo+hi)/2), n(y+web-f.Rect.Centre().Y+float64(0.35*size)), n(size), f.Number)
		}
		b.WriteString("</g>")
	}
	b.WriteString("</svg>")
	return template.HTML(b.String()), nil
}
