package book

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// StrainPicture draws where a film is strained, in the flat as seen from outside: areas of
// the larger principal strain by size, each with its level, with the outline of the paint
// over them. Full is what the ends of the ladder of colours stand for. The view in three
// dimensions draws the same element.
func StrainPicture(l masks.Laid, full float64) (svg template.HTML, says string) {
	field := l.Field
	long := math.Max(field.Width(), field.Height())
	cap := float64(0.024 * long)
	n := func(v float64) string { return g.FormatNumber(v, 2) }
	id := template.HTMLEscapeString(l.ID())
	var b, words strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="strain of %s" id="strain-%s" viewBox="%s %s %s %s"><g transform="scale(1 -1)" fill-rule="evenodd"><path fill="%s" d="M%s %sh%sv%sh-%sz"/>`,
		id, id, n(field.Min.X), n(-field.Max.Y), n(field.Width()), n(field.Height()), views.StrainColour(0), n(field.Min.X), n(field.Min.Y), n(field.Width()), n(field.Height()), n(field.Width()))
	for _, a := range views.StrainAreas(l, views.BothStrains, full, cap) {
		fmt.Fprintf(&b, `<path class="iso" fill="%s" d="%s"/>`, a.Colour, ringData(a.Region, long/2000))
		for _, label := range a.Labels {
			fmt.Fprintf(&words, `<text x="%s" y="%s">%s</text>`, n(label.Box.Centre().X), n(-label.Box.Min.Y), label.Text)
		}
	}
	for _, r := range l.Regions {
		d := pathData(r.Outline)
		fmt.Fprintf(&b, `<path class="under" d="%s"/><path class="over" d="%s"/>`, d, d)
	}
	fmt.Fprintf(&b, `</g><g class="levels" font-size="%s">%s</g></svg>`, n(cap/capOfEm), words.String())
	return template.HTML(b.String()), fmt.Sprintf("squeezed (-, dark) at most %s, stretched (+, light) at most %s", masks.Percent(l.Strain.Compression), masks.Percent(l.Strain.Tension))
}

// ringData writes closed chords as SVG path data by steps, to hundredths, without points
// that lie within so much of a straight line.
func ringData(p g.Path, fine float64) string {
	var b strings.Builder
	n := func(v int) string {
		text := g.FormatNumber(float64(v)/100, 2)
		if sign := strings.TrimPrefix(text, "-"); strings.HasPrefix(sign, "0.") {
			text = text[:len(text)-len(sign)] + sign[1:]
		}
		return text
	}
	step := func(x, y int) {
		b.WriteString(n(x))
		if y >= 0 {
			b.WriteByte(' ')
		}
		b.WriteString(n(y))
	}
	for _, c := range p {
		line := []g.Vec3{{X: c.Start.X, Y: c.Start.Y}}
		for _, s := range c.Segments {
			line = append(line, g.Vec3{X: s.End.X, Y: s.End.Y})
		}
		pts := flatLineWithin(line, fine)
		x, y := 0, 0
		for i := 0; i < len(pts); i += 3 {
			px, py := int(math.Round(pts[i]*100)), int(math.Round(pts[i+1]*100))
			switch {
			case i == 0:
				b.WriteByte('M')
				step(px, py)
			case i == 3:
				b.WriteByte('l')
				step(px-x, py-y)
			default:
				if px >= x {
					b.WriteByte(' ')
				}
				step(px-x, py-y)
			}
			x, y = px, py
		}
		b.WriteByte('z')
	}
	return b.String()
}
