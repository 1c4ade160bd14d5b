package sheet

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

// Lettering is how a line of a document is set: the height of its capitals in
// inches, and its ink.
type Lettering struct {
	Cap   float64
	Bold  bool
	Ink   Ink
	Dense bool // lines lie closer, for the cells of a full table
}

// PointCap is the height of a capital of one point, in inches: capitals of the
// embedded font are [glyphs.LabelCap] of the em.
const PointCap = glyphs.LabelCap / g.PointsPerInch

// Letterings of documents. Nothing is smaller than 9 points, and numbers that are
// read at arm's length are 14 points and more (common practice, no source).
var (
	SetTitle   = Lettering{Cap: 17 * PointCap, Bold: true, Ink: InkText}
	SetHeading = Lettering{Cap: 12 * PointCap, Bold: true, Ink: InkText}
	SetBody    = Lettering{Cap: 9.5 * PointCap, Ink: InkText}
	SetStrong  = Lettering{Cap: 9.5 * PointCap, Bold: true, Ink: InkText}
	SetSoft    = Lettering{Cap: 9 * PointCap, Ink: InkTextSoft}
	SetNumber  = Lettering{Cap: 14 * PointCap, Bold: true, Ink: InkText}
)

// Width returns the width of a line set so, in inches.
func (s Lettering) Width(text string) float64 {
	return glyphs.LabelWidth(text, s.Cap, s.Bold)
}

// Leading is the distance between the baselines of two lines, in inches.
func (s Lettering) Leading() float64 {
	if s.Dense {
		return 1.78 * s.Cap
	}
	return 2.05 * s.Cap
}

// ofPrint rounds to a twentieth of a point, finer than a printer's dot: letters are most
// of a document, and so are their digits of its file.
func ofPrint(p g.Point) g.Point {
	const grid = 20 * g.PointsPerInch
	return g.Point{X: math.Round(p.X*grid) / grid, Y: math.Round(p.Y*grid) / grid}
}

// At sets a line with its baseline at y, and x at its left end (align 0), middle
// (0.5) or right end (1).
func (s Lettering) At(text string, x, y, align float64) Item {
	w := s.Width(text)
	return Item{Ink: s.Ink, Says: &Saying{Text: text, At: g.Point{X: x - float64(align*w), Y: y}, Cap: s.Cap, Width: w, Bold: s.Bold}}
}

// Wrap breaks a text into lines no wider than width, in inches, at blanks; a
// word wider than that is broken where it must. Line feeds are kept.
func (s Lettering) Wrap(text string, width float64) []string {
	var out []string
	for _, paragraph := range strings.Split(text, "\n") {
		line := ""
		for _, word := range strings.Fields(paragraph) {
			switch {
			case line != "" && s.Width(line+" "+word) <= width:
				line += " " + word
				continue
			case line != "":
				out = append(out, line)
			}
			for line = word; s.Width(line) > width && len([]rune(line)) > 1; {
				r := []rune(line)
				n := len(r) - 1
				for n > 1 && s.Width(string(r[:n])) > width {
					n--
				}
				out, line = append(out, string(r[:n])), string(r[n:])
			}
		}
		out = append(out, line)
	}
	return out
}

// In sets a wrapped text into a box from its upper edge down, and returns the
// height it took, which may be more than the box has.
func (s Lettering) In(box g.Rect, text string, align float64) (items []Item, height float64) {
	x := box.Min.X + float64(align*box.Width())
	y := box.Max.Y
	for _, line := range s.Wrap(text, box.Width()) {
		items = append(items, s.At(line, x, y-float64(1.45*s.Cap), align))
		y -= s.Leading()
	}
	return items, box.Max.Y - y
}

// FitTo returns the lettering made smaller until a text fits a width, if it then is no
// smaller than leastCap.
func (s Lettering) FitTo(text string, width float64) Lettering {
	if w := s.Width(text); w > width {
		s.Cap = max(min(s.Cap, leastCap), s.Cap*width/w*0.999)
	}
	return s
}

// CutTo returns a text cut to a width, with dots where something is left out.
func (s Lettering) CutTo(text string, width float64) string {
	r := []rune(text)
	for n := len(r); n > 0; n-- {
		cut := string(r[:n])
		if n < len(r) {
			cut += "..."
		}
		if s.Width(cut) <= width {
			return cut
		}
	}
	return ""
}

// leastCap is the height of the smallest capitals of a view, in inches.
const leastCap = 0.1
