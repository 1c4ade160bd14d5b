package export

import (
	"fmt"
	"math"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// A trial print is the marking on sheets of paper at true size, taped together and
// held on the aircraft before film is cut: the cheapest look there is.

// Inches of a page of a trial print.
const (
	trialMargin  = 0.5  // what printers do not reach (common practice, no source)
	trialOverlap = 0.5  // by which neighbours overlap
	trialFoot    = 0.45 // for what the page says of itself
)

// trialTint is what is left of a colour on a page, so that outlines are seen and ink is
// saved (common practice, no source).
const trialTint = 0.25

// trialEdge draws the edge of what a page shows.
var trialEdge = sheet.Ink{Stroke: "#8a979e", Width: 0.006, Dash: []float64{0.06, 0.06}}

// trialPaint is what a trial print shows at least: the paint and a little about it.
func trialPaint(l masks.Laid) g.Rect { return l.Painted.Bounds().Grown(0.25) }

// TrialPrint returns the pages of a marking on paper: row by row from the top left
// as seen from outside. Crosses at the corners of the overlap fall on those of the
// neighbours. Where there are several, a picture of the whole with its pages comes first.
func TrialPrint(t masks.Tiling, paper sheet.Paper, spec *layouts.Spec) []sheet.Sheet {
	l := t.Laid
	box := trialPaint(l)
	for _, m := range t.Marks {
		box = box.Union(g.BoundsOf(m.Film).Grown(masks.MarkRadius))
	}
	w, h := paper.Width-2*trialMargin, paper.Height-2*trialMargin-trialFoot
	columns, rows := trialCount(box.Width(), w), trialCount(box.Height(), h)
	// the drawing stands in the middle of the pages
	left := box.Centre().X - (float64(float64(columns)*(w-trialOverlap))+trialOverlap)/2
	top := box.Centre().Y + (float64(float64(rows)*(h-trialOverlap))+trialOverlap)/2
	pages := trialPages{paper: paper, rows: rows, columns: columns, skin: skinOf(spec, l)}
	for r := range rows {
		for c := range columns {
			min := g.Point{X: left + float64(float64(c)*(w-trialOverlap)), Y: top - float64(float64(r)*(h-trialOverlap)) - h}
			pages.windows = append(pages.windows, g.Rect{Min: min, Max: g.Point{X: min.X + w, Y: min.Y + h}})
		}
	}
	var out []sheet.Sheet
	if len(pages.windows) > 1 {
		out = append(out, pages.whole(l, spec.Paint))
	}
	for k, window := range pages.windows {
		s := trialPage(t, paper, spec.Paint, pages.skin, window)
		s.Title = fmt.Sprintf("%s, trial print, page %d of %d: row %d column %d of %d x %d", l.ID(), k+1, len(pages.windows), k/columns+1, k%columns+1, rows, columns)
		s.Layers = append(s.Layers, sheet.Layer{Name: "notes", Items: append(trialNotes(l.Placement.Read, s.Title, "Tape the crosses over one another. Paper for looking, not for cutting.", paper), pages.key(l, k)...)})
		out = append(out, s)
	}
	return out
}

// skinOf is the colour of the skin under a marking.
func skinOf(spec *layouts.Spec, l masks.Laid) string {
	if on := l.Placement.Marking.Where.Surfaces; len(on) > 0 {
		return spec.SkinColour(on[0])
	}
	return spec.SkinColour("")
}

// trialCount is how many pages cover a length.
func trialCount(length, page float64) int {
	return max(1, int(math.Ceil((length-trialOverlap)/(page-trialOverlap)-1e-9)))
}

func trialPage(t masks.Tiling, paper sheet.Paper, paint layouts.PaintSpec, skin string, window g.Rect) sheet.Sheet {
	shift := g.Vec{X: trialMargin - window.Min.X, Y: trialMargin + trialFoot - window.Min.Y}
	var fills, lines, marks []sheet.Item
	for _, region := range t.Laid.Regions {
		for _, seen := range sheet.Clipped(sheet.Item{Path: region.Outline, Ink: sheet.Ink{Fill: views.Tint(views.HexOf(paint, region.Colour), trialTint)}}, window) {
			fills = append(fills, seen.Moved(shift))
		}
		var edges g.Path
		for _, c := range region.Outline {
			pts := c.Flattened(g.FlattenTolerance)
			for i := range pts {
				if k, ok := sheet.ClipChord([2]g.Point{pts[i], pts[(i+1)%len(pts)]}, window); ok && k[0].Dist(k[1]) > sheet.HairOpen {
					edges = joined(edges, k[0].Add(shift), k[1].Add(shift))
				}
			}
		}
		if len(edges) > 0 {
			lines = append(lines, sheet.Item{Path: edges, Ink: sheet.Ink{Stroke: "#000000", Width: 0.015}})
		}
	}
	for _, m := range t.Marks {
		if b := g.BoundsOf(m.Film).Grown(masks.MarkRadius + 0.25); window.Contains(b.Min) && window.Contains(b.Max) {
			marks = append(marks, drawMark("", m.Film.Add(shift), m.ID, g.Vec{X: 1, Y: 1})...)
		}
	}
	// crosses at the corners of the overlap
	for _, x := range []float64{window.Min.X + trialOverlap/2, window.Max.X - trialOverlap/2} {
		for _, y := range []float64{window.Min.Y + trialOverlap/2, window.Max.Y - trialOverlap/2} {
			p := g.Point{X: x, Y: y}.Add(shift)
			marks = append(marks, sheet.Item{Ink: sheet.InkMeasure, Path: g.Path{
				g.Polyline(g.Point{X: p.X - 0.2, Y: p.Y}, g.Point{X: p.X + 0.2, Y: p.Y}), g.Polyline(g.Point{X: p.X, Y: p.Y - 0.2}, g.Point{X: p.X, Y: p.Y + 0.2}),
			}})
		}
	}
	edge := sheet.DrawRect(g.Rect{Min: window.Min.Add(shift), Max: window.Max.Add(shift)}, trialEdge)
	ground := sheet.DrawRect(g.Rect{Min: window.Min.Add(shift), Max: window.Max.Add(shift)}, sheet.Ink{Fill: views.Tint(skin, trialTint)})
	return sheet.Sheet{Width: paper.Width, Height: paper.Height, Layers: []sheet.Layer{
		{Name: "skin", Items: []sheet.Item{ground}}, {Name: "paint", Items: fills}, {Name: "outlines", Items: lines}, {Name: "marks", Items: append(marks, edge)},
	}}
}

// joined adds a chord to open polylines, to the last one where it goes on from it.
// A chord that comes round to the start begins a polyline of its own. Points are
// compared as a file tells them apart: where a window cuts a chord twice, rounding
// leaves them apart in the last place.
func joined(p g.Path, a, b g.Point) g.Path {
	if n := len(p); n > 0 && p[n-1].End().Dist(a) < sheet.HairOpen && b.Dist(p[n-1].Start) >= sheet.HairOpen {
		p[n-1].Segments = append(p[n-1].Segments, g.Segment{Kind: g.Line, End: b})
		return p
	}
	return append(p, g.Polyline(a, b))
}

// trialNotes says at the foot what the page is, what to do with it, and how long an inch is.
func trialNotes(u g.Units, title, use string, paper sheet.Paper) []sheet.Item {
	long, step, steps := 5*g.Inch, 1.0, 5
	if u.Metric() {
		long, step, steps = 100*g.Millimetre, g.Centimetre.Inches(), 10
	}
	y := trialMargin
	out := []sheet.Item{sheet.SetSoft.At(title, trialMargin, y+0.26, 0), sheet.SetSoft.At("print at 100 percent: the bar is "+u.Length(long, 0)+". "+use, trialMargin, y+0.04, 0)}
	// a bar along the upper margin
	x, top := paper.Width/2-2.5, paper.Height-trialMargin+0.14
	bar := g.Path{g.Polyline(g.Point{X: x, Y: top}, g.Point{X: x + long.Inches(), Y: top})}
	for i := range steps + 1 {
		bar = append(bar, g.Polyline(g.Point{X: x + float64(float64(i)*step), Y: top - 0.05}, g.Point{X: x + float64(float64(i)*step), Y: top + 0.05}))
	}
	return append(out, sheet.Item{ID: sheet.ScaleAlong, Path: bar, Ink: sheet.InkNote}, sheet.SetSoft.At(u.Length(long, 0), x+long.Inches()+0.1, top-0.04, 0))
}
