package export

import (
	"fmt"
	"math"
	"strings"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// Measures of a strain map, in inches of the sheet.
const (
	mapBorder  = 0.35 // blank round the frame
	mapInset   = 0.6  // from the edge of the sheet to what is drawn
	mapLongest = 6.6  // of the longer side of a panel
	mapGap     = 0.7  // between the panels
	mapHead    = 1.75 // for the title and its lines
	mapLegend  = 1.55 // below a panel
	mapNotes   = 0.7  // below the legends
	mapLeast   = 5.0  // width of a panel's column, for its legend
	mapSteps   = 8    // colours of a legend
	mapCap     = 0.1  // of the levels on the contours
)

// strainPanel is one of the two panels of a map.
type strainPanel struct {
	title  string
	part   views.StrainPart
	way    float64 // along the ladder: -1 squeezed, 1 stretched
	limits layouts.StrainLimits
	peak   float64
	full   float64 // what the end of the legend stands for, as in every picture of the job
	flat   g.Point
	at     g.Position
}

// StrainMap returns a picture of the film's strain over the flat of a marking: at
// the left how much it is squeezed, at the right how much it is stretched, as contours
// with their levels, each with its peak; full is what the ends of the ladder of colours
// stand for. The picture is to scale but not at true size.
func StrainMap(l masks.Laid, full float64) sheet.Sheet {
	bands := l.Bands
	panels := [2]strainPanel{
		{"SQUEEZED", views.SqueezeAlone, -1, bands.Squeezed, l.Strain.Compression, full, l.Strain.CompressionFlat, l.Strain.CompressionAt},
		{"STRETCHED", views.StretchAlone, 1, bands.Stretched, l.Strain.Tension, full, l.Strain.TensionFlat, l.Strain.TensionAt},
	}
	scale := mapLongest / math.Max(l.Field.Width(), l.Field.Height())
	w, h := l.Field.Width()*scale, float64(l.Field.Height()*scale)
	column := math.Max(w, mapLeast)
	s := sheet.Sheet{Title: l.ID() + ", strain of the film"}
	s.Width = 2*mapInset + 2*column + mapGap
	s.Height = mapInset + mapNotes + mapLegend + h + mapHead
	s.Layers = []sheet.Layer{{Name: "frame", Items: mapTitle(l, s, scale)}}
	for k, p := range panels {
		left := mapInset + float64(float64(k)*(column+mapGap))
		low := mapInset + mapNotes + mapLegend
		to := func(q g.Point) g.Point {
			return g.Point{X: left + (column-w)/2 + float64((q.X-l.Field.Min.X)*scale), Y: low + float64((q.Y-l.Field.Min.Y)*scale)}
		}
		name := strings.ToLower(p.title)
		s.Layers = append(s.Layers,
			sheet.Layer{Name: name, Items: p.field(l, scale, to)},
			sheet.Layer{Name: name + ", outlines", Items: p.outlines(l, to, left, low+h)},
			sheet.Layer{Name: name + ", legend", Items: p.legend(l.Placement.Read, left, low-0.3, column)})
	}
	return s
}

// mapTitle draws the frame, the title, the verdict and the notes.
func mapTitle(l masks.Laid, s sheet.Sheet, scale float64) []sheet.Item {
	p := l.Placement
	top := s.Height
	frame := g.Rectangle(g.Rect{Min: g.Point{X: mapBorder, Y: mapBorder}, Max: g.Point{X: s.Width - mapBorder, Y: top - mapBorder}})
	out := []sheet.Item{
		{Path: g.Path{frame}, Ink: sheet.Ink{Stroke: "#1a1a1a", Width: 0.012}},
		views.TextAt(fmt.Sprintf("%s, %s side: strain of the film", p.Marking.ID, p.Side), 0.2, mapInset, top-0.8, 0, sheet.InkText),
		views.TextAt("Verdict: "+string(l.Advice), 0.14, mapInset, top-1.1, 0, sheet.InkText),
	}
	k := skin.GaussianCurvature(p.Surface, p.Frame.At)
	u := p.Read
	round := "the skin can be laid out flat at its held point"
	switch r := 1 / math.Sqrt(math.Abs(k)); {
	case k > 0 && r < 10000:
		round = "at its held point the skin is as round as a ball of radius " + u.Length(g.Length(r), 0)
	case k < 0 && r < 10000:
		round = "at its held point the skin is a saddle, of mean radius " + u.Length(g.Length(r), 0)
	}
	out = append(out, views.TextAt(fmt.Sprintf("film %s, seen from outside; %s; outline plus or minus %s", u.Size(g.Length(l.Field.Width()), g.Length(l.Field.Height()), 3), round, u.Fixed(l.Outline.PlusMinus(), 4)),
		0.1, mapInset, top-1.33, 0, sheet.InkTextSoft))
	notes := "The names of the bands are practice, not a standard."
	if n := len(l.Slits); n > 0 {
		notes += fmt.Sprintf(" Dashed: %d relief slits in the waste.", n)
	}
	out = append(out, views.TextAt(notes, 0.1, mapInset, mapInset+0.22, 0, sheet.InkTextSoft))
	return append(out, views.TextAt(fmt.Sprintf("Layout aid, not approved data. A picture at scale 1:%s: do not scale or cut from it.", g.FormatNumber(1/scale, 2)), 0.1, mapInset, mapInset, 0, sheet.InkTextSoft))
}

// field draws the colours and the contours, the strongest last, and their levels.
func (p strainPanel) field(l masks.Laid, scale float64, to func(g.Point) g.Point) []sheet.Item {
	out := []sheet.Item{{Path: g.Path{g.Rectangle(l.Field)}.Map(to), Ink: sheet.Ink{Fill: views.StrainColour(0)}}}
	var words []sheet.Item
	x, y, align := p.peakLabel(l, to)
	wide, origin := glyphs.LabelWidth(masks.Percent(p.peak), peakCap, false), to(g.Point{})
	back := func(x, y float64) g.Point { return g.Point{X: (x - origin.X) / scale, Y: (y - origin.Y) / scale} }
	peak := g.Rect{Min: back(x-float64(align*wide), y), Max: back(x+float64((1-align)*wide), y+peakCap)}
	for _, a := range views.StrainAreas(l, p.part, p.full, mapCap/scale, peak.Grown(0.04/scale), g.BoundsOf(p.flat).Grown(0.12/scale)) {
		out = append(out, sheet.Item{Path: a.Region.Map(to), Ink: sheet.Ink{Fill: a.Colour, Stroke: views.StrainLine, Width: 0.006}})
		for _, label := range a.Labels {
			at := to(label.Box.Min)
			words = append(words, views.Haloed(views.TextAt(label.Text, mapCap, at.X, at.Y, 0, sheet.InkText))...)
		}
	}
	return append(out, words...)
}

// outlines draws the field, the paint, the slits and the peak over the colours.
func (p strainPanel) outlines(l masks.Laid, to func(g.Point) g.Point, left, top float64) []sheet.Item {
	out := []sheet.Item{{Path: g.Path{g.Rectangle(l.Field)}.Map(to), Ink: sheet.Ink{Stroke: "#5c6b73", Width: 0.010}}}
	for _, r := range l.Regions {
		line := r.Outline.Map(to) // on dark and on light
		out = append(out, sheet.Item{Path: line, Ink: sheet.Ink{Stroke: "#ffffff", Width: 0.030}}, sheet.Item{Path: line, Ink: sheet.Ink{Stroke: "#1a1a1a", Width: 0.012}})
	}
	for _, s := range l.Slits {
		out = append(out, sheet.Item{Path: g.Path{g.Polyline(to(s.From), to(s.To))}, Ink: sheet.Ink{Stroke: "#1a1a1a", Width: 0.012, Dash: []float64{0.06, 0.04}}})
	}
	// the peak: a ring with a light edge, and its figure on the inner side
	c := to(p.flat)
	ring := g.Path{g.Circle(c, 0.08), g.Circle(c, 0.02)}
	out = append(out, sheet.Item{Path: ring, Ink: sheet.Ink{Stroke: "#ffffff", Width: 0.05}}, sheet.Item{Path: ring, Ink: sheet.Ink{Stroke: "#1a1a1a", Width: 0.015}})
	x, y, align := p.peakLabel(l, to)
	out = append(out, views.Haloed(views.TextAt(masks.Percent(p.peak), peakCap, x, y, align, sheet.InkText))...)
	return append(out, views.TextAt(p.title, 0.13, left, top+0.12, 0, sheet.InkText))
}

// peakCap is the height of the figure at a peak, in inches of the sheet.
const peakCap = 0.11

// peakLabel is where the figure of the peak stands: beside its ring, on the inner side.
func (p strainPanel) peakLabel(l masks.Laid, to func(g.Point) g.Point) (x, y, align float64) {
	c, mid := to(p.flat), to(l.Field.Centre())
	x, align, y = c.X+0.16, 0, c.Y+0.085
	if c.X > mid.X {
		x, align = c.X-0.16, 1
	}
	if c.Y > mid.Y {
		y -= 0.28
	}
	return x, y, align
}

// legend draws the scale with its numbers, the band limits on it and the bands
// below it, from y downwards.
func (p strainPanel) legend(u g.Units, x, y, width float64) []sheet.Item {
	var out []sheet.Item
	full := p.full
	const high = 0.16
	cell := width / mapSteps
	for k := range mapSteps {
		r := g.Rect{Min: g.Point{X: x + float64(cell*float64(k)), Y: y - high}, Max: g.Point{X: x + float64(cell*float64(k+1)), Y: y}}
		out = append(out, sheet.Item{Path: g.Path{g.Rectangle(r)}, Ink: sheet.Ink{Fill: views.StrainColour(p.way * (float64(k) + 0.5) / mapSteps), Stroke: "#5c6b73", Width: 0.004}})
	}
	for k := 0; k <= mapSteps; k += 2 {
		align := float64(k) / mapSteps
		out = append(out, views.TextAt(scalePercent(full*float64(k)/mapSteps, full), 0.1, x+float64(cell*float64(k)), y-high-0.17, align, sheet.InkTextSoft))
	}
	at := p.at
	out = append(out, views.TextAt(fmt.Sprintf("peak %s at FS %s, BL %s, WL %s", masks.Percent(p.peak), u.FixedNumber(g.Length(at.FS), 2), u.FixedNumber(g.Length(at.BL), 2), u.FixedNumber(g.Length(at.WL), 2)), 0.11, x, y-0.58, 0, sheet.InkText))
	lines, lo := [4]string{}, 0.0
	limits := [3]float64{p.limits.Easy, p.limits.Warm, p.limits.Split}
	for b := range lines {
		span := fmt.Sprintf("above %s", shortPercent(lo))
		if b < len(limits) {
			span = fmt.Sprintf("%s to %s", strings.TrimSuffix(shortPercent(lo), " %"), shortPercent(limits[b]))
			lo = limits[b]
		}
		lines[b] = fmt.Sprintf("%s: %s", span, masks.VerdictOf(layouts.StrainBand(b)))
	}
	here := p.limits.Band(p.peak)
	for b, text := range lines {
		ink, row := sheet.InkTextSoft, y-0.82-float64(0.18*float64(b))
		if layouts.StrainBand(b) == here {
			ink = sheet.InkText
			out = append(out, sheet.Item{Path: g.Path{g.Polygon(g.Point{X: x, Y: row}, g.Point{X: x + 0.09, Y: row + 0.05}, g.Point{X: x, Y: row + 0.1})}, Ink: sheet.InkText})
		}
		out = append(out, views.TextAt(text, 0.1, x+0.16, row, 0, ink))
	}
	return out
}

// scalePercent writes a number of a legend with the digits its full scale needs.
func scalePercent(e, full float64) string {
	digits := int(math.Max(0, 2-math.Floor(same.Log10(full*100))))
	return g.FormatNumber(e*100, min(digits, 9)) + " %"
}

func shortPercent(e float64) string { return g.FormatNumber(e*100, 4) + " %" }
