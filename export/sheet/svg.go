package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"

	g "maskloft/geometry"
)

// Flavour says what one unit of an SVG's viewBox is. Every flavour states the
// same size in width and height, and is the same drawing; they differ in what a
// program makes of the file that does not look at width and height, and takes
// the units for its own (common practice, no source).
type Flavour int

// Flavours. A CSS inch is 96 px and 72 pt (CSS Values and Units 3, clause 6.2,
// absolute lengths; from memory); 90 px was the habit of drawing programs before.
const (
	Px96 Flavour = iota // 96 units to the inch; the default
	Pt72                // 72 units to the inch
	Px90                // 90 units to the inch
	MM                  // width, height and units in millimetres
)

// flavours hold, by Flavour: the name, tenths of a unit to the inch, and the
// decimals of a coordinate, such that half a last place is less than 1e-6 in.
var flavours = []struct {
	name     string
	tenths   int64
	decimals int
}{
	Px96: {"px96", 960, 4},
	Pt72: {"pt72", 720, 4},
	Px90: {"px90", 900, 4},
	MM:   {"mm", 254, 5},
}

func (f Flavour) known() bool { return f >= 0 && int(f) < len(flavours) }

// String returns the name that [ParseFlavour] reads.
func (f Flavour) String() string {
	if !f.known() {
		return fmt.Sprintf("flavour %d", int(f))
	}
	return flavours[f].name
}

// ParseFlavour reads the name of a flavour: px96, pt72, px90 or mm.
func ParseFlavour(name string) (Flavour, error) {
	var names []string
	for i, f := range flavours {
		if f.name == name {
			return Flavour(i), nil
		}
		names = append(names, f.name)
	}
	return 0, fmt.Errorf("svg units %q: unknown: write one of %s", name, strings.Join(names, ", "))
}

// svgFrame carries inches of a sheet, y up, to the units of a viewBox, y down.
type svgFrame struct {
	height, units float64 // of the page in inches; units to the inch
	decimals      int
}

// point writes p. The page is turned over here and nowhere else.
func (f svgFrame) point(p g.Point) string { return string(f.append(nil, p)) }

func (f svgFrame) append(to []byte, p g.Point) []byte {
	to = append(g.AppendNumber(to, p.X*f.units, f.decimals), ' ')
	return g.AppendNumber(to, (f.height-p.Y)*f.units, f.decimals)
}

// length writes a length of so many inches.
func (f svgFrame) length(inches float64) string { return g.FormatNumber(inches*f.units, f.decimals) }

// WriteSVG writes the sheet at true size, SVG 1.1. The size of the page is
// rounded to 1e-6 in, so that width and height and the viewBox agree exactly in
// their proportion; coordinates are rounded by less than 1e-6 in. Each layer is
// a group whose id is made from its name and whose title is its name. A sheet
// that cannot be drawn as it stands is an error, and nothing is written.
func WriteSVG(w io.Writer, s Sheet, flavour Flavour) error { return writeSVG(w, s, flavour, false) }

// WriteWordedSVG writes the sheet as [WriteSVG] does, at 96 units to the inch, but its
// lines of text as text and not as outlines: for a sheet that is looked at, not cut. A
// line takes a hundredth of the room and can be searched; a program that has not the
// font sets it in another, at the same width if it heeds textLength.
func WriteWordedSVG(w io.Writer, s Sheet) error { return writeSVG(w, s, Px96, true) }

func writeSVG(w io.Writer, s Sheet, flavour Flavour, worded bool) error {
	if !flavour.known() {
		return fmt.Errorf("sheet %q: %s is unknown", s.Title, flavour)
	}
	if err := s.Check(); err != nil {
		return err
	}
	kind := flavours[flavour]
	frame := svgFrame{math.Round(s.Height*1e6) / 1e6, float64(kind.tenths) / 10, kind.decimals}
	sizeIn := func(inches float64) string { return decimal(int64(math.Round(inches*1e6)), 6) }
	sizeUnits := func(inches float64) string { return decimal(int64(math.Round(inches*1e6))*kind.tenths, 7) }
	width, height := sizeIn(s.Width)+"in", sizeIn(s.Height)+"in"
	if flavour == MM {
		width, height = sizeUnits(s.Width)+"mm", sizeUnits(s.Height)+"mm"
	}
	var b bytes.Buffer
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="%s" height="%s" viewBox="0 0 %s %s">`+"\n",
		width, height, sizeUnits(s.Width), sizeUnits(s.Height))
	fmt.Fprintf(&b, "<title>%s</title>\n", escaped(s.Title))
	ids := svgIDs{}
	for _, l := range s.Layers {
		fmt.Fprintf(&b, `<g id="%s" fill-rule="evenodd">`+"\n<title>%s</title>\n", ids.from(l.Name, "layer"), escaped(l.Name))
		for _, it := range l.Items {
			if worded && it.Says != nil {
				frame.saying(&b, *it.Says, it.Ink.Fill)
				continue
			}
			for _, d := range it.Drawings() {
				frame.item(&b, d, ids)
			}
		}
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	_, err := w.Write(b.Bytes())
	return err
}

// item writes one path element; an item without contours writes nothing.
func (f svgFrame) item(b *bytes.Buffer, it Item, ids svgIDs) {
	if len(it.Path) == 0 {
		return
	}
	b.WriteString("<path")
	attr := func(name, value string) { fmt.Fprintf(b, ` %s="%s"`, name, value) }
	if it.ID != "" {
		attr("id", ids.from(it.ID, "item"))
	}
	if it.Ink.Fill == "" {
		attr("fill", "none")
	} else {
		attr("fill", it.Ink.Fill)
	}
	if it.Ink.Stroke != "" {
		attr("stroke", it.Ink.Stroke)
		attr("stroke-width", f.length(it.Ink.Width))
		if len(it.Ink.Dash) > 0 {
			var parts []string
			for _, d := range it.Ink.Dash {
				parts = append(parts, f.length(d))
			}
			attr("stroke-dasharray", strings.Join(parts, " "))
		}
		if it.Ink.Round {
			attr("stroke-linejoin", "round")
		}
	}
	b.WriteString(` d="`)
	for i, c := range it.Path {
		if i > 0 {
			b.WriteByte(' ')
		}
		f.contour(b, c)
	}
	b.WriteString("\"/>\n")
}

// capOfEm is the height of a capital as a part of the size of letters of Go Regular, and
// within 0.02 of it of the sans-serif letters that stand in for it.
const capOfEm = 0.72

// saying writes one text element.
func (f svgFrame) saying(b *bytes.Buffer, s Saying, fill string) {
	weight := ""
	if s.Bold {
		weight = ` font-weight="700"`
	}
	at := func(v float64) string { return g.FormatNumber(v*f.units, 2) } // a hundredth of 1/96 in is finer than is seen
	fmt.Fprintf(b, `<text x="%s" y="%s" font-family="Go,Arial,sans-serif" font-size="%s"%s textLength="%s" lengthAdjust="spacingAndGlyphs" fill="%s">%s</text>`+"\n",
		at(s.At.X), at(f.height-s.At.Y), at(s.Cap/capOfEm), weight, at(s.Width), fill, escaped(s.Text))
}

// contour writes the commands of one contour: absolute M, L, C and Z. The line
// that Z draws is left out before it.
func (f svgFrame) contour(b *bytes.Buffer, c g.Contour) {
	put := func(command string, points ...g.Point) {
		to := append(b.AvailableBuffer(), command...)
		for i, p := range points {
			if i > 0 {
				to = append(to, ' ')
			}
			to = f.append(to, p)
		}
		b.Write(to)
	}
	put("M", c.Start)
	for i, s := range c.Segments {
		switch {
		case s.Kind == g.Cubic:
			put(" C", s.C1, s.C2, s.End)
		case c.Closed() && i == len(c.Segments)-1 && f.point(c.From(i)) != f.point(s.End):
		default:
			put(" L", s.End)
		}
	}
	if c.Closed() {
		put(" Z")
	}
}

// svgIDs are the ids given out in one file.
type svgIDs map[string]bool

// from makes an id from a name: letters and digits stay, runs of anything else
// become a hyphen. An id starts with a letter, and none is given out twice.
func (ids svgIDs) from(name, kind string) string {
	id := ""
	for _, r := range name {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '_', r == '.':
			id += string(r)
		case id != "" && !strings.HasSuffix(id, "-"):
			id += "-"
		}
	}
	id = strings.TrimSuffix(id, "-")
	if id == "" || !(id[0] >= 'a' && id[0] <= 'z' || id[0] >= 'A' && id[0] <= 'Z') {
		id = strings.TrimSuffix(kind+"-"+id, "-")
	}
	free := id
	for n := 2; ids[free]; n++ {
		free = fmt.Sprintf("%s-%d", id, n)
	}
	ids[free] = true
	return free
}

// decimal writes n / 10^places exactly; n is not negative.
func decimal(n int64, places int) string {
	text := fmt.Sprintf("%0*d", places+1, n)
	whole, part := text[:len(text)-places], strings.TrimRight(text[len(text)-places:], "0")
	if part == "" {
		return whole
	}
	return whole + "." + part
}

// escaped returns text fit to stand in an element or an attribute.
func escaped(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a Builder does not fail
	return b.String()
}
