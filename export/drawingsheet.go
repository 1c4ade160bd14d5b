package export

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts"
)

// drawingScales are the scales of the views, largest first: 1 to n.
var drawingScales = []float64{2, 4, 8, 10, 12, 16, 20, 24, 32, 40, 48, 64, 96}

// Widths of the sheet of a view, in inches. Letters are as high on both, so that on
// the smaller one they are larger beside the aircraft.
const (
	viewSheet  = 17.0
	ScreenView = 12.0 // for a page that is read on a screen
)

// sheetFor returns the largest scale at which a box of the aircraft, in inches, fits
// a sheet so wide and eleven seventeenths of it high, and the size of the sheet.
func sheetFor(box g.Rect, wide float64) (scale, width, height float64) {
	most := wide * 11 / 17
	scale = 1 / drawingScales[len(drawingScales)-1]
	for _, n := range drawingScales {
		if box.Width()/n <= wide-2.6 && box.Height()/n <= most-3.4 {
			scale = 1 / n
			break
		}
	}
	return scale, wide, box.Height()*scale + 3.2
}

// rulers draws a light grid over a box of the aircraft, x and y as at takes them,
// with numbers below and at the left, and the names of both axes.
func rulers(at func(x, y float64) g.Point, b g.Rect, scale float64, xName, yName string) []Item {
	step := 10.0
	for step*scale < 0.45 {
		step *= 2
	}
	var out []Item
	for x := math.Ceil(b.Min.X/step) * step; x <= b.Max.X; x += step {
		p, q := at(x, b.Min.Y), at(x, b.Max.Y)
		if p.Y > q.Y {
			p, q = q, p
		}
		out = append(out, Item{Path: g.Path{g.Polyline(p, q)}, Ink: inkGrid})
		out = append(out, textAt(g.FormatNumber(x, 0), 0.11, p.X, p.Y-0.2, 0.5, inkTextSoft))
	}
	for y := math.Ceil(b.Min.Y/step) * step; y <= b.Max.Y; y += step {
		p, q := at(b.Min.X, y), at(b.Max.X, y)
		if p.X > q.X {
			p, q = q, p
		}
		out = append(out, Item{Path: g.Path{g.Polyline(p, q)}, Ink: inkGrid})
		out = append(out, textAt(g.FormatNumber(y, 0), 0.11, p.X-0.1, p.Y-0.055, 1, inkTextSoft))
	}
	on := g.BoundsOf(at(b.Min.X, b.Min.Y), at(b.Max.X, b.Max.Y))
	out = append(out, textAt(xName, 0.11, at(b.Centre().X, 0).X, on.Min.Y-0.42, 0.5, inkTextSoft))
	return append(out, textAt(yName, 0.11, on.Min.X-0.55, on.Max.Y+0.02, 0, inkTextSoft))
}

// sheetFrame draws the border, the title, and the cautions.
func sheetFrame(l *layouts.Layout, word string, scale, width, height float64) []Item {
	out := []Item{{Path: g.Path{g.Rectangle(g.Rect{Min: g.Point{X: 0.35, Y: 0.35}, Max: g.Point{X: width - 0.35, Y: height - 0.35}})}, Ink: Ink{Stroke: "#1a1a1a", Width: 0.012}}}
	title, _ := glyphs.Label(l.Spec.Name, 0.2, true)
	out = append(out, Item{Path: title.Moved(g.Vec{X: 0.6, Y: height - 0.8}), Ink: inkText})
	out = append(out, textAt(word+", level", 0.15, width-0.6, height-0.78, 1, inkText))
	out = append(out, textAt(fmt.Sprintf("scale 1:%s on a sheet of %s x %s in", g.FormatNumber(1/scale, 0), g.FormatNumber(width, 1), g.FormatNumber(height, 1)), 0.11, width-0.6, height-1.05, 1, inkTextSoft))
	out = append(out, textAt(l.Airframe.Spec.Name, 0.11, 0.6, height-1.05, 0, inkTextSoft))
	return append(out, textAt("Layout aid, not approved data. A picture: do not scale or cut from it.", 0.1, 0.6, 0.52, 0, inkTextSoft))
}
