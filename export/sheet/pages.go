package sheet

import (
	"fmt"

	g "maskloft/geometry"
)

// Pages lays blocks down the pages of a document, from the top; a block that does
// not fit begins the next page. Coordinates are inches of the page, y up.
type Pages struct {
	paper  Paper
	Title  string // at the foot of every page
	sheets []Sheet
	items  []Item
	y      float64 // upper edge of what is still free
}

// Margins of a page, in inches: within what printers reach.
const (
	PageMargin = 0.6
	pageFoot   = 0.55 // height of the foot above the lower margin
)

func NewPages(paper Paper, title string) *Pages {
	return &Pages{paper: paper, Title: title, y: paper.Height - PageMargin}
}

// Left, right and width bound what a page holds.
func (p *Pages) Left() float64  { return PageMargin }
func (p *Pages) right() float64 { return p.paper.Width - PageMargin }
func (p *Pages) Width() float64 { return p.right() - p.Left() }

// Room is the height still free on the page, in inches.
func (p *Pages) Room() float64 { return p.y - PageMargin - pageFoot }

// Turn ends the page.
func (p *Pages) Turn() {
	p.sheets = append(p.sheets, Sheet{
		Title: fmt.Sprintf("%s, page %d", p.Title, len(p.sheets)+1), Width: p.paper.Width, Height: p.paper.Height,
		Layers: []Layer{{Name: "page", Items: p.items}},
	})
	p.items, p.y = nil, p.paper.Height-PageMargin
}

// Need turns the page where less than a height is left of it.
func (p *Pages) Need(height float64) {
	if p.Room() < height && len(p.items) > 0 {
		p.Turn()
	}
}

// Draw adds items to the page as they stand.
func (p *Pages) Draw(items ...Item) { p.items = append(p.items, items...) }

// Space leaves a height free.
func (p *Pages) Space(height float64) { p.y -= height }

// Block takes a rectangle as wide as the page and of a height, turning the page
// where it must.
func (p *Pages) Block(height float64) g.Rect {
	p.Need(height)
	r := g.Rect{Min: g.Point{X: p.Left(), Y: p.y - height}, Max: g.Point{X: p.right(), Y: p.y}}
	p.y -= height
	return r
}

// Text sets a wrapped paragraph, line by line over the pages.
func (p *Pages) Text(s Lettering, text string) {
	for _, line := range s.Wrap(text, p.Width()) {
		box := p.Block(s.Leading())
		p.Draw(s.At(line, box.Min.X, box.Max.Y-float64(1.45*s.Cap), 0))
	}
}

// Heading sets a heading that stays with what follows it: after is the height of
// the first of that, in inches.
func (p *Pages) Heading(text string, after float64) {
	p.Need(SetHeading.Leading() + 0.12 + after)
	if len(p.items) > 0 {
		p.Space(0.12)
	}
	p.Text(SetHeading, text)
	p.Space(0.03)
}

// Bullet sets a paragraph behind a mark.
func (p *Pages) Bullet(s Lettering, mark, text string, indent float64) {
	lines := s.Wrap(text, p.Width()-indent)
	for i, line := range lines {
		box := p.Block(s.Leading())
		if i == 0 {
			p.Draw(s.At(mark, box.Min.X, box.Max.Y-float64(1.45*s.Cap), 0))
		}
		p.Draw(s.At(line, box.Min.X+indent, box.Max.Y-float64(1.45*s.Cap), 0))
	}
}

// Tick sets a paragraph behind an empty box to be ticked by hand.
func (p *Pages) Tick(s Lettering, text string) {
	lines := s.Wrap(text, p.Width()-0.3)
	for i, line := range lines {
		box := p.Block(max(s.Leading(), 0.2))
		base := box.Max.Y - float64(1.45*s.Cap)
		if i == 0 {
			p.Draw(TickBox(box.Min.X+0.02, base-0.03, 0.16))
		}
		p.Draw(s.At(line, box.Min.X+0.3, base, 0))
	}
}

// TickBox is an empty square with its lower left corner at x, y.
func TickBox(x, y, side float64) Item {
	return DrawRect(g.Rect{Min: g.Point{X: x, Y: y}, Max: g.Point{X: x + side, Y: y + side}}, Ink{Stroke: "#1a1a1a", Width: 0.012})
}

// DrawRect draws a rectangle.
func DrawRect(r g.Rect, ink Ink) Item { return Item{Path: g.Path{g.Rectangle(r)}, Ink: ink} }

// Cautions prints the standing cautions, all on one page.
func (p *Pages) Cautions() {
	lines := 0
	for _, c := range Cautions {
		lines += len(SetSoft.Wrap(c, p.Width()-cautionIndent))
	}
	p.Heading("Cautions", float64(lines)*SetSoft.Leading())
	for _, c := range Cautions {
		p.Bullet(SetSoft, "–", c, cautionIndent)
	}
}

const cautionIndent = 0.14 // inches, of the text behind its mark

// Sheets ends the document: every page has its foot, with number, title and the
// first caution.
func (p *Pages) Sheets() []Sheet {
	if len(p.items) > 0 || len(p.sheets) == 0 {
		p.Turn()
	}
	for i := range p.sheets {
		y := PageMargin
		foot := []Item{
			{Path: g.Path{g.Polyline(g.Point{X: p.Left(), Y: y + 0.2}, g.Point{X: p.right(), Y: y + 0.2})}, Ink: Ink{Stroke: "#8a979e", Width: 0.006}},
			SetSoft.At(p.Title, p.Left(), y, 0),
			SetSoft.At(fmt.Sprintf("page %d of %d", i+1, len(p.sheets)), p.right(), y, 1),
		}
		p.sheets[i].Layers = append(p.sheets[i].Layers, Layer{Name: "foot", Items: foot})
	}
	return p.sheets
}
