package export

import (
	"fmt"
	"math"
	"strings"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
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
	mapSquares = 96   // along the longer side of a panel
)

// ramp is a scale of colours from no strain to the peak.
type ramp [4][3]float64

// Colours of the two panels: the halves of one ladder, which the job book and the bench
// use too. Squeezed film is dark and stretched film light, so that they are told apart in
// grey as well (L* 14 30 48 64 74 83 94).
var (
	rampSqueezed  = ramp{{142, 159, 153}, {74, 120, 147}, {35, 72, 107}, {16, 35, 61}}
	rampStretched = ramp{{142, 159, 153}, {189, 184, 140}, {220, 207, 147}, {248, 239, 196}}
)

// at returns the colour of step k of the ramp.
func (r ramp) at(k int) string {
	t := 3 * float64(k) / (mapSteps - 1)
	i := min(2, int(t))
	var c [3]int
	for n := range c {
		c[n] = int(math.Round(r[i][n] + float64((r[i+1][n]-r[i][n])*(t-float64(i)))))
	}
	return fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2])
}

// strainPanel is one of the two panels of a map.
type strainPanel struct {
	title  string
	ramp   ramp
	limits layouts.StrainLimits
	of     func(skin.LocalStrain) float64
	peak   float64
	flat   g.Point
	at     g.Position
}

// StrainMap returns a picture of the film's strain over the flat of a marking: at
// the left (or above) how much it is squeezed, at the other side how much it is
// stretched, each with its peak. The picture is to scale but not at true size.
func StrainMap(l masks.Laid) sheet.Sheet {
	bands := l.Bands
	panels := [2]strainPanel{
		{"SQUEEZED", rampSqueezed, bands.Squeezed, func(s skin.LocalStrain) float64 { return -s.Least }, l.Strain.Compression, l.Strain.CompressionFlat, l.Strain.CompressionAt},
		{"STRETCHED", rampStretched, bands.Stretched, func(s skin.LocalStrain) float64 { return s.Most }, l.Strain.Tension, l.Strain.TensionFlat, l.Strain.TensionAt},
	}
	sampled := sampleStrain(l)
	scale := mapLongest / math.Max(l.Field.Width(), l.Field.Height())
	w, h := l.Field.Width()*scale, l.Field.Height()*scale
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
			sheet.Layer{Name: name, Items: p.field(sampled, to)},
			sheet.Layer{Name: name + ", outlines", Items: p.outlines(l, to, left, low+h)},
			sheet.Layer{Name: name + ", legend", Items: p.legend(left, low-0.3, column)})
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

// strainGrid is the strain at the middle of squares that cover a field, row by row;
// nil where the map does not reach.
type strainGrid struct {
	field  g.Rect
	nx, ny int
	at     []*skin.LocalStrain
}

func sampleStrain(l masks.Laid) strainGrid {
	f := l.Field
	size := math.Max(f.Width(), f.Height()) / mapSquares
	s := strainGrid{field: f, nx: max(1, int(math.Round(f.Width()/size))), ny: max(1, int(math.Round(f.Height()/size)))}
	s.at = make([]*skin.LocalStrain, s.nx*s.ny)
	for k := range s.at {
		r := s.strip(k%s.nx, k%s.nx+1, k/s.nx)
		if e, ok := l.Map.StrainAt(r.Centre()); ok {
			s.at[k] = &e
		}
	}
	return s
}

// strip returns the squares from and up to a column, of row j.
func (s strainGrid) strip(from, to, j int) g.Rect {
	dx, dy := s.field.Width()/float64(s.nx), s.field.Height()/float64(s.ny)
	return g.Rect{
		Min: s.field.Min.Add(g.Vec{X: dx * float64(from), Y: dy * float64(j)}),
		Max: s.field.Min.Add(g.Vec{X: dx * float64(to), Y: dy * float64(j+1)}),
	}
}

// field draws the colours: strips of equal colour, row by row.
func (p strainPanel) field(s strainGrid, to func(g.Point) g.Point) []sheet.Item {
	var strips [mapSteps]g.Path
	for j := range s.ny {
		from, last := 0, -1
		for i := 0; i <= s.nx; i++ {
			k := -1
			if i < s.nx && s.at[j*s.nx+i] != nil {
				k = p.step(p.of(*s.at[j*s.nx+i]))
			}
			if k != last {
				if last >= 0 {
					r := s.strip(from, i, j)
					strips[last] = append(strips[last], g.Rectangle(g.Rect{Min: to(r.Min), Max: to(r.Max)}))
				}
				from, last = i, k
			}
		}
	}
	var out []sheet.Item
	for k, path := range strips {
		if len(path) > 0 {
			// the thin edge closes the hairlines that viewers leave between strips
			out = append(out, sheet.Item{Path: path, Ink: sheet.Ink{Fill: p.ramp.at(k), Stroke: p.ramp.at(k), Width: 0.004}})
		}
	}
	return out
}

// leastFull is the least strain at the dark end of a legend: below it film lies cold
// everywhere (common practice, no source), and dark colours would alarm for nothing.
const leastFull = 0.0005

// full is the strain at the dark end of the legend: the peak, rounded up so that
// quarters of it read easily, and no less than [leastFull].
func (p strainPanel) full() float64 {
	if p.peak <= leastFull {
		return leastFull
	}
	unit := math.Pow(10, math.Floor(math.Log10(p.peak)))
	for _, n := range []float64{1, 1.2, 1.6, 2, 2.4, 2.8, 3.2, 4, 4.8, 6, 8} {
		if p.peak <= n*unit*(1+1e-9) {
			return n * unit
		}
	}
	return 10 * unit
}

func (p strainPanel) step(e float64) int {
	return max(0, min(mapSteps-1, int(e/p.full()*mapSteps)))
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
	mid := to(l.Field.Centre())
	x, align, y := c.X+0.16, 0.0, c.Y-0.055
	if c.X > mid.X {
		x, align = c.X-0.16, 1
	}
	if y += 0.14; c.Y > mid.Y {
		y -= 0.28
	}
	out = append(out, views.Haloed(views.TextAt(masks.Percent(p.peak), 0.11, x, y, align, sheet.InkText))...)
	return append(out, views.TextAt(p.title, 0.13, left, top+0.12, 0, sheet.InkText))
}

// legend draws the scale with its numbers, the band limits on it and the bands
// below it, from y downwards.
func (p strainPanel) legend(x, y, width float64) []sheet.Item {
	var out []sheet.Item
	full := p.full()
	const high = 0.16
	cell := width / mapSteps
	for k := range mapSteps {
		r := g.Rect{Min: g.Point{X: x + float64(cell*float64(k)), Y: y - high}, Max: g.Point{X: x + float64(cell*float64(k+1)), Y: y}}
		out = append(out, sheet.Item{Path: g.Path{g.Rectangle(r)}, Ink: sheet.Ink{Fill: p.ramp.at(k), Stroke: "#5c6b73", Width: 0.004}})
	}
	for k := 0; k <= mapSteps; k += 2 {
		align := float64(k) / mapSteps
		out = append(out, views.TextAt(scalePercent(full*float64(k)/mapSteps, full), 0.1, x+float64(cell*float64(k)), y-high-0.17, align, sheet.InkTextSoft))
	}
	at := p.at
	out = append(out, views.TextAt(fmt.Sprintf("peak %s at FS %.2f, BL %.2f, WL %.2f", masks.Percent(p.peak), float64(at.FS), float64(at.BL), float64(at.WL)), 0.11, x, y-0.58, 0, sheet.InkText))
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
	digits := int(math.Max(0, 2-math.Floor(math.Log10(full*100))))
	return g.FormatNumber(e*100, min(digits, 9)) + " %"
}

func shortPercent(e float64) string { return g.FormatNumber(e*100, 4) + " %" }
