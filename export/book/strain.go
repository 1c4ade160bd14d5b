package book

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// strainLadder are the colours of strain, from most squeezed to most stretched; see
// palette.mjs. The one in the middle is no strain.
var strainLadder = [7]string{"#10233d", "#23486b", "#4a7893", "#8e9f99", "#bdb88c", "#dccf93", "#f8efc4"}

// strainCells is how many cells a picture of strain has along its longer side.
const strainCells = 56

// StrainPicture draws where a film is strained, in the flat as seen from outside: the
// larger principal strain by size, in seven steps of one scale, with the outline of the
// paint over it. It says what the ends of the scale stand for.
func StrainPicture(l masks.Laid) (svg template.HTML, says string) {
	field := l.Field
	full := math.Max(1e-6, math.Max(l.Strain.Compression, l.Strain.Tension))
	size := math.Max(field.Width(), field.Height()) / strainCells
	n := func(v float64) string { return g.FormatNumber(v, 2) }
	step := func(x, y float64) int { // -1: no film
		at, ok := l.Map.StrainAt(g.Point{X: x, Y: y})
		if !ok {
			return -1
		}
		s := at.Most
		if -at.Least > at.Most {
			s = at.Least
		}
		part := math.Round(s/full*3*1e6) / 1e6 // on a grid, so that every processor rounds alike
		return int(math.Max(0, math.Min(6, math.Floor(part+0.5)+3)))
	}
	var runs [7]strings.Builder
	rows, cols := int(math.Ceil(field.Height()/size-1e-9)), int(math.Ceil(field.Width()/size-1e-9))
	for r := range rows {
		y := field.Min.Y + float64((float64(r)+0.5)*size)
		high := math.Min(size, field.Max.Y-field.Min.Y-float64(float64(r)*size))
		from, was := 0, -1
		for c := 0; c <= cols; c++ {
			now := -1
			if c < cols {
				now = step(field.Min.X+float64((float64(c)+0.5)*size), y)
			}
			if now == was {
				continue
			}
			if was >= 0 {
				x0, x1 := field.Min.X+float64(float64(from)*size), math.Min(field.Max.X, field.Min.X+float64(float64(c)*size))
				fmt.Fprintf(&runs[was], "M%s %sh%sv%sh%sz", n(x0), n(y-size/2), n(x1-x0), n(high), n(x0-x1))
			}
			from, was = c, now
		}
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="strain of %s" viewBox="%s %s %s %s"><g transform="scale(1 -1)" fill-rule="evenodd">`,
		template.HTMLEscapeString(l.ID()), n(field.Min.X), n(-field.Max.Y), n(field.Width()), n(field.Height()))
	for k := range runs {
		if runs[k].Len() > 0 {
			fmt.Fprintf(&b, `<path fill="%s" d="%s"/>`, strainLadder[k], runs[k].String())
		}
	}
	for _, r := range l.Regions {
		d := pathData(r.Outline)
		fmt.Fprintf(&b, `<path class="under" d="%s"/><path class="over" d="%s"/>`, d, d)
	}
	b.WriteString("</g></svg>")
	return template.HTML(b.String()), fmt.Sprintf("dark: squeezed, at most %s; light: stretched, at most %s; each step is %s", masks.Percent(l.Strain.Compression), masks.Percent(l.Strain.Tension), masks.Percent(full/3))
}
