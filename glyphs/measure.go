package glyphs

import (
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// Ratios are what can be measured on one character, lengths as parts of the cap
// height; 0 where there is nothing of the kind.
type Ratios struct {
	Rune         rune
	Width        float64
	StrokeV      float64 // of uprights
	StrokeH      float64 // of bars
	Waist        float64 // height of the middle bar's centre line, or of the inner point, see [Alphabet.WaistOf]; of 2 with a diagonal, that of its upper edge in the middle, less half a bar
	Corner       *Cut    // of the outer contour, where the character has corners to judge by
	Inner        *Cut    // of a counter
	Outer, Holes int     // contours
}

// withCorners are the characters whose outer corners tell how an alphabet turns
// corners, in the order in which they tell it best; withCounters those whose
// counters do.
const (
	withCorners  = "O0DUCQG"
	withCounters = "O0D"
)

// Measure measures an outline by scan lines and between opposite edges, whatever
// it was drawn with: letters of a font as well as block letters. Its height is
// the cap height; a slanted one is to be stood upright first, see [Lean].
func Measure(outline g.Path, char rune, height g.Length) Ratios {
	s, h := scan(outline), height.Inches()
	out := Ratios{Rune: char, Width: s.box.Width() / h, StrokeV: s.strokes(true) / h, StrokeH: s.strokes(false) / h}
	for _, c := range g.Nest(outline) {
		if c.Area() > 0 {
			out.Outer++
		} else {
			out.Holes++
		}
	}
	if len(s.rings) == 0 {
		return out
	}
	scaled := func(c Cut) *Cut { return &Cut{Kind: c.Kind, Size: c.Size / h} }
	if strings.ContainsRune(withCorners, char) {
		out.Corner = scaled(s.cornerOf(s.rings[0]))
	}
	if strings.ContainsRune(withCounters, char) && len(s.rings) > 1 {
		out.Inner = scaled(s.cornerOf(s.rings[1]))
	}
	out.Waist = s.waist(char, out.StrokeV*h, out.StrokeH*h) / h
	return out
}

// waist returns the height of a character's waist; 0 where the outline has none
// at the place where it belongs.
func (s scanned) waist(char rune, sv, sh float64) float64 {
	x := func(part float64) float64 { return s.box.Min.X + float64(part*s.box.Width()) }
	bars := s.upright(x(0.5))
	switch n := len(bars); char {
	case 'A', 'F', 'H', 'M', 'P', '-':
		if n > 0 {
			return bars[0].mid()
		}
	case 'B', 'E', 'S', '2', '3', '5', '6', '8', '9':
		if n == 3 {
			return bars[1].mid()
		}
		if char == '2' && n == 2 { // the diagonal runs into the foot
			return bars[0].high - sh/2
		}
	case 'W':
		if n > 0 {
			return bars[n-1].high
		}
	case 'R': // below the counter; the leg runs into the bar
		if n > 1 {
			return bars[n-2].high - sh/2
		}
	case 'G': // between the middle and the upright
		if bars := s.upright((x(0.5) + x(1) - sv) / 2); len(bars) == 3 {
			return bars[1].mid()
		}
	case '4':
		if bars := s.upright(x(0.3)); len(bars) > 0 {
			return bars[0].low + sh/2
		}
	case 'K':
		return s.arm(x(0) + sv/2)
	case 'Y':
		return s.fork()
	}
	return 0
}

// arm returns the height at x of the centre line of K's arm, produced from where
// it stands free of the upright.
func (s scanned) arm(x float64) float64 {
	y1, y2 := s.box.Max.Y-float64(0.05*s.box.Height()), s.box.Max.Y-float64(0.15*s.box.Height())
	a, b := s.level(y1), s.level(y2)
	if len(a) != 2 || len(b) != 2 || a[1].mid()-b[1].mid() < s.tol {
		return 0
	}
	return y2 - (b[1].mid()-x)*(y1-y2)/(a[1].mid()-b[1].mid())
}

// fork returns where the centre lines of the arms of Y meet.
func (s scanned) fork() float64 {
	y1, y2 := s.box.Max.Y-float64(0.05*s.box.Height()), s.box.Max.Y-float64(0.2*s.box.Height())
	a, b := s.level(y1), s.level(y2)
	if len(a) != 2 || len(b) != 2 {
		return 0
	}
	gap1, gap2 := a[1].mid()-a[0].mid(), b[1].mid()-b[0].mid()
	if gap1-gap2 < s.tol {
		return 0
	}
	return y2 - gap2*(y1-y2)/(gap1-gap2)
}

// upStanding are the characters with a straight upright on the left.
const upStanding = "HEFLBDPRNKMI1"

// Lean returns how far a character leans to the right, in degrees, by the
// longest straight edge within 35 degrees of upright; false for a character
// without an upright, or without such an edge.
func Lean(outline g.Path, char rune) (float64, bool) {
	if !strings.ContainsRune(upStanding, char) {
		return 0, false
	}
	long, lean := 0.0, 0.0
	for _, c := range outline {
		for i, seg := range c.Segments {
			d := seg.End.Sub(c.From(i))
			deg := same.Atan(d.X/d.Y) * 180 / math.Pi
			if seg.Kind == g.Line && d.Y != 0 && math.Abs(deg) < 35 && d.Norm() > long*(1+1e-6) {
				long, lean = d.Norm(), deg
			}
		}
	}
	return lean, long > 0
}

// stoodUp returns an outline that leans by an angle in degrees, upright.
func stoodUp(outline g.Path, lean float64) g.Path {
	t := same.Tan(lean * math.Pi / 180)
	return outline.Map(func(p g.Point) g.Point { return g.Point{X: p.X - float64(t*p.Y), Y: p.Y} })
}
