package export

import (
	"fmt"
	"math"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/glyphs"
)

// SpecimenSheet draws an alphabet for the dossier: every character, a line of them
// set, and the ratios in words with their sources. Inferred ratios, which a fit had no
// measure for, are marked.
func SpecimenSheet(paper sheet.Paper, a *glyphs.Alphabet) ([]sheet.Sheet, error) {
	const cap = 0.62
	s, err := a.Specimen(g.Length(cap))
	if err != nil {
		return nil, err
	}
	p := sheet.NewPages(paper, "Alphabet "+s.Name)
	p.Text(sheet.SetTitle, s.Name)
	p.Text(sheet.SetBody, s.Title)
	p.Text(sheet.SetSoft, "source: "+s.Source)
	p.Space(0.1)
	ink := sheet.Ink{Fill: "#1a1a1a"}
	x, row := 0.0, g.Rect{}
	for i, glyph := range s.Glyphs {
		b := glyph.Outline.Bounds()
		w := math.Max(glyph.Width.Inches(), b.Max.X)
		if i == 0 || x+w > p.Width() {
			row, x = p.Block(cap+0.34), 0
		}
		p.Draw(sheet.Item{Path: glyph.Outline.Moved(g.Vec{X: row.Min.X + x, Y: row.Min.Y + 0.26}), Ink: ink})
		p.Draw(sheet.SetSoft.At(string(glyph.Rune), row.Min.X+x+glyph.Width.Inches()/2, row.Min.Y+0.05, 0.5))
		x += w + 0.28
	}
	for _, text := range []string{"K4 TV-0417", "HARBOUR COAST"} {
		run, err := glyphs.Set(a, text, g.Length(0.5), glyphs.SetOptions{})
		if err != nil {
			continue // a text with a character that this alphabet lacks
		}
		scale := math.Min(1, p.Width()/run.Width.Inches())
		line := p.Block(0.5*scale + 0.24)
		p.Draw(sheet.Item{Path: run.Outline().Map(func(q g.Point) g.Point {
			return g.Point{X: line.Min.X + float64(q.X*scale), Y: line.Min.Y + 0.08 + float64(q.Y*scale)}
		}), Ink: ink})
	}
	p.Heading("Ratios", 0.8)
	t := sheet.Table{Columns: []sheet.Column{{Head: "what", Share: 1.4, Align: 0}, {Head: "value", Share: 3.6, Align: 0}, {Head: "source", Share: 2.4, Align: 0}}}
	for _, r := range s.Rows {
		source := r.Source
		switch {
		case r.Inferred:
			source = "inferred, not measured"
		case source == "":
			source = "as above"
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: r.What, Set: sheet.SetStrong}, {Text: r.Value}, {Text: source, Set: sheet.SetSoft}})
	}
	p.Table(t)
	return p.Sheets(), nil
}

// SpecimenOfFont draws the characters of a font file, with its licence.
func SpecimenOfFont(paper sheet.Paper, name string, f *glyphs.Font) []sheet.Sheet {
	const cap = 0.5
	p := sheet.NewPages(paper, "Font "+name)
	p.Text(sheet.SetTitle, name)
	p.Text(sheet.SetSoft, "licence: "+f.Licence.String())
	p.Space(0.1)
	x, row := math.Inf(1), g.Rect{}
	for _, r := range glyphs.Characters() {
		glyph, err := f.Glyph(r, g.Length(cap))
		if err != nil {
			continue
		}
		w := glyph.Width.Inches()
		if x+w > p.Width() {
			row, x = p.Block(cap+0.4), 0
		}
		p.Draw(sheet.Item{Path: glyph.Outline.Moved(g.Vec{X: row.Min.X + x, Y: row.Min.Y + 0.26}), Ink: sheet.Ink{Fill: "#1a1a1a"}})
		x += w + 0.25
	}
	p.Text(sheet.SetSoft, fmt.Sprintf("capitals %s in high. A typeface is no evidence: measure the paint or a photograph.", g.FormatNumber(cap, 2)))
	return p.Sheets()
}
