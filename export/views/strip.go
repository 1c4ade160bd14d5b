package views

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// Measures of the strip, in inches.
const (
	swatchPitch = 0.21
	stripLeast  = 1.38
	stripRoom   = 0.75 // of the strip's height, not taken by paints
)

// mostPaints are listed; of more, the last row says how many.
const mostPaints = 12

// stripFor returns the height of the strip for so many paints, with the key below them or
// beside them.
func stripFor(paints int, keyBelow bool) float64 {
	rows := min(paints, mostPaints)
	if keyBelow {
		rows += keyRows
	}
	return math.Max(stripLeast, stripRoom+float64(swatchPitch*float64(rows)))
}

// sheetWithKey is [viewSheetFor] with a strip in which the key of symbols has room: beside
// the paints, or below them on a narrow sheet.
func sheetWithKey(u g.Units, box g.Rect, paints int, o ViewOptions) viewSheet {
	s := viewSheetFor(u, box, stripFor(paints, false), o)
	if s.paintWide() <= keyFrom+2.3 {
		s = viewSheetFor(u, box, stripFor(paints, true), o)
		s.keyBelow = true
	}
	return s
}

// Widths of the parts of the strip: the title, the scale bar, and what is left for paints.
func (s viewSheet) titleWide() float64 { return math.Min(5.8, 0.4*s.width) }
func (s viewSheet) barWide() float64   { return math.Min(3.6, 0.22*s.width) }
func (s viewSheet) paintWide() float64 { return s.strip.Width() - s.titleWide() - s.barWide() }

// paintsSeen returns the paints of the markings of a view, in the order of spraying.
func paintsSeen(l *layouts.Layout, laid []masks.Laid) []layouts.ColourSpec {
	used := map[string]bool{}
	for _, one := range laid {
		for _, r := range one.Regions {
			used[r.Colour] = true
		}
	}
	var out []layouts.ColourSpec
	for _, id := range l.Spec.Paint.Order {
		if !used[id] {
			continue
		}
		k := slices.IndexFunc(l.Spec.Paint.Colours, func(c layouts.ColourSpec) bool { return c.ID == id })
		if k < 0 {
			out = append(out, layouts.ColourSpec{ID: id})
			continue
		}
		out = append(out, l.Spec.Paint.Colours[k])
	}
	return out
}

// frame draws the border and the strip: the paints seen, a scale bar, and the title
// with what is shown, how, and from which layout; the symbols too where there is room.
func (s viewSheet) frame(l *layouts.Layout, paints []layouts.ColourSpec, shown, how string, o ViewOptions) []sheet.Item {
	border := sheet.Ink{Stroke: "#1a1a1a", Width: 0.020}
	thin := sheet.Ink{Stroke: "#1a1a1a", Width: 0.008}
	st := s.strip
	titleWide, barWide := s.titleWide(), s.barWide()
	title, bar := st.Max.X-titleWide, st.Max.X-titleWide-barWide
	out := []sheet.Item{
		{Path: g.Path{g.Rectangle(g.Rect{Min: st.Min, Max: g.Point{X: st.Max.X, Y: s.height - viewBorder}})}, Ink: border},
		{Path: g.Path{
			g.Polyline(g.Point{X: st.Min.X, Y: st.Max.Y}, st.Max),
			g.Polyline(g.Point{X: title, Y: st.Min.Y}, g.Point{X: title, Y: st.Max.Y}),
			g.Polyline(g.Point{X: bar, Y: st.Min.Y}, g.Point{X: bar, Y: st.Max.Y}),
		}, Ink: thin},
	}
	const pad = 0.15
	put := func(set sheet.Lettering, text string, x, y, width float64) {
		set = set.FitTo(text, width)
		out = append(out, set.At(set.CutTo(text, width), x, y, 0))
	}
	bold := func(cap float64) sheet.Lettering { return sheet.Lettering{Cap: cap, Bold: true, Ink: sheet.InkText} }
	plain, soft := sheet.Lettering{Cap: 0.11, Ink: sheet.InkText}, sheet.Lettering{Cap: 0.1, Ink: sheet.InkTextSoft}

	y := st.Max.Y
	paintWide := s.paintWide()
	if s.keyBelow {
		out = append(out, s.key(l.Airframe.Spec, st.Min.X+pad, y-float64(swatchPitch*float64(min(len(paints), mostPaints)+1)))...)
	} else {
		paintWide = keyFrom
		out = append(out, s.key(l.Airframe.Spec, st.Min.X+keyFrom, y)...)
	}
	put(bold(0.1), "PAINTS", st.Min.X+pad, y-0.24, 1)
	for k, c := range paints {
		row := y - 0.24 - float64(swatchPitch*float64(k+1))
		if k == mostPaints-1 && len(paints) > mostPaints {
			put(plain, fmt.Sprintf("and %d more", len(paints)-k), st.Min.X+pad, row, paintWide-2*pad)
			break
		}
		box := g.Rect{Min: g.Point{X: st.Min.X + pad, Y: row - 0.03}, Max: g.Point{X: st.Min.X + pad + 0.36, Y: row + 0.13}}
		out = append(out, sheet.Item{Path: g.Path{g.Rectangle(box)}, Ink: sheet.Ink{Fill: HexOf(l.Spec.Paint, c.ID), Stroke: "#1a1a1a", Width: 0.006}})
		put(plain, paintWords(c), box.Max.X+0.12, row, paintWide-2*pad-0.48)
	}
	caution := soft.Wrap("Layout aid, not approved data. A picture: do not scale or cut from it.", paintWide-2*pad)
	for k, text := range caution {
		put(soft, text, st.Min.X+pad, st.Min.Y+0.12+float64(0.17*float64(len(caution)-1-k)), paintWide-2*pad)
	}

	put(bold(0.1), "SCALE", bar+pad, y-0.24, 1)
	out = append(out, s.scaleBar(bar+pad, y-0.62, barWide-2*pad-0.45)...)
	put(plain, "1:"+g.FormatNumber(1/s.scale, 1)+" on a sheet of "+s.units.Size(g.Length(s.width), g.Length(s.height), 2), bar+pad, y-0.96, barWide-2*pad)
	word := s.units.Name()
	units := "lengths and stations in " + word
	if o.Dimensions && !o.Parked {
		units = word + " as seen (along the skin)"
	}
	put(soft, units, bar+pad, y-1.16, barWide-2*pad)

	x, wide := title+pad, titleWide-2*pad
	name := bold(0.14)
	if name.Width(l.Spec.Name) > wide {
		name = bold(0.11)
	}
	lines := name.Wrap(l.Spec.Name, wide)
	if len(lines) > 2 {
		lines = []string{lines[0], strings.Join(lines[1:], " ")}
	}
	for k, text := range lines {
		put(name, text, x, y-0.26-float64(0.18*float64(k)), wide)
	}
	y -= float64(0.2 * float64(len(lines)-1))
	put(plain, l.Airframe.Spec.Name, x, y-0.46, wide)
	put(bold(0.11), shown, x, y-0.69, wide)
	put(plain, how, x, y-0.88, wide)
	put(soft, "layout: "+filepath.Base(l.Spec.File), x, y-1.07, wide)
	return out
}

// keyFrom is how far from the left end of the strip its key of symbols stands, where it
// stands beside the paints; keyRows is how many rows it takes.
const (
	keyFrom = 4.5
	keyRows = 5
)

// key draws the symbols that a view of an aircraft has, with their meaning, below y.
func (s viewSheet) key(a layouts.AircraftSpec, x, y float64) []sheet.Item {
	var spots, tapes bool
	for _, o := range a.Obstacles {
		tape := o.Kind == layouts.FinishingTape || o.Kind == layouts.Around
		if o.OnWing == s.plan {
			spots, tapes = spots || !tape, tapes || tape
		}
	}
	if len(a.Hardpoints) == 0 && len(a.LevelPegs) == 0 && !spots && !tapes {
		return nil
	}
	out := []sheet.Item{sheet.Lettering{Cap: 0.1, Bold: true, Ink: sheet.InkText}.At("SYMBOLS", x, y-0.24, 0)}
	k := 0
	row := func(seen bool, ink sheet.Ink, word string, draw func(c g.Point) g.Path) {
		if !seen {
			return
		}
		k++
		c := g.Point{X: x + 0.18, Y: y - 0.19 - float64(swatchPitch*float64(k))}
		out = append(out, sheet.Item{Path: draw(c), Ink: ink}, lettered(word, 0.11, x+0.48, c.Y-0.055, 0, sheet.InkText))
	}
	across := func(c g.Point) g.Path {
		return g.Path{g.Polyline(g.Point{X: c.X - 0.18, Y: c.Y}, g.Point{X: c.X + 0.18, Y: c.Y})}
	}
	row(len(a.Hardpoints) > 0, sheet.InkPoint, "hardpoint", hookSymbol)
	row(len(a.LevelPegs) > 0 && !s.plan, sheet.InkPoint, "level peg", func(c g.Point) g.Path { return pegSymbol(c.Add(g.Vec{Y: 0.04})) })
	row(spots, InkStructure, "obstacle", func(c g.Point) g.Path { return g.Path{g.Circle(c, 0.06)} })
	row(tapes, inkTapeEdge, "edge of a finishing tape", across)
	return out
}

// paintWords names a paint with its standard.
func paintWords(c layouts.ColourSpec) string {
	text := c.Name
	if text == "" {
		text = c.ID
	}
	if c.Standard != "" {
		text += ", " + c.Standard
	}
	return text
}

// scaleBarID is the id of the bar of a view: from its left end to its right is the
// length that stands at its end.
const scaleBarID = "scale-bar"

// scaleBar draws a bar of a round length of the aircraft, no longer than most on the
// sheet, in fields of a fifth of it.
func (s viewSheet) scaleBar(x, y, most float64) []sheet.Item {
	length, unit := 1.0, g.Inch
	if s.units.Metric() {
		length, unit = 20, g.Millimetre
	}
	for _, l := range []float64{5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000} {
		if l > length && l*unit.Inches()*s.scale <= most {
			length = l
		}
	}
	const high = 0.08
	field := length * unit.Inches() * s.scale / 5
	var dark g.Path
	for k := 0; k < 5; k += 2 {
		dark = append(dark, g.Rectangle(g.Rect{Min: g.Point{X: x + float64(field*float64(k)), Y: y}, Max: g.Point{X: x + float64(field*float64(k+1)), Y: y + high}}))
	}
	out := []sheet.Item{
		{Path: dark, Ink: sheet.Ink{Fill: "#1a1a1a"}},
		{ID: scaleBarID, Path: g.Path{g.Rectangle(g.Rect{Min: g.Point{X: x, Y: y}, Max: g.Point{X: x + float64(5*field), Y: y + high}})}, Ink: sheet.Ink{Stroke: "#1a1a1a", Width: 0.008}},
		lettered("0", 0.1, x, y+high+0.06, 0.5, sheet.InkText),
		lettered(g.FormatNumber(length, 0)+" "+s.units.Word(), 0.1, x+float64(5*field), y+high+0.06, 0.5, sheet.InkText),
	}
	wide := func(text string) float64 { return (sheet.Lettering{Cap: 0.1}).Width(text) }
	const apart = 0.06 // between two numbers
	end := wide(g.FormatNumber(length, 0)+" "+s.units.Word()) / 2
	for k := 1; k < 5; k++ {
		text := g.FormatNumber(length*float64(k)/5, 1)
		if at := float64(field * float64(k)); field > wide(text)+apart && at+wide(text)/2+apart < float64(5*field)-end {
			out = append(out, lettered(text, 0.1, x+at, y+high+0.06, 0.5, sheet.InkTextSoft))
		}
	}
	return out
}
