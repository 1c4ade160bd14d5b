package export

import (
	"fmt"
	"math"
	"strconv"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// trialPages are the pages of a trial print, row by row: windows of the flat.
type trialPages struct {
	paper         sheet.Paper
	rows, columns int
	windows       []g.Rect
	skin          string
}

// bounds returns all that the pages show.
func (p trialPages) bounds() g.Rect {
	box := p.windows[0]
	for _, w := range p.windows {
		box = box.Union(w)
	}
	return box
}

// cell is what a page shows up to the middle of its overlaps: cells tile the whole.
func (p trialPages) cell(k int) g.Rect {
	w, all := p.windows[k], p.bounds()
	const half = trialOverlap / 2
	cut := func(v, end, way float64) float64 {
		if math.Abs(v-end) < half {
			return v
		}
		return v + float64(way*half)
	}
	return g.Rect{Min: g.Point{X: cut(w.Min.X, all.Min.X, 1), Y: cut(w.Min.Y, all.Min.Y, 1)}, Max: g.Point{X: cut(w.Max.X, all.Max.X, -1), Y: cut(w.Max.Y, all.Max.Y, -1)}}
}

// whole is the first page: the marking in its paints on the colour of the skin, and which
// page shows which part of it.
func (p trialPages) whole(l masks.Laid, paint layouts.PaintSpec) sheet.Sheet {
	room := g.Rect{Min: g.Point{X: trialMargin, Y: trialMargin + trialFoot}, Max: g.Point{X: p.paper.Width - trialMargin, Y: p.paper.Height - trialMargin}}
	scale, to := sheet.Fitted(p.bounds(), room, 1)
	in := func(r g.Rect) g.Rect { return g.Rect{Min: to(r.Min), Max: to(r.Max)} }
	skin := []sheet.Item{sheet.DrawRect(in(p.bounds()), sheet.Ink{Fill: p.skin})}
	var drawn, pages []sheet.Item
	for _, r := range l.Regions {
		drawn = append(drawn, sheet.Item{Path: r.Outline.Map(to), Ink: sheet.Ink{Fill: views.HexOf(paint, r.Colour), Stroke: "#1a1a1a", Width: 0.006}})
	}
	for _, ink := range []sheet.Ink{{Stroke: "#ffffff", Width: 0.03}, {Stroke: "#1a1a1a", Width: 0.012}} {
		for k := range p.windows {
			pages = append(pages, sheet.DrawRect(in(p.cell(k)), ink))
		}
	}
	for k := range p.windows {
		cell := in(p.cell(k))
		number := views.TextAt(strconv.Itoa(k+1), math.Min(0.22, 0.3*math.Min(cell.Width(), cell.Height())), cell.Min.X+0.08, cell.Max.Y-0.3, 0, sheet.InkText)
		pages = append(pages, views.Haloed(number)...)
	}
	title := fmt.Sprintf("%s, trial print: the whole, on %d pages in %d x %d", l.ID(), len(p.windows), p.rows, p.columns)
	says := "A picture at scale 1:" + g.FormatNumber(1/scale, 2) + ", seen from outside. Each number is that of a page that follows, which marks its own place at its foot."
	y := trialMargin
	return sheet.Sheet{Title: title, Width: p.paper.Width, Height: p.paper.Height, Layers: []sheet.Layer{
		{Name: "skin", Items: skin}, {Name: "the whole", Items: drawn}, {Name: "pages", Items: pages},
		{Name: "notes", Items: []sheet.Item{sheet.SetSoft.At(title, trialMargin, y+0.26, 0), sheet.SetSoft.At(says, trialMargin, y+0.04, 0)}},
	}}
}

// keyPages is how many pages a key shows at most: of more, a page is less than 0.05 in there.
const keyPages = 250

// key is the whole small, at the foot of a page: the outlines, the pages, and this one dark.
func (p trialPages) key(l masks.Laid, page int) []sheet.Item {
	if len(p.windows) < 2 {
		return nil
	}
	const high, wide = 0.42, 1.2
	right := p.paper.Width - trialMargin
	_, to := sheet.Fitted(p.bounds(), g.Rect{Min: g.Point{X: right - wide, Y: trialMargin}, Max: g.Point{X: right, Y: trialMargin + high}}, 1)
	in := func(r g.Rect) g.Rect { return g.Rect{Min: to(r.Min), Max: to(r.Max)} }
	shift := g.Vec{X: right - in(p.bounds()).Max.X}
	var out []sheet.Item
	for k := range p.windows {
		if k != page && len(p.windows) > keyPages {
			continue
		}
		ink := sheet.Ink{Stroke: "#8a979e", Width: 0.004}
		if k == page {
			ink = sheet.Ink{Stroke: "#1a1a1a", Width: 0.010, Fill: "#e0b84a"}
		}
		out = append(out, sheet.DrawRect(in(p.cell(k)), ink).Moved(shift))
	}
	var edges g.Path
	for _, r := range l.Regions {
		edges = append(edges, r.Outline.Map(to)...)
	}
	return append(out, sheet.Item{Path: edges, Ink: sheet.Ink{Stroke: "#1a1a1a", Width: 0.004}}.Moved(shift))
}
