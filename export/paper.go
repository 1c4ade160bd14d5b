package export

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/glyphs"
)

// Paper is what a document for people is printed on. Sizes are in inches.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers that shops have (ANSI/ASME Y14.1, size A; ISO 216, A4; from memory).
var (
	Letter = Paper{Name: "Letter", Width: 8.5, Height: 11}
	A4     = Paper{Name: "A4", Width: 210 / 25.4, Height: 297 / 25.4}
)

// ParsePaper reads the name of a paper.
func ParsePaper(name string) (Paper, error) {
	for _, p := range []Paper{Letter, A4} {
		if strings.EqualFold(p.Name, strings.TrimSpace(name)) {
			return p, nil
		}
	}
	return Paper{}, fmt.Errorf("paper %q is unknown: write letter or a4", name)
}

// lettering is how a line of a document is set: the height of its capitals in
// inches, and its ink.
type lettering struct {
	cap   float64
	bold  bool
	ink   Ink
	dense bool // lines lie closer, for the cells of a full table
}

// pointCap is the height of a capital of one point, in inches: capitals of the
// embedded font are [glyphs.LabelCap] of the em.
const pointCap = glyphs.LabelCap / g.PointsPerInch

// Letterings of documents. Nothing is smaller than 9 points, and numbers that are
// read at arm's length are 14 points and more (common practice, no source).
var (
	setTitle   = lettering{cap: 17 * pointCap, bold: true, ink: inkText}
	setHeading = lettering{cap: 12 * pointCap, bold: true, ink: inkText}
	setBody    = lettering{cap: 9.5 * pointCap, ink: inkText}
	setStrong  = lettering{cap: 9.5 * pointCap, bold: true, ink: inkText}
	setSoft    = lettering{cap: 9 * pointCap, ink: inkTextSoft}
	setNumber  = lettering{cap: 14 * pointCap, bold: true, ink: inkText}
)

// width returns the width of a line set so, in inches.
func (s lettering) width(text string) float64 {
	return glyphs.LabelWidth(text, s.cap, s.bold)
}

// leading is the distance between the baselines of two lines, in inches.
func (s lettering) leading() float64 {
	if s.dense {
		return 1.78 * s.cap
	}
	return 2.05 * s.cap
}

// ofPrint rounds to a twentieth of a point, finer than a printer's dot: letters are most
// of a document, and so are their digits of its file.
func ofPrint(p g.Point) g.Point {
	const grid = 20 * g.PointsPerInch
	return g.Point{X: math.Round(p.X*grid) / grid, Y: math.Round(p.Y*grid) / grid}
}

// at sets a line with its baseline at y, and x at its left end (align 0), middle
// (0.5) or right end (1).
func (s lettering) at(text string, x, y, align float64) Item {
	w := s.width(text)
	return Item{Ink: s.ink, Says: &Saying{Text: text, At: g.Point{X: x - align*w, Y: y}, Cap: s.cap, Width: w, Bold: s.bold}}
}

// wrap breaks a text into lines no wider than width, in inches, at blanks; a
// word wider than that is broken where it must. Line feeds are kept.
func (s lettering) wrap(text string, width float64) []string {
	var out []string
	for _, paragraph := range strings.Split(text, "\n") {
		line := ""
		for _, word := range strings.Fields(paragraph) {
			switch {
			case line != "" && s.width(line+" "+word) <= width:
				line += " " + word
				continue
			case line != "":
				out = append(out, line)
			}
			for line = word; s.width(line) > width && len([]rune(line)) > 1; {
				r := []rune(line)
				n := len(r) - 1
				for n > 1 && s.width(string(r[:n])) > width {
					n--
				}
				out, line = append(out, string(r[:n])), string(r[n:])
			}
		}
		out = append(out, line)
	}
	return out
}

// in sets a wrapped text into a box from its upper edge down, and returns the
// height it took, which may be more than the box has.
func (s lettering) in(box g.Rect, text string, align float64) (items []Item, height float64) {
	x := box.Min.X + align*box.Width()
	y := box.Max.Y
	for _, line := range s.wrap(text, box.Width()) {
		items = append(items, s.at(line, x, y-1.45*s.cap, align))
		y -= s.leading()
	}
	return items, box.Max.Y - y
}

// fitTo returns the lettering made smaller until a text fits a width, if it then is no
// smaller than leastCap.
func (s lettering) fitTo(text string, width float64) lettering {
	if w := s.width(text); w > width {
		s.cap = math.Max(math.Min(s.cap, leastCap), s.cap*width/w*0.999)
	}
	return s
}

// cutTo returns a text cut to a width, with dots where something is left out.
func (s lettering) cutTo(text string, width float64) string {
	r := []rune(text)
	for n := len(r); n > 0; n-- {
		cut := string(r[:n])
		if n < len(r) {
			cut += "..."
		}
		if s.width(cut) <= width {
			return cut
		}
	}
	return ""
}

// leastCap is the height of the smallest capitals of a view, in inches.
const leastCap = 0.1
