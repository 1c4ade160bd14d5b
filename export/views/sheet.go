package views

import (
	"fmt"
	"math"
	"strings"

	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// ViewOptions are the choices of a view. The zero value is the view of the pack:
// level, without dimensions, on a sheet cut to the drawing.
type ViewOptions struct {
	Dimensions bool         // of each marking, where it stands and what it is near
	Parked     bool         // a side view turned until the wheels stand on a level floor
	Paper      *sheet.Paper // laid on its long side; nil: 17 in wide at most, as high as it needs
	Screen     bool         // without paper: 12 in wide at most, so that letters are larger beside the aircraft
}

// drawingPapers are what a view can be printed on (ANSI/ASME Y14.1, sizes A and B; ISO
// 216; from memory).
var drawingPapers = []sheet.Paper{sheet.Letter, sheet.A4, {Name: "tabloid", Width: 11, Height: 17}, {Name: "A3", Width: 297 / 25.4, Height: 420 / 25.4}}

// ParseDrawingPaper reads the name of a paper for views.
func ParseDrawingPaper(name string) (sheet.Paper, error) {
	for _, p := range drawingPapers {
		if strings.EqualFold(p.Name, strings.TrimSpace(name)) {
			return p, nil
		}
	}
	return sheet.Paper{}, fmt.Errorf("paper %q is unknown: write letter, a4, tabloid or a3", name)
}

// drawingScales are the scales of the views, largest first: 1 to n.
var drawingScales = []float64{1, 2, 4, 5, 8, 10, 12, 16, 20, 24, 32, 40, 48, 64, 80, 96, 128, 160, 200, 400, 1000}

// Measures of the sheet of a view, in inches.
const (
	viewBorder = 0.35 // from the edge of the sheet to the frame
	viewLeft   = 0.75 // from the frame to the drawing: numbers of the axis
	viewRight  = 0.55
	viewAbove  = 0.4
	viewBelow  = 0.6
	viewAround = 0.3 // left free round the aircraft
	viewWide   = 17.0
	viewScreen = 12.0
	viewNarrow = 11.0
	viewHigh   = 11.0
)

// viewSheet is the sheet of a view: how large it is, at what scale it shows the
// aircraft, and where. Below the drawing, within the frame, stands the strip with
// paints, scale bar and title.
type viewSheet struct {
	width, height float64
	plan          bool    // of the wings, from above or below
	scale         float64 // inches of sheet to an inch of aircraft
	units         g.Units // that numbers on it are written in
	window        g.Rect  // of the drawing
	strip         g.Rect
	keyBelow      bool // the key of symbols stands below the paints, not beside them
}

// viewSheetFor returns the sheet that shows a box of the aircraft, in inches, at the
// largest scale that fits, above a strip so high.
func viewSheetFor(u g.Units, box g.Rect, strip float64, o ViewOptions) viewSheet {
	aside, around := viewAround, viewAround
	if o.Dimensions {
		aside, around = 0.5, 0.75
	}
	beside, over := 2*viewBorder+viewLeft+viewRight+2*aside, 2*viewBorder+viewAbove+viewBelow+2*around+strip
	s := viewSheet{width: viewWide, height: viewHigh, units: u}
	if o.Screen {
		s.width = viewScreen
	}
	if o.Paper != nil {
		s.width, s.height = math.Max(o.Paper.Width, o.Paper.Height), math.Min(o.Paper.Width, o.Paper.Height)
	}
	s.scale = 1 / drawingScales[len(drawingScales)-1]
	for _, n := range drawingScales {
		if box.Width()/n <= s.width-beside && box.Height()/n <= s.height-over {
			s.scale = 1 / n
			break
		}
	}
	if o.Paper == nil {
		s.height = math.Min(viewHigh, float64(box.Height()*s.scale)+over)
		if box.Width()*s.scale <= viewNarrow-beside {
			s.width = viewNarrow
		}
	}
	s.strip = g.Rect{Min: g.Point{X: viewBorder, Y: viewBorder}, Max: g.Point{X: s.width - viewBorder, Y: viewBorder + strip}}
	s.window = g.Rect{
		Min: g.Point{X: viewBorder + viewLeft, Y: s.strip.Max.Y + viewBelow},
		Max: g.Point{X: s.width - viewBorder - viewRight, Y: s.height - viewBorder - viewAbove},
	}
	return s
}

// rulers draws a light grid over the window, at taking x and y of the aircraft to the
// sheet: numbers of x stand where its lines meet the lower edge, those of y at the
// left, with the names of both. The lines need not be upright or level.
func (s viewSheet) rulers(at func(x, y float64) g.Point, xName, yName string) []sheet.Item {
	o := at(0, 0)
	ux, uy := at(1, 0).Sub(o), at(0, 1).Sub(o)
	den := ux.Cross(uy)
	var seen []g.Point // corners of the window, in the aircraft's x and y
	w := s.window
	for _, c := range []g.Point{w.Min, {X: w.Max.X, Y: w.Min.Y}, w.Max, {X: w.Min.X, Y: w.Max.Y}} {
		d := c.Sub(o)
		seen = append(seen, g.Point{X: d.Cross(uy) / den, Y: ux.Cross(d) / den})
	}
	b := g.BoundsOf(seen...)
	step := s.step()
	for step*s.scale > 2 {
		step /= 2
	}
	var out []sheet.Item
	draw := func(p, q g.Point, number func(low g.Point)) {
		c, ok := sheet.ClipChord([2]g.Point{p, q}, w)
		if !ok || c[0].Dist(c[1]) < 0.05 {
			return
		}
		out = append(out, sheet.Item{Path: g.Path{g.Polyline(c[0], c[1])}, Ink: inkGrid})
		for _, end := range c {
			number(end)
		}
	}
	const near = 1e-6
	for x := math.Ceil(b.Min.X/step) * step; x <= b.Max.X; x += step {
		draw(at(x, b.Min.Y), at(x, b.Max.Y), func(end g.Point) {
			if math.Abs(end.Y-w.Min.Y) < near {
				out = append(out, lettered(s.units.Number(g.Length(x), 1), 0.11, end.X, end.Y-0.2, 0.5, sheet.InkTextSoft))
			}
		})
	}
	for y := math.Ceil(b.Min.Y/step) * step; y <= b.Max.Y; y += step {
		draw(at(b.Min.X, y), at(b.Max.X, y), func(end g.Point) {
			if math.Abs(end.X-w.Min.X) < near {
				out = append(out, lettered(s.units.Number(g.Length(y), 1), 0.11, end.X-0.1, end.Y-0.055, 1, sheet.InkTextSoft))
			}
		})
	}
	return append(out,
		lettered(xName, 0.11, w.Centre().X, w.Min.Y-0.42, 0.5, sheet.InkTextSoft),
		lettered(yName, 0.11, w.Min.X-0.1, w.Max.Y+0.1, 1, sheet.InkTextSoft))
}

// step is the distance of two lines of a ruler, in inches of the aircraft: 10 in or 200 mm,
// doubled until their numbers have room.
func (s viewSheet) step() float64 {
	step := 10.0
	if s.units.Metric() {
		step = (200 * g.Millimetre).Inches()
	}
	for step*s.scale < 0.45 {
		step *= 2
	}
	return step
}

// lettered sets a line of text whose left, middle or right (0, 0.5, 1) stands at x.
func lettered(text string, cap, x, y, align float64, ink sheet.Ink) sheet.Item {
	return sheet.Lettering{Cap: cap, Ink: ink}.At(text, x, y, align)
}
