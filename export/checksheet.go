package export

import (
	"fmt"
	"math"
	"slices"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// CheckedDrawing is an insignia that was held against a rule: what was measured,
// and the regions and dimension lines to draw. Lines are in the coordinates of the
// regions, inches.
type CheckedDrawing struct {
	Title   string
	Against string // document, revision and clause
	Regions []layouts.Region
	Hex     func(colour string) string // of a region, for the picture
	Rows    []CheckedRow
	Rule    [][]g.Point // the rule's outlines, to draw over it
	Marks   []CheckedMark
}

// CheckedMark is what a drawing lacks, or has besides, as lines and hatching.
type CheckedMark struct {
	Extra bool
	Lines [][]g.Point
}

// CheckedRow is one dimension with its verdict.
type CheckedRow struct {
	Mark       string // letter of its dimension line
	What       string
	Measured   g.Length
	Expected   g.Length
	Difference g.Length
	Tolerance  g.Length
	Degree     g.Length // of an angle: the arc of one degree at the end of its arm; 0: a length
	Verdict    string
	Good       bool // it conforms
	Source     string
	Hint       string
	Line       [2]g.Point // where it lies; both the same: it has no line
}

// Figures returns what was measured and expected, the difference and the tolerance
// as they are printed: lengths without their unit, angles in degrees.
func (r CheckedRow) Figures(u g.Units) (measured, expected, difference, tolerance string) {
	if r.Degree > 0 {
		of := func(format string, l g.Length) string {
			return fmt.Sprintf(format+" deg", math.Round(float64(l/r.Degree)*100)/100+0)
		}
		return of("%.2f", r.Measured), of("%.2f", r.Expected), of("%+.2f", r.Difference), of("%.2f", r.Tolerance)
	}
	of := func(l g.Length) string { return u.FixedNumber(tidyLength(l), 3) }
	difference = of(r.Difference)
	if difference[0] != '-' {
		difference = "+" + difference
	}
	return of(r.Measured), of(r.Expected), difference, of(r.Tolerance)
}

// CheckSheet draws checked insignia for the dossier, a page each: the drawing with
// dimension lines, a table of what was measured and expected, verdicts, sources;
// after them what was found of places and dates.
func CheckSheet(paper sheet.Paper, u g.Units, title string, drawn []CheckedDrawing, findings []layouts.Finding) []sheet.Sheet {
	p := sheet.NewPages(paper, title)
	for i, d := range drawn {
		if i > 0 {
			p.Turn()
		}
		p.Text(sheet.SetTitle, d.Title)
		p.Text(sheet.SetSoft, "held against "+d.Against)
		checkedPicture(p, d)
		checkedTable(p, u, d)
	}
	if len(findings) > 0 || len(drawn) == 0 {
		if len(drawn) > 0 && p.Room() < 2.5 {
			p.Turn()
		}
		p.Heading("Places, dates and sides", 0.8)
		t := sheet.Table{Columns: []sheet.Column{{Head: "level", Share: 0.6, Align: 0}, {Head: "what", Share: 1.35, Align: 0}, {Head: "found", Share: 4.75, Align: 0}, {Head: "source", Share: 1.7, Align: 0}}}
		for _, f := range findings {
			text := f.Message
			if f.Hint != "" {
				text += "\nhint: " + f.Hint
			}
			t.Rows = append(t.Rows, []sheet.Cell{{Text: string(f.Level), Fill: views.LevelFill[f.Level]}, {Text: f.Kind()}, {Text: text}, {Text: f.Source, Set: sheet.SetSoft}})
		}
		if len(t.Rows) == 0 {
			p.Text(sheet.SetBody, "Nothing was found.")
		} else {
			p.Table(t)
		}
	}
	p.Space(0.1)
	p.Text(sheet.SetSoft, "Layout aid, not approved data. Measured on the finished outlines, not on the numbers that drew them.")
	return p.Sheets()
}

// checkedPicture draws the regions in their paints, thinned, with a dimension line
// for every row that has one.
func checkedPicture(p *sheet.Pages, d CheckedDrawing) {
	var all g.Path
	for _, r := range d.Regions {
		all = append(all, r.Outline...)
	}
	if len(all) == 0 {
		return
	}
	box := p.Block(3.4)
	bounds := all.Bounds()
	for _, l := range d.Rule {
		bounds = bounds.Union(g.BoundsOf(l...))
	}
	for _, m := range d.Marks {
		for _, l := range m.Lines {
			bounds = bounds.Union(g.BoundsOf(l...))
		}
	}
	_, place := sheet.Fitted(bounds, box.Grown(-0.4), math.Inf(1))
	for _, r := range d.Regions {
		ink := sheet.Ink{Stroke: "#1a1a1a", Width: 0.01}
		if hex := d.Hex(r.Colour); hex != "" { // outlines alone have no paint
			ink.Fill = views.Tint(hex, 0.35)
		}
		p.Draw(sheet.Item{Path: r.Outline.Map(place), Ink: ink})
	}
	checkedOver(p, d, place)
	middle := place(bounds.Centre())
	steps := dimensionSteps{}
	drawn := map[string]bool{}
	var letters []sheet.Item
	for _, row := range d.Rows {
		a, b := place(row.Line[0]), place(row.Line[1])
		if row.Mark == "" || drawn[row.Mark] || a.Dist(b) < 0.02 {
			continue
		}
		drawn[row.Mark] = true
		off := 0.0
		dir := b.Sub(a).Unit()
		if a.Dist(b) > 0.35 {
			left := dir.Perp()
			outward := a.Lerp(b, 0.5).Sub(middle)
			sign := 1.0
			if left.Dot(outward) < 0 {
				sign = -1
			}
			off = sign * (0.1 + float64(0.17*float64(steps.take(a, b, sign))))
		}
		items := freeMeasure(a, b, off, row.Mark, letters)
		last := len(items) - 1
		p.Draw(items[:last]...)
		letters = append(letters, items[last])
	}
	for _, l := range letters { // over all lines and hatching, each on a white edge
		p.Draw(sheet.Item{Path: l.Path, Ink: sheet.Ink{Stroke: "#ffffff", Width: 0.04}})
	}
	p.Draw(letters...)
}

// letterApart is how far apart the middles of two letters of dimension lines must be, inches.
const letterApart = 0.13

// freeMeasure returns a dimension line whose letter stands where there is none yet: at its
// middle, else nearer to an end, else beyond one.
func freeMeasure(a, b g.Point, off float64, letter string, others []sheet.Item) []sheet.Item {
	beyond := letterApart / a.Dist(b)
	var first []sheet.Item
	for _, share := range []float64{0.5, 0.35, 0.65, 0.22, 0.78, 1 + beyond, -beyond} {
		items := sheet.MeasureLineAt(a, b, off, share, letter, sheet.SetStrong)
		if first == nil {
			first = items
		}
		at := items[len(items)-1].Path.Bounds().Centre()
		if !slices.ContainsFunc(others, func(o sheet.Item) bool { return o.Path.Bounds().Centre().Dist(at) < letterApart }) {
			return items
		}
	}
	return first
}

// Colours of what lacks and of what is there besides; hatching across lines leans the
// one way for the one and the other way for the other.
const (
	lacksInk   = "#c2410c"
	besidesInk = "#1d4ed8"
	hatchApart = 0.06 // inches of paper
	hatchReach = 0.05
)

// checkedOver draws the rule over a drawing, and marks what lacks and what is there
// besides.
func checkedOver(p *sheet.Pages, d CheckedDrawing, place func(g.Point) g.Point) {
	for _, l := range d.Rule {
		var c g.Path
		pts := make([]g.Point, len(l))
		for i, q := range l {
			pts[i] = place(q)
		}
		c = append(c, g.Polyline(pts...))
		p.Draw(sheet.Item{Path: c, Ink: sheet.Ink{Stroke: "#1a1a1a", Width: 0.008, Dash: []float64{0.05, 0.03}}})
	}
	for _, m := range d.Marks {
		ink, lean := sheet.Ink{Stroke: lacksInk, Width: 0.022}, g.Vec{X: 1, Y: 1}
		if m.Extra {
			ink.Stroke, lean = besidesInk, g.Vec{X: 1, Y: -1}
		}
		lean = lean.Unit().Scale(hatchReach)
		thin := ink
		thin.Width = 0.008
		var lines, ticks g.Path
		for _, l := range m.Lines {
			since := 0.0
			for i := 1; i < len(l); i++ {
				a, b := place(l[i-1]), place(l[i])
				if a == b {
					continue
				}
				lines = append(lines, g.Polyline(a, b))
				if across := math.Abs(b.Sub(a).Unit().Cross(lean.Unit())); across < 0.2 {
					continue // hatching itself
				}
				for at := hatchApart - since; at < a.Dist(b); at += hatchApart {
					q := a.Lerp(b, at/a.Dist(b))
					ticks = append(ticks, g.Polyline(q.Add(lean.Scale(-1)), q.Add(lean)))
				}
				since = math.Mod(since+a.Dist(b), hatchApart)
			}
		}
		p.Draw(sheet.Item{Path: lines, Ink: ink})
		if len(ticks) > 0 {
			p.Draw(sheet.Item{Path: ticks, Ink: thin})
		}
	}
	if len(d.Marks) > 0 {
		p.Text(sheet.SetSoft, "Dashed: the rule. Orange, hatched rising to the right: it lacks. Blue, hatched falling to the right: it is there besides.")
	}
}

// dimensionSteps are the stretches that dimension lines take, step by step outwards,
// of each direction and side: none lies on another.
type dimensionSteps map[[2]int][][][2]float64

// take returns the first step where a line from a to b is free, and takes it.
func (d dimensionSteps) take(a, b g.Point, sign float64) int {
	dir := b.Sub(a).Unit()
	if dir.X < 0 || dir.X == 0 && dir.Y < 0 {
		dir = dir.Scale(-1)
	}
	u, v := g.Vec(a).Dot(dir), g.Vec(b).Dot(dir)
	own := [2]float64{min(u, v), max(u, v)}
	key := [2]int{int(math.Round(math.Abs(dir.X) * 4)), int(sign)}
	step := 0
	for ; step < len(d[key]); step++ {
		if !slices.ContainsFunc(d[key][step], func(o [2]float64) bool { return own[0] < o[1] && o[0] < own[1] }) {
			d[key][step] = append(d[key][step], own)
			return step
		}
	}
	d[key] = append(d[key], [][2]float64{own})
	return step
}

func checkedTable(p *sheet.Pages, u g.Units, d CheckedDrawing) {
	p.Heading("Proportions, in "+u.Name()+" where no other unit stands", 0.8)
	t := sheet.Table{Columns: []sheet.Column{{Head: "", Share: 0.3, Align: 0}, {Head: "dimension", Share: 3.7, Align: 0}, {Head: "measured", Share: 1.05, Align: 1}, {Head: "expected", Share: 1.05, Align: 1}, {Head: "off by", Share: 0.98, Align: 1}, {Head: "within", Share: 0.9, Align: 1}, {Head: "verdict", Share: 2.07, Align: 0}}}
	for _, r := range d.Rows {
		verdict := r.Verdict
		if r.Hint != "" {
			verdict += "\n" + r.Hint
		}
		if r.Source != "" && r.Source != d.Against && !r.Good {
			verdict += "\n" + r.Source
		}
		fill := "#cfe3cf"
		if !r.Good {
			fill = "#efc4bb"
		}
		measured, expected, difference, tolerance := r.Figures(u)
		t.Rows = append(t.Rows, []sheet.Cell{{Text: r.Mark, Set: sheet.SetStrong}, {Text: r.What}, {Text: measured, Set: sheet.SetStrong}, {Text: expected}, {Text: difference}, {Text: tolerance}, {Text: verdict, Fill: fill}})
	}
	p.Table(t)
}

// tidyLength rounds to a millionth of an inch, so that what is computed by another way
// prints the same.
func tidyLength(l g.Length) g.Length { return g.Length(math.Round(l.Inches()*1e6) / 1e6) }
