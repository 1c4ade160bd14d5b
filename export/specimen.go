package export

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/glyphs"
)

// SpecimenSheet draws an alphabet for the dossier: every character, a line of them
// set, and the ratios in words with their sources. Inferred ratios, which a fit had no
// measure for, are marked.
func SpecimenSheet(paper Paper, a *glyphs.Alphabet) ([]Sheet, error) {
	const cap = 0.62
	s, err := a.Specimen(g.Length(cap))
	if err != nil {
		return nil, err
	}
	p := newPages(paper, "Alphabet "+s.Name)
	p.text(setTitle, s.Name)
	p.text(setBody, s.Title)
	p.text(setSoft, "source: "+s.Source)
	p.space(0.1)
	ink := Ink{Fill: "#1a1a1a"}
	x, row := 0.0, g.Rect{}
	for i, glyph := range s.Glyphs {
		b := glyph.Outline.Bounds()
		w := math.Max(glyph.Width.Inches(), b.Max.X)
		if i == 0 || x+w > p.width() {
			row, x = p.block(cap+0.34), 0
		}
		p.draw(Item{Path: glyph.Outline.Moved(g.Vec{X: row.Min.X + x, Y: row.Min.Y + 0.26}), Ink: ink})
		p.draw(setSoft.at(string(glyph.Rune), row.Min.X+x+glyph.Width.Inches()/2, row.Min.Y+0.05, 0.5))
		x += w + 0.28
	}
	for _, text := range []string{"K4 TV-0417", "HARBOUR COAST"} {
		run, err := glyphs.Set(a, text, g.Length(0.5), glyphs.SetOptions{})
		if err != nil {
			continue // a text with a character that this alphabet lacks
		}
		scale := math.Min(1, p.width()/run.Width.Inches())
		line := p.block(0.5*scale + 0.24)
		p.draw(Item{Path: run.Outline().Map(func(q g.Point) g.Point {
			return g.Point{X: line.Min.X + q.X*scale, Y: line.Min.Y + 0.08 + q.Y*scale}
		}), Ink: ink})
	}
	p.heading("Ratios", 0.8)
	t := table{columns: []column{{"what", 1.4, 0}, {"value", 3.6, 0}, {"source", 2.4, 0}}}
	for _, r := range s.Rows {
		source := r.Source
		switch {
		case r.Inferred:
			source = "inferred, not measured"
		case source == "":
			source = "as above"
		}
		t.rows = append(t.rows, []cell{{text: r.What, set: setStrong}, {text: r.Value}, {text: source, set: setSoft}})
	}
	p.table(t)
	return p.Sheets(), nil
}

// SpecimenOfFont draws the characters of a font file, with its licence.
func SpecimenOfFont(paper Paper, name string, f *glyphs.Font) []Sheet {
	const cap = 0.5
	p := newPages(paper, "Font "+name)
	p.text(setTitle, name)
	p.text(setSoft, "licence: "+f.Licence.String())
	p.space(0.1)
	x, row := math.Inf(1), g.Rect{}
	for _, r := range glyphs.Characters() {
		glyph, err := f.Glyph(r, g.Length(cap))
		if err != nil {
			continue
		}
		w := glyph.Width.Inches()
		if x+w > p.width() {
			row, x = p.block(cap+0.4), 0
		}
		p.draw(Item{Path: glyph.Outline.Moved(g.Vec{X: row.Min.X + x, Y: row.Min.Y + 0.26}), Ink: Ink{Fill: "#1a1a1a"}})
		x += w + 0.25
	}
	p.text(setSoft, fmt.Sprintf("capitals %s in high. A typeface is no evidence: measure the paint or a photograph.", g.FormatNumber(cap, 2)))
	return p.Sheets()
}
